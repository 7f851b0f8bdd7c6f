"""All facts of a system on one screen, and those of an earlier call taken over."""

import pytest

from assistant.call.library import Library
from assistant.catalogue.catalogue import Catalogue
from assistant.session.session import Rejected, Session
from assistant.session.system import facts_of, tellable
from assistant.store.store import Store
from assistant.tui.app import chat_app
from assistant.tui.screens.system import SystemPage
from assistant.tui.widgets.chooser import Chooser
from assistant.tui.widgets.edges import KeyBar, Notice
from tests.answering import answer, kept, written
from tests.tui.conftest import Opened
from tests.tui.driving import START, Chat, asked, chat, enter, news
from tests.tui.screens import assert_snapshot, screen_text

BEGUN = ("warm air", "")


def page(pilot: Chat) -> SystemPage:
    """The page, which must be in front."""
    assert isinstance(pilot.app.screen, SystemPage)
    return pilot.app.screen


def told(pilot: Chat) -> dict[str, str]:
    """What the call holds of its system."""
    return {answer.name: answer.text for answer in chat(pilot).session.answers}


async def test_the_facts_are_told_on_one_screen(opened: Opened) -> None:
    """In any order and spelling; what was told is not asked, and is on disk as any answer."""
    async with opened(after=BEGUN) as pilot:
        await pilot.press("f10")
        await pilot.pause()
        assert_snapshot(pilot.app, "system_80x24")
        await pilot.press(*"410a", "enter", *"txv", "enter", *"1600 m", "enter")
        await pilot.pause()
        assert_snapshot(pilot.app, "system_told_80x24")
        await pilot.press("f10")
        await pilot.pause()
        assert told(pilot) | {"complaint": "", "tree": ""} == {
            "complaint": "",
            "tree": "",
            "refrigerant": "R-410A",
            "metering_device": "txv",
            "altitude": "1600 m",
        }
        assert asked(pilot) == "caution moving_parts @ airflow"
        store, number = chat(pilot).session.store, chat(pilot).session.number
        assert store is not None
        assert number is not None
        assert store.answers(number) == kept(chat(pilot).session.answers)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 36), (200, 60)], ids=lambda size: f"{size[0]}x{size[1]}")
async def test_the_screen_fits(library: Library, store: Store, size: tuple[int, int]) -> None:
    """The marked row, its question and the reply line are in view at each size, whichever it is."""
    async with chat_app(library, store).run_test(size=size) as pilot:
        await pilot.press("f10")
        await pilot.pause()
        for _ in range(len(page(pilot)._names) + 1):
            await pilot.press("down")
            await pilot.pause()
            shown = screen_text(pilot.app).splitlines()
            assert sum(line.startswith(" > ") for line in shown[1:-4]) == 1
            assert sum(line.startswith(" >") for line in shown[-4:]) == 1
            name = page(pilot)._marked
            if name is not None:
                assert page(pilot)._prompts[name].question[:50] in " ".join(" ".join(shown).split())


async def test_a_wrong_value_is_said_and_kept_to_be_mended(opened: Opened) -> None:
    """Nothing is passed over: neither by Enter nor by the key that goes on."""
    async with opened(after=BEGUN) as pilot:
        await pilot.press("f10")
        await pilot.pause()
        await pilot.press(*"r99", "enter")
        await pilot.pause()
        assert page(pilot).query_one(Notice).is_problem
        assert page(pilot)._marked == "refrigerant"
        await pilot.press("f10")
        await pilot.pause()
        assert page(pilot).query_one(Notice).text == "Enter sets what is typed, Esc leaves everything."
        await pilot.press(*"22", "enter", "f10")
        await pilot.pause()
        assert told(pilot)["refrigerant"] == "R-22"


async def test_escape_takes_nothing(opened: Opened) -> None:
    """As its words in the key bar say."""
    async with opened(after=BEGUN) as pilot:
        await pilot.press("f10")
        await pilot.pause()
        await pilot.press(*"410a", "enter", "escape")
        await pilot.pause()
        assert "refrigerant" not in told(pilot)


