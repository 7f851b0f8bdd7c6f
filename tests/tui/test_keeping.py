"""In the chat: a note, the sheet, another window on the same call, and what is told at the start."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.call.library import Library
from assistant.call.walk import Conversation
from assistant.pictures.vapour import Enthalpies
from assistant.session.session import Session
from assistant.sheet import handing
from assistant.store.store import Store
from assistant.tui.app import chat_app
from assistant.tui.screens.pick_up import PickUpScreen
from tests.tui.conftest import Opened
from tests.tui.driving import START, Chat, asked, chat, enter, news


async def written(pilot: Chat) -> None:
    """Wait for the sheet, which is written while the chat goes on."""
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def test_a_note_is_kept_and_the_question_stays(opened: Opened, store: Store) -> None:
    """The note is on disk as it was typed, and what was asked is still asked."""
    async with opened(after=START) as pilot:
        before = asked(pilot)
        await enter(pilot, "note Photo IMG_0231.JPG: oil at the flare")
        assert [note.text for note in store.notes(1)] == ["Photo IMG_0231.JPG: oil at the flare"]
        assert asked(pilot) == before


async def test_the_sheet_is_written_while_the_call_goes_on(
    opened: Opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The word is answered at once, replies are taken while the pictures are worked, and then the file is there."""
    worked = threading.Event()

    def slowly(_: Conversation) -> Enthalpies:
        assert worked.wait(30)
        return {}

    monkeypatch.setattr(handing, "superheated_states", slowly)
    async with opened(after=START) as pilot:
        await enter(pilot, "sheet")
        assert "being written" in news(pilot)
        await enter(pilot, "ok")
        assert asked(pilot) == "filter_condition"
        assert not (tmp_path / "sheets").exists()
        worked.set()
        await written(pilot)
        text = (tmp_path / "sheets" / "call-1.html").read_text(encoding="utf-8")
        assert text.startswith("<!doctype html>")
        assert chat(pilot).transcript.has_aside


async def test_a_worker_that_fails_says_so(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    """The sheet's pictures, or what is loaded ahead: a sentence on the screen, and the call goes on."""

    def broken(*_: object) -> Enthalpies:
        raise MemoryError("no room")

    monkeypatch.setattr(handing, "superheated_states", broken)
    async with opened(after=START) as pilot:
        await enter(pilot, "sheet")
        await written(pilot)
        assert "That could not be done: no room" in news(pilot)
        await enter(pilot, "ok")
        assert asked(pilot) == "filter_condition"


async def test_a_sheet_of_another_form_is_refused(opened: Opened, tmp_path: Path) -> None:
    """The forms that there are stand on the line above the reply, and no file appears."""
    async with opened(after=START) as pilot:
        await enter(pilot, "sheet pdf")
        assert "text, md, html" in news(pilot)
        assert not (tmp_path / "sheets").exists()


async def test_a_call_that_was_changed_in_another_window(opened: Opened, small_library: Library, store: Store) -> None:
    """The screen shows the call as it stands there, and the reply was not taken."""
    async with opened(after=START) as pilot:
        with Store(store.path) as other:
            assert Session.resume(small_library, other, 1).say("ok")
        await enter(pilot, "back")
        assert "another window" in news(pilot)
        assert [answer.text for answer in store.answers(1)][-1] == "understood"


async def test_changed_trees_are_told_when_a_call_is_picked_up(small_library: Library, store: Store) -> None:
    """The line above the reply names them."""
    session = Session(small_library, store)
    for reply in START:
        session.say(reply)
    trees = {name: replace(tree, version=99) for name, tree in small_library.trees.items()}
    async with chat_app(Library(small_library.catalogue, trees), store, number=1).run_test(size=(80, 24)) as pilot:
        assert "The trees have changed" in news(pilot)


async def test_what_was_done_to_the_record_is_told_at_the_start(small_library: Library, store: Store) -> None:
    """A record that was set aside is told above the first question."""
    app = chat_app(small_library, store, notes=("The record of calls was damaged.",))
    async with app.run_test(size=(80, 24)) as pilot:
        assert "The record of calls was damaged." in news(pilot)


async def test_of_very_many_open_calls_the_last_are_shown(small_library: Library, store: Store) -> None:
    """The heading tells how many there are; the list stays as long as a person reads."""
    for _ in range(130):
        store.new_call()
    async with chat_app(small_library, store).run_test(size=(80, 24)) as pilot:
        screen = pilot.app.screen
        assert isinstance(screen, PickUpScreen)
        heading = str(screen.query("Heading").first().render())
        assert "130 open calls, the last 100 shown" in heading
