"""What an opinion needs, worked ahead in a process of its own and kept until facts or weather change."""

import json
import sys
from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import Any, Final

from assistant.apart import ask_apart, give_way
from assistant.errors import CoilsideError, InputError
from assistant.opinion.fits import Hypothesis, Prepared, prepare
from assistant.opinion.inputs import Situation
from assistant.simulator.units import Facts, Weather

PATIENCE: Final = 90.0
"""So long it may take [s], where much else is going on."""


@dataclass
class Ahead:
    """What was prepared last, and for which facts and weather; `refused` says why there is none."""

    ground: Situation | None = None
    prepared: Prepared | None = None
    refused: str = ""

    def is_ready(self, situation: Situation) -> bool:
        """Tell whether a situation was prepared, or refused."""
        return self.ground == situation.ground

    def prepared_for(self, situation: Situation) -> Prepared:
        """Return what is prepared for a situation; what is not is worked now, which takes seconds.

        Raises:
            CoilsideError: there is no such unit, or a sound one would not run in this weather.
        """
        if not self.is_ready(situation):
            try:
                found = prepare(situation.facts, situation.weather, situation.device)
                self.keep(situation, found)
            except CoilsideError as error:
                self.keep(situation, str(error))
        if self.prepared is None:
            raise InputError(self.refused)
        return self.prepared

    def keep(self, situation: Situation, found: Prepared | str) -> None:
        """Keep what was prepared for a situation, or the sentence why there is nothing."""
        self.ground = situation.ground
        self.prepared, self.refused = (None, found) if isinstance(found, str) else (found, "")


def prepare_apart(situation: Situation, is_cancelled: Callable[[], bool]) -> Prepared | str | None:
    """Work what a situation needs in a process of its own: that, or why there is none; `None` when cancelled."""
    question = json.dumps(
        {"facts": asdict(situation.facts), "weather": asdict(situation.weather), "device": situation.device}
    )
    try:
        answer = ask_apart(__name__, question, PATIENCE, is_cancelled)
    except OSError as error:
        return f"The opinion could not be started ({error})."
    if answer is None:
        return None
    try:
        told = json.loads(answer)
    except ValueError:
        return "The opinion could not be worked."
    return told if isinstance(told, str) else _read(situation, told)


def _read(situation: Situation, told: Any) -> Prepared:
    import numpy as np

    def array(values: Any) -> Any:
        return np.array(values, dtype=float)

    fitted = tuple(
        Hypothesis(
            **{
                **one,
                "opens": tuple(one["opens"]),
                **{name: array(one[name]) for name in ("values", "spread", "along")},
            }
        )
        for one in told
    )
    return Prepared(situation.facts, situation.weather, situation.device, fitted)


def _write(prepared: Prepared) -> list[dict[str, Any]]:
    def plain(value: Any) -> Any:
        return value.tolist() if hasattr(value, "tolist") else value

    return [{name: plain(getattr(one, name)) for name in one.__dataclass_fields__} for one in prepared.fitted]


def main() -> None:
    """Read facts and weather from standard input, write what is prepared for them to standard output."""
    give_way()
    asked = json.load(sys.stdin)
    try:
        found: Any = _write(prepare(Facts(**asked["facts"]), Weather(**asked["weather"]), asked["device"]))
    except CoilsideError as error:
        found = str(error)
    print(json.dumps(found))


if __name__ == "__main__":
    main()
