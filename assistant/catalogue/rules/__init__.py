"""The rules for a catalogue that has been read, one matter per module; each gives problems, knowing nothing of others.

What is missing or of the wrong form was reported when it was read.
"""

from collections.abc import Callable, Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.rules import acts, cautions, deeds, joins, look_alikes, placeholders, ranges, repairs
from assistant.source.problem import Problem

Rule = Callable[[Catalogue], Iterator[Problem]]

RULES: tuple[Rule, ...] = (
    acts.check,
    cautions.check,
    deeds.check,
    joins.check,
    look_alikes.check,
    placeholders.check,
    ranges.check,
    repairs.check,
)


def check_catalogue(catalogue: Catalogue) -> list[Problem]:
    """Apply every rule to a catalogue that has been read."""
    return sorted(problem for rule in RULES for problem in rule(catalogue))
