"""`coilside calls`: finding, naming, noting, handing on and deleting the stored calls."""

import io
import re
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Literal

import pytest

from assistant.call.answers import Written
from assistant.call.loading import load_library
from assistant.cli.listing import table_row
from assistant.pictures.vapour import work_here
from assistant.session.session import Session
from assistant.sheet import handing
from assistant.store.store import Line, Store
from assistant.store.tables import FORMAT, mark_of
from assistant.store.times import now
from tests.cli.lines import REPLIES, folder_of_small
from tests.cli.running import Run


@pytest.fixture(scope="module")
def trees(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return folder_of_small(tmp_path_factory.mktemp("trees"))


@pytest.fixture
def home(trees: Path, tmp_path: Path) -> Path:
    """A record with a call that ended, and one that goes on."""
    library, _ = load_library(trees)
    with Store(tmp_path / "home" / "calls.db") as store:
        for replies in (REPLIES, ("too warm in the loft", "")):
            session = Session(library, store)
            for reply in replies:
                session.say(reply)
    return tmp_path / "home"


@pytest.fixture
def equations_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """What pictures need of the equations of state is worked in this process: another would load them each time."""
    monkeypatch.setattr(handing, "work_apart", lambda states, is_cancelled: work_here(states))


def listed(out: str) -> list[str]:
    """The numbers of the calls in a list."""
    return [line.split()[0] for line in out.split("\n")[1:] if line]


def test_the_list_is_narrowed_by_words_state_and_day(run: Run, home: Path) -> None:
    """Words, --open, --ended and --since go together; nothing found is said and is no failure."""
    with Store(home / "calls.db") as store:
        old = store.add_call([Line(now() - timedelta(days=30), "set", line.answer) for line in store.lines(1)])
        store.describe(old, "an old complaint", "ended", "Undercharge")
    assert listed(run("calls", "list", "--home", home).out) == ["2", "1", "3"]
    assert listed(run("calls", "list", "LOFT", "warm", "--home", home).out) == ["2"]
    assert listed(run("calls", "list", "--open", "--home", home).out) == ["2"]
    assert listed(run("calls", "list", "--ended", "--since", "7d", "--home", home).out) == ["1"]
    assert listed(run("calls", "list", "--since", "2000-01-01", "--home", home).out) == ["2", "1", "3"]
    nothing = run("calls", "list", "zeppelin", "--home", home)
    assert (nothing.code, nothing.out) == (0, "")
    assert "No call fits that" in nothing.err


def test_a_long_list_is_cut_and_says_so(run: Run, home: Path) -> None:
    """--most shows so many, and how many more there are."""
    shown = run("calls", "list", "--most", "1", "--home", home)
    assert listed(shown.out) == ["2"]
    assert "1 more: --most 2" in shown.err


@pytest.mark.parametrize("day", ["yesterday", "7 moons", "2026-13-40", ""])
def test_a_day_that_is_none_is_refused(run: Run, home: Path, day: str) -> None:
    """The accepted forms are named; the exit code is that of wrong usage."""
    refused = run("calls", "list", "--since", day, "--home", home)
    assert refused.code == 2
    assert "2026-07-14" in refused.err


def test_a_call_can_be_renamed(run: Run, home: Path) -> None:
    """The name stands in the list and over the call; an empty one brings the complaint back."""
    assert run("calls", "rename", "1", "Lantern", "Street", "--home", home).code == 0
    assert "Lantern Street" in run("calls", "list", "--home", home).out
    assert run("calls", "rename", "1", "", "--home", home).code == 0
    assert "it is not cold" in run("calls", "list", "--home", home).out


@pytest.mark.usefixtures("equations_here")
def test_notes_stand_on_show_and_sheet(run: Run, home: Path, trees: Path) -> None:
    """A note that was attached is found by its words, and stands with the call and on its sheet."""
    assert run("calls", "note", "1", "photo", "IMG_0231.jpg", "--home", home).code == 0
    assert listed(run("calls", "list", "img_0231", "--home", home).out) == ["1"]
    for command in ("show", "sheet"):
        assert "photo IMG_0231.jpg" in run("calls", command, "1", "--home", home, "--trees", trees).out
    assert run("calls", "note", "1", " ", "--home", home).code == 2


def test_a_sheet_goes_to_the_screen(run: Run, home: Path, trees: Path) -> None:
    """Without a file it is printed, as text for the terminal unless another form is named."""
    assert run("calls", "sheet", "1", "--home", home, "--trees", trees).out.startswith("CALL SHEET 1")


@pytest.mark.parametrize(("form", "begins"), [("md", "# Call sheet 1"), ("html", "<!doctype")])
@pytest.mark.usefixtures("equations_here")
def test_a_sheet_goes_into_a_file(run: Run, home: Path, trees: Path, tmp_path: Path, form: str, begins: str) -> None:
    """Into the file that is named, and then that is said; nothing is printed."""
    arguments = ("calls", "sheet", "1", "--format", form, "--home", home, "--trees", trees)
    written = run(*arguments, "--output", tmp_path / "sheet")
    assert (written.code, written.out) == (0, "")
    assert str(tmp_path / "sheet") in written.err
    assert (tmp_path / "sheet").read_text(encoding="utf-8").startswith(begins)


@pytest.mark.usefixtures("equations_here")
def test_a_sheet_that_cannot_be_written_is_said(run: Run, home: Path, trees: Path, tmp_path: Path) -> None:
    """A file where a folder should be gives one plain sentence and exit code 1."""
    (tmp_path / "file").write_text("x")
    arguments = ("calls", "sheet", "1", "--home", home, "--trees", trees)
    refused = run(*arguments, "--output", tmp_path / "file" / "sheet.txt")
    assert refused.code == 1
    assert "could not be written" in refused.err


def test_a_call_goes_from_one_home_to_another(run: Run, home: Path, trees: Path, tmp_path: Path) -> None:
    """Exported, imported and exported again it is the same file."""
    file, other = tmp_path / "call.yaml", tmp_path / "other"
    assert run("calls", "export", "1", "--output", file, "--home", home).code == 0
    taken = run("calls", "import", file, "--home", other, "--trees", trees)
    assert taken.code == 0
    assert "Kept as call 1" in taken.err
    assert run("calls", "export", "1", "--home", other).out == file.read_text(encoding="utf-8")


def test_an_import_of_garbage_keeps_nothing(run: Run, home: Path, trees: Path, tmp_path: Path) -> None:
    """The line and what to write are said, with exit code 1."""
    file = tmp_path / "call.yaml"
    file.write_text("answers:\n  - just words\n", encoding="utf-8")
    refused = run("calls", "import", file, "--home", home, "--trees", trees)
    assert refused.code == 1
    assert "call.yaml:2" in refused.err
    assert "- name: text" in refused.err
    assert listed(run("calls", "list", "--home", home).out) == ["2", "1"]


@pytest.mark.parametrize("typed", ["n\n", "\n", ""])
def test_declining_to_delete_keeps_the_call(run: Run, home: Path, monkeypatch: pytest.MonkeyPatch, typed: str) -> None:
    """No, Enter, and the end of the input are all no; that is said, and is no failure."""
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    declined = run("calls", "delete", "1", "--home", home)
    assert declined.code == 0
    assert "Nothing was deleted" in declined.err
    assert listed(run("calls", "list", "--home", home).out) == ["2", "1"]


def test_deleting_asks_and_deletes(run: Run, home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Yes deletes the call; --yes does not ask."""
    monkeypatch.setattr("sys.stdin", io.StringIO("y\n"))
    assert run("calls", "delete", "1", "--home", home).code == 0
    assert run("calls", "delete", "2", "--yes", "--home", home).code == 0
    assert "No calls are kept" in run("calls", "list", "--home", home).err


@pytest.mark.parametrize("command", ["show", "sheet", "export", "rename", "note", "delete"])
def test_a_number_that_is_not_there_is_said(run: Run, home: Path, command: str) -> None:
    """Every command that takes a number says where to look."""
    more = ("x",) if command in ("rename", "note") else ()
    refused = run("calls", command, "77", *more, "--home", home)
    assert refused.code == 1
    assert "no call number 77" in refused.err


def test_the_demo_calls_are_listed_and_shown(run: Run) -> None:
    """Each by its name, its number or the beginning of its name; one that is not there brings the nearest."""
    out = run("calls", "demo").out
    names = re.findall(r"^\d\d-[\w-]+$", out, re.MULTILINE)
    assert len(names) >= 8
    shown = run("calls", "demo", "7").out
    assert shown.startswith("Tripping behind the hedge")
    assert "LIKELY CAUSE" in shown
    assert run("calls", "demo", "tripping").out == run("calls", "demo", "07-tripping-behind-the-hedge").out == shown
    refused = run("calls", "demo", "07-triping-behind-a-hedge")
    assert refused.code == 1
    assert "07-tripping-behind-the-hedge" in refused.err


def test_a_call_begins_beside_a_damaged_record(
    run: Run, trees: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The damaged file is set aside and that is said; the list says what to do without touching it."""
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    home = tmp_path / "home"
    home.mkdir()
    (home / "calls.db").write_bytes(b"no database" * 50)
    told = run("calls", "list", "--home", home)
    assert told.code == 1
    assert "calls mend" in told.err
    assert (home / "calls.db").read_bytes() == b"no database" * 50
    begun = run("call", "--plain", "--home", home, "--trees", trees)
    assert begun.code == 0
    assert "kept as calls-damaged-" in begun.err
    (aside,) = home.glob("calls-damaged-*.db")
    assert aside.read_bytes() == b"no database" * 50


def test_mending_saves_what_can_be_read(run: Run, home: Path) -> None:
    """A sound record is left alone; of a damaged one the calls come over, and the old file is kept."""
    assert "is sound" in run("calls", "mend", "--home", home).err
    path = home / "calls.db"
    with closing(sqlite3.connect(path)) as file:
        (root,) = file.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'line_by_call'").fetchone()
    with path.open("r+b") as file:
        file.seek((root - 1) * 4096)
        file.write(b"\xa5" * 4096)
    mended = run("calls", "mend", "--home", home)
    assert mended.code == 0
    assert "2 calls saved" in mended.err
    assert listed(run("calls", "list", "--home", home).out) == ["2", "1"]
    assert len(list(home.glob("calls-damaged-*.db"))) == 1


def test_a_newer_record_is_refused_and_untouched(run: Run, home: Path, trees: Path) -> None:
    """Neither the list nor a call touches it; what to do is said."""
    with closing(sqlite3.connect(home / "calls.db")) as newer:
        newer.execute(f"PRAGMA user_version = {FORMAT + 1}")
        newer.execute(f"PRAGMA application_id = {mark_of(FORMAT + 1)}")
        newer.execute("PRAGMA journal_mode = DELETE")
    before = (home / "calls.db").read_bytes()
    for arguments in (("calls", "list"), ("call", "--plain", "--trees", trees), ("calls", "mend")):
        refused = run(*arguments, "--home", home)
        assert refused.code == 1
        assert "newer version" in refused.err
    assert (home / "calls.db").read_bytes() == before


def test_picking_up_says_that_the_trees_have_changed(
    run: Run, home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A call that was begun with another version of its tree goes on, and says so."""
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    trees = folder_of_small(tmp_path / "newer")
    file = trees / "small.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("version: 1", "version: 2"), encoding="utf-8")
    resumed = run("call", "--plain", "--resume", "2", "--home", home, "--trees", trees)
    assert "The trees have changed" in resumed.err
    assert "too warm in the loft" in resumed.out


def test_a_full_disk_ends_the_line_mode_with_the_way_back(
    run: Run, trees: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The answer that did not fit is told, with what is kept and how to pick it up; that call is there."""
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{reply}\n" for reply in REPLIES)))
    record = Store.record

    def full(store: Store, number: int, deed: Literal["set", "drop"], answer: Written, after: int | None = None) -> int:
        if answer.name == "filter_condition":
            pages = store._db.execute("PRAGMA page_count").fetchone()[0]
            store._db.execute(f"PRAGMA max_page_count = {pages}")
            answer = replace(answer, text="x" * 300_000)
        return record(store, number, deed, answer, after)

    monkeypatch.setattr(Store, "record", full)
    ended = run("call", "--plain", "--home", tmp_path, "--trees", trees)
    assert ended.code == 1
    assert "disk is full" in ended.err
    assert "--resume 1" in ended.err
    with Store(tmp_path / "calls.db") as store:
        assert [answer.name for answer in store.answers(1)][:2] == ["complaint", "tree"]
        assert "filter_condition" not in {answer.name for answer in store.answers(1)}


def test_a_long_row_runs_on_under_its_last_column_and_a_piped_one_stays_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    """What reads a pipe finds one row on one line; where no word of the column fits, it has a line of its own."""
    text = "named / " + "truth " * 30
    monkeypatch.delenv("COLUMNS", raising=False)
    assert table_row("1  ", text) == "1  " + text.strip()
    monkeypatch.setenv("COLUMNS", "40")
    lines = table_row("1  ", text).split("\n")
    assert all(len(line) <= 40 for line in lines)
    assert lines[1].startswith("   truth")
    assert table_row("x" * 36 + "  ", "named / truth").split("\n")[1] == " " * 12 + "named / truth"
