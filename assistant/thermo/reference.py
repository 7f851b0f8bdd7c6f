"""The equations of state themselves: the one module that imports CoolProp.

CoolProp takes about two seconds to load and holds the interpreter lock meanwhile, so it is imported inside
functions only, when somebody asks for more than the shipped curves hold. `model` is always
`Refrigerant.model_name`. Every enthalpy and entropy is on the reference state of this program: saturated (bubble)
liquid at 0 °C has 200 kJ/kg and 1 kJ/(kg·K).
"""

import math
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from assistant.errors import OutOfRangeError, PhysicsError
from assistant.quantity import ZERO_CELSIUS, ZERO_FAHRENHEIT
from assistant.thermo.continuation import CurveFollower
from assistant.thermo.refrigerants import load_curves

Phase = Literal["bubble", "dew"]

# -80 degF: below 0 psig of every refrigerant here but carbon dioxide, so that an empty system has a temperature too.
LOWEST_TEMPERATURE = (ZERO_FAHRENHEIT - 80.0) / 1.8  # to the last bit as in the data file
HIGHEST_VAPOUR_TEMPERATURE = 500.0
REFERENCE_TEMPERATURE = ZERO_CELSIUS
REFERENCE_ENTHALPY = 200e3
REFERENCE_ENTROPY = 1000.0

_FOLLOW_FROM = 209.0
_SOURCE = "the equation of state"
_local = threading.local()


@dataclass(frozen=True, slots=True)
class FluidState:
    """One state: temperature [K], pressure [Pa], density [kg/m3], enthalpy [J/kg], entropy [J/(kg·K)].

    `heat_capacity` at constant pressure [J/(kg·K)] is nan for a saturated state.
    """

    temperature: float
    pressure: float
    density: float
    enthalpy: float
    entropy: float
    heat_capacity: float = math.nan


@dataclass(frozen=True, slots=True)
class FluidConstants:
    """What an equation of state says about the fluid: [K], [Pa], [kg/mol]; and the library that evaluates it.

    `lowest_temperature` is where we use it from: -80 degF, or just above the triple point.
    """

    critical_temperature: float
    critical_pressure: float
    molar_mass: float
    lowest_temperature: float
    library: str


@cache
def _library() -> Any:
    import CoolProp.CoolProp

    return CoolProp.CoolProp


def _new_handle(model: str) -> Any:
    try:
        return _library().AbstractState("HEOS", model)
    except ValueError as error:
        raise PhysicsError(f"There is no equation of state for {model}: {error}") from None


def _handle(model: str, use: str) -> Any:
    """One solver per model, use and thread: it carries its last state in it, so nothing may share it."""
    handles = _local.__dict__.setdefault("handles", {})
    if (model, use) not in handles:
        handle = _new_handle(model)
        if use == "vapour":
            handle.specify_phase(_library().iphase_gas)
        elif use == "liquid":
            handle.specify_phase(_library().iphase_liquid)
        handles[model, use] = handle
    return handles[model, use]


@cache
def derive_constants(model: str) -> FluidConstants:
    """Return the critical point and molar mass of a model, from the library; seconds of work for some blends.

    Raises:
        PhysicsError: the library knows no such model, or finds no single critical point.
    """
    handle = _new_handle(model)
    lowest = LOWEST_TEMPERATURE
    if len(handle.fluid_names()) == 1:
        temperature, pressure = handle.T_critical(), handle.p_critical()
        lowest = max(lowest, float(math.ceil(handle.Ttriple())))
    else:
        stable = [point for point in handle.all_critical_points() if point.stable and point.p > 0]
        if len(stable) != 1:
            raise PhysicsError(f"The equation of state of {model} has {len(stable)} critical points.")
        temperature, pressure = stable[0].T, stable[0].p
    version = _library().get_global_param_string("version")
    return FluidConstants(temperature, pressure, handle.molar_mass(), lowest, f"CoolProp {version}")


@cache
def constants(model: str) -> FluidConstants:
    """Return the critical point and molar mass of a model: as shipped with its curves, else from the library.

    Raises:
        PhysicsError: the library knows no such model, or finds no single critical point.
    """
    for entry in load_curves().values():
        if entry["model"] == model:
            return FluidConstants(
                entry["critical_temperature"],
                entry["critical_pressure"],
                entry["molar_mass"],
                entry["minimum_temperature"],
                entry["library"],
            )
    return derive_constants(model)


@cache
def _offsets(model: str) -> tuple[float, float]:
    """Return what to add to the library's enthalpy and entropy to land on our reference state."""
    handle = _new_handle(model)
    handle.update(_library().QT_INPUTS, 0.0, REFERENCE_TEMPERATURE)
    return REFERENCE_ENTHALPY - handle.hmass(), REFERENCE_ENTROPY - handle.smass()


def _read_state(handle: Any, model: str, single_phase: bool) -> FluidState:
    enthalpy, entropy = _offsets(model)
    return FluidState(
        temperature=handle.T(),
        pressure=handle.p(),
        density=handle.rhomass(),
        enthalpy=handle.hmass() + enthalpy,
        entropy=handle.smass() + entropy,
        heat_capacity=handle.cpmass() if single_phase else math.nan,
    )


