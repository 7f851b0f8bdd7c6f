"""`coilside calls replay`: stepping through a stored call or a demo call."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from assistant.cli.calls_demo import complete_demo, demo_file
from assistant.cli.options import (
    Folders,
    folders_option,
    home_option,
    library_from,
    look_options,
    open_store,
    page_width,
    units_option,
)
from assistant.cli.talk import is_on_screen, is_typed, read_line, say
from assistant.errors import NoCallError, UnknownNameError

if TYPE_CHECKING:
    from assistant.call.answers import Written
    from assistant.call.replay import Replay


@click.command()
@click.argument("name", metavar="NUMBER|NAME", shell_complete=complete_demo)
@click.option("--plain", is_flag=True, help="Line by line; where nobody types, all steps one after the other.")
@units_option
@look_options
@folders_option
@home_option
def replay(name: str, plain: bool, units: Any, theme: str, folders: Folders, home: Path | None) -> None:
    """Step through a call, forward and backward, with the reasons: a stored one by its NUMBER, a demo by its NAME.

    \b
        coilside calls replay 12
        coilside calls replay the-valve-hides-a-leak
    """
    from assistant.call.replay import Replay
    from assistant.call.replies import read_all_written

    title, written = _call(name, home)
    library = library_from(folders, lazily=True)
    answers = read_all_written(written, library.catalogue, units)
    step_through(Replay(library, answers, units), title, theme, plain)


def step_through(stepped: "Replay", title: str, theme: str, plain: bool) -> None:
    """Step through a known call on the screen, or line by line."""
    if is_on_screen() and not plain:
        from assistant.tui.replay_app import ReplayApp

        ReplayApp(stepped, title, theme).run()
        return
    from assistant.call.wording import wrapped
    from assistant.plain_replay import replay_lines, run_replay

    width = page_width()
    if is_typed():
        run_replay(stepped, title, read_line, say, width)
        return
    for line in wrapped(tuple(replay_lines(stepped, title)), width):
        say(line)


def _call(name: str, home: Path | None) -> "tuple[str, tuple[Written, ...]]":
    """The title and the answers of a stored call or of a demo call.

    Raises:
        StoreError: there is no stored call of that number.
        UnknownNameError: there is no demo call of that name.
    """
    if name.isdecimal():
        with open_store(home) as store:
            try:
                number = int(name) if len(name) < 20 else 0
                return store.entry(number).title or f"call {name}", store.answers(number)
            except NoCallError as error:
                raise NoCallError(f"{error}{_demo_hint(name)}") from error
    from assistant.store.transcripts import read_transcript

    call = read_transcript(demo_file(name))
    return call.title, call.answers


def _demo_hint(number: str) -> str:
    """The demo call of a number, for one who meant that; a number alone is that of a stored call."""
    try:
        return f" The demo call of that number: coilside calls replay {demo_file(number).stem}"
    except UnknownNameError:
        return ""
