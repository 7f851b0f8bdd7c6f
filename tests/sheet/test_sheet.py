"""The call sheet: what stands on it, in three forms, and that words of a call are never more than words."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from html.parser import HTMLParser
from pathlib import Path

import pytest

from assistant.call.keys import entry_key
from assistant.call.library import Library
from assistant.call.prompts import Acknowledge
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.repairs import plan_repair
from assistant.errors import FileError
from assistant.session.session import Information, Rejected, Session
from assistant.sheet.handing import FORMS, kept_with, sheet_of, write_whole
from assistant.sheet.sheet import SAFETY, CallSheet, Drawing, Section, Table, Words, call_sheet
from assistant.sheet.sheet_html import sheet_html
from assistant.sheet.sheet_text import sheet_markdown, sheet_text
from assistant.source.shipped import shipped_folder
from assistant.store.store import Line, Store, times_of
from assistant.store.times import now
from assistant.store.transcripts import read_transcript
from tests.call.small import small_library
from tests.session.test_session import say_all

NODES = """
first:
  say: Air first.
  caution: [moving_parts]
  ask: filter_condition
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: second
    - otherwise: second
second:
  do: wait_settled
  measure_again: suction_pressure
  decide:
    - when: change(suction_pressure) > 3 psi and superheat > 10 F
      go: starved
    - cannot_tell: open_end
    - otherwise: open_end