async def test_the_last_row_and_a_click_on_it_go_on(opened: Opened) -> None:
    """As F10 does; a click on another row marks it."""
    async with opened(after=BEGUN) as pilot:
        for how in ("key", "mouse"):
            await enter(pilot, "system")
            await pilot.click(Chooser, offset=(5, 2))
            await pilot.pause()
            assert page(pilot)._marked == "altitude"
            await pilot.press(*("900 ft" if how == "key" else "800 ft"), "enter")
            last = len(page(pilot)._names)
            if how == "key":
                await pilot.press("enter")
            else:
                await pilot.click(Chooser, offset=(5, last))
            await pilot.pause()
            assert told(pilot)["altitude"] == ("900 ft" if how == "key" else "800 ft")


async def test_every_key_of_the_bar_is_one_that_is_tested() -> None:
    """A new key of this page needs a test here."""
    assert [key.key for key in SystemPage.BINDINGS] == ["enter", "f10", "f4", "escape"]


async def test_a_click_on_a_key_is_the_key(opened: Opened) -> None:
    """The first sets what is typed, or goes to the next row."""
    async with opened(after=BEGUN) as pilot:
        await pilot.press("f10")
        await pilot.pause()
        await pilot.click(KeyBar, offset=(2, 0))
        await pilot.pause()
        assert page(pilot)._marked == "metering_device"


async def test_the_last_call_on_the_equipment_is_taken_over(opened: Opened) -> None:
    """It is offered with all that it tells, and taken by a word; on the page a key does it."""
    async with opened(after=START):
        pass
    async with opened(after=BEGUN) as pilot:
        await enter(pilot, "back", "1")
        shown = news(pilot)
        assert shown.startswith("Same system as on call 1 (warm air, ")
        assert shown.endswith("R-410A, expansion valve with a bulb, altitude 0 ft? Type same to take that over.")
        await pilot.press("f10")
        await pilot.pause()
        await pilot.press("f4")
        await pilot.pause()
        assert page(pilot)._marked is None
        assert page(pilot).query_one(Notice).text == "As on call 1. Check it against the data plate."
        await pilot.press("escape")
        await pilot.pause()
        await enter(pilot, "same")
        assert news(pilot).startswith("As on call 1: R-410A, ")
        assert asked(pilot) == "caution moving_parts @ airflow"


def test_heating_or_cooling_is_not_of_the_equipment(catalogue: Catalogue) -> None:
    """The same heat pump is called for in summer and winter; nor are the tech's instruments of it."""
    answers = [written("mode", "heating"), written("refrigerant", "R-22"), written("pressure_accuracy", "1 psi")]
    answers += [written("altitude", "cannot tell"), written("metering_device", "no such thing")]
    assert facts_of(answers, catalogue) == (answer("refrigerant", "R-22"),)


async def test_what_was_said_on_this_call_stays(opened: Opened) -> None:
    """Taking over fills gaps only."""
    async with opened(after=START):
        pass
    async with opened(after=(*BEGUN, "22")) as pilot:
        await enter(pilot, "same")
        assert told(pilot)["refrigerant"] == "R-22"
        assert told(pilot)["metering_device"] == "txv"
        await enter(pilot, "same", "same 7", "same house")
        assert news(pilot).startswith("Type same, or same with the number of a call")


async def test_what_the_tree_settles_is_not_asked(library: Library, store: Store) -> None:
    """A tree for cooling knows the mode; before a tree is chosen, it can be told."""
    session = Session(library, store)
    assert "mode" in tellable(session.conversation)
    session.say("not cooling")
    session.say("poor_cooling")
    assert "mode" not in tellable(session.conversation)
    assert isinstance(session.say("system mode heating"), Rejected)


async def test_without_an_earlier_call_nothing_is_offered(opened: Opened) -> None:
    """The key is not in the bar, and pressed all the same it says why."""
    async with opened(after=BEGUN) as pilot:
        await enter(pilot, "same")
        assert news(pilot) == "No earlier call tells anything of a system."
        await pilot.press("f10")
        await pilot.pause()
        assert "F4" not in screen_text(pilot.app)
        await pilot.press("f4")
        await pilot.pause()
        assert page(pilot).query_one(Notice).text == "No earlier call tells anything of a system."
