"""How a make of units answers flows, pressures and lift: what a coil's size or a charge does not change.

Two units of the same sizes at the rating point part from each other away from it by their structure: how conductances
follow flows, how efficiencies follow the pressure ratio, how a valve's area follows its lift. Nobody on a call knows
it, so what is fitted with one structure is tried on units of others (`draw_structure`).
"""

import random
from dataclasses import dataclass
from typing import Final

from assistant.quantity import KELVIN_PER_FAHRENHEIT
from assistant.simulator.bore import SLENDERNESS
from assistant.simulator.coils import USUAL_EXCHANGE, Exchange
from assistant.simulator.compressor import USUAL_EFFICIENCY, Efficiency


@dataclass(frozen=True, slots=True)
class Structure:
    """How the parts of a unit answer.

    `indoor` and `outdoor` are the coils; a split is the conductance of the refrigerant's side over that of the air's.
    A valve passes `reserve` times the rated flow when wide open, begins to lift at `static_superheat` [K], and its area
    goes with the lift to the power of `stroke`. A bore is `slenderness` times as long as wide.
    """

    indoor: Exchange = USUAL_EXCHANGE
    outdoor: Exchange = USUAL_EXCHANGE
    indoor_split: float = 2.5
    outdoor_split: float = 2.0
    efficiency: Efficiency = USUAL_EFFICIENCY
    reserve: float = 1.35
    static_superheat: float = 5.0 * KELVIN_PER_FAHRENHEIT
    stroke: float = 1.0
    slenderness: float = SLENDERNESS


USUAL: Final = Structure()
"""The structure with which everything is fitted."""


def draw_structure(seed: int) -> Structure:
    """Return a structure drawn by a seed, from ranges about the usual one that are chosen, as wide as makes may differ.

    The best efficiency and its fall follow the scatter of the published curves (`compressor`).
    """
    chance = random.Random(f"structure {seed}")
    thinning = chance.uniform(0.022, 0.042)
    efficiency = Efficiency(
        best=chance.uniform(0.68, 0.78),
        at=chance.uniform(2.4, 2.9),
        below=chance.uniform(0.1, 0.25),
        above=chance.uniform(0.03, 0.06),
        easing=chance.uniform(0.2, 0.6),
        filled=0.952 + 2.75 * thinning,
        thinning=thinning,
    )
    return Structure(
        indoor=_draw_exchange(chance),
        outdoor=_draw_exchange(chance),
        indoor_split=chance.uniform(1.8, 3.5),
        outdoor_split=chance.uniform(1.5, 3.0),
        efficiency=efficiency,
        reserve=chance.uniform(1.25, 1.6),
        static_superheat=chance.uniform(4.0, 6.5) * KELVIN_PER_FAHRENHEIT,
        stroke=chance.uniform(0.75, 1.4),
        slenderness=chance.uniform(5.0, 15.0),
    )


def _draw_exchange(chance: random.Random) -> Exchange:
    return Exchange(
        air_power=chance.uniform(0.35, 0.65),
        two_phase_power=chance.uniform(0.3, 0.75),
        one_phase_power=chance.uniform(0.65, 0.85),
        hot_gas_share=chance.uniform(0.18, 0.35),
        cold_gas_share=chance.uniform(0.08, 0.18),
        liquid_share=chance.uniform(0.27, 0.47),
    )
