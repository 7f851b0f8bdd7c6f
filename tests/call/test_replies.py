"""What typed replies mean, and that nothing typed can break a call."""

import pytest

from assistant.call import keys
from assistant.call.answers import (
    CANNOT_DO,
    CANNOT_TELL,
    DONE,
    GO_ON,
    NO,
    UNDERSTOOD,
    YES,
    Answer,
    Chosen,
    write_answer,
    write_value,
)
from assistant.call.keys import entry_key
from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    Choice,
    CloseCall,
    DoStep,
    Prompt,
)
from assistant.call.replies import COMMANDS, LONGEST_REPLY, Command, Given, Unclear, read_reply, read_written, why_unfit
from assistant.quantity import Kind, parse, unit_named
from tests.answering import key_of, shipped_catalogue

PSIG = unit_named("psig", Kind.PRESSURE)
assert PSIG is not None

PRESSURE = AskQuantity(
    key=entry_key("suction_pressure"),
    question="What is the suction pressure?",
    title="Suction pressure",
    kind=Kind.PRESSURE,
    unit=PSIG,
    low=parse("-12 psig", Kind.PRESSURE),
    high=parse("300 psig", Kind.PRESSURE),
)
FEET = unit_named("ft", Kind.LENGTH)
assert FEET is not None
ALTITUDE = AskQuantity(
    key=entry_key("altitude"), question="How high?", title="Altitude", kind=Kind.LENGTH, unit=FEET, default="0 ft"
)
FILTER = AskChoice(
    key=entry_key("filter_condition"),
    question="How does the filter look?",
    title="Air filter",
    choices=(
        Choice("clean", "clean"),
        Choice("dirty", "grey, but light comes through"),
        Choice("clogged", "clogged, bowed or wet; hardly any light comes through"),
        Choice("not_there", "there is none"),
    ),
)
DEVICE = AskChoice(
    key=entry_key("mode"),
    question="Which mode?",
    title="Mode",
    choices=(Choice("cooling", "cooling"), Choice("heating", "heating (heat pump)")),
    default="cooling",
    can_be_unknown=False,
)
REFRIGERANT = AskRefrigerant(key=entry_key("refrigerant"), question="Which refrigerant?", title="Refrigerant")
COMPLAINT = AskText(key=keys.COMPLAINT, question="What is the complaint?")
CAUTION = Acknowledge(
    key=key_of("caution x @ y"),
    question="Type ok.",
    caution="x",
    title="Moving parts",
    text="Fans start.",
    rule="a rule",
)
STEP = DoStep(key=key_of("do warm_bulb"), question="Warm the bulb.")
CLOSE = CloseCall(
    key=key_of("close feed"),
    question="Go on?",
    node="feed",
    leans_to="starved",
    leanings=(),
    readings=(
        Choice("suction_pressure", "measure again: suction pressure"),
        Choice("suction_line_temperature", "measure again: suction line temperature"),
    ),
)
CHECK = CheckOut(key=key_of("check undercharge"), question="Proven?", kept=1)
PROMPTS: list[Prompt] = [PRESSURE, ALTITUDE, FILTER, DEVICE, REFRIGERANT, COMPLAINT, CAUTION, STEP, CLOSE, CHECK]


def taken(prompt: Prompt, typed: str) -> str:
    """What is stored for a reply, which must be an answer."""
    reply = read_reply(prompt, typed)
    assert isinstance(reply, Given), reply
    return write_value(reply.value)


BUT_TEXT = [prompt for prompt in PROMPTS if prompt is not COMPLAINT]


@pytest.mark.parametrize("prompt", BUT_TEXT, ids=lambda prompt: prompt.name)
def test_every_command_word_works_at_every_question(prompt: Prompt) -> None:
    """A command is a command wherever something is asked, in any case and with spaces around it."""
    for word in COMMANDS:
        assert read_reply(prompt, f"  {word.upper()} ") == Command(word)


