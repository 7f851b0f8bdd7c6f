"""Cautions come first, each time, and no repair is shown before its own are acknowledged."""

import pytest

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge, AskQuantity, CheckOut, DoStep
from assistant.call.replies import Unclear
from assistant.call.turns import Answered, Concluded, Repair, Told, Turn
from assistant.call.walk import Conversation, accept, walk
from assistant.call.wording import prompt_lines
from assistant.catalogue.catalogue import Catalogue
from tests.answering import answer
from tests.call.small import START, asked_next, prompted, small_library, talk

GUARDED = """
first:
  say: Now the test.
  caution: [floodback, moving_parts]
  do: wait_settled
  ask: suction_pressure
  decide:
    - when: suction_pressure > 50 psig
      go: leak
    - cannot_tell: open_end
    - otherwise: open_end
leak:
  cause: undercharge
open_end: {undecided: It cannot be told.}
"""


def test_at_a_node_the_cautions_come_before_all_else(catalogue: Catalogue) -> None:
    """Nothing is said, done or asked at a node before each of its cautions is acknowledged, in its order."""
    library = small_library(catalogue, GUARDED)
    now = walk(library, START)
    assert isinstance(now.prompt, Acknowledge)
    assert now.prompt.caution == "floodback"
    assert not any(isinstance(turn, Told) for turn in now.turns)
    assert asked_next(talk(library, "1")) == "caution moving_parts @ first"
    doing = talk(library, "1", "2")
    assert isinstance(doing.prompt, DoStep)
    assert isinstance(doing.turns[-1], Told)
    assert prompted(talk(library, "1", "2", "done", "20 psig")) == [
        "caution floodback @ first", "caution moving_parts @ first", "do wait_settled @ first", "suction_pressure",
    ]  # fmt: skip


@pytest.mark.parametrize("reply", ["no", "later", "", "cannot tell", "skip", "1"])
def test_a_caution_is_passed_only_by_acknowledging_it(catalogue: Catalogue, reply: str) -> None:
    """Nothing but an acknowledgement goes past a caution; "cannot tell" is none."""
    now = walk(small_library(catalogue, GUARDED.replace("[floodback, moving_parts]", "[floodback]")), START)
    assert isinstance(accept(now, reply), Unclear)


@pytest.mark.parametrize("reply", ["no", "", "ok", "yes", "2", "3", "12"])
def test_of_several_cautions_each_is_passed_by_its_own_number_only(catalogue: Catalogue, reply: str) -> None:
    """A word that fits all of them, or the number of another, passes none: none is passed unread."""
    now = walk(small_library(catalogue, GUARDED), START)
    assert isinstance(now.prompt, Acknowledge)
    assert now.prompt.is_listed
    assert isinstance(accept(now, reply), Unclear)


def test_cautions_before_one_step_know_of_each_other(catalogue: Catalogue) -> None:
    """They are one list, so that what is still to come is seen; their titles and texts acknowledge them too."""
    library = small_library(catalogue, GUARDED)
    titles = (catalogue.cautions["floodback"].title, catalogue.cautions["moving_parts"].title)
    doing = talk(library, "1", titles[1])
    listed = [
        turn.prompt for turn in doing.turns if isinstance(turn, Answered) and isinstance(turn.prompt, Acknowledge)
    ]
    assert [prompt.together for prompt in listed] == [titles, titles]
    assert [prompt.place for prompt in listed] == [1, 2]
    lines = prompt_lines(listed[0])
    assert lines[:4] == (
        "2 CAUTIONS before this step, each acknowledged by its own number:", f"  1  {titles[0]}", f"  2  {titles[1]}",
        f"CAUTION 1 of 2 - {titles[0]}",
    )  # fmt: skip


def test_a_stored_acknowledgement_counts_in_a_list_too(catalogue: Catalogue) -> None:
    """What was kept before cautions were listed replays: it is the answer that is stored, not what was typed."""
    stored = [answer(f"caution {name} @ first", "understood") for name in ("floodback", "moving_parts")]
    assert isinstance(walk(small_library(catalogue, GUARDED), (*START, *stored)).prompt, DoStep)


def test_a_caution_is_shown_each_time_round(catalogue: Catalogue) -> None:
    """A node that is entered again puts its caution up again."""
    nodes = """
first:
  caution: [moving_parts]
  ask: minutes_running
  decide:
    - when: minutes_running < 15 min
      go: first
    - cannot_tell: open_end
    - otherwise: open_end
open_end: {undecided: It cannot be told.}
"""
    done = talk(small_library(catalogue, nodes), "ok", "5 min", "ok", "20 min")
    assert done.cautions == ("moving_parts", "moving_parts")


def test_a_caution_just_acknowledged_is_not_put_up_again_at_once(catalogue: Catalogue) -> None:
    """Where one node hands over to the next with nothing asked or done, one reading of the caution is enough."""
    nodes = """
first:
  caution: [moving_parts, hot_surfaces]
  go: second
second:
  caution: [moving_parts]
  ask: minutes_running
  go: third
third:
  caution: [moving_parts]
  go: open_end
open_end: {undecided: It cannot be told., because: minutes_running}
"""
    done = talk(small_library(catalogue, nodes), "1", "2", "5 min", "ok")
    assert done.cautions == ("moving_parts", "hot_surfaces", "moving_parts")


