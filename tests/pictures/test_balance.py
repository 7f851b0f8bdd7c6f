"""The force balance of the valve."""

import pytest

from assistant.catalogue.catalogue import Catalogue
from assistant.pictures.album import NotDrawn, draw_pictures
from assistant.pictures.balance import Push, ValveBalance, balance_words, valve_balance
from tests.pictures.sheets import display, sheet_of

PSI = 6894.757293168


def balance_of(catalogue: Catalogue, refrigerant: str = "R-410A", **readings: str) -> ValveBalance:
    sheet = sheet_of(catalogue, refrigerant, **readings)
    return valve_balance(sheet, display(catalogue, sheet))


def test_bulb_equals_equalizer_and_spring(catalogue: Catalogue) -> None:
    """The bulb opens, equalizer and spring close.

    Source: trade journal, tech tips on expansion valves: bulb pressure = evaporator pressure + spring pressure.
    """
    balance = balance_of(catalogue, suction_pressure="118 psig", evaporator_outlet_temperature="54 F")
    bulb, equalizer, spring = (force.pressure for force in balance.forces)
    assert bulb is not None
    assert equalizer is not None
    assert spring is not None
    assert bulb == pytest.approx(equalizer + spring)
    assert [force.opens for force in balance.forces] == [True, False, False]


@pytest.mark.parametrize(
    ("celsius", "kilopascal"), [(10, 13.8), (5, 12.2), (0, 10.6), (-5, 9.2), (-10, 7.9), (-20, 5.7), (-30, 4.0)]
)
def test_the_spring_of_a_target_follows_the_saturation_curve(
    catalogue: Catalogue, celsius: float, kilopascal: float
) -> None:
    """One kelvin of superheat takes one kelvin's worth of pressure, less the colder it is.

    Source: slopes of the saturation curve of R-134a, to 3 %; a valve maker's guide table has them within 1 kPa.
    """
    pressures = {10: 414.6, 5: 349.7, 0: 292.8, -5: 243.3, -10: 200.6, -20: 132.7, -30: 84.4}
    # Half a kelvin lower, so that the kelvin lies around the temperature of the table.
    suction = pressures[int(celsius)] - kilopascal / 2
    balance = balance_of(catalogue, "R-134a", suction_pressure=f"{suction:.2f} kPa abs", superheat_target="1 K")
    assert balance.target_spring.pressure == pytest.approx(kilopascal * 1e3, rel=0.03)


@pytest.mark.parametrize(
    ("suction", "push"),
    [("77 psig", Push.OPEN), ("124 psig", Push.BALANCED), ("145 psig", Push.SHUT), ("175 psig", Push.SHUT)],
)
def test_the_push_follows_the_readings(catalogue: Catalogue, suction: str, push: Push) -> None:
    """A starved coil pushes a sound valve open, a flooded one shut.

    Source: trade journal on expansion valves: more superheat opens, less closes.
    """
    balance = balance_of(
        catalogue, suction_pressure=suction, evaporator_outlet_temperature="54 F", superheat_target="10 F"
    )
    assert balance.push is push


def test_the_push_has_the_sign_of_superheat_over_target(catalogue: Catalogue) -> None:
    """It is the same statement in pressures, so at the target itself nothing is left over."""
    balance = balance_of(
        catalogue, suction_pressure="118 psig", evaporator_outlet_temperature="50.0 F", superheat_target="10 F"
    )
    spring, target = balance.spring.pressure, balance.target_spring.pressure
    assert spring is not None
    assert target is not None
    # R-410A boils at 40 °F at 118.5 psig: values of saturation in the reference folder.
    assert spring == pytest.approx(target, abs=1.5 * PSI)
    assert balance.push is Push.BALANCED


def test_a_bulb_colder_than_the_coil_shuts_outright(catalogue: Catalogue) -> None:
    """Below the equalizer alone, no spring is needed to shut it."""
    balance = balance_of(catalogue, suction_pressure="160 psig", evaporator_outlet_temperature="40 F")
    assert balance.push is Push.SHUT
    assert "equalizer alone" in balance.verdict


def test_what_was_not_read_is_named(catalogue: Catalogue) -> None:
    """Without the bulb's temperature there is no push."""
    balance = balance_of(catalogue, suction_pressure="118 psig")
    assert balance.push is Push.UNKNOWN
    assert balance.bulb.pressure is None
    assert balance.bulb.shown == "not known: evaporator outlet temperature not read"
    assert "Bulb, opens: not known: evaporator outlet temperature not read." in balance_words(balance)


def test_an_unmodelled_refrigerant_is_refused_not_guessed(catalogue: Catalogue) -> None:
    """The reason of the worksheet stands where the number would."""
    balance = balance_of(catalogue, "R-12345", suction_pressure="118 psig", evaporator_outlet_temperature="54 F")
    assert balance.bulb.pressure is None
    assert "R-12345" in balance.bulb.shown
    assert balance.push is Push.UNKNOWN


def test_an_internal_equalizer_is_told_apart(catalogue: Catalogue) -> None:
    """It feels the coil's inlet, so the note is another one."""
    sheet = sheet_of(catalogue, suction_pressure="118 psig", evaporator_outlet_temperature="54 F")
    inside = type(sheet)(
        type(sheet.known)(sheet.known.quantities, {**sheet.known.choices, "equalizer": "internal"}, sheet.known.asked)
    )
    notes = valve_balance(inside, display(catalogue, inside)).notes
    assert any("coil's inlet" in note for note in notes)


@pytest.mark.parametrize(("device", "word"), [("fixed_orifice", "no moving part"), ("eev", "no bulb")])
def test_only_a_valve_with_a_bulb_has_the_balance(catalogue: Catalogue, device: str, word: str) -> None:
    """Another metering device has no such picture, and the page says why."""
    sheet = sheet_of(catalogue, device=device, suction_pressure="118 psig")
    shown = draw_pictures(sheet, display(catalogue, sheet), (), {})[1]
    assert isinstance(shown, NotDrawn)
    assert word in shown.reason
