"""Bubble and dew points by the Peng-Robinson cubic equation: an outside oracle that shares nothing with the curves.

Source: Peng and Robinson 1976, the equations from memory; no binary interaction (all k_ij zero). Critical constants
and acentric factors are those of the fluids' published equations of state, from memory.
"""

import math
from dataclasses import dataclass

import numpy as np

R = 8.314462618


@dataclass(frozen=True)
class Fluid:
    """Critical temperature [K], critical pressure [Pa], acentric factor, molar mass [kg/mol]."""

    critical_temperature: float
    critical_pressure: float
    acentric_factor: float
    molar_mass: float


FLUIDS = {
    "R-32": Fluid(351.255, 5.782e6, 0.2769, 0.052024),
    "R-125": Fluid(339.173, 3.6177e6, 0.3052, 0.1200214),
    "R-134a": Fluid(374.21, 4.05928e6, 0.32684, 0.102032),
    "R-1234yf": Fluid(367.85, 3.3822e6, 0.276, 0.1140416),
}


def mole_fractions(mass_fractions: dict[str, float]) -> np.ndarray:
    """Mole fractions of a composition by mass."""
    moles = np.array([mass / FLUIDS[name].molar_mass for name, mass in mass_fractions.items()])
    return moles / moles.sum()


def pressure(mass_fractions: dict[str, float], temperature: float, phase: str) -> float:
    """Bubble or dew pressure [Pa] of a blend at a temperature [K]."""
    fluids = [FLUIDS[name] for name in mass_fractions]
    overall = mole_fractions(mass_fractions)
    wilson = np.array(
        [
            f.critical_pressure * math.exp(5.373 * (1 + f.acentric_factor) * (1 - f.critical_temperature / temperature))
            for f in fluids
        ]
    )
    p = float(overall @ wilson) if phase == "bubble" else 1.0 / float(overall @ (1 / wilson))
    ratios = wilson / p
    for _ in range(300):
        liquid = overall if phase == "bubble" else overall / ratios / (overall / ratios).sum()
        vapour = overall * ratios / (overall * ratios).sum() if phase == "bubble" else overall
        ratios = np.exp(
            _ln_fugacity(fluids, liquid, temperature, p, min) - _ln_fugacity(fluids, vapour, temperature, p, max)
        )
        change = float(overall @ ratios) if phase == "bubble" else 1.0 / float(overall @ (1 / ratios))
        p *= change
        if abs(change - 1.0) < 1e-11:
            return p
    raise ArithmeticError(f"no {phase} point at {temperature} K")


def _ln_fugacity(fluids, fractions, temperature, p, choose):
    """ln of the fugacity coefficients of one phase; `choose` picks the root: min for liquid, max for vapour."""
    tc = np.array([f.critical_temperature for f in fluids])
    pc = np.array([f.critical_pressure for f in fluids])
    w = np.array([f.acentric_factor for f in fluids])
    kappa = 0.37464 + 1.54226 * w - 0.26992 * w**2
    a = 0.45724 * (R * tc) ** 2 / pc * (1 + kappa * (1 - np.sqrt(temperature / tc))) ** 2
    b = 0.07780 * R * tc / pc
    pairs = np.sqrt(np.outer(a, a))
    a_mix, b_mix = float(fractions @ pairs @ fractions), float(fractions @ b)
    big_a, big_b = a_mix * p / (R * temperature) ** 2, b_mix * p / (R * temperature)
    roots = np.roots([1, big_b - 1, big_a - 3 * big_b**2 - 2 * big_b, -(big_a * big_b - big_b**2 - big_b**3)])
    z = choose(r.real for r in roots if abs(r.imag) < 1e-9 and r.real > big_b)
    share = 2 * (pairs @ fractions) / a_mix - b / b_mix
    log = math.log((z + (1 + math.sqrt(2)) * big_b) / (z + (1 - math.sqrt(2)) * big_b))
    return b / b_mix * (z - 1) - math.log(z - big_b) - big_a / (2 * math.sqrt(2) * big_b) * share * log
