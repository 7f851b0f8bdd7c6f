"""What the acts of the trees are at a practice site: its own acts, and waits.

One table for the chat, the review and the outcomes. An act that does not stand here means nothing at a practice site.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from assistant.practice.visit.doing import RECOVERY, SCALE
from assistant.quantity import POUND

_OUNCES_A_TON = 1.5 * POUND / 16.0
"""Refrigerant [kg] for each ton that is added or taken at a time: the middle of one to two ounces."""


@dataclass(frozen=True, slots=True)
class Way:
    """What an act is at a site: acts there by name and waits [min], in order.

    `per_ton` is the mass [kg] of its charging.
    """

    parts: tuple[str | float, ...]
    per_ton: float = 0.0

    def has(self, *acts: str) -> bool:
        """Tell whether any of some acts at the site is a part of it."""
        return any(part in acts for part in self.parts)

    @property
    def does(self) -> frozenset[str]:
        """What is done at the site, waits apart."""
        return frozenset(part for part in self.parts if isinstance(part, str))


WAYS: Final[Mapping[str, Way]] = {
    "stop_unit": Way(("stop",)),
    "lock_out": Way((5.0,)),
    "open_panel": Way((2.0,)),
    "open_panel_live": Way((2.0,)),
    "close_panel": Way((2.0,)),
    "power_back": Way((2.0,)),
    "start_unit": Way(("start", 5.0)),
    "start_watched": Way(("start", 5.0)),
    "reset_once": Way((1.0,)),
    "wait_settled": Way((15.0,)),
    "wait_resting": Way((30.0,)),
    "hoses_on": Way((3.0,)),
    "hoses_off": Way((3.0,)),
    "zero_gauges": Way((1.0,)),
    "reset_clamps": Way((1.0,)),
    "thaw_coil": Way(("thaw",)),
    "strap_bulb": Way(("strap_bulb",)),
    "mount_bulb": Way(("strap_bulb", "move_bulb")),
    "warm_bulb": Way(("warm_bulb",)),
    "chill_bulb": Way(("ice_bulb",)),
    "tap_body": Way(("tap_valve",)),
    "warm_valve_body": Way((3.0,)),
    "change_over": Way((5.0,)),
    "add_some": Way((SCALE, "add_charge"), _OUNCES_A_TON),
    "take_some": Way((SCALE, RECOVERY, "recover_charge"), _OUNCES_A_TON),
    "recover_charge": Way((SCALE, RECOVERY, "recover_all")),
    "evacuate": Way(("evacuate",)),
    "let_vacuum_stand": Way((10.0,)),
    "work_out_charge": Way((5.0,)),
    "weigh_in": Way((SCALE, "weigh_in")),
    "weigh_in_rest": Way((5.0,)),
    "search_leak": Way((30.0,)),
}
"""By the names of the catalogue's acts; minutes are chosen."""
