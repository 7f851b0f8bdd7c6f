"""`expected(NAME)` in a tree: what a sound unit would have, asked for and compared like a worked number."""

import pytest

from assistant.call.prompts import CloseCall
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.check import check_tree
from assistant.tree.reader import read_tree_string
from tests.call.small import asked_next, prompted, small_library, talk, way

HELD = """
first:
  decide:
    - when: superheat > expected(superheat) + 5 F
      go: dry
    - cannot_tell: open_end
    - otherwise: fed
dry: {cause: undercharge}
fed: {cause: overcharge}
open_end: {undecided: It cannot be told.}
"""
ANSWERS = {
    "refrigerant": "R-410A",
    "metering_device": "txv",
    "mode": "cooling",
    "subcooling_target": "10 F",
    "outdoor_air_temperature": "95 F",
    "return_air_dry_bulb": "80 F",
    "return_air_wet_bulb": "67 F",
    "suction_pressure": "118 psig",
}


def taken(catalogue: Catalogue, line: str, **others: str):  # type: ignore[no-untyped-def]
    """The call after every question is answered, with a suction line as warm as told."""
    library = small_library(catalogue, HELD)
    answers = ANSWERS | {"suction_line_temperature": line} | others
    now = talk(library)
    for _ in range(12):
        name = asked_next(now) if now.prompt is not None else ""
        if name not in answers:
            break
        now = talk(library, answers[name], begin=now.used)
    return now


def test_it_asks_for_the_weather_by_itself(catalogue: Catalogue) -> None:
    """The tree names superheat alone; what the expected one rests on is asked for, each once."""
    asked = prompted(taken(catalogue, "95 F"))
    assert {"outdoor_air_temperature", "return_air_dry_bulb", "return_air_wet_bulb", "metering_device"} <= set(asked)
    assert len(asked) == len(set(asked))


def test_far_beyond_what_is_expected_it_is_told(catalogue: Catalogue) -> None:
    """55 F of superheat is more than any sound valve leaves; 10 F is less than 5 F beyond what one has, closely."""
    assert way(taken(catalogue, "95 F"))[-1:] == ["dry"]
    assert isinstance(taken(catalogue, "60 F").prompt, CloseCall)


def test_what_sound_units_differ_by_joins_the_comparison(catalogue: Catalogue) -> None:
    """The limit has a doubt of its own, some 5 to 9 °F, and the margin that of gauge, clamp and sound units as well."""
    prompt = taken(catalogue, "60 F").prompt
    assert isinstance(prompt, CloseCall)
    scale = prompt.leanings[0].scale
    assert 5.0 < scale.limit.spread * 1.8 < 9.0
    assert scale.margin_spread > max(scale.limit.spread, scale.measured.spread)


def test_where_nothing_is_expected_it_cannot_be_told(catalogue: Catalogue) -> None:
    """Cold outdoors, or a refrigerant without a simulated unit: the way for what cannot be told is taken."""
    for others in ({"outdoor_air_temperature": "45 F"}, {"refrigerant": "R-134a", "suction_pressure": "35 psig"}):
        assert way(taken(catalogue, "60 F", **others))[-1:] == ["open_end"]


@pytest.mark.parametrize(
    ("condition", "words"),
    [
        ("superheat > expected(super_heat)", "super_heat"),
        ("superheat > expected()", "expected(superheat)"),
        ("superheat > expected(suction_pressure)", "kind"),
        ("superheat > expected(filter_condition)", "filter_condition"),
    ],
)
def test_a_mistake_in_what_is_expected_is_told(catalogue: Catalogue, condition: str, words: str) -> None:
    """A name that is none, no name, another kind, and what no sound unit has."""
    text = "tree: t\nversion: 1\ntitle: T\ncomplaints: [a b]\nstart: first\nnodes:\n"
    text += f"  first:\n    decide:\n      - when: {condition}\n        go: a\n"
    text += "      - cannot_tell: a\n      - otherwise: a\n"
    text += "  a: {undecided: No.}\n"
    tree, problems = read_tree_string(text, "t.yaml")
    found = [*problems, *(check_tree(tree, catalogue) if tree else ())]
    assert any(words in f"{one.message} {one.hint}" for one in found), [f"{o.message} {o.hint}" for o in found]
