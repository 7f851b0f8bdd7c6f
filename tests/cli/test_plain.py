"""The call line by line, as pipes, dumb terminals and screen readers have it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.call.answers import DONE
from assistant.call.examples import run_example
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.wording import DISCLAIMER, conversation_lines
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.store.store import Store
from assistant.tree.examples import ExampleCall, read_calls
from tests.answering import written
from tests.cli.lines import REPLIES, STORED, folder_of_small, plain_lines

EXAMPLES = read_calls(shipped_folder("trees") / "poor_cooling.calls.yaml")[0]


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Library:
    library, problems = load_library(folder_of_small(tmp_path_factory.mktemp("trees")))
    assert problems == []
    return library


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as store:
        yield store


def test_a_whole_call_line_by_line(small: Library, store: Store) -> None:
    """From the complaint to the end: questions, choices, cautions, numbers and reasons, each as plain lines."""
    lines, _ = plain_lines(Session(small, store), REPLIES, echo=True)
    assert lines[0] == "What is the complaint?"
    assert '  1  Small  (matches "not cold")  (Enter)' in lines
    assert "CAUTION - Moving parts" in lines
    assert "Rule: 29 CFR 1910.147(d)." in lines
    assert "  0  cannot tell" in lines
    act = next(line for line in lines if line.startswith("DO: Let it settle."))
    assert "Measure again. What is the suction pressure? [psig]" in lines
    assert any(line.startswith("= Superheat at the outdoor unit: 22.") for line in lines)
    assert "NO FAULT FOUND" in lines
    assert lines[-2].startswith("The call has ended. It is kept: coilside calls list.")
    assert lines.index("CAUTION - Moving parts") < lines.index("Air first.") < lines.index(act)


@pytest.mark.parametrize("example", EXAMPLES[5::25], ids=lambda call: call.name)
def test_the_lines_reach_the_same_end_as_the_headless_walk(
    library: Library, store: Store, example: ExampleCall
) -> None:
    """An example call typed line by line ends where it must, and keeps the very answers."""
    wanted = run_example(library, "poor_cooling", example).conversation
    session = Session(library, store)
    lines, _ = plain_lines(session, [answer.text for answer in wanted.used])
    assert conversation_lines(session.conversation) == conversation_lines(wanted)
    assert session.number is not None
    assert [(one.key.topic, one.text) for one in store.answers(session.number)] == [
        (one.key.topic, one.text) for one in wanted.used
    ]
    concluded = wanted.outcome is not None and wanted.outcome.kind == "cause"
    assert (DISCLAIMER in " ".join(lines)) is concluded


def test_no_line_is_wider_than_the_screen(library: Library, store: Store) -> None:
    """At 80 columns no line runs over, so nothing is cut on the smallest terminal."""
    wanted = run_example(library, "poor_cooling", EXAMPLES[30]).conversation
    lines, _ = plain_lines(Session(library, store), [answer.text for answer in wanted.used])
    assert max(map(len, lines)) <= 80
    assert len(lines) > 50


def test_the_end_of_the_input_keeps_the_call(small: Library, store: Store) -> None:
    """When the input ends in the middle, what was answered is kept, and how to go on is told."""
    lines, _ = plain_lines(Session(small, store), REPLIES[:5])
    assert lines[-1] == "Call 1 is kept. Pick it up with: coilside call --plain --resume 1"
    assert [(answer.name, answer.text) for answer in store.answers(1)] == list(STORED[:5])


def test_an_input_of_nothing_keeps_nothing(small: Library, store: Store) -> None:
    """When nothing was answered, no call is kept."""
    lines, _ = plain_lines(Session(small, store), ())
    assert lines == ["What is the complaint?", "", "Nothing was answered, so nothing is kept."]
    assert store.entries() == []


def test_quit_stops_at_once(small: Library, store: Store) -> None:
    """What stands behind quit in the input is not read."""
    plain_lines(Session(small, store), (*REPLIES[:4], "quit", "clogged"))
    assert len(store.answers(1)) == 4


def test_resume_shows_the_call_so_far_and_goes_on(small: Library, store: Store) -> None:
    """A picked-up call shows all that was said, asks the open question, and ends as if it had never stopped."""
    plain_lines(Session(small, store), REPLIES[:5])
    lines, counts = plain_lines(Session.resume(small, store, 1), REPLIES[5:])
    before = lines[: counts[0]]
    assert "> it is not cold" in before
    assert "> clean" in before
    assert before[-1] == "What is the suction pressure? [psig]"
    assert lines[-2].startswith("The call has ended. It is kept: coilside calls list.")
    assert [(answer.name, answer.text) for answer in store.answers(1)] == list(STORED)


def test_replies_are_written_out_for_a_pipe(small: Library, store: Store) -> None:
    """With echo a transcript holds what was typed; without it the terminal shows it already."""
    with_echo, _ = plain_lines(Session(small, store), REPLIES[:3], echo=True)
    without, _ = plain_lines(Session(small, store), REPLIES[:3])
    assert [line for line in with_echo if line.startswith(">")] == ["> it is not cold", ">", "> 22"]
    assert not [line for line in without if line.startswith(">")]


def test_an_answered_question_is_not_shown_twice(small: Library, store: Store) -> None:
    """What was asked and typed stands on the screen once."""
    lines, _ = plain_lines(Session(small, store), REPLIES, echo=True)
    assert lines.count("How does the air filter look?") == 1
    assert lines.count("Measure again. What is the suction pressure? [psig]") == 1


def test_a_correction_shows_what_follows_anew(small: Library, store: Store) -> None:
    """After a change the new answer and all that now follows from it are shown."""
    lines, counts = plain_lines(Session(small, store), (*REPLIES[:5], "change filter_condition", "clogged"))
    after = lines[counts[6] :]
    assert lines[counts[5] :].count("Changing: How does the air filter look?") == 1
    assert f"LIKELY CAUSE - {small.catalogue.causes['dirty_filter'].title}" in after
    assert "What is the suction pressure? [psig]" not in after


def test_garbage_is_answered_and_asked_again(small: Library, store: Store) -> None:
    """A reply that is none gets one plain sentence; the question stands."""
    lines, _ = plain_lines(Session(small, store), (*REPLIES[:4], "\x1b[2Jwhat\u202e", "clean"))
    assert any(line.startswith("Answer with a number from 1 to 4") for line in lines)
    assert all(line.isprintable() for line in lines)
    assert store.answers(1)[-1] == written("filter_condition", "clean")


def test_stored_control_characters_never_reach_the_screen(small: Library, store: Store) -> None:
    """A record that holds control characters, as from another hand, is shown without them."""
    number = store.new_call()
    store.record(number, "set", written("complaint", "not \x1b]0;cold\x07\u202e"))
    lines, _ = plain_lines(Session.resume(small, store, number), ())
    assert all(line.isprintable() for line in lines)
    assert "> not ]0;cold" in lines


def test_an_answer_that_fits_no_more_says_why(small: Library, store: Store) -> None:
    """A stored answer that cannot be used is told, with its question below."""
    number = store.new_call()
    for name, text in (*STORED[:4], ("filter_condition", "furry")):
        store.record(number, "set", written(name, text))
    lines, counts = plain_lines(Session.resume(small, store, number), ("clean", "73", DONE))
    assert any(line.startswith("The stored answer does not fit:") for line in lines[: counts[0]])
    assert "How does the air filter look?" in lines[: counts[0]]
    assert store.answers(number)[4] == written("filter_condition", "clean")


def test_another_call_can_be_begun_after_the_end(small: Library, store: Store) -> None:
    """The word new begins with the complaint again; both calls are kept, each with its own answers."""
    lines, counts = plain_lines(Session(small, store), (*REPLIES, "new", *REPLIES[:4]))
    assert "What is the complaint?" in lines[counts[len(REPLIES)] :]
    assert [entry.number for entry in store.entries()] == [2, 1]
    assert [(answer.name, answer.text) for answer in store.answers(1)] == list(STORED)
    assert len(store.answers(2)) == 4


def test_an_ended_call_can_still_be_corrected(small: Library, store: Store) -> None:
    """Words work after the end; a correction there is worked through as ever."""
    lines, _ = plain_lines(Session(small, store), (*REPLIES, "change filter_condition", "clogged"))
    assert f"LIKELY CAUSE - {small.catalogue.causes['dirty_filter'].title}" in lines


def test_enter_leaves_an_ended_call(small: Library, store: Store) -> None:
    """Nothing typed is no answer any more; what stands behind it is not read."""
    plain_lines(Session(small, store), (*REPLIES, "", "new"))
    assert len(store.entries()) == 1


def test_a_value_can_be_tried_without_keeping_it(small: Library, store: Store) -> None:
    """What would change is told; the record and the open question stay as they were."""
    lines, _ = plain_lines(Session(small, store), (*REPLIES[:5], "what if filter_condition clogged"))
    assert "If air filter were clogged (nothing is kept)" in lines
    assert any(small.catalogue.causes["dirty_filter"].title in line for line in lines)
    assert [(answer.name, answer.text) for answer in store.answers(1)] == list(STORED[:5])
