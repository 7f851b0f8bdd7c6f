"""The call for other programs: every example call through it, and what comes back for requests that cannot be done."""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.call.headless import reply_by_name
from assistant.call.library import Library
from assistant.programs import Talk, run_programs
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import ENDING, read_calls

FILES = sorted(shipped_folder("trees").glob(f"*{ENDING}"))
KEYS = ["turns", "from", "prompt", "outcome", "error", "told"]
KINDS = {
    "complaint", "tree", "fact", "reading", "observation", "act", "caution", "close_call", "check_out", "text",
}  # fmt: skip


@pytest.fixture
def talk(library: Library) -> Talk:
    return Talk(lambda: Session(library, None))


def carried_to_the_end(talk: Talk, tree: str, answers: Mapping[str, str | Sequence[str]]) -> dict[str, Any]:
    """The last reply of a call whose prompts are answered by name, as a program would."""
    reply = talk.take({"begin": {"tree": tree}})
    while (prompt := reply["prompt"]) is not None:
        assert prompt["kind"] in KINDS
        reply = talk.take({"answer": reply_by_name(talk.session.prompt, answers)})
        assert reply["error"] is None, (prompt, reply["error"])
    return reply


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name.removesuffix(ENDING))
def test_every_example_call_ends_the_same_through_it(talk: Talk, library: Library, file: Any) -> None:
    """Prompts out, replies in: the call ends where its example says, with the turns that a walk by name gives."""
    tree = file.name.removesuffix(ENDING)
    for call in read_calls(file)[0]:
        reply = carried_to_the_end(talk, tree, call.given.texts())
        ends = reply["outcome"]
        assert (ends["cause"] or ends["kind"]) == call.reaches.text, f"{call.place}: {call.name}"
        assert call.at is None or ends["node"] == call.at.text, f"{call.place}: {call.name}"


def test_a_reply_has_its_keys(talk: Talk) -> None:
    """Every reply has the same keys; an observation's prompt has its choices, a reading's its unit."""
    first = talk.take({"begin": {"tree": "poor_cooling"}})
    assert list(first) == KEYS
    assert first["prompt"]["kind"] == "fact"
    assert first["prompt"]["name"] == "refrigerant"
    asked = talk.take({"answer": "410a"})
    while asked["prompt"]["kind"] != "observation":
        asked = talk.take({"answer": "understood"})
    assert "clogged" in [one["key"] for one in asked["prompt"]["choices"]]
    assert all(set(one) == {"key", "words"} for one in asked["prompt"]["choices"])
    while asked["prompt"]["kind"] != "reading":
        assert talk.session is not None
        assert talk.session.prompt is not None
        asked = talk.take({"answer": reply_by_name(talk.session.prompt, {})})
    assert asked["prompt"]["unit"] == "min"
    assert list(talk.take("nothing")) == KEYS


def test_only_new_turns_are_told(talk: Talk) -> None:
    """A reply tells the turns since the last one; after back, `from` tells how many of the call's turns still stand."""
    talk.take({"begin": {"tree": "poor_cooling"}})
    told = talk.take({"answer": "R-410A"})
    assert [turn["kind"] for turn in told["turns"]] == ["answered", "decided"]
    back = talk.take({"back": True})
    assert back["prompt"]["name"] == "refrigerant"
    again = talk.take({"answer": "R-22"})
    assert again["from"] == told["from"]
    assert again["turns"][0]["answer"] == "R-22"


def test_a_decision_says_what_its_author_wrote(talk: Talk) -> None:
    """A branch that was taken has its node, its condition in the author's words and a verdict."""
    reply = carried_to_the_end(talk, "poor_cooling", {"refrigerant": "R-410A", "filter_condition": "clogged"})
    assert reply["outcome"]["kind"] == "cause"
    assert reply["outcome"]["cause"] == "dirty_filter"
    whole = [turn for turn in _all_turns(talk) if turn["kind"] == "decided"]
    assert [(turn["node"], turn["condition"], turn["verdict"]) for turn in whole[:2]] == [
        ("look", None, "otherwise"), ("look/filter", "filter_condition is clogged", "yes"),
    ]  # fmt: skip


def _all_turns(talk: Talk) -> list[dict[str, Any]]:
    talk._shown = ()
    return talk.take({"answer": "why"})["turns"]


@pytest.mark.parametrize(
    ("request_", "word"),
    [
        ({"answer": "118 psig"}, "begun"),
        ({"begin": {"tree": "no_such_tree"}}, "no_such_tree"),
        ({"begin": {}}, "Write one object"),
        ({"begin": {"tree": "poor_cooling", "more": 1}}, "Write one object"),
        ({"answer": 118}, "Write one object"),
        ({"back": False}, "Write one object"),
        ({"answer": "x", "back": True}, "Write one object"),
        ([], "Write one object"),
        (None, "Write one object"),
    ],
)
def test_a_request_that_cannot_be_done_is_told(talk: Talk, request_: object, word: str) -> None:
    """The reply has a sentence, and nothing has begun."""
    reply = talk.take(request_)
    assert word in reply["error"]
    assert reply["prompt"] is None
    assert talk.session is None


def test_a_reply_that_does_not_fit_leaves_the_prompt(talk: Talk) -> None:
    """The error says what fits, and the prompt stands as before."""
    before = talk.take({"begin": {"tree": "poor_cooling"}})["prompt"]
    reply = talk.take({"answer": "R-9999"})
    assert "R-410A" in reply["error"]
    assert reply["prompt"] == before
    assert reply["turns"] == []


def spoken(library: Library, lines: Sequence[str]) -> list[dict[str, Any]]:
    """What comes out for lines that go in."""
    left: Iterator[str] = iter(lines)
    out: list[str] = []
    run_programs(Talk(lambda: Session(library, None)), lambda: next(left, None), out.append)
    return [json.loads(line) for line in out]


def test_many_calls_go_through_one_process(library: Library) -> None:
    """A new begin drops the call before it; after quit nothing more is read."""
    begin = json.dumps({"begin": {"tree": "poor_cooling"}})
    replies = spoken(library, [begin, "", '{"answer": "R-22"}', begin, '{"quit": true}', begin])
    assert len(replies) == 4
    assert replies[2]["prompt"] == replies[0]["prompt"]


@given(st.lists(st.one_of(st.text(max_size=40), st.recursive(
    st.none() | st.booleans() | st.floats(allow_nan=False) | st.text(max_size=10),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(["begin", "answer", "back", "tree", "complaint"]) | st.text(max_size=5), inner, max_size=3
    ), max_leaves=6,
).map(json.dumps)), max_size=6))  # fmt: skip
def test_whatever_comes_in_one_object_goes_out(library: Library, lines: list[str]) -> None:
    """No line ends the conversation but quit, and each reply is one JSON object with the promised keys."""
    for reply in spoken(library, ["", *lines]):
        assert list(reply) == KEYS
