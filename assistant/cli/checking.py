"""`coilside trees check` and `coilside trees explain`: what is wrong with trees, and why it matters."""

import json
from collections.abc import Collection
from dataclasses import replace
from pathlib import Path

import click

from assistant.catalogue.layers import Replaced, load_layers, notes_on_replaced
from assistant.catalogue.rules import check_catalogue
from assistant.cli.options import Folders, problems_text, shop_option
from assistant.cli.talk import say
from assistant.errors import FileError, UnknownNameError
from assistant.source.nearest import nearest
from assistant.source.problem import Place, Problem, as_github, as_json, without_controls
from assistant.source.shipped import catalogues_of
from assistant.tree.check import Review, review_file, review_folders
from assistant.tree.codes import EXPLANATIONS
from assistant.tree.manual import one_line, page
from assistant.tree.shelf import Shelf
from assistant.tree.usage import unused
from assistant.worksheet.formulas import all_inputs

FOR_A_SHOP = """
The catalogue in this folder was taken for the whole catalogue, and it has no worked numbers. When it is to add to the
shipped one, check it as your shop's folder: coilside trees check --shop FOLDER"""


@click.command()
@click.argument("path", type=click.Path(path_type=Path), required=False)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "github"]),
    default="text",
    show_default=True,
    help="How problems are listed: text for a person, json for an editor, github for a workflow there.",
)
@click.option("--unused", "with_unused", is_flag=True, help="Note also what the catalogue holds and no tree uses.")
@shop_option
def check(path: Path | None, form: str, with_unused: bool, shop_folder: Path | None) -> None:
    """Tell everything that is wrong with a tree file or a folder of trees; exit code 1 when there is something.

    With --shop, all is checked as it is with that folder over the others, and what it replaces is noted.

    Notes are listed too, and change nothing about the exit code. `coilside trees explain` tells more of each problem.
    """
    review = check_path(path, shop=shop_folder, with_unused=with_unused)
    match form:
        case "json":
            listed = [as_json(problem) | {"severity": "problem"} for problem in review.problems]
            listed += [as_json(note) | {"severity": "note"} for note in review.notes]
            say(json.dumps(listed, indent=2, ensure_ascii=False))
        case "github":
            for problem in review.problems:
                say(as_github(_from_here(problem)))
            for note in review.notes:
                say(as_github(_from_here(note), "notice"))
        case _:
            _as_text(review)
            if review.problems and shop_folder is None and path is not None and is_of_a_shop(path):
                say(FOR_A_SHOP, err=True)
    if review.problems:
        raise click.exceptions.Exit(1)


def is_of_a_shop(path: Path) -> bool:
    """Whether the catalogue beside a tree has entries and no worked numbers: one that adds to another."""
    own = (path if path.is_dir() else path.parent) / "catalogue"
    return own.is_dir() and not any(name.exists() for name in (own / "numbers.yaml", own / "numbers"))


def _from_here(problem: Problem) -> Problem:
    """Name the file as seen from the folder at hand: a workflow marks lines in files of its own checkout."""
    path = Path(problem.place.path)
    here = Path.cwd()
    if not path.is_relative_to(here):
        return problem
    return replace(problem, place=replace(problem.place, path=path.relative_to(here).as_posix()))


def _as_text(review: Review) -> None:
    if review.problems:
        say(problems_text(review.problems))
    if review.notes:
        say(("\n" if review.problems else "") + "\n".join(_note_text(note) for note in review.notes))
    counted = _count(len(review.problems), "problem") if review.problems else "no problems"
    more = f", {_count(len(review.notes), 'note')}" if review.notes else ""
    say(f"{chr(10) if review.problems else ''}{counted}{more}", err=True)


def _note_text(note: Problem) -> str:
    hint = f" ({note.hint})" if note.hint else ""
    return without_controls(f"{note.place}: note: {note.message}{hint} [{note.code}]")


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def check_path(path: Path | None, *, shop: Path | None = None, with_unused: bool = False) -> Review:
    """Review a file or a folder with its catalogue; a folder without one uses the shipped catalogue.

    A `shop`'s own folder is laid over it: everything is reviewed as it then is, and what is replaced is noted.

    Raises:
        FileError: there is nothing at the path, or no tree in it.
    """
    if path is not None and not path.exists():
        raise FileError(f"There is nothing at {path}.")
    layers = Folders(shop=shop).with_path(path).layers
    folders = catalogues_of(layers)
    catalogue, problems, replaced = load_layers(folders)
    catalogue = replace(catalogue, inputs=all_inputs())
    if path is not None and not path.is_dir():
        review = review_file(path, catalogue, layers)
        return replace(review, problems=sorted([*problems, *_own(review.problems, catalogue.left_out)]))
    shelf = Shelf(layers)
    if not shelf.files and not shelf.calls:
        raise FileError(f"There is no tree in the folder {path}: a tree is a file that ends in .yaml.")
    if any(folder.is_dir() and folder.parent in layers for folder in folders):
        problems = list(dict.fromkeys([*problems, *check_catalogue(catalogue)]))
    review = review_folders(layers, catalogue)
    trees = (
        Replaced(name, "tree", Place(str(shelf.files[name])), Place(str(below)))
        for name, below in shelf.replaced.items()
    )
    told = notes_on_replaced([*replaced, *trees])
    notes = [*review.notes, *told, *(unused(review.trees, catalogue) if with_unused else ())]
    problems = [*problems, *_own(review.problems, catalogue.left_out)]
    return replace(review, problems=sorted(problems), notes=sorted(notes))


def _own(problems: list[Problem], left_out: Collection[str]) -> list[Problem]:
    """Those problems that are not only there because an entry of the catalogue has a mistake, which is told there."""
    return [
        problem
        for problem in problems
        if problem.code != "name-unknown" or not any(f'"{name}"' in problem.message for name in left_out)
    ]


@click.command()
@click.argument("code", required=False)
def explain(code: str | None) -> None:
    """Tell what a problem's code means, why it matters, and how it is mended; without a code, list them all."""
    if code is None:
        for explanation in EXPLANATIONS.values():
            say(one_line(explanation))
        return
    wanted = code.strip().strip("[]").lower()
    if wanted not in EXPLANATIONS:
        raise UnknownNameError("problem code", code, nearest(wanted, EXPLANATIONS))
    say(page(EXPLANATIONS[wanted]), nl=False)
