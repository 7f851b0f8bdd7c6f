"""The force balance of a thermostatic expansion valve (TXV).

Bulb pressure opens; the pressure under the diaphragm (the equalizer) and the spring close. Static superheat is what
the spring asks for before the pin lifts, opening superheat what more it takes to lift it, operating superheat both.
All pressures absolute [Pa] unless they are differences, temperatures [K], opening from 0 to 1.

For a blend bulb and evaporator are both read on the dew curve, as superheat is: how the valve balances depends on their
difference. A parallel (cross) charge is a fluid that its maker keeps to itself, so `bulb_pressure_of` refuses it.

Source: the balance itself is in every valve text; trade journal, tech tips on thermostatic expansion valves.
"""

from typing import assert_never

from assistant.errors import ImpossibleError, OutOfRangeError, PhysicsError
from assistant.frozen import dataclass
from assistant.thermo.curves import Saturation

_FRACTION = "a fraction"


@dataclass(frozen=True, slots=True)
class LiquidCharge:
    """The system's own refrigerant, so much of it that some liquid always stays in the bulb."""


@dataclass(frozen=True, slots=True)
class GasCharge:
    """The system's own refrigerant, so little that the bulb runs dry at a temperature [K].

    Above it the pressure hardly rises any more, which bounds the evaporator pressure (maximum operating pressure).
    The bulb must stay the coldest part of the power element, or the charge leaves it.
    """

    dry_out_temperature: float


@dataclass(frozen=True, slots=True)
class CrossCharge:
    """A parallel charge: another fluid than the system's, of the valve maker's own mixing."""


@dataclass(frozen=True, slots=True)
class LostCharge:
    """The capillary leaks: nothing is left to open the valve, down to the pressure of the air [Pa]."""

    atmospheric_pressure: float


BulbCharge = LiquidCharge | GasCharge | CrossCharge | LostCharge


@dataclass(frozen=True, slots=True)
class Valve:
    """A spring: `closed_spring_pressure` [Pa] at the seat, `spring_rate` [Pa] more when the pin is fully lifted."""

    closed_spring_pressure: float
    spring_rate: float


def bulb_pressure(saturation: Saturation, bulb_temperature: float) -> float:
    """Return the pressure [Pa] in a bulb with a liquid charge of the system's own refrigerant, at its temperature [K].

    Raises:
        OutOfRangeError: outside the curve.
    """
    return saturation.dew_pressure(bulb_temperature)


def bulb_pressure_of(charge: BulbCharge, saturation: Saturation, bulb_temperature: float) -> float:
    """Return the pressure [Pa] in a bulb at its temperature [K], by the kind of charge.

    A gas charge past dry-out is taken as an ideal gas in a fixed volume, pressure in proportion to temperature.

    Raises:
        OutOfRangeError: outside the curve.
        PhysicsError: a parallel (cross) charge, of which nobody but its maker knows the curve.
    """
    match charge:
        case LiquidCharge():
            return bulb_pressure(saturation, bulb_temperature)
        case GasCharge(dry_out_temperature):
            wet = bulb_pressure(saturation, min(bulb_temperature, dry_out_temperature))
            return wet * max(1.0, bulb_temperature / dry_out_temperature)
        case CrossCharge():
            raise PhysicsError(
                "The bulb pressure of a parallel (cross) charge cannot be computed: only the valve's maker knows the"
                " fluid. Judge such a valve by its superheat."
            )
        case LostCharge(atmospheric_pressure):
            return atmospheric_pressure
        case _:
            assert_never(charge)


def superheat_from_spring(saturation: Saturation, spring_pressure: float, evaporating_temperature: float) -> float:
    """Return the superheat [K] at which a spring [Pa] is balanced, at an evaporating (dew) temperature [K].

    The same spring asks for more superheat the colder the evaporator, because the curve is flatter there.

    Raises:
        OutOfRangeError: outside the curve.
    """
    equalizer = saturation.dew_pressure(evaporating_temperature)
    return saturation.dew_temperature(equalizer + spring_pressure) - evaporating_temperature


def static_superheat(saturation: Saturation, valve: Valve, evaporating_temperature: float) -> float:
    """Return the superheat [K] at which a valve just begins to lift, at an evaporating temperature [K].

    Raises:
        OutOfRangeError: outside the curve.
    """
    return superheat_from_spring(saturation, valve.closed_spring_pressure, evaporating_temperature)


def operating_superheat(saturation: Saturation, valve: Valve, evaporating_temperature: float, opening: float) -> float:
    """Return the superheat [K] at which a valve stands open by `opening` (0 to 1), at an evaporating temperature [K].

    Raises:
        OutOfRangeError: outside the curve, or an opening outside 0 to 1.
    """
    _check_fraction("valve opening", opening)
    spring = valve.closed_spring_pressure + valve.spring_rate * opening
    return superheat_from_spring(saturation, spring, evaporating_temperature)


def opening(valve: Valve, bulb: float, equalizer: float) -> float:
    """Return how far a valve stands open (0 to 1), from bulb and equalizer pressure [Pa].

    Raises:
        ImpossibleError: the valve has no spring rate, so that no opening balances.
    """
    if not valve.spring_rate > 0:
        raise ImpossibleError("A valve without a spring rate has no steady opening.")
    lift = (bulb - equalizer - valve.closed_spring_pressure) / valve.spring_rate
    return min(max(lift, 0.0), 1.0)


def loose_bulb_temperature(line_temperature: float, surrounding_temperature: float, contact: float) -> float:
    """Temperature [K] of a bulb that touches its line by a fraction `contact` (0 to 1) and the air by the rest.

    Raises:
        OutOfRangeError: a contact outside 0 to 1.

    Source: a plain mean weighted by contact, no source; it tells the direction, not the amount.
    """
    _check_fraction("bulb contact", contact)
    return contact * line_temperature + (1.0 - contact) * surrounding_temperature


def _check_fraction(quantity: str, value: float) -> None:
    if not 0.0 <= value <= 1.0:
        raise OutOfRangeError(quantity, value, "of 1", 0.0, 1.0, _FRACTION)
