"""An answer is a typed value: read once at the door, kept in one form, and read back as the same value."""

import sys
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import quantity
from assistant.call.answers import (
    CANNOT_TELL,
    UNTOLD,
    Acted,
    Answer,
    Charged,
    Chosen,
    GoOn,
    HoldsUp,
    Measured,
    MeasureFirst,
    OwnWords,
    Remeasure,
    Understood,
    Value,
    Written,
    write_answer,
)
from assistant.call.asking import ask_for
from assistant.call.keys import COMPLAINT, NodeAt, PromptKey, Topic, entry_key
from assistant.call.library import Library
from assistant.call.prompts import AskChoice, AskQuantity, AskRefrigerant
from assistant.call.replies import read_written, tidy
from assistant.catalogue.catalogue import Catalogue
from assistant.quantity import unit_named, unit_names
from assistant.session.responses import Accepted
from assistant.session.session import Session
from assistant.store.store import Store
from assistant.store.transcripts import Transcript, read_transcript, transcript_text
from assistant.thermo.refrigerants import all_refrigerants
from tests.answering import shipped_catalogue

CATALOGUE = shipped_catalogue()
AT = NodeAt("poor_cooling", "superheat")
SPACED = st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" "), min_size=1, max_size=60).map(tidy)
PLACED: dict[Topic, st.SearchStrategy[Value]] = {
    Topic.ACT: st.builds(Acted, st.booleans()),
    Topic.SETTLE: st.builds(Acted, st.booleans()),
    Topic.CLOSE_CALL: st.just(GoOn()) | st.builds(Remeasure, st.sampled_from(list(CATALOGUE.readings))),
    Topic.CHECK_OUT: st.builds(HoldsUp, st.booleans()) | st.just(MeasureFirst()) | st.just(UNTOLD),
}


@st.composite
def entries(draw: st.DrawFn) -> Answer:
    """An answer to any fact, reading or observation of the catalogue."""
    name = draw(st.sampled_from(list(CATALOGUE.taking_order)))
    prompt = ask_for(name, CATALOGUE, "us", ())
    key = entry_key(name, draw(st.integers(1, 5)))
    if draw(st.integers(0, 4)) == 0:
        return Answer(key, UNTOLD)
    match prompt:
        case AskQuantity():
            unit = unit_named(draw(st.sampled_from(unit_names(prompt.kind))), prompt.kind)
            assert unit is not None
            typed = f"{draw(st.floats(0, 1000, allow_nan=False)):.{draw(st.integers(0, 9))}f} {unit.symbol}"
            return Answer(key, Measured(quantity.parse(typed, prompt.kind)))
        case AskChoice():
            return Answer(key, Chosen(draw(st.sampled_from(prompt.choices)).name))
        case AskRefrigerant():
            return Answer(key, Charged(draw(st.sampled_from([one.designation for one in all_refrigerants()]))))
        case _:
            raise AssertionError(prompt)


ANSWERS = st.one_of(
    entries(),
    st.builds(Answer, st.just(COMPLAINT), st.builds(OwnWords, SPACED.filter(bool))),
    st.builds(
        Answer, st.just(PromptKey(Topic.TREE)), st.builds(Chosen, st.sampled_from(["poor_cooling", "all trees"]))
    ),
    st.builds(
        Answer,
        st.builds(PromptKey, st.just(Topic.CAUTION), st.sampled_from(list(CATALOGUE.cautions)), st.just(AT)),
        st.just(Understood()),
    ),
    *(
        st.builds(Answer, st.builds(PromptKey, st.just(topic), st.just(""), st.just(AT), st.integers(1, 5)), values)
        for topic, values in PLACED.items()
    ),
)


def read_again(answer: Answer) -> Answer:
    return read_written(write_answer(answer), CATALOGUE, "us")


