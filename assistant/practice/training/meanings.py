"""What a reading or a worked number says when it lies below or above that of a sound system in the same weather."""

from collections.abc import Mapping
from typing import Final

MEANINGS: Final[Mapping[str, tuple[str, str]]] = {
    "suction_pressure": (
        "less boils in the coil than the compressor would take: too little is fed, or the air brings too little heat",
        "more comes to the compressor than it takes away: much is fed, or gas comes back inside",
    ),
    "liquid_pressure": (
        "little heat comes to the condenser, because little refrigerant goes round or little is picked up",
        "the condenser cannot shed its heat: little or warm air, much liquid in it, or a gas that does not condense",
    ),
    "standing_pressure": (
        "less than saturation at rest: there is no liquid left, or it has not come to the temperature of the air",
        "more than saturation at rest: another gas adds its own pressure",
    ),
    "suction_line_temperature": (
        "the vapour comes back cold: the coil is full, or liquid comes with it",
        "the vapour comes back warm: the liquid is used up early in the coil, or the line is bare",
    ),
    "evaporator_outlet_temperature": (
        "the vapour leaves the coil cool: it is fed to its end, or boils colder",
        "the vapour leaves the coil warm: it is starved, or boils warmer",
    ),
    "liquid_line_temperature": (
        "the liquid waits long in the condenser, or little heat comes to it",
        "the condenser is hot, or the liquid leaves it at once",
    ),
    "discharge_line_temperature": (
        "cool or wet vapour comes in: the coil is overfed",
        "hot gas: much superheat comes in, the pressures lie far apart, or gas is pumped twice",
    ),
    "supply_air_dry_bulb": (
        "little air passes the coil, so each part of it is cooled deeply",
        "little heat is taken from the air",
    ),
    "supply_air_wet_bulb": ("little air passes the coil, and it is dried deeply", "little heat is taken from the air"),
    "condenser_leaving_air_temperature": (
        "little heat is shed outdoors",
        "the same heat leaves with less air, or more heat with the same",
    ),
    "compressor_current": (
        "the compressor has little to do: little gas comes, or it does not compress it",
        "it works against a high head, or has much gas to pump",
    ),
    "external_static_pressure": (
        "the blower itself is weak: nothing holds the air up",
        "something holds the air up: filter, coil or ducts",
    ),
    "indoor_airflow": ("air is missing at the coil", "there is more air than usual"),
    "superheat": (
        "liquid is left at the end of the coil: too much is fed for the heat there is",
        "the liquid is used up early: the coil is starved, or the line picks up heat",
    ),
    "evaporator_superheat": (
        "liquid is left at the coil's outlet: the device passes too much for the heat there is",
        "the coil is starved: the device passes too little",
    ),
    "subcooling": (
        "little liquid waits in the condenser: the charge is short, or the device lets it through too easily",
        "much liquid waits in the condenser: too much charge, or something holds it back",
    ),
    "condensing_over_ambient": (
        "the condenser has little to do",
        "the condenser has trouble: air, dirt, too much liquid in it, or another gas",
    ),
    "evaporator_difference": (
        "the coil boils warm: it is overfed, or the compressor pumps little",
        "the coil boils cold: it is starved, or it gets little air",
    ),
    "air_temperature_drop": ("little heat is taken from the air", "little air, cooled deeply"),
    "compression_ratio": (
        "the pressures lie close together: the compressor does not part them, or too much is fed",
        "the pressures lie far apart: a choked condenser, or a starved or airless coil",
    ),
    "suction_line_gain": (
        "the line picks up little; below zero the vapour is wet, and cools as its pressure falls",
        "the line picks up much: it is bare somewhere",
    ),
    "drier_temperature_drop": ("no pressure is lost in the drier", "pressure is lost in the drier"),
    "noncondensable_excess": ("no other gas is in it", "another gas adds its own pressure"),
    "condenser_air_rise": ("little heat is shed outdoors", "the outdoor coil gets little air for its heat"),
    "discharge_superheat": ("cool or wet vapour comes in", "hot vapour comes in, or gas is pumped twice"),
}
"""Name to what it says when it is low, and when it is high; in cooling, and in heating but for `IN_HEATING`."""

IN_HEATING: Final[Mapping[str, tuple[str, str] | None]] = {
    "supply_air_dry_bulb": (
        "little heat comes to the air",
        "little air passes the coil, so each part of it is warmed much",
    ),
    "supply_air_wet_bulb": None,
    "air_temperature_drop": ("the air is warmed much: little passes the coil", "the air is warmed little"),
    "condensing_over_ambient": None,
    "evaporator_difference": None,
}
"""What is said otherwise in heating, where the indoor coil condenses; `None` where nothing follows from it then."""

WEATHER: Final = frozenset({"minutes_running", "outdoor_air_temperature", "return_air_dry_bulb", "return_air_wet_bulb"})
"""Readings that are what they are, whatever is wrong with the system."""


def meaning(name: str, *, heating: bool) -> tuple[str, str] | None:
    """What a reading or worked number says when it is low and when it is high; `None` where nothing follows from it."""
    if heating and name in IN_HEATING:
        return IN_HEATING[name]
    return MEANINGS.get(name)
