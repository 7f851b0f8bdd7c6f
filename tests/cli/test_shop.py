"""`--shop`: a folder of one's own over the shipped one, for every command that works on trees."""

from pathlib import Path

import pytest

from tests.cli.lines import folder_of_small
from tests.cli.running import Run

BAND = """
superheat_band:
  value: 3 F
  kind: temperature_difference
  what: how far superheat may lie from its target on our sites
  source: common practice, no source
"""
OURS = """
tree: ours
version: 1
title: Ours
complaints: [our word for it]
start: first
nodes:
  first:
    say: This is our way.
    use: small
    when_undecided: open_end
  open_end: {undecided: Ask the office.}
"""
ANSWERS = "facts: {refrigerant: R-410A}\nanswers: {filter_condition: clean}\n"


@pytest.fixture
def base(tmp_path: Path) -> Path:
    """A folder of trees with a small one and its example call."""
    (tmp_path / "base").mkdir()
    folder = folder_of_small(tmp_path / "base")
    (folder / "small.calls.yaml").write_text(
        "calls:\n  - {name: choked, answers: {filter_condition: clogged}, reaches: dirty_filter}\n", encoding="utf-8"
    )
    return folder


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop's folder: a tree that uses the other, and a limit in the place of another."""
    folder = tmp_path / "shop"
    (folder / "catalogue").mkdir(parents=True)
    (folder / "ours.yaml").write_text(OURS, encoding="utf-8")
    (folder / "catalogue" / "limits.yaml").write_text(BAND, encoding="utf-8")
    return folder


@pytest.fixture
def answers(tmp_path: Path) -> Path:
    """A file of answers."""
    file = tmp_path / "answers.yaml"
    file.write_text(ANSWERS, encoding="utf-8")
    return file


def test_a_shops_tree_is_walked_over_the_others(run: Run, base: Path, shop: Path, answers: Path) -> None:
    """It is found beside the others and goes on in the one that it uses; what is replaced is told on one line."""
    ran = run("walk", "--tree", "ours", "--answers", answers, "--trees", base, "--shop", shop)
    assert ran.code == 0
    said = ran.out.splitlines()
    assert said.index("This is our way.") < said.index("It cannot be told.") < said.index("Ask the office.")
    assert "Your shop's folder replaces: superheat_band (limit)." in ran.err


