"""Calls and files of the second format still open: the same answers, the same conversation, the same end."""

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from assistant.call.answers import Acted, Understood, Value, write_value
from assistant.call.keys import TREE, Topic
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.prompts import Acknowledge, DoStep, Prompt
from assistant.call.turns import Answered
from assistant.call.walk import walk
from assistant.practice.session.practice_call import PracticeCall
from assistant.session.responses import Accepted
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.store.exchange import exported, imported
from assistant.store.opening import save_into
from assistant.store.store import Store
from assistant.store.tables import FORMAT, version_of
from assistant.store.transcripts import read_transcript
from tests.answering import read_by

OLD = Path(__file__).parent / "format_2"
CALLS: dict[str, dict[str, Any]] = json.loads((OLD / "calls.json").read_text(encoding="utf-8"))
PRACTICE: dict[str, dict[str, Any]] = json.loads((OLD / "practice.json").read_text(encoding="utf-8"))
OWN = [number for number in CALLS if number != "8"]
"""The calls over the trees that are kept beside them; number 8 is over one that came with the program."""


@pytest.fixture(scope="module")
def old_trees() -> Library:
    """The trees over which the calls were made."""
    library, problems = load_library([shipped_folder("trees"), OLD / "trees"])
    assert not [problem for problem in problems if "old_" in problem.place.path]
    # As cautions came along with others then; a caution that comes along asks for the refrigerant in front of it.
    sparks = replace(
        library.catalogue.cautions["flammable_sparks"], joins=("live_measurement", "capacitor", "power_returns")
    )
    cautions = {**library.catalogue.cautions, sparks.name: sparks}
    return replace(library, catalogue=replace(library.catalogue, cautions=cautions))


def written_then(folder: Path, name: str) -> Path:
    """A record as the program wrote it then."""
    path = folder / name
    with closing(sqlite3.connect(path)) as db:
        db.executescript((OLD / name).with_suffix(".sql").read_text(encoding="utf-8"))
    return path


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(written_then(tmp_path, "calls.db")) as opened:
        yield opened


def name_then(prompt: Prompt) -> str:
    """What a prompt was called when a step had one thing to do, and its node's name stood for it."""
    return f"do {prompt.node}" if isinstance(prompt, DoStep) and prompt.key.topic is Topic.ACT else prompt.name


def told(session: Session) -> dict[str, Any]:
    """What a call says, in the form in which it was kept then."""
    call = session.conversation
    outcome = call.outcome
    return {
        "answered": [
            [name_then(turn.prompt), turn.answer.key.nth, turn.shown]
            for turn in call.turns
            if isinstance(turn, Answered) and not _is_before_repair(turn.prompt.name)
        ],
        "asked_next": name_then(call.prompt) if call.prompt else None,
        "unused": [
            [answer.name, answer.key.nth, answer.text]
            for answer in call.unused
            if answer.key.topic is not Topic.CAUTION
        ],
        "kept": [kept.node for kept in call.kept],
        "outcome": [outcome.kind, outcome.cause, outcome.proven] if outcome else None,
    }


def as_since(wanted: dict[str, Any]) -> dict[str, Any]:
    """What was kept then, without what was acknowledged in front of a repair: that is told with it since."""
    return wanted | {"answered": [one for one in wanted["answered"] if not _is_before_repair(one[0])]}


def _is_before_repair(name: str) -> bool:
    return name.startswith("caution ") and name.endswith(("@ charge/leak", "@ charge/narrow"))


def test_the_data_is_of_the_second_format(tmp_path: Path) -> None:
    """Else nothing here would be shown."""
    with closing(sqlite3.connect(written_then(tmp_path, "calls.db"))) as db:
        assert version_of(db) == 2 < FORMAT
        names = [name for (name,) in db.execute("SELECT name FROM line")]
    assert {name.split(" ")[0] for name in names if " " in name} == {"caution", "do", "close", "check", "settle"}
    assert any("/" in name for name in names)


@pytest.mark.parametrize("number", OWN)
def test_a_stored_call_is_the_same_conversation(old_trees: Library, store: Store, number: str) -> None:
    """Every answer is found at its question, and the call stands where it stood."""
    session = Session.resume(old_trees, store, int(number))
    assert session.news == ()
    found, wanted = told(session), as_since(CALLS[number])
    assert found == {part: wanted[part] for part in found}
    entry = store.entry(int(number))
    assert {part: getattr(entry, part) for part in ("title", "name", "status", "ending")} == {
        part: wanted[part] for part in ("title", "name", "status", "ending")
    }
    assert [note.text for note in store.notes(int(number))] == wanted["notes"]


