"""The valve bench on the screen."""

from dataclasses import replace

import pytest
from textual.pilot import Pilot

from assistant.pictures.cells import ASCII, UNICODE, Signs
from assistant.practice.valve_bench.bench import Turned, rated_settings
from assistant.practice.valve_bench.talk import Bench
from assistant.quantity import fahrenheit
from assistant.tui.valve_bench_app import BenchHelp, BenchLine, ValveBenchApp, ValveBenchScreen
from assistant.tui.widgets.edges import KeyBar, Notice
from assistant.tui.widgets.knobs import Knobs
from tests.tui.screens import assert_snapshot, screen_text

Hand = Pilot[int | None]
START = replace(rated_settings("R-410A"), bulb=fahrenheit(53.0))
SIZES = [(80, 24), (120, 36), (60, 20)]


def app(on_coil: bool = False, look: str = "dark", signs: Signs = UNICODE) -> ValveBenchApp:
    """The bench at the rating point, the bulb at 53 °F."""
    return ValveBenchApp(Bench(START, on_coil=on_coil), look=look, signs=signs)


def screen(pilot: Hand) -> ValveBenchScreen:
    """The bench, which must be in front."""
    found = pilot.app.screen
    assert isinstance(found, ValveBenchScreen)
    return found


def turned(pilot: Hand) -> Turned:
    """How everything is turned."""
    return screen(pilot).bench.turned


async def enter(pilot: Hand, text: str) -> None:
    """Send a line; it is put there whole, as a paste is."""
    screen(pilot).query_one(BenchLine).write(text)
    await pilot.press("enter")


async def settle(pilot: Hand) -> str:
    """What the screen shows when the sweep is through."""
    await pilot.pause()
    for _ in range(400):
        if not screen(pilot).is_sweeping:
            break
        await pilot.pause(0.05)
    assert not screen(pilot).is_sweeping
    await pilot.pause()
    return screen_text(pilot.app)


@pytest.mark.parametrize(("width", "height"), SIZES)
@pytest.mark.parametrize("on_coil", [False, True], ids=["hand", "coil"])
async def test_the_screen_is_as_stored(on_coil: bool, width: int, height: int) -> None:
    """Held by hand, and on the coil with its chart; the same words without colour."""
    shown = set()
    for look in ("dark",) if width < 80 else ("dark", "none"):
        async with app(on_coil, look).run_test(size=(width, height)) as pilot:
            shown.add(await settle(pilot))
            assert_snapshot(pilot.app, f"valve_{'coil' if on_coil else 'hand'}_{width}x{height}")
    assert len(shown) == 1


async def test_arrows_choose_a_knob_and_turn_it() -> None:
    """Up and down go round; left, right, minus and plus turn by a step, shifted or [ and ] by ten."""
    async with app().run_test(size=(80, 24)) as pilot:
        for key, bulb in (("right", 54), ("+", 55), ("left", 54), ("-", 53), ("shift+right", 63), ("[", 53), ("]", 63)):
            await pilot.press(key)
            await pilot.pause()
            assert turned(pilot).bulb == pytest.approx(fahrenheit(bulb)), key
        assert "OUT OF TRAVEL" in screen_text(pilot.app)
        await pilot.press("up", "right")
        await pilot.pause()
        assert turned(pilot).refrigerant != "R-410A"
        await pilot.press("down", "down", "left")
        await pilot.pause()
        assert "> Equalizer pressure" in screen_text(pilot.app)
        assert turned(pilot).equalizer < rated_settings(turned(pilot).refrigerant).equalizer


async def test_every_key_of_the_footer_does_what_it_says() -> None:
    """Help, the other view, the next sweep, take, rated, the look, and out."""
    async with app().run_test(size=(80, 24)) as pilot:
        await pilot.press("f1")
        await pilot.pause()
        assert isinstance(pilot.app.screen, BenchHelp)
        assert "  bulb 62F     sets a knob" in screen_text(pilot.app)
        await pilot.press("escape")
        await pilot.press("f2")
        assert "on one coil" in await settle(pilot)
        before = screen(pilot).bench.over
        await pilot.press("f3")
        assert "over head pressure" in await settle(pilot)
        assert (before, screen(pilot).bench.over) == ("load", "head")
        await pilot.press("-", "-", "-", "-", "f4")
        await settle(pilot)
        assert not screen(pilot).bench.on_coil
        assert turned(pilot).load == pytest.approx(0.8)
        assert turned(pilot).bulb < fahrenheit(52.0)
        await pilot.press("f5")
        await settle(pilot)
        assert turned(pilot) == rated_settings("R-410A")
        look = screen(pilot).app.theme
        await pilot.press("f8")
        assert screen(pilot).app.theme != look
        await pilot.press("f9")
    assert pilot.app.return_code == 0