@pytest.mark.parametrize(
    ("typed", "command"),
    [
        ("?", Command("help")),
        ("q", Command("quit")),
        ("exit", Command("quit")),
        ("undo", Command("back")),
        ("why?", Command("why")),
        ("change suction pressure", Command("change", "suction pressure")),
        ("Change FILTER_CONDITION", Command("change", "filter_condition")),
        ("work superheat", Command("work", "superheat")),
    ],
)
def test_commands_have_short_forms_and_arguments(typed: str, command: Command) -> None:
    """Short words stand for commands, and change and work take a name."""
    assert read_reply(PRESSURE, typed) == command


@pytest.mark.parametrize("typed", ["back to the shop", "help me", "why not", "quit it"])
def test_a_sentence_that_begins_with_a_command_word_is_no_command(typed: str) -> None:
    """Only change and work may be followed by something."""
    assert not isinstance(read_reply(FILTER, typed), Command)
    assert taken(COMPLAINT, typed) == typed


@pytest.mark.parametrize("word", ["help", "quit", "back", "why"])
def test_a_complaint_can_still_be_left(word: str) -> None:
    """At the complaint, which takes any words, the commands to leave, to go back and to ask still work."""
    assert read_reply(COMPLAINT, word) == Command(word)


@pytest.mark.parametrize("typed", ["change", "work", "answers", "no work done", "Change of air"])
def test_other_words_are_a_complaint(typed: str) -> None:
    """Words that name nothing yet are taken as the complaint that they may be."""
    assert taken(COMPLAINT, typed) == typed


@pytest.mark.parametrize(
    ("typed", "choice"),
    [
        ("1", "clean"),
        ("3", "clogged"),
        ("03", "clogged"),
        ("clogged", "clogged"),
        ("CLOGGED.", "clogged"),
        ("clo", "clogged"),
        ("grey", "dirty"),
        ("Grey, but light comes through", "dirty"),
        ("not there", "not_there"),
        ("not-there", "not_there"),
        ("there is none", "not_there"),
        ("0", CANNOT_TELL),
        ("cannot tell", CANNOT_TELL),
        ("Can’t get at it", CANNOT_TELL),
        ("don't know", CANNOT_TELL),
        ("n/a", CANNOT_TELL),
    ],
)
def test_a_choice_by_number_name_words_or_beginning(typed: str, choice: str) -> None:
    """A choice is meant by its number, its name, its words, or a beginning that only one has."""
    assert taken(FILTER, typed) == choice


def test_a_choice_that_is_called_like_a_command_is_an_answer() -> None:
    """Where "same" is one of the choices, it answers; elsewhere it takes the facts of the last call over."""
    choices = (Choice("warmer", "warmer on the way out"), Choice("same", "the same on both sides"))
    prompt = AskChoice(key=entry_key("reversing_valve"), question="How warm?", title="Reversing valve", choices=choices)
    assert read_reply(prompt, "same") == Given(Chosen("same"))
    assert read_reply(FILTER, "same") == Command("same")


@pytest.mark.parametrize("typed", ["", "5", "-1", "1.5", "99999", "cl", "c", "maybe", "1 or 2", "²", "yes"])
def test_an_unclear_choice_is_asked_back(typed: str) -> None:
    """What fits no choice or several is never guessed."""
    reply = read_reply(FILTER, typed)
    assert isinstance(reply, Unclear)
    assert "number from 1 to 4" in reply.message


def test_a_near_miss_is_a_question_and_no_answer() -> None:
    """A misspelt choice is named, but not taken."""
    reply = read_reply(FILTER, "cloged")
    assert isinstance(reply, Unclear)
    assert "Did you mean 'clogged, bowed or wet" in reply.message


def test_enter_takes_the_usual_one_only_where_there_is_one() -> None:
    """Enter alone answers a question that has a usual answer, and no other."""
    assert taken(DEVICE, "") == "cooling"
    assert taken(ALTITUDE, "  ") == "0 ft"
    assert isinstance(read_reply(FILTER, ""), Unclear)
    assert isinstance(read_reply(PRESSURE, ""), Unclear)
    assert isinstance(read_reply(REFRIGERANT, ""), Unclear)


