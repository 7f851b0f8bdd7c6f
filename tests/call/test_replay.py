"""A known call is stepped through: at each step it stands exactly as it stood after that answer."""

import pytest

from assistant.call.library import Library
from assistant.call.replay import Replay, why_lines
from assistant.call.turns import Answered
from assistant.call.walk import walk
from assistant.catalogue.catalogue import Catalogue
from assistant.plain_replay import replay_lines, run_replay
from tests.answering import answer
from tests.call.small import START, small_library, talk

NODES = """
first:
  why: A choked filter is seen without a gauge.
  ask: filter_condition
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: second
    - otherwise: second
second:
  decide:
    - when: air_at_vents is weak
      go: choked
    - cannot_tell: fine
    - otherwise: fine
choked: {undecided: Choked.}
fine: {no_fault: All is well.}
"""
TELLS = "A choked filter is seen without a gauge."


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES)


@pytest.fixture
def replay(small: Library) -> Replay:
    """A call of four answers."""
    return Replay(small, talk(small, "clean", "normal").used)


def test_a_step_is_the_call_after_so_many_answers(replay: Replay, small: Library) -> None:
    """From nothing answered to all, and each step begins as the one before."""
    assert replay.last == 4
    assert replay.at(0).turns == ()
    assert replay.at(4).turns == walk(small, replay.answers).turns
    for step in range(1, 5):
        before, after = replay.at(step - 1), replay.at(step)
        assert after.turns[: len(before.turns)] == before.turns
        assert isinstance(replay.news(step)[0], Answered)


def test_each_question_comes_with_its_reason(replay: Replay) -> None:
    """Why it is asked is known before its answer is."""
    assert TELLS in why_lines(replay.at(2))
    assert why_lines(replay.at(4)) == ()


def test_an_open_call_ends_at_its_open_question(small: Library) -> None:
    """What has not ended can be stepped through as far as it goes."""
    replay = Replay(small, talk(small, "clean").used)
    assert replay.at(replay.last).prompt is not None


def test_own_instruments_are_known_from_the_first_step(small: Library) -> None:
    """They are no step of their own."""
    replay = Replay(small, (answer("pressure_accuracy", "1 psi"), *START))
    assert replay.last == 2
    assert replay.answers_at(0) == (answer("pressure_accuracy", "1 psi"),)


def lines_of(replay: Replay, *typed: str) -> list[str]:
    """What is written line by line for what is typed."""
    written: list[str] = []
    waiting = iter(typed)
    run_replay(replay, "A call", lambda: next(waiting, None), written.append)
    return written


def test_line_by_line_it_goes_forward_and_backward(replay: Replay) -> None:
    """Enter goes on, b back, a number to that step; both ends say that they are reached."""
    heads = [line for line in lines_of(replay, "", "", "b", "4", "", "b") if line.startswith("---") or "step." in line]
    steps = [0, 1, 2, 1, 4]
    assert heads[:5] == [f"--- step {step} of 4 ---" for step in steps]
    assert heads[5:] == ["This is the last step.", "--- step 3 of 4 ---"]
    assert lines_of(replay, "b")[-2] == "This is the first step."


def test_line_by_line_reasons_stand_with_questions_and_answers(replay: Replay) -> None:
    """Each question once, its reason below, its answer and the decision at the next step."""
    text = "\n".join(replay_lines(replay, "A call"))
    assert f"  why: {TELLS}" in text
    assert "> clean" in text
    assert '- air filter is "clogged, bowed or wet; hardly any light comes through"? no' in text
    assert text.count("How does the air filter look?") == 1
    assert "The call ends here." in text


def test_q_leaves_and_garbage_is_answered(replay: Replay) -> None:
    """Nothing typed breaks it."""
    written = lines_of(replay, "what", "\x1b[2J", "99999999", "q", "")
    assert sum("Enter goes on" in line for line in written) == 4
    assert all(line.isprintable() for line in written)