async def test_a_value_is_typed_for_the_marked_knob_or_by_name() -> None:
    """Enter takes it; what is refused is said, and stays to be mended."""
    async with app().run_test(size=(80, 24)) as pilot:
        await pilot.press(*"50", "enter")
        await pilot.pause()
        assert turned(pilot).bulb == pytest.approx(fahrenheit(50.0))
        assert "SHUT" in screen_text(pilot.app)
        await enter(pilot, "head 9999")
        await pilot.pause()
        assert "! Head pressure goes from" in screen_text(pilot.app)
        await enter(pilot, "spring 20")
        await pilot.pause()
        assert "> Spring at the seat <    20.0 psi >" in screen_text(pilot.app)
        await pilot.press("ctrl+c")
        await pilot.pause()
        assert "F9, or the word quit" in screen_text(pilot.app)
        await enter(pilot, "R-22")
        await pilot.pause()
        assert turned(pilot).refrigerant == "R-22"
        await enter(pilot, "chosen")
        await pilot.pause()
        assert "1.35" in screen(pilot).query_one(Notice).text
        await enter(pilot, "quit")
    assert pilot.app.return_code == 0


async def test_while_something_is_typed_left_moves_in_it() -> None:
    """And minus is a sign of what is typed."""
    async with app().run_test(size=(80, 24)) as pilot:
        await pilot.press(*"52", "left", *"-", "home", "delete")
        await pilot.pause()
        assert turned(pilot) == START
        assert "> -2" in screen_text(pilot.app)


async def test_the_mouse_turns_knobs() -> None:
    """Clicks on < and >, and the wheel over a knob; a click on its name marks it."""
    for width in (80, 60):
        async with app().run_test(size=(width, 24)) as pilot:
            row = screen_text(pilot.app).splitlines()[1]
            assert row.startswith(" > Bulb temperature")
            await pilot.click(Knobs, offset=(row.index("°F >") + 3, 0))
            await pilot.pause()
            assert turned(pilot).bulb == pytest.approx(fahrenheit(54.0))
            await pilot.click(Knobs, offset=(row.index("<"), 0))
            await pilot.click(Knobs, offset=(5, 1))
            await pilot.pause()
            assert turned(pilot).bulb == pytest.approx(fahrenheit(53.0))
            assert " > Equalizer" in screen_text(pilot.app)
            knobs = screen(pilot).query_one(Knobs)
            knobs.post_message(_wheel(knobs, 5, 2))
            await pilot.pause()
            assert turned(pilot).spring > rated_settings("R-410A").spring


def _wheel(knobs: Knobs, x: int, y: int) -> "object":
    from textual.events import MouseScrollUp

    return MouseScrollUp(knobs, x, y, 0, 0, 0, False, False, False, x + knobs.region.x, y + knobs.region.y)


async def test_a_click_on_the_footer_does_what_the_key_does() -> None:
    """The second key is the other view."""
    async with app().run_test(size=(80, 24)) as pilot:
        row = screen_text(pilot.app).splitlines()[-1]
        await pilot.click(KeyBar, offset=(row.index("F2"), 0))
        assert "on one coil" in await settle(pilot)


async def test_turning_the_swept_knob_moves_the_line_and_sweeps_nothing_anew() -> None:
    """What the chart shows is the same; turning anything else works it again."""
    async with app(on_coil=True).run_test(size=(120, 36)) as pilot:
        await settle(pilot)
        before = screen(pilot)._swept
        await pilot.press("left")
        await settle(pilot)
        assert screen(pilot)._swept is before
        await pilot.press("down", "down", "left")
        await settle(pilot)
        assert screen(pilot)._swept != before
        assert len(screen(pilot)._swept) == len(before)


async def test_a_resize_lays_out_anew() -> None:
    """From the smallest to the largest and back nothing is cut, and it looks as before."""
    async with app(on_coil=True).run_test(size=(60, 20)) as pilot:
        before = await settle(pilot)
        await pilot.resize_terminal(200, 60)
        await pilot.pause()
        assert "Btu/h" in screen_text(pilot.app)
        await pilot.resize_terminal(60, 20)
        await pilot.pause()
        assert screen_text(pilot.app) == before


async def test_what_does_not_fit_is_scrolled_to() -> None:
    """On a small screen the page keys show the orifices below the balance."""
    async with app().run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        assert "large orifice" not in screen_text(pilot.app)
        await pilot.press("pagedown", "pagedown")
        await pilot.pause()
        assert "large orifice" in screen_text(pilot.app)
        await pilot.press("pageup", "pageup")
        await pilot.pause()
        assert "OPENS" in screen_text(pilot.app)


async def test_plain_characters_where_the_terminal_has_no_others() -> None:
    """Beside the degree sign nothing but ASCII is drawn."""
    async with app(signs=ASCII).run_test(size=(120, 36)) as pilot:
        await pilot.pause()
        assert screen_text(pilot.app).replace("°", "").isascii()
