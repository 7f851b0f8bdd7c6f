"""A call as a file: its answers in order, and what is around them.

The conversation is not in the file, because it follows from the answers. A replay walks them again.

::

    call: The bulb has lost its charge
    story: ...
    begun: 2026-07-14T08:05:00+00:00
    answers:
      - complaint: not cooling enough
        answered at: 2026-07-14T08:05:12+00:00
      - suction_pressure: 73 psig
      - act: done
        at: valve_bench warm_bulb warm_bulb
    notes:
      - note: photo IMG_0231.jpg shows the bulb
        written at: 2026-07-14T09:10:00+00:00

Only `answers` must be there. An entry of the catalogue is answered by its name. What belongs to a node tells the tree
and the node below, and for an `act` its name: `act`, `settle`, `close_call` and `check_out` with the answer, `caution`
with the one that was read. `as number: 2` below an answer says that it is the second of its kind where the first was
taken back. `tried` may list what was tried with the word `if` at the end, which is no part of the call.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Final

from assistant.call.answers import UNDERSTOOD, Written
from assistant.call.keys import NodeAt, PromptKey, Topic
from assistant.call.replies import LONGEST_REPLY
from assistant.errors import FileError
from assistant.source.keys import ByName, Key, KeyTable, Listed, Text, Texts
from assistant.source.nodes import Mapping as Keys
from assistant.source.nodes import Node, Scalar, read
from assistant.source.problem import Problem, render
from assistant.source.shape import find_mistakes
from assistant.store.earlier import written_earlier
from assistant.store.store import Note
from assistant.store.times import time_in_file

_AT: Final = "answered at"
_NUMBER: Final = "as number"
_PLACE: Final = "at"
_PLACED: Final = frozenset({Topic.ACT, Topic.SETTLE, Topic.CLOSE_CALL, Topic.CHECK_OUT, Topic.CAUTION})
_WRITTEN: Final = "written at"
_TIME: Final = "2026-07-14T08:05:00+00:00"
_LONGEST_NAME: Final = 200
_MOST_TIMES: Final = 1000


_NOTE: Final = KeyTable(
    "a note",
    {
        "note": Key(Text(empty=True, longest=LONGEST_REPLY), "What was noted beside the call.", needed=True),
        _WRITTEN: Key(Text(), "When.", needed=True, examples=(_TIME,)),
    },
    f"write: - note: text, with {_WRITTEN}: {_TIME} below it",
)
_LINE: Final = Text(empty=True)
_CALL: Final = KeyTable(
    "a call",
    {
        "call": Key(_LINE, "Its title."),
        "story": Key(_LINE, "What happened around it."),
        "begun": Key(Text(), "When it was begun.", examples=(_TIME,)),
        "trees": Key(_LINE, "The versions of the trees with which the last answer was given."),
        "ending": Key(_LINE, "How it ended then."),
        "answers": Key(
            Listed(ByName(Text(empty=True), least=1), least=0),
            "Its answers in order, each one name and one text, and perhaps when it was given.",
            needed=True,
            write="answers:, and below it - name: text",
        ),
        "tried": Key(
            Texts(least=0, longest=LONGEST_REPLY),
            "What was tried with the word if at the end.",
            write="tried:, and below it - suction_pressure 130 psig",
        ),
        "notes": Key(Listed(_NOTE, least=0), "Notes beside the call.", write="notes:, and below it - note: text"),
    },
    "write: answers:, and below it - name: text",
)


@dataclass(frozen=True, slots=True)
class Transcript:
    """A call to be replayed or kept: a title, what happened around it, and its answers in order.

    `times` tells by name and number when answers were given, as far as it is known; `trees` the versions of the trees
    with which the last one was, `ending` how it ended then; `tried` what was tried with other values at the end.
    """

    title: str
    story: str
    answers: tuple[Written, ...]
    begun: datetime | None = None
    times: Mapping[PromptKey, datetime] = field(default_factory=dict)
    notes: tuple[Note, ...] = ()
    trees: str = ""
    ending: str = ""
    tried: tuple[str, ...] = ()


def read_transcript(path: Path) -> Transcript:
    """Read a call from a file.

    Raises:
        FileError: it cannot be read, or is no call; every mistake is in the message.
    """
    root, problems = read(path)
    reader = _Reader(path, list(problems))
    transcript = reader.transcript(root) if root is not None else None
    if reader.problems or transcript is None:
        raise FileError("\n".join(map(render, sorted(reader.problems))) or f"{path} holds no call.")
    return transcript


@dataclass
class _Reader:
    path: Path
    problems: list[Problem]

    def wrong(self, code: str, node: Node, message: str, hint: str) -> None:
        self.problems.append(Problem(code, node.mark, message, hint))

    def transcript(self, root: Node) -> Transcript | None:
        self.problems.extend(find_mistakes(root, _CALL))
        if not isinstance(root, Keys):
            return None
        times: dict[PromptKey, datetime] = {}
        return Transcript(
            root.line("call"),
            root.line("story"),
            tuple(self.answers(root.items("answers"), times)),
            self.time(root.get("begun")),
            times,
            tuple(self.notes(root.items("notes"))),
            root.line("trees"),
            root.line("ending"),
            tuple(text.text for text in root.scalars("tried")),
        )

    def time(self, node: Node | None) -> datetime | None:
        if node is None:
            return None
        time = time_in_file(node.text) if isinstance(node, Scalar) else None
        if time is None:
            message = "this is no time with a zone in which a call could be"
            self.wrong("shape-time", node, message, f"write it like {_TIME}, or delete it")
        return time

    def answers(self, items: Sequence[Node], times: dict[PromptKey, datetime]) -> Iterator[Written]:
        given: set[PromptKey] = set()
        counts: dict[PromptKey, int] = {}
        for item in items:
            entries = item.entries if isinstance(item, Keys) else ()
            if not entries or not isinstance(entries[0][1], Scalar):
                continue
            more = {key.text: value for key, value in entries[1:]}
            if more.keys() - {_AT, _NUMBER, _PLACE}:
                self.wrong("shape-answer", item, "an answer is one name and one text", "- name: text")
                continue
            name, text = entries[0][0].text, entries[0][1].text
            if len(text) > LONGEST_REPLY or len(name) > _LONGEST_NAME:
                self.wrong(
                    "shape-answer", entries[0][1], f"an answer has up to {LONGEST_REPLY} characters", "shorten it"
                )
                continue
            written = self.read_written(entries[0][0], text, more.get(_PLACE))
            if written is None:
                continue
            first = written.key
            written = Written(first.numbered(self.number(more.get(_NUMBER), counts.get(first, 0) + 1)), written.text)
            key = written.key
            if key in given:
                self.wrong(
                    "shape-answer", item, f'"{name}" has its answer number {key.nth} already', "keep one of them"
                )
                continue
            given.add(key)
            counts[first] = key.nth
            time = self.time(more.get(_AT))
            if time is not None:
                times[key] = time
            yield written

    def read_written(self, name: Scalar, text: str, place: Node | None) -> Written | None:
        """An answer with its key as for the first time."""
        if place is None:
            # Earlier formats spelled what belongs to a node as one name.
            return written_earlier(name.text, 1, text)
        words = place.text.split() if isinstance(place, Scalar) else []
        topic = next((topic for topic in _PLACED if topic.value == name.text), None)
        if topic is None or len(words) not in ((1, 2, 3) if topic is Topic.ACT else (1, 2)):
            hint = f"- act: done, and below it: {_PLACE}: valve_bench warm_bulb"
            self.wrong("shape-answer", place, f'"{_PLACE}" tells the tree and the node of an answer', hint)
            return None
        tree, node = words[:2] if words[1:] else ("", words[0])
        at = NodeAt(tree, node)
        if topic is Topic.CAUTION:
            return Written(PromptKey(topic, text, at), UNDERSTOOD)
        return Written(PromptKey(topic, words[2] if words[2:] else "", at), text)

    def number(self, node: Node | None, usual: int) -> int:
        if node is None:
            return usual
        if isinstance(node, Scalar) and node.text.isdecimal() and 1 <= int(node.text[:6]) <= _MOST_TIMES:
            return int(node.text[:6])
        self.wrong("shape-answer", node, "this is no number of an answer", f"{_NUMBER}: 2")
        return usual

    def notes(self, items: Sequence[Node]) -> Iterator[Note]:
        for item in items:
            if isinstance(item, Keys):
                text, time = item.get("note"), self.time(item.get(_WRITTEN))
                if isinstance(text, Scalar) and time is not None:
                    yield Note(time, text.text)


def transcript_text(transcript: Transcript) -> str:
    """The file of a call; reading it gives the call again."""
    lines = [f"call: {quoted(transcript.title)}"]
    lines += [f"story: {quoted(transcript.story)}"] if transcript.story else []
    lines += [f"begun: {transcript.begun.isoformat()}"] if transcript.begun else []
    lines += [f"trees: {quoted(transcript.trees)}"] if transcript.trees else []
    lines += [f"ending: {quoted(transcript.ending)}"] if transcript.ending else []
    lines += ["answers:" if transcript.answers else "answers: []"]
    lines += _answer_lines(transcript)
    lines += ["tried:"] if transcript.tried else []
    lines += [f"  - {quoted(text)}" for text in transcript.tried]
    lines += ["notes:"] if transcript.notes else []
    for note in transcript.notes:
        lines += [f"  - note: {quoted(note.text)}", f"    {_WRITTEN}: {note.at.isoformat()}"]
    return "\n".join(lines) + "\n"


def _answer_lines(transcript: Transcript) -> Iterator[str]:
    counts: dict[PromptKey, int] = {}
    for answer in in_order(transcript.answers):
        key = answer.key
        yield from _written_lines(answer)
        if key.nth != counts.get(key.first, 0) + 1:
            yield f"    {_NUMBER}: {key.nth}"
        counts[key.first] = key.nth
        time = transcript.times.get(key)
        if time is not None:
            yield f"    {_AT}: {time.isoformat()}"


def _written_lines(answer: Written) -> Iterator[str]:
    key = answer.key
    if key.place is None:
        yield f"  - {quoted(answer.name)}: {quoted(answer.text)}"
        return
    yield f"  - {key.topic.value}: {quoted(key.name if key.topic is Topic.CAUTION else answer.text)}"
    words = (key.place.tree, key.place.node, key.name if key.topic is Topic.ACT else "")
    yield f"    {_PLACE}: {quoted(' '.join(word for word in words if word))}"


def in_order(answers: Sequence[Written]) -> tuple[Written, ...]:
    """Give the answers as a file holds them: to the same prompt, the first one first."""
    seen: dict[PromptKey, list[Written]] = {}
    for answer in sorted(answers, key=lambda answer: answer.key.nth):
        seen.setdefault(answer.key.first, []).append(answer)
    return tuple(seen[answer.key.first].pop(0) for answer in answers)


def quoted(text: str) -> str:
    """A text as a YAML scalar that reads as the same text."""
    plain = text and text[0].isalnum() and text == text.strip() and text.isprintable()
    if plain and not any(mark in text for mark in (": ", " #")) and not text.endswith(":"):
        return text
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(char if char.isprintable() else _code(char) for char in escaped) + '"'


def _code(char: str) -> str:
    return f"\\u{ord(char):04x}" if ord(char) <= 0xFFFF else f"\\U{ord(char):08x}"
