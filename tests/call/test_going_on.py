"""A conversation that is carried on is the same as one that is worked from the start."""

from dataclasses import replace

import pytest

from assistant.call.answers import Charged, with_answer, without_answer
from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.walk import Conversation, walk
from assistant.call.wording import conversation_lines
from assistant.source.shipped import shipped_folder
from assistant.tree.examples import read_calls
from tests.answering import answer

TREES = ("poor_cooling", "reversing_valve", "superheat_hunting")


def seen(conversation: Conversation) -> tuple[object, ...]:
    """All that a conversation tells; numbers with doubt from two runs are never equal, so these in words."""
    shown = [repr(number)[:200] for number in conversation.numbers]
    told = (conversation.prompt, conversation.unfit, conversation.outcome, conversation.kept)
    sides = (conversation.close_calls, conversation.used, conversation.unused)
    return (conversation_lines(conversation), told, sides, len(shown))


def whole_call(library: Library, tree: str) -> Conversation:
    """The longest example call of a tree, of the five with the most answers told."""
    calls, _ = read_calls(shipped_folder("trees") / f"{tree}.calls.yaml")
    told = sorted((call.given.texts() for call in calls), key=lambda texts: sum(map(len, texts.values())))
    found = (walk_by_name(library, tree, texts) for texts in told[-5:])
    return max(found, key=lambda conversation: len(conversation.used))


@pytest.mark.parametrize("tree", TREES)
def test_step_by_step_is_the_same_as_from_the_start(library: Library, tree: str) -> None:
    """After each answer of a whole call, and with a fact told before it is asked."""
    answers = whole_call(library, tree).used
    early = answer("altitude", "900 ft")
    gone_on = walk(library, (early,))
    for count in range(1, len(answers) + 1):
        so_far = (early, *(answer for answer in answers[:count] if answer.name != early.name))
        gone_on = walk(library, so_far, earlier=gone_on)
        assert seen(gone_on) == seen(walk(library, so_far))


def test_what_does_not_carry_it_on_is_worked_from_the_start(library: Library) -> None:
    """An answer taken back, one changed, other units, told instruments; and the one it came from stays usable."""
    answers = whole_call(library, "poor_cooling").used
    earlier = walk(library, answers[:8])
    onward = walk(library, answers[:12], earlier=earlier)
    assert onward.run is earlier.run
    back = without_answer(answers[:12], answers[11].key)
    place = next(place for place, answer in enumerate(answers) if answer.name == "refrigerant")
    changed = with_answer(
        answers[:12], replace(answers[place], value=Charged("R-32" if answers[place].text != "R-32" else "R-22"))
    )
    own = (*answers[:12], answer("pressure_accuracy", "1 psi"))
    for other in (back, changed, own, answers[:8]):
        again = walk(library, other, earlier=onward)
        assert again.run is not onward.run
        assert seen(again) == seen(walk(library, other))
    assert walk(library, answers[:12], "si", earlier=onward).run is not onward.run
    assert walk(replace(library), answers[:12], earlier=onward).run is not onward.run


def test_an_answer_that_does_not_fit_is_told_each_time(library: Library) -> None:
    """And a better one in its place goes on from there."""
    answers = whole_call(library, "poor_cooling").used
    place = next(place for place, answer in enumerate(answers) if answer.name == "refrigerant")
    bad = (*answers[:place], answer("refrigerant", "R-9999"))
    earlier = walk(library, answers[:place])
    stuck = walk(library, bad, earlier=earlier)
    assert stuck.unfit is not None
    assert seen(stuck) == seen(walk(library, bad))
    better = walk(library, answers[: place + 1], earlier=stuck)
    assert better.run is stuck.run
    assert seen(better) == seen(walk(library, answers[: place + 1]))
