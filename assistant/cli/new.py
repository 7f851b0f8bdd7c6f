"""`coilside trees new`: a small tree to start from."""

import shlex
from pathlib import Path

import click

from assistant.cli.talk import say
from assistant.source.shipped import shipped_folder

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
