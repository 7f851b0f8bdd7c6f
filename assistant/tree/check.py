"""Everything that is wrong with a tree file, a file of example calls, or a folder of both, at once."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from assistant.source.nodes import read
from assistant.source.problem import Place, Problem
from assistant.tree.calls_check import check_calls
from assistant.tree.examples import ENDING, build_calls
from assistant.tree.model import Tree
from assistant.tree.reader import build_tree
from assistant.tree.rules import NOTES, RULES
from assistant.tree.shape import check_shape
from assistant.tree.vocabulary import Vocabulary


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
    return review_folder(folder, vocabulary).problems


def check_tree(tree: Tree, vocabulary: Vocabulary) -> list[Problem]:
    """Apply every rule to a tree that has been read."""
    return _sorted(problem for rule in RULES for problem in rule(tree, vocabulary))


def notes_on(tree: Tree, vocabulary: Vocabulary) -> list[Problem]:
    """Give what is only to be noted about a tree that has been read."""
    return _sorted(note for rule in NOTES for note in rule(tree, vocabulary))


def review_file(path: Path, vocabulary: Vocabulary) -> Review:
    """Check one file, and note what there is to note."""
    if path.name.endswith(ENDING):
        beside = path.with_name(path.name.removesuffix(ENDING) + ".yaml")
        tree, _ = _read_tree(beside) if beside.exists() else (None, [])
        return Review(_sorted(_check_calls(path, tree, vocabulary)))
    tree, problems = _read_tree(path)
    if tree is None:
        return Review(_sorted(problems))
    return Review(_sorted([*problems, *check_tree(tree, vocabulary)]), notes_on(tree, vocabulary), (tree,))


def review_folder(folder: Path, vocabulary: Vocabulary) -> Review:
    """Check every tree and every file of example calls that lies directly in a folder, and note what there is."""
    try:
        paths = sorted(path for path in folder.iterdir() if path.is_file())
    except OSError as error:
        return Review([Problem("file-unreadable", Place(str(folder)), f"the folder cannot be read: {error.strerror}")])
    problems: list[Problem] = []
    notes: list[Problem] = []
    trees: dict[str, Tree | None] = {}
    for path in paths:
        if path.suffix == ".yml":
            message = "a file that ends in .yml is not read as a tree"
            problems.append(Problem("file-ending", Place(str(path)), message, f"rename it to {path.stem}.yaml"))
        elif path.suffix == ".yaml" and not path.name.endswith(ENDING):
            review = review_file(path, vocabulary)
            trees[path.name] = next(iter(review.trees), None)
            problems.extend(review.problems)
            notes.extend(review.notes)
    for path in paths:
        if path.name.endswith(ENDING):
            beside = path.name.removesuffix(ENDING) + ".yaml"
            if beside not in trees:
                message = f"these example calls belong to {beside}, which is not here"
                problems.append(Problem("call-no-tree", Place(str(path)), message, "rename the file as its tree"))
            problems.extend(_check_calls(path, trees.get(beside), vocabulary))
    return Review(_sorted(problems), _sorted(notes), tuple(tree for tree in trees.values() if tree is not None))


def _read_tree(path: Path) -> tuple[Tree | None, list[Problem]]:
    root, problems = read(path)
    tree, found = build_tree(root, str(path), problems)
    # Reader and schema are held to the same verdicts, so the slower of the two is asked only about what has mistakes.
    return tree, [*found, *check_shape(root, "tree")] if root is not None and found else found


def _check_calls(path: Path, tree: Tree | None, vocabulary: Vocabulary) -> list[Problem]:
    root, problems = read(path)
    if root is not None:
        problems = [*problems, *check_shape(root, "calls")]
    calls, found = build_calls(root, str(path), problems)
    return [*found, *check_calls(calls, tree, vocabulary)]


def _sorted(problems: Iterable[Problem]) -> list[Problem]:
    """Give problems in order of the file, each once: the reader and the shape pass find the same mistakes."""
    return sorted(dict.fromkeys(problems))
