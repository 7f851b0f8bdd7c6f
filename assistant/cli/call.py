"""`coilside` and `coilside call`: a call, in the chat or line by line."""

import shutil
from pathlib import Path
from typing import Any

import click

from assistant.call.library import Library
from assistant.call.state import OWN_ACCURACY
from assistant.cli.completing import complete_call
from assistant.cli.options import (
    Folders,
    folders_option,
    home_option,
    library_from,
    look_options,
    open_or_begin_store,
    units_option,
)
from assistant.cli.talk import is_on_screen, is_typed, read_line, say
from assistant.errors import StoreError
from assistant.quantity import Kind, UnitSystem
from assistant.settings import read_settings, setting, settings_path


@click.command()
@click.option("--plain", is_flag=True, help="Line by line: for pipes, dumb terminals and screen readers.")
@click.option("--json", "as_json", is_flag=True, help="For programs: one JSON object a line, in and out; kept nowhere.")
@click.option("--record", is_flag=True, help="With --json: keep the calls among the others.")
@click.option(
    "--resume", type=int, default=None, metavar="NUMBER", shell_complete=complete_call, help="Pick a stored call up."
)
@click.option("--ride", is_flag=True, help="Ride along: guess each number and the cause before they are told.")
@units_option
@look_options
@folders_option
@home_option
def call(
    plain: bool,
    as_json: bool,
    record: bool,
    resume: int | None,
    ride: bool,
    units: Any,
    theme: str,
    folders: Folders,
    home: Path | None,
) -> None:
    """Walk a call from complaint to cause."""
    if as_json and (plain or ride or resume is not None):
        raise click.UsageError("--json goes with --record alone, not with --plain, --ride or --resume.")
    if record and not as_json:
        raise click.UsageError("--record goes with --json; other calls are always kept.")
    if as_json:
        for_programs(units, folders, home, record)
    elif plain:
        line_by_line(units, folders, home, resume, ride)
    else:
        chat(units, folders, home, theme, resume, ride)


def chat(
    units: UnitSystem, folders: Folders, home: Path | None, theme: str, resume: int | None = None, ride: bool = False
) -> None:
    """The chat on the whole screen; where there is no such screen, line by line."""
    if not is_on_screen():
        line_by_line(units, folders, home, resume, ride)
        return
    library = library_for_calls(folders)
    opened = open_or_begin_store(home)
    with opened.store as store:
        from assistant.tui.app import chat_app

        notes = (*opened.told, *read_settings(settings_path()).problems)
        app = chat_app(library, store, units, resume, theme, notes, ride)
        number = app.run()
    if number is not None:
        say(f"Call {number} is kept. Pick it up with: coilside call --resume {number}", err=True)
    if app.return_code:
        raise click.exceptions.Exit(app.return_code)


def line_by_line(
    units: UnitSystem, folders: Folders, home: Path | None, resume: int | None, ride: bool = False
) -> None:
    """The same conversation on standard input and output."""
    from assistant.plain import run_plain
    from assistant.session.riding import RIDING, Guessing
    from assistant.session.session import Session
    from assistant.store.store import Search

    library = library_for_calls(folders)
    opened = open_or_begin_store(home)
    with opened.store as store:
        for sentence in opened.told:
            say(sentence, err=True)
        between = Guessing() if ride else None
        if resume is None:
            session = Session.begin(library, store, units, between)
            waiting = store.count(Search("open"))
            if waiting:
                say(f"{waiting} open call{'s' if waiting > 1 else ''}: coilside calls list.", err=True)
        else:
            session = Session.resume(library, store, resume, units, between)
            for sentence in session.news:
                say(sentence, err=True)
        if ride:
            say(RIDING, err=True)
        width = min(shutil.get_terminal_size((80, 24)).columns, 100)
        try:
            run_plain(session, read_line, say, width, echo=not is_typed())
        except StoreError as error:
            kept = f" What was answered before is kept: coilside call --plain --resume {session.number}"
            raise StoreError(f"{error}{kept if session.number is not None else ''}") from error


def for_programs(units: UnitSystem, folders: Folders, home: Path | None, record: bool) -> None:
    """The same conversation as one JSON object a line on standard input and output."""
    from assistant.programs import Talk, run_programs
    from assistant.session.session import Session

    library = library_for_calls(folders)
    if not record:
        run_programs(Talk(lambda: Session(library, None, units)), read_line, say)
        return
    opened = open_or_begin_store(home)
    with opened.store as store:
        for sentence in opened.told:
            say(sentence, err=True)
        run_programs(Talk(lambda: Session.begin(library, store, units)), read_line, say)


def library_for_calls(folders: Folders) -> Library:
    """The library of a call, with the altitude and the instruments that the person has set as what is usual."""
    named = {
        "altitude": "altitude",
        "gauges": OWN_ACCURACY[Kind.PRESSURE],
        "thermometers": OWN_ACCURACY[Kind.TEMPERATURE],
    }
    usual = {fact: text for name, fact in named.items() if (text := setting(name).text)}
    library = library_from(folders, lazily=True)
    return library.with_usual(usual) if usual else library
