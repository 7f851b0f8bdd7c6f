"""`coilside trees compare`: what an edit of trees does to the calls that are known."""

import json
import sys
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from assistant.cli.options import home_option, json_option, problems_text, record_path, units_option
from assistant.cli.talk import is_terminal, say
from assistant.source.shipped import shipped_folder

if TYPE_CHECKING:
    from assistant.author.compare import StoredCall


@click.command()
@click.argument("folders", nargs=-1, type=click.Path(path_type=Path), metavar="[OLD] NEW")
@click.option("--revision", metavar="REV", help="Compare NEW with what it was at this git revision, instead of OLD.")
@click.option("--own", is_flag=True, help="OLD and NEW are a shop's own folders: each is laid over the shipped one.")
@json_option
@units_option
@home_option
def compare(
    folders: tuple[Path, ...], revision: str | None, own: bool, as_json: bool, units: Any, home: Path | None
) -> None:
    """Tell which calls end elsewhere in NEW than in OLD, two folders of trees.

    Walks the example calls of both folders, and your own stored calls, through both; tells where they part, what they
    saw there, and what was edited. Exit code 1 when a call ends elsewhere, or a tree has mistakes and is left out.

        coilside trees compare trees.before trees

        coilside trees compare --revision v1 trees
    """
    from assistant.author.compare import compare as compared
    from assistant.author.compare import load_edition
    from assistant.author.comparison_text import comparison_lines, comparison_values
    from assistant.author.revision import folder_at
    from assistant.call.wording import wrapped

    if len(folders) != (1 if revision else 2):
        wanted = "one folder: --revision REV NEW" if revision else "two folders, OLD and NEW; or --revision REV NEW"
        raise click.UsageError(f"compare wants {wanted}.")
    with ExitStack() as stack:
        before = stack.enter_context(folder_at(revision, folders[0])) if revision else folders[0]
        below = [shipped_folder("trees")] if own else []
        old, new = load_edition(before, below), load_edition(folders[-1], below)
        for name, edition in (("OLD", old), ("NEW", new)):
            if edition.problems:
                say(f"{name} has mistakes; what has them is left out.", err=True)
                told = problems_text(list(edition.problems))
                # The copy of a revision has a passing name; the revision's own tells more.
                say(told.replace(str(before), f"{revision}:{folders[0]}") if revision else told, err=True)
        comparison = compared(old, new, _stored(home), units, _waiting)
    if as_json:
        say(json.dumps(comparison_values(comparison), indent=2, ensure_ascii=False))
    else:
        for line in wrapped(tuple(comparison_lines(comparison)), 80):
            say(line)
    if not comparison.same_ends or old.problems or new.problems:
        raise click.exceptions.Exit(1)


def _waiting(tree: str) -> None:
    """Say what takes so long to somebody who waits; a file or pipe does not."""
    if is_terminal(sys.stderr):
        say(f"walking the calls of {tree} ...", err=True)


def _stored(home: Path | None) -> "list[StoredCall]":
    """The calls of the user's own record; looking for them makes none."""
    from assistant.author.compare import StoredCall
    from assistant.store.store import Store

    path = record_path(home)
    if not path.exists():
        return []
    with Store.to_read(path) as store:
        entries = sorted(store.entries(), key=lambda entry: entry.number)
        return [StoredCall(entry.number, entry.title, store.answers(entry.number)) for entry in entries]
