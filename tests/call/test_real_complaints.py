"""What techs and customers say, and the tree that must come up for it.

The wordings are common speech of the trade; from memory, no source.
"""

import pytest

from assistant.call.library import Library

FIRST = {
    "not cooling": "poor_cooling",
    "ac blowing warm, house 80 degrees, has a txv": "poor_cooling",
    "house is warm": "poor_cooling",
    "house won't cool down": "poor_cooling",
    "runs all day, never gets down to temperature": "poor_cooling",
    "freezing up": "iced_coil",
    "ice on the big line": "iced_coil",
    "short cycling": "short_cycling",
    "trips on high head": "high_head",
    "high pressure lockout": "high_head",
    "low pressure switch keeps opening": "low_suction",
    "suction pressure low": "low_suction",
    "compressor hot to touch, shuts off on overload": "hot_discharge",
    "superheat jumps up and down": "superheat_hunting",
    "txv hissing": "noisy_metering",
    "gurgling noise at the coil": "noisy_metering",
    "liquid slugging compressor": "liquid_floodback",
    "frost back to the compressor": "liquid_floodback",
    "house is muggy but cold": "high_humidity",
    "stuck in cooling, wont switch to heat": "reversing_valve",
    "outdoor coil is a block of ice": "defrost",
    "defrost never stops": "defrost",
    "weigh in the charge": "charge_by_weight",
    "charge by superheat": "charge_by_superheat",
    "check the charge with a txv": "charge_by_subcooling",
    "compressor not pumping": "compressor_pumping",
    "low airflow, weak air from registers": "indoor_airflow",
    "electronic expansion valve stuck": "electronic_valve",
    "check valve stuck, heat pump": "wrong_way_flow",
    "heat pump low on charge in winter": "heating_charge",
    "outside unit wont start": "will_not_run",
    "unit not running": "will_not_run",
    "unit wont come on": "will_not_run",
    "outdoor unit just hums": "will_not_run",
    "dirty condenser": "outdoor_coil",
}
AMONG_THREE = {
    "no cool big pipe not sweating": "starved_coil",
    "compressor hot and buzzing": "will_not_run",
    "compressor hot": "hot_discharge",
    "ac blowing warm air": "poor_cooling",
    "heat pump blowing cold air in heat mode": "poor_heating",
    "new txv installed still not cooling": "parts_changed",
    "oil leak at the flare": "leak_repair",
    "low on gas": "leak_repair",
    "wrong piston put in": "parts_changed",
    "is the expansion valve bad": "valve_bench",
    "after the repair, is it right now": "recommission",
    "runs five minutes then stops": "short_cycling",
    "frezing up": "iced_coil",
    "compresser wont strat": "will_not_run",
}


@pytest.mark.parametrize(("said", "tree"), FIRST.items())
def test_the_right_tree_comes_first(library: Library, said: str, tree: str) -> None:
    """The tree for plain words stands at the top of the list."""
    found = [match.tree for match in library.complaints.matches(said)]
    assert found[:1] == [tree], found


@pytest.mark.parametrize(("said", "tree"), AMONG_THREE.items())
def test_the_right_tree_is_among_three(library: Library, said: str, tree: str) -> None:
    """Where words fit several trees, or are misspelt, the right one is among the first three."""
    found = [match.tree for match in library.complaints.matches(said)]
    assert tree in found[:3], found
