"""Taking values out of mappings: each thing that is missing, of the wrong form or unknown is a Problem."""

import re

from assistant.source.nodes import Mapping, Node, Scalar, Sequence
from assistant.source.problem import Place, Problem
from assistant.tree.model import Evidence, Named
from assistant.tree.wording import is_text, key_mistakes, wrong_item, wrong_value

_CHANGE = re.compile(r"change\(\s*([A-Za-z_]\w*)\s*\)", re.ASCII)


class Fields:
    """One mapping being read; `owner` is the place to complain at when something is missing from it."""

    def __init__(self, mapping: Mapping, owner: Place, what: str, problems: list[Problem]) -> None:
        self.mapping = mapping
        self.owner = owner
        self.what = what
        self.problems = problems

    def only(self, allowed: tuple[str, ...], required: tuple[str, ...] = ()) -> None:
        """Report every key that is not among the allowed ones, and every required one that is missing."""
        self.problems.extend(key_mistakes(self.mapping, self.owner, self.what, allowed, required))

    def text(self, name: str) -> str | None:
        """Give the text under a key; None when it is not there or is no text."""
        scalar = self.scalar(name)
        return None if scalar is None else scalar.text.strip()

    def scalar(self, name: str) -> Scalar | None:
        """Give the value under a key; None when it is not there, is empty or is no single value."""
        value = self.mapping.get(name)
        if value is None:
            return None
        if isinstance(value, Scalar) and value.text.strip():
            return value
        self.wrong(name, value)
        return None

    def named(self, name: str) -> Named:
        """Give the name under a key; an empty one, at the owner's place, when there is none."""
        scalar = self.scalar(name)
        return Named("", self.owner) if scalar is None else Named(scalar.text, scalar.mark)

    def names(self, name: str) -> tuple[Named, ...]:
        """Give one name or a list of names."""
        return tuple(Named(scalar.text, scalar.mark) for scalar in self.scalars(name))

    def texts(self, name: str) -> tuple[str, ...]:
        """Give one text or a list of texts."""
        return tuple(scalar.text for scalar in self.scalars(name))

    def evidence(self, name: str = "because") -> tuple[Evidence, ...]:
        """Give names and `change(NAME)`."""
        found = []
        for scalar in self.scalars(name):
            changed = _CHANGE.fullmatch(scalar.text.strip())
            found.append(Evidence(changed[1] if changed else scalar.text, changed is not None, scalar.mark))
        return tuple(found)

    def scalars(self, name: str) -> tuple[Scalar, ...]:
        """Give one value or a list of values, without those that are of the wrong form."""
        value = self.mapping.get(name)
        if value is None:
            return ()
        if isinstance(value, Sequence) and value.items:
            for item in value.items:
                if not is_text(item):
                    self.problems.append(wrong_item(name, item))
            return tuple(item for item in value.items if isinstance(item, Scalar) and item.text.strip())
        if isinstance(value, Scalar) and value.text.strip():
            return (value,)
        self.wrong(name, value)
        return ()

    def items(self, name: str) -> tuple[Node, ...]:
        """Give the items of a list."""
        value = self.mapping.get(name)
        if isinstance(value, Sequence) and value.items:
            return value.items
        if value is not None:
            self.wrong(name, value)
        return ()

    def mapping_of(self, name: str) -> Mapping | None:
        """Give the mapping under a key; None when it is not there or is none."""
        value = self.mapping.get(name)
        if isinstance(value, Mapping) and value.entries:
            return value
        if value is not None:
            self.wrong(name, value)
        return None

    def wrong(self, name: str, value: Node) -> None:
        """Report a value of the wrong form."""
        key = self.mapping.key(name)
        self.problems.append(wrong_value(name, value, value.mark if key is None else key.mark))
