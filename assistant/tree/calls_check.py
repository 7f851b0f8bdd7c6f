"""Checks of example calls: names, answers and ends, against the vocabulary and the tree beside them."""

from collections.abc import Iterator

from assistant.errors import QuantityError
from assistant.quantity import parse
from assistant.source.nearest import nearest
from assistant.source.problem import Problem, shorten
from assistant.tree.examples import Answers, ExampleCall, NamedAnswer
from assistant.tree.linking import SEPARATOR
from assistant.tree.model import CauseLeaf, Named, NoFaultLeaf, Step, Tree, UndecidedLeaf, Use
from assistant.tree.vocabulary import Sort, Vocabulary

CANNOT_TELL = "cannot tell"
DONE = "done"
CANNOT_DO = "cannot do"

_GIVEN: tuple[Sort, ...] = ("reading", "observation")


def check_calls(calls: tuple[ExampleCall, ...], tree: Tree | None, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check example calls; without a tree, only what the vocabulary knows."""
    seen: dict[str, ExampleCall] = {}
    for call in calls:
        first = seen.setdefault(call.name, call)
        if call.name and first is not call:
            message = f"a call of this name is on line {first.place.line}"
            yield Problem("call-repeat", call.place, message, "give each call a name of its own")
        yield from check_answers(call.own, tree, vocabulary)
        yield from _end(call.reaches, tree, vocabulary)
        if tree is not None and call.at is not None:
            yield from _end_node(call.at, tree)


def check_answers(given: Answers, tree: Tree | None, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Check the names and values of facts and answers."""
    for answer in given.facts.values():
        if answer.name.text not in vocabulary.names("fact"):
            yield _unknown(answer.name, "system fact", list(vocabulary.names("fact")))
        else:
            yield from _values(answer, vocabulary)
    steps = {name: node for name, node in tree.nodes.items() if isinstance(node, Step)} if tree else {}
    for answer in given.answers.values():
        name = answer.name.text
        if any(name in vocabulary.names(sort) for sort in (*_GIVEN, "fact")):
            yield from _values(answer, vocabulary)
        elif name in steps:
            yield from _action(answer, steps[name])
        elif vocabulary.sort_of(name) == "number":
            message = f'"{shorten(name, 40)}" is worked out from readings, so it is never answered'
            yield Problem("name-sort", answer.name.place, message, "give the readings that it needs")
        elif tree is not None:
            known = [other for sort in _GIVEN for other in vocabulary.names(sort)]
            yield _unknown(answer.name, "reading, observation or step", [*known, *steps])


def _values(answer: NamedAnswer, vocabulary: Vocabulary) -> Iterator[Problem]:
    name = answer.name.text
    kind = vocabulary.kind_of(name)
    choices = vocabulary.choices_of(name)
    for given in answer.texts:
        if given.text == CANNOT_TELL:
            continue
        if kind is not None:
            try:
                parse(given.text, kind)
            except QuantityError as error:
                yield Problem("kind-value", given.place, f"{name}: {error}")
        elif choices is not None and given.text not in choices:
            near = nearest(given.text, choices, 1)
            message = f'"{shorten(given.text, 40)}" is not a choice of {name}; its choices are {", ".join(choices)}'
            yield Problem("name-choice", given.place, message, f"write: {near[0]}" if near else None)


def _action(answer: NamedAnswer, step: Step) -> Iterator[Problem]:
    if not step.do:
        message = f'the step "{step.name}" has nothing to do, so it is not answered'
        yield Problem("call-step", answer.name.place, message, "answer the readings and observations by their names")
        return
    for given in answer.texts:
        if given.text not in (DONE, CANNOT_DO):
            message = f'a step is answered with "{DONE}" or "{CANNOT_DO}"'
            yield Problem("call-step", given.place, message, f"write: {CANNOT_DO}")


def _end(reaches: Named, tree: Tree | None, vocabulary: Vocabulary) -> Iterator[Problem]:
    ends = ("no_fault", "undecided")
    if not reaches.text:
        return
    if reaches.text not in ends and reaches.text not in vocabulary.names("cause"):
        yield _unknown(reaches, "cause", [*vocabulary.names("cause"), *ends])
    elif tree is not None and reaches.text not in _ends_of(tree):
        yield Problem("call-end", reaches.place, f'no leaf of the tree "{tree.name}" ends in "{reaches.text}"')


def _end_node(at: Named, tree: Tree) -> Iterator[Problem]:
    ends = [name for name, node in tree.nodes.items() if not isinstance(node, Step | Use)]
    outer, _, inner = at.text.partition(SEPARATOR)
    if at.text in ends or (inner and isinstance(tree.nodes.get(outer), Use)):
        return
    near = nearest(at.text, ends, 1)
    message = f'no leaf of the tree "{tree.name}" is called "{shorten(at.text, 40)}"'
    yield Problem("call-end", at.place, message, f"write: {near[0]}" if near else None)


def _ends_of(tree: Tree) -> set[str]:
    ends = set()
    for node in tree.nodes.values():
        match node:
            case CauseLeaf():
                ends.add(node.cause.text)
            case NoFaultLeaf():
                ends.add("no_fault")
            case UndecidedLeaf():
                ends.add("undecided")
            case Step() | Use():
                pass
    return ends


def _unknown(name: Named, what: str, known: list[str]) -> Problem:
    near = nearest(name.text, known)
    hint = f"write: {' or '.join(near)}" if near else None
    return Problem("name-unknown", name.place, f'there is no {what} called "{shorten(name.text, 40)}"', hint)
