"""Comparing two states of a folder of trees: which calls end elsewhere, where they part, and what was edited."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.author.carrying import carry_over, carry_over_texts
from assistant.author.edits import EntryEdit, TreeEdits, catalogue_edits, limits_of, new_names, tree_edits
from assistant.author.parting import End, Parting, end_of, parting, same_end
from assistant.call.answers import Written
from assistant.call.headless import walk_by_name
from assistant.call.keys import TREE
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.replies import read_all_written
from assistant.call.walk import Conversation, walk
from assistant.errors import FileError
from assistant.quantity import UnitSystem
from assistant.source.problem import Problem, shorten
from assistant.tree.examples import ExampleCall, read_calls
from assistant.tree.model import Tree
from assistant.tree.shelf import Shelf


@dataclass(frozen=True)
class Edition:
    """One state of a folder: its trees that can be walked, their example calls, and why others are left out."""

    folder: Path
    library: Library
    calls: Mapping[str, tuple[ExampleCall, ...]]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class StoredCall:
    """A call of the user's own record."""

    number: int
    title: str
    answers: tuple[Written, ...]

    @property
    def tree(self) -> str | None:
        """The tree that was followed."""
        return next((answer.text for answer in self.answers if answer.key == TREE), None)


@dataclass(frozen=True, slots=True)
class _Example:
    name: str
    given: Mapping[str, Sequence[str]]
    must_reach: str | None


@dataclass(frozen=True, slots=True)
class CallChange:
    """A call that another state of its tree leads elsewhere, or to the same end on another way.

    `must_reach` is the end that its file demands; `dropped` are answers that only the old state made use of.
    """

    call: str
    is_stored: bool
    is_elsewhere: bool
    old: End
    new: End
    parting: Parting | None
    must_reach: str | None
    dropped: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TreeComparison:
    """One tree in two states; `examples` and `stored` count the calls that were walked through both."""

    name: str
    edits: TreeEdits
    examples: int
    stored: int
    elsewhere: tuple[CallChange, ...]
    other_way: tuple[CallChange, ...]


@dataclass(frozen=True, slots=True)
class GoneTree:
    """A tree that only the old state has, and how many calls followed it: these end nowhere now."""

    name: str
    examples: int
    stored: int


@dataclass(frozen=True, slots=True)
class FolderComparison:
    """Two states of a folder."""

    trees: tuple[TreeComparison, ...]
    only_old: tuple[GoneTree, ...]
    only_new: tuple[str, ...]
    catalogue: tuple[EntryEdit, ...]

    @property
    def same_ends(self) -> bool:
        """Whether every call ends where it did."""
        return not any(tree.elsewhere for tree in self.trees) and not any(
            tree.examples or tree.stored for tree in self.only_old
        )


def load_edition(folder: Path, below: Sequence[Path] = ()) -> Edition:
    """Read one state of a folder; without a catalogue of its own it stands over the shipped one.

    With folders `below`, it is a shop's own over these, and their trees are part of it.

    Raises:
        FileError: there is no such folder, or no tree in it.
    """
    if not folder.is_dir():
        raise FileError(f"{folder} is not a folder of trees.")
    layers = [*below, folder]
    library, problems = load_library(layers)
    if not library.trees and not problems:
        raise FileError(f"There is no tree in {folder}: a tree is a file that ends in .yaml.")
    files = Shelf(layers).calls
    calls: dict[str, tuple[ExampleCall, ...]] = {}
    for name in library.trees:
        calls[name], found = read_calls(files[name]) if name in files else ((), [])
        problems.extend(found)
    return Edition(folder, library, calls, tuple(sorted(problems)))


