"""A caution that comes by itself needs both: those that it joins, and the safety groups for which it does."""

from collections.abc import Iterator

from assistant.catalogue.catalogue import DERIVED_CHOICES, Catalogue
from assistant.source.problem import Problem, shorten


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report cautions with half of what lets them join others, and safety groups that do not exist."""
    groups = DERIVED_CHOICES["safety_group"]
    for caution in catalogue.cautions.values():
        if bool(caution.joins) != bool(caution.safety_groups):
            there, lacking = ("joins", "safety_groups") if caution.joins else ("safety_groups", "joins")
            message = f"{caution.name} has {there} without {lacking}, so it never comes by itself"
            yield Problem("catalogue-joins", caution.place, message, f"write: {lacking}: [...], or delete {there}")
        for group in caution.safety_groups:
            if group not in groups:
                message = f'"{shorten(group, 40)}" is no safety group; the groups are {", ".join(groups)}'
                yield Problem("catalogue-joins", caution.place, message)
