"""The command line as a whole: help, exit codes, and what goes where."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from assistant import __version__
from assistant.cli.main import cli
from tests.cli.lines import REPLIES, folder_of_small
from tests.cli.running import START, Run, environment


def every_command(
    group: click.Group = cli, path: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """Every command with the words that call it."""
    yield path, group
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        if isinstance(command, click.Group):
            yield from every_command(command, (*path, name))
        else:
            yield (*path, name), command


COMMANDS = dict(every_command())


@pytest.mark.parametrize("path", COMMANDS, ids=lambda path: " ".join(path) or "coilside")
def test_every_command_and_option_has_help(path: tuple[str, ...]) -> None:
    """Each command says what it does in a sentence, and each of its options too."""
    command = COMMANDS[path]
    assert command.help
    assert command.help.strip()[0].isupper()
    for option in command.params:
        if isinstance(option, click.Option):
            assert option.help, option.name


@pytest.mark.parametrize("path", COMMANDS, ids=lambda path: " ".join(path) or "coilside")
def test_help_can_be_asked_everywhere(run: Run, path: tuple[str, ...]) -> None:
    """`--help` and `-h` print to standard output and end with 0."""
    long, short = run(*path, "--help"), run(*path, "-h")
    assert (long.code, long.err) == (0, "")
    assert long.out.startswith("Usage: coilside")
    assert short == long


@pytest.mark.parametrize("name", ["call", "walk", "pt", "numbers", "trees", "calls"])
def test_the_commands_that_others_rely_on_are_there(run: Run, name: str) -> None:
    """The help of the whole lists each command."""
    assert f"\n  {name} " in run("--help").out


def test_the_version_is_told(run: Run) -> None:
    """`--version` prints the version of the package."""
    ran = run("--version")
    assert (ran.code, ran.out) == (0, f"coilside, version {__version__}\n")


@pytest.mark.parametrize(
    "arguments",
    [
        ("nonsense",),
        ("pt",),
        ("pt", "R-22", "70F", "80F"),
        ("pt", "R-22", "70F", "--units", "imperial"),
        ("walk",),
        ("walk", "--tree", "poor_cooling"),
        ("trees", "check", "--format", "xml"),
        ("calls", "show", "seven"),
        ("call", "--resume", "x"),
        ("trees", "nonsense"),
    ],
    ids=" ".join,
)
def test_wrong_usage_ends_with_two(run: Run, arguments: tuple[str, ...]) -> None:
    """A command that does not exist or is called wrongly ends with 2 and a message on standard error alone."""
    ran = run(*arguments)
    assert ran.code == 2
    assert ran.out == ""
    assert "Usage: coilside" in ran.err


@pytest.mark.parametrize("option", ["--home", "--trees", "--units"])
def test_an_option_in_front_of_a_command_is_not_swallowed(run: Run, tmp_path: Path, option: str) -> None:
    """An option that would have no effect in front of a command is refused, and its right place is told."""
    ran = run(option, "si" if option == "--units" else tmp_path, "calls", "list")
    assert ran.code == 2
    assert f"coilside calls {option}" in ran.err


@pytest.mark.parametrize(
    "arguments",
    [
        ("pt", "R-999", "70F"),
        ("pt", "R-22", "seventy"),
        ("walk", "--tree", "no_such_tree", "--answers", "x.yaml"),
        ("trees", "check", "/no/such/place"),
        ("calls", "show", "99"),
        ("calls", "delete", "99", "--yes"),
        ("call", "--plain", "--resume", "99"),
        ("call", "--plain", "--trees", "/no/such/folder"),
    ],
    ids=" ".join,
)
def test_mistakes_in_the_input_end_with_one(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]
) -> None:
    """What was typed or written wrongly ends with 1, nothing on standard output, and one plain message."""
    monkeypatch.setenv("COILSIDE_HOME", str(tmp_path))
    ran = run(*arguments)
    assert ran.code == 1
    assert ran.out == ""
    assert ran.err.startswith("coilside: ")
    assert ran.err.count("\n") == 1


@pytest.mark.parametrize(("tree", "near"), [("poor_coling", "poor_cooling"), ("Poor-Cooling", "poor_cooling")])
def test_a_misspelt_tree_is_answered_with_the_near_one(run: Run, tmp_path: Path, tree: str, near: str) -> None:
    """A slip in the tree's name is answered with the name that was probably meant."""
    ran = run("walk", "--tree", tree, "--answers", tmp_path / "x.yaml")
    assert ran.code == 1
    assert f"Did you mean {near}?" in ran.err


