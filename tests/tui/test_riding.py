"""Riding along in the chat."""

from assistant.call.library import Library
from assistant.store.store import Store
from assistant.tui.app import chat_app
from tests.tui.driving import TO_THE_FEED, asked, chat, enter, news
from tests.tui.screens import assert_snapshot, screen_text


async def test_the_screen_tells_no_number_before_it_is_guessed(small_library: Library, store: Store) -> None:
    """Neither the transcript nor the panel nor the pictures do; the guess and its judgement stay on the record."""
    app = chat_app(small_library, store, ride=True)
    async with app.run_test(size=(120, 36)) as pilot:
        await pilot.pause()
        assert news(pilot).startswith("Riding along")
        await enter(pilot, *TO_THE_FEED, "118", "80")
        assert asked(pilot) == "guess superheat"
        assert "WORKED NUMBERS" not in screen_text(app)
        await pilot.press("f11")
        await pilot.pause()
        assert news(pilot).startswith("That would tell")
        assert_snapshot(app, "guess_120x36")
        await enter(pilot, "3")
        shown = screen_text(app)
        assert "* RIGHT" in shown
        assert "= Superheat at the outdoor unit: 40.2" in shown
        assert chat(pilot).session.number is not None
        assert not [answer for answer in store.answers(1) if answer.name.startswith("guess")]
