"""`coilside` and `coilside call`: a call, in the chat or line by line."""

import os
import shutil
import sys
from pathlib import Path
from typing import Any

import click

from assistant.cli.options import Folders, folders_option, home_option, library_from, open_store, units_option
from assistant.quantity import UnitSystem


@click.command()
@click.option("--plain", is_flag=True, help="Line by line: for pipes, dumb terminals and screen readers.")
@click.option("--resume", type=int, default=None, metavar="NUMBER", help="Pick a stored call up.")
@units_option
@folders_option
@home_option
def call(plain: bool, resume: int | None, units: Any, folders: Folders, home: Path | None) -> None:
    """Walk a call from complaint to cause."""
    if plain:
        line_by_line(units, folders, home, resume)
    else:
        chat(units, folders, home, resume)


def chat(units: UnitSystem, folders: Folders, home: Path | None, resume: int | None = None) -> None:
    """The chat on the whole screen; where there is no such screen, line by line."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()) or os.environ.get("TERM") == "dumb":
        line_by_line(units, folders, home, resume)
        return
    library = library_from(folders, lazily=True)
    with open_store(home) as store:
        from assistant.tui.app import chat_app

        number = chat_app(library, store, units, resume).run()
    if number is not None:
        click.echo(f"Call {number} is kept. Pick it up with: coilside call --resume {number}", err=True)


def line_by_line(units: UnitSystem, folders: Folders, home: Path | None, resume: int | None) -> None:
    """The same conversation on standard input and output."""
    from assistant.plain import run_plain
    from assistant.records.session import Session

    library = library_from(folders, lazily=True)
    with open_store(home) as store:
        if resume is None:
            session = Session.begin(library, store, units)
            waiting = len(store.entries("open"))
            if waiting:
                click.echo(f"{waiting} open call{'s' if waiting > 1 else ''}: coilside calls list.", err=True)
        else:
            session = Session.resume(library, store, resume, units)
        width = min(shutil.get_terminal_size((80, 24)).columns, 100)
        run_plain(session, read_line, click.echo, width, echo=not sys.stdin.isatty())


def read_line() -> str | None:
    """The next line that is typed; `None` at the end of the input."""
    if sys.stdin.isatty():
        click.echo("> ", nl=False)
    line = sys.stdin.readline()
    return line or None
