"""A repair and its proof can be done as they stand: from act to act there is a way to the state that each needs."""

from collections.abc import Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.repairs import usual_plan
from assistant.source.problem import Problem


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report acts of a repair whose state nothing in front of them leads to."""
    for cause in catalogue.causes.values():
        for name in usual_plan(catalogue, cause).stuck:
            needs = ", ".join(f"{what} {' or '.join(some)}" for what, some in catalogue.acts[name].needs.items())
            message = f"{name} in the repair of {cause.name} needs {needs}, and nothing in front of it leads there"
            yield Problem("catalogue-state", cause.place, message, "name the act in front of it that makes this state")
