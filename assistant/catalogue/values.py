"""Values of catalogue entries that depend on the entry's kind: units, quantities, accuracies.

That something stands there at all is said by the table of keys; here is told what cannot be read as what it should be.
"""

from collections.abc import Mapping as MappingOf

from assistant.catalogue.entries import Accuracy
from assistant.errors import QuantityError
from assistant.quantity import (
    Kind,
    Quantity,
    Unit,
    UnitSystem,
    difference_of,
    parse,
    preferred_unit,
    unit_named,
    unit_names,
)
from assistant.source.nodes import Mapping, Scalar
from assistant.source.problem import Problem, shorten


def read_kind(keys: Mapping) -> Kind | None:
    """Return the kind of an entry; None where it has none, or none that there is."""
    text = keys.text("kind")
    return Kind(text) if text in Kind.__members__.values() else None


def read_units(keys: Mapping, kind: Kind, problems: list[Problem]) -> MappingOf[UnitSystem, Unit]:
    """Return the units in which an entry is shown: `unit` (US) and `si_unit`, each the usual one if absent."""
    return {
        "us": _read_unit(keys, "unit", kind, "us", problems),
        "si": _read_unit(keys, "si_unit", kind, "si", problems),
    }


def _read_unit(keys: Mapping, key: str, kind: Kind, system: UnitSystem, problems: list[Problem]) -> Unit:
    usual, found = preferred_unit(kind, system), keys.get(key)
    if not isinstance(found, Scalar):
        return usual
    unit = unit_named(found.text, kind)
    if unit is None:
        known = ", ".join(name for name in unit_names(kind) if name)
        message = f"{shorten(found.text)!r} is no unit of {kind.words.removeprefix('an ').removeprefix('a ')}"
        problems.append(Problem("kind-unit", found.mark, message, f"write one of {known}"))
    return unit or usual


def read_quantity(
    scalar: Scalar, kind: Kind, problems: list[Problem], default_unit: str | None = None
) -> Quantity | None:
    """Return a quantity of a kind as it is written."""
    try:
        return parse(scalar.text, kind, default_unit)
    except QuantityError as error:
        problems.append(Problem("kind-value", scalar.mark, str(error)))
        return None


def read_span(keys: Mapping, key: str, kind: Kind, problems: list[Problem]) -> tuple[Quantity, Quantity] | None:
    """Return two quantities, the lower one first."""
    ends = [read_quantity(item, kind, problems) for item in keys.scalars(key)]
    return (ends[0], ends[1]) if len(ends) == 2 and ends[0] is not None and ends[1] is not None else None


def read_accuracy(keys: Mapping, key: str, kind: Kind, source: str, problems: list[Problem]) -> Accuracy | None:
    """Return an accuracy such as `3.5 psi` or `0.1 % + 1.3 F`."""
    found = keys.scalar(key)
    if found is None:
        return None
    fraction, fixed = 0.0, 0.0
    for part in found.text.split("+"):
        of = Kind.FRACTION if "%" in part else difference_of(kind)
        piece = read_quantity(Scalar(part.strip(), found.mark), of, problems)
        if piece is not None and of is Kind.FRACTION:
            fraction += piece.value
        elif piece is not None:
            fixed += piece.value
    return Accuracy(fraction, fixed, found.text.strip(), source)
