"""Example calls beside a tree, and files of answers for a single call; every name and answer keeps its place."""

from collections.abc import Mapping as MappingOf
from dataclasses import dataclass
from pathlib import Path

from assistant.source.nodes import Mapping, Node, Scalar, Sequence, read
from assistant.source.problem import Place, Problem
from assistant.tree import keys
from assistant.tree.fields import Fields
from assistant.tree.model import Named
from assistant.tree.wording import (
    not_a_call,
    not_a_calls_file,
    not_an_earlier_call,
    not_by_name,
    wrong_item,
    wrong_value,
)

ENDING = ".calls.yaml"
"""How the name of a file of example calls ends: `poor_cooling.calls.yaml` stands beside `poor_cooling.yaml`."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What is answered under one name; several texts are successive measurements."""

    name: Named
    texts: tuple[Named, ...]


@dataclass(frozen=True, slots=True)
class Answers:
    """Facts and answers by name, as typed."""

    facts: MappingOf[str, Answer]
    answers: MappingOf[str, Answer]

    def texts(self) -> dict[str, tuple[str, ...]]:
        """Facts and answers as typed, by name."""
        both = {**self.facts, **self.answers}
        return {name: tuple(text.text for text in answer.texts) for name, answer in both.items()}


@dataclass(frozen=True, slots=True)
class ExampleCall:
    """Stored answers with the end that they must reach: a cause, `no_fault` or `undecided`, and `at` which node.

    `own` is what stands in the call itself, `given` is with all that the call which it is `like` gives.
    """

    name: str
    own: Answers
    given: Answers
    reaches: Named
    at: Named | None
    place: Place

    @property
    def facts(self) -> MappingOf[str, str]:
        """The facts as typed."""
        return {name: answer.texts[0].text for name, answer in self.given.facts.items()}

    @property
    def answers(self) -> MappingOf[str, tuple[str, ...]]:
        """The answers as typed, by name."""
        return {name: tuple(text.text for text in answer.texts) for name, answer in self.given.answers.items()}


def read_calls(path: Path) -> tuple[tuple[ExampleCall, ...], list[Problem]]:
    """Read a file of example calls. Never raises."""
    root, problems = read(path)
    return build_calls(root, str(path), problems)


def build_calls(root: Node | None, path: str, problems: list[Problem]) -> tuple[tuple[ExampleCall, ...], list[Problem]]:
    """Build example calls from nodes; `problems` of reading them are handed on in front of those found here."""
    found = list(problems)
    if root is None:
        return (), found
    if not isinstance(root, Mapping) or not root.entries:
        return (), [*found, not_a_calls_file(root)]
    fields = Fields(root, Place(path), "a file of example calls", found)
    fields.only(keys.CALLS, keys.CALLS)
    calls: list[ExampleCall] = []
    for item in fields.items("calls"):
        call = _call(item, calls, found)
        if call is not None:
            calls.append(call)
    return tuple(calls), found


def read_answers(path: Path) -> tuple[Answers, list[Problem]]:
    """Read a file with `facts:` and `answers:` of one call. Never raises."""
    root, problems = read(path)
    if root is None:
        return Answers({}, {}), problems
    found = list(problems)
    if not isinstance(root, Mapping) or not root.entries:
        return Answers({}, {}), [*found, not_a_calls_file(root)]
    fields = Fields(root, Place(str(path)), "a file of answers", found)
    fields.only(keys.ANSWERS)
    return _given(fields), found


def _call(item: Node, earlier: list[ExampleCall], problems: list[Problem]) -> ExampleCall | None:
    if not isinstance(item, Mapping) or not item.entries:
        problems.append(not_a_call(item))
        return None
    first = item.entries[0][0].mark
    fields = Fields(item, first, "an example call", problems)
    fields.only(keys.CALL, keys.CALL_REQUIRED)
    own = _given(fields)
    given = _with_those_of(fields, own, earlier)
    at = fields.named("at") if fields.scalar("at") else None
    return ExampleCall(fields.text("name") or "", own, given, fields.named("reaches"), at, first)


def _with_those_of(fields: Fields, own: Answers, earlier: list[ExampleCall]) -> Answers:
    """Give what a call answers together with what the call which it is like answers."""
    like = fields.scalar("like")
    if like is None:
        return own
    name = like.text.strip()
    base = next((call.given for call in earlier if call.name == name), None)
    if base is None:
        fields.problems.append(not_an_earlier_call(like, [call.name for call in earlier]))
        return own
    return Answers({**base.facts, **own.facts}, {**base.answers, **own.answers})


def _given(fields: Fields) -> Answers:
    return Answers(_by_name(fields, "facts", lists=False), _by_name(fields, "answers", lists=True))


def _by_name(fields: Fields, part: str, *, lists: bool) -> dict[str, Answer]:
    value = fields.mapping.get(part)
    # A call may well have nothing to answer: everything is then "cannot tell".
    if value is None or (isinstance(value, Mapping) and not value.entries):
        return {}
    if not isinstance(value, Mapping):
        key = fields.mapping.key(part)
        fields.problems.append(not_by_name(part, value, value.mark if key is None else key.mark))
        return {}
    found: dict[str, Answer] = {}
    for key, given in value.entries:
        texts = _texts(key, given, fields.problems, lists=lists)
        if texts:
            found[key.text] = Answer(Named(key.text, key.mark), texts)
    return found


def _texts(key: Scalar, given: Node, problems: list[Problem], *, lists: bool) -> tuple[Named, ...]:
    if isinstance(given, Sequence) and given.items and lists:
        good = [item for item in given.items if isinstance(item, Scalar) and item.text.strip()]
        problems.extend(wrong_item(key.text, item) for item in given.items if item not in good)
        return tuple(Named(item.text.strip(), item.mark) for item in good)
    if isinstance(given, Scalar) and given.text.strip():
        return (Named(given.text.strip(), given.mark),)
    problems.append(wrong_value(key.text, given, key.mark))
    return ()
