"""`coilside calls sheet`, `export`, `import` and `mend`: calls as files."""

from pathlib import Path
from typing import Any

import click

from assistant.cli.completing import complete_call
from assistant.cli.options import (
    Folders,
    folders_option,
    home_option,
    library_from,
    open_store,
    record_path,
    units_option,
)
from assistant.cli.talk import say
from assistant.files import make_private_folder, write_whole

_output = click.option(
    "--output", type=click.Path(path_type=Path, dir_okay=False), help="Write to this file, not to the screen."
)
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
    _write(output, FORMS[form](sheet_of(conversation, kept, superheated_states(conversation))))


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

    with open_store(home) as store:
        number, told = imported(store, file, library_from(folders, lazily=True))
    for sentence in told:
        say(sentence, err=True)
    say(f"Kept as call {number}: coilside calls show {number}", err=True)


@click.command()
@click.option("--from", "source", type=click.Path(path_type=Path, dir_okay=False), help="A record that was set aside.")
@home_option
def mend(source: Path | None, home: Path | None) -> None:
    """Look through the record of calls; of a damaged one, save into a fresh one what can be read.

    The damaged file is kept under another name.
    """
    from assistant.store.opening import is_sound, save_what_can_be_read, set_aside

    path = record_path(home)
    if source is None:
        if not path.exists():
            say(f"There is no record of calls at {path} yet.", err=True)
            return
        if is_sound(path):
            say(f"The record of calls at {path} is sound.", err=True)
            return
        source = set_aside(path)
        say(f"It is damaged, and kept as {source}.", err=True)
    with open_store(home) as store:
        saved = save_what_can_be_read(source, store)
    lost = f"; {saved.lost} could not be read" if saved.lost else ""
    say(f"{saved.calls} call{'' if saved.calls == 1 else 's'} saved from it{lost}.", err=True)
