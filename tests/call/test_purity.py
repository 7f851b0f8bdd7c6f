"""The conversation is a pure function of the trees and the answers, and every conversation ends."""

import random
from pathlib import Path

import pytest

from assistant.call.answers import Answer, Value
from assistant.call.examples import run_example
from assistant.call.headless import walk_by_name
from assistant.call.keys import COMPLAINT
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge, AskText, Prompt
from assistant.call.script import MOST_VISITS
from assistant.call.turns import Answered, Concluded, Repair, Undecided
from assistant.call.walk import Conversation, walk
from assistant.catalogue.catalogue import Catalogue
from assistant.session.session import Accepted, Session
from assistant.source.shipped import shipped_folder
from assistant.store.store import Store
from assistant.tree.examples import ExampleCall, read_calls
from assistant.worksheet.sheet import Worked
from tests.answering import answer
from tests.call.chance import SYSTEMS, chance_reply, system_of, typed_answer
from tests.call.small import small_library

EXAMPLES = read_calls(shipped_folder("trees") / "poor_cooling.calls.yaml")[0]


@pytest.fixture(scope="module")
def by_chance(library: Library) -> list[Conversation]:
    """300 whole calls of poor cooling, answered by chance from a fixed seed."""
    return [by_chance_call(library, random.Random(seed)) for seed in range(300)]


def by_chance_call(library: Library, chance: random.Random) -> Conversation:
    """One call carried on until nothing is asked any more."""
    system = SYSTEMS[chance.randrange(len(SYSTEMS))](chance)
    answers: tuple[Answer, ...] = (answer("complaint", "not cooling"), answer("tree", "poor_cooling"))

    def fill(prompt: Prompt) -> Value:
        return typed_answer(prompt, chance, system)

    conversation = walk(library, answers, fill=fill)
    for _ in range(100):
        if conversation.ended:
            break
        # What was typed could not be at that site, as a gauge reading below a vacuum: another answer is typed.
        answers = conversation.used
        conversation = walk(library, answers, fill=fill)
    return conversation


def prefixes(conversation: Conversation) -> list[tuple[tuple[Answer, ...], int]]:
    """The answers up to each point of a conversation, and how many turns came before the next one."""
    places = [place for place, turn in enumerate(conversation.turns) if isinstance(turn, Answered)]
    return [(conversation.used[:count], place) for count, place in enumerate(places)]


@pytest.mark.parametrize("example", EXAMPLES[::18], ids=lambda call: call.name)
def test_a_replay_equals_the_live_call_at_every_answer(library: Library, example: ExampleCall) -> None:
    """The answers so far give the conversation so far, and the next question is the one that was then answered."""
    whole = run_example(library, "poor_cooling", example).conversation
    for answers, place in prefixes(whole):
        part = walk(library, answers)
        assert part.turns == whole.turns[:place]
        asked = whole.turns[place]
        assert isinstance(asked, Answered)
        assert part.prompt == asked.prompt
        assert part.used == answers
        assert part.outcome is None


def test_the_same_answers_give_the_same_conversation(library: Library) -> None:
    """Two walks of the same answers are equal in every turn, question and kept way."""
    for example in EXAMPLES[::18]:
        used = run_example(library, "poor_cooling", example).conversation.used
        first, second = walk(library, used), walk(library, used)
        assert first.turns == second.turns
        assert (first.prompt, first.outcome, first.kept) == (second.prompt, second.outcome, second.kept)


def test_the_order_in_which_answers_are_listed_does_not_matter(library: Library) -> None:
    """Answers are found by name and count; a list in any order gives the same conversation."""
    used = run_example(library, "poor_cooling", EXAMPLES[20]).conversation.used
    mixed = list(used)
    random.Random(7).shuffle(mixed)
    assert walk(library, mixed).turns == walk(library, used).turns


def test_walking_leaves_its_input_as_it_was(library: Library) -> None:
    """The answers that go in are not changed."""
    used = run_example(library, "poor_cooling", EXAMPLES[20]).conversation.used
    copy = [*used]
    walk(library, copy)
    assert tuple(copy) == used


SETTLING = """
first:
  ask: minutes_running
  decide:
    - when: minutes_running < 15 min
      go: first
    - cannot_tell: first
    - otherwise: settled
settled: {undecided: Settled.}
"""