@given(ANSWERS)
def test_what_is_kept_is_read_back_as_the_same_value(answer: Answer) -> None:
    """The one form of an answer gives the equal value, for every kind of prompt and in every unit."""
    first = read_again(answer)
    beyond = isinstance(answer.value, Measured) and first.value != answer.value
    if beyond:
        # A number beyond belief is kept, and told where it is asked.
        assert write_answer(first) == write_answer(answer)
        return
    assert first == answer


@given(st.lists(ANSWERS, min_size=1, max_size=8, unique_by=lambda answer: answer.key))
def test_the_file_and_the_record_keep_the_same_form(
    tmp_path_factory: pytest.TempPathFactory, answers: list[Answer]
) -> None:
    """What a file and what the record hold of answers is read as the same keys and texts."""
    written = tuple(sorted(map(write_answer, answers), key=lambda one: one.key.nth))
    folder = tmp_path_factory.mktemp("kept")
    file = folder / "call.yaml"
    file.write_text(transcript_text(Transcript("t", "", written)), encoding="utf-8")
    with Store(folder / "calls.db") as store:
        number = store.new_call()
        for one in written:
            store.record(number, "set", one)
        assert store.answers(number) == written
    assert sorted(read_transcript(file).answers, key=str) == sorted(written, key=str)


@pytest.fixture
def parses(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The texts that are read as quantities from now on."""
    texts: list[str] = []
    real = quantity.parse

    def counted(text: str, *more: Any) -> quantity.Quantity:
        texts.append(text)
        return real(text, *more)

    for name, module in list(sys.modules.items()):
        if name.startswith("assistant.") and getattr(module, "parse", None) is real:
            monkeypatch.setattr(module, "parse", counted)
    return texts


def test_a_typed_reading_is_read_once(library: Library, store_path: Any, parses: list[str]) -> None:
    """From the keyboard to the record, the conversation and its numbers, 118 psig is parsed once."""
    with Store(store_path) as store:
        session = Session.begin(library, store)
        for reply in ("not cooling enough", "poor_cooling", "R-410A"):
            assert isinstance(session.say(reply), Accepted)
        while session.prompt is not None and session.prompt.key != entry_key("suction_pressure"):
            prompt = session.prompt
            typed = {"minutes_running": "20 min", "outdoor_air_temperature": "95 F", "altitude": "0 ft"}
            usual = "1" if isinstance(prompt, AskChoice) else "ok"
            caution = str(getattr(prompt, "place", 0)) if getattr(prompt, "is_listed", False) else usual
            choice = {"outdoor_unit": "all_well", "metering_device": "txv"}.get(prompt.name)
            assert isinstance(session.say(typed.get(prompt.name) or choice or caution), Accepted), prompt
        parses.clear()
        assert isinstance(session.say("118 psig"), Accepted)
        assert parses == ["118 psig"]
        number = session.number
        assert number is not None
        parses.clear()
        again = Session.resume(library, store, number)
        read = list(parses)
        assert read.count("118 psig") == 1
        parses.clear()
        again.say("back")
        assert parses == []


@pytest.fixture
def store_path(tmp_path: Any) -> Any:
    return tmp_path / "calls.db"


def test_an_answer_of_another_catalogue_is_kept_and_told(catalogue: Catalogue) -> None:
    """What cannot be read any more keeps its text."""
    gone = Answer(entry_key("filter_condition"), Chosen("furry"))
    again = read_written(write_answer(gone), catalogue, "us")
    assert write_answer(again) == write_answer(gone)
    assert again.value != gone.value


def test_each_choice_of_the_catalogue_is_read_again_as_itself(catalogue: Catalogue) -> None:
    """By its name, and by what is kept of it: "unknown" as a choice of its own is not "cannot tell"."""
    for entry in (*catalogue.observations.values(), *catalogue.facts.values()):
        for choice in entry.choices:
            answer = read_written(Written(entry_key(entry.name), choice), catalogue, "us")
            assert answer.value == Chosen(choice), entry.name
            assert read_written(write_answer(answer), catalogue, "us") == answer
    untold = read_written(Written(entry_key("charge_history"), CANNOT_TELL), catalogue, "us")
    assert untold.value == UNTOLD
