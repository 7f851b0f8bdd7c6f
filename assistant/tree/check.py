"""Everything that is wrong with a tree file, a file of example calls, or folders of both, at once."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from assistant.source.nodes import read
from assistant.source.problem import Place, Problem
from assistant.tree.calls_check import check_calls
from assistant.tree.examples import ENDING, build_calls
from assistant.tree.linking import link
from assistant.tree.model import Tree
from assistant.tree.reader import build_tree
from assistant.tree.rules import uses
from assistant.tree.rules.every import NOTES, RULES, WHOLE
from assistant.tree.schema import look_again
from assistant.tree.shelf import Shelf
from assistant.tree.vocabulary import Vocabulary
from assistant.uncollected import uncollected

_NONE: Mapping[str, Tree] = {}


@dataclass(frozen=True)
class Review:
    """What there is to say about a file or folder: what must be mended, what is only noted, and the trees in it."""

    problems: list[Problem] = field(default_factory=list)
    notes: list[Problem] = field(default_factory=list)
    trees: tuple[Tree, ...] = ()


def check_file(path: Path, vocabulary: Vocabulary) -> list[Problem]:
    """Check one file: a tree, or example calls together with the tree beside them."""
    return review_file(path, vocabulary).problems


def check_folder(folder: Path, vocabulary: Vocabulary) -> list[Problem]:
    """Check every tree and every file of example calls that lies directly in a folder."""
    return review_folders([folder], vocabulary).problems


def check_tree(
    tree: Tree, vocabulary: Vocabulary, trees: Mapping[str, Tree] = _NONE, linked: dict[str, Tree] | None = None
) -> list[Problem]:
    """Apply every rule to a tree that has been read; `trees` are those that it may use, as they were read.

    Who checks many of them hands in `linked`, so that each is linked once.
    """
    done: dict[str, Tree] = {} if linked is None else linked
    found = [problem for rule in RULES for problem in rule(tree, vocabulary)]
    found.extend(uses.check(tree, trees, done))
    whole = link(tree, trees, done)
    if whole is not None:
        # What is wrong inside of a used tree is told where that tree is checked.
        told = (problem for rule in WHOLE for problem in rule(whole, vocabulary))
        found.extend(problem for problem in told if problem.place.path == tree.path)
    return _sorted(found)


def notes_on(tree: Tree, vocabulary: Vocabulary) -> list[Problem]:
    """Give what is only to be noted about a tree that has been read."""
    return _sorted(note for rule in NOTES for note in rule(tree, vocabulary))


@uncollected()
def review_file(path: Path, vocabulary: Vocabulary, folders: Sequence[Path] = (), shelf: Shelf | None = None) -> Review:
    """Check one file, and note what there is to note; it may use the trees of some folders, else those beside it.

    Who has these trees on a shelf already hands that in, so that no file is read twice.
    """
    if shelf is None:
        shelf = Shelf(folders or [path.parent])
    if path.name.endswith(ENDING):
        name = path.name.removesuffix(ENDING)
        return Review(_sorted(_check_calls(path, _linked(name, shelf), vocabulary)))
    return _review_tree(path, vocabulary, shelf)


@uncollected()
def review_folders(folders: Sequence[Path], vocabulary: Vocabulary) -> Review:
    """Check every tree and every file of example calls that lies directly in a folder, and note what there is.

    What has the same name in two of the folders counts as it is in the later one.
    """
    problems: list[Problem] = []
    notes: list[Problem] = []
    trees: list[Tree] = []
    calls: dict[str, Path] = {}
    for folder in folders:
        try:
            paths = sorted(path for path in folder.iterdir() if path.is_file())
        except OSError as error:
            place = Place(str(folder))
            return Review([Problem("file-unreadable", place, f"the folder cannot be read: {error.strerror}")])
        problems.extend(_other_endings(paths))
        calls |= {path.name.removesuffix(ENDING): path for path in paths if path.name.endswith(ENDING)}
    shelf = Shelf(folders)
    for path in shelf.files.values():
        review = _review_tree(path, vocabulary, shelf)
        trees.extend(review.trees)
        problems.extend(review.problems)
        notes.extend(review.notes)
    for name, path in calls.items():
        if name not in shelf:
            message = f"these example calls belong to {name}.yaml, which is not here"
            problems.append(Problem("call-no-tree", Place(str(path)), message, "rename the file as its tree"))
        problems.extend(_check_calls(path, _linked(name, shelf), vocabulary))
    return Review(_sorted(problems), _sorted(notes), tuple(trees))


def _other_endings(paths: Iterable[Path]) -> Iterator[Problem]:
    for path in paths:
        if path.suffix == ".yml":
            message = "a file that ends in .yml is not read as a tree"
            yield Problem("file-ending", Place(str(path)), message, f"rename it to {path.stem}.yaml")


def _review_tree(path: Path, vocabulary: Vocabulary, shelf: Shelf) -> Review:
    if shelf.files.get(path.stem) == path:
        tree, problems = shelf.read(path.stem)
        root = shelf.roots[path.stem]
    else:
        root, problems = read(path)
        tree, problems = build_tree(root, str(path), problems)
    if root is not None and not problems:
        problems = look_again(root, "tree")
    if tree is None:
        return Review(_sorted(problems))
    found = check_tree(tree, vocabulary, shelf, shelf.linked)
    return Review(_sorted([*problems, *found]), notes_on(tree, vocabulary), (tree,))


def _linked(name: str, shelf: Shelf) -> Tree | None:
    """Give a tree as a call walks it; as it was written where it cannot be linked."""
    tree = shelf.get(name)
    return None if tree is None else link(tree, shelf, shelf.linked) or tree


def _check_calls(path: Path, tree: Tree | None, vocabulary: Vocabulary) -> list[Problem]:
    root, problems = read(path)
    calls, found = build_calls(root, str(path), problems)
    if root is not None and not found:
        found = look_again(root, "calls")
    return [*found, *check_calls(calls, tree, vocabulary)]


def _sorted(problems: Iterable[Problem]) -> list[Problem]:
    """Give problems in order of the file, each once."""
    return sorted(dict.fromkeys(problems))
