"""`coilside trees schema`: what an editor needs to complete and explain keys and names while a tree is written."""

import json
from pathlib import Path

import click

from assistant.catalogue.loading import load_catalogue
from assistant.cli.options import folder_of_trees, trees_option
from assistant.source.shipped import catalogue_of
from assistant.tree.shelf import Shelf


@click.command()
@click.argument("sort", default="tree")
@click.option(
    "--names/--no-names",
    default=True,
    show_default=True,
    help="With the catalogue's names, so that they are completed and misspelt ones marked.",
)
@trees_option
def schema(sort: str, names: bool, trees_folder: Path | None) -> None:
    """Print the JSON Schema of a sort of file, for editors that know YAML.

    SORT is tree, calls, answers, or a file of the catalogue, such as catalogue/readings.
    """
    from assistant.author.schemas import schema_of

    folder = folder_of_trees(trees_folder)
    catalogue = load_catalogue(catalogue_of(folder))[0] if names else None
    titles = _titles(folder) if names else None
    click.echo(json.dumps(schema_of(sort, catalogue, titles), indent=2, ensure_ascii=False))


def _titles(folder: Path) -> dict[str, str]:
    """The titles of the trees in a folder; one that cannot be read yet may be used all the same."""
    shelf = Shelf([folder])
    read = {name: shelf.read(name)[0] for name in shelf}
    return {name: tree.title if tree else "A tree that cannot be read yet." for name, tree in read.items()}
