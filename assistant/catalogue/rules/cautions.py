"""A remark beside an act that can hurt someone has its caution: an act of the same repair brings it."""

from collections.abc import Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.repairs import usual_plan
from assistant.source.phrases import find_unguarded, guards
from assistant.source.problem import Problem, shorten


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report every remark of a repair or its proof that asks for a caution which none of their acts has."""
    # What comes along with others by the refrigerant comes along here as well.
    kept_by = guards({one.name: one.words for one in catalogue.cautions.values() if not one.joins})
    for cause in catalogue.causes.values():
        plan = usual_plan(catalogue, cause)
        given = frozenset(name for act in plan.acts for name in act.cautions)
        for step in (*cause.repair, *cause.prove):
            for words, wanted in find_unguarded(step.say, kept_by, given):
                names = " or ".join(sorted(wanted))
                message = f'the repair of {cause.name} says "{shorten(words, 40)}" without the caution {names}'
                yield Problem("catalogue-caution", cause.place, message, f"name the act that has the caution {names}")
