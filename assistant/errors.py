"""Everything that the program can refuse, in one family.

::

    CoilsideError                   shown to a person as one plain message, exit code 1
    ├── InputError                  something typed or written by a person
    │   ├── QuantityError           a reading or limit that cannot be read as a quantity
    │   ├── UnknownNameError        a name that nothing answers to; carries the nearest ones
    │   └── FileError               a file that cannot be read, or holds something else than it should
    ├── PhysicsError                a number that the arithmetic cannot honestly work with
    │   ├── OutOfRangeError         outside the validity of a curve or formula
    │   ├── ImpossibleError         readings that contradict each other
    │   ├── NoTargetError           conditions for which no target value is defined
    │   └── UnmodelledRefrigerantError  a refrigerant that exists, but that we have no honest model of
    ├── OutputError                 what is to be shown cannot be written
    └── StoreError                  the record of calls cannot be opened or written
        ├── LockedError             another program holds the record; it can be tried again
        ├── GoneError               the file was taken away while it was open
        ├── DamagedError            the file of the record is damaged; it was left as it is
        ├── NoCallError             there is no call of that number, or no longer
        └── ChangedElsewhereError   another program has changed the call since it was read

An author's mistakes in a tree file are not exceptions: they are `assistant.source.problem.Problem` values,
because all of them are wanted at once. A bug stays an ordinary exception.
"""

from collections.abc import Sequence


class CoilsideError(Exception):
    """Base of everything that a face shows as a plain message."""


class InputError(CoilsideError):
    """Something that a person typed or wrote cannot be used."""


class QuantityError(InputError):
    """A text is not a quantity of the kind that was asked for."""


class UnknownNameError(InputError):
    """A name that nothing answers to.

    `what` says what sort of name it was, `name` is what was typed, `nearest` the best known names, best first.
    """

    def __init__(self, what: str, name: str, nearest: Sequence[str] = ()) -> None:
        self.what = what
        self.name = name
        self.nearest = tuple(nearest)
        hint = f" Did you mean {' or '.join(self.nearest)}?" if self.nearest else ""
        super().__init__(f"There is no {what} called {name!r}.{hint}")


class FileError(InputError):
    """A file cannot be read or is not what it should be."""


class PhysicsError(CoilsideError):
    """A number that the arithmetic cannot honestly work with."""


class OutOfRangeError(PhysicsError):
    """A value lies outside what a curve or formula is valid for.

    `value`, `low` and `high` are in `unit`, an SI unit; `source` says where the range comes from. A missing
    bound is `None`.
    """

    def __init__(
        self, quantity: str, value: float, unit: str, low: float | None, high: float | None, source: str
    ) -> None:
        self.quantity = quantity
        self.value = value
        self.unit = unit
        self.low = low
        self.high = high
        self.source = source
        bounds = ("" if low is None else f"from {low:g}", "" if high is None else f"up to {high:g}", unit)
        span = " ".join(filter(None, bounds))
        shown = f"{value:g} {unit}".rstrip()
        super().__init__(f"{quantity} {shown} is outside the range {span} ({source}).")


class ImpossibleError(PhysicsError):
    """Values that contradict physics, such as a wet bulb above the dry bulb."""


class NoTargetError(PhysicsError):
    """A target such as the superheat of a fixed orifice is not defined at these conditions."""


class UnmodelledRefrigerantError(PhysicsError):
    """A refrigerant is known by name, but nothing honest can be computed for it.

    `designation` is its ASHRAE 34 designation, `reason` says in a plain sentence what is missing.
    """

    def __init__(self, designation: str, reason: str) -> None:
        self.designation = designation
        self.reason = reason
        super().__init__(f"{designation} is known, but not modelled: {reason}")


class OutputError(CoilsideError):
    """What a command has to show cannot be written where it goes."""


class StoreError(CoilsideError):
    """The record of calls cannot be opened, read or written."""


class DamagedError(StoreError):
    """The file that should hold the record of calls is damaged, or is none; it was left as it is."""


class LockedError(StoreError):
    """Another program has held the record longer than was waited; nothing was written."""


class GoneError(StoreError):
    """The file of the record was taken away while it was open: what was written last may be lost with it."""


class NoCallError(StoreError):
    """There is no call of that number, or no longer."""


class ChangedElsewhereError(StoreError):
    """Another program has changed the call since it was read; nothing was written."""
