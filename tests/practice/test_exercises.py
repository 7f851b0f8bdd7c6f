"""A trainer's list of practice calls: what it says, and its mistakes at their places."""

from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from assistant.practice.training.exercises import ExerciseList, build_exercises, exercises_schema, read_exercises
from assistant.practice.training.kept import SetCall, call_of, call_text, read_call
from assistant.practice.visit.scenario import draw_scenario
from assistant.source.nodes import read_string
from assistant.source.problem import Problem

GOOD = """
practice: First week
exercises:
  - title: Drawn by its number
    seed: 12
    difficulty: 2
    minutes: 45
  - title: The bakery
    complaint: Not cold enough since last week
    system: {refrigerant: R-410A, tons: 2.5, metering_device: fixed_orifice}
    weather: {outdoor: 98 F, return: 78 F, wet_bulb: 65 F, altitude: 600 ft}
    faults: {dirty_filter: 40%, orifice_too_small: usual}
  - faults: none
"""
BAD = """\
practice:
exercises:
  - titel: Drawn by its number
    difficulty: 7
  - system: {refrigerant: R-134a, tons: 9}
    faults: {dirty_filtre: 50%, orifice_too_small: 20%, undercharge: 90%}
  - seed: 3
    weather: {outdoor: 98}
  - seed: 3
    faults: {undercharge: 60%, low: 3}
  - just text
"""
WRONG = {
    (1, "shape-empty"): "nothing stands behind",
    (3, "shape-unknown-key"): "titel",
    (3, "shape-missing-key"): "seed, or names its faults",
    (4, "shape-value"): "whole number from 1 to 4",
    (5, "shape-value"): "1.5 to 5",
    (6, "name-fault"): "dirty_filtre",
    (6, "shape-clash"): "belongs to a system with fixed_orifice",
    (6, "shape-value"): "undercharge",
    (8, "shape-clash"): "weather",
    (8, "shape-value"): "98 has no unit",
    (10, "name-fault"): "low",
    (11, "shape-form"): "keys and values",
}


def read(folder: Path, text: str) -> tuple[ExerciseList | None, list[Problem]]:
    path = folder / "list.yaml"
    path.write_text(text, encoding="utf-8")
    return read_exercises(path)


def test_a_list_says_its_calls(tmp_path: Path) -> None:
    """Drawn from a seed, set fault by fault, or with nothing wrong at all."""
    found, problems = read(tmp_path, GOOD)
    assert problems == []
    assert found is not None
    drawn, bakery, sound = found.exercises
    assert (drawn.seed, drawn.difficulty, drawn.minutes, drawn.hidden) == (12, 2, 45.0, None)
    assert bakery.wish is not None
    assert bakery.wish.altitude == pytest.approx(182.88)
    assert [one.cause for one in bakery.hidden or ()] == ["dirty_filter", "orifice_too_small"]
    assert [one.had.severity for one in bakery.hidden or ()] == [0.4, 0.25]
    assert sound.hidden == ()


def test_every_mistake_is_told_at_its_line(tmp_path: Path) -> None:
    """All at once, each with what to write instead or what there is."""
    found, problems = read(tmp_path, BAD)
    assert found is None
    told = {(one.place.line, one.code): one.message for one in problems}
    for key, words in WRONG.items():
        assert words in "; ".join(one.message for one in problems if (one.place.line, one.code) == key), key
    assert set(told) == set(WRONG)


def test_a_system_that_would_not_run_is_no_exercise(tmp_path: Path) -> None:
    """Nobody can practise on it, so the trainer is told before a trainee is."""
    _, problems = read(tmp_path, "practice: A\nexercises:\n  - faults: none\n    weather: {outdoor: 140 F}\n")
    assert ["would not run" in one.message for one in problems] == [True]


@pytest.mark.parametrize("text", [GOOD, "practice: A\nexercises:\n  - seed: 3\n    faults: none\n"])
def test_the_schema_for_editors_takes_what_the_reader_takes(text: str) -> None:
    """Both are made from one table."""
    assert list(Draft202012Validator(exercises_schema()).iter_errors(yaml.safe_load(text))) == []


@pytest.mark.parametrize(
    "exercise",
    [
        "{title: A}",
        "{seed: 1, difficulty: 5}",
        "{seed: 1, weather: {outdoor: 95 F}}",
        "{seed: 1, colour: red}",
        "{faults: {dirty_filtre: 1}}",
        "{faults: none, difficulty: 2}",
        "{faults: none, system: {tons: 9}}",
    ],
)
def test_the_schema_for_editors_refuses_what_the_reader_refuses(exercise: str, tmp_path: Path) -> None:
    """An editor marks the same mistakes."""
    text = f"practice: A\nexercises:\n  - {exercise}\n"
    assert list(Draft202012Validator(exercises_schema()).iter_errors(yaml.safe_load(text)))
    assert read(tmp_path, text)[1]


@given(st.text(max_size=200))
def test_any_text_gives_a_list_or_mistakes_and_never_an_exception(text: str) -> None:
    """A trainer's slip is told; it does not end the program."""
    root, problems = read_string(f"practice: A\nexercises:\n  - title: {text}\n    faults: {text}\n", "list.yaml")
    if root is not None:
        found, told = build_exercises(root, problems)
        assert (found is None) == bool(told)


def test_a_call_is_the_same_after_it_was_kept(tmp_path: Path) -> None:
    """All of its site is kept, drawn or set by a trainer."""
    found, _ = read(tmp_path, GOOD)
    assert found is not None
    calls = [SetCall(draw_scenario(5, 3)), *(call_of(one, found.title, "Ada") for one in found.exercises)]
    assert [read_call(call_text(call)) for call in calls] == calls
    assert calls[2].scenario.complaint == "Not cold enough since last week"
    assert calls[2].title == "The bakery"


def test_the_list_of_the_readme_is_one(tmp_path: Path) -> None:
    """What it shows to trainers can be worked."""
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    text = readme.split("<!-- a list of practice calls -->\n```yaml\n")[1].split("```")[0]
    found, problems = read(tmp_path, text)
    assert problems == []
    assert found is not None
    assert len(found.exercises) == 2