choked: {cause: dirty_filter, because: [filter_condition]}
starved: {cause: undercharge, because: [superheat]}
open_end: {undecided: It cannot be told.}
"""
TO_THE_CAUSE = ("not cold", "", "ok", "clean", "70 psig", "done", "80 psig", "R-22", "70 F")


@pytest.fixture
def small(catalogue: Catalogue) -> Library:
    return small_library(catalogue, NODES)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as store:
        yield store


def session_after(small: Library, store: Store, replies: Sequence[str]) -> Session:
    """A call after some replies, with cautions acknowledged up to the next question that is none."""
    session = Session(small, store)
    say_all(session, *replies)
    while isinstance(session.prompt, Acknowledge):
        # Of several in a list, each has its own number.
        say_all(session, str(session.prompt.place) if session.prompt.is_listed else "ok")
    return session


def sheet_for(session: Session) -> CallSheet:
    """The sheet of a call without its pictures."""
    assert session.store is not None
    assert session.number is not None
    return call_sheet(session.conversation, kept_with(session.store, session.number, session.conversation))


def section(sheet: CallSheet, title: str) -> Section:
    """The one section whose title begins so."""
    (found,) = [section for section in sheet.sections if section.title.startswith(title)]
    return found


def rows(sheet: CallSheet, title: str) -> list[tuple[str, ...]]:
    """The rows of all tables of a section."""
    return [row for block in section(sheet, title).blocks if isinstance(block, Table) for row in block.rows]


def test_readings_stand_with_doubt_and_time(small: Library, store: Store) -> None:
    """Each reading as often as it was taken, with the doubt of its instrument and the minute of its answer.

    The doubt is that of the catalogue's accuracy as expanded uncertainty: 3.5 psi as a half-width, times 2 / sqrt 3.
    """
    session = session_after(small, store, TO_THE_CAUSE)
    assert session.number is not None
    times = times_of(store.lines(session.number))
    taken = rows(sheet_for(session), "Readings")
    assert [row[0] for row in taken][:2] == ["Suction pressure", "Suction pressure (no. 2)"]
    assert [row[1] for row in taken][:2] == ["70.0 ± 4.0 psig", "80.0 ± 4.0 psig"]
    assert taken[1][2] == f"{times[entry_key('suction_pressure', 2)].astimezone():%H:%M}"


def test_a_correction_has_its_own_time(small: Library, store: Store) -> None:
    """An answer that was changed stands with the time of the change."""
    session = session_after(small, store, ("not cold", "", "ok", "dirty"))
    say_all(session, "70 psig")
    session.say("change filter_condition")
    say_all(session, "clean")
    assert session.number is not None
    lines = store.lines(session.number)
    assert times_of(lines)[entry_key("filter_condition", 1)] == lines[-1].at


def test_the_sheet_has_every_part_of_the_call(small: Library, store: Store) -> None:
    """System, readings, numbers, path, cause, cautions, repair, proof, notes, trees, and what holds for all."""
    session = session_after(small, store, TO_THE_CAUSE)
    say_all(session, "yes")
    session.say("note IMG_0231.jpg shows the bulb")
    sheet = sheet_for(session)
    assert dict(sheet.head)["Complaint"] == "not cold"
    assert dict(sheet.head)["Result"].endswith(", proven")
    assert ("Refrigerant", "R-22") in rows(sheet, "System")
    assert rows(sheet, "Seen")[0][:2] == ("Air filter", "clean")
    number = next(row for row in rows(sheet, "Worked numbers") if row[0].startswith("Superheat"))
    assert "±" in number[1]
    assert "70.0 °F" in number[2]
    path = rows(sheet, "Path")
    assert ("air filter", 'air filter is "clogged, bowed or wet; hardly any light comes through"? no') in path
    assert ("Do", "Let it settle - done") in path
    cause = small.catalogue.causes["undercharge"]
    assert section(sheet, "Likely cause").title.endswith(cause.title)
    plan = plan_repair(small.catalogue, cause, safety_group="A1")
    steps = [row[1] for row in rows(sheet, "Repair")]
    assert all(any(act.title in step for step in steps) for act in plan.acts)
    assert [row[0] for row in rows(sheet, "What to mind")] == [caution.title for caution in plan.cautions]
    acknowledged = [row[0] for row in rows(sheet, "Cautions")]
    assert acknowledged[0] == "Moving parts"
    assert len(set(acknowledged)) == len(acknowledged)
    assert "is it proven?" in str(section(sheet, "Proof"))
    assert rows(sheet, "Notes")[0][1] == "IMG_0231.jpg shows the bulb"
    assert "small 1" in str(section(sheet, "About"))
    assert sheet.disclaimer == SAFETY
    for word in ("manufacturer's instructions", "local codes", "licensed practice"):
        assert word in SAFETY


def test_a_call_that_goes_on_says_what_is_asked_next(small: Library, store: Store) -> None:
    """The sheet of an open call has no cause and no repair, and names the open question."""
    session = session_after(small, store, ("not cold", "", "ok"))
    sheet = sheet_for(session)
    assert dict(sheet.head)["Result"] == "not ended"
    assert any(isinstance(block, Words) and block.lead == "Asked next:" for block in section(sheet, "Path").blocks)
    assert not any(part.title.startswith(("Likely", "Repair", "Proof")) for part in sheet.sections)


def test_changed_trees_are_said_on_the_sheet(small: Library, store: Store) -> None:
    """A sheet made by other trees than the call says so, with the end that it had."""
    session = session_after(small, store, ("not cold", "", "ok", "clogged"))
    assert session.number is not None
    say_all(session, "yes")
    newer = Library(small.catalogue, {"small": replace(small.trees["small"], version=2)})
    again = Session.resume(newer, store, session.number)
    assert "The trees have changed" in str(section(sheet_for(again), "About"))


def test_before_and_after_stand_side_by_side(library: Library, store: Store) -> None:
    """A repair that was measured again shows both readings, what the tree says of them, and what the tech said."""
    call = read_transcript(shipped_folder("transcripts_demo") / "07-tripping-behind-the-hedge.yaml")
    number = store.add_call([Line(now(), "set", answer) for answer in call.answers])
    sheet = sheet_for(Session.resume(library, store, number))
    proof = rows(sheet, "Proof")
    assert ("Outdoor air temperature", "104.0 ± 1.6 °F", "96.0 ± 1.6 °F") in proof
    assert "no longer lead to" in str(section(sheet, "Proof"))


def test_the_day_stands_where_it_is_another_one(small: Library, store: Store) -> None:
    """A call picked up on another day shows the day beside the hour."""
    session = session_after(small, store, ("not cold", "", "ok"))
    assert session.number is not None
    kept = kept_with(store, session.number, session.conversation)
    later = {key: time + timedelta(days=2) for key, time in kept.times.items()}
    say_all(session, "clean")
    sheet = call_sheet(session.conversation, replace(kept, times={**later, entry_key("filter_condition"): now()}))
    assert re.fullmatch(r"\d\d:\d\d", rows(sheet, "Seen")[0][2])
    assert re.fullmatch(r"\d{4}-\d\d-\d\d \d\d:\d\d", rows(sheet, "Cautions")[0][2])


HOSTILE = (
    '<script>alert("1")</script>', "</style><b>&lt;", "\x1b[31mred\x1b[0m", "abc\u202edef\u2066", "🧊" * 40,
    "[bold]x[/bold]", "| a | b |", "# head", "- item", "1. item", "`code`", "x" * 1900, "'\"&<>", "](http://a)",
)  # fmt: skip


class Page(HTMLParser):
    """The tags of a page, its words, and whether each tag is closed by its own."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []
        self.words: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs
        if tag not in ("meta",):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


