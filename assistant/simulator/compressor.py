"""The compressor: what it moves, what it draws, and how hot it sends it on.

Two efficiencies over the pressure ratio (`Efficiency`). Their shapes are those of six scroll compressors for air
conditioning with R-22, worked from their published coefficients of capacity and power (AHRI 540) with refrigerant
states by CoolProp; medians of the isentropic efficiency over that at its best, and of the volumetric over that at 2.75:

====  =====  ===========  ============
from  to     isentropic   volumetric
====  =====  ===========  ============
1.25  1.75   0.74         1.04
1.75  2.25   0.90         1.03
2.25  2.75   0.99         1.01
2.75  3.25   0.99         0.99
3.25  3.75   0.96         0.98
3.75  4.25   0.93         0.96
4.25  4.75   0.89         0.95
4.75  5.25   0.85         0.93
5.75  6.25   0.77         0.89
====  =====  ===========  ============

Source: the data set of compressor curves that comes with a building simulation of the US Department of Energy (25.2).
The best efficiency is chosen, 0.73, that of a later compressor; so is the tenth of its power that leaves by the shell.
"""

from dataclasses import dataclass
from typing import Final

from assistant.errors import PhysicsError
from assistant.simulator.refrigerant import Saturated, density, saturation_ends, temperature
from assistant.simulator.vapour import Vapour

SHELL_LOSS = 0.1


@dataclass(frozen=True, slots=True)
class Efficiency:
    """Both efficiencies over the ratio of two absolute pressures.

    Isentropic, with the motor: `best` at the ratio `at`; below it falls with `below` for each squared step, above it
    with `above` at first, which `easing` slows. Volumetric: `filled` less `thinning` for each step.
    """

    best: float = 0.73
    at: float = 2.6
    below: float = 0.2
    above: float = 0.045
    easing: float = 0.4
    filled: float = 1.04
    thinning: float = 0.032

    def isentropic(self, ratio: float) -> float:
        """Return the ideal work over electric work, at a ratio of two absolute pressures [Pa]."""
        beyond = ratio - self.at
        lost = self.below * beyond**2 if beyond < 0.0 else self.above * beyond**2 / (1.0 + self.easing * beyond)
        return self.best * max(1.0 - lost, 0.4)

    def volumetric(self, ratio: float) -> float:
        """Share of the swept volume that is filled with suction gas, at a ratio of two absolute pressures [Pa]."""
        return min(max(self.filled - self.thinning * ratio, 0.3), 1.0)


USUAL_EFFICIENCY: Final = Efficiency()


@dataclass(frozen=True, slots=True)
class Compressor:
    """Swept volume per time [m3/s], and the share of it that leaks back from discharge to suction (0 to under 1)."""

    displacement: float
    leakage: float = 0.0
    efficiency: Efficiency = USUAL_EFFICIENCY


@dataclass(frozen=True, slots=True)
class Compressed:
    """Flow that arrives [kg/s], power drawn [W], discharge enthalpy [J/kg]."""

    flow: float
    power: float
    enthalpy: float


def draw_flow(
    fluid: Vapour, compressor: Compressor, suction_pressure: float, suction_enthalpy: float, discharge_pressure: float
) -> float:
    """What a compressor draws [kg/s] between two pressures [Pa] at a suction enthalpy [J/kg], its leakage with it.

    Raises:
        OutOfRangeError: outside curves or tables.
    """
    gas = density(fluid, suction_pressure, suction_enthalpy)
    return compressor.displacement * compressor.efficiency.volumetric(discharge_pressure / suction_pressure) * gas


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
    power = swept * work / compressor.efficiency.isentropic(ratio)
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
