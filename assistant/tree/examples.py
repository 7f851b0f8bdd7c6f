"""Example calls beside a tree, and files of answers for a single call; every name and answer keeps its place."""

from collections.abc import Mapping as MappingOf
from pathlib import Path

from assistant.frozen import dataclass
from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping, Node, Scalar, read
from assistant.source.problem import Place, Problem, shorten
from assistant.source.shape import find_mistakes
from assistant.tree import keys
from assistant.tree.model import Named

ENDING = ".calls.yaml"
"""How the name of a file of example calls ends: `poor_cooling.calls.yaml` stands beside `poor_cooling.yaml`."""


@dataclass(frozen=True, slots=True)
class NamedAnswer:
    """What is answered under one name; several texts are successive measurements."""

    name: Named
    texts: tuple[Named, ...]


@dataclass(frozen=True, slots=True)
class Answers:
    """Facts and answers by name, as typed."""

    facts: MappingOf[str, NamedAnswer]
    answers: MappingOf[str, NamedAnswer]

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
    if root is None:
        return (), problems
    found = [*problems, *find_mistakes(root, keys.CALLS)]
    calls: list[ExampleCall] = []
    for item in root.items("calls") if isinstance(root, Mapping) else ():
        if isinstance(item, Mapping) and item.entries:
            calls.append(_call(item, calls, found))
    return tuple(calls), found


def read_answers(path: Path) -> tuple[Answers, list[Problem]]:
    """Read a file with `facts:` and `answers:` of one call. Never raises."""
    root, problems = read(path)
    if root is None:
        return Answers({}, {}), problems
    given = _given(root) if isinstance(root, Mapping) else Answers({}, {})
    return given, [*problems, *find_mistakes(root, keys.ANSWERS)]


def _call(item: Mapping, earlier: list[ExampleCall], problems: list[Problem]) -> ExampleCall:
    first, own = item.entries[0][0].mark, _given(item)
    given = _with_those_of(item, own, earlier, problems)
    reaches = _named(item, "reaches") or Named("", first)
    return ExampleCall(item.text("name"), own, given, reaches, _named(item, "at"), first)


def _named(item: Mapping, name: str) -> Named | None:
    scalar = item.scalar(name)
    return None if scalar is None else Named(scalar.text, scalar.mark)


def _with_those_of(item: Mapping, own: Answers, earlier: list[ExampleCall], problems: list[Problem]) -> Answers:
    """Return what a call answers together with what the call which it is like answers."""
    like = item.scalar("like")
    if like is None:
        return own
    name = like.text.strip()
    base = next((call.given for call in earlier if call.name == name), None)
    if base is None:
        near = nearest(name, [call.name for call in earlier], 1)
        message = f'no call in front of this one is called "{shorten(name, 40)}"'
        problems.append(Problem("call-like", like.mark, message, f"write: {near[0]}" if near else None))
        return own
    return Answers({**base.facts, **own.facts}, {**base.answers, **own.answers})


def _given(mapping: Mapping) -> Answers:
    facts, answers = mapping.inside("facts"), mapping.inside("answers")
    return Answers(
        {key.text: _answer(key, (given,)) for key, _ in facts.entries if (given := facts.scalar(key.text)) is not None},
        {key.text: _answer(key, found) for key, _ in answers.entries if (found := answers.scalars(key.text))},
    )


def _answer(name: Scalar, texts: tuple[Scalar, ...]) -> NamedAnswer:
    return NamedAnswer(Named(name.text, name.mark), tuple(Named(text.text.strip(), text.mark) for text in texts))
