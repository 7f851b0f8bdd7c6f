"""`coilside trees schema`: what an editor needs to complete and explain keys and names while a tree is written."""

import json

import click

from assistant.cli.options import Folders, catalogue_from, folders_option
from assistant.cli.talk import say
from assistant.tree.shelf import Shelf


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
