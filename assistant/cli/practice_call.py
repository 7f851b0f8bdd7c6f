"""`coilside practice call`: a call that never happened, to practise on; and what is kept of such calls."""

import json
import random
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.shell_completion import CompletionItem

from assistant.cli.listing import list_calls, table_row
from assistant.cli.options import (
    Folders,
    folders_option,
    home_option,
    json_option,
    library_from,
    look_options,
    open_or_begin_store,
    record_path,
    units_option,
)
from assistant.cli.practice_list import list_command, sound_list
from assistant.cli.talk import is_on_screen, is_typed, read_line, say
from assistant.errors import CoilsideError, InputError, NoCallError, StoreError
from assistant.source.problem import shorten, without_controls

if TYPE_CHECKING:
    from assistant.practice.session.practice_call import PracticeCall
    from assistant.practice.training.kept import SetCall
    from assistant.store.store import Store

_MOST_SEED = 1_000_000
_TRIES = 20
_MOST_LOST = 20
"""So many results are worked again at a time: each takes about a second."""


def open_practice(home: Path | None) -> "Store":
    """The user's record of practice calls, beside that of the real ones."""
    from assistant.practice.session.practice_keeping import store_path
    from assistant.store.store import Store

    return Store.to_read(store_path(record_path(home)))


def complete_practice(ctx: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The numbers of practice calls that begin with what is typed."""
    try:
        home = ctx.params.get("home")
        with open_practice(Path(home) if home else None) as store:
            entries = store.entries()
    except CoilsideError:
        return []
    found = (entry for entry in entries if str(entry.number).startswith(incomplete))
    return [CompletionItem(str(entry.number), help=shorten(entry.title, 40)) for entry in found]


_number = click.argument("number", type=int, shell_complete=complete_practice)


@click.command("call")
@click.option("--seed", type=click.IntRange(0, 999_999_999), default=None, help="The same number draws the same call.")
@click.option(
    "--difficulty",
    type=click.IntRange(1, 4),
    default=1,
    show_default=True,
    help="1: one clear fault; 2: one mild one; 3: a clear and a mild one; 4: two mild ones.",
)
@click.option(
    "--mode",
    type=click.Choice(["cooling", "heating"]),
    default="cooling",
    show_default=True,
    help="What the system is doing.",
)
@click.option(
    "--list",
    "listed",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="A trainer's list; its exercises come one after the other.",
)
@click.option("--number", type=click.IntRange(1), default=1, show_default=True, help="Which exercise of the list.")
@click.option("--trainee", default="", help="Your name, for the file of results.")
@click.option("--alone", is_flag=True, help="The trees stay silent: you go the whole way by yourself.")
@click.option("--plain", is_flag=True, help="Line by line: for pipes, dumb terminals and screen readers.")
@click.option(
    "--resume",
    type=int,
    default=None,
    metavar="NUMBER",
    shell_complete=complete_practice,
    help="Pick a practice call up.",
)
@units_option
@look_options
@folders_option
@home_option
def call(
    seed: int | None, difficulty: int, mode: Any, listed: Path | None, number: int, trainee: str, alone: bool,
    plain: bool, resume: int | None, units: Any, theme: str, folders: Folders, home: Path | None,
) -> None:  # fmt: skip
    """Work a call on a simulated system with a hidden fault, in the same chat.

    What the trees ask, Enter takes from the system; the words take, look, do, wait and cause do the rest. Practice
    calls are kept apart from real ones.
    """
    from assistant.practice.session.practice_keeping import store_path

    opened = open_or_begin_store(home, store_path(record_path(home)))
    for sentence in opened.told:
        say(sentence, err=True)
    with opened.store as store:
        draw = _drawer(difficulty, mode, trainee, alone)
        library = library_from(folders, lazily=True)
        if resume is not None:
            from assistant.practice.session.practice_call import PracticeCall

            session = PracticeCall.picked_up(library, store, resume, units, draw)
        else:
            given = _listed(listed, number, trainee) if listed else (_drawn(seed, difficulty, mode, trainee),)
            calls = tuple(replace(one, alone=alone) for one in given)
            session = _begun(library, store, calls, units, draw)
            _tell_open(store)
        if plain or not is_on_screen():
            _line_by_line(session)
        else:
            from assistant.tui.practice_app import PracticeApp

            app = PracticeApp(session, theme)
            left = app.run()
            if left is not None:
                again = "show" if store.entry(left).status == "ended" else "call --resume"
                say(f"Practice call {left} is kept: coilside practice {again} {left}", err=True)
            if app.return_code:
                raise click.exceptions.Exit(app.return_code)


def _begun(
    library: Any, store: "Store", calls: "tuple[SetCall, ...]", units: Any, draw: "Callable[[], SetCall]"
) -> "PracticeCall":
    from assistant.practice.session.practice_call import PracticeCall

    return PracticeCall.start_of(library, store, calls[0], units, draw, calls[1:])


def _tell_open(store: "Store") -> None:
    from assistant.store.store import Search

    waiting = store.count(Search("open"))
    if waiting:
        say(f"{waiting} open practice call{'s' if waiting > 1 else ''}: coilside practice calls.", err=True)


def _line_by_line(session: "PracticeCall") -> None:
    from assistant.plain import run_plain

    width = min(shutil.get_terminal_size((80, 24)).columns, 100)
    try:
        run_plain(session, read_line, say, width, echo=not is_typed())
    except StoreError as error:
        kept = f" What was done before is kept: coilside practice call --plain --resume {session.number}"
        raise StoreError(f"{error}{kept if session.number is not None else ''}") from error


def _drawn(seed: int | None, difficulty: int, mode: Any, trainee: str) -> "SetCall":
    from assistant.practice.training.kept import SetCall
    from assistant.practice.visit.scenario import draw_scenario

    if seed is not None:
        return SetCall(draw_scenario(seed, difficulty, mode=mode), trainee=trainee)
    chance = random.SystemRandom()
    for _ in range(_TRIES):
        try:
            return SetCall(draw_scenario(chance.randrange(_MOST_SEED), difficulty, mode=mode), trainee=trainee)
        except InputError:
            continue
    raise InputError("No practice call could be drawn. Try again, or give a --seed.")


def _drawer(difficulty: int, mode: Any, trainee: str, alone: bool) -> "Callable[[], SetCall]":
    return lambda: replace(_drawn(None, difficulty, mode, trainee), alone=alone)


def _listed(file: Path, number: int, trainee: str) -> "tuple[SetCall, ...]":
    from assistant.practice.training.kept import call_of

    found = sound_list(file)
    if number > len(found.exercises):
        raise InputError(f"{file} has {len(found.exercises)} exercises; there is no number {number}.")
    return tuple(call_of(one, found.title, trainee) for one in found.exercises[number - 1 :])


@click.command("calls")
@home_option
def calls(home: Path | None) -> None:
    """List the practice calls, the last changed first."""
    with open_practice(home) as store:
        entries = store.entries()
    if not entries:
        say("No practice calls are kept.", err=True)
        return
    list_calls(entries, "named")


@click.command("show")
@_number
@json_option
@units_option
@folders_option
@home_option
def show(number: int, as_json: bool, units: Any, folders: Folders, home: Path | None) -> None:
    """Show a practice call that is over: what it was, the score, what the readings said, and both ways.

    On a screen of 100 columns or more the ways stand side by side.
    """
    from assistant.call.wording import wrapped
    from assistant.practice.training.review import review_lines, review_values

    session = _stored(number, units, folders, home)
    if not session.is_over:
        raise InputError(f"Practice call {number} is not over: coilside practice call --resume {number}")
    if as_json:
        say(json.dumps({"call": number, **review_values(session.review)}, indent=2, ensure_ascii=False))
        return
    width = shutil.get_terminal_size((80, 24)).columns
    for line in wrapped(tuple(review_lines(session.review, min(width, 160))), width):
        say(line)


@click.command("replay")
@_number
@click.option("--plain", is_flag=True, help="Line by line; where nobody types, all steps one after the other.")
@units_option
@look_options
@folders_option
@home_option
def replay(number: int, plain: bool, units: Any, theme: str, folders: Folders, home: Path | None) -> None:
    """Step through a practice call, forward and backward, with the reasons, as `coilside calls replay` does."""
    from assistant.cli.calls_replay import step_through
    from assistant.practice.session.practice_replay import PracticeReplay

    session = _stored(number, units, folders, home)
    stepped = PracticeReplay(session.library, session.answers, units, session=session)
    step_through(stepped, f"practice {number}: {session.call.scenario.complaint}", theme, plain)


def _stored(number: int, units: Any, folders: Folders, home: Path | None) -> "PracticeCall":
    from assistant.practice.session.practice_call import PracticeCall

    with open_practice(home) as store:
        try:
            store.entry(number)
        except NoCallError as error:
            there = "`coilside practice calls` shows those there are."
            raise InputError(f"There is no practice call {number}. {there}") from error
        return PracticeCall.picked_up(library_from(folders, lazily=True), store, number, units)


@click.command("results")
@json_option
@home_option
def results(as_json: bool, home: Path | None) -> None:
    """The results of the practice calls that are over, and the file in which they lie.

    The file is CSV, one line a call, and opens in any spreadsheet.
    """
    from assistant.practice.session.practice_results import FILE_NAME, add_results, read_results

    folder = record_path(home).parent
    rows = list(read_results(folder))
    missing = list(_missing(home, rows))
    if missing:
        add_results(folder, missing)
        rows = list(read_results(folder))
    if as_json:
        say(json.dumps(rows, indent=2, ensure_ascii=False))
        return
    if not rows:
        say("No practice call is over yet.", err=True)
        return
    say(f"{'finished':10}  {'who':8}  {'exercise':14}  {'verdict':12} {'min':>4} {'trees':>6}  named / truth")
    for row in rows:
        clean = {name: without_controls(text) for name, text in row.items()}
        exercise = clean["exercise"] or f"seed {clean['seed']}, {clean['difficulty']}"
        before = (
            f"{clean['finished'][:10]:10}  {shorten(clean['trainee'], 8):8}  {shorten(exercise, 14):14}  "
            f"{clean['verdict']:12} {clean['minutes']:>4} {clean['trees_minutes']:>6}  "
        )
        say(table_row(before, f"{clean['named'] or '-'} / {clean['truth']}"))
    say(f"The file: {folder / FILE_NAME}", err=True)


def _missing(home: Path | None, rows: "list[dict[str, str]]") -> "Iterator[dict[str, str]]":
    """The results of calls that are over and not in the file: something came between their end and the file."""
    from assistant.practice.session.practice_call import PracticeCall
    from assistant.practice.session.practice_results import row_of

    known = {row["call"] for row in rows}
    with open_practice(home) as store:
        lost = [one for one in store.entries("ended") if str(one.number) not in known][:_MOST_LOST]
        library = library_from(Folders(), lazily=True) if lost else None
        for entry in reversed(lost):
            try:
                call = PracticeCall.picked_up(library, store, entry.number)  # type: ignore[arg-type]
                yield row_of(call.review, entry.number, entry.changed)
            except CoilsideError as error:
                say(f"The result of practice call {entry.number} cannot be worked again: {error}", err=True)


CALL_COMMANDS = (call, list_command, results, calls, show, replay)
"""What there is for working practice calls, and for what is kept of them."""