@pytest.mark.parametrize(
    ("refrigerant", "joined"),
    # Safety groups by ASHRAE 34: R-410A and R-22 are A1, R-32 and R-454B A2L, R-290 A3.
    [
        ("R-410A", []),
        ("R-22", []),
        ("R-32", ["flammable_mild"]),
        ("R-454B", ["flammable_mild"]),
        ("R-290", ["flammable_high"]),
    ],
)
def test_a_flammable_refrigerant_adds_its_caution(catalogue: Catalogue, refrigerant: str, joined: list[str]) -> None:
    """Beside the caution for hoses and liquid comes the one of the refrigerant's safety group, right behind it."""
    nodes = """
first:
  caution: [hoses_and_liquid, moving_parts]
  decide:
    - when: suction_pressure > 50 psig
      go: open_end
    - cannot_tell: open_end
    - otherwise: low_end
low_end: {undecided: Low.}
open_end: {undecided: It cannot be told.}
"""
    library = small_library(catalogue, nodes, facts="refrigerant")
    done = walk_by_name(library, "small", {"refrigerant": refrigerant})
    assert list(done.cautions) == ["hoses_and_liquid", *joined, "moving_parts"]


def repair_place(turns: tuple[Turn, ...]) -> int:
    """Where in the conversation the repair is shown."""
    return next(place for place, turn in enumerate(turns) if isinstance(turn, Repair))


def acknowledged(conversation: Conversation, node: str, until: int) -> list[str]:
    """The cautions acknowledged at a node up to a place in the conversation."""
    found = []
    for turn in conversation.turns[:until]:
        is_caution = isinstance(turn, Answered) and isinstance(turn.prompt, Acknowledge)
        if is_caution and turn.prompt.name.endswith(f"@ {node}"):
            found.append(turn.prompt.caution)
    return found


def test_every_act_of_a_repair_stands_behind_its_cautions(catalogue: Catalogue) -> None:
    """Whatever the cause, each act is told behind all of its own cautions, with those an A2L adds, each whole once."""
    for name in catalogue.causes:
        library = small_library(catalogue, f"first:\n  go: end\nend:\n  cause: {name}\n", facts="refrigerant")
        done = walk_by_name(library, "small", {"refrigerant": "R-32"})
        plan = next(turn.plan for turn in done.turns if isinstance(turn, Repair))
        told: list[str] = []
        for one in (one for step in (*plan.repair, *plan.proof) for one in step.acts):
            told += [caution.name for caution in one.first]
            assert set(catalogue.with_joined(one.act.cautions, "A2L")) <= set(told), (name, one.act.name)
        assert len(told) == len(set(told)), name


def test_a_caution_of_the_call_is_told_by_its_title_in_the_repair(catalogue: Catalogue) -> None:
    """What was acknowledged on the way needs no second reading; its title reminds."""
    nodes = "first:\n  caution: [hoses_and_liquid]\n  go: end\nend:\n  cause: undercharge\n"
    done = walk_by_name(small_library(catalogue, nodes, facts="refrigerant"), "small", {"refrigerant": "R-410A"})
    plan = next(turn.plan for turn in done.turns if isinstance(turn, Repair))
    acts = [one for step in (*plan.repair, *plan.proof) for one in step.acts]
    hoses = [one for one in acts if "hoses_and_liquid" in one.act.cautions]
    assert hoses
    assert "hoses_and_liquid" not in [caution.name for one in acts for caution in one.first]
    assert [caution.name for caution in hoses[0].again] == ["hoses_and_liquid"]


@pytest.mark.parametrize(
    ("refrigerant", "joined"),
    [("R-410A", set()), ("R-32", {"flammable_mild"}), ("cannot tell", {"flammable_mild", "flammable_high"})],
)
def test_the_refrigerant_is_asked_before_what_hangs_on_it(
    catalogue: Catalogue, refrigerant: str, joined: set[str]
) -> None:
    """Whether it burns is known before the hoses go on; where nobody can tell, the worst is minded."""
    nodes = """
first:
  caution: [hoses_and_liquid]
  ask: minutes_running
  go: open_end
open_end: {undecided: It cannot be told., because: minutes_running}
"""
    library = small_library(catalogue, nodes)
    assert asked_next(talk(library)) == "refrigerant"
    now = talk(library, refrigerant)
    while isinstance(now.prompt, Acknowledge):
        now = talk(library, "understood", begin=now.used)
    assert {"flammable_mild", "flammable_high"} & set(now.cautions) == joined


def test_cause_and_repair_are_read_at_once(catalogue: Catalogue) -> None:
    """The tech knows what it is about: the likely cause, its repair with the cautions in it, and then the check."""
    library = small_library(catalogue, GUARDED)
    now = talk(library, "1", "2", "done", "90 psig")
    assert isinstance(now.prompt, CheckOut)
    assert [type(turn) for turn in now.turns[-2:]] == [Concluded, Repair]


def test_every_step_that_opens_or_touches_has_hoses_guarded(library: Library) -> None:
    """In the shipped tree no gauge reading is asked before the caution for hoses and liquid is acknowledged."""
    done = walk_by_name(library, "poor_cooling", {"refrigerant": "R-410A", "metering_device": "txv"})
    seen: set[str] = set()
    for turn in done.turns:
        if isinstance(turn, Answered) and isinstance(turn.prompt, Acknowledge):
            seen.add(turn.prompt.caution)
        if isinstance(turn, Answered) and isinstance(turn.prompt, AskQuantity) and "pressure" in turn.prompt.name:
            assert turn.prompt.name == "external_static_pressure" or "hoses_and_liquid" in seen
    assert "hoses_and_liquid" in seen
