"""The call sheet as one HTML page that needs nothing else and prints on a page or two.

The page's own policy forbids everything but its style, so words of a call are never more than words.
"""

import base64
import hashlib
from collections.abc import Iterator, Sequence
from html import escape
from itertools import groupby
from pathlib import Path
from typing import Final, assert_never

from assistant.sheet.sheet import PROOF_AND_BEHIND, REPAIR, CallSheet, Drawing, Points, Section, Table, Words
from assistant.sheet.sheet_text import clean

_HERE: Final = Path(__file__).parent

_LONG: Final = 8
"""A table with more rows than this is set small, so that the sheet stays on two pages."""


def sheet_html(sheet: CallSheet) -> str:
    """The whole page."""
    style = (_HERE / "sheet.css").read_text(encoding="utf-8")
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    # Drawings carry their looks in attributes, which a policy without inline styles leaves alone.
    policy = f"default-src 'none'; style-src 'sha256-{digest}'"
    head = "".join(f"<dt>{_text(name)}</dt><dd>{_text(value)}</dd>\n" for name, value in sheet.head)
    parts = [(_is_wide(section), _section(section)) for section in sheet.sections]
    # Where paper is divided in columns, pictures fill what the cause leaves, in front of the table of its repair.
    parts[_behind_cause(sheet) : _behind_cause(sheet)] = [(False, _drawing(drawing)) for drawing in sheet.drawings]
    body = "".join(_side_by_side(parts))
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_text(sheet.title)}</title>\n<style>{style}</style>\n</head>\n<body>\n"
        f"<header>\n<h1>{_text(sheet.title)}</h1>\n<dl>\n{head}</dl>\n</header>\n<main>\n{body}</main>\n"
        f"<footer>{_text(sheet.disclaimer)}</footer>\n</body>\n</html>\n"
    )


def _behind_cause(sheet: CallSheet) -> int:
    """The place behind all that tells of the cause."""
    titles = [section.title for section in sheet.sections]
    ends = (title in PROOF_AND_BEHIND or title.startswith(REPAIR) for title in titles)
    return next((place for place, is_end in enumerate(ends) if is_end), len(titles))


def _side_by_side(parts: Sequence[tuple[bool, str]]) -> Iterator[str]:
    """The parts; those that need no whole width, and stand behind one another, in columns of their own."""
    for is_wide, several in groupby(parts, key=lambda part: part[0]):
        text = "".join(text for _, text in several)
        yield text if is_wide else f'<div class="columns">\n{text}</div>\n'


def _is_wide(section: Section) -> bool:
    return any(isinstance(block, Table) and block.wide for block in section.blocks)


def _section(section: Section) -> str:
    return f"<section>\n<h2>{_text(section.title)}</h2>\n{''.join(_blocks(section))}</section>\n"


def _blocks(section: Section) -> Iterator[str]:
    for block in section.blocks:
        match block:
            case Table():
                classes = [
                    *(["small"] if block.fine or len(block.rows) > _LONG else []),
                    *(["flow"] if block.flows else []),
                ]
                small = f' class="{" ".join(classes)}"' if classes else ""
                rows = "".join(f"<tr>{_cells('td', row)}</tr>\n" for row in block.rows)
                head = f"<thead><tr>{_cells('th', block.head)}</tr></thead>"
                yield f"<table{small}>\n{head}\n<tbody>\n{rows}</tbody>\n</table>\n"
            case Words():
                lead = f"<b>{_text(block.lead)}</b> " if block.lead else ""
                yield f"<p>{lead}{_text(block.text)}</p>\n"
            case Points():
                sort = "ol" if block.numbered else "ul"
                items = "".join(f"<li>{_text(item)}</li>\n" for item in block.items)
                yield f"<{sort}>\n{items}</{sort}>\n"
            case _:
                assert_never(block)


def _cells(sort: str, cells: tuple[str, ...]) -> str:
    return "".join(f"<{sort}>{_text(cell)}</{sort}>" for cell in cells)


def _drawing(drawing: Drawing) -> str:
    # Its words are inside the picture, where a screen reader finds them.
    figure = f"<figure>\n{drawing.svg}\n</figure>"
    return f'<section class="drawing">\n<h2>{_text(drawing.title)}</h2>\n{figure}\n</section>\n'


def _text(text: str) -> str:
    return escape(clean(text))
