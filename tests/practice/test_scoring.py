"""The score of a practice call: facts on plain values."""

import pytest

from assistant.practice.training.scoring import SOUND, Done, needless, score, verdict

FAMILY = (frozenset({"dirty_filter", "dirty_indoor_coil"}),)


def reading(minute: float, state: int = 0, *, settles: bool = False) -> Done:
    return Done(minute, "reading", "suction_pressure", "Suction pressure", "118 psig", state, settles)


@pytest.mark.parametrize(
    ("truth", "named", "worth"),
    [
        (("undercharge",), ("undercharge",), "right"),
        (("undercharge", "dirty_filter"), ("dirty_filter", "undercharge"), "right"),
        (("undercharge", "dirty_filter"), ("dirty_filter",), "partly right"),
        (("undercharge",), ("undercharge", "overcharge"), "partly right"),
        (("dirty_filter",), ("dirty_indoor_coil",), "a look-alike"),
        (("undercharge",), ("overcharge",), "wrong"),
        (("undercharge",), (SOUND,), "wrong"),
        ((), (SOUND,), "right"),
        (("undercharge",), None, "not named"),
    ],
)
def test_a_cause_is_right_when_all_hidden_ones_and_no_others_are_named(
    truth: tuple[str, ...], named: tuple[str, ...] | None, worth: str
) -> None:
    """One of two is partly right, one of the same family a look-alike, and giving up names nothing."""
    assert verdict(truth, named, FAMILY) == worth


def test_taking_a_reading_once_more_is_checking_and_a_third_time_is_needless() -> None:
    """As long as nothing has changed in the circuit."""
    assert needless([reading(3), reading(4)]) == []
    assert len(needless([reading(3), reading(4), reading(5)])) == 1


def test_a_reading_after_a_change_or_while_it_settles_is_not_needless() -> None:
    """Then it can tell something new."""
    assert needless([reading(3), reading(4), reading(9, 1), reading(10, 1)]) == []
    assert needless([reading(minute, settles=True) for minute in (3, 4, 5, 6)]) == []


def test_putting_right_what_was_right_is_needless() -> None:
    """A part changed on a guess is told by its name."""
    changed = Done(60, "act", "change_drier", "Change the filter drier", idle=True)
    assert needless([changed]) == ["Change the filter drier: nothing was wrong there"]


def test_waiting_is_time_and_no_step() -> None:
    """The score counts what was done; the clock counts the rest."""
    done = [reading(3), Done(18, "wait", "", "Wait 15 minutes")]
    found = score(("undercharge",), ("undercharge",), done, 18.0, 0.0, allowed=15.0)
    assert found.steps == 1
    assert not found.in_time
    assert score(("undercharge",), None, done, 18.0, 0.0).in_time


def test_cautions_that_were_skipped_add_up() -> None:
    """Each is told by its name, as often as it was skipped."""
    acts = [Done(9, "act", "add_charge", "Add refrigerant", skipped=("hoses_and_liquid",))] * 2
    assert score((), (SOUND,), acts, 9.0, 0.2).skipped == ("hoses_and_liquid",) * 2
