"""`coilside trees`: the author's bench."""

from pathlib import Path

import click

from assistant.call.examples import run_example, ways_not_taken
from assistant.cli.checking import check, explain
from assistant.cli.comparing import compare
from assistant.cli.drawing import draw
from assistant.cli.names import names
from assistant.cli.new import new
from assistant.cli.options import library_from, problems_text
from assistant.cli.schema import schema
from assistant.errors import FileError
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import ENDING, read_calls


@click.group()
def trees() -> None:
    """Check the trees and their example calls."""


trees.add_command(check)
trees.add_command(compare)
trees.add_command(draw)
trees.add_command(explain)
trees.add_command(names)
trees.add_command(new)
trees.add_command(schema)


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
