"""`coilside calls sheet`, `export`, `import` and `mend`: calls as files."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import click

from assistant.cli.completing import complete_call
from assistant.cli.options import (
    Folders,
    folders_option,
    home_option,
    library_from,
    open_or_begin_store,
    open_store,
    record_path,
    units_option,
)
from assistant.cli.talk import say
from assistant.files import make_private_folder, write_whole

_output = click.option(
    "--output", type=click.Path(path_type=Path, dir_okay=False), help="Write to this file, not to the screen."
)
_SLOW: Final = 3.0
"""Who waits longer for a sheet is told why [s]."""
_number = click.argument("number", type=int, shell_complete=complete_call)


def _write(output: Path | None, text: str) -> None:
    if output is None:
        say(text, nl=False)
        return
    make_private_folder(output.parent)
    write_whole(output, text)
    say(f"Written to {output}", err=True)


@click.command()
@_number
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "md", "html"]),
    default="text",
    show_default=True,
    help="text: for the terminal or a mail; md: Markdown; html: one page that prints on one or two sheets.",
)
@_output
@units_option
@folders_option
@home_option
def sheet(number: int, form: str, output: Path | None, units: Any, folders: Folders, home: Path | None) -> None:
    """Make the call sheet: what a call leaves in the hand of the customer and the office.

    \b
        coilside calls sheet 12 --format html --output call-12.html
    """
    from assistant.sheet.handing import FORMS, sheet_of, stored_call, superheated_states

    with open_store(home) as store:
        store.entry(number)
        conversation, kept = stored_call(store, number, library_from(folders, lazily=True), units)
    _write(output, FORMS[form](sheet_of(conversation, kept, superheated_states(conversation, _say_when_slow()))))


def _say_when_slow() -> Callable[[], bool]:
    """Say once that a picture takes long, and never call it off: it ends by itself."""
    from assistant.pictures.vapour import PATIENCE

    begun, told = time.monotonic(), False

    def look() -> bool:
        nonlocal told
        if not told and time.monotonic() - begun > _SLOW:
            say(f"The cycle's picture takes long; after {PATIENCE:.0f} s the sheet is made without it.", err=True)
            told = True
        return False

    return look


@click.command()
@_number
@_output
@home_option
def export(number: int, output: Path | None, home: Path | None) -> None:
    """Write a call as YAML, with its times and notes, for `coilside calls import` on another machine.

    \b
        coilside calls export 12 --output call-12.yaml
    """
    from assistant.store.exchange import exported

    with open_store(home) as store:
        text = exported(store, number)
    _write(output, text)


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@folders_option
@home_option
def import_command(file: Path, folders: Folders, home: Path | None) -> None:
    """Keep the call of a YAML FILE, as `coilside calls export` writes it, as a new call."""
    from assistant.store.exchange import imported

    opened = open_or_begin_store(home)
    for sentence in opened.told:
        say(sentence, err=True)
    with opened.store as store:
        number, told = imported(store, file, library_from(folders, lazily=True))
    for sentence in told:
        say(sentence, err=True)
    say(f"Kept as call {number}: coilside calls show {number}", err=True)


@click.command()
@click.option("--from", "source", type=click.Path(path_type=Path, dir_okay=False), help="A record that was set aside.")
@home_option
def mend(source: Path | None, home: Path | None) -> None:
    """Look through the record of calls; put a new one with all that can be read in the place of a damaged one.

    The damaged file is kept under another name. With --from, calls of a file that was set aside are taken into the
    record, those that it has not.
    """
    from assistant.store.opening import mend as mend_record
    from assistant.store.opening import save_into

    path = record_path(home)
    if source is not None:
        opened = open_or_begin_store(home)
        with opened.store as store:
            saved = save_into(store, source)
    else:
        mended = mend_record(path)
        if mended is None:
            there = "is sound" if path.exists() else "is not there yet"
            say(f"The record of calls at {path} {there}.", err=True)
            return
        say(f"It was damaged, and is kept as {mended.aside}.", err=True)
        saved = mended.saved
    parts = f", {saved.in_part} of them only in part" if saved.in_part else ""
    lost = f"; {saved.lost} could not be read" if saved.lost else ""
    say(f"{saved.all} call{'' if saved.all == 1 else 's'} saved from it{parts}{lost}.", err=True)
