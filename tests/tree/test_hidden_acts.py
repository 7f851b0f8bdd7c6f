"""Acts that hide in prose: dangerous steps in everyday words are refused, ordinary sentences are not.

The sentences were written by one person as a hostile and as an ordinary author would write them; no source. Those of
`hostile.txt` are the evasions that once passed and what lies near them. `_held_out`, `_second` and `_third` were
written before the words of the scan were looked at again, and measured once before they were used to better it: 54 of
55, 13 of 54 and 40 of 60 dangerous ones were found then; 0 of 62, 1 of 54 and 0 of 60 ordinary ones called dangerous.
"""

from pathlib import Path

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.source.dangers import DANGERS, DEEDS
from assistant.tree.check import check_tree
from assistant.tree.reader import read_tree

SENTENCES = Path(__file__).parent / "sentences"
TREE = """\
tree: hidden
version: 1
title: Hidden
complaints: [nothing]
start: first
nodes:
  first:
    {key}: {text}
    decide:
      - when: filter_condition is clogged
        {branch}go: fine
      - cannot_tell: fine
      - otherwise: fine
  fine:
    no_fault: Nothing wrong was found.
    because: [filter_condition]
"""
CONTROLS = ("relay", "switch", "float", "R to Y", "protector", "limit", "detector", "contactor", "relief valve")


def sentences(name: str) -> list[str]:
    """The sentences of a file."""
    return (SENTENCES / f"{name}.txt").read_text(encoding="utf-8").splitlines()


def found(sentence: str) -> list[str]:
    """The deeds that a sentence asks for."""
    return [hidden.deed.name for hidden in DANGERS.find(sentence)]


@pytest.mark.parametrize(
    ("name", "most_missed"), [("hostile", 0), ("hostile_held_out", 0), ("hostile_second", 0), ("hostile_third", 1)]
)
def test_dangerous_steps_are_found(name: str, most_missed: int) -> None:
    """Each asks for a guard or is never done, in whatever words it is said."""
    missed = [sentence for sentence in sentences(name) if not found(sentence)]
    assert len(missed) <= most_missed, missed


@pytest.mark.parametrize("name", ["harmless", "harmless_held_out", "harmless_second", "harmless_third"])
def test_ordinary_sentences_are_left_alone(name: str) -> None:
    """What tells a finding, a warning or an ordinary step hides nothing."""
    assert {sentence: found(sentence) for sentence in sentences(name) if found(sentence)} == {}


def problems_of(tmp_path: Path, catalogue: Catalogue, key: str, sentence: str) -> list[str]:
    """What the check tells of a tree with a sentence in one of its texts."""
    quoted = '"' + sentence + '"'
    if key == "branch":
        text = TREE.format(key="say", text="Look.", branch=f"say: {quoted}\n        ")
    else:
        text = TREE.format(key=key, text=quoted, branch="")
    (tmp_path / "hidden.yaml").write_text(text, encoding="utf-8")
    tree, problems = read_tree(tmp_path / "hidden.yaml")
    assert problems == []
    assert tree is not None
    return [
        f"{one.message} = {one.hint}"
        for one in check_tree(tree, catalogue)
        if one.code in ("tree-never", "tree-caution")
    ]


@pytest.mark.parametrize("key", ["say", "why", "title", "branch"])
def test_each_hostile_step_is_refused_wherever_it_stands(tmp_path: Path, catalogue: Catalogue, key: str) -> None:
    """In a remark, a reason, a name or a way on; the message names the act to write, or says why it is never done."""
    for sentence in sentences("hostile"):
        told = problems_of(tmp_path, catalogue, key, sentence)
        assert any("do: " in one or "never done" in one for one in told), sentence


def test_defeating_a_safety_control_is_refused_under_every_caution(tmp_path: Path, catalogue: Catalogue) -> None:
    """No caution makes it right: with all of them acknowledged the step is refused all the same."""
    every = ", ".join(catalogue.cautions)
    for sentence in sentences("hostile"):
        if not any(control in sentence for control in CONTROLS) or "voltage" in sentence:
            continue
        text = TREE.format(key="say", text=f'"{sentence}"\n    caution: [{every}]', branch="")
        (tmp_path / "hidden.yaml").write_text(text, encoding="utf-8")
        tree, _ = read_tree(tmp_path / "hidden.yaml")
        assert tree is not None
        assert "tree-never" in [one.code for one in check_tree(tree, catalogue)], sentence


def test_a_hidden_act_is_guarded_by_the_act_that_it_names(tmp_path: Path, catalogue: Catalogue) -> None:
    """What the hint says is enough: with the act in `do` the same words pass."""
    text = TREE.format(key="say", text='"Take the cover off and look."\n    do: look_inside', branch="")
    (tmp_path / "hidden.yaml").write_text(text, encoding="utf-8")
    tree, _ = read_tree(tmp_path / "hidden.yaml")
    assert tree is not None
    assert [one for one in check_tree(tree, catalogue) if one.code.startswith("tree-")] == []


def test_acts_and_cautions_of_the_table_are_in_the_catalogue(catalogue: Catalogue) -> None:
    """What a message tells an author to write exists; each deed is guarded by a caution or never done, not both."""
    for deed in DEEDS:
        assert set(deed.acts) <= set(catalogue.acts), deed.name
        assert set(deed.cautions) <= set(catalogue.cautions), deed.name
        assert bool(deed.cautions) != bool(deed.never), deed.name


@pytest.mark.parametrize(
    ("sentence", "is_asked"),
    [
        ("Bridge the float switch.", True),
        ("Bridging the float switch for a minute tells.", True),
        ("The float switch can be bridged.", True),
        ("Do not forget to bridge the float switch.", True),
        ("Do not wait, bridge the float switch.", True),
        ("Never bridge the float switch.", False),
        ("Somebody has bridged the float switch.", False),
        ("See whether the float switch is bridged.", False),
        ("Bridging the float switch is never a test.", False),
        ("The float switch must not be bridged.", False),
    ],
)
def test_the_same_deed_in_many_forms(sentence: str, *, is_asked: bool) -> None:
    """An order, a way and a possibility ask for it; a finding and a "not" do not."""
    assert bool(found(sentence)) is is_asked
