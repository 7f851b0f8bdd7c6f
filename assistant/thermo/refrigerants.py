"""The refrigerants that the program knows, and what is fixed about each.

The facts live in `data/refrigerants.json`, each with its source; what an equation of state gives (critical point,
molar mass) is written into `data/curves.json` by `assistant.thermo.fit`. Looking a refrigerant up loads neither
CoolProp nor numpy.
"""

import json
import re
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path
from typing import Literal, NotRequired, TypedDict

from assistant.errors import UnknownNameError, UnmodelledRefrigerantError
from assistant.frozen import dataclass

DATA = Path(__file__).parent / "data"

ModelKind = Literal["pure", "pseudo-pure", "mixture"]


@dataclass(frozen=True, slots=True)
class Component:
    """One constituent of a refrigerant, by mass fraction (0 to 1)."""

    designation: str
    mass_fraction: float


@dataclass(frozen=True, slots=True)
class Refrigerant:
    """What is fixed about one refrigerant.

    `gwp` is over 100 years [kg CO2 per kg], on the basis that `gwp_basis` names. `critical_temperature` [K] and
    `critical_pressure` [Pa] are those of the equation of state. `model_name`, `model_kind` and `model_reason` say
    which equation of state stands behind every number, and why that one.
    """

    designation: str
    family: str
    composition: tuple[Component, ...]
    composition_source: str
    safety_group: str
    safety_group_source: str
    gwp: float
    gwp_basis: str
    critical_temperature: float
    critical_pressure: float
    molar_mass: float
    model_name: str
    model_kind: ModelKind
    model_reason: str
    aliases: tuple[str, ...] = ()

    @property
    def is_blend(self) -> bool:
        """Whether it is made of more than one substance."""
        return len(self.composition) > 1

    @property
    def is_flammable(self) -> bool:
        """Whether its ASHRAE 34 safety group is 2L, 2 or 3."""
        return self.safety_group[1:] != "1"

    def __str__(self) -> str:
        return self.designation


class CurveData(TypedDict):
    """What the data file of the curves holds of one refrigerant; `assistant.thermo.fit` derives it.

    Every list holds the coefficients of a Chebyshev series; a single substance has no bubble curve of its own.
    """

    model: str
    kind: ModelKind
    library: str
    critical_temperature: float
    critical_pressure: float
    molar_mass: float
    origin_temperature: float
    minimum_temperature: float
    maximum_temperature: float
    dew_pressure: list[float]
    dew_temperature: list[float]
    bubble_pressure: NotRequired[list[float]]
    bubble_temperature: NotRequired[list[float]]
    liquid_density: list[float]
    vapour_density: list[float]
    liquid_enthalpy: list[float]
    vapour_enthalpy: list[float]


class ModelData(TypedDict):
    """The equation of state behind one refrigerant, and why that one."""

    name: str
    kind: ModelKind
    reason: str


class RefrigerantData(TypedDict):
    """What the list of refrigerants says about one."""

    designation: str
    aliases: list[str]
    family: str
    composition: dict[str, float]
    composition_source: str
    safety_group: str
    safety_group_source: str
    model: ModelData


class UnmodelledData(TypedDict):
    """A refrigerant known by name only."""

    designation: str
    aliases: list[str]
    reason: str


class GwpData(TypedDict):
    """The GWP of one constituent, with its source."""

    value: float
    source: str


class ListData(TypedDict):
    """The list of refrigerants."""

    gwp_basis: str
    constituent_gwp: dict[str, GwpData]
    refrigerants: list[RefrigerantData]
    unmodelled: list[UnmodelledData]


@cache
def load_list() -> ListData:
    """Read the list of refrigerants that ships beside this module."""
    data: ListData = json.loads((DATA / "refrigerants.json").read_text(encoding="utf-8"))
    return data


@cache
def load_curves() -> dict[str, CurveData]:
    """Read the coefficients of the curves, by designation."""
    data: dict[str, CurveData] = json.loads((DATA / "curves.json").read_text(encoding="utf-8"))["refrigerants"]
    return data


def all_refrigerants() -> tuple[Refrigerant, ...]:
    """Return every refrigerant that has a model, in the order of their numbers."""
    return tuple(_modelled_names().values())


@cache
def unmodelled_refrigerants() -> Mapping[str, str]:
    """Return the refrigerants known by name only: designation to the reason why there is no model."""
    return {entry["designation"]: entry["reason"] for entry in load_list()["unmodelled"]}


@lru_cache(maxsize=512)
def find_refrigerant(text: str) -> Refrigerant:
    """Find a refrigerant by what a person typed: `410a`, `R410A`, `r-410a`, `R 410 A` or `propane`.

    Raises:
        UnknownNameError: nothing answers to the name; carries the nearest designations.
        UnmodelledRefrigerantError: the refrigerant exists, but there is no honest model of it.
    """
    key = _key(text)
    designation = _names().get(key)
    if designation is None:
        raise UnknownNameError("refrigerant", text, _nearest(key))
    reason = unmodelled_refrigerants().get(designation)
    if reason is not None:
        raise UnmodelledRefrigerantError(designation, reason)
    return _modelled_names()[designation]


def _key(text: str) -> str:
    """Reduce a name to what identifies it: letters and digits, without the R or the class in front."""
    plain = re.sub(r"[^a-z0-9]", "", text[:64].lower())
    return re.sub(r"^(?:refrigerant|hcfc|hfc|hfo|hc|r)(?=\d)", "", plain)


@cache
def _names() -> Mapping[str, str]:
    data = load_list()
    return {
        _key(name): entry["designation"]
        for entry in [*data["refrigerants"], *data["unmodelled"]]
        for name in (entry["designation"], *entry["aliases"])
    }


def _nearest(key: str) -> list[str]:
    from rapidfuzz import fuzz, process

    if not key:
        return []
    found = process.extract(key, list(_names()), scorer=fuzz.ratio, limit=3, score_cutoff=60)
    return list(dict.fromkeys(_names()[name] for name, _, _ in found))


@cache
def _modelled_names() -> Mapping[str, Refrigerant]:
    data = load_list()
    fitted = load_curves()
    entries = (entry for entry in data["refrigerants"] if entry["designation"] in fitted)
    return {entry["designation"]: _refrigerant(entry, fitted[entry["designation"]], data) for entry in entries}


def _refrigerant(entry: RefrigerantData, fitted: CurveData, data: ListData) -> Refrigerant:
    composition = tuple(Component(name, fraction) for name, fraction in entry["composition"].items())
    return Refrigerant(
        designation=entry["designation"],
        family=entry["family"],
        composition=composition,
        composition_source=entry["composition_source"],
        safety_group=entry["safety_group"],
        safety_group_source=entry["safety_group_source"],
        gwp=blend_gwp(composition),
        gwp_basis=data["gwp_basis"],
        critical_temperature=fitted["critical_temperature"],
        critical_pressure=fitted["critical_pressure"],
        molar_mass=fitted["molar_mass"],
        model_name=entry["model"]["name"],
        model_kind=entry["model"]["kind"],
        model_reason=entry["model"]["reason"],
        aliases=tuple(entry["aliases"]),
    )


def blend_gwp(composition: tuple[Component, ...]) -> float:
    """GWP over 100 years of a composition [kg CO2 per kg].

    Source: 40 CFR 84.64(b), the sum of mass fraction times constituent GWP; constituents by 40 CFR 98 Table A-1
    (AR4), each with its own source in the data file.
    """
    constituents = load_list()["constituent_gwp"]
    return float(sum(part.mass_fraction * constituents[part.designation]["value"] for part in composition))
