"""What the quick frozen dataclasses promise: the standard library's own are the oracle."""

import copy
import dataclasses
import pickle
from dataclasses import field, replace
from typing import Any

import pytest

from assistant.frozen import dataclass


class _Both:
    """The same class made by the standard decorator and by ours."""

    class Standard:
        @dataclasses.dataclass(frozen=True, slots=True)
        class Value:
            name: str
            count: int = 3
            items: list[int] = field(default_factory=list)
            note: str = field(default="", compare=False, repr=False)
            doubled: int = field(init=False, default=0)

            def __post_init__(self) -> None:
                object.__setattr__(self, "doubled", self.count * 2)

    class Ours:
        @dataclass(frozen=True, slots=True)
        class Value:
            name: str
            count: int = 3
            items: list[int] = field(default_factory=list)
            note: str = field(default="", compare=False, repr=False)
            doubled: int = field(init=False, default=0)

            def __post_init__(self) -> None:
                object.__setattr__(self, "doubled", self.count * 2)


@dataclass(frozen=True, slots=True)
class _Pair:
    left: int
    right: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Single:
    """One field, no slots."""

    value: int


BOTH = pytest.mark.parametrize("kind", [_Both.Standard.Value, _Both.Ours.Value])


@BOTH
def test_values_are_made_and_told_as_ever(kind: Any) -> None:
    """Defaults, factories, what is no argument and what is set afterwards stand where they belong."""
    value = kind("a")
    assert (value.name, value.count, value.items, value.note, value.doubled) == ("a", 3, [], "", 6)
    assert kind("a").items is not value.items
    assert repr(kind("a", count=1, note="x")).endswith("Value(name='a', count=1, items=[], doubled=2)")
    assert kind.__match_args__ == ("name", "count", "items", "note")
    assert [one.name for one in dataclasses.fields(kind)] == ["name", "count", "items", "note", "doubled"]
    with pytest.raises(TypeError, match="name"):
        kind()
    with pytest.raises(TypeError, match="doubled"):
        kind("a", doubled=1)


@BOTH
def test_values_are_equal_by_what_is_compared(kind: Any) -> None:
    """A field that is not compared does not count; another class is never equal."""
    assert kind("a", note="x") == kind("a", note="y")
    assert kind("a", 1) != kind("a", 2)
    assert kind("a") != ("a", 3, [], 6)
    assert _Pair(1) == _Pair(1)
    assert _Pair(1) != _Single(1)
    assert _Single(1) == _Single(1)


@BOTH
def test_values_do_not_change(kind: Any) -> None:
    """Setting and deleting are refused; a changed copy is another value."""
    value = kind("a")
    with pytest.raises(dataclasses.FrozenInstanceError, match="name"):
        value.name = "b"
    with pytest.raises(dataclasses.FrozenInstanceError, match="count"):
        del value.count
    assert replace(value, count=5).doubled == 10
    assert value.count == 3


def test_values_are_keys_and_travel() -> None:
    """Equal values are one key; a copied and a pickled value are equal to the first."""
    pair = _Pair(1, ("a",))
    assert len({pair, _Pair(1, ("a",)), _Pair(2)}) == 2
    assert len({_Single(1), _Single(1)}) == 1
    for made in (copy.copy(pair), copy.deepcopy(pair), pickle.loads(pickle.dumps(pair))):
        assert made == pair
    assert pickle.loads(pickle.dumps(_Single(4))) == _Single(4)
