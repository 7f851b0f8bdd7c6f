"""The parts of Textual that it does not promise: where one is missing or fails, the screen shows the same."""

import ast
import asyncio
import sys
from pathlib import Path
from types import FrameType
from typing import Any

import pyte
import pytest
import textual._compositor as compositor
from textual.app import App
from textual.screen import Screen
from textual.scroll_view import ScrollView
from textual.widget import Widget
from textual.widgets import Input, OptionList

import assistant.tui as tui
from assistant.call.library import Library
from assistant.store.store import Store
from assistant.tui.app import ChatApp
from assistant.tui.unpromised import PARTS
from assistant.tui.widgets.column import Column
from tests.tui.driving import TO_THE_FEED, Chat, chat, enter
from tests.tui.screens import screen_text

SIZE = (80, 24)


class Sending(ChatApp):
    """The chat without a terminal, which hands what it would send to one of another make."""

    def __init__(self, library: Library, store: Store) -> None:
        super().__init__(library, store, "us", None)
        self.terminal = pyte.Screen(*SIZE)
        self._stream = pyte.Stream(self.terminal)
        self.amount = 0

    @property
    def is_sparing(self) -> bool:
        return not self._sent.is_off

    def _display(self, *given: Any, **named: Any) -> None:
        super()._display(*given, **named)
        if len(given) == 2 and hasattr(given[1], "render_segments"):
            text = given[1].render_segments(self.console)
            self.amount += len(text)
            self._stream.feed(text)


async def shown(library: Library, store: Store) -> tuple[Sending, str]:
    """The chat after answers, a page opened and closed, another look, a way back through it, and a narrower screen."""
    app = Sending(library, store)
    async with app.run_test(size=SIZE) as pilot:
        await worked(pilot)
        on_terminal = "\n".join(row.rstrip() for row in app.terminal.display) + "\n"
        assert on_terminal == screen_text(app)
        return app, on_terminal


async def worked(pilot: Chat) -> None:
    await enter(pilot, *TO_THE_FEED, "118", "62")
    for key in ("f1", "escape", "f8", "pageup", "pagedown", *"warm"):
        await pilot.press(key)
        await pilot.pause()
    assert chat(pilot).transcript.lines > SIZE[1]


def is_ours(frame: FrameType | None) -> bool:
    return frame is not None and str(frame.f_globals["__name__"]).startswith("assistant.")


class Guarded:
    """An attribute that works for Textual itself, and is missing or fails for us."""

    def __init__(self, usual: Any, name: str, error: type[Exception]) -> None:
        self.usual, self.name, self.error = usual, name, error

    def __get__(self, found: Any, kind: type[object]) -> Any:
        if is_ours(sys._getframe(1)):
            raise self.error(self.name)
        if self.usual is not None:
            return self.usual.__get__(found, kind)
        return found.__dict__[self.name]

    def __set__(self, found: Any, value: Any) -> None:
        found.__dict__[self.name] = value


GUARDED: tuple[tuple[type[object], str, type[Exception]], ...] = (
    (Screen, "_compositor", AttributeError),
    (compositor.Compositor, "_render_chops", RuntimeError),
    (compositor.ChopsUpdate, "spans", AttributeError),
    (compositor.LayoutUpdate, "strips", RuntimeError),
    (compositor.LayoutUpdate, "region", AttributeError),
    (Widget, "_scroll_update", AttributeError),
    (Widget, "_scroll_update", TypeError),
    (Screen, "_on_timer_update", TypeError),
    (Screen, "_dirty_widgets", AttributeError),
    (Widget, "_repaint_required", AttributeError),
    (Widget, "_layout_required", AttributeError),
)


Usual = tuple[int, str]


@pytest.fixture(scope="module")
def usual(small_library: Library, tmp_path_factory: pytest.TempPathFactory) -> Usual:
    """How much is sent, and what is shown, where all parts are there."""
    with Store(tmp_path_factory.mktemp("usual") / "calls.db") as store:
        app, text = asyncio.run(shown(small_library, store))
    assert app.is_sparing
    return app.amount, text


@pytest.mark.parametrize(("kind", "name", "error"), GUARDED)
def test_the_call_goes_on_without_a_part(
    kind: type[object],
    name: str,
    error: type[Exception],
    small_library: Library,
    store: Store,
    usual: Usual,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The same screen, on the terminal too, as with the part; without sparing more is sent."""
    monkeypatch.setattr(kind, name, Guarded(vars(kind).get(name), name, error), raising=False)
    app, without = asyncio.run(shown(small_library, store))
    assert without == usual[1]
    assert app.is_sparing == (kind in (Screen, Widget) and name != "_compositor")
    assert app.is_sparing or app.amount > usual[0]


def test_the_call_goes_on_where_updates_are_of_other_kinds(
    small_library: Library, store: Store, usual: Usual, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Their names are looked up when an update is sent; where they are unknown, it is sent as it is."""
    monkeypatch.setitem(sys.modules, "textual._compositor", None)
    app, without = asyncio.run(shown(small_library, store))
    assert without == usual[1]
    assert not app.is_sparing


def test_the_call_goes_on_where_the_room_is_told_later(
    small_library: Library, store: Store, usual: Usual, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where Textual has no such moment any more, the column takes its room from the resize."""
    monkeypatch.delattr(Column, "_size_updated")
    _, without = asyncio.run(shown(small_library, store))
    assert without == usual[1]


def test_the_call_goes_on_where_updates_are_sent_elsewhere(
    small_library: Library, store: Store, usual: Usual, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where Textual sends its updates without asking, they go out whole."""
    monkeypatch.delattr("assistant.tui.app.LookApp._display")
    app, without = asyncio.run(shown(small_library, store))
    assert without == usual[1]
    assert app.amount > usual[0]


def test_every_part_is_named_in_one_place() -> None:
    """What is private in Textual and used here stands in one table, and nothing else does."""
    kinds = (Widget, App, Screen, ScrollView, Input, OptionList, compositor.Compositor)
    private = {
        name for kind in kinds for base in kind.__mro__ for name in vars(base) if name[0] == "_" and name[:2] != "__"
    }
    instance = {"_compositor", "_filters", "_repaint_required", "_layout_required", "_dirty_widgets"}
    found = set()
    for path in Path(str(tui.__file__)).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.ImportFrom(module=str(module)) if module.startswith(("textual", "rich")) and "._" in module:
                    found.add(module)
                case ast.Attribute(attr=name) | ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name):
                    found |= {name} & (private | instance)
    assert found == set(PARTS)
