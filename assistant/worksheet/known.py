"""What a call knows at one point: facts and readings as values, and what was asked in vain."""

from collections.abc import Mapping
from dataclasses import field, replace
from functools import cached_property

from assistant.doubt import Uncertain
from assistant.errors import CoilsideError
from assistant.frozen import dataclass
from assistant.thermo.air import standard_pressure
from assistant.thermo.refrigerants import Refrigerant, find_refrigerant
from assistant.worksheet.sound import sound_readings


@dataclass(frozen=True)
class Known:
    """Facts and readings by name, in SI, pressures absolute.

    `quantities` holds readings and those facts that are quantities; `choices` the chosen facts and observations, and
    the refrigerant's designation; `asked` every name that was asked, answered or not.
    """

    quantities: Mapping[str, Uncertain] = field(default_factory=dict)
    choices: Mapping[str, str] = field(default_factory=dict)
    asked: frozenset[str] = frozenset()
    altitude: float = 0.0

    @cached_property
    def atmosphere(self) -> float:
        """The atmospheric pressure of the site [Pa], of the standard atmosphere at `altitude` [m]."""
        return standard_pressure(self.altitude)

    @cached_property
    def sound(self) -> "Known":
        """The same at a unit with nothing wrong: what it would read in place of what was read.

        Raises:
            CoilsideError: nothing is known of such a unit, or not in this weather.
        """
        read = sound_readings(self.quantities, self.choices, self.altitude)
        return replace(self, quantities={**self.quantities, **read})

    @cached_property
    def refrigerant(self) -> Refrigerant | None:
        """The refrigerant; `None` when it was not told or has no model."""
        try:
            return find_refrigerant(self.choices["refrigerant"]) if "refrigerant" in self.choices else None
        except CoilsideError:
            return None

    @property
    def safety_group(self) -> str | None:
        """The ASHRAE 34 safety group of the refrigerant."""
        return self.refrigerant.safety_group if self.refrigerant else None
