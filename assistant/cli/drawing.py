"""`coilside trees draw`: a tree as a picture."""

import shutil
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from assistant.cli.completing import complete_tree
from assistant.cli.options import Folders, folders_option, problems_text, units_option
from assistant.cli.talk import is_terminal, say
from assistant.errors import FileError, UnknownNameError
from assistant.files import write_whole
from assistant.source.nearest import nearest
from assistant.source.problem import without_controls
from assistant.source.shipped import catalogues_of

if TYPE_CHECKING:
    from assistant.author.picture import Picture
    from assistant.catalogue.catalogue import Catalogue
    from assistant.tree.model import Tree
    from assistant.tree.shelf import Shelf

_LOOKS: dict[str, dict[str, Any]] = {
    "head": {"bold": True},
    "caution": {"fg": "yellow"},
    "cause": {"fg": "red", "bold": True},
    "no_fault": {"fg": "green", "bold": True},
    "undecided": {"fg": "blue", "bold": True},
    "use": {"fg": "cyan", "bold": True},
    "missing": {"fg": "red", "reverse": True},
    "called": {"fg": "magenta", "bold": True},
    "none": {"fg": "red"},
    "quiet": {"dim": True},
}


@dataclass(frozen=True)
class _Subject:
    """The tree to draw, and all that it stands among; `shown` is the tree with or without those that it uses."""

    file_name: str
    tree: "Tree"
    shown: "Tree"
    shelf: "Shelf"
    catalogue: "Catalogue"


@click.command()
@click.argument("tree", shell_complete=complete_tree)
@click.option(
    "--to",
    "form",
    type=click.Choice(["outline", "html", "mermaid"]),
    default="outline",
    show_default=True,
    help="outline: text for the terminal; html: one page with a picture; mermaid: flowchart text.",
)
@click.option(
    "--output", type=click.Path(path_type=Path, dir_okay=False), help="Write to this file, not to the screen."
)
@click.option("--call", "wanted", metavar="NAME|NUMBER", help="Mark the way of this example call of the tree.")
@click.option("--coverage", "with_coverage", is_flag=True, help="Show how many example calls take each way.")
@click.option("--inside", is_flag=True, help="Draw the trees that it uses with all their nodes.")
@units_option
@folders_option
def draw(
    tree: str,
    form: str,
    output: Path | None,
    wanted: str | None,
    with_coverage: bool,
    inside: bool,
    units: Any,
    folders: Folders,
) -> None:
    """Draw TREE, the name of a tree or the path of its file.

    A tree with mistakes is drawn as far as it can be read. Example calls are numbered as they stand in the file.

        coilside trees draw poor_cooling --to html --coverage --output poor_cooling.html
    """
    from assistant.author.picture import picture
    from assistant.tree.linking import uses_of

    subject = _subject(tree, folders, inside=inside)
    used = {use.tree.text: subject.shelf.get(use.tree.text) for use in uses_of(subject.shown)}
    titles = {name: part.title for name, part in used.items() if part is not None}
    shown = picture(subject.shown, subject.catalogue, units, titles)
    if wanted is not None or with_coverage:
        shown = _with_calls(shown, subject, wanted, with_coverage=with_coverage)
    text = _drawn(shown, form, to_screen=output is None)
    if output is None:
        say(text, nl=False)
        return
    write_whole(output, text, private=False)
    say(f"drawn to {output}", err=True)


@click.command()
@click.argument("tree", shell_complete=complete_tree)
@folders_option
def acts(tree: str, folders: Folders) -> None:
    """List what TREE has done and taken, each with the state that it needs, its cautions, and who may.

    TREE is the name of a tree or the path of its file.
    """
    from assistant.author.acts_list import lines_of

    subject = _subject(tree, folders, inside=False)
    for line in lines_of(subject.tree, subject.catalogue):
        say(without_controls(line))


def _drawn(shown: "Picture", form: str, *, to_screen: bool) -> str:
    match form:
        case "html":
            from assistant.author.page import page

            return page(shown)
        case "mermaid":
            from assistant.author.mermaid import mermaid

            return mermaid(shown)
        case _:
            from assistant.author.outline import outline, plain

            on_terminal = to_screen and is_terminal(sys.stdout)
            width = min(shutil.get_terminal_size().columns, 120) if on_terminal else 80
            return outline(shown, width, _painted if on_terminal else plain)


def _painted(text: str, sort: str) -> str:
    return click.style(text, **_LOOKS[sort]) if sort in _LOOKS else text


def _subject(named: str, folders: Folders, *, inside: bool) -> _Subject:
    """Find the tree; what is wrong with it is told on standard error.

    Raises:
        UnknownNameError: there is no such tree.
        FileError: there is no such file, or it holds no tree.
    """
    from assistant.catalogue.layers import load_layers
    from assistant.tree.linking import link
    from assistant.tree.shelf import Shelf

    path = Path(named)
    is_path = path.suffix == ".yaml" or len(path.parts) > 1
    if is_path and not path.is_file():
        raise FileError(f"There is no file {path}.")
    layers = folders.with_path(path if is_path else None).layers
    name = path.stem if is_path else named
    shelf = Shelf(layers)
    if name not in shelf:
        raise UnknownNameError("tree", name, nearest(name, shelf))
    catalogue, problems, _ = load_layers(catalogues_of(layers))
    tree, found = shelf.read(name)
    if tree is None:
        raise FileError(problems_text(found))
    if problems or found:
        say(problems_text([*problems, *found]), err=True)
        say("It is drawn as far as it can be read. `coilside trees check` tells more.", err=True)
    shown = link(tree, shelf) if inside else tree
    if shown is None:
        raise FileError(f"A tree that {name} uses cannot be read: `coilside trees check` tells which.")
    return _Subject(name, tree, shown, shelf, catalogue)


def _with_calls(shown: "Picture", subject: _Subject, wanted: str | None, *, with_coverage: bool) -> "Picture":
    from assistant.author.marks import choose_call, library_of, with_counts, with_path
    from assistant.tree.examples import read_calls

    file = subject.shelf.calls.get(subject.file_name)
    if file is None:
        raise FileError(f"There are no example calls beside {subject.tree.path}.")
    calls, problems = read_calls(file)
    if problems:
        raise FileError(problems_text(problems))
    chosen = None if wanted is None else choose_call(calls, wanted)
    library = library_of(subject.tree, subject.shelf, subject.catalogue)
    if with_coverage:
        shown = with_counts(shown, subject.shown, library, subject.shelf, calls)
    return shown if chosen is None else with_path(shown, subject.shown, library, subject.shelf, chosen)
