"""`coilside trees`: the author's bench."""

import json
from pathlib import Path

import click

from assistant.call.examples import run_example, ways_not_taken
from assistant.catalogue.loading import load_catalogue
from assistant.cli.options import library_from, problems_text
from assistant.errors import FileError
from assistant.source.problem import Problem, as_json
from assistant.source.shipped import shipped_folder
from assistant.tree.check import check_file, check_folder
from assistant.tree.examples import ENDING, read_calls


@click.group()
def trees() -> None:
    """Check the trees and their example calls."""


@trees.command()
@click.argument("path", type=click.Path(path_type=Path), required=False)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="How problems are listed: text for a person, json for an editor.",
)
def check(path: Path | None, form: str) -> None:
    """Tell everything that is wrong with a tree file or a folder of trees; exit code 1 when there is something."""
    problems = check_path(path or shipped_folder("trees"))
    if form == "json":
        click.echo(json.dumps([as_json(problem) for problem in problems], indent=2, ensure_ascii=False))
    elif problems:
        click.echo(problems_text(problems))
        click.echo(f"\n{len(problems)} problem{'s' if len(problems) > 1 else ''}", err=True)
    else:
        click.echo("no problems", err=True)
    if problems:
        raise click.exceptions.Exit(1)


def check_path(path: Path) -> list[Problem]:
    """The problems of a file or a folder with its catalogue; a folder without one uses the shipped catalogue.

    Raises:
        FileError: there is nothing at the path.
    """
    if not path.exists():
        raise FileError(f"There is nothing at {path}.")
    folder = path if path.is_dir() else path.parent
    own = folder / "catalogue"
    catalogue, problems = load_catalogue(own if own.is_dir() else shipped_folder("trees") / "catalogue")
    if path.is_dir():
        if not any(path.glob("*.yaml")):
            raise FileError(f"There is no tree in the folder {path}: a tree is a file that ends in .yaml.")
        return sorted([*problems, *check_folder(path, catalogue)])
    return check_file(path, catalogue)


@trees.command()
@click.argument("path", type=click.Path(path_type=Path), required=False)
def examples(path: Path | None) -> None:
    """Walk the example calls beside the trees; exit code 1 when one does not end where it must."""
    folder = path or shipped_folder("trees")
    library = library_from(folder)
    failed = False
    for name, tree in library.trees.items():
        file = folder / f"{name}{ENDING}"
        calls, problems = read_calls(file) if file.exists() else ((), [])
        if problems:
            raise FileError(problems_text(problems))
        results = [run_example(library, name, call) for call in calls]
        for result in results:
            for fault in result.faults:
                failed = True
                click.echo(f"{result.call.place}: {result.call.name}: {fault}")
        missing = ways_not_taken(tree, results)
        good = sum(not result.faults for result in results)
        click.echo(f"{name}: {good} of {len(results)} calls end where they must; {len(missing)} ways not taken")
        for node, go in missing:
            click.echo(f"  no example goes from {node} to {go}")
    if failed:
        raise click.exceptions.Exit(1)