def _check(quantity: str, value: float, unit: str, low: float, high: float) -> None:
    if not low <= value <= high:
        raise OutOfRangeError(quantity, value, unit, low, high, _SOURCE)


def _curve(model: str, phase: Phase) -> tuple[Any, Callable[[float], None]]:
    """Return a fresh solver, and what moves it along the bubble or dew curve to a temperature [K]."""
    quality = 0.0 if phase == "bubble" else 1.0
    handle = _new_handle(model)
    if len(handle.fluid_names()) > 1:
        critical = constants(model).critical_temperature
        return handle, CurveFollower(handle, _library(), quality, _FOLLOW_FROM, critical).move_to

    def move(temperature: float) -> None:
        try:
            handle.update(_library().QT_INPUTS, quality, temperature)
        except ValueError as error:
            raise PhysicsError(f"No saturation of {model} at {temperature:g} K: {error}") from None

    return handle, move


def saturation_points(model: str, temperatures: Sequence[float], phase: Phase) -> list[FluidState]:
    """Return the saturated states along the bubble or dew curve, at rising temperatures [K].

    Raises:
        OutOfRangeError: a temperature is below the lowest or not below the critical one.
        PhysicsError: the equations have no solution that can be reached.
    """
    fixed = constants(model)
    for temperature in temperatures:
        _check("saturation temperature", temperature, "K", fixed.lowest_temperature, fixed.critical_temperature)
    handle, move = _curve(model, phase)
    points = []
    for temperature in temperatures:
        move(temperature)
        points.append(_read_state(handle, model, single_phase=False))
    return points


def saturation_at_temperature(model: str, temperature: float, phase: Phase) -> FluidState:
    """Return the saturated liquid (bubble) or vapour (dew) at a temperature [K].

    Raises:
        OutOfRangeError: below the lowest temperature or not below the critical temperature.
        PhysicsError: the equations have no solution that can be reached.
    """
    return saturation_points(model, [temperature], phase)[0]


def saturation_at_pressure(model: str, pressure: float, phase: Phase) -> FluidState:
    """Return the saturated liquid (bubble) or vapour (dew) at a pressure [Pa].

    Solved along the curve in temperature, which works where the library's own search by pressure breaks down.

    Raises:
        OutOfRangeError: the pressure is outside that between the lowest temperature and 0.1 K below the critical point.
        PhysicsError: the equations have no solution that can be reached.
    """
    fixed = constants(model)
    handle, move = _curve(model, phase)

    def at(temperature: float) -> tuple[float, float]:
        move(temperature)
        return temperature, math.log(handle.p())

    top = fixed.critical_temperature - 0.1
    wanted = math.log(pressure) if pressure > 0 else -math.inf
    low = high = first = at(fixed.lowest_temperature)
    while high[1] < wanted and high[0] < top:
        low, high = high, at(min(high[0] + 2.0, top))
    if not first[1] <= wanted <= high[1]:
        ends = math.exp(first[1]), math.exp(at(top)[1])
        raise OutOfRangeError(f"{phase} pressure", pressure, "Pa", *ends, _SOURCE)
    while abs(high[1] - wanted) > 1e-12 and high[0] != low[0]:
        # ln p is all but straight over 1/T, so the line through the last two points lands closer each time.
        inverse = 1 / high[0] + (wanted - high[1]) * (1 / low[0] - 1 / high[0]) / (low[1] - high[1])
        low, high = high, at(min(1 / inverse, top))
    return _read_state(handle, model, single_phase=False)


def vapour_state(model: str, pressure: float, temperature: float) -> FluidState:
    """Return the superheated vapour at a pressure [Pa] and temperature [K].

    The caller makes sure that it is vapour: at or above the dew temperature.

    Raises:
        OutOfRangeError: pressure or temperature outside what the equation is used for here.
        PhysicsError: the equation has no vapour solution there.
    """
    return _single_phase(model, "vapour", pressure, temperature)


def liquid_state(model: str, pressure: float, temperature: float) -> FluidState:
    """Return the subcooled liquid at a pressure [Pa] and temperature [K], at or below the bubble temperature.

    Raises:
        OutOfRangeError: pressure or temperature outside what the equation is used for here.
        PhysicsError: the equation has no liquid solution there.
    """
    return _single_phase(model, "liquid", pressure, temperature)


def _single_phase(model: str, use: str, pressure: float, temperature: float) -> FluidState:
    _check(f"{use} pressure", pressure, "Pa", 1e3, constants(model).critical_pressure)
    _check(f"{use} temperature", temperature, "K", constants(model).lowest_temperature, HIGHEST_VAPOUR_TEMPERATURE)
    handle = _handle(model, use)
    try:
        handle.update(_library().PT_INPUTS, pressure, temperature)
        return _read_state(handle, model, single_phase=True)
    except ValueError as error:
        raise PhysicsError(f"No {use} of {model} at {pressure:g} Pa, {temperature:g} K: {error}") from None
