"""A call that is cut off: whatever was acknowledged is there, and the call goes on as if nothing had happened."""

import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.session.session import Session
from assistant.store.store import Store
from tests.cli.lines import REPLIES, STORED, folder_of_small, plain_lines
from tests.cli.running import process
from tests.soak.kills import check, killed, questions


@pytest.fixture(scope="module")
def trees(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return folder_of_small(tmp_path_factory.mktemp("trees"))


@pytest.fixture(scope="module")
def small(trees: Path) -> Library:
    return load_library(trees)[0]


@pytest.fixture
def elsewhere(tmp_path: Path) -> Iterator[Store]:
    """A record for the same call without any cut."""
    with Store(tmp_path / "elsewhere" / "calls.db") as store:
        yield store


@pytest.mark.parametrize("answered", range(1, len(REPLIES)))
def test_kill_between_two_answers_loses_none(
    small: Library, trees: Path, elsewhere: Store, tmp_path: Path, answered: int
) -> None:
    """Killed outright while a question waits, the call keeps every answer before it, and goes on from there."""
    home = tmp_path / "home"
    live = Session(small, elsewhere)
    lines, counts = plain_lines(live, REPLIES[:answered], echo=True)
    expected = lines[: counts[answered]]
    with process("call", "--plain", "--trees", trees, "--home", home) as running:
        assert running.stdin is not None
        assert running.stdout is not None
        running.stdin.write("".join(f"{reply}\n" for reply in REPLIES[:answered]))
        running.stdin.flush()
        screen = [running.stdout.readline().rstrip("\n") for _ in expected]
        running.send_signal(signal.SIGKILL)
    assert running.returncode == -signal.SIGKILL
    assert screen == expected
    with Store(home / "calls.db") as store:
        assert [(answer.name, answer.text) for answer in store.answers(1)] == list(STORED[:answered])
        again = Session.resume(small, store, 1)
        assert again.conversation.turns == live.conversation.turns
        assert again.conversation.prompt == live.conversation.prompt
        plain_lines(again, REPLIES[answered:])
        assert [(answer.name, answer.text) for answer in store.answers(1)] == list(STORED)


@pytest.mark.parametrize("seen", [1, 6, 14, 25])
def test_kill_at_any_moment_keeps_what_was_acknowledged(
    small: Library, trees: Path, elsewhere: Store, tmp_path: Path, seen: int
) -> None:
    """Killed while it works through its input, the call holds at least the answers whose next question was shown."""
    home = tmp_path / "home"
    _, counts = plain_lines(Session(small, elsewhere), REPLIES, echo=True)
    with process("call", "--plain", "--trees", trees, "--home", home) as running:
        assert running.stdin is not None
        assert running.stdout is not None
        running.stdin.write("".join(f"{reply}\n" for reply in REPLIES))
        running.stdin.flush()
        for _ in range(seen):
            running.stdout.readline()
        running.send_signal(signal.SIGKILL)
    acknowledged = sum(count <= seen for count in counts) - 1
    with Store(home / "calls.db") as store:
        kept = [(answer.name, answer.text) for entry in store.entries() for answer in store.answers(entry.number)]
    assert len(kept) >= acknowledged
    assert kept == list(STORED[: len(kept)])


@pytest.mark.parametrize("answered", [3, 8])
def test_kill_in_the_chat_keeps_what_was_acknowledged(
    small: Library, trees: Path, tmp_path: Path, answered: int
) -> None:
    """On a real terminal, as soon as the next question is seen; `tests.soak.kills` does it at random moments."""
    asked = questions(small)[: answered + 1]
    seen = killed(("--no-color", "--trees", trees, "--home", tmp_path / "home"), asked, 60.0)
    assert seen == answered
    assert check(small, tmp_path / "home", seen).wrong == ""


def test_the_end_of_a_pipe_ends_the_program_well(trees: Path, tmp_path: Path) -> None:
    """When the pipe closes in the middle of a call, the program ends with code 0 and says how to go on."""
    with process("call", "--plain", "--trees", trees, "--home", tmp_path) as running:
        out, err = running.communicate("".join(f"{reply}\n" for reply in REPLIES[:3]))
    assert running.returncode == 0
    assert out.endswith("Call 1 is kept. Pick it up with: coilside call --plain --resume 1\n")
    assert err == ""


def test_an_interrupt_keeps_the_call(trees: Path, small: Library, tmp_path: Path) -> None:
    """Ctrl-C while a question waits leaves no trace of a fault, and the answers are kept."""
    with process("call", "--plain", "--trees", trees, "--home", tmp_path) as running:
        assert running.stdin is not None
        assert running.stdout is not None
        running.stdin.write("it is not cold\n\n22\n")
        running.stdin.flush()
        for line in running.stdout:
            if line.startswith("Type ok"):
                break
        # The line is out a moment before the program waits for the reply.
        time.sleep(0.5)
        running.send_signal(signal.SIGINT)
        _, err = running.communicate()
    assert running.returncode == 130
    assert "Traceback" not in err
    with Store(tmp_path / "calls.db") as store:
        assert len(store.answers(1)) == 3
