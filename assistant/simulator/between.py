"""A value part of the way from one to another: how a hard state is approached from an easy one."""

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

T = TypeVar("T")


def between(start: T, end: T, share: float) -> T:
    """The value at a share (0 to 1) of the way between two of one class, number by number.

    Whole numbers, names and functions are those of the end; at 1 it is the end itself.
    """
    if share >= 1.0 or start is end:
        return end
    if isinstance(start, float) and isinstance(end, float):
        return start + share * (end - start)  # type: ignore[return-value]
    if type(start) is not type(end) or not is_dataclass(end) or isinstance(end, type):
        return end
    parts: dict[str, Any] = {
        field.name: between(getattr(start, field.name), getattr(end, field.name), share) for field in fields(end)
    }
    return replace(end, **parts)
