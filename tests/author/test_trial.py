"""A call on a tree that is being written: what is kept over a save, and beginning at any node."""

from pathlib import Path

import pytest

from assistant.author.attempt import attempt
from assistant.author.trial import Trial
from assistant.author.watching import Watch
from assistant.call.prompts import CheckOut
from assistant.errors import UnknownNameError
from assistant.session.session import Accepted, Information, Rejected
from tests.author.conftest import edit

TO_THE_WAIT = ("22", "clean", "0 ft", "68.6", "70")
"""Replies up to the step that waits."""


@pytest.fixture
def file(old: Path) -> Path:
    return old / "small.yaml"


def begun(file: Path, *replies: str, node: str | None = None, **given: tuple[str, ...]) -> Trial:
    """A trial after replies that are all answers."""
    trial = Trial.of(attempt(file), node, given)
    for reply in replies:
        assert isinstance(trial.say(reply), Accepted), reply
    return trial


def asked(trial: Trial) -> str | None:
    """The name of what is asked."""
    return trial.prompt.name if trial.prompt else None


def test_nothing_is_asked_but_what_the_tree_asks(file: Path) -> None:
    """No complaint and no choice of a tree; the first fact comes first, and no call is begun in any record."""
    trial = begun(file)
    assert asked(trial) == "refrigerant"
    trial.say("22")
    assert (asked(trial), trial.at) == ("filter_condition", "air")
    assert (trial.store, trial.number) == (None, None)


def test_a_save_keeps_the_answers_that_still_apply(file: Path) -> None:
    """The limit moves, the answers stay, and what became of the call is said."""
    trial = begun(file, *TO_THE_WAIT)
    assert asked(trial) == "do wait_settled @ starved"
    edit(file, "superheat > limits.high_superheat", "superheat > 50 F")
    assert trial.take_up(attempt(file)) == ("Saved. The call goes another way from feed on, to no_fault (all_well).",)
    assert (trial.prompt, trial.at) == (None, "all_well")
    edit(file, "superheat > 50 F", "superheat > 15 F")
    trial.take_up(attempt(file))
    assert asked(trial) == "do wait_settled @ starved"


def test_a_save_of_something_else_changes_nothing(file: Path) -> None:
    """A comment goes unnoticed, and that is said."""
    trial = begun(file, *TO_THE_WAIT)
    edit(file, "# Air before anything else.", "# Air first.")
    assert trial.take_up(attempt(file)) == ("Saved. The call goes as it did.",)
    assert asked(trial) == "do wait_settled @ starved"


def test_a_mistake_leaves_the_last_good_tree(file: Path) -> None:
    """The old tree stays walkable, the mistake has its place, and mending it takes the new tree up."""
    trial = begun(file, *TO_THE_WAIT[:2])
    edit(file, "superheat > limits.high_superheat", "superheat > 25")
    assert trial.take_up(attempt(file)) == ()
    assert trial.is_behind
    assert [(problem.code, problem.place.line) for problem in trial.problems] == [("kind-no-unit", 21)]
    for reply in TO_THE_WAIT[2:]:
        assert isinstance(trial.say(reply), Accepted)
    assert asked(trial) == "do wait_settled @ starved"
    edit(file, "superheat > 25", "superheat > 50 F")
    trial.take_up(attempt(file))
    assert (trial.is_behind, trial.problems, trial.at) == (False, (), "all_well")


def test_a_mistake_that_stops_no_walk_is_told_and_walked(file: Path) -> None:
    """A node to which no way leads yet can be tried, and is reported."""
    trial = begun(file)
    edit(file, "  choked:\n", "  lonely: {undecided: Nobody comes here.}\n  choked:\n")
    trial.take_up(attempt(file))
    assert not trial.is_behind
    assert [problem.code for problem in trial.problems] == ["tree-unreached"]
    response = trial.say("jump lonely")
    assert response == Accepted(("Begun at lonely. No way leads there from the start.",))


def test_a_renamed_node_takes_its_answers_along(file: Path) -> None:
    """The action that was done stays done under the node's new name."""
    trial = begun(file, *TO_THE_WAIT, "done")
    assert trial.at == "all_well"
    edit(file, "starved", "hungry")
    trial.take_up(attempt(file))
    assert trial.at == "all_well"
    assert "do wait_settled @ hungry" in {answer.name for answer in trial.conversation.used}


def test_the_start_follows_a_renamed_node_and_leaves_a_lost_one(file: Path) -> None:
    """A trial that began at a node begins at it under its new name; when the node is gone, at the start of the tree."""
    trial = begun(file, node="starved", refrigerant=("R-22",))
    edit(file, "starved", "hungry")
    trial.take_up(attempt(file))
    assert trial.at == "hungry"
    text = file.read_text(encoding="utf-8")
    file.write_text(text[: text.index("  hungry:")] + text[text.index("  choked:") :], encoding="utf-8")
    edit(file, "go: hungry", "go: open_end")
    assert trial.take_up(attempt(file)) == (
        "Saved. There is no node hungry any more, so the call begins at the start.",
    )
    assert trial.at == "air"


def test_a_deleted_file_leaves_the_last_good_tree(file: Path) -> None:
    """The call goes on, and the file that is missing is named."""
    trial = begun(file)
    file.unlink()
    trial.take_up(attempt(file))
    assert [problem.code for problem in trial.problems] == ["file-missing"]
    assert isinstance(trial.say("22"), Accepted)


