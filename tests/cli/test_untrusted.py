"""What comes in from outside is never run, and never ends the program; what goes out steers no terminal."""

import errno
import os
import signal
import subprocess
import sys
import termios
from io import BytesIO, TextIOWrapper
from pathlib import Path

import pytest

from assistant.sheet import handing
from assistant.source.shipped import shipped_folder
from tests.cli.lines import REPLIES, folder_of_small
from tests.cli.running import ROOT, START, Run, environment
from tests.cli.terminal import Terminal

# As the installed command has it: the current folder is none of those in which modules are looked for.
INSTALLED = f"import sys; sys.path[:] = [part for part in sys.path if part]; {START}"
ESCAPE = "\x1b[31m\x9b31m\x07\x7f"


@pytest.fixture(scope="module")
def trees(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return folder_of_small(tmp_path_factory.mktemp("untrusted") / "trees")


def ran(
    *arguments: str | Path,
    typed: bytes = b"",
    more: dict[str, str] | None = None,
    code: str = INSTALLED,
    **others: object,
) -> "subprocess.CompletedProcess[bytes]":
    """A command as a process of its own."""
    command = [sys.executable, "-c", code, *map(str, arguments)]
    given = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "timeout": 60.0, **others}
    if "stdin" not in given:
        given["input"] = typed
    return subprocess.run(command, check=False, env=environment(more), **given)  # type: ignore[call-overload,no-any-return]


def typed_call(more: str = "") -> bytes:
    """A whole call on the small tree, as it is piped in."""
    return "".join(f"{reply}\n" for reply in (*REPLIES, more)).encode()


