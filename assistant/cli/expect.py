"""`coilside expect`: what a sound unit of some facts would read in some weather."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from assistant import doubt
from assistant.call.headless import state_by_name
from assistant.cli.answered import answers_from
from assistant.cli.options import Folders, catalogue_from, folders_option, json_option, units_option
from assistant.cli.talk import say
from assistant.errors import CoilsideError
from assistant.expecting import read_expected_name
from assistant.quantity import UnitSystem
from assistant.simulator.expected import LOAD
from assistant.worksheet.expected_formulas import EXPECTED
from assistant.worksheet.sheet import Refused, Sheet, Worked
from assistant.worksheet.showing import Display, display_for, range_of, refusal_reason
from assistant.worksheet.showing import as_json as number_values


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@units_option
@folders_option
def expect(file: Path, as_json: bool, units: UnitSystem, folders: Folders) -> None:
    """What a sound unit of the facts in FILE would read in its weather, with how far sound units differ."""
    catalogue = catalogue_from(folders)
    sheet = state_by_name(catalogue, answers_from(file, catalogue).texts()).sheet
    display = display_for(catalogue, units, sheet.known)
    if as_json:
        say(json.dumps(_values(sheet, display), indent=2, ensure_ascii=False))
        return
    lines = list(_lines(sheet, display))
    say("\n".join(lines) if lines else "Nothing can be expected from that file.")


def _values(sheet: Sheet, display: Display) -> dict[str, Any]:
    """Return what is expected by name, as `numbers --json` prints numbers, and what is refused with its reason."""
    expected = number_values((one for one in sheet.expected_numbers() if isinstance(one, Worked)), display)
    found: dict[str, Any] = {read_expected_name(name) or name: value for name, value in expected.items()}
    load = _load(sheet)
    if load is not None:
        value, spread = round(doubt.nominal(load), 2), round(doubt.expanded(load), 2)
        found["compressor_current"] = {"value": value, "unit": "of the rated load", "uncertainty": spread}
    return {"expected": found, "refused": dict(_refusals(sheet, display))}


def _refusals(sheet: Sheet, display: Display) -> Iterator[tuple[str, str]]:
    for name in EXPECTED:
        found = sheet.number(name)
        if isinstance(found, Refused):
            yield read_expected_name(name) or name, refusal_reason(found.error, display)
        elif found is None:
            lacking = [display.catalogue.title_of(one).lower() for one in sheet.not_told(name)]
            yield read_expected_name(name) or name, f"not told: {'; '.join(lacking)}"


def _load(sheet: Sheet) -> doubt.Uncertain | None:
    """Return the current of a sound unit's compressor as a share of its rated load."""
    try:
        return sheet.known.sound.quantities[LOAD]
    except (CoilsideError, KeyError):
        return None


def _lines(sheet: Sheet, display: Display) -> Iterator[str]:
    refused: dict[str, list[str]] = {}
    for name, reason in _refusals(sheet, display):
        refused.setdefault(reason, []).append(name)
    for one in sheet.expected_numbers():
        if isinstance(one, Worked):
            name = read_expected_name(one.name) or one.name
            yield f"{display.catalogue.title_of(name):<42} {range_of(name, one.value, display)}"
    load = _load(sheet)
    if load is not None:
        middle, spread = doubt.nominal(load), doubt.expanded(load)
        ends = f"about {100 * (middle - spread):.0f} to {100 * (middle + spread):.0f} % of the rated load"
        yield f"{display.catalogue.title_of('compressor_current'):<42} {ends}"
    for reason, names in refused.items():
        yield f"not expected ({len(names)} values): {reason}"
