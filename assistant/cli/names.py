"""`coilside trees names`: what a reading, limit or cause is called."""

import json
import textwrap
from dataclasses import asdict
from itertools import groupby

import click

from assistant.cli.options import Folders, catalogue_from, folders_option, json_option
from assistant.cli.talk import say
from assistant.source.problem import without_controls

_WIDTH = 80
_INDENT = " " * 6


@click.command()
@click.argument("words", nargs=-1)
@json_option
@folders_option
def names(words: tuple[str, ...], as_json: bool, folders: Folders) -> None:
    """List the names that a tree may use: those that have to do with all the WORDS, or all of them.

    \b
        coilside trees names bulb
        coilside trees names limits superheat
    """
    from assistant.author.names import names_of

    catalogue = catalogue_from(folders)
    found = names_of(catalogue, " ".join(words))
    if as_json:
        say(json.dumps([asdict(name) for name in found], indent=2, ensure_ascii=False))
        return
    if not found:
        say("No name of the catalogue has to do with all of that. Try one word, or a part of it.", err=True)
        raise click.exceptions.Exit(1)
    for sort, group in groupby(found, lambda name: name.sort):
        say(f"{sort}:")
        for name in group:
            held = f" ({name.holds})" if name.holds else ""
            text = textwrap.fill(
                without_controls(name.title + held), _WIDTH, initial_indent=_INDENT, subsequent_indent=_INDENT
            )
            say(f"  {without_controls(name.name)}\n{text}")