def test_nothing_that_lies_in_the_current_folder_is_run(
    run: Run, trees: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file beside the customer's photos that is called as a module is; the sheet has its picture all the same."""
    for name in ("json", "CoolProp", "multiprocessing", "subprocess", "assistant"):
        (tmp_path / f"{name}.py").write_text(f"open({str(tmp_path / 'was run')!r}, 'w')\nraise SystemExit(3)\n")
    options = ("--home", tmp_path / "home", "--trees", trees)
    monkeypatch.setattr(sys, "stdin", TextIOWrapper(BytesIO(typed_call())))
    assert run("call", "--plain", *options).code == 0
    # What works the picture gives way to all others: on a machine with much to do it may take minutes.
    code = INSTALLED.replace("; start()", "; import assistant.pictures.vapour as v; v.PATIENCE = 300.0; start()")
    sheet = ran("calls", "sheet", "1", "--format", "html", *options, cwd=tmp_path, code=code, timeout=400.0)
    assert not (tmp_path / "was run").exists()
    assert sheet.returncode == 0
    assert b"gave no answer" not in sheet.stdout
    assert b"<svg" in sheet.stdout


def test_nothing_that_lies_there_is_run_by_many_processes(tmp_path: Path) -> None:
    """Nor where practice calls are walked on all cores."""
    for name in ("pickle", "multiprocessing", "runpy", "secrets"):
        (tmp_path / f"{name}.py").write_text(f"open({str(tmp_path / 'was run')!r}, 'w')\n")
    code = (
        "import sys; sys.path[:] = [part for part in sys.path if part]\n"
        "from assistant.practice.outcomes import run\n"
        "plan = run.Plan(1, 1, (), ())\n"
        "if __name__ == '__main__':\n"
        "    try:\n        list(run._shared(plan, 1))\n    except Exception as error:\n        print(type(error))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=environment(), capture_output=True, timeout=60, check=False
    )
    assert not (tmp_path / "was run").exists(), done


@pytest.mark.parametrize("mask", [0o000, 0o077], ids=oct)
def test_what_is_kept_of_a_customer_is_the_owners_alone(
    run: Run, trees: Path, tmp_path: Path, mask: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Folder 0700, record, sheet and export 0600, whatever the usual rights."""
    monkeypatch.setattr(handing, "work_apart", lambda states, is_cancelled=None: {})
    monkeypatch.setattr(sys, "stdin", TextIOWrapper(BytesIO(typed_call("sheet text"))))
    home = tmp_path / "home"
    before = os.umask(mask)
    try:
        assert run("call", "--plain", "--home", home, "--trees", trees).code == 0
        assert run("calls", "export", "1", "--output", home / "out.yaml", "--home", home).code == 0
    finally:
        os.umask(before)
    assert home.stat().st_mode & 0o777 == 0o700
    found = {str(file.relative_to(home)): file.stat().st_mode & 0o777 for file in home.rglob("*")}
    assert found.pop("sheets") == 0o700
    assert {"calls.db", "out.yaml", "sheets/call-1.txt"} <= found.keys()
    assert set(found.values()) == {0o600}


def test_what_is_piped_in_another_encoding_is_read(trees: Path, tmp_path: Path) -> None:
    """A degree sign of an old program neither stops the call nor loses the answers in front of it."""
    answers = ("not cold", "", "22", "ok", "clean", "73", "done", "80 psig", "70 \xb0F")
    done = ran(
        "call", "--plain", "--home", tmp_path, "--trees", trees, typed="\n".join((*answers, "")).encode("latin-1")
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"The call has ended" in done.stdout
    assert "> 70 \xb0F".encode() in done.stdout


def test_a_line_without_an_end_is_no_reply(trees: Path, tmp_path: Path) -> None:
    """Of an endless one no more is read than anybody types."""
    with Path("/dev/zero").open("rb") as zeros:
        done = ran("call", "--plain", "--home", tmp_path, "--trees", trees, stdin=zeros)
    assert done.returncode == 0
    assert b"nothing is kept" in done.stdout


@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-", ">/dev/full", "2>/dev/full"])
@pytest.mark.parametrize("command", ["call --plain", "pt R-410A 100psig"])
def test_closed_and_full_ends_are_no_faults(trees: Path, tmp_path: Path, closed: str, command: str) -> None:
    """Whatever of input, output and messages is closed or full: no trace of the program's inside is shown."""
    options = "" if command.startswith("pt") else f"--home {tmp_path}"
    options += f" --trees {trees}" if command.startswith("call ") else ""
    line = f"exec {sys.executable} -c '{INSTALLED}' {command} {options} {closed}"
    done = subprocess.run(
        ["/bin/sh", "-c", line], input=b"not cold\n", capture_output=True, env=environment(), timeout=60, check=False
    )
    assert done.returncode in (0, 1), done
    assert b"Traceback" not in done.stdout + done.stderr
    assert b"Exception" not in done.stdout + done.stderr
    if closed == ">/dev/full" and command.startswith("pt"):
        assert (done.returncode, b"cannot be written" in done.stderr) == (1, True)


LONG = "12345678901234567890"


@pytest.mark.parametrize(
    "arguments",
    [
        *(("calls", word, LONG) for word in ("show", "sheet", "export", "delete", "replay")),
        ("calls", "show", "-1"),
        ("calls", "show", "9" * 5000),
        ("calls", "replay", "9" * 5000),
        ("calls", "demo", LONG),
        ("calls", "demo", "9" * 5000),
        ("calls", "rename", LONG, "x"),
        ("calls", "note", LONG, "x"),
        ("calls", "list", "--most", LONG),
        ("calls", "list", "--since", "9999-12-31T23:59:59-12:00"),
        ("calls", "list", "--since", "0001-01-01T00:00:00+12:00"),
        ("calls", "list", "--since", "0001-01-01"),
        ("calls", "list", "--since", "9999w"),
        ("calls", "list", "\udce9\udcff"),
        ("call", "--plain", "--resume", LONG),
        *(("practice", word, LONG) for word in ("show", "replay")),
        ("practice", "call", "--plain", "--resume", LONG),
        ("trees", "draw", "poor_cooling", "--call", LONG),
        ("trees", "draw", "poor_cooling", "--call", "9" * 5000),
        ("calls", "export", "1", "--output", "\udce9\udcff"),
        ("trees", "draw", "poor_cooling", "--output", "\udce9\udcff"),
        ("calls", "import", "\udce9\udcff"),
        ("calls", "mend", "--from", "\udce9\udcff"),
        ("walk", "--tree", "poor_cooling", "--answers", "\udce9\udcff"),
        ("trees", "check", "\udce9\udcff"),
        ("trees", "check", "/dev/zero"),
        ("practice", "list", "\udce9\udcff"),
        ("numbers", "\udce9\udcff"),
        ("pt", "R-410A", "1e400psig"),
        ("pt", "R-410A", f"{'9' * 400}psig"),
    ],
    ids=lambda value: " ".join(value)[:40].encode("ascii", "replace").decode(),
)
def test_what_is_typed_behind_a_command_is_answered(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]
) -> None:
    """Numbers of any length, days beyond the calendar, names in other signs than UTF-8: a sentence."""
    monkeypatch.chdir(tmp_path)
    has_home = arguments[0] in ("calls", "call", "practice") and arguments[1:2] not in (("demo",), ("list",))
    home = ("--home", tmp_path) if has_home or arguments[:2] == ("calls", "list") else ()
    answered = run(*arguments, *home)
    assert answered.code in (0, 1, 2)
    assert answered.out + answered.err


@pytest.mark.parametrize("line", ['home = "~nobody-at-all/x"', 'home = "a\\u0000b"', 'trees = "~nobody-at-all/x"'])
def test_a_folder_that_cannot_be_is_told_and_not_taken(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, line: str
) -> None:
    """The program goes on with the usual one, also to show what is set."""
    (tmp_path / "settings.toml").write_text(line + "\n")
    monkeypatch.setenv("COILSIDE_SETTINGS", str(tmp_path / "settings.toml"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    shown = run("settings")
    assert shown.code == 0
    assert "line 1" in shown.err
    assert "usual value" in shown.err


def test_a_tilde_is_the_home_folder(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the environment as in the file, where no shell puts it in; of nobody's it is refused."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("COILSIDE_HOME", "~/mine")
    assert run("calls", "list").code == 0
    assert f"home          {tmp_path / 'mine'}" in run("settings").out
    assert not Path("~").exists()
    monkeypatch.setenv("COILSIDE_HOME", "~nobody-at-all/x")
    refused = run("calls", "list")
    assert refused.code == 2
    assert "nobody" in refused.err


@pytest.mark.parametrize("arguments", [("practice", "results"), ("settings",), ("trees", "check", "HOME")], ids=str)
def test_a_folder_that_may_not_be_looked_into_is_told(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]
) -> None:
    """Whatever is asked for in it."""
    usual = Path.stat

    def stat(path: Path, **options: bool) -> os.stat_result:
        if path.is_relative_to(tmp_path / "closed"):
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return usual(path, **options)

    closed = tmp_path / "closed" / "home"
    monkeypatch.setattr(Path, "stat", stat)
    monkeypatch.setenv("COILSIDE_HOME", str(closed))
    answered = run(*(word.replace("HOME", str(closed)) for word in arguments))
    assert answered.code == 1
    assert "may not be looked at: Permission denied" in answered.err


def test_settings_and_a_pipe_do_not_wait(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A pipe that nobody writes to holds no settings."""
    os.mkfifo(tmp_path / "pipe")
    monkeypatch.setenv("COILSIDE_SETTINGS", str(tmp_path / "pipe"))
    assert run("settings").code == 0


@pytest.mark.parametrize(
    "arguments",
    [
        ("calls", "import", f"{ESCAPE}.yaml"),
        ("trees", "check", f"{ESCAPE}.yaml"),
        ("calls", "list", "--home", f"no{ESCAPE}"),
        (f"--{ESCAPE}",),
        (f"{ESCAPE}",),
        ("trees", "draw", ESCAPE),
        ("calls", "demo", ESCAPE),
        ("pt", ESCAPE),
        ("trees", "explain", ESCAPE),
    ],
    ids=lambda value: ascii(" ".join(value))[:30],
)
def test_no_message_steers_the_terminal(run: Run, arguments: tuple[str, ...]) -> None:
    """Names that were typed come back without what a terminal would obey."""
    answered = run(*arguments)
    assert answered.code in (1, 2)
    assert not {char for char in answered.out + answered.err if not char.isprintable()} - {"\n"}


def test_what_a_file_names_does_not_steer_the_terminal(run: Run, trees: Path, tmp_path: Path) -> None:
    """Nor do the names and titles in a file that is taken in or walked."""
    text = f'call: "x{ascii(ESCAPE)[1:-1]}"\nanswers:\n  - complaint: not cold\n  - "y{ascii(ESCAPE)[1:-1]}": "1"\n'
    (tmp_path / "call.yaml").write_text(text)
    options = ("--home", tmp_path / "home", "--trees", trees)
    taken = run("calls", "import", tmp_path / "call.yaml", *options)
    shown = [taken, run("calls", "list", "--home", tmp_path / "home"), run("calls", "show", "1", *options)]
    for each in shown:
        assert not {char for char in each.out + each.err if not char.isprintable()} - {"\n"}


def test_the_chat_shows_where_messages_go_to_a_file(trees: Path, tmp_path: Path) -> None:
    """The screen is drawn on the terminal, and is not empty."""
    with Terminal("call", "--no-color", "--home", tmp_path, "--trees", trees, messages=tmp_path / "log") as terminal:
        assert terminal.wait_until_shown("What is the complaint", 30.0), terminal.conversation()


def test_no_byte_from_a_terminal_ends_the_chat(trees: Path, tmp_path: Path) -> None:
    """One of an old encoding is read as that; a key that no character has is none."""
    with Terminal("call", "--no-color", "--home", tmp_path, "--trees", trees) as terminal:
        assert terminal.wait_until_shown("What is the complaint", 30.0)
        os.write(terminal.master, b"\x1b[999999999u\x1b[55296uat 70\xb0 not cold\r")
        assert terminal.wait_until_shown("Small", 30.0)
        assert "at 70\xb0 not cold" in terminal.conversation()
        assert b"Traceback" not in terminal.sent


def test_ended_from_outside_the_terminal_is_as_before(trees: Path, tmp_path: Path) -> None:
    """What ends the program politely leaves a terminal on which one can type, and says what is kept."""
    with Terminal("call", "--no-color", "--home", tmp_path, "--trees", trees) as terminal:
        before = termios.tcgetattr(terminal.master)
        assert terminal.wait_until_shown("What is the complaint", 30.0)
        terminal.press("it is not cold\r")
        assert terminal.wait_until_shown("Small", 30.0)
        assert termios.tcgetattr(terminal.master)[3] != before[3]
        assert terminal.end(signal.SIGTERM) == 128 + signal.SIGTERM
        assert termios.tcgetattr(terminal.master)[3] == before[3]
        assert "Call 1 is kept" in terminal.words()
        assert terminal.sent.rstrip().count(b"\x1b[?1049l") == 1


def test_the_shipped_trees_are_where_the_tests_think() -> None:
    """The commands above run this checkout."""
    assert ROOT in shipped_folder("trees").parents
