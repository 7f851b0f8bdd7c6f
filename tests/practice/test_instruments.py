"""What instruments show of a practice system: never further off than they promise, and always the same for one seed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.catalogue.loading import load_catalogue
from assistant.errors import UnknownNameError
from assistant.practice.visit.instruments import (
    INSTRUMENTS,
    USED,
    Kit,
    instrument_of,
    promised_accuracy,
    seating,
    settled_share,
    show_reading,
)
from assistant.quantity import PSI, Kind, fahrenheit
from assistant.simulator.readings import KINDS
from assistant.source.shipped import shipped_folder

_PAIR = {
    "drier_inlet_temperature",
    "drier_outlet_temperature",
    "metering_inlet_temperature",
    "reversing_valve_suction_in",
    "reversing_valve_suction_out",
    "idle_device_inlet_temperature",
    "idle_device_outlet_temperature",
}
"""Readings whose accuracy in the catalogue is that between two readings of one thermometer."""


def test_instruments_are_as_accurate_as_the_catalogue_says() -> None:
    """Accuracy and repeatability of each reading of a practice system are those of the catalogue."""
    catalogue, _ = load_catalogue(shipped_folder("trees") / "catalogue")
    for name in set(USED) - _PAIR:
        reading = catalogue.readings[name]
        for value in (reading.low.value, reading.high.value):
            whole, scatter = promised_accuracy(name, value, Kit(1))
            assert whole == pytest.approx(reading.accuracy.of(value, reading.kind)), name
            assert reading.repeatability is None or scatter == pytest.approx(
                reading.repeatability.of(value, reading.kind)
            )
        assert instrument_of(name).kind is reading.kind


def test_every_reading_of_the_circuit_has_an_instrument() -> None:
    """Whatever a solved circuit gives can be taken."""
    assert set(KINDS) <= set(USED)
    assert set(USED.values()) == set(INSTRUMENTS)


@given(st.sampled_from(sorted(USED)), st.integers(0, 10**6), st.integers(0, 50), st.floats(0.2, 0.8))
def test_what_is_shown_lies_within_the_promise(name: str, seed: int, draw: int, part: float) -> None:
    """No reading lies further from the truth than its accuracy and half the last digit of the display."""
    one, kit = instrument_of(name), Kit(seed)
    true = {
        Kind.TEMPERATURE: fahrenheit(200.0 * part),
        Kind.PRESSURE: 500.0 * PSI * part,
        Kind.DURATION: 3600.0 * part,
        Kind.CURRENT: 30.0 * part,
        Kind.AIRFLOW: part,
        Kind.PRESSURE_DIFFERENCE: 250.0 * part,
    }[one.kind]
    unit = one.unit()
    digit = abs(unit.to_si(one.step) - unit.to_si(0.0))
    assert abs(show_reading(name, true, kit, draw) - true) <= promised_accuracy(name, true, kit)[0] + digit / 2.0 + 1e-9
    assert show_reading(name, true, kit, draw) == show_reading(name, true, kit, draw)


def test_one_gauge_keeps_its_error_through_the_visit() -> None:
    """Looks at one gauge scatter little, so a change shows better than the value itself; another kit errs elsewhere."""
    looks = [show_reading("suction_pressure", 900e3, Kit(7), draw) for draw in range(20)]
    others = [show_reading("suction_pressure", 900e3, Kit(seed)) for seed in range(20)]
    assert max(looks) - min(looks) < 1.2 * PSI
    assert max(others) - min(others) > 3.0 * PSI


def test_the_error_of_one_thermometer_drops_out_between_two_places() -> None:
    """The fall over a drier, taken with one thermometer, is right within its scatter."""
    before, after = (
        show_reading(name, fahrenheit(value), Kit(3), 4)
        for name, value in (("drier_inlet_temperature", 100.0), ("drier_outlet_temperature", 92.0))
    )
    assert before - after == pytest.approx(8.0 / 1.8, abs=1.2 / 1.8)


def test_own_instruments_are_as_good_as_told() -> None:
    """A gauge told to be good to half a psi reads within half a psi."""
    kit = Kit(11, gauges=0.5 * PSI, thermometers=0.5 / 1.8)
    assert abs(show_reading("liquid_pressure", 2.5e6, kit) - 2.5e6) <= 0.56 * PSI
    assert abs(show_reading("return_air_dry_bulb", fahrenheit(80.0), kit) - fahrenheit(80.0)) <= 0.56 / 1.8


def test_a_clamp_needs_its_two_minutes() -> None:
    """After two minutes a clamp shows what it clasps; after ten seconds it does not (common practice, no source)."""
    assert settled_share("suction_line_temperature", 120.0) > 0.98
    assert settled_share("suction_line_temperature", 10.0) < 0.5
    assert settled_share("minutes_running", 0.0) == 1.0


def test_a_clamp_sits_badly_now_and_then() -> None:
    """Of many fittings a few feel the air; a probe in the air cannot be off a pipe."""
    shares = [seating("suction_line_temperature", Kit(seed), 1) for seed in range(400)]
    bad = [share for share in shares if share]
    assert 4 <= len(bad) <= 28
    assert all(0.1 < share < 0.6 for share in bad)
    assert not any(seating("return_air_dry_bulb", Kit(seed), 1) for seed in range(100))


def test_what_no_instrument_takes_is_refused() -> None:
    """A reading that there is not is refused with the nearest ones."""
    with pytest.raises(UnknownNameError, match="suction_pressure"):
        show_reading("suction_presure", 900e3, Kit(1))