def test_an_old_call_goes_on(old_trees: Library, store: Store) -> None:
    """What is answered now, taken back and changed is kept with what was answered then."""
    session = Session.resume(old_trees, store, 4)
    session.say("done")
    session.say("62 psig")
    session.say("change do wait_settled @ warm_hand")
    session.say("cannot do")
    session.say("change close starved")
    session.say("go on")
    for _ in range(3):
        session.say("back")
    again = Session.resume(old_trees, store, 4)
    assert again.conversation.turns == session.conversation.turns
    assert told(again)["answered"] == told(session)["answered"]
    while isinstance(again.say("back"), Accepted):
        pass
    left = [answer.name for answer in store.answers(4)]
    assert left == ["pressure_accuracy", "temperature_accuracy", "suction_pressure"]


@pytest.mark.parametrize("number", OWN)
def test_an_old_file_is_taken_in_and_goes_out_again(
    old_trees: Library, store: Store, tmp_path: Path, number: str
) -> None:
    """The file gives the same call as the record, and what is written of it now is read again as the same."""
    with Store(tmp_path / "other.db") as other:
        taken, _ = imported(other, OLD / f"call_{number}.yaml", old_trees)
        session = Session.resume(old_trees, other, taken)
        found, wanted = told(session), as_since(CALLS[number])
        assert found == {part: wanted[part] for part in found}
        assert sorted(other.answers(taken), key=str) == sorted(store.answers(int(number)), key=str)
        file = tmp_path / "again.yaml"
        file.write_text(exported(other, taken), encoding="utf-8")
        assert read_transcript(file).answers == read_transcript(OLD / f"call_{number}.yaml").answers


def test_a_call_over_a_shipped_tree_keeps_its_answers(library: Library, store: Store) -> None:
    """Trees change, so only what was answered is compared."""
    session = Session.resume(library, store, 8)
    assert {answer.key: write_value(answer.value) for answer in session.answers}[TREE] == "poor_heating"
    kept = [[answer.name, answer.key.nth] for answer in session.answers]
    assert sorted(kept) == sorted([["temperature_accuracy", 1], *(one[:2] for one in CALLS["8"]["answered"])])


@pytest.mark.parametrize("number", ["03", "05"])
def test_a_demo_call_of_then_is_one_of_now(library: Library, number: str) -> None:
    """Every answer of the old spelling is found where that is still asked; what is asked since then is as it is now."""
    now = read_transcript(next(shipped_folder("transcripts_demo").glob(f"{number}-*.yaml")))
    then = read_transcript(OLD / f"demo_{number}.yaml")
    answers = {answer.key: answer.value for answer in read_by(library, now.answers)}
    new = walk(library, read_by(library, now.answers))

    def as_now(prompt: Prompt) -> Value:
        return answers.get(prompt.key) or _as_since(prompt)

    old = walk(library, read_by(library, then.answers), fill=as_now)
    assert [one for one in old.unused if one.key in answers] == []
    assert (old.ended, old.outcome) == (new.ended, new.outcome)


def _as_since(prompt: Prompt) -> Value:
    """What answers a caution or an act that the call did not have then."""
    assert isinstance(prompt, Acknowledge | DoStep), prompt
    return Understood() if isinstance(prompt, Acknowledge) else Acted(is_done=True)


@pytest.mark.parametrize("number", list(PRACTICE))
def test_a_practice_call_of_then_goes_on(library: Library, tmp_path: Path, number: str) -> None:
    """What was done at the site, minute by minute, what was answered, and what was named."""
    with Store(written_then(tmp_path, "practice.db")) as store:
        session = PracticeCall.picked_up(library, store, int(number))
        wanted = PRACTICE[number]
        done = [[one.event.kind, one.event.name, one.minute, one.asked] for one in session.moments]
        assert done == wanted["moments"]
        answered = [[answer.name, answer.key.nth, answer.text] for answer in session.answers]
        assert answered == wanted["answers"]
        assert session.is_over == wanted["over"]
        assert list(session.named or ()) == (wanted["named"] or [])


def test_what_can_be_read_of_a_damaged_old_record_is_saved(old_trees: Library, tmp_path: Path) -> None:
    """Mending reads the lines of any format."""
    path = written_then(tmp_path, "calls.db")
    with Store(tmp_path / "fresh.db") as fresh:
        assert save_into(fresh, path).calls == len(CALLS)
        session = Session.resume(old_trees, fresh, 1)
        found, wanted = told(session), as_since(CALLS["1"])
    assert found == {part: wanted[part] for part in found}
