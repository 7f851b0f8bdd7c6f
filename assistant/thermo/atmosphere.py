"""The pressure of the air at the site, which every gauge pressure is counted from."""

from assistant.errors import OutOfRangeError

SEA_LEVEL_PRESSURE = 101325.0

_LOWEST_ALTITUDE = -500.0
_HIGHEST_ALTITUDE = 11000.0
_SOURCE = "standard atmosphere, ASHRAE Handbook-Fundamentals 2017 ch. 1"


def standard_pressure(altitude: float) -> float:
    """Pressure of the standard atmosphere [Pa] at an altitude above sea level [m].

    Weather moves the real pressure by some 2 %, which is 0.3 psi.

    Raises:
        OutOfRangeError: below -500 m or above 11000 m, the troposphere.

    Source: ASHRAE Handbook-Fundamentals 2017 ch. 1 eq. (3), from memory; checked against its Table 1.
    """
    if not _LOWEST_ALTITUDE <= altitude <= _HIGHEST_ALTITUDE:
        raise OutOfRangeError("altitude", altitude, "m", _LOWEST_ALTITUDE, _HIGHEST_ALTITUDE, _SOURCE)
    return float(SEA_LEVEL_PRESSURE * (1.0 - 2.25577e-5 * altitude) ** 5.2559)
