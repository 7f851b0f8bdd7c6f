"""Lists of kept calls as tables on the terminal."""

import shutil
import textwrap
from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from assistant.cli.talk import say
from assistant.source.problem import shorten, without_controls

if TYPE_CHECKING:
    from assistant.store.store import CallEntry

_PIPED: Final = 10_000
_INDENT: Final = " " * 12


def list_calls(entries: Iterable["CallEntry"], ending: str) -> None:
    """Print calls in a table; `ending` is what stands behind the complaint of those that have ended."""
    from assistant.store.times import time_words

    say(f"{'number':>6}  {'last change':16}  {'state':6}  complaint / {ending}")
    for entry in entries:
        ended = f" - {without_controls(entry.ending)}" if entry.ending else ""
        when = time_words(entry.changed)
        shown = f"{shorten(entry.shown, 40)}{ended}"
        say(table_row(f"{entry.number:>6}  {when:16}  {entry.status:6}  ", shown))


def table_row(before: str, text: str) -> str:
    """A row of a table whose last column runs on under its own beginning, or on a line of its own where none fits."""
    width = shutil.get_terminal_size((_PIPED, 24)).columns
    room = width - len(before)
    if room >= max(map(len, text.split()), default=0):
        return before + ("\n" + " " * len(before)).join(textwrap.wrap(text, room) or [""])
    lines = textwrap.wrap(text, max(width - len(_INDENT), 1), break_long_words=False)
    return "\n".join([before.rstrip(), *(_INDENT + line for line in lines)])