@pytest.mark.parametrize("hostile", HOSTILE)
def test_words_of_a_call_are_never_more_than_words(small: Library, store: Store, hostile: str) -> None:
    """A complaint, a name and a note come through all three forms as plain words, without control characters."""
    session = session_after(small, store, (f"warm {hostile}", "", "ok", "clogged"))
    assert session.number is not None
    store.rename(session.number, hostile)
    store.add_note(session.number, hostile)
    sheet = sheet_for(session)
    page = Page(sheet_html(sheet))
    assert page.open == []
    assert page.tags <= {
        "html", "head", "meta", "title", "style", "body", "header", "h1", "dl", "dt", "dd", "main", "section", "h2",
        "table", "thead", "tbody", "tr", "th", "td", "p", "b", "ol", "ul", "li", "footer", "div",
    }  # fmt: skip
    assert {name for name, _ in page.attributes} <= {"lang", "charset", "http-equiv", "content", "name", "class"}
    for text in (sheet_text(sheet), sheet_markdown(sheet), "".join(page.words)):
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text)
    if hostile.isascii() and hostile.isprintable():
        assert hostile in " ".join("".join(page.words).split())


@pytest.mark.parametrize("hostile", ["| a | b |", "<script>", "`code`", "*a*", "[x](http://a)", "a\\|b"])
def test_markdown_keeps_its_rows(small: Library, store: Store, hostile: str) -> None:
    """No mark in a note ends a cell, and no tag is left for whatever shows the file."""
    session = session_after(small, store, ("warm", "", "ok"))
    assert session.number is not None
    store.add_note(session.number, hostile)
    line = next(line for line in sheet_markdown(sheet_for(session)).split("\n") if re.match(r"\| \d{4}-", line))
    bars = re.findall(r"(?<!\\)(?:\\\\)*\|", line)
    assert len(bars) == 3
    assert "<" not in line


def test_the_page_needs_nothing_else(library: Library, store: Store) -> None:
    """One file: no script, nothing loaded, its own policy allows its style alone; the pictures are inside."""
    call = read_transcript(shipped_folder("transcripts_demo") / "08-a-spring-wound-too-tight.yaml")
    number = store.add_call([Line(now(), "set", answer) for answer in call.answers])
    session = Session.resume(library, store, number)
    kept = kept_with(store, number, session.conversation)
    sheet = sheet_of(session.conversation, kept, {})
    assert len(sheet.drawings) == 3
    text = sheet_html(sheet)
    assert text.count("<svg") == 3
    # On paper they stand beside the cause, in the same columns.
    beside = text[: text.index("Repair: ")].rpartition('<div class="columns">')[2]
    assert beside.count("<svg") == 3
    assert "Likely cause" in beside
    assert "default-src 'none'" in text
    assert "<script" not in text
    assert not re.search(r"""(?:src|href|url)\s*[=(]""", text.replace("default-src", "").replace("style-src", ""))
    page = Page(text)
    assert page.open == []
    assert not any(name == "style" or name.startswith("on") for name, _ in page.attributes)