def test_nobody_reading_on_is_no_mistake() -> None:
    """When the reader of a pipe has gone, the command ends with 0 and says nothing."""
    with subprocess.Popen(
        [sys.executable, "-c", START, "pt", "R-410A", "122.8psig"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment(),
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        said = running.stderr.read()
    assert said == b""
    assert running.returncode == 0


def kept_call(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *replies: str) -> Path:
    """A folder of trees, with a call on it kept in the home folder."""
    trees = tmp_path / "trees"
    if not trees.exists():
        folder_of_small(trees)
    lines = iter([f"{reply}\n" for reply in replies])
    monkeypatch.setenv("COILSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.setattr("assistant.cli.call.read_line", lambda: next(lines, None))
    assert run("call", "--plain", "--trees", trees).code == 0
    return trees


def test_without_a_terminal_the_chat_is_line_by_line(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`coilside` with nothing behind it and no terminal carries on line by line."""
    monkeypatch.setattr("assistant.cli.call.read_line", lambda: None)
    ran = run("--home", tmp_path)
    assert (ran.code, ran.out.splitlines()[0]) == (0, "What is the complaint?")


def test_stored_calls_are_listed_shown_and_deleted(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A kept call is in the list with its complaint and ending, can be shown whole, and is gone when deleted."""
    trees = kept_call(run, tmp_path, monkeypatch, *REPLIES)
    listed = run("calls", "list")
    assert listed.code == 0
    assert "it is not cold - no fault found" in listed.out
    shown = run("calls", "show", "1", "--trees", trees)
    assert shown.code == 0
    assert "> it is not cold" in shown.out
    assert "NO FAULT FOUND" in shown.out
    assert run("calls", "list", "--open").out == ""
    deleted = run("calls", "delete", "1", "--yes")
    assert (deleted.code, deleted.out, deleted.err) == (0, "", "Call 1 is deleted.\n")
    gone = run("calls", "list")
    assert (gone.code, gone.out, gone.err) == (0, "", "No calls are kept.\n")


def test_an_open_call_shows_what_is_asked_next(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Showing a call that has not ended tells its open question; a new call reminds of it."""
    trees = kept_call(run, tmp_path, monkeypatch, *REPLIES[:4])
    shown = run("calls", "show", "1", "--trees", trees)
    assert "Asked next:\nHow does the air filter look?" in shown.out
    reminded = run("call", "--plain", "--trees", trees)
    assert reminded.err == "1 open call: coilside calls list.\n"


def test_deleting_asks_first(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without --yes a call is deleted only when that is confirmed."""
    kept_call(run, tmp_path, monkeypatch, *REPLIES[:4])
    monkeypatch.setattr("click.termui.visible_prompt_func", lambda _: "n")
    declined = run("calls", "delete", "1")
    assert declined.code == 0
    assert "Nothing was deleted" in declined.err
    assert "it is not cold" in run("calls", "list").out
    monkeypatch.setattr("click.termui.visible_prompt_func", lambda _: "y")
    assert run("calls", "delete", "1").code == 0


def test_a_damaged_record_is_told(run: Run, tmp_path: Path) -> None:
    """A record that is no database gives a plain message and code 1, and stays as it is."""
    record = tmp_path / "calls.db"
    record.write_text("garbage " * 500)
    ran = run("calls", "list", "--home", tmp_path)
    assert ran.code == 1
    assert str(record) in ran.err
    assert record.read_text() == "garbage " * 500
