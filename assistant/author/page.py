"""A drawing as one HTML page that needs nothing else: the SVG, its style, and a few lines of script.

The page's own policy forbids everything but that style and that script, so words of a tree are never more than words.
"""

import base64
import hashlib
from html import escape
from pathlib import Path

from assistant.author.outline import outline
from assistant.author.picture import Picture
from assistant.author.svg import anchor, svg

_HERE = Path(__file__).parent
_KEY = (
    ("step", "M5 0 H21 Q26 0 26 5 V11 Q26 16 21 16 H5 Q0 16 0 11 V5 Q0 0 5 0 z", "step: asks, does, decides"),
    ("cause", "M5 0 H21 L26 5 V11 L21 16 H5 L0 11 V5 z", "cause"),
    ("no_fault", "M8 0 H18 A8 8 0 0 1 18 16 H8 A8 8 0 0 1 8 0 z", "no fault"),
    ("undecided", "M0 0 H18 L26 8 V16 H0 z", "undecided"),
    ("use", "M0 0 H26 V16 H0 z M3 0 V16 M23 0 V16", "uses another tree"),
)


def page(shown: Picture) -> str:
    """Return the whole page."""
    style = (_HERE / "page.css").read_text(encoding="utf-8")
    script = (_HERE / "page.js").read_text(encoding="utf-8")
    title = escape(f"{shown.title} ({shown.name}, version {shown.version})")
    policy = f"default-src 'none'; style-src {_digest(style)}; script-src {_digest(script)}"
    return (
        f'<!doctype html>\n<html lang="en" data-start="{anchor(shown.start)}">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>{style}</style>\n</head>\n<body>\n<header>\n<h1>{title}</h1>\n"
        f"{_about(shown)}{_key(shown)}{_TOOLS}</header>\n"
        f'<main tabindex="0" aria-label="The drawing">\n{svg(shown)}'
        f'<pre id="words">{escape(outline(shown, 92), quote=False)}</pre>\n</main>\n'
        f"<script>{script}</script>\n</body>\n</html>\n"
    )


_TOOLS = (
    '<div class="tools" role="group" aria-label="Search and zoom">'
    '<input id="search" type="search" placeholder="Search names, words, cautions" aria-label="Search the nodes">'
    '<button id="fit" type="button">Fit all</button><button id="wide" type="button">Fit width</button>'
    '<button id="whole" type="button">100 %</button><button id="less" type="button">Smaller</button>'
    '<button id="more" type="button">Larger</button><output id="told" aria-live="polite"></output></div>\n'
)


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _about(shown: Picture) -> str:
    lines = []
    if shown.complaints:
        lines.append("Complaints: " + ", ".join(shown.complaints) + ".")
    if shown.facts:
        lines.append("Asked first: " + ", ".join(shown.facts) + ".")
    if shown.calls is not None:
        lines.append(f"Each way shows how many of {shown.calls} example calls take it.")
    if shown.call is not None:
        lines.append(f"Marked, with its steps numbered: the call “{shown.call}”.")
    return f"<p>{escape(' '.join(lines))}</p>\n" if lines else ""


def _key(shown: Picture) -> str:
    sorts = {box.sort for box in shown.boxes.values()}
    items = "".join(
        f'<li class="{sort}"><svg viewBox="0 0 26 16" aria-hidden="true"><path class="shape" d="{path}"/></svg>'
        f"{words}</li>"
        for sort, path, words in _KEY
        if sort in sorts
    )
    return f'<ul class="key">{items}<li>rows are read from above, the first true one is taken</li></ul>\n'
