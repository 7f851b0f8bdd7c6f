"""The page of pictures."""

import threading

import pytest

from assistant.call.pictured import pictures_of
from assistant.pictures import vapour
from assistant.pictures.album import find_wanted
from assistant.pictures.cells import ASCII, UNICODE
from assistant.pictures.vapour import Wanted, work_here
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.pictures import PicturePage, signs_for
from assistant.tui.widgets.edges import KeyBar
from tests.tui.conftest import Opened
from tests.tui.driving import TO_THE_FEED, Chat, asked, chat, enter
from tests.tui.screens import assert_settles, screen_text

READ = (*TO_THE_FEED, "118", "62")
"""Replies up to the worked superheat, so that a state waits for the equation of state."""


async def open_pictures(pilot: Chat) -> PicturePage:
    """The page, its superheated states known beforehand."""
    screen = chat(pilot)
    lacking = find_wanted(pictures_of(screen.session.conversation, {}))
    screen._vapours.known.update(work_here(lacking))
    await pilot.press("f11")
    await pilot.pause()
    page = pilot.app.screen
    assert isinstance(page, PicturePage)
    return page


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 36), (60, 20)])
async def test_the_pages_are_as_stored(opened: Opened, width: int, height: int) -> None:
    """The chart, the balance and the scales, and the chart in words."""
    async with opened(width, height, after=READ) as pilot:
        await open_pictures(pilot)
        for name in ("cycle", "valve", "doubt"):
            await assert_settles(pilot, f"picture_{name}_{width}x{height}")
            await pilot.press("right")
            await pilot.pause()
        await pilot.press("w")
        await pilot.pause()
        await assert_settles(pilot, f"picture_words_{width}x{height}")


@pytest.mark.parametrize("leave", ["escape", "f11", "ctrl+p"])
async def test_f11_opens_the_pictures_and_closes_them(opened: Opened, leave: str) -> None:
    """The call stands as it was."""
    async with opened(after=READ) as pilot:
        await open_pictures(pilot)
        await pilot.press(leave)
        await pilot.pause()
        assert isinstance(pilot.app.screen, ChatScreen)


async def test_the_word_opens_them_too(opened: Opened) -> None:
    """As it is typed in the line mode."""
    async with opened(after=TO_THE_FEED) as pilot:
        await enter(pilot, "picture")
        assert isinstance(pilot.app.screen, PicturePage)
        await pilot.press("escape")
        await pilot.pause()
        assert asked(pilot) == "suction_pressure"
        assert chat(pilot).reply.value == ""


async def test_left_and_right_turn_over_round_and_round(opened: Opened) -> None:
    """Space goes on as well, as it is the largest key."""
    async with opened(after=READ) as pilot:
        await open_pictures(pilot)
        for key, number in (("right", 2), ("space", 3), ("right", 1), ("left", 3), ("left", 2)):
            await pilot.press(key)
            await pilot.pause()
            assert f" {number} of 3  " in screen_text(pilot.app)


async def test_w_says_the_picture_and_a_draws_it_in_ascii(opened: Opened) -> None:
    """Pressed again, each goes back."""
    async with opened(after=READ) as pilot:
        await open_pictures(pilot)
        for key, sign in (("w", "Suction pressure: 118.0 psig."), ("a", "118 +- - -")):
            before = screen_text(pilot.app)
            await pilot.press(key)
            await pilot.pause()
            assert sign in screen_text(pilot.app)
            await pilot.press(key)
            await pilot.pause()
            assert screen_text(pilot.app) == before


async def test_the_keys_can_be_clicked(opened: Opened) -> None:
    """The first of the bar is the picture before."""
    async with opened(after=READ) as pilot:
        await open_pictures(pilot)
        await pilot.click(KeyBar, offset=(2, 0))
        await pilot.pause()
        assert " 3 of 3  " in screen_text(pilot.app)


async def test_a_resize_draws_anew(opened: Opened) -> None:
    """From a narrow terminal to a wide one and back, nothing is cut."""
    async with opened(60, 20, after=READ) as pilot:
        await open_pictures(pilot)
        before = screen_text(pilot.app)
        await pilot.resize_terminal(200, 60)
        await pilot.pause()
        wide = screen_text(pilot.app)
        assert max(map(len, wide.splitlines())) > 120
        await pilot.resize_terminal(60, 20)
        await pilot.pause()
        assert screen_text(pilot.app) == before