@pytest.mark.parametrize("typed", ["0", "cannot tell", "no idea"])
def test_what_must_be_known_cannot_be_unknown(typed: str) -> None:
    """Where "cannot tell" is no answer, it is not taken as one."""
    assert isinstance(read_reply(DEVICE, typed), Unclear)


@pytest.mark.parametrize(
    ("typed", "stored"),
    [
        ("118", "118 psig"),
        ("118 psig", "118 psig"),
        ("118psi", "118 psig"),
        ("814 kPa", "814 kPa"),
        ("132.7 psia", "132.7 psia"),
        ("8,1 bar", "8.1 bar"),
        ("about 118", "118 ± 0.5 psig"),
        ("−5", "-5 psig"),
        ("cannot tell", CANNOT_TELL),
        ("can't", CANNOT_TELL),
    ],
)
def test_a_reading_is_stored_with_its_unit(typed: str, stored: str) -> None:
    """A bare number takes the unit of the question; another unit stays what was typed."""
    assert taken(PRESSURE, typed) == stored


@pytest.mark.parametrize("typed", ["118 F", "118 furlongs", "a lot", "12,34,5", "1e5", "nan", "inf", "118 psig 5"])
def test_a_reading_that_is_none_tells_what_is_wanted(typed: str) -> None:
    """What is no pressure is answered with forms that are, and with the way out."""
    reply = read_reply(PRESSURE, typed)
    assert isinstance(reply, Unclear)
    assert "a pressure such as 118" in reply.message
    assert "cannot tell" in reply.message


@pytest.mark.parametrize("typed", ["301", "-13", "1180", "5000 kPa"])
def test_a_reading_that_cannot_be_is_asked_back(typed: str) -> None:
    """A reading beyond what can be believed is not taken, and the reach is told."""
    reply = read_reply(PRESSURE, typed)
    assert isinstance(reply, Unclear)
    assert "-12 psig and 300 psig" in reply.message


@pytest.mark.parametrize(
    ("typed", "stored"),
    [("22", "R-22"), ("r410a", "R-410A"), ("R 454 B", "R-454B"), ("410A.", "R-410A"), ("unknown", CANNOT_TELL)],
)
def test_a_refrigerant_in_any_spelling(typed: str, stored: str) -> None:
    """The designation is stored, however it was typed."""
    assert taken(REFRIGERANT, typed) == stored


def test_an_unknown_refrigerant_is_not_replaced_by_a_near_one() -> None:
    """R-401A is no R-410A: the near one is only named."""
    reply = read_reply(REFRIGERANT, "R-411A")
    assert isinstance(reply, Unclear)
    assert "R-410A" in reply.message


@pytest.mark.parametrize(
    ("prompt", "typed", "stored"),
    [
        (CAUTION, "ok", UNDERSTOOD),
        (CAUTION, "Understood.", UNDERSTOOD),
        (CAUTION, "Got it!", UNDERSTOOD),
        (STEP, "done", DONE),
        (STEP, "ok", DONE),
        (STEP, "1", DONE),
        (STEP, "2", CANNOT_DO),
        (STEP, "cannot do", CANNOT_DO),
        (STEP, "no", CANNOT_DO),
        (STEP, "can't get at it", CANNOT_DO),
        (CHECK, "yes", YES),
        (CHECK, "Nope", NO),
        (CHECK, "1", YES),
        (CHECK, "2", NO),
        (CHECK, "0", CANNOT_TELL),
        (CHECK, "not now", CANNOT_TELL),
        (CHECK, "not sure", CANNOT_TELL),
        (CLOSE, "", GO_ON),
        (CLOSE, "1", GO_ON),
        (CLOSE, "go on", GO_ON),
        (CLOSE, "2", "suction_pressure"),
        (CLOSE, "suction pressure", "suction_pressure"),
        (CLOSE, "measure again: suction line temperature", "suction_line_temperature"),
    ],
)
def test_plain_words_answer_the_other_prompts(prompt: Prompt, typed: str, stored: str) -> None:
    """Cautions, steps, close calls and checks take the words a person would use."""
    assert taken(prompt, typed) == stored