def test_who_looks_at_the_clock_each_minute_is_not_sent_home(catalogue: Catalogue) -> None:
    """A loop in which something may yet come is gone round as often as somebody patient asks."""
    done = walk_by_name(
        small_library(catalogue, SETTLING), "small", {"minutes_running": [f"{now} min" for now in range(1, 16)]}
    )
    assert done.unused == ()
    last = done.turns[-1]
    assert isinstance(last, Undecided)
    assert (last.node, last.text) == ("settled", "Settled.")


def test_going_round_in_circles_ends(catalogue: Catalogue) -> None:
    """A loop in which nothing new is learned ends undecided after so many rounds."""
    library = small_library(catalogue, SETTLING)
    done = walk_by_name(library, "small", {"minutes_running": ["5 min"] * 100})
    assert done.ended
    assert done.outcome is not None
    assert done.outcome.kind == "undecided"
    assert isinstance(done.turns[-1], Undecided)
    assert done.asked.count("minutes_running") == MOST_VISITS
    assert len(done.unused) == 100 - MOST_VISITS
    assert walk_by_name(library, "small", {}).ended


def test_every_call_by_chance_ends(by_chance: list[Conversation]) -> None:
    """Garbage, guesses and "cannot tell" in any mixture lead to an end, and raise nothing."""
    assert len(by_chance) == 300
    assert all(call.ended and call.outcome is not None for call in by_chance)


def test_calls_by_chance_go_far(by_chance: list[Conversation]) -> None:
    """The sample is worth something: it comes to many causes and to all three sorts of end."""
    causes = {call.outcome.cause for call in by_chance if call.outcome and call.outcome.cause}
    assert len(causes) >= 10
    assert {call.outcome.kind for call in by_chance if call.outcome} == {"cause", "no_fault", "undecided"}
    assert {"undercharge", "liquid_line_restriction"} <= causes
    assert any(call.close_calls for call in by_chance)


@pytest.mark.parametrize("cause", ["undercharge", "liquid_line_restriction"])
def test_charge_and_restriction_are_never_told_apart_without_subcooling(
    by_chance: list[Conversation], cause: str
) -> None:
    """Where one of the two is concluded, subcooling is known.

    Source: Rossi & Braun (1997), as Table 1-1 of the Purdue/CEC report: the two patterns differ in subcooling only.
    """
    for call in by_chance:
        if any(isinstance(turn, Concluded) and turn.cause.name == cause for turn in call.turns):
            worked = {number.name for number in call.numbers if isinstance(number, Worked)}
            assert "subcooling" in worked, call.used


def test_no_repair_without_its_cautions(by_chance: list[Conversation]) -> None:
    """In no call is an act of a repair told before every one of its cautions was, in the call or in front of it."""
    repairs = 0
    for call in by_chance:
        told: set[str] = set()
        for turn in call.turns:
            if isinstance(turn, Answered) and isinstance(turn.prompt, Acknowledge):
                told.add(turn.prompt.caution)
            elif isinstance(turn, Repair):
                repairs += 1
                for one in (one for step in (*turn.plan.repair, *turn.plan.proof) for one in step.acts):
                    told.update(caution.name for caution in one.first)
                    assert set(one.act.cautions) <= told, (turn.cause.name, one.act.name)
    assert repairs > 80


def test_every_answer_is_used_once(by_chance: list[Conversation]) -> None:
    """No answer is used for two questions, and every answered question has its answer among those used."""
    for call in by_chance:
        keys = [answer.key for answer in call.used]
        assert len(keys) == len(set(keys))
        answered = [turn.prompt.key for turn in call.turns if isinstance(turn, Answered)]
        assert answered == keys


def test_any_typed_text_leaves_a_call_that_can_go_on(library: Library, tmp_path: Path) -> None:
    """Replies, commands and garbage in any order raise nothing, and what is on disk is the call as it stands."""
    with Store(tmp_path / "calls.db") as store:
        for seed in range(12):
            chance = random.Random(1000 + seed)
            system = system_of(chance)
            session = Session(library, store)
            accepted = 0
            for _ in range(60):
                text = chance_reply(
                    session.prompt or AskText(key=COMPLAINT, question=""), chance, system, commands=True
                )
                accepted += isinstance(session.say(text), Accepted)
            assert accepted > 3
            assert session.number is not None
            assert Session.resume(library, store, session.number).conversation.turns == session.conversation.turns