async def test_a_picture_longer_than_the_page_scrolls(opened: Opened) -> None:
    """Up, down and the page keys move it; turning over begins at the top."""
    async with opened(60, 20, after=READ) as pilot:
        await open_pictures(pilot)
        await pilot.press("right")
        await pilot.pause()
        assert "How far the pin" not in screen_text(pilot.app)
        await pilot.press("end")
        await pilot.pause()
        assert "How far the pin" in " ".join(screen_text(pilot.app).split())
        await pilot.press("right")
        await pilot.pause()
        assert screen_text(pilot.app).splitlines()[1].startswith(" superheat")


async def test_superheated_states_come_in_by_themselves(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    """The page is there at once with what is known, and is drawn anew when the other process has answered."""
    # That process gives way to all others: on a machine with much to do it may take minutes.
    monkeypatch.setattr(vapour, "PATIENCE", 300.0)
    async with opened(after=READ) as pilot:
        await pilot.press("f11")
        await pilot.pause()
        assert "Superheated states are being worked" in screen_text(pilot.app)
        await written_on(pilot, "1 suction line: 118.0 psig and 62.0 °F")
        assert "being worked" not in screen_text(pilot.app)


async def test_what_was_worked_is_kept_for_the_next_look(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    """Opening the page again starts no second process; the first one goes on when the page is closed."""
    started: list[tuple[Wanted, ...]] = []
    release = threading.Event()

    def slow(states: tuple[Wanted, ...], is_cancelled: object) -> dict[Wanted, float | str]:
        started.append(states)
        release.wait(10)
        return work_here(states)

    monkeypatch.setattr("assistant.tui.screens.pictures.work_apart", slow)
    async with opened(after=READ) as pilot:
        for _ in range(2):
            await pilot.press("f11")
            await pilot.pause()
            await pilot.press("escape")
            await pilot.pause()
        release.set()
        await pilot.press("f11")
        for _ in range(300):
            await pilot.pause(0.02)
            if "1 suction line: 118.0" in screen_text(pilot.app):
                break
        assert "1 suction line: 118.0" in screen_text(pilot.app)
        assert len(started) == 1


async def test_a_worker_that_fails_says_so_on_the_page(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever goes wrong beside the page stands on it; what is known is drawn, and the call goes on."""

    def broken(states: tuple[Wanted, ...], is_cancelled: object) -> dict[Wanted, float | str]:
        raise MemoryError("no room")

    monkeypatch.setattr("assistant.tui.screens.pictures.work_apart", broken)
    async with opened(after=READ) as pilot:
        await pilot.press("f11")
        await written_on(pilot, "gave no answer: no room")
        assert "being worked" not in screen_text(pilot.app)


async def written_on(pilot: Chat, words: str) -> None:
    """Wait until some words stand on the screen."""
    for _ in range(6000):
        if words in " ".join(screen_text(pilot.app).split()):
            return
        await pilot.pause(0.05)
    raise AssertionError(screen_text(pilot.app))


async def test_before_anything_is_known_the_page_says_so(opened: Opened) -> None:
    """No refrigerant, no chart; no decision, no scale."""
    async with opened() as pilot:
        await pilot.press("f11")
        await pilot.pause()
        assert "The refrigerant was not told" in screen_text(pilot.app)
        await pilot.press("left")
        await pilot.pause()
        assert "No decision has compared" in screen_text(pilot.app)


async def test_work_shows_the_limit_that_decided(opened: Opened) -> None:
    """Under the work of superheat stands its scale; nothing of it is wrapped at 80 columns."""
    async with opened(after=READ) as pilot:
        await enter(pilot, "work superheat")
        lines = [line.split("│ ")[0] for line in screen_text(pilot.app).splitlines()]
        drawn = [line for line in lines if "┣" in line and "●" in line and "┫" in line]
        assert len(drawn) == 1


def test_terminals_without_the_signs_get_ascii() -> None:
    """The console of Linux has no dots for a curve; another encoding than UTF-8 has none of the signs."""
    assert signs_for("xterm-256color", "utf-8") is UNICODE
    assert signs_for("linux", "utf-8") is ASCII
    assert signs_for("vt220", "UTF-8") is ASCII
    assert signs_for("xterm", "latin-1") is ASCII
