"""The formulas of the air: dew point, cooling measured on the air, airflow per capacity and by temperature rise."""

from collections.abc import Callable, Mapping
from typing import Final

from assistant import doubt
from assistant.doubt import Uncertain
from assistant.thermo import air, circuit
from assistant.worksheet.formula import Formula, Inputs
from assistant.worksheet.known import Known

_PSYCHROMETRICS: Final = "ASHRAE Handbook-Fundamentals 2017 ch. 1"


def _of_air(field: str, known: Known) -> Callable[[Uncertain, Uncertain], Uncertain]:
    """One property of moist air from dry and wet bulb [K] at the site's pressure, carrying doubt."""
    return doubt.lift_many(
        lambda dry_bulb, wet_bulb: float(getattr(air.from_wet_bulb(dry_bulb, wet_bulb, known.atmosphere), field))
    )


def _capacity(inputs: Inputs, known: Known) -> Uncertain:
    """Cooling [W]; the airflow is taken at the supply, where a flow instrument or a blower table has it."""
    entering = (inputs["return_air_dry_bulb"], inputs["return_air_wet_bulb"])
    leaving = (inputs["supply_air_dry_bulb"], inputs["supply_air_wet_bulb"])
    dry_air = inputs["indoor_airflow"] / _of_air("specific_volume", known)(*leaving)
    enthalpy = _of_air("enthalpy", known)
    return circuit.air_side_capacity(dry_air, enthalpy(*entering), enthalpy(*leaving))


AIR: Final[Mapping[str, tuple[Formula, ...]]] = {
    "return_air_dew_point": (
        Formula(
            ("return_air_dry_bulb", "return_air_wet_bulb"),
            lambda inputs, known: _of_air("dew_point", known)(
                inputs["return_air_dry_bulb"], inputs["return_air_wet_bulb"]
            ),
            "dew point of air at {return_air_dry_bulb} dry and {return_air_wet_bulb} wet bulb",
            _PSYCHROMETRICS,
        ),
    ),
    "air_side_capacity": (
        Formula(
            (
                "indoor_airflow",
                "return_air_dry_bulb",
                "return_air_wet_bulb",
                "supply_air_dry_bulb",
                "supply_air_wet_bulb",
            ),
            _capacity,
            "{indoor_airflow} of dry air x (enthalpy at {return_air_dry_bulb} / {return_air_wet_bulb} - enthalpy at "
            "{supply_air_dry_bulb} / {supply_air_wet_bulb})",
            _PSYCHROMETRICS,
            "The water that drains away takes a little heat along, under one percent; it is not counted.",
        ),
    ),
    "airflow_per_ton": (
        Formula(
            ("indoor_airflow", "air_side_capacity"),
            lambda inputs, known: circuit.airflow_per_capacity(inputs["indoor_airflow"], inputs["air_side_capacity"]),
            "{indoor_airflow} / {air_side_capacity}",
            "definition",
        ),
    ),
    "refrigerant_flow": (
        Formula(
            ("air_side_capacity", "cooling_effect"),
            lambda inputs, known: circuit.mass_flow(inputs["air_side_capacity"], inputs["cooling_effect"]),
            "{air_side_capacity} / {cooling_effect}",
            "energy balance of the coil",
        ),
    ),
    "airflow_from_heat_rise": (
        Formula(
            ("heater_power", "supply_air_dry_bulb", "return_air_dry_bulb"),
            lambda inputs, known: air.airflow_from_electric_heat(
                inputs["heater_power"],
                inputs["supply_air_dry_bulb"] - inputs["return_air_dry_bulb"],
                known.atmosphere,
            ),
            "{heater_power} / (({supply_air_dry_bulb} - {return_air_dry_bulb}) x heat factor of air at this altitude)",
            "energy balance; 1.08 Btu min/(h ft3 F) at sea level, less in proportion to the air pressure",
            "Measure the supply air out of sight of the elements, with the compressor off and all elements on.",
        ),
    ),
}
"""Worked numbers of the air."""
