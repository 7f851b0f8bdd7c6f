"""The demo calls are regression tests: walked again, each gives the same conversation."""

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.call.answers import Written
from assistant.call.keys import TREE, entry_key
from assistant.call.library import Library
from assistant.call.prompts import DoStep
from assistant.call.turns import Answered, CameBack, Verified
from assistant.call.walk import walk
from assistant.errors import FileError
from assistant.source.shipped import shipped_folder
from assistant.store.transcripts import Transcript, read_transcript, transcript_text
from tests.answering import read_by
from tests.demo import conversation_text

FILES = sorted(shipped_folder("transcripts_demo").glob("*.yaml"))


def test_there_are_demo_calls_across_trees() -> None:
    """At least eight calls through at least six trees: an empty folder would pass every other test here."""
    calls = [read_transcript(file) for file in FILES]
    trees = {answer.text for call in calls for answer in call.answers if answer.key == TREE}
    assert len(calls) >= 8
    assert len(trees) >= 6


def test_demo_calls_show_the_ways_a_call_can_go(library: Library) -> None:
    """No fault, a way kept and one gone back to, a step with its change, a repair measured again, a value tried."""
    conversations = [walk(library, read_by(library, read_transcript(file).answers)) for file in FILES]
    assert any(read_transcript(file).tried for file in FILES)
    assert {call.outcome.kind for call in conversations if call.outcome} >= {"cause", "no_fault"}
    assert any(call.close_calls for call in conversations)
    turns = [turn for call in conversations for turn in call.turns]
    assert any(isinstance(turn, Answered) and isinstance(turn.prompt, DoStep) for turn in turns)
    assert any(isinstance(turn, Verified) and turn.checks_out for turn in turns)
    assert any(isinstance(turn, CameBack) for turn in turns)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_demo_call_replays_to_the_same_conversation(library: Library, file: Path) -> None:
    """The conversation follows from the answers alone; every answer is used, and the call ends."""
    conversation = walk(library, read_by(library, read_transcript(file).answers))
    assert conversation_text(library, file) == file.with_suffix(".txt").read_text(encoding="utf-8")
    assert conversation.ended
    assert conversation.unused == ()


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_demo_call_has_a_story(file: Path) -> None:
    """The folder's README tells the story of each call."""
    assert read_transcript(file).story
    assert f"`{file.stem}`" in file.with_name("README.md").read_text(encoding="utf-8")


_PRINTED = st.characters(exclude_categories=["C", "Z"]) | st.just(" ")
_PAIRS = st.lists(
    st.tuples(st.text(_PRINTED, min_size=1, max_size=30), st.text(_PRINTED, max_size=50)), min_size=1, max_size=6
)


@given(_PAIRS, st.text(_PRINTED, max_size=80))
def test_a_call_is_read_as_it_was_written(
    tmp_path_factory: pytest.TempPathFactory, pairs: list[tuple[str, str]], story: str
) -> None:
    """Any names and printed texts survive the file; of the story, spare spaces go."""
    counts: Counter[str] = Counter()
    answers = []
    for name, text in pairs:
        counts[name] += 1
        answers.append(Written(entry_key(name, counts[name]), text))
    file = tmp_path_factory.mktemp("call") / "call.yaml"
    file.write_text(transcript_text(Transcript("a call", story, tuple(answers))), encoding="utf-8")
    again = read_transcript(file)
    assert again.answers == tuple(answers)
    assert again.story == " ".join(story.split())


def test_a_file_that_is_no_call_is_refused(tmp_path: Path) -> None:
    """Every mistake is named with its line."""
    file = tmp_path / "call.yaml"
    file.write_text("answers:\n  - refrigerant\n  - a: b\n    c: d\n", encoding="utf-8")
    with pytest.raises(FileError, match=r"(?s)call.yaml:2.*call.yaml:3"):
        read_transcript(file)
