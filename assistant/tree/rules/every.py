"""The rules for a finished tree, one matter per module; each gives problems and knows nothing of the others.

A rule is a function `check(tree, vocabulary)` that yields problems. It must hold its tongue about what another rule
or the reader has reported: a name that is empty was missing, a condition that is unreadable was reported.
`RULES` look at a tree as it was written, `WHOLE` at the tree with those that it uses linked in: what they are about
(what surely happened before, what uses an answer, what goes round) does not end where another tree begins.
What only `NOTES` give is nothing to be mended; their codes begin with `note-`.
"""

from collections.abc import Callable, Iterator

from assistant.source.problem import Problem
from assistant.tree.model import Tree
from assistant.tree.rules import (
    actions,
    cautions,
    changes,
    clashes,
    close_calls,
    conditions,
    decisions,
    derived,
    doubles,
    endless,
    ends,
    files,
    idle,
    names,
    never,
    notes,
    totality,
    unreached,
    unused,
)
from assistant.tree.vocabulary import Vocabulary

Rule = Callable[[Tree, Vocabulary], Iterator[Problem]]

RULES: tuple[Rule, ...] = (
    files.check,
    names.check,
    clashes.check,
    derived.check,
    conditions.check,
    decisions.check,
    totality.check,
    never.check,
    doubles.check,
    unreached.check,
    actions.check,
)

WHOLE: tuple[Rule, ...] = (
    ends.check,
    endless.check,
    changes.check,
    cautions.check,
    close_calls.check,
    unused.check,
)

NOTES: tuple[Rule, ...] = (notes.check, idle.check)
