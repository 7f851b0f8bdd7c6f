"""`coilside opinion`: everything measured and seen, weighed against all causes."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from assistant.call.headless import state_by_name
from assistant.cli.answered import answers_from
from assistant.cli.options import Folders, catalogue_from, folders_option, json_option, units_option
from assistant.cli.talk import say
from assistant.errors import InputError
from assistant.quantity import UnitSystem
from assistant.worksheet.showing import display_for

_WIDE = 80


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@units_option
@folders_option
def opinion(file: Path, as_json: bool, units: UnitSystem, folders: Folders) -> None:
    """All readings and observations in FILE weighed against all causes, and the next step."""
    from assistant.opinion.inputs import situation_of
    from assistant.opinion.telling import opinion_lines, opinion_values, wrap_lines
    from assistant.opinion.work import work_opinion

    catalogue = catalogue_from(folders)
    given = answers_from(file, catalogue).texts()
    state = state_by_name(catalogue, given)
    situation = situation_of(state.sheet.known, catalogue, _read_tests(given))
    found, steps = work_opinion(catalogue, situation)
    display = display_for(catalogue, units, state.sheet.known)
    if as_json:
        say(json.dumps(opinion_values(found, steps, situation, display), indent=2, ensure_ascii=False))
        return
    say("\n".join(wrap_lines(opinion_lines(found, steps, situation, display), _WIDE)))


def _read_tests(given: Mapping[str, Sequence[str]]) -> dict[str, int]:
    """Return what the suction pressure did in the tests of the bulb, as typed.

    Raises:
        InputError: it is neither of the three things that it can do.
    """
    from assistant.opinion.next_steps import CHILL, OUTCOMES, WARM

    found = {}
    for name in (WARM, CHILL):
        for text in given.get(name, ())[-1:]:
            if text not in OUTCOMES:
                raise InputError(f"{name}: tell what the suction pressure does: {', '.join(OUTCOMES)}.")
            found[name] = OUTCOMES.index(text)
    return found
