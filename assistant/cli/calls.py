"""`coilside calls`: the stored calls."""

from pathlib import Path
from typing import Any

import click

from assistant.call.walk import walk
from assistant.call.wording import conversation_lines, prompt_lines, wrapped
from assistant.cli.options import Folders, folders_option, home_option, library_from, open_store, units_option
from assistant.source.problem import shortened


@click.group()
def calls() -> None:
    """List, show and delete stored calls."""


@calls.command("list")
@click.option("--open", "only_open", is_flag=True, help="Only calls that have not ended.")
@home_option
def list_command(only_open: bool, home: Path | None) -> None:
    """List the calls, the last changed first."""
    with open_store(home) as store:
        entries = store.entries("open" if only_open else None)
    if not entries:
        click.echo("No calls are kept.", err=True)
        return
    click.echo(f"{'number':>6}  {'last change':16}  {'state':6}  complaint / ending")
    for entry in entries:
        ending = f" - {entry.ending}" if entry.ending else ""
        when = entry.changed.astimezone().strftime("%Y-%m-%d %H:%M")
        click.echo(f"{entry.number:>6}  {when:16}  {entry.status:6}  {shortened(entry.title, 40)}{ending}")


@calls.command()
@click.argument("number", type=int)
@units_option
@folders_option
@home_option
def show(number: int, units: Any, folders: Folders, home: Path | None) -> None:
    """Show a call: the whole conversation, and what is asked next when it has not ended."""
    with open_store(home) as store:
        entry, answers = store.entry(number), store.answers(number)
    conversation = walk(library_from(folders, lazily=True), answers, units)
    when = entry.started.astimezone().strftime("%Y-%m-%d %H:%M")
    lines = [f"Call {number}, begun {when}, {entry.status}", "", *conversation_lines(conversation)]
    if conversation.prompt is not None:
        lines += ["", "Asked next:", *prompt_lines(conversation.prompt)]
    for line in wrapped(tuple(lines), 100):
        click.echo(line)


@calls.command()
@click.argument("number", type=int)
@click.option("--yes", is_flag=True, help="Do not ask.")
@home_option
def delete(number: int, yes: bool, home: Path | None) -> None:
    """Delete a call for good."""
    with open_store(home) as store:
        entry = store.entry(number)
        if not yes:
            click.confirm(f"Delete call {number}, {shortened(entry.title, 40)!r}?", abort=True)
        store.delete(number)
    click.echo(f"Call {number} is deleted.", err=True)
