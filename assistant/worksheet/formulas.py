"""The formulas of the worked numbers, each with what goes in, how it is written out, and where it comes from.

The `expression` of a formula names its inputs in braces. It is shown twice: with titles, then with values.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from assistant import doubt
from assistant.doubt import Uncertain
from assistant.quantity import KELVIN_PER_FAHRENHEIT
from assistant.thermo import circuit, valve
from assistant.thermo.curves import Saturation, saturation
from assistant.worksheet.known import Known

Inputs = Mapping[str, Uncertain]


@dataclass(frozen=True, slots=True)
class Formula:
    """One way to work a number.

    `inputs` are readings, facts and other worked numbers; all must be there. `asks` are facts that are asked for
    first and do without an answer. `applies` says on which systems this is the way; `chosen_by` are the facts that
    it looks at.
    """

    inputs: tuple[str, ...]
    compute: Callable[[Inputs, Known], Uncertain]
    expression: str
    source: str
    note: str = ""
    asks: tuple[str, ...] = ()
    applies: Callable[[Known], bool] = lambda known: True
    chosen_by: tuple[str, ...] = ()

    @property
    def quantities(self) -> tuple[str, ...]:
        """The inputs that are numbers, so all but the refrigerant."""
        return tuple(name for name in self.inputs if name != "refrigerant")


_PRACTICE: Final = "common practice, no source"
_DEFINITION: Final = "definition"
_TARGET: Final = 11 * KELVIN_PER_FAHRENHEIT
_TARGET_HALF_WIDTH: Final = 3 * KELVIN_PER_FAHRENHEIT


def _curves(known: Known) -> Saturation:
    """The saturation curves of the call's refrigerant, which the sheet has made sure of."""
    assert known.refrigerant is not None
    return saturation(known.refrigerant)


def _dew_temperature(pressure: Uncertain, known: Known) -> Uncertain:
    curves = _curves(known)
    return doubt.lift(curves.dew_temperature, curves.dew_temperature_slope)(pressure)


def _bubble_temperature(pressure: Uncertain, known: Known) -> Uncertain:
    curves = _curves(known)
    return doubt.lift(curves.bubble_temperature, curves.bubble_temperature_slope)(pressure)


def _dew_pressure(temperature: Uncertain, known: Known) -> Uncertain:
    curves = _curves(known)
    return doubt.lift(curves.dew_pressure, curves.dew_pressure_slope)(temperature)


def _bubble_pressure(temperature: Uncertain, known: Known) -> Uncertain:
    curves = _curves(known)
    return doubt.lift(curves.bubble_pressure, curves.bubble_pressure_slope)(temperature)


def _flash_gas(inputs: Inputs, known: Known) -> Uncertain:
    curves = _curves(known)
    fraction = doubt.lift_many(lambda liquid, suction: circuit.flash_gas_fraction(curves, liquid, suction))
    return fraction(inputs["liquid_line_temperature"], inputs["suction_pressure"])


def _orifice_target(inputs: Inputs, known: Known) -> Uncertain:
    wet_bulb, outdoor = inputs["return_air_wet_bulb"], inputs["outdoor_air_temperature"]
    target = circuit.fixed_orifice_superheat_target(wet_bulb, outdoor)
    # The rule itself is no better than this, whatever the thermometers.
    return target + doubt.within(0.0, 3 * KELVIN_PER_FAHRENHEIT, "the rule itself")


def _from(function: Callable[..., Uncertain], first: str, second: str, sign: str = "-", note: str = "") -> Formula:
    """A formula of two quantities by plain arithmetic, written out as first, sign, second."""
    return Formula(
        (first, second),
        lambda inputs, known: function(inputs[first], inputs[second]),
        f"{{{first}}} {sign} {{{second}}}",
        _DEFINITION,
        note,
    )


def _from_plate(name: str) -> Formula:
    return Formula(
        (name,),
        lambda inputs, known: inputs[name],
        "off the data plate: {" + name + "}",
        "the manufacturer's data plate",
        asks=(name,),
        applies=lambda known: name in known.quantities,
    )


def _usual_target(name: str, of_what: str) -> Formula:
    return Formula(
        (),
        lambda inputs, known: doubt.within(_TARGET, _TARGET_HALF_WIDTH, "no value off the data plate"),
        f"no value off the data plate, so the usual 8 to 14 °F {of_what}",
        _PRACTICE,
        "The data plate or the manufacturer's sheet always wins: look for it before you change charge or spring.",
        asks=(name,),
    )


def _has_orifice(known: Known) -> bool:
    return known.choices.get("metering_device") == "fixed_orifice"


