"""Marking example calls in a picture: the way of one of them, and how many take each way."""

from collections.abc import Mapping, Sequence

from assistant.author.attempt import stopping
from assistant.author.picture import Picture, with_call, with_coverage
from assistant.author.ways import coverage, path_of
from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import InputError, UnknownNameError
from assistant.source.nearest import nearest
from assistant.source.problem import shorten
from assistant.tree.check import check_tree
from assistant.tree.examples import ExampleCall
from assistant.tree.linking import link
from assistant.tree.model import Tree


def library_of(tree: Tree, trees: Mapping[str, Tree], catalogue: Catalogue) -> Library:
    """Return a library of one tree with those that it uses, fit to be walked.

    Raises:
        InputError: the tree, or one that it uses, has mistakes over which a walk would stumble.
    """
    whole = link(tree, trees)
    if whole is None:
        raise InputError(f"A tree that {tree.name} uses cannot be read: `coilside trees check` tells which.")
    found = stopping(check_tree(whole, catalogue))
    if found:
        raise InputError(
            f"No call can be walked before {found[0].place} is mended: {found[0].message}. "
            "`coilside trees check` tells more."
        )
    return Library(catalogue, {whole.name: whole})


def choose_call(calls: Sequence[ExampleCall], wanted: str) -> ExampleCall:
    """Return the example call of a name, or of a number, counted from 1 as they stand in the file.

    Raises:
        UnknownNameError: no call has the name.
        InputError: no call has the number.
    """
    for call in calls:
        if call.name == wanted:
            return call
    if wanted.isdecimal():
        number = int(wanted) if len(wanted) < 10 else 0
        if not 1 <= number <= len(calls):
            there = f"There are {len(calls)} example calls, numbered from 1"
            raise InputError(f"{there}; there is no number {shorten(wanted)}.")
        return calls[number - 1]
    raise UnknownNameError("example call", wanted, nearest(wanted, [call.name for call in calls]))


def with_path(picture: Picture, shown: Tree, library: Library, trees: Mapping[str, Tree], call: ExampleCall) -> Picture:
    """Return the picture of a tree as `shown` with the way of a call marked; `trees` are as they were read."""
    conversation = walk_by_name(library, shown.name, call.given.texts())
    ways, _ = path_of(conversation, shown, trees)
    return with_call(picture, call.name, ways)


def with_counts(
    picture: Picture, shown: Tree, library: Library, trees: Mapping[str, Tree], calls: Sequence[ExampleCall]
) -> Picture:
    """The picture of a tree as `shown` with how many of the calls take each way; `trees` are as they were read."""
    walked = [walk_by_name(library, shown.name, call.given.texts()) for call in calls]
    found = coverage(walked, shown, trees)
    return with_coverage(picture, found.taken, found.ends, found.calls)
