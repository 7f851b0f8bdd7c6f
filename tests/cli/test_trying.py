"""`coilside trees try`, line by line: its argument, its options, and that nothing is kept."""

import io
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.author.conftest import edit, folder_of_small, shop_of_small
from tests.cli.running import Ran, Run

Typed = Callable[..., Ran]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return folder_of_small(tmp_path / "trees") / "small.yaml"


@pytest.fixture
def typed(run: Run, monkeypatch: pytest.MonkeyPatch) -> Typed:
    """Runs a trial with lines typed into it; a function among them is called when its turn comes."""

    def try_it(*arguments: str | Path, lines: tuple[str | Callable[[], None], ...] = ()) -> Ran:
        monkeypatch.setattr("sys.stdin", _Lines(lines))
        return run("trees", "try", *arguments, "--plain")

    return try_it


class _Lines(io.StringIO):
    """Standard input on which something may happen between two lines."""

    def __init__(self, lines: tuple[str | Callable[[], None], ...]) -> None:
        super().__init__()
        self._lines = list(lines)

    def isatty(self) -> bool:
        return False

    def readline(self, size: int = -1, /) -> str:
        while self._lines:
            line = self._lines.pop(0)
            if isinstance(line, str):
                return f"{line}\n"
            line()
        return ""


def test_a_whole_trial(typed: Typed, file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the first fact to the end; no record of calls is made."""
    monkeypatch.setenv("COILSIDE_HOME", str(tmp_path / "home"))
    ran = typed(file, lines=("22", "clean", "0 ft", "68.6", "50"))
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Which refrigerant is in the system?")
    assert ran.out.endswith("The call has ended. Nothing is kept: this was only tried. Enter leaves.\n")
    assert not (tmp_path / "home").exists()


def test_a_save_between_two_replies(typed: Typed, file: Path) -> None:
    """The saved tree is taken up before the next reply, and its question is asked anew."""
    save = lambda: edit(file, "superheat > limits.high_superheat", "superheat > 5 F")  # noqa: E731
    ran = typed(file, lines=("22", "clean", "0 ft", "68.6", save, "50", "50"))
    assert "Saved. The call goes as it did." in ran.out
    assert "Your reply was not taken: the file was saved just now." in ran.out
    assert "DO: Let it settle. Fifteen minutes" in ran.out


def test_a_save_with_a_mistake(typed: Typed, file: Path) -> None:
    """The mistake is shown with its line and caret, and the old tree goes on."""
    save = lambda: edit(file, "superheat > limits.high_superheat", "superheat > 5")  # noqa: E731
    ran = typed(file, lines=("22", "clean", "0 ft", "68.6", save, "50", "50"))
    assert "   21 |       - when: superheat > 5\n      |                           ^\n" in ran.out
    assert "NO FAULT FOUND" in ran.out


def test_a_trial_from_a_node(typed: Typed, file: Path, tmp_path: Path) -> None:
    """The file's facts and answers are known, what was jumped over is said first."""
    answers = tmp_path / "answers.yaml"
    answers.write_text(
        "facts: {refrigerant: R-22, altitude: 0 ft}\n"
        "answers: {suction_pressure: 68.6 psig, suction_line_temperature: 70 F}\n",
        encoding="utf-8",
    )
    ran = typed(file, "--from", "starved", "--facts", answers, lines=("done",))
    assert ran.out.startswith("Begun at starved. Jumped over: air, feed.\n")
    assert "NO FAULT FOUND" in ran.out


def test_slips_are_told(typed: Typed, file: Path, tmp_path: Path) -> None:
    """An unknown node, tree or name in the answers, a folder, a file that is not there."""
    assert "Did you mean starved?" in typed(file, "--from", "starvd").err
    assert "Did you mean small?" in typed("smal", "--trees", file.parent).err
    assert "is a folder" in typed(file.parent).err
    assert "There is no file" in typed(file.parent / "large.yaml").err
    answers = tmp_path / "answers.yaml"
    answers.write_text("answers: {suction_presure: 70 psig}\n", encoding="utf-8")
    ran = typed(file, "--facts", answers)
    assert (ran.code, ran.out) == (1, "")
    assert "write: suction_pressure" in ran.err


def test_a_tree_of_a_folder_is_found_by_name(typed: Typed, file: Path) -> None:
    """--trees names the folder, and TREE the tree in it."""
    assert typed("small", "--trees", file.parent).out.startswith("Which refrigerant")


def test_a_tree_of_a_shop_is_tried_over_the_others(typed: Typed, tmp_path: Path) -> None:
    """Its own limit and the shipped readings; a shipped tree that it stands for is not tried by mistake."""
    shop = shop_of_small(tmp_path / "shop")
    for tree in (shop / "small.yaml", "small"):
        assert typed(tree, "--shop", shop, lines=("22", "clean", "0 ft", "68.6", "50")).out.endswith("Enter leaves.\n")
    folder = folder_of_small(tmp_path / "trees")
    assert "stands for" in typed(folder / "small.yaml", "--shop", shop).err


def test_a_tree_with_mistakes_is_not_walked_line_by_line(typed: Typed, file: Path) -> None:
    """Nobody would look again; the mistakes are told with their places."""
    edit(file, "superheat > limits.high_superheat", "superheat > 5")
    ran = typed(file)
    assert (ran.code, ran.out) == (1, "")
    assert f"{file}:21:27: 5 has no unit" in ran.err
    assert "cannot be walked yet" in ran.err
