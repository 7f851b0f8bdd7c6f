"""`coilside trees try`: a call on a tree that is being written."""

import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from assistant.cli.completing import complete_tree
from assistant.cli.options import Folders, folders_option, look_options, problems_text, units_option
from assistant.cli.talk import is_on_screen, is_typed, read_line, say
from assistant.errors import FileError, UnknownNameError
from assistant.source.nearest import nearest

if TYPE_CHECKING:
    from assistant.author.attempt import Attempt
    from assistant.author.watching import Watch


@click.command("try")
@click.argument("tree", metavar="TREE", shell_complete=complete_tree)
@click.option("--from", "node", metavar="NODE", help="Begin at this node, with what FILE gives as known.")
@click.option("--facts", "file", type=click.Path(path_type=Path), metavar="FILE", help="YAML: facts: and answers:.")
@click.option("--plain", is_flag=True, help="Line by line; the file is looked at before each reply.")
@units_option
@look_options
@folders_option
def try_command(
    tree: str, node: str | None, file: Path | None, plain: bool, units: Any, theme: str, folders: Folders
) -> None:
    """Walk a call on a tree while you write it; TREE is a file, or the name of a tree.

    What you save, in the tree or a tree that it uses, its calls or its catalogue, is taken up at once with the answers
    that still apply. Mistakes are shown with their place, and the last state that could be walked stays. Type jump and
    a node's name to begin there. Nothing is kept in your record of calls.

        coilside trees try my_trees/weak_airflow.yaml --from duct_leak --facts answers.yaml
    """
    from assistant.author.attempt import attempt
    from assistant.author.watching import Watch

    path, layers = tree_file(tree, folders)
    watch = Watch(layers)
    found = attempt(path, layers)
    given = _given(file, found) if file else {}
    if found.tree is not None and node is not None and node not in found.tree.nodes:
        raise UnknownNameError("node", node, nearest(node, found.tree.nodes))
    if plain or not is_on_screen():
        _line_by_line(found, watch, node, given, units)
        return
    from assistant.tui.trial_app import TrialApp

    TrialApp(found, watch, node, given, units, theme).run()


def tree_file(tree: str, folders: Folders) -> tuple[Path, list[Path]]:
    """The file of a tree that is named by its path or by its name, and the folders that it is tried in.

    Raises:
        FileError: it is a folder, there is no such file, or it counts no more because a shop's own stands for it.
        UnknownNameError: the folders have no such tree.
    """
    from assistant.tree.shelf import Shelf

    path = Path(tree)
    if path.is_dir():
        raise FileError(f"{path} is a folder; name one tree in it, such as {path / 'NAME.yaml'}.")
    is_path = path.is_file() or path.suffix == ".yaml" or len(path.parts) > 1
    if is_path and not path.is_file():
        raise FileError(f"There is no file {path}. `coilside trees new` writes one to begin with.")
    layers = folders.with_path(path if is_path else None).layers
    files = Shelf(layers).files
    name = path.stem if is_path else tree
    if name not in files:
        raise UnknownNameError("tree", name, nearest(name, files))
    if is_path and files[name].resolve() != path.resolve():
        raise FileError(f"{files[name]} stands for {path}: try that one, or leave --shop out.")
    return files[name], layers


def _given(file: Path, found: "Attempt") -> Mapping[str, Sequence[str]]:
    """Facts and answers by name; where the tree can be walked, they are held against it."""
    from assistant.tree.calls_check import check_answers
    from assistant.tree.examples import read_answers

    answers, problems = read_answers(file)
    if found.library is not None:
        problems = sorted([*problems, *check_answers(answers, found.tree, found.library.catalogue)])
    if problems:
        raise FileError(problems_text(problems))
    return answers.texts()


def _line_by_line(
    found: "Attempt", watch: "Watch", node: str | None, given: Mapping[str, Sequence[str]], units: Any
) -> None:
    from assistant.author.trial import Trial
    from assistant.call.wording import wrapped
    from assistant.plain import run_plain

    if found.problems:
        say(problems_text(list(found.problems)), err=True)
    if found.library is None:
        raise FileError(f"{found.file} cannot be walked yet: mend it first.")
    trial = Trial.of(found, node, given, units)
    trial.watch = watch
    width = min(shutil.get_terminal_size((80, 24)).columns, 100)
    for line in wrapped((trial.begun, "") if trial.begun else (), width):
        say(line)
    run_plain(trial, read_line, say, width, echo=not is_typed())
