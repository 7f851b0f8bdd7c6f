"""CoolProp itself, loaded when something of it is first used: who only collects tests does not wait for it."""

from typing import Any


def __getattr__(name: str) -> Any:
    if name.startswith("__"):
        raise AttributeError(name)
    from CoolProp import CoolProp

    return getattr(CoolProp, name)
