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
    notes:
      - note: photo IMG_0231.jpg shows the bulb
        written at: 2026-07-14T09:10:00+00:00

Only `answers` must be there. `as number: 2` below an answer says that it is the second to its name where the first was
taken back. `tried` may list what was tried with the word `if` at the end, which is no part of the call.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Final

from assistant.call.answers import Answer
from assistant.call.replies import LONGEST_REPLY
from assistant.errors import FileError
from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping as Keys
from assistant.source.nodes import Node, Scalar, read
from assistant.source.nodes import Sequence as List
from assistant.source.problem import Place, Problem, render, shortened
from assistant.store.store import Note

_KEYS: Final = ("call", "story", "begun", "trees", "ending", "answers", "tried", "notes")
_AT: Final = "answered at"
_NUMBER: Final = "as number"
_WRITTEN: Final = "written at"
_TIME: Final = "2026-07-14T08:05:00+00:00"
_LONGEST_NAME: Final = 200
_MOST_TIMES: Final = 1000


@dataclass(frozen=True, slots=True)
class Transcript:
    """A call to be replayed or kept: a title, what happened around it, and its answers in order.

    `times` tells by name and number when answers were given, as far as it is known; `trees` the versions of the trees
    with which the last one was, `ending` how it ended then; `tried` what was tried with other values at the end.
    """

    title: str
    story: str
    answers: tuple[Answer, ...]
    begun: datetime | None = None
    times: Mapping[tuple[str, int], datetime] = field(default_factory=dict)
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

    def wrong(self, code: str, node: Node | None, message: str, hint: str) -> None:
        self.problems.append(Problem(code, node.mark if node else Place(str(self.path)), message, hint))

    def transcript(self, root: Node) -> Transcript | None:
        if not isinstance(root, Keys) or not isinstance(answers := root.get("answers"), List):
            self.wrong("shape-call", root, "a call has a list of answers", "answers:\n  - complaint: not cooling")
            return None
        for key, _ in root.entries:
            if key.text not in _KEYS:
                near = nearest(key.text, _KEYS) or _KEYS
                message = f'"{shortened(key.text)}" is no part of a call'
                self.wrong("shape-call", key, message, f"use one of: {', '.join(near)}; or delete it")
        times: dict[tuple[str, int], datetime] = {}
        return Transcript(
            self.text(root, "call"),
            self.text(root, "story"),
            tuple(self.answers(answers, times)),
            self.time(root.get("begun")),
            times,
            tuple(self.notes(root.get("notes"))),
            self.text(root, "trees"),
            self.text(root, "ending"),
            tuple(self.tried(root.get("tried"))),
        )

    def text(self, root: Keys, key: str) -> str:
        node = root.get(key)
        if node is not None and not isinstance(node, Scalar):
            self.wrong("shape-call", node, f'"{key}" is one text', f"{key}: some words")
        return " ".join(node.text.split()) if isinstance(node, Scalar) else ""

    def tried(self, node: Node | None) -> Iterator[str]:
        for item in node.items if isinstance(node, List) else (node,) if node is not None else ():
            if isinstance(item, Scalar) and len(item.text) <= LONGEST_REPLY:
                yield item.text
            else:
                self.wrong("shape-call", item, '"tried" is a list of names with a value', "- suction_pressure 130 psig")

    def time(self, node: Node | None) -> datetime | None:
        if node is None:
            return None
        try:
            time = datetime.fromisoformat(node.text if isinstance(node, Scalar) else "")
            if time.tzinfo is not None:
                return time
        except ValueError:
            pass
        self.wrong("shape-time", node, "this is no time with a zone", f"write it like {_TIME}, or delete it")
        return None

    def answers(self, items: List, times: dict[tuple[str, int], datetime]) -> Iterator[Answer]:
        given: set[tuple[str, int]] = set()
        counts: dict[str, int] = {}
        for item in items.items:
            entries = item.entries if isinstance(item, Keys) else ()
            more = {key.text: value for key, value in entries[1:]}
            if not entries or not isinstance(entries[0][1], Scalar) or more.keys() - {_AT, _NUMBER}:
                self.wrong("shape-answer", item, "an answer is one name and one text", "- name: text")
                continue
            name, text = entries[0][0].text, entries[0][1].text
            if len(text) > LONGEST_REPLY or len(name) > _LONGEST_NAME:
                self.wrong(
                    "shape-answer", entries[0][1], f"an answer has up to {LONGEST_REPLY} characters", "shorten it"
                )
                continue
            nth = self.number(more.get(_NUMBER), counts.get(name, 0) + 1)
            if (name, nth) in given:
                self.wrong("shape-answer", item, f'"{name}" has its answer number {nth} already', "keep one of them")
                continue
            given.add((name, nth))
            counts[name] = nth
            time = self.time(more.get(_AT))
            if time is not None:
                times[name, nth] = time
            yield Answer(name, text, nth)

    def number(self, node: Node | None, usual: int) -> int:
        if node is None:
            return usual
        if isinstance(node, Scalar) and node.text.isdecimal() and 1 <= int(node.text[:6]) <= _MOST_TIMES:
            return int(node.text[:6])
        self.wrong("shape-answer", node, "this is no number of an answer", f"{_NUMBER}: 2")
        return usual

    def notes(self, node: Node | None) -> Iterator[Note]:
        if node is None:
            return
        for item in node.items if isinstance(node, List) else (node,):
            found = dict((key.text, value) for key, value in item.entries) if isinstance(item, Keys) else {}
            text, time = found.get("note"), self.time(found.get(_WRITTEN))
            if not isinstance(text, Scalar) or found.keys() - {"note", _WRITTEN}:
                self.wrong("shape-note", item, "a note is a text with the time when it was written", "- note: text")
            elif len(text.text) > LONGEST_REPLY:
                self.wrong("shape-note", item, f"a note has up to {LONGEST_REPLY} characters", "shorten it")
            elif time is None and _WRITTEN not in found:
                self.wrong("shape-note", item, "this note has no time", f"{_WRITTEN}: {_TIME}")
            elif time is not None:
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
    counts: dict[str, int] = {}
    for answer in in_order(transcript.answers):
        yield f"  - {quoted(answer.name)}: {quoted(answer.text)}"
        if answer.nth != counts.get(answer.name, 0) + 1:
            yield f"    {_NUMBER}: {answer.nth}"
        counts[answer.name] = answer.nth
        time = transcript.times.get(answer.key)
        if time is not None:
            yield f"    {_AT}: {time.isoformat()}"


def in_order(answers: Sequence[Answer]) -> tuple[Answer, ...]:
    """The answers as a file holds them: to the same name, the first one first."""
    seen: dict[str, list[Answer]] = {}
    for answer in sorted(answers, key=lambda answer: answer.nth):
        seen.setdefault(answer.name, []).append(answer)
    return tuple(seen[answer.name].pop(0) for answer in answers)


def quoted(text: str) -> str:
    """A text as a YAML scalar that reads as the same text."""
    plain = text and text[0].isalnum() and text == text.strip() and text.isprintable()
    if plain and not any(mark in text for mark in (": ", " #")) and not text.endswith(":"):
        return text
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(char if char.isprintable() else _code(char) for char in escaped) + '"'


def _code(char: str) -> str:
    return f"\\u{ord(char):04x}" if ord(char) <= 0xFFFF else f"\\U{ord(char):08x}"