def compare(
    old: Edition,
    new: Edition,
    stored: Iterable[StoredCall] = (),
    system: UnitSystem = "us",
    progress: Callable[[str], None] = lambda tree: None,
) -> FolderComparison:
    """Compare two states of a folder over their example calls and the calls of a record.

    `progress` is told the name of each tree whose calls are walked, which may take a second for thirty calls.
    """
    edited = tuple(catalogue_edits(old.library.catalogue, new.library.catalogue))
    by_tree: dict[str | None, list[StoredCall]] = {}
    for call in stored:
        by_tree.setdefault(call.tree, []).append(call)
    both = [(old.library.trees[name], tree) for name, tree in new.library.trees.items() if name in old.library.trees]
    edits = {now.name: tree_edits(then, now) for then, now in both}
    renamed = {name: found.renamed for name, found in edits.items()}
    trees: list[TreeComparison] = []
    for then, now in both:
        calls = list(_examples(old.calls.get(now.name, ()), new.calls.get(now.name, ())))
        kept = by_tree.get(now.name, [])
        changes: list[CallChange] = []
        # The same trees over the same catalogue walk the same way: a walk is a pure function of them.
        if _files(then) != _files(now) or any(_touches(edit, now) for edit in edited):
            progress(now.name)
            pair = _Pair(old.library, new.library, now.name, new_names(then, renamed), system)
            changes.extend(pair.changes(calls, kept))
        elsewhere = tuple(change for change in changes if change.is_elsewhere)
        other_way = tuple(change for change in changes if not change.is_elsewhere)
        trees.append(TreeComparison(now.name, edits[now.name], len(calls), len(kept), elsewhere, other_way))
    return FolderComparison(
        tuple(trees),
        tuple(
            GoneTree(name, len(old.calls.get(name, ())), len(by_tree.get(name, ())))
            for name in old.library.trees
            if name not in new.library.trees
        ),
        tuple(name for name in new.library.trees if name not in old.library.trees),
        edited,
    )


@dataclass(frozen=True)
class _Pair:
    """One tree in two libraries; `names` are the new names of its nodes."""

    old: Library
    new: Library
    tree: str
    names: Mapping[str, str]
    system: UnitSystem

    def changes(self, examples: Iterable[_Example], stored: Iterable[StoredCall]) -> Iterator[CallChange]:
        """Yield the calls that go another way."""
        back = {now: then for then, now in self.names.items()}
        for example in examples:
            then = walk_by_name(self.old, self.tree, carry_over_texts(example.given, back), self.system)
            now = walk_by_name(self.new, self.tree, carry_over_texts(example.given, self.names), self.system)
            yield from self._change(example.name, then, now, example.must_reach, is_stored=False)
        for call in stored:
            before = read_all_written(call.answers, self.old.catalogue, self.system)
            after = read_all_written(call.answers, self.new.catalogue, self.system)
            then = walk(self.old, before, self.system)
            now = walk(self.new, carry_over(after, self.old.tree(self.tree), self.names), self.system)
            yield from self._change(f"{call.number}: {shorten(call.title, 40)}", then, now, None, is_stored=True)

    def _change(
        self, call: str, old: Conversation, new: Conversation, must_reach: str | None, *, is_stored: bool
    ) -> Iterator[CallChange]:
        parted = parting(old, new, self.names)
        then, now = end_of(old), end_of(new)
        is_elsewhere = not same_end(then, now, self.names)
        if parted is None and not is_elsewhere:
            return
        unused = {answer.key for answer in carry_over(old.unused, self.old.tree(self.tree), self.names)}
        dropped = tuple(dict.fromkeys(answer.name for answer in new.unused if answer.key not in unused))
        yield CallChange(call, is_stored, is_elsewhere, then, now, parted, must_reach, dropped)


def _touches(edit: EntryEdit, tree: Tree) -> bool:
    """Tell whether an edit of the catalogue may matter to the walk of a tree; a limit does only where it is named."""
    return edit.sort != "limit" or edit.name in limits_of(tree)


def _files(tree: Tree) -> dict[str, bytes]:
    """Return the files that a tree is written in, by name: its own, and those of the trees that it uses."""
    paths = {tree.path, *(node.place.path for node in tree.nodes.values())}
    return {Path(path).name: Path(path).read_bytes() for path in paths}


def _examples(old: Sequence[ExampleCall], new: Sequence[ExampleCall]) -> Iterator[_Example]:
    """Every example call with its answers; one whose answers were edited is walked with the old and the new ones."""
    before = {call.name: call for call in old}
    for call in new:
        given, was = call.given.texts(), before.pop(call.name, None)
        if was is not None and was.given.texts() != given:
            yield _Example(f"{call.name} (old answers)", was.given.texts(), None)
            yield _Example(f"{call.name} (new answers)", given, call.reaches.text)
        else:
            yield _Example(call.name, given, call.reaches.text)
    for call in before.values():
        yield _Example(f"{call.name} (no longer in the file)", call.given.texts(), None)
