"""What the commands write and read: the only door by which text leaves them, and by which replies come in."""

import os
import sys
from io import StringIO
from typing import Final

import click

from assistant.errors import OutputError
from assistant.source.problem import without_controls

# A longer reply is refused in any case; beyond the second bound nobody types, and the input counts as ended [bytes].
_LONGEST_LINE: Final = 100_000
_MOST: Final = 20_000_000


def say(text: str = "", *, err: bool = False, nl: bool = True) -> None:
    """Write a text to the output, or to where messages go, without what would steer a terminal.

    A message that cannot be written is left out.

    Raises:
        OutputError: the output cannot be written, as on a full disk.
        BrokenPipeError: nobody reads it any more.
    """
    plain = text if text.isprintable() else "\n".join(map(without_controls, text.split("\n")))
    try:
        click.echo(plain, err=err, nl=nl)
    except BrokenPipeError:
        if not err:
            raise
    except (OSError, ValueError) as error:
        if not err:
            raise OutputError(f"What is to be shown cannot be written: {error}.") from error


def say_error(error: click.ClickException) -> None:
    """Write what is wrong with how a command was typed."""
    told = StringIO()
    error.show(told)
    say(told.getvalue(), err=True, nl=False)


def read_line() -> str | None:
    """Return the next line that is typed; `None` at the end of the input, or where there is none.

    What is no UTF-8 is taken for Latin-1, in which old programs and terminals write a degree sign.
    """
    if sys.stdin is None:
        return None
    if is_typed():
        say("> ", nl=False)
    raw = getattr(sys.stdin, "buffer", None)
    try:
        if raw is None:
            return sys.stdin.readline() or None
        line: bytes = raw.readline(_LONGEST_LINE)
        taken = len(line)
        while line and not line.endswith(b"\n") and taken < _MOST:
            more = raw.readline(_LONGEST_LINE)
            if not more:
                break
            taken += len(more)
            line = line[:_LONGEST_LINE] + (b"\n" if more.endswith(b"\n") else b"")
    except (OSError, ValueError):
        return None
    if not line or taken >= _MOST:
        return None
    try:
        return line.decode("utf-8")
    except UnicodeDecodeError:
        return line.decode("latin-1")


def is_typed() -> bool:
    """Return whether replies come from a person at a terminal."""
    return sys.stdin is not None and not sys.stdin.closed and sys.stdin.isatty()


def is_on_screen() -> bool:
    """Return whether there is a whole screen to draw on, and a person who types."""
    return is_typed() and is_terminal(sys.stdout) and os.environ.get("TERM") != "dumb"


def is_terminal(stream: object) -> bool:
    """Return whether what is written to a stream shows on a terminal."""
    return stream is not None and bool(getattr(stream, "isatty", lambda: False)())


def prepare() -> None:
    """Let no character that the output does not know, and no message that leads nowhere, end the program."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
    if is_terminal(sys.__stdout__) and not is_terminal(sys.__stderr__):
        # The screen is drawn where messages go; where these go to a file, it would stay empty.
        sys.__stderr__ = sys.__stdout__  # type: ignore[misc]


def give_up_output() -> None:
    """Forget what is still to be written: it must not fail again at the end."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        try:
            os.dup2(nowhere, stream.fileno())
        except (AttributeError, OSError, ValueError):
            continue
