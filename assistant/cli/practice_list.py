"""`coilside practice list`: a trainer's list of practice calls, checked and shown."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from assistant.cli.options import problems_text
from assistant.cli.talk import say
from assistant.errors import FileError
from assistant.quantity import plain

if TYPE_CHECKING:
    from assistant.practice.training.exercises import Exercise, ExerciseList


@click.command("list")
@click.argument("file", required=False, type=click.Path(path_type=Path, dir_okay=False))
@click.option("--truth", is_flag=True, help="Tell the hidden faults as well.")
@click.option("--schema", is_flag=True, help="Print the JSON Schema of such a list, for an editor.")
def list_command(file: Path | None, truth: bool, schema: bool) -> None:
    """Check a trainer's list of practice calls, and show it without telling the faults.

    \b
        practice: First week
        exercises:
          - title: Drawn by its number
            seed: 12
            difficulty: 2
            minutes: 45
          - title: The bakery
            complaint: Not cold enough since last week
            system: {refrigerant: R-410A, tons: 3, metering_device: txv}
            weather: {outdoor: 98 F, return: 78 F, wet_bulb: 65 F}
            faults: {dirty_filter: 50%}
    """
    if schema:
        from assistant.practice.training.exercises import exercises_schema

        say(json.dumps(exercises_schema(), indent=2))
        return
    if file is None:
        raise click.UsageError("Name the FILE of a list, or give --schema.")
    found = sound_list(file)
    say(found.title)
    for place, one in enumerate(found.exercises, start=1):
        allowed = f", {plain(one.minutes)} minutes" if one.minutes is not None else ""
        say(f"{place:>3}  {one.title} ({_kind(one)}{allowed})")
        for line in _truth(one) if truth else ():
            say(f"       {line}")


def sound_list(file: Path) -> "ExerciseList":
    """A list without a mistake.

    Raises:
        FileError: it has some; all of them are in the message, with their lines.
    """
    from assistant.practice.training.exercises import read_exercises

    found, problems = read_exercises(file)
    if found is None:
        raise FileError(problems_text(problems))
    return found


def _kind(one: "Exercise") -> str:
    if one.hidden is None or one.wish is None:
        return f"drawn from {one.seed}, difficulty {one.difficulty}"
    return f"{one.wish.refrigerant}, {plain(one.wish.tons)} tons, {one.wish.device}"


def _truth(one: "Exercise") -> "list[str]":
    from assistant.practice.training.exercises import Exercise, explain_hidden
    from assistant.practice.training.kept import call_of

    assert isinstance(one, Exercise)
    scenario = call_of(one).scenario
    hidden = Exercise(one.title, one.seed, hidden=scenario.site.hidden)
    return [f'"{scenario.complaint}"', *(explain_hidden(hidden) if hidden.hidden else ("nothing is wrong",))]