@pytest.mark.parametrize(
    ("prompt", "typed"),
    [(CAUTION, "maybe"), (CAUTION, ""), (STEP, ""), (STEP, "later"), (CLOSE, "4"), (CLOSE, "measure again"),
     (CHECK, ""), (CHECK, "perhaps")],
)  # fmt: skip
def test_what_is_no_answer_is_asked_back(prompt: Prompt, typed: str) -> None:
    """A reply that says neither is answered with what can be typed."""
    reply = read_reply(prompt, typed)
    assert isinstance(reply, Unclear)
    assert reply.message


@pytest.mark.parametrize(
    ("prompt", "typed"),
    [(PRESSURE, "118"), (ALTITUDE, ""), (FILTER, "3"), (FILTER, "0"), (DEVICE, ""), (REFRIGERANT, "22"),
     (COMPLAINT, "not cooling"), (CAUTION, "ok"), (STEP, "done"), (STEP, "no"), (CLOSE, ""), (CLOSE, "2"),
     (CHECK, "no"), (CHECK, "not sure")],
)  # fmt: skip
def test_a_stored_answer_reads_back_as_itself(prompt: Prompt, typed: str) -> None:
    """What is stored for a reply is read again as the same answer, so that a call can be picked up."""
    reply = read_reply(prompt, typed)
    assert isinstance(reply, Given)
    stored = write_answer(Answer(prompt.key, reply.value))
    again = read_written(stored, shipped_catalogue(), "us")
    assert again.value == reply.value
    assert why_unfit(prompt, again.value) is None


GARBAGE = {
    "long paste": "x" * (LONGEST_REPLY + 1),
    "very long paste": "73 psig " * 200_000,
    "control characters": "\x00\x07\x1b[2J\x1b]0;title\x07",
    "delete and backspace": "\x7f\x08\x08",
    "right to left": "\u202e\u2067\u200f",
    "emoji": "🙂🧊🔥",
    "joined emoji": "👩‍🔧",
    "combining marks": "a" + "\u0301" * 500,
    "only spaces": " \t \u3000\u00a0 ",
    "lines": "\r\n\n\r",
    "lone surrogate": "\udcff\udc80",
    "markup": "[bold]x[/bold] {0} %s <b> $(id)",
    "quotes": "'; DROP TABLE call; --",
    "digits of another script": "٣٤",
    "one of a million digits": "9" * 1999,
}


@pytest.mark.parametrize("garbage", GARBAGE.values(), ids=GARBAGE.keys())
def test_garbage_is_answered_and_never_breaks(garbage: str) -> None:
    """Whatever is typed or pasted is an answer or a plain sentence, and nothing unprintable comes back."""
    for prompt in PROMPTS:
        reply = read_reply(prompt, garbage)
        assert isinstance(reply, Given | Unclear), prompt.name
        text = write_value(reply.value) if isinstance(reply, Given) else reply.message
        assert text.isprintable(), prompt.name
        assert len(text) < LONGEST_REPLY + 500, prompt.name
        assert text.encode(), prompt.name


@pytest.mark.parametrize(
    ("typed", "stored"),
    [("\u202e118 psig\u202c", "118 psig"), ("118\u200f", "118 psig"), ("\x1b118\x07", "118 psig"),
     ("118\u00a0psig", "118 psig"), ("\ufeff118", "118 psig")],
)  # fmt: skip
def test_invisible_marks_around_a_reading_do_not_matter(typed: str, stored: str) -> None:
    """Marks that a terminal or a clipboard adds are dropped, and the reading is taken."""
    assert taken(PRESSURE, typed) == stored


def test_a_long_paste_is_named_as_such() -> None:
    """A paste of thousands of characters is told from an answer by its length alone."""
    reply = read_reply(COMPLAINT, "x" * 5000)
    assert reply == Unclear("That is 5000 characters long; it looks like something pasted by mistake.")
