"""The formulas of the refrigeration circuit: temperatures, superheat and subcooling, targets, the valve.

The `expression` of a formula names its inputs in braces. It is shown twice: with titles, then with values.
"""

from collections.abc import Mapping
from typing import Final

from assistant import doubt
from assistant.doubt import Uncertain
from assistant.quantity import KELVIN_PER_FAHRENHEIT
from assistant.thermo import circuit, valve
from assistant.worksheet.formula import DEFINITION, PRACTICE, Formula, Inputs, curves_of, difference
from assistant.worksheet.known import Known

_TARGET: Final = 11 * KELVIN_PER_FAHRENHEIT
_TARGET_HALF_WIDTH: Final = 3 * KELVIN_PER_FAHRENHEIT
_USUAL_FLASH: Final = (0.2, 0.1)
"""Share of vapour at the coil's inlet where the liquid's temperature is not known, and how far it may lie off."""


def _dew_temperature(pressure: Uncertain, known: Known) -> Uncertain:
    return doubt.lift(curves_of(known).follow_dew)(pressure)


def _bubble_temperature(pressure: Uncertain, known: Known) -> Uncertain:
    return doubt.lift(curves_of(known).follow_bubble)(pressure)


def _bulb_pressure(inputs: Inputs, known: Known) -> Uncertain:
    curves = curves_of(known)
    return doubt.lift_many(lambda bulb: valve.bulb_pressure(curves, bulb))(inputs["evaporator_outlet_temperature"])


def _noncondensable_excess(inputs: Inputs, known: Known) -> Uncertain:
    curves = curves_of(known)
    excess = doubt.lift_many(lambda standing, outdoor: circuit.noncondensable_excess(curves, standing, outdoor))
    return excess(inputs["standing_pressure"], inputs["outdoor_air_temperature"])


def _flash_margin(inputs: Inputs, known: Known) -> Uncertain:
    curves = curves_of(known)
    margin = doubt.lift_many(lambda pressure, liquid, loss: circuit.flash_margin(curves, pressure, liquid, loss))
    return margin(inputs["liquid_pressure"], inputs["liquid_line_temperature"], inputs["liquid_lift_loss"])


def _flash_gas(inputs: Inputs, known: Known) -> Uncertain:
    curves = curves_of(known)
    fraction = doubt.lift_many(lambda liquid, suction: circuit.flash_gas_fraction(curves, liquid, suction))
    return fraction(inputs["liquid_line_temperature"], inputs["suction_pressure"])


def _cooling_effect(inputs: Inputs, known: Known) -> Uncertain:
    curves = curves_of(known)
    effect = doubt.lift_many(lambda liquid, suction: circuit.cooling_effect(curves, liquid, suction))
    return effect(inputs["liquid_line_temperature"], inputs["suction_pressure"])


def _orifice_target(inputs: Inputs, known: Known) -> Uncertain:
    wet_bulb, outdoor = inputs["return_air_wet_bulb"], inputs["outdoor_air_temperature"]
    target = circuit.fixed_orifice_superheat_target(wet_bulb, outdoor)
    # The rule itself is no better than this, whatever the thermometers.
    return target + doubt.within(0.0, 3 * KELVIN_PER_FAHRENHEIT, "the rule itself")


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
        PRACTICE,
        "The data plate or the manufacturer's sheet always wins: look for it before you change charge or spring.",
        asks=(name,),
    )


def _has_orifice(known: Known) -> bool:
    return known.choices.get("metering_device") == "fixed_orifice"


