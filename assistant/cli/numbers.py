"""`coilside numbers`: every worked number that a file of readings allows."""

import json
from collections.abc import Iterable, Iterator
from pathlib import Path

import click

from assistant.call.headless import state_by_name
from assistant.call.plain_values import number_values, refusal_lines
from assistant.catalogue.catalogue import Catalogue
from assistant.cli.answered import answers_from
from assistant.cli.options import Folders, catalogue_from, folders_option, json_option, units_option
from assistant.cli.talk import say
from assistant.quantity import UnitSystem
from assistant.source.nearest import nearest
from assistant.tree.examples import Answers
from assistant.worksheet.sheet import Refused, Worked
from assistant.worksheet.showing import Display, display_for, line_of, tell_work, work_lines


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@units_option
@folders_option
def numbers(file: Path, as_json: bool, units: UnitSystem, folders: Folders) -> None:
    """Every worked number that the facts and readings in FILE allow, with the work shown."""
    catalogue = catalogue_from(folders)
    answers = answers_from(file, catalogue)
    state = state_by_name(catalogue, answers.texts())
    display = display_for(catalogue, units, state.sheet.known)
    found = list(state.sheet.all_numbers())
    if as_json:
        say(json.dumps(number_values(found, display), indent=2, ensure_ascii=False))
    else:
        table = list(_table(found, display))
        say("\n".join([*table, "", *_work(found, display)]) if table else "Nothing can be worked from that file.")
    for line in (*_unused(answers, catalogue), *refusal_lines(found, display)):
        say(line, err=True)


def _unused(answers: Answers, catalogue: Catalogue) -> Iterator[str]:
    """What in the file no number can come from; a name with a slip in it would be missed without a word."""
    for name in answers.answers:
        if name not in catalogue.taking_order:
            near = nearest(name, catalogue.readings)
            yield f"not used: {name}{f' (did you mean {near[0]}?)' if near else ''}"


def _table(found: Iterable[Worked | Refused], display: Display) -> Iterator[str]:
    """One line a number: title, value with its doubt, and a word where it lies at saturation."""
    for number in found:
        if isinstance(number, Worked):
            title, _, value = line_of(number, display).partition(": ")
            yield f"{title:<42} {value}"


def _work(found: Iterable[Worked | Refused], display: Display) -> Iterator[str]:
    for number in found:
        if isinstance(number, Worked):
            yield from (*work_lines(tell_work(number, display)), "")
