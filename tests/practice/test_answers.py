"""A practice system as the answers of a call: what the bulb's tests show, and what the trees make of it."""

import math
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.call.headless import walk_by_name
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.errors import CoilsideError, InputError, OutOfRangeError
from assistant.practice.visit.answers import HAND, ICE, answers_of, facts_of
from assistant.quantity import PSI, fahrenheit
from assistant.simulator.faults import FAULTS, read_fault, with_severity
from assistant.simulator.plant import DeviceKind
from assistant.simulator.system import System, Wish, practice_system
from assistant.simulator.vapour import modelled_designations
from assistant.source.shipped import shipped_folder
from assistant.thermo.air import from_relative_humidity


@cache
def library() -> Library:
    """The shipped trees."""
    found, problems = load_library([shipped_folder("trees")], None)
    assert not problems
    return found


def system(
    *faults: tuple[str, float], device: DeviceKind = "txv", bulb: float | None = None, refrigerant: str = "R-410A"
) -> System:
    """A system at its rating point."""
    return practice_system(
        Wish(
            refrigerant,
            3.0,
            device,
            fahrenheit(95.0),
            fahrenheit(80.0),
            fahrenheit(67.0),
            faults=tuple(with_severity(FAULTS[name], severity) for name, severity in faults),
            bulb_held_at=bulb,
        )
    )


@pytest.mark.parametrize(("refrigerant", "rise"), [("R-410A", 4.0), ("R-32", 4.0), ("R-454B", 4.0), ("R-22", 2.0)])
def test_a_sound_valve_answers_the_hand_and_the_ice(refrigerant: str, rise: float) -> None:
    """A warm bulb opens the valve and suction rises by some psi; in ice water it falls (common practice, no source)."""
    steady, warm, cold = (
        system(refrigerant=refrigerant, bulb=bulb).readings["suction_pressure"] for bulb in (None, HAND, ICE)
    )
    assert cold < steady - 10.0 * PSI
    assert warm > steady + rise * PSI


def test_the_tests_of_the_bulb_are_among_the_answers() -> None:
    """Where the valve floods, the bulb goes into ice water first; where it starves, into the hand."""

    def pressures(*faults: tuple[str, float]) -> list[float]:
        return [float(text.split()[0]) for text in answers_of(system(*faults))["suction_pressure"]]

    starved = pressures(("spring_set_wrong", 4.0))
    flooded = pressures(("txv_stuck_open", 0.85))
    assert starved[1] > starved[0] + 3.0
    assert flooded[1] == pytest.approx(flooded[0], abs=1.0)


def test_a_valve_stuck_open_answers_nothing() -> None:
    """A pin that stands wide open gives one suction pressure, whatever its bulb feels."""
    pressures = {system(("txv_stuck_open", 1.0), bulb=bulb).readings["suction_pressure"] for bulb in (None, HAND, ICE)}
    assert max(pressures) - min(pressures) < 100.0


def test_a_bulb_without_liquid_hardly_answers_warmth() -> None:
    """A bulb that has run dry lifts the suction less than a sound one does under the same hand."""
    lost = ("bulb_charge_lost", 0.25)
    rise = [
        system(*faults, bulb=HAND).readings["suction_pressure"] - system(*faults).readings["suction_pressure"]
        for faults in ((), (lost,))
    ]
    assert rise[1] < 0.7 * rise[0]


def test_an_orifice_has_no_bulb_to_hold() -> None:
    """Holding a bulb that is not there is refused, and so is a bulb at a temperature that no hand has."""
    with pytest.raises(InputError, match="bulb"):
        system(device="fixed_orifice", bulb=HAND)
    with pytest.raises(OutOfRangeError, match="bulb"):
        system(bulb=400.0)


@pytest.mark.parametrize(
    ("device", "fault"),
    [
        ("txv", "undercharge=0.35"),
        ("txv", "overcharge=0.3"),
        ("txv", "noncondensables=0.3"),
        ("txv", "liquid_line_restriction=0.8"),
        ("txv", "dirty_outdoor_coil=0.5"),
        ("txv", "bulb_loose=0.4"),
        ("txv", "txv_starving=0.5"),
        ("txv", "txv_stuck_open=1"),
        ("fixed_orifice", "undercharge=0.2"),
        ("fixed_orifice", "overcharge=0.25"),
        ("fixed_orifice", "orifice_too_small=0.3"),
        ("fixed_orifice", "orifice_too_large=0.4"),
        ("fixed_orifice", "dirty_outdoor_coil=0.5"),
    ],
)
def test_a_plain_fault_is_found(device: DeviceKind, fault: str) -> None:
    """With one clear fault and nothing unseen, the tree for poor cooling ends with its cause."""
    one = read_fault(fault)
    at_site = system((one.fault.name, one.severity), device=device)
    ended = walk_by_name(library(), "poor_cooling", {**facts_of(at_site), **answers_of(at_site)})
    assert ended.outcome is not None
    assert ended.outcome.cause == one.fault.name


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(modelled_designations()),
    st.sampled_from(("txv", "fixed_orifice")),
    st.lists(st.tuples(st.sampled_from(sorted(FAULTS)), st.floats(0.0, 1.0)), max_size=1, unique_by=lambda one: one[0]),
    st.tuples(st.floats(45.0, 125.0), st.floats(58.0, 105.0), st.floats(0.1, 1.0)),
    st.floats(0.28, 1.75),
)
def test_any_wish_gives_sound_readings_or_is_refused(
    refrigerant: str,
    device: DeviceKind,
    faults: list[tuple[str, float]],
    air: tuple[float, float, float],
    charge: float,
) -> None:
    """Whatever is asked for, readings obey physics, or a refusal in the family of errors says why there are none."""
    outdoor, indoor, humidity = air
    try:
        wish = Wish(
            refrigerant,
            2.5,
            device,
            fahrenheit(outdoor),
            fahrenheit(indoor),
            from_relative_humidity(fahrenheit(indoor), humidity).wet_bulb,
            charge=charge,
            faults=tuple(with_severity(FAULTS[name], FAULTS[name].low + share * 0.6) for name, share in faults),
        )
        found = practice_system(wish)
    except CoilsideError:
        return
    readings = found.readings
    assert all(math.isfinite(value) for value in readings.values())
    assert readings["liquid_pressure"] > readings["suction_pressure"]
    # Wet suction of a blend lies between bubble and dew.
    assert found.truth.superheat > -found.plant.fluid.curves.glide(readings["suction_pressure"]) - 1e-3
    assert readings["supply_air_dry_bulb"] >= readings["supply_air_wet_bulb"] - 1e-6
    # Behind a narrow place ahead of the port liquid has begun to boil, and may be colder than the air.
    if not any(name in ("check_valve_shut", "restricted_ahead_of_port") for name, _ in faults):
        assert readings["liquid_line_temperature"] >= readings["outdoor_air_temperature"] - 1e-6
    assert max(map(abs, found.circuit.residuals(found.plant))) < 1e-4
