"""Every key of every screen is pressed, and does something that can be seen."""

import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.app import App
from textual.binding import Binding
from textual.pilot import Pilot
from textual.screen import Screen

from assistant.call.library import Library
from assistant.store.store import Store
from assistant.tui import screens
from assistant.tui.screens.pages import Page
from tests.tui.every_key import WALKS, Key, Place
from tests.tui.screens import screen_text


def all_screens() -> Iterator[type[Screen[object]]]:
    """The classes of all screens with keys of their own."""
    for module in pkgutil.iter_modules(screens.__path__, f"{screens.__name__}."):
        for found in vars(importlib.import_module(module.name)).values():
            if isinstance(found, type) and issubclass(found, Screen) and found.__module__ == module.name:
                yield found


def keys_of(screen: type[Screen[object]]) -> dict[str, str]:
    """What each key of a screen does, by the key."""
    bindings = (binding for binding in vars(screen).get("BINDINGS", ()) if isinstance(binding, Binding))
    return {key: binding.action for binding in bindings for key in binding.key.split(",")}


def test_every_key_of_every_screen_is_in_the_table() -> None:
    """A key that a screen shares with the one it is made from is pressed there; every other one on its own screen."""
    pressed = {(key.on, key.key) for walk in WALKS.values() for key in walk.keys}
    bound = set()
    for screen in all_screens():
        shared = keys_of(screen.__mro__[1]).items()
        # A page that only leads back is none of its own.
        bound |= {(screen, key) for key, action in keys_of(screen).items() if (key, action) not in shared}
    assert bound - pressed == {(Page, "escape")}


@pytest.mark.parametrize("name", WALKS)
async def test_every_key_does_what_the_table_says(
    small_library: Library, library: Library, store: Store, tmp_path: Path, name: str
) -> None:
    """What it shows was not on the screen before, what it hides is not there any more, and what ends has ended."""
    walk = WALKS[name]
    app = walk.opens(Place(small_library, library, store, tmp_path / "trees"))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for key in walk.keys:
            await press(pilot, *key.first)
            assert type(app.screen) is key.on
            await does(pilot, key)
            if not key.ends:
                await press(pilot, *key.then)


async def press(pilot: Pilot[int | None], *keys: str) -> None:
    """Press keys, each answered before the next."""
    for key in keys:
        await pilot.press(key)
        await pilot.pause()


async def does(pilot: Pilot[int | None], key: Key) -> None:
    """Press one key, and see what the table says."""
    before = shown(pilot.app)
    assert key.shows or key.hides or key.ends
    assert not key.shows or key.shows not in before, (key.key, before)
    assert key.hides in before, (key.key, before)
    await press(pilot, key.key)
    if key.ends:
        assert not pilot.app.is_running or pilot.app._exit
        return
    after = shown(pilot.app)
    assert key.shows in after, (key.key, after)
    assert not key.hides or key.hides not in after, (key.key, after)


def shown(app: App[int | None]) -> str:
    """The words on the screen, the lines of the call by themselves where a panel stands beside it."""
    lines = screen_text(app).splitlines()
    return "\n".join(lines) + "\n" + " ".join(" ".join(line.partition("│")[0].split()) for line in lines)
