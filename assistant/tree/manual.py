"""The pages of the codes: as text for a terminal, and as one page of the manual, `python -m assistant.tree.manual`."""

import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path

from assistant.tree.codes import EXPLANATIONS
from assistant.tree.codes.explanation import HEAD, LEAVES, OTHER, OTHER_NAME, Explanation, Part

PAGE = "PROBLEMS.md"
_WIDTH = 80
_BESIDE: dict[Part, str] = {
    "calls": "example calls beside a tree",
    "readings": "a reading of the catalogue",
    "acts": "an act of the catalogue",
    "limits": "a limit of the catalogue",
    "cautions": "a caution of the catalogue",
    "causes": "a cause of the catalogue",
    "condition": "a condition",
    "first": "a node",
    "nodes": "nodes",
    "file": "a file",
}


def one_line(explanation: Explanation) -> str:
    """Give the line of a code in the list of all."""
    return f"{explanation.code:<22} {explanation.title}"


def page(explanation: Explanation) -> str:
    """Give what a terminal shows about one code."""
    lines = [f"{explanation.code}: {explanation.title}", "", *textwrap.wrap(explanation.why, _WIDTH)]
    for word, example in (("Wrong", explanation.bad), ("Right", explanation.good)):
        if example:
            lines += ["", f"{word}:", "", *(textwrap.indent(example, "    ").rstrip().split("\n"))]
    return "\n".join(lines) + "\n"


def manual() -> str:
    """Give the page of the manual with a section for each code."""
    return "\n".join([*_introduction(), *(line for item in EXPLANATIONS.values() for line in _section(item))])


def _introduction() -> Iterator[str]:
    yield from (
        "# What `coilside trees check` can tell",
        "",
        "A section for each code, the same that `coilside trees explain CODE` shows. This page is made from the",
        "program's own table (`python -m assistant.tree.manual`), and a test runs every example.",
        "",
        "Where an example shows a node or a condition alone, the rest of the tree is this, with those of its ends that",
        "are led to:",
        "",
        "```yaml",
        *HEAD.rstrip().split("\n"),
        "  first:",
        "    ...",
    )
    for name, body in LEAVES.items():
        yield f"  {name}:"
        yield from textwrap.indent(body, "    ").split("\n")
    yield from ("```", "", f"Beside it lies `{OTHER_NAME}.yaml`, for those that use another tree:", "")
    yield from ("```yaml", *OTHER.rstrip().split("\n"), "```", "")


def _section(explanation: Explanation) -> Iterator[str]:
    yield from (f"## {explanation.code}", "", f"{explanation.title}.", "", *textwrap.wrap(explanation.why, 118), "")
    for word, example in (("Wrong", explanation.bad), ("Right", explanation.good)):
        if example:
            yield from (f"{word}, as {_BESIDE[explanation.part]}:", "", "```yaml", *example.rstrip("\n").split("\n"))
            yield from ("```", "")


def main() -> None:
    """Write the page into the folder of trees of this checkout, or into the folder that is named."""
    from assistant.source.shipped import shipped_folder

    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else shipped_folder("trees")
    (folder / PAGE).write_text(manual(), encoding="utf-8")


if __name__ == "__main__":
    main()