FORMULAS: Final[Mapping[str, tuple[Formula, ...]]] = {
    "evaporating_temperature": (
        Formula(
            ("refrigerant", "suction_pressure"),
            lambda inputs, known: _dew_temperature(inputs["suction_pressure"], known),
            "dew temperature of {refrigerant} at {suction_pressure}",
            "saturation curve fitted to CoolProp",
        ),
    ),
    "condensing_temperature": (
        Formula(
            ("refrigerant", "liquid_pressure"),
            lambda inputs, known: _bubble_temperature(inputs["liquid_pressure"], known),
            "bubble temperature of {refrigerant} at {liquid_pressure}",
            "saturation curve fitted to CoolProp",
        ),
    ),
    "superheat": (_from(circuit.superheat, "suction_line_temperature", "evaporating_temperature"),),
    "evaporator_superheat": (
        _from(
            circuit.superheat,
            "evaporator_outlet_temperature",
            "evaporating_temperature",
            note="The suction pressure stands in for the pressure at the coil outlet: with a long suction line the "
            "true superheat is a little lower.",
        ),
    ),
    "subcooling": (_from(circuit.subcooling, "condensing_temperature", "liquid_line_temperature"),),
    "compression_ratio": (
        _from(
            circuit.compression_ratio,
            "liquid_pressure",
            "suction_pressure",
            sign="/",
            note="Both pressures absolute. The liquid pressure stands in for the discharge pressure, which is a little "
            "higher.",
        ),
    ),
    "condensing_over_ambient": (
        _from(circuit.condensing_over_ambient, "condensing_temperature", "outdoor_air_temperature"),
    ),
    "evaporator_difference": (_from(circuit.evaporator_difference, "return_air_dry_bulb", "evaporating_temperature"),),
    "air_temperature_drop": (_from(circuit.air_temperature_drop, "return_air_dry_bulb", "supply_air_dry_bulb"),),
    "condenser_air_rise": (
        _from(circuit.condenser_air_rise, "condenser_leaving_air_temperature", "outdoor_air_temperature"),
    ),
    "drier_temperature_drop": (
        _from(circuit.drier_temperature_drop, "drier_inlet_temperature", "drier_outlet_temperature"),
    ),
    "suction_line_gain": (
        _from(
            lambda line, outlet: circuit.suction_line_gain(outlet, line),
            "suction_line_temperature",
            "evaporator_outlet_temperature",
        ),
    ),
    "discharge_superheat": (
        Formula(
            ("refrigerant", "discharge_line_temperature", "liquid_pressure"),
            lambda inputs, known: (
                inputs["discharge_line_temperature"] - _dew_temperature(inputs["liquid_pressure"], known)
            ),
            "{discharge_line_temperature} - dew temperature of {refrigerant} at {liquid_pressure}",
            _DEFINITION,
            "The liquid pressure stands in for the discharge pressure, which is a little higher.",
        ),
    ),
    "superheat_target": (
        _from_plate("superheat_target"),
        Formula(
            ("return_air_wet_bulb", "outdoor_air_temperature"),
            _orifice_target,
            "(3 x {return_air_wet_bulb} - 80 - {outdoor_air_temperature}) / 2, worked in °F",
            _PRACTICE + "; good to about 3 °F against charts",
            "A chart of the manufacturer on the unit wins over this rule.",
            asks=("superheat_target",),
            applies=_has_orifice,
            chosen_by=("metering_device",),
        ),
        _usual_target("superheat_target", "that an expansion valve holds"),
    ),
    "subcooling_target": (_from_plate("subcooling_target"), _usual_target("subcooling_target", "of subcooling")),
    "bulb_pressure": (
        Formula(
            ("refrigerant", "evaporator_outlet_temperature"),
            lambda inputs, known: _dew_pressure(inputs["evaporator_outlet_temperature"], known),
            "pressure of {refrigerant} at the bulb's {evaporator_outlet_temperature}",
            "force balance of the valve; saturation curve fitted to CoolProp",
            "Holds for a bulb charged with liquid of the system's own refrigerant and as warm as the line. Other "
            "charges push differently; the valve maker's sheet says which one it is.",
        ),
    ),
    "spring_pressure": (
        Formula(
            ("bulb_pressure", "suction_pressure"),
            lambda inputs, known: valve.spring_pressure(inputs["bulb_pressure"], inputs["suction_pressure"]),
            "{bulb_pressure} - {suction_pressure} under the diaphragm",
            "force balance of the valve: bulb pressure = equalizer pressure + spring",
            "The suction pressure stands in for the pressure at the equalizer.",
        ),
    ),
    "flash_gas_fraction": (
        Formula(
            ("refrigerant", "liquid_line_temperature", "suction_pressure"),
            _flash_gas,
            "share of {refrigerant} that boils when liquid at {liquid_line_temperature} drops to {suction_pressure}",
            "energy balance: the metering device does no work and takes up no heat; enthalpies fitted to CoolProp",
        ),
    ),
    "noncondensable_excess": (
        Formula(
            ("refrigerant", "standing_pressure", "outdoor_air_temperature"),
            lambda inputs, known: (
                inputs["standing_pressure"] - _bubble_pressure(inputs["outdoor_air_temperature"], known)
            ),
            "{standing_pressure} - pressure of {refrigerant} at {outdoor_air_temperature}",
            "what does not condense adds its own pressure to that of the refrigerant",
        ),
    ),
}
"""Every worked number: its formulas, of which the first that applies is used."""


def formula_for(name: str, known: Known) -> Formula:
    """The formula that applies on this system.

    Raises:
        KeyError: no worked number of that name.
    """
    return next(formula for formula in FORMULAS[name] if formula.applies(known))