def test_pictures_are_words_in_the_plain_forms() -> None:
    """Where nothing can be drawn, what a picture shows is told."""
    sheet = CallSheet("Sheet", (), (), (Drawing("Cycle", "<svg></svg>", ("From 3 to 4 straight down.",)),))
    assert "From 3 to 4 straight down." in sheet_text(sheet)
    assert "From 3 to 4 straight down." in sheet_markdown(sheet)
    assert "<svg></svg>" in sheet_html(sheet)


@pytest.mark.parametrize("name", sorted(file.stem for file in shipped_folder("transcripts_demo").glob("*.yaml")))
def test_no_line_of_the_text_is_too_long(library: Library, store: Store, name: str) -> None:
    """The plain sheet of every demo call fits 80 columns; each form is made of it without a slip."""
    call = read_transcript(shipped_folder("transcripts_demo") / f"{name}.yaml")
    number = store.add_call([Line(now(), "set", answer) for answer in call.answers])
    sheet = sheet_for(Session.resume(library, store, number))
    assert max(map(len, sheet_text(sheet).split("\n"))) <= 80
    assert Page(sheet_html(sheet)).open == []
    assert sheet_markdown(sheet).startswith("# Call sheet")


def test_the_word_sheet_writes_a_file_and_says_where(small: Library, store: Store, tmp_path: Path) -> None:
    """Beside the record, in the form that was named; another form is refused with those that there are."""
    session = session_after(small, store, ("not cold", "", "ok"))
    for form, ending in (("", "html"), ("text", "txt"), ("md", "md")):
        response = session.say(f"sheet {form}".strip())
        assert isinstance(response, Information)
        assert response.lines[0] == f"Written to {tmp_path / 'sheets' / f'call-1.{ending}'}"
        assert (tmp_path / "sheets" / f"call-1.{ending}").stat().st_size > 500
    refused = session.say("sheet pdf")
    assert isinstance(refused, Rejected)
    assert all(form in refused.message for form in FORMS)


def test_the_word_note_keeps_its_capitals_and_shows_them(small: Library, store: Store) -> None:
    """A note stands as it was typed; the word alone shows all."""
    session = session_after(small, store, ("not cold", ""))
    assert isinstance(session.say("note Photo IMG_0231.JPG: Oil"), Information)
    shown = session.say("note")
    assert isinstance(shown, Information)
    assert shown.lines == ("Photo IMG_0231.JPG: Oil",)


def test_nothing_is_written_of_a_call_that_is_not_kept(small: Library, store: Store) -> None:
    """Before the first answer, and where nothing is kept, note and sheet say so."""
    for session in (Session(small, store), Session(small, None)):
        assert isinstance(session.command("note", "x"), Rejected)
        assert isinstance(session.command("sheet"), Rejected)


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    """What was there stays until the new one is complete; nothing else is left behind; a failure is said."""
    path = tmp_path / "sheet.txt"
    write_whole(path, "one")
    write_whole(path, "two")
    assert path.read_text(encoding="utf-8") == "two"
    assert list(tmp_path.iterdir()) == [path]
    (tmp_path / "folder.txt").mkdir()
    with pytest.raises(FileError, match="could not be written"):
        write_whole(tmp_path / "folder.txt", "three")
    assert {entry.name for entry in tmp_path.iterdir()} == {"sheet.txt", "folder.txt"}