def test_the_catalogue_and_the_calls_are_taken_up(file: Path) -> None:
    """A limit in the catalogue moves the call; a slip in the calls' file is told, and does not stop it."""
    trial = begun(file, *TO_THE_WAIT)
    edit(file.parent / "catalogue" / "limits.yaml", "high_superheat:\n  value: 20 F", "high_superheat:\n  value: 40 F")
    trial.take_up(attempt(file))
    assert trial.at == "all_well"
    edit(file.with_name("small.calls.yaml"), "reaches: undecided", "reaches: undecidedly")
    trial.take_up(attempt(file))
    assert [problem.code for problem in trial.problems] == ["name-unknown"]
    assert (trial.is_behind, trial.at) == (False, "all_well")


def test_an_answer_that_no_longer_fits_is_asked_again(file: Path) -> None:
    """A choice that the catalogue has no more is told, and its question stands again."""
    trial = begun(file, "22", "clogged")
    edit(file, "filter_condition is clogged", "filter_condition is dirty")
    observations = file.parent / "catalogue" / "observations.yaml"
    text = observations.read_text(encoding="utf-8")
    begin = text.index("\nfilter_condition:")
    line = text.index("    clogged:", begin)
    observations.write_text(text[:line] + text[text.index("\n", line) + 1 :], encoding="utf-8")
    notes = trial.take_up(attempt(file))
    assert asked(trial) == "filter_condition"
    assert any(note.startswith("An earlier answer does not fit any more") for note in notes)


def test_a_used_tree_is_taken_up(file: Path) -> None:
    """A save of the tree that the tried one hands over to moves the call."""
    used = file.with_name("bench.yaml")
    used.write_text(
        "tree: bench\nversion: 1\ntitle: Bench\ncomplaints: [bench]\nstart: look\nnodes:\n  look:\n"
        "    ask: sight_glass\n    decide:\n      - when: sight_glass is clear\n        go: fine\n"
        "      - cannot_tell: open\n      - otherwise: open\n  fine: {no_fault: Clear.}\n  open: {undecided: Open.}\n",
        encoding="utf-8",
    )
    edit(file, "  open_end: {undecided: Come back with gauges.}", "  open_end: {use: bench}")
    edit(file.with_name("small.calls.yaml"), "reaches: undecided", "reaches: no_fault")
    trial = begun(file, *TO_THE_WAIT, "cannot do", "clear")
    assert (trial.problems, trial.at) == ((), "open_end/fine")
    edit(used, "sight_glass is clear", "sight_glass is bubbling")
    trial.take_up(attempt(file))
    assert trial.at == "open_end/open"


def test_jumping_keeps_what_was_known_when_the_call_came_there(file: Path) -> None:
    """Back at a node that was passed, what was asked in front of it is known, and what it asks is asked anew."""
    trial = begun(file, *TO_THE_WAIT)
    response = trial.say("jump feed")
    assert response == Accepted(("Begun at feed. Jumped over: air.",))
    assert asked(trial) == "altitude"
    assert trial.conversation.asked == ("refrigerant", "filter_condition")
    trial.say("jump air")
    assert asked(trial) == "filter_condition"


def test_jumping_ahead_keeps_all_that_is_known(file: Path) -> None:
    """An end that was never come to shows the evidence there is."""
    trial = begun(file, "22", "dirty")
    trial.say("jump choked")
    assert isinstance(trial.conversation.prompt, CheckOut)
    assert "filter_condition" in trial.conversation.asked


def test_an_unknown_node_suggests_the_nearest(file: Path) -> None:
    """A slip changes nothing and is answered with what was meant."""
    trial = begun(file, "22")
    assert trial.say("jump starvd") == Rejected("The tree has no node 'starvd'. Did you mean starved?")
    assert isinstance(trial.say("jump"), Rejected)
    assert trial.at == "air"
    with pytest.raises(UnknownNameError, match="Did you mean starved"):
        Trial.of(attempt(file), "starvd", {})


def test_a_trial_from_a_node_takes_its_answers_from_a_file(file: Path) -> None:
    """What is given is known in front of the node; what was jumped over is said with its cautions."""
    edit(file, "    ask: filter_condition\n", "    ask: filter_condition\n    caution: [moving_parts]\n")
    trial = begun(
        file,
        node="starved",
        refrigerant=("R-22",),
        altitude=("0 ft",),
        suction_pressure=("68.6 psig",),
        suction_line_temperature=("70 F",),
        starved=("done",),
    )
    assert trial.begun == "Begun at starved. Jumped over: air, feed. Cautions on that way: moving_parts."
    assert trial.at == "all_well"


def test_the_words_of_a_trial_are_in_its_help(file: Path) -> None:
    """Help names them; problems tells that there are none, examples how those calls end."""
    trial = begun(file)
    told = trial.say("help")
    assert isinstance(told, Information)
    assert [line.split()[0] for line in told.lines][-3:] == ["jump", "problems", "examples"]
    assert trial.say("problems") == Information("What is wrong", ("Nothing.",))
    ended = ("3 of 3 example calls end as they must.",)
    assert trial.say("examples") == Information("The example calls", ended)


def test_the_line_mode_looks_before_each_reply(file: Path) -> None:
    """A reply typed after a save answers nothing: the question may be another one."""
    trial = begun(file, *TO_THE_WAIT)
    trial.watch = Watch([file.parent])
    edit(file, "superheat > limits.high_superheat", "superheat > 50")
    response = trial.say("done")
    assert isinstance(response, Accepted)
    assert response.notices[0] == "The file has mistakes; you walk the tree as it was before them."
    assert any("50 has no unit" in line for line in response.notices)
    assert asked(trial) == "do wait_settled @ starved"
    assert isinstance(trial.say("done"), Accepted)
    assert trial.at == "all_well"
