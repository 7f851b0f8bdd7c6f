"""The pictures of a conversation as text, for the line mode, and the scales under the work of a number."""

import pytest

from assistant.call.keys import Topic
from assistant.call.library import Library
from assistant.call.pictured import picture_lines, pictures_of, scale_lines, scales_in
from assistant.call.prompts import CloseCall
from assistant.call.turns import Decided
from assistant.call.walk import Conversation, walk
from assistant.pictures.cycle import CycleChart
from assistant.plain import run_plain
from assistant.session.session import Information, Rejected, Session
from assistant.source.shipped import shipped_folder
from assistant.store.transcripts import read_transcript
from tests.answering import read_by

ANSWERS = read_transcript(shipped_folder("transcripts_demo") / "02-the-bulb-has-lost-its-charge.yaml").answers


@pytest.fixture(scope="module")
def call(library: Library) -> Conversation:
    return walk(library, read_by(library, ANSWERS))


def test_the_picture_is_said_in_words(call: Conversation) -> None:
    """All three, each under its title, and how to have them drawn."""
    lines = picture_lines(call, "")
    assert lines is not None
    assert "The cycle of R-410A on its pressure-enthalpy chart" in lines
    assert "The force balance of the expansion valve" in lines
    assert "Doubt against limit, the closest first" in lines
    assert lines[-1] == "picture drawn shows them in characters."


def test_the_picture_is_drawn_in_characters_of_any_terminal(call: Conversation) -> None:
    """No line is wider than the line mode has room for, and none has more than ASCII but for units and doubt."""
    lines = picture_lines(call, "drawn")
    assert lines is not None
    assert max(map(len, lines)) <= 78
    assert {sign for line in lines for sign in line if not sign.isascii()} <= {"°", "±"}


def test_another_word_behind_picture_is_told_what_fits(library: Library) -> None:
    """Nothing is guessed."""
    session = Session(library, None, answers=read_by(library, ANSWERS))
    assert session.command("picture", "of the coil") == Rejected("Type picture, or picture drawn.")
    assert isinstance(session.command("picture"), Information)


def test_the_line_mode_prints_it_whole(library: Library) -> None:
    """The rows of a drawing come out as they are, not wrapped anew."""
    session = Session(library, None, answers=read_by(library, ANSWERS[:-1]))
    assert session.prompt is not None
    replies = iter(["picture drawn"])
    written: list[str] = []
    run_plain(session, lambda: next(replies, None), written.append)
    drawn = picture_lines(session.conversation, "drawn")
    assert drawn is not None
    rows = [f"  {line}" for line in drawn if "|" in line or "+" in line]
    assert len(rows) > 15
    assert [line for line in written if line in rows] == rows


def test_every_comparison_in_doubt_is_kept_once(call: Conversation) -> None:
    """What decisions looked at, as numbers, in the turns themselves."""
    scales = scales_in(call)
    assert len(scales) == len(set(scales)) > 5
    assert {scale for turn in call.turns if isinstance(turn, Decided) for scale in turn.scales} == set(scales)
    assert all(scale.margin_spread > 0 for scale in scales)


def test_a_walk_gives_the_same_scales_again(library: Library, call: Conversation) -> None:
    """They are plain numbers, so that turns of two walks compare equal."""
    assert scales_in(walk(library, read_by(library, ANSWERS))) == scales_in(call)


def test_the_work_names_the_limit_that_came_closest(call: Conversation) -> None:
    """It is drawn, the other limits of the number are said; a number without a limit has none."""
    lines = scale_lines("subcooling", call)
    of_subcooling = [scale for scale in scales_in(call) if scale.names[:1] == ("subcooling",)]
    closest = min(of_subcooling, key=lambda scale: scale.sureness)
    assert f"  {closest.text}?" in lines
    assert sum("●" in line for line in lines) == 1
    assert all(scale.text in " ".join(lines) for scale in of_subcooling)
    assert scale_lines("flash_gas_fraction", call) == ()


def test_a_close_call_that_waits_has_its_scale(library: Library) -> None:
    """It is where the scale is of most use."""
    answers = read_transcript(shipped_folder("transcripts_demo") / "03-a-close-call-on-the-hill.yaml").answers
    known = [answer for answer in answers if answer.key.topic is not Topic.CLOSE_CALL]
    waiting = walk(library, read_by(library, known))
    assert isinstance(waiting.prompt, CloseCall)
    scale = waiting.prompt.leanings[0].scale
    assert scale is not None
    assert not scale.is_sure
    assert scale in scales_in(waiting)


def test_a_call_that_has_just_begun_has_no_chart(library: Library) -> None:
    """Nothing is drawn before the refrigerant is told."""
    assert not any(isinstance(picture, CycleChart) for picture in pictures_of(walk(library, ()), {}))
