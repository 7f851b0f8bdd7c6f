"""How the name of an expected value is written: `expected(superheat)` is what a sound unit's superheat would be."""

import re

_NAME = re.compile(r"expected\((\w+)\)")


def expected_name(name: str) -> str:
    """Return the name of what is expected of a reading or worked number."""
    return f"expected({name})"


def read_expected_name(name: str) -> str | None:
    """Return the reading or worked number of which a name tells the expected value; `None` where it is none."""
    found = _NAME.fullmatch(name)
    return found.group(1) if found else None
