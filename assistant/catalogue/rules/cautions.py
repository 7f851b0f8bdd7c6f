"""A repair that can hurt someone has its caution: words that ask for one are among the cause's cautions."""

from collections.abc import Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.source.phrases import find_unguarded, guards
from assistant.source.problem import Problem, shorten


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report every step of a repair that asks for a caution which its cause does not name."""
    kept_by = guards({caution.name: caution.words for caution in catalogue.cautions.values()})
    for cause in catalogue.causes.values():
        for step in cause.repair:
            for words, wanted in find_unguarded(step, kept_by, frozenset(cause.cautions)):
                names = " or ".join(sorted(wanted))
                message = f'the repair of {cause.name} says "{shorten(words, 40)}" without the caution {names}'
                hint = f"write: cautions: [{', '.join((*cause.cautions, names))}]"
                yield Problem("catalogue-caution", cause.place, message, hint)
