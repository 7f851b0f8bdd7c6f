"""Following the saturation curve of a mixture from a cold point that is easy to solve to a hot one that is not.

The library's own start values fail in patches between middling pressure and the critical point, though the
equations have a plain solution there. Starting each point from an extrapolation of the last three reaches all of
it. Knows nothing of the library beyond the handle that it is given.
"""

import math
from dataclasses import dataclass, field
from typing import Any

from assistant.errors import PhysicsError

_LONGEST_STEP = 1.0
_SHORTEST_STEP = 0.02
_JUMP = 5e-3  # in ln p: an order above the error of a good extrapolation, an order below that of a wrong root


@dataclass
class CurveFollower:
    """Solves for one saturation curve at rising temperatures [K], each from the three nearest that it has solved.

    `handle` is a solver for the mixture, `library` the module it comes from, `quality` 0 for bubble and 1 for dew.
    After `move_to(temperature)` the handle holds that state.
    """

    handle: Any
    library: Any
    quality: float
    start: float
    critical_temperature: float
    _history: list[tuple[float, list[float]]] = field(default_factory=list)

    def move_to(self, temperature: float) -> None:
        """Bring the handle to a temperature [K]: anywhere from the start up to just below the critical one.

        Raises:
            PhysicsError: the curve cannot be followed that far.
        """
        if not self._history:
            for first in (self.start, self.start + 0.5, self.start + 1.0):
                self.handle.update(self.library.QT_INPUTS, self.quality, first)
                self._history.append((first, self._unknowns()))
        while True:
            reached = self._history[-1][0]
            to_critical = self.critical_temperature - reached
            step = min(_LONGEST_STEP, max(_SHORTEST_STEP, 0.1 * to_critical))
            if temperature - reached <= step:
                self._solve(temperature)
                return
            self._solve(reached + step)

    def _unknowns(self) -> list[float]:
        liquid = self.handle.mole_fractions_liquid()
        vapour = self.handle.mole_fractions_vapor()
        return [
            math.log(self.handle.p()),
            math.log(self.handle.saturated_liquid_keyed_output(self.library.iDmolar)),
            math.log(self.handle.saturated_vapor_keyed_output(self.library.iDmolar)),
            *(math.log(y / x) for x, y in zip(liquid, vapour, strict=True)),
        ]

    def _solve(self, temperature: float) -> None:
        nearest = sorted(self._history, key=lambda point: abs(point[0] - temperature))[:3]
        guess = _extrapolate(nearest, temperature)
        try:
            self.handle.update_with_guesses(
                self.library.QT_INPUTS, self.quality, temperature, self._start_values(temperature, guess)
            )
            found = self._unknowns()
        except ValueError as error:
            raise PhysicsError(f"The saturation curve cannot be followed to {temperature:g} K: {error}") from None
        if abs(found[0] - guess[0]) > _JUMP or found[1] <= found[2]:
            raise PhysicsError(f"The saturation curve breaks off at {temperature:g} K.")
        if temperature > self._history[-1][0]:
            self._history.append((temperature, found))

    def _start_values(self, temperature: float, guess: list[float]) -> Any:
        overall = list(self.handle.get_mole_fractions())
        ratios = [math.exp(value) for value in guess[3:]]
        if self.quality == 0:
            liquid, vapour = overall, _normal([z * k for z, k in zip(overall, ratios, strict=True)])
        else:
            liquid, vapour = _normal([z / k for z, k in zip(overall, ratios, strict=True)]), overall
        values = self.library.PyGuessesStructure()
        values.T, values.p = temperature, math.exp(guess[0])
        values.rhomolar_liq, values.rhomolar_vap = math.exp(guess[1]), math.exp(guess[2])
        values.x, values.y = liquid, vapour
        return values


def _normal(fractions: list[float]) -> list[float]:
    total = sum(fractions)
    return [fraction / total for fraction in fractions]


def _extrapolate(points: list[tuple[float, list[float]]], x: float) -> list[float]:
    """Return the value at `x` of the parabola through three points, for every component."""
    weights = [
        math.prod((x - other) / (own - other) for j, (other, _) in enumerate(points) if j != i)
        for i, (own, _) in enumerate(points)
    ]
    columns = zip(*(values for _, values in points), strict=True)
    return [sum(w * v for w, v in zip(weights, column, strict=True)) for column in columns]
