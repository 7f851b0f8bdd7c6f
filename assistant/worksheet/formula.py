"""What a formula of a worked number is."""

from collections.abc import Callable, Mapping
from typing import Final

from assistant.doubt import Uncertain
from assistant.frozen import dataclass
from assistant.thermo.curves import Saturation, saturation
from assistant.worksheet.known import Known

Inputs = Mapping[str, Uncertain]

PRACTICE: Final = "common practice, no source"
DEFINITION: Final = "definition"


@dataclass(frozen=True, slots=True)
class Formula:
    """One way to work a number.

    `inputs` are readings, facts and other worked numbers; all must be there. `asks` are facts that are asked for
    first and do without an answer. `applies` says on which systems this is the way; `chosen_by` are the facts that
    it looks at.
    """

    inputs: tuple[str, ...]
    compute: Callable[[Inputs, Known], Uncertain]
    expression: str
    source: str
    note: str = ""
    asks: tuple[str, ...] = ()
    applies: Callable[[Known], bool] = lambda known: True
    chosen_by: tuple[str, ...] = ()

    @property
    def quantities(self) -> tuple[str, ...]:
        """The inputs that are numbers, so all but the refrigerant."""
        return tuple(name for name in self.inputs if name != "refrigerant")


def difference(first: str, second: str, note: str = "") -> Formula:
    """Make the formula of one quantity less another."""
    return Formula(
        (first, second),
        lambda inputs, known: inputs[first] - inputs[second],
        f"{{{first}}} - {{{second}}}",
        DEFINITION,
        note,
    )


def curves_of(known: Known) -> Saturation:
    """Return the saturation curves of the call's refrigerant, which the sheet has made sure of."""
    assert known.refrigerant is not None
    return saturation(known.refrigerant)
