"""`coilside trees examples`: the example calls beside the trees, walked and summed up."""

import json
import textwrap
from pathlib import Path

import click

from assistant.cli.options import Folders, folders_option, json_option, library_from, problems_text
from assistant.cli.talk import say
from assistant.errors import FileError, UnknownNameError
from assistant.source.nearest import nearest
from assistant.source.problem import without_controls


@click.command()
@click.argument("path", type=click.Path(path_type=Path), required=False)
@click.option("--ways", "all_ways", is_flag=True, help="List every way that no example call takes.")
@click.option("--causes", is_flag=True, help="List every cause with the trees and calls that come to it.")
@json_option
@folders_option
def examples(path: Path | None, all_ways: bool, causes: bool, as_json: bool, folders: Folders) -> None:
    """Walk the example calls beside the trees; exit code 1 when one does not end where it must.

    PATH is a folder of trees, one tree, or one file of example calls. A call also fails when it leaves one of its
    answers unused. Questions are all that a tech answers before the end, facts and steps included.
    """
    from assistant.author.summary import summary
    from assistant.author.summary_text import cause_lines, summary_values, table_lines, tree_lines
    from assistant.tree.examples import ENDING, read_calls
    from assistant.tree.shelf import Shelf

    if path is not None and not path.exists():
        raise FileError(f"There is nothing at {path}.")
    is_file = path is not None and not path.is_dir()
    folders = folders.with_path(path)
    only = path.name.removesuffix(ENDING).removesuffix(".yaml") if path is not None and is_file else None
    library = library_from(folders, only)
    shelf = Shelf(folders.layers)
    names = list(shelf) if only is None else [only]
    summaries, left_out = [], []
    for name in names:
        if name not in shelf:
            raise UnknownNameError("tree", name, nearest(name, shelf))
        if name not in library.trees:
            left_out.append(name)
            continue
        calls, problems = read_calls(shelf.calls[name]) if name in shelf.calls else ((), [])
        if problems:
            raise FileError(problems_text(problems))
        summaries.append(summary(library, shelf, name, calls))
    failed = bool(left_out) or any(one.failures for one in summaries)
    if as_json:
        values = {"passed": not failed, "left_out": left_out, "trees": [summary_values(one) for one in summaries]}
        say(json.dumps(values, indent=2, ensure_ascii=False))
    else:
        blocks = ["\n".join(map(_wrapped, tree_lines(one, all_ways=all_ways))) for one in summaries]
        if len(summaries) > 1:
            blocks.append("\n".join(table_lines(summaries)))
        if causes:
            blocks.append("\n".join(map(_wrapped, cause_lines(summaries, tuple(library.catalogue.causes)))))
        if left_out:
            blocks.append(f"has mistakes, so no call was walked: {', '.join(left_out)}")
        say("\n\n".join(blocks))
    if failed:
        raise click.exceptions.Exit(1)


def _wrapped(line: str) -> str:
    """A line cut to the width of a terminal; a path stays whole, so that it can be copied."""
    clean = without_controls(line)
    hang = " " * (len(clean) - len(clean.lstrip()) + 2)
    return textwrap.fill(clean, 80, subsequent_indent=hang, break_long_words=False, break_on_hyphens=False)