CIRCUIT: Final[Mapping[str, tuple[Formula, ...]]] = {
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
    "superheat": (difference("suction_line_temperature", "evaporating_temperature"),),
    "evaporator_superheat": (
        difference(
            "evaporator_outlet_temperature",
            "evaporating_temperature",
            note="The suction pressure stands in for the pressure at the coil outlet: with a long suction line the "
            "true superheat is a little lower.",
        ),
    ),
    "subcooling": (difference("condensing_temperature", "liquid_line_temperature"),),
    "compression_ratio": (
        Formula(
            ("liquid_pressure", "suction_pressure"),
            lambda inputs, known: circuit.compression_ratio(inputs["liquid_pressure"], inputs["suction_pressure"]),
            "{liquid_pressure} / {suction_pressure}",
            DEFINITION,
            "Both pressures absolute. The liquid pressure stands in for the discharge pressure, which is a little "
            "higher.",
        ),
    ),
    "condensing_over_ambient": (difference("condensing_temperature", "outdoor_air_temperature"),),
    "evaporator_difference": (difference("return_air_dry_bulb", "evaporating_temperature"),),
    "air_temperature_drop": (difference("return_air_dry_bulb", "supply_air_dry_bulb"),),
    "condenser_air_rise": (difference("condenser_leaving_air_temperature", "outdoor_air_temperature"),),
    "drier_temperature_drop": (difference("drier_inlet_temperature", "drier_outlet_temperature"),),
    "suction_line_gain": (
        difference(
            "suction_line_temperature",
            "evaporator_outlet_temperature",
        ),
    ),
    "reversing_valve_share": (
        Formula(
            ("reversing_valve_suction_out", "reversing_valve_suction_in", "discharge_line_temperature"),
            lambda inputs, known: circuit.mixed_share(
                inputs["reversing_valve_suction_in"],
                inputs["reversing_valve_suction_out"],
                inputs["discharge_line_temperature"],
            ),
            "({reversing_valve_suction_out} - {reversing_valve_suction_in}) / "
            "({discharge_line_temperature} - {reversing_valve_suction_in})",
            "the mixing of two streams of one gas",
            "As if all the warming came of hot gas that mixes in; what a wet suction boils does not show.",
        ),
    ),
    "discharge_superheat": (
        Formula(
            ("refrigerant", "discharge_line_temperature", "liquid_pressure"),
            lambda inputs, known: (
                inputs["discharge_line_temperature"] - _dew_temperature(inputs["liquid_pressure"], known)
            ),
            "{discharge_line_temperature} - dew temperature of {refrigerant} at {liquid_pressure}",
            DEFINITION,
            "The liquid pressure stands in for the discharge pressure, which is a little higher.",
        ),
    ),
    "liquid_approach": (difference("liquid_line_temperature", "outdoor_air_temperature"),),
    "condensing_midpoint": (
        Formula(
            ("refrigerant", "liquid_pressure"),
            lambda inputs, known: circuit.glide_midpoint(
                _bubble_temperature(inputs["liquid_pressure"], known),
                _dew_temperature(inputs["liquid_pressure"], known),
            ),
            "mean of bubble and dew temperature of {refrigerant} at {liquid_pressure}",
            "saturation curve fitted to CoolProp",
        ),
    ),
    "evaporating_midpoint": (
        Formula(
            ("refrigerant", "suction_pressure", "flash_gas_fraction"),
            lambda inputs, known: circuit.evaporator_midpoint(
                _bubble_temperature(inputs["suction_pressure"], known),
                _dew_temperature(inputs["suction_pressure"], known),
                inputs["flash_gas_fraction"],
            ),
            "mean over the coil of {refrigerant} at {suction_pressure}, entering with {flash_gas_fraction} vapour",
            "saturation curve fitted to CoolProp",
            asks=("liquid_line_temperature",),
            applies=lambda known: "liquid_line_temperature" in known.quantities,
        ),
        Formula(
            ("refrigerant", "suction_pressure"),
            lambda inputs, known: circuit.evaporator_midpoint(
                _bubble_temperature(inputs["suction_pressure"], known),
                _dew_temperature(inputs["suction_pressure"], known),
                doubt.within(*_USUAL_FLASH, "how much vapour enters the coil"),
            ),
            "mean over the coil of {refrigerant} at {suction_pressure}, entering with 10 to 30 % vapour",
            PRACTICE,
            asks=("liquid_line_temperature",),
        ),
    ),
    "cooling_effect": (
        Formula(
            ("refrigerant", "liquid_line_temperature", "suction_pressure"),
            _cooling_effect,
            "enthalpy of vapour of {refrigerant} at {suction_pressure} - that of liquid at {liquid_line_temperature}",
            "energy balance of the coil; enthalpies fitted to CoolProp",
            "Up to dry saturated vapour: superheat made in the coil adds a little.",
        ),
    ),
    "liquid_lift_loss": (
        Formula(
            ("refrigerant", "liquid_line_temperature", "liquid_line_lift"),
            lambda inputs, known: circuit.liquid_lift_loss(
                doubt.lift_many(curves_of(known).liquid_density)(inputs["liquid_line_temperature"]),
                inputs["liquid_line_lift"],
            ),
            "density of {refrigerant} at {liquid_line_temperature} x gravity x {liquid_line_lift}",
            "hydrostatics; density fitted to CoolProp",
        ),
    ),
    "flash_margin": (
        Formula(
            ("refrigerant", "liquid_pressure", "liquid_lift_loss", "liquid_line_temperature"),
            _flash_margin,
            "bubble temperature of {refrigerant} at {liquid_pressure} less {liquid_lift_loss} - "
            "{liquid_line_temperature}",
            "saturation curve fitted to CoolProp",
            "Counts the rise only: friction, driers and valves in the line take more.",
        ),
    ),
    "superheat_target": (
        _from_plate("superheat_target"),
        Formula(
            ("return_air_wet_bulb", "outdoor_air_temperature"),
            _orifice_target,
            "(3 x {return_air_wet_bulb} - 80 - {outdoor_air_temperature}) / 2, worked in °F",
            PRACTICE + "; good to about 3 °F against charts",
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
            _bulb_pressure,
            "pressure of {refrigerant} at the bulb's {evaporator_outlet_temperature}",
            "force balance of the valve; saturation curve fitted to CoolProp",
            "Holds for a bulb charged with liquid of the system's own refrigerant and as warm as the line. Other "
            "charges push differently; the valve maker's sheet says which one it is.",
        ),
    ),
    "spring_pressure": (
        Formula(
            ("bulb_pressure", "suction_pressure"),
            lambda inputs, known: inputs["bulb_pressure"] - inputs["suction_pressure"],
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
            _noncondensable_excess,
            "{standing_pressure} - pressure of {refrigerant} at {outdoor_air_temperature}",
            "what does not condense adds its own pressure to that of the refrigerant",
        ),
    ),
}
"""Worked numbers of the circuit: of several formulas the first that applies is used."""
