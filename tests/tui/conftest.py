"""A small library of its own, so that edits of the shipped trees do not move these tests."""

from collections.abc import Iterator, Sequence
from contextlib import AbstractAsyncContextManager
from dataclasses import replace
from pathlib import Path
from typing import Protocol

import pytest
import textual.app
import textual.pilot
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
from textual.pilot import Pilot

from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.loading import load_catalogue
from assistant.session.session import Accepted, Session
from assistant.store.store import Store
from assistant.tree.reader import read_tree
from assistant.tui.app import chat_app
from assistant.tui.screens.chat import ChatScreen
from tests.tui.idle import wait_for_idle

CONTENT = Path(__file__).parent / "content"


@pytest.fixture(scope="session", autouse=True)
def _styles_parsed_once() -> Iterator[None]:
    """A style sheet with the same variables is the same rules in every application that the tests start."""
    parse_rules = Stylesheet._parse_rules
    parsed: dict[tuple[object, ...], list[RuleSet]] = {}

    def parse_once(
        self: Stylesheet,
        css: str,
        read_from: CSSLocation,
        is_default_rules: bool = False,
        tie_breaker: int = 0,
        scope: str = "",
    ) -> list[RuleSet]:
        key = (css, read_from, is_default_rules, tie_breaker, scope, tuple(sorted(self._variables.items())))
        if key not in parsed:
            parsed[key] = parse_rules(self, css, read_from, is_default_rules, tie_breaker, scope)
        return list(parsed[key])

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Stylesheet, "_parse_rules", parse_once)
        yield


@pytest.fixture(scope="session", autouse=True)
def _nothing_beside_the_call() -> Iterator[None]:
    """The second opinion comes in when it is worked: what these tests hold must not hang on when that is."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(ChatScreen, "weighs", False)
        yield


@pytest.fixture(scope="session", autouse=True)
def _no_longer_than_needed() -> Iterator[None]:
    """The pilot goes on as soon as an application has nothing left to do."""
    with pytest.MonkeyPatch.context() as patch:
        for module in (textual.app, textual.pilot):
            patch.setattr(module, "wait_for_idle", wait_for_idle)
        yield


@pytest.fixture(scope="session")
def small_library(catalogue: Catalogue) -> Library:
    """One short tree; the worked numbers are the shipped ones, as every formula needs its entry."""
    own, problems = load_catalogue(CONTENT / "catalogue")
    assert [problem for problem in problems if "numbers.yaml" not in problem.place.path] == []
    tree, problems = read_tree(CONTENT / "weak_cooling.yaml")
    assert tree is not None
    assert problems == []
    return Library(replace(own, numbers=catalogue.numbers), {tree.name: tree})


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "calls.db") as opened:
        yield opened


class Opened(Protocol):
    """Opens the chat in a terminal of a size, with replies given before, or with call `number`."""

    def __call__(
        self,
        width: int = 80,
        height: int = 24,
        *,
        after: Sequence[str] = (),
        number: int | None = None,
        look: str = "dark",
    ) -> AbstractAsyncContextManager[Pilot[int | None]]: ...


@pytest.fixture
def opened(small_library: Library, store: Store) -> Opened:
    def open_chat(
        width: int = 80, height: int = 24, *, after: Sequence[str] = (), number: int | None = None, look: str = "dark"
    ) -> AbstractAsyncContextManager[Pilot[int | None]]:
        if after:
            session = Session(small_library, store)
            for reply in after:
                assert isinstance(session.say(reply), Accepted)
            number = session.number
        return chat_app(small_library, store, number=number, look=look).run_test(size=(width, height))

    return open_chat
