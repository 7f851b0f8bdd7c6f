"""Frozen dataclasses that cost little where they are defined.

The standard decorator writes six methods of each frozen class as source text and compiles each by itself. On the way to
the first question that took longer than all else. All but `__init__` are the same for every such class except for the
names of the fields, so here they are made of functions that are there already.
"""

from operator import attrgetter
from reprlib import recursive_repr
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:
    import dataclasses

    _OWN = ("__init__", "__eq__", "__hash__", "__repr__", "__setattr__", "__delattr__", "__getstate__", "__setstate__")

    def dataclass(cls=None, /, *, frozen=False, slots=False, **others):
        """Make a class a dataclass, as the standard decorator does; a plain frozen one is made the quick way."""

        def wrap(cls):
            if not frozen or others or cls.__bases__ != (object,) or not vars(cls).keys().isdisjoint(_OWN):
                return dataclasses.dataclass(frozen=frozen, slots=slots, **others)(cls)
            # Without a docstring, the standard one looks for the signature, which is slow.
            cls.__doc__ = cls.__doc__ or cls.__name__
            made = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots)(cls)
            made.__dataclass_params__.frozen = True
            for method in _methods(made, slots):
                setattr(made, method.__name__, method)
            return made

        return wrap if cls is None else wrap(cls)

    def _methods(cls, slots):
        fields = dataclasses.fields(cls)
        yield _init(cls, fields)
        compared = _getter([field.name for field in fields if field.compare])
        hashed = _getter([field.name for field in fields if (field.compare if field.hash is None else field.hash)])
        shown = [field.name for field in fields if field.repr]
        names = tuple(field.name for field in fields)

        def __eq__(self, other):
            return compared(self) == compared(other) if other.__class__ is self.__class__ else NotImplemented

        def __hash__(self):
            return hash(hashed(self))

        @recursive_repr()
        def __repr__(self):
            values = ", ".join(f"{name}={getattr(self, name)!r}" for name in shown)
            return f"{self.__class__.__qualname__}({values})"

        def __getstate__(self):
            return [getattr(self, name) for name in names]

        def __setstate__(self, state):
            for name, value in zip(names, state, strict=True):
                object.__setattr__(self, name, value)

        yield from (__eq__, __hash__, __repr__, _set, _delete)
        if slots:
            yield from (__getstate__, __setstate__)

    def _set(self, name, value):
        raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")

    def _delete(self, name):
        raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")

    _set.__name__, _delete.__name__ = "__setattr__", "__delattr__"

    def _init(cls, fields):
        known = {"_set": object.__setattr__, "_missing": dataclasses.MISSING}
        heads, lines = ["self"], []
        for field in fields:
            name = value = field.name
            if field.default_factory is not dataclasses.MISSING:
                known[f"_make_{name}"] = field.default_factory
                head = f"{name}=_missing"
                value = f"_make_{name}() if {name} is _missing else {name}" if field.init else f"_make_{name}()"
            elif field.default is not dataclasses.MISSING:
                known[f"_default_{name}"] = field.default
                head = f"{name}=_default_{name}"
            else:
                head = name
            if field.init:
                heads.append(head)
            if field.init or value != name:
                lines.append(f"\n _set(self, {name!r}, {value})")
        after = "\n self.__post_init__()" if hasattr(cls, "__post_init__") else ""
        exec(f"def __init__({', '.join(heads)}):{''.join(lines) or ' pass'}{after}", known)
        made = known["__init__"]
        made.__annotations__ = {**{field.name: field.type for field in fields if field.init}, "return": None}
        made.__module__ = cls.__module__
        return made

    def _getter(names):
        if len(names) > 1:
            return attrgetter(*names)
        return attrgetter(names[0]) if names else lambda _: ()
