"""`coilside trees`: the author's bench; what names there are, a tree to start from, and what an editor needs."""

import json
import shlex
import textwrap
from dataclasses import asdict
from itertools import groupby
from pathlib import Path

import click

from assistant.cli.checking import check, explain
from assistant.cli.comparing import compare
from assistant.cli.drawing import acts, draw
from assistant.cli.examples import examples
from assistant.cli.options import Folders, catalogue_from, folders_option, json_option
from assistant.cli.talk import say
from assistant.cli.trying import try_command
from assistant.cli.weighing import weigh
from assistant.source.problem import without_controls
from assistant.source.shipped import shipped_folder
from assistant.tree.shelf import Shelf


@click.group()
def trees() -> None:
    """Write, check, draw and compare trees, and walk their example calls."""


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


NEXT = (
    ("coilside trees check {tree}", "tells what is wrong with it: after every change"),
    ("coilside trees examples {tree}", "walks its example calls, and tells which ways none of them takes"),
    ("coilside trees draw {tree}", "draws it"),
    ("coilside trees try {tree}", "walks a call on it, and takes up what you save meanwhile"),
    ("coilside trees schema > {schema}", "lets an editor that knows YAML complete and explain its keys"),
)
"""What an author does next, each with what it is for."""


@click.command()
@click.argument("name")
@click.option(
    "--folder",
    type=click.Path(path_type=Path),
    default=Path(),
    help="Folder to write into; made when it is not there. Without it, the folder you are in.",
)
def new(name: str, folder: Path) -> None:
    """Write a small tree with comments and example calls, called NAME, to start from."""
    from assistant.author.starting import write_new

    tree, calls = write_new(name, folder)
    say(f"Written: {tree} and {calls}\nOpen them in an editor, then:\n")
    for command, does in NEXT:
        text = command.format(tree=shlex.quote(str(tree)), schema=shlex.quote(str(folder / "tree.schema.json")))
        say(f"  {text}\n      {does}")
    say(f"\nThe manual for authors is {shipped_folder('trees') / 'README.md'}")


@click.command()
@click.argument("sort", default="tree")
@click.option(
    "--names/--no-names",
    default=True,
    show_default=True,
    help="With the catalogue's names, so that they are completed and misspelt ones marked.",
)
@folders_option
def schema(sort: str, names: bool, folders: Folders) -> None:
    """Print the JSON Schema of a sort of file, for editors that know YAML.

    SORT is tree, calls, answers, or a file of the catalogue, such as catalogue/readings.
    """
    from assistant.author.schemas import schema_of

    catalogue = catalogue_from(folders) if names else None
    titles = _titles(folders) if names else None
    say(json.dumps(schema_of(sort, catalogue, titles), indent=2, ensure_ascii=False))


def _titles(folders: Folders) -> dict[str, str]:
    """The titles of the trees; one that cannot be read yet may be used all the same."""
    shelf = Shelf(folders.layers)
    read = {name: shelf.read(name)[0] for name in shelf}
    return {name: tree.title if tree else "A tree that cannot be read yet." for name, tree in read.items()}


for _command in (acts, check, compare, draw, examples, explain, names, new, schema, try_command, weigh):
    trees.add_command(_command)
