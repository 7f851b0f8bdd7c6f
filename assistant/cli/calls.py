"""`coilside calls`: the stored calls."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from assistant.cli.calls_demo import demo
from assistant.cli.calls_files import export, import_command, mend, sheet
from assistant.cli.calls_replay import replay
from assistant.cli.completing import complete_call
from assistant.cli.listing import list_calls
from assistant.cli.options import (
    Folders,
    folders_option,
    home_option,
    library_from,
    open_store,
    open_store_to_change,
    page_width,
    units_option,
)
from assistant.cli.talk import read_line, say
from assistant.source.problem import shorten

if TYPE_CHECKING:
    from assistant.store.store import CallEntry, Search, Status

_MOST = 50
_AGO = re.compile(r"(\d{1,4})\s*(d|day|days|h|hour|hours|w|week|weeks)")
_HOURS = {"h": 1, "d": 24, "w": 24 * 7}


@click.group()
def calls() -> None:
    """List, find, show and hand on the stored calls; show the demo calls; step through any of them."""


number_argument = click.argument("number", type=int, shell_complete=complete_call)


def _since(ctx: click.Context, parameter: click.Parameter, value: str | None) -> datetime | None:
    """A day such as 2026-07-14, or a time ago such as 7d."""
    if value is None:
        return None
    ago = _AGO.fullmatch(value.strip().casefold())
    try:
        if ago:
            return datetime.now(UTC) - timedelta(hours=int(ago[1]) * _HOURS[ago[2][0]])
        return datetime.fromisoformat(value.strip()).astimezone(UTC)
    except (ValueError, OverflowError) as error:
        message = f"{value!r} is no day such as 2026-07-14, and no time ago such as 7d or 12h."
        raise click.BadParameter(message, ctx, parameter) from error


@calls.command("list")
@click.argument("words", nargs=-1)
@click.option("--open", "status", flag_value="open", help="Only calls that have not ended.")
@click.option("--ended", "status", flag_value="ended", help="Only calls that have ended.")
@click.option(
    "--since", callback=_since, metavar="DAY|7d", help="Only calls changed since a day, or since so long ago."
)
@click.option("--most", type=click.IntRange(1), default=_MOST, show_default=True, help="Show no more than so many.")
@home_option
def list_command(
    words: tuple[str, ...], status: "Status | None", since: datetime | None, most: int, home: Path | None
) -> None:
    """List the calls, the last changed first: those with all the WORDS in their complaint, name, ending or notes.

    \b
        coilside calls list
        coilside calls list bulb library --ended --since 30d
    """
    from assistant.store.store import Search

    search = Search(status, words, since)
    with open_store(home) as store:
        entries = store.entries(search=search, most=most)
        more = store.count(search) - len(entries) if len(entries) == most else 0
    if not entries:
        say(_none(search), err=True)
        return
    list_calls(entries, "ending")
    if more:
        say(f"{more} more: --most {most + more} shows all, or give words that you look for.", err=True)


def _none(search: "Search") -> str:
    narrowed = search.words or search.status or search.since
    return "No call fits that. `coilside calls list` shows all." if narrowed else "No calls are kept."


@calls.command()
@number_argument
@units_option
@folders_option
@home_option
def show(number: int, units: Any, folders: Folders, home: Path | None) -> None:
    """Show a call: the whole conversation, its notes, and what is asked next when it has not ended."""
    from assistant.call.wording import conversation_lines, prompt_lines, wrapped
    from assistant.sheet.handing import stored_call
    from assistant.store.times import time_words

    with open_store(home) as store:
        store.entry(number)
        conversation, kept = stored_call(store, number, library_from(folders, lazily=True), units)
    entry = kept.entry
    when = time_words(entry.started)
    called = f" ({entry.name})" if entry.name else ""
    lines = [f"Call {number}{called}, begun {when}, {entry.status}", *kept.told, "", *conversation_lines(conversation)]
    if conversation.prompt is not None:
        lines += ["", "Asked next:", *prompt_lines(conversation.prompt)]
    if kept.notes:
        lines += ["", "NOTES"]
        lines += [f"  {time_words(note.at)}  {note.text}" for note in kept.notes]
    for line in wrapped(tuple(lines), page_width()):
        say(line)


@calls.command()
@number_argument
@click.argument("name", nargs=-1, required=True)
@home_option
def rename(number: int, name: tuple[str, ...], home: Path | None) -> None:
    """Give a call a NAME of its own, shown in place of its complaint; "" brings the complaint back.

    \b
        coilside calls rename 12 Lantern Street library, rooftop 2
    """
    text = _written(name)
    with open_store_to_change(home) as store:
        store.rename(number, text)
        entry = store.entry(number)
    say(f"Call {number} is called: {shorten(entry.shown, 60)}", err=True)


@calls.command()
@number_argument
@click.argument("text", nargs=-1, required=True)
@home_option
def note(number: int, text: tuple[str, ...], home: Path | None) -> None:
    """Attach a remark, or the name of a photo's file, to a call. It stands on its sheet.

    \b
        coilside calls note 12 photo IMG_0231.jpg: oil at the flare nut
    """
    words = _written(text)
    if not words:
        raise click.UsageError("A note needs some words.")
    with open_store_to_change(home) as store:
        store.add_note(number, words)
    say(f"Noted on call {number}.", err=True)


def _written(words: tuple[str, ...]) -> str:
    """What was written on the command line, as it is kept."""
    from assistant.call.replies import LONGEST_REPLY, tidy

    text = tidy(" ".join(words))
    if len(text) > LONGEST_REPLY:
        raise click.UsageError(f"That is longer than {LONGEST_REPLY} characters.")
    return text


@calls.command()
@number_argument
@click.option("--yes", is_flag=True, help="Do not ask.")
@home_option
def delete(number: int, yes: bool, home: Path | None) -> None:
    """Delete a call for good."""
    with open_store_to_change(home) as store:
        entry = store.entry(number)
        if not yes and not _is_sure(entry):
            say(f"Nothing was deleted; call {number} is kept.", err=True)
            return
        store.delete(number)
    say(f"Call {number} is deleted.", err=True)


def _is_sure(entry: "CallEntry") -> bool:
    """Ask before a call is deleted; the end of the input is no yes."""
    question = f"Delete call {entry.number}, {shorten(entry.shown, 40)!r}, with all its answers and notes? [y/N]"
    say(question, err=True)
    return (read_line() or "").strip().casefold() in ("y", "yes")


for _command in (sheet, export, import_command, mend, demo, replay):
    calls.add_command(_command)
