"""Practice systems as tests ask for them."""

from functools import cache

from assistant.quantity import fahrenheit
from assistant.simulator.faults import FAULTS, with_severity
from assistant.simulator.plant import DeviceKind
from assistant.simulator.system import System, Wish, practice_system

DEVICES: tuple[DeviceKind, ...] = ("txv", "fixed_orifice")


@cache
def system(
    refrigerant: str,
    device: DeviceKind,
    *faults: tuple[str, float],
    outdoor: float = 95.0,
    wet_bulb: float = 67.0,
    tons: float = 3.0,
    charge: float = 1.0,
    altitude: float = 0.0,
) -> System:
    """A solved system, temperatures in °F."""
    return practice_system(
        Wish(
            refrigerant,
            tons,
            device,
            fahrenheit(outdoor),
            fahrenheit(80.0),
            fahrenheit(wet_bulb),
            altitude=altitude,
            charge=charge,
            faults=tuple(with_severity(FAULTS[name], severity) for name, severity in faults),
        )
    )
