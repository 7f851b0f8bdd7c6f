"""The trade's units for the tests of this floor, written down apart from the program's own table."""

PSI = 6894.757293168361
SEA_LEVEL = 101325.0


def fahrenheit(degrees: float) -> float:
    """[°F] to [K]."""
    return (degrees + 459.67) / 1.8


def celsius(degrees: float) -> float:
    """[°C] to [K]."""
    return degrees + 273.15


def psig(gauge: float) -> float:
    """[psi gauge at sea level] to [Pa absolute]."""
    return gauge * PSI + SEA_LEVEL


def to_psig(pressure: float) -> float:
    """[Pa absolute] to [psi gauge at sea level]."""
    return (pressure - SEA_LEVEL) / PSI


def to_fahrenheit(temperature: float) -> float:
    """[K] to [°F]."""
    return temperature * 1.8 - 459.67
