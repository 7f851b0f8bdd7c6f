"""A call as a file: its answers in order, and the story around them.

The conversation is not in the file, because it follows from the answers. A replay walks them again.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.call.answers import Answer
from assistant.errors import FileError
from assistant.source.nodes import Mapping, Node, Scalar, read
from assistant.source.nodes import Sequence as List
from assistant.source.problem import Place, Problem, render


@dataclass(frozen=True, slots=True)
class Transcript:
    """A call to be replayed: a title, what happened around it, and its answers in order."""

    title: str
    story: str
    answers: tuple[Answer, ...]


def read_transcript(path: Path) -> Transcript:
    """Read a call from a file.

    Raises:
        FileError: it cannot be read, or is no call; every mistake is in the message.
    """
    root, problems = read(path)
    transcript = _transcript(root, path, problems)
    if problems or transcript is None:
        raise FileError("\n".join(render(problem) for problem in problems) or f"{path} holds no call.")
    return transcript


def _transcript(root: Node | None, path: Path, problems: list[Problem]) -> Transcript | None:
    if root is None:
        return None
    if not isinstance(root, Mapping) or not isinstance(answers := root.get("answers"), List):
        where = root.mark if root else Place(str(path))
        problems.append(Problem("shape-call", where, "a call has a title and a list of answers", "answers:"))
        return None
    title, story = root.get("call"), root.get("story")
    return Transcript(_text(title), _text(story), tuple(_answers(answers.items, problems)))


def _text(node: Node | None) -> str:
    return " ".join(node.text.split()) if isinstance(node, Scalar) else ""


def _answers(items: Iterable[Node], problems: list[Problem]) -> Iterable[Answer]:
    counts: dict[str, int] = {}
    for item in items:
        entries = item.entries if isinstance(item, Mapping) else ()
        if len(entries) != 1 or not isinstance(entries[0][1], Scalar):
            problems.append(Problem("shape-answer", item.mark, "an answer is one name and one text", "- name: text"))
            continue
        name, text = entries[0][0].text, entries[0][1].text
        counts[name] = counts.get(name, 0) + 1
        yield Answer(name, text, counts[name])


def transcript_text(transcript: Transcript) -> str:
    """The file of a call; reading it gives the call again."""
    lines = [f"call: {quoted(transcript.title)}", f"story: {quoted(transcript.story)}", "answers:"]
    lines += [f"  - {quoted(answer.name)}: {quoted(answer.text)}" for answer in in_order(transcript.answers)]
    return "\n".join(lines) + "\n"


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
    return '"' + "".join(char if char.isprintable() else f"\\u{ord(char):04x}" for char in escaped) + '"'
