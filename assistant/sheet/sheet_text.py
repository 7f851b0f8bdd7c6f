"""The call sheet as plain text and as Markdown."""

import re
from collections.abc import Iterator
from textwrap import wrap
from typing import Final, assert_never

from assistant.sheet.sheet import CallSheet, Points, Section, Table, Words
from assistant.source.problem import without_controls

WIDTH: Final = 80
"""Columns of the plain text, so that it fits a terminal, a letter and a mail."""

_LABEL: Final = 28

# What would begin a list where a line begins with it.
_LIST_MARK: Final = re.compile(r"^(\d*)([-+.)])(?=\s|$)")


def sheet_text(sheet: CallSheet, width: int = WIDTH) -> str:
    """The sheet as plain text."""
    lines = [clean(sheet.title).upper(), "=" * min(len(clean(sheet.title)), width), ""]
    label = max((len(name) for name, _ in sheet.head), default=0) + 2
    for name, value in sheet.head:
        lines += _hung(f"{name}:".ljust(label), value, width)
    for section in sheet.sections:
        lines += ["", clean(section.title).upper(), "-" * min(len(clean(section.title)), width)]
        for block in section.blocks:
            lines += _block(block, width)
    for drawing in sheet.drawings:
        lines += ["", clean(drawing.title).upper(), "-" * min(len(clean(drawing.title)), width)]
        for words in drawing.words:
            lines += _hung("", words, width, hang=2)
    lines += ["", *wrap(clean(sheet.disclaimer), width)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _block(block: Table | Words | Points, width: int) -> Iterator[str]:
    match block:
        case Table():
            yield from _table(block, width)
        case Words():
            yield from _hung(f"{clean(block.lead)} " if block.lead else "", block.text, width, hang=2)
        case Points():
            for number, item in enumerate(block.items, start=1):
                yield from _hung(f"  {number}. " if block.numbered else "  - ", item, width)
        case _:
            assert_never(block)


def _table(table: Table, width: int) -> Iterator[str]:
    """Each row as its first cell and, behind it or below, the others."""
    for first, value, *others in table.rows:
        told = [f"{title.lower()}: {other}" for title, other in zip(table.head[2:], others, strict=True) if other]
        lead = clean(first).ljust(_LABEL)
        if len(lead) > _LABEL - 2 and clean(first) == lead:
            yield from wrap(lead, width)
            lead = " " * _LABEL
        whole = "  ".join(clean(cell) for cell in (value, *told))
        cells = [whole] if len(lead) + len(whole) <= width else [value, *told]
        for cell in cells:
            yield from _hung(lead, cell, width)
            lead = " " * _LABEL


def _hung(lead: str, text: str, width: int, hang: int | None = None) -> Iterator[str]:
    """A text behind a lead; what runs on stands below its own beginning, or is indented by `hang`."""
    indent = " " * (len(lead) if hang is None else hang)
    lines = wrap(clean(text), width, initial_indent=lead, subsequent_indent=indent)
    yield from lines or [lead.rstrip()]


def clean(text: str) -> str:
    """A text from anywhere on one line, without control characters."""
    return " ".join(without_controls(text).split())


def sheet_markdown(sheet: CallSheet) -> str:
    """The sheet as Markdown: read as text, or shown by whatever knows it."""
    lines = [f"# {_escaped(sheet.title)}", ""]
    lines += [f"- **{_escaped(name)}:** {_escaped(value)}" for name, value in sheet.head]
    for section in sheet.sections:
        lines += ["", f"## {_escaped(section.title)}", *_markdown(section)]
    for drawing in sheet.drawings:
        lines += ["", f"## {_escaped(drawing.title)}", "", *(f"- {_escaped(words)}" for words in drawing.words)]
    lines += ["", f"*{_escaped(sheet.disclaimer)}*"]
    return "\n".join(lines) + "\n"


def _markdown(section: Section) -> Iterator[str]:
    for block in section.blocks:
        yield ""
        match block:
            case Table():
                yield _row(block.head)
                yield _row(["---"] * len(block.head), escape=False)
                yield from map(_row, block.rows)
            case Words():
                lead = f"**{_escaped(block.lead)}** " if block.lead else ""
                yield f"{lead}{_escaped(block.text)}".rstrip()
            case Points():
                for number, item in enumerate(block.items, start=1):
                    yield f"{number}. {_escaped(item)}" if block.numbered else f"- {_escaped(item)}"
            case _:
                assert_never(block)


def _row(cells: "tuple[str, ...] | list[str]", escape: bool = True) -> str:
    return f"| {' | '.join(map(_escaped, cells) if escape else cells)} |"


def _escaped(text: str) -> str:
    """A text that Markdown shows as it is: no mark in it is taken for one, and no tag for a tag."""
    shown = clean(text)
    for mark in "\\`*_[]|#~$!":
        shown = shown.replace(mark, f"\\{mark}")
    shown = _LIST_MARK.sub(r"\1\\\2", shown)
    return shown.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
