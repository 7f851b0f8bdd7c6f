"""The compressor: what it moves, what it draws, and how hot it sends it on.

Two efficiencies over the pressure ratio, of the shape that scroll compressors of this size show: volumetric
1.02 - 0.025 · ratio, isentropic with the motor 0.73 at a ratio of 2.8, falling on both sides. Both chosen, no source; a
map of ten coefficients (AHRI 540) would hold for one model alone. The shell gives a tenth of the power to the air
(chosen).
"""

from dataclasses import dataclass

from assistant.errors import PhysicsError
from assistant.simulator.refrigerant import Saturated, density, saturation_ends, temperature
from assistant.simulator.vapour import Vapour

SHELL_LOSS = 0.1


@dataclass(frozen=True, slots=True)
class Compressor:
    """Swept volume per time [m3/s], and the share of it that leaks back from discharge to suction (0 to under 1)."""

    displacement: float
    leakage: float = 0.0


@dataclass(frozen=True, slots=True)
class Compressed:
    """Flow that arrives [kg/s], power drawn [W], discharge enthalpy [J/kg]."""

    flow: float
    power: float
    enthalpy: float


def volumetric_efficiency(ratio: float) -> float:
    """Share of the swept volume that is filled with suction gas, at a ratio of two absolute pressures [Pa]."""
    return min(max(1.02 - 0.025 * ratio, 0.3), 1.0)


def isentropic_efficiency(ratio: float) -> float:
    """Return the ideal work over electric work, at a ratio of two absolute pressures [Pa]."""
    beyond = ratio - 2.8
    # Past its own ratio a scroll loses more and more, but ever less for each step.
    lost = 0.03 * beyond**2 if beyond < 0.0 else 0.045 * beyond**2 / (1.0 + 0.75 * beyond)
    return max(0.73 - lost, 0.3)


def draw_flow(
    fluid: Vapour, compressor: Compressor, suction_pressure: float, suction_enthalpy: float, discharge_pressure: float
) -> float:
    """What a compressor draws [kg/s] between two pressures [Pa] at a suction enthalpy [J/kg], its leakage with it.

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    gas = density(fluid, suction_pressure, suction_enthalpy)
    return compressor.displacement * volumetric_efficiency(discharge_pressure / suction_pressure) * gas


def compress(
    fluid: Vapour, compressor: Compressor, suction_pressure: float, suction_enthalpy: float, discharge_pressure: float
) -> Compressed:
    """Return the compressor between two pressures [Pa], from a suction enthalpy [J/kg] that may be wet.

    Liquid that arrives boils on the way in; the work per swept volume is then that of dry vapour. Gas that leaks back
    is compressed again, and its heat stays with what goes on.

    Raises:
        OutOfRangeError: outside curves or tables.
        PhysicsError: the discharge pressure is not above the suction pressure.
    """
    if not discharge_pressure > suction_pressure:
        raise PhysicsError("A compressor raises the pressure: here the discharge would be below the suction.")
    ratio = discharge_pressure / suction_pressure
    swept = draw_flow(fluid, compressor, suction_pressure, suction_enthalpy, discharge_pressure)
    work = ideal_work(fluid, saturation_ends(fluid, suction_pressure), suction_enthalpy, discharge_pressure)
    flow = swept * (1.0 - compressor.leakage)
    power = swept * work / isentropic_efficiency(ratio)
    return Compressed(flow, power, suction_enthalpy + power * (1.0 - SHELL_LOSS) / flow)


def ideal_work(fluid: Vapour, suction: Saturated, suction_enthalpy: float, discharge_pressure: float) -> float:
    """Return the work [J/kg] of lossless compression to a pressure [Pa].

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    dry = max(suction_enthalpy, suction.vapour_enthalpy)
    start = temperature(fluid, suction.pressure, dry)
    entropy = fluid.entropy(suction.pressure, max(start, suction.dew))
    end = fluid.at(discharge_pressure).temperature_at_entropy(entropy)
    work = fluid.enthalpy(discharge_pressure, end) - dry
    if suction_enthalpy < suction.vapour_enthalpy:
        # Work is pressure times volume: a mixture takes less of both per kilogram.
        work *= suction.vapour_density / suction.mixture_density(suction.quality(suction_enthalpy))
    return work
