"""`coilside calls demo`: the calls that come with the program."""

import textwrap
from pathlib import Path
from typing import Any

import click
from click.shell_completion import CompletionItem

from assistant.cli.options import Folders, folders_option, library_from, page_width, units_option
from assistant.cli.talk import say
from assistant.errors import UnknownNameError
from assistant.source.nearest import nearest
from assistant.source.shipped import shipped_folder

_WIDTH = 80


def demo_files() -> list[Path]:
    """The files of the demo calls, in order."""
    return sorted(shipped_folder("transcripts_demo").glob("*.yaml"))


def demo_file(wanted: str) -> Path:
    """The file of a demo call by its name, its number, or the beginning of its name.

    Raises:
        UnknownNameError: there is no such demo call, or several begin so.
    """
    files = demo_files()
    if wanted.isdecimal():
        found = [file for file in files if file.stem.partition("-")[0].lstrip("0") == wanted.lstrip("0")]
    else:
        as_name = wanted.casefold().replace(" ", "-").replace("_", "-")
        names = {file: (file.stem, file.stem.partition("-")[2]) for file in files}
        found = [file for file in files if as_name in names[file]]
        found = found or [file for file in files if any(name.startswith(as_name) for name in names[file])]
    if len(found) != 1 or not wanted:
        raise UnknownNameError("demo call", wanted, nearest(wanted, [file.stem for file in files]))
    return found[0]


def complete_demo(ctx: click.Context, parameter: click.Parameter, incomplete: str) -> list[CompletionItem]:
    """The names of the demo calls that begin with what is typed."""
    return [CompletionItem(file.stem) for file in demo_files() if file.stem.startswith(incomplete)]


@click.command()
@click.argument("name", required=False, shell_complete=complete_demo)
@units_option
@folders_option
def demo(name: str | None, units: Any, folders: Folders) -> None:
    """List the demo calls with their stories, or show the one of a NAME or number.

    \b
        coilside calls demo
        coilside calls demo 2
    """
    from assistant.store.transcripts import read_transcript

    if name is None:
        for file in demo_files():
            call = read_transcript(file)
            say(f"{file.stem}\n  {call.title}")
            say(textwrap.fill(call.story, _WIDTH, initial_indent="  ", subsequent_indent="  ") + "\n")
        say("Show one: coilside calls demo NAME, or its number.")
        return
    from assistant.call.replies import read_all_written
    from assistant.call.walk import walk
    from assistant.call.what_if import tried_lines
    from assistant.call.wording import conversation_lines, prompt_lines, wrapped

    call = read_transcript(demo_file(name))
    library = library_from(folders, lazily=True)
    answers = read_all_written(call.answers, library.catalogue, units)
    conversation = walk(library, answers, units)
    lines = [call.title, "", call.story, "", *conversation_lines(conversation)]
    if conversation.prompt is not None:
        lines += ["", "Asked next:", *prompt_lines(conversation.prompt)]
    lines += tried_lines(library, conversation, answers, call.tried, units)
    for line in wrapped(tuple(lines), page_width()):
        say(line)
