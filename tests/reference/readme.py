"""Write `README.md` of this folder: how our values compare with the outside ones.

::

    python -m tests.reference.readme

A test compares the file with what this would write, so the table cannot go stale.
"""

from itertools import groupby

from tests.reference.checks import HERE, Check, all_checks

HEAD = """# Outside values

What this program computes, against values that somebody else published. Written by `python -m tests.reference.readme`;
a test fails when it no longer matches. `saturation_checks.csv` and `value_checks.csv` hold every value with its source;
ours and theirs are shown for the row of a group that is furthest off, measured against its tolerance.

| document | quantity | rows | where | ours | theirs | difference | allowed | known disagreement |
|---|---|---|---|---|---|---|---|---|
"""


def text() -> str:
    """The whole file."""
    checks = sorted(all_checks(), key=_group)
    return HEAD + "".join(_line(list(rows)) for _, rows in groupby(checks, key=_group))


def _group(check: Check) -> tuple[str, str, str]:
    return check.source, check.quantity, check.refrigerant


def _line(rows: list[Check]) -> str:
    worst = max(rows, key=lambda check: abs(check.ours() - check.value) / check.allowed)
    ours = worst.ours()
    difference = ours - worst.value
    relative = worst.tolerance.endswith("%")
    shown = f"{100 * difference / worst.value:+.2f} %" if relative else f"{round(difference, 9):+.2g} {worst.unit}"
    allowed = worst.tolerance if relative else f"{worst.tolerance} {worst.unit}"
    cells = (
        worst.source,
        f"{worst.quantity} {worst.refrigerant}".strip().replace("_", " "),
        str(len(rows)),
        "" if worst.at is None else f"{worst.at:g} {worst.at_unit}",
        f"{ours:.6g} {worst.unit}",
        f"{worst.value:g} {worst.unit}",
        shown,
        allowed,
        worst.known_disagreement,
    )
    return "| " + " | ".join(cells) + " |\n"


if __name__ == "__main__":
    (HERE / "README.md").write_text(text(), encoding="utf-8")