def test_the_environment_names_the_shop(
    run: Run, base: Path, shop: Path, answers: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is set once serves every command."""
    monkeypatch.setenv("COILSIDE_SHOP", str(shop))
    monkeypatch.setenv("COILSIDE_TREES", str(base))
    assert run("walk", "--tree", "ours", "--answers", answers).code == 0
    assert run("trees", "draw", "ours").code == 0
    assert '"ours"' in run("trees", "schema", "tree").out
    assert "small: 1 of 1" in run("trees", "examples").out
    assert "3 F" in run("trees", "names", "limits", "superheat_band").out


def test_no_such_shop(run: Run, tmp_path: Path, answers: Path) -> None:
    """A folder that is not there is an error, and not passed over."""
    for command in (("walk", "--tree", "poor_cooling", "--answers", answers), ("numbers", answers), ("trees", "check")):
        ran = run(*command, "--shop", tmp_path / "nowhere")
        assert ran.code == 1
        assert "nowhere is not a folder of trees" in ran.err


def test_check_looks_at_all_as_it_then_is(run: Run, base: Path, shop: Path) -> None:
    """Both folders together have no problem; what is replaced is a note with both places."""
    ran = run("trees", "check", base, "--shop", shop)
    assert (ran.code, ran.err) == (0, "no problems, 1 note\n")
    assert ran.out.startswith(f"{shop / 'catalogue' / 'limits.yaml'}:3:")
    assert f"superheat_band (limit) replaces the one at {base / 'catalogue' / 'limits.yaml'}:" in ran.out
    assert ran.out.endswith("[note-replaced]\n")


def test_check_takes_the_shops_own_folder_by_its_name(run: Run, shop: Path) -> None:
    """Named as the path as well, the shop's folder lies over the shipped trees."""
    text = OURS.replace("use: small", "use: valve_bench").replace("start: first", "mode: cooling\nstart: first", 1)
    (shop / "ours.yaml").write_text(text, encoding="utf-8")
    assert "ours.yaml" not in run("trees", "check", shop, "--shop", shop).out
    assert run("trees", "check", shop / "ours.yaml", "--shop", shop).code == 0


def test_a_replaced_tree_is_noted(run: Run, base: Path, shop: Path) -> None:
    """A tree of the same name counts instead; the trees that use it are checked with it."""
    text = OURS.replace("tree: ours", "tree: small").replace("    use: small\n    when_undecided: ", "    go: ")
    (shop / "small.yaml").write_text(text, encoding="utf-8")
    ran = run("trees", "check", base, "--shop", shop)
    assert f"small (tree) replaces the one at {base / 'small.yaml'}" in ran.out
    # The example call of the tree that was replaced can no longer reach its cause.
    assert "[call-end]" in ran.out
    assert ran.code == 1


def test_a_changed_limit_breaks_what_it_breaks(run: Run, base: Path, shop: Path) -> None:
    """A choice that the shop's catalogue no longer has is told, and the entry below stands."""
    (shop / "catalogue" / "observations.yaml").write_text(
        "filter_condition:\n  title: Filter\n  question: How is it?\n  choices: {clean: clean, dirty: dirty}\n",
        encoding="utf-8",
    )
    ran = run("trees", "check", base, "--shop", shop)
    assert ran.code == 1
    assert "[catalogue-layer]" in ran.out
    assert "1 problem, 1 note" in ran.err


def test_examples_of_the_lower_folder_run_over_the_shops(run: Run, base: Path, shop: Path) -> None:
    """The calls of the tree below are walked over the shop's catalogue; a file of calls of its name replaces them."""
    assert "small: 1 of 1" in run("trees", "examples", base, "--shop", shop).out
    calls = "calls:\n" + "".join(
        f"  - {{name: call {at}, answers: {{filter_condition: clogged}}, reaches: dirty_filter}}\n" for at in range(3)
    )
    (shop / "small.calls.yaml").write_text(calls, encoding="utf-8")
    assert "small: 3 of 3" in run("trees", "examples", base, "--shop", shop).out


def test_the_numbers_are_shown_with_the_shops_words(run: Run, shop: Path, tmp_path: Path) -> None:
    """A worked number has the title that the shop gives it."""
    (shop / "catalogue" / "numbers.yaml").write_text(
        "superheat:\n  title: Suction superheat\n  kind: temperature_difference\n  tells: how far it is from boiling\n",
        encoding="utf-8",
    )
    file = tmp_path / "readings.yaml"
    file.write_text(
        "facts: {refrigerant: R-410A}\nanswers: {suction_pressure: 118 psig, suction_line_temperature: 60 F}\n",
        encoding="utf-8",
    )
    assert "Suction superheat" in run("numbers", file, "--shop", shop).out
    assert "Suction superheat" not in run("numbers", file).out


def test_a_call_line_by_line_offers_the_shops_trees(
    run: Run, base: Path, shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The complaint is searched in the shop's trees too, and what is replaced is told before the first question."""
    lines = iter(["our word for it"])
    monkeypatch.setattr("assistant.cli.call.read_line", lambda: next(lines, None))
    ran = run("call", "--plain", "--trees", base, "--shop", shop, "--home", tmp_path / "home")
    assert "Your shop's folder replaces: superheat_band (limit)." in ran.err
    assert ran.out.startswith("What is the complaint?")
    assert "  1  Ours" in ran.out


def test_the_option_stands_behind_the_command(run: Run, shop: Path) -> None:
    """In front of a command it would have no effect, so it is refused."""
    ran = run("--shop", shop, "trees", "check")
    assert ran.code == 2
    assert "Put --shop behind the command" in ran.err
