"""A cause is told from others, not from itself."""

from collections.abc import Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.source.problem import Problem


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report causes that are said to look like themselves."""
    for cause in catalogue.causes.values():
        if any(look.cause == cause.name for look in cause.looks_like):
            message = f"{cause.name} is said to look like itself"
            yield Problem("catalogue-self", cause.place, message, "name the cause that it can be taken for")
