"""Every key of every screen, with what it does: what comes onto the screen, or what goes from it.

The keys of one `Walk` are pressed one after the other in one application, as a hand would.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from textual.app import App
from textual.screen import Screen

from assistant.author.attempt import attempt
from assistant.author.watching import Watch
from assistant.call.library import Library
from assistant.call.replay import Replay
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.valve_bench.bench import rated_settings
from assistant.practice.valve_bench.talk import Bench
from assistant.session.session import Accepted, Session
from assistant.store.store import Store
from assistant.tui.app import LookApp, chat_app
from assistant.tui.practice_app import PracticeApp, PracticeScreen, ReviewPage
from assistant.tui.replay_app import ReplayApp, ReplayScreen
from assistant.tui.screens.change import ChangePage
from assistant.tui.screens.chat import ChatScreen
from assistant.tui.screens.jump import JumpPage
from assistant.tui.screens.pages import HelpPage
from assistant.tui.screens.pick_up import PickUpScreen
from assistant.tui.screens.pictures import PicturePage
from assistant.tui.screens.system import SystemPage
from assistant.tui.trial_app import TrialApp, TrialScreen, WaitScreen
from assistant.tui.valve_bench_app import BenchHelp, ValveBenchApp, ValveBenchScreen
from tests.author.conftest import edit, folder_of_small
from tests.practice.site import call_with
from tests.tui.driving import START, TO_THE_FEED


@dataclass(frozen=True)
class Key:
    """A key of a screen: after it `shows` is there and was not before, `hides` the other way round, or all `ends`.

    `first` are the keys to get there, `then` those to get back, which are no part of the claim.
    """

    key: str
    on: type[Screen[object]]
    shows: str = ""
    hides: str = ""
    ends: bool = False
    first: tuple[str, ...] = ()
    then: tuple[str, ...] = ()


@dataclass(frozen=True)
class Place:
    """What a walk may open: the small library, the shipped one, a record, and a folder of its own."""

    small: Library
    library: Library
    store: Store
    folder: Path


@dataclass(frozen=True)
class Walk:
    """Keys pressed in one application, and what opens it."""

    opens: Callable[[Place], App[int | None]]
    keys: tuple[Key, ...]


def _after(place: Place, *replies: str) -> Session:
    session = Session(place.small, place.store)
    for reply in replies:
        assert isinstance(session.say(reply), Accepted)
    return session


def _chat(place: Place) -> LookApp:
    _after(place, *START)
    return chat_app(place.small, place.store, number=_after(place, *TO_THE_FEED, "118").number)


def _system(place: Place) -> LookApp:
    _after(place, *START)
    return chat_app(place.small, place.store, number=_after(place, "warm air", "").number)


def _open_calls(place: Place) -> LookApp:
    _after(place, *START)
    return chat_app(place.small, place.store)


def _replay(place: Place) -> LookApp:
    return ReplayApp(Replay(place.small, _after(place, *TO_THE_FEED, "118", "45").answers), "too warm")


def _trial(place: Place) -> LookApp:
    file = folder_of_small(place.folder) / "small.yaml"
    return TrialApp(attempt(file), Watch([file.parent]))


def _broken(place: Place) -> LookApp:
    file = folder_of_small(place.folder) / "small.yaml"
    edit(file, "superheat > limits.high_superheat", "superheat > 25")
    return TrialApp(attempt(file), Watch([file.parent]))


def _practice(place: Place) -> LookApp:
    return PracticeApp(PracticeCall.start_of(place.library, place.store, call_with("undercharge")))


def _practice_over(place: Place) -> LookApp:
    session = PracticeCall.start_of(place.library, place.store, call_with("undercharge"))
    for reply in ("", "give up", "yes"):
        if not session.is_over:
            session.say(reply)
    return PracticeApp(session)


def _bench(place: Place) -> LookApp:
    return ValveBenchApp(Bench(rated_settings("R-410A")))


_PICTURE = "2 of 3"
_AT_THE_CHAT = (
    Key("f1", ChatScreen, shows="Words you can type"),
    Key("f1", HelpPage, hides="Words you can type"),
    Key("escape", HelpPage, hides="Words you can type", first=("f1",)),
    Key("enter", HelpPage, hides="Words you can type", first=("f1",)),
    Key("f2", ChatScreen, shows="Why this is asked"),
    Key("escape", ChatScreen, hides="Why this is asked"),
    Key("f3", ChatScreen, shows="The work", then=("escape",)),
    Key("f6", ChatScreen, shows="Which answer do you want to change?"),
    Key("escape", ChangePage, hides="Which answer do you want to change?"),
    Key("enter", ChangePage, shows="CHANGING an earlier answer", first=("f6",), then=("escape",)),
    Key("f7", ChatScreen, hides="READINGS", then=("f7",)),
    Key("f8", ChatScreen, shows="Look: light"),
    Key("f10", ChatScreen, shows="The system: what stays the same", then=("escape",)),
    Key("f11", ChatScreen, shows="1 of 3"),
    Key("escape", PicturePage, hides="1 of 3"),
    Key("ctrl+p", ChatScreen, shows="1 of 3"),
    Key("ctrl+p", PicturePage, hides="1 of 3"),
    Key("f11", PicturePage, hides="1 of 3", first=("f11",)),
    Key("right", PicturePage, shows=_PICTURE, first=("f11",)),
    Key("left", PicturePage, hides=_PICTURE),
    Key("space", PicturePage, shows=_PICTURE),
    Key("a", PicturePage, hides="━"),
    Key("w", PicturePage, hides="equalizer:", then=("escape",)),
    Key("f12", ChatScreen, shows="An opinion needs", then=("escape",)),
    Key("ctrl+o", ChatScreen, shows="An opinion needs", then=("escape",)),
    Key("pageup", ChatScreen, shows="more below"),
    Key("pagedown", ChatScreen, hides="more below"),
    Key("f5", ChatScreen, hides="> 118 psig"),
    Key("f4", ChatScreen, shows="UNDECIDED"),
    Key("f9", ChatScreen, ends=True),
)
_AT_THE_SYSTEM = (
    Key("f4", SystemPage, shows="As on call 1. Check it", first=("f10",), then=("escape",)),
    Key("enter", SystemPage, hides="\n > Refrigerant", first=("f10",)),
    Key("escape", SystemPage, hides="The system: what stays the same"),
    Key("f10", SystemPage, hides="The system: what stays the same", first=("f10",)),
)
_AT_THE_REPLAY = (
    Key("right", ReplayScreen, shows="step 1 of 9"),
    Key("enter", ReplayScreen, shows="step 2 of 9"),
    Key("space", ReplayScreen, shows="step 3 of 9"),
    Key("n", ReplayScreen, shows="step 4 of 9"),
    Key("left", ReplayScreen, shows="step 3 of 9"),
    Key("backspace", ReplayScreen, shows="step 2 of 9"),
    Key("b", ReplayScreen, shows="step 1 of 9"),
    Key("end", ReplayScreen, shows="step 9 of 9"),
    Key("f3", ReplayScreen, shows="The work", then=("left", "right")),
    Key("w", ReplayScreen, shows="The work", then=("left", "right")),
    Key("f7", ReplayScreen, hides="READINGS", then=("f7",)),
    Key("f8", ReplayScreen, shows="Look: light"),
    Key("pageup", ReplayScreen, hides="The call ends here"),
    Key("pagedown", ReplayScreen, shows="The call ends here"),
    Key("up", ReplayScreen, hides="The call ends here"),
    Key("down", ReplayScreen, shows="The call ends here"),
    Key("home", ReplayScreen, shows="step 0 of 9"),
    Key("f9", ReplayScreen, ends=True),
)
_AT_THE_TRIAL = (
    Key("f10", TrialScreen, shows="At which node shall the call begin?"),
    Key("escape", JumpPage, hides="At which node shall the call begin?"),
    Key("ctrl+g", TrialScreen, shows="At which node shall the call begin?"),
    Key("enter", JumpPage, shows="Begun at", first=("down",)),
)
_AT_THE_BENCH = (
    Key("f1", ValveBenchScreen, shows="This page"),
    Key("f1", BenchHelp, hides="This page"),
    Key("escape", BenchHelp, hides="This page", first=("f1",)),
    Key("enter", BenchHelp, hides="This page", first=("f1",)),
    Key("right", ValveBenchScreen, hides="54.0 °F >"),
    Key("left", ValveBenchScreen, shows="54.0 °F >"),
    Key("shift+right", ValveBenchScreen, hides="54.0 °F >"),
    Key("shift+left", ValveBenchScreen, shows="54.0 °F >"),
    Key("down", ValveBenchScreen, shows="\n > Equalizer pressure"),
    Key("up", ValveBenchScreen, shows="\n > Bulb temperature"),
    Key("f5", ValveBenchScreen, shows="54.0 °F >", first=("right",)),
    Key("f8", ValveBenchScreen, shows="Look: light"),
    Key("pagedown", ValveBenchScreen, hides="CLOSES equalizer"),
    Key("pageup", ValveBenchScreen, shows="CLOSES equalizer"),
    Key("f2", ValveBenchScreen, hides="held by hand"),
    Key("f3", ValveBenchScreen, hides="over load, %"),
    Key("f4", ValveBenchScreen, shows="held by hand"),
    Key("f9", ValveBenchScreen, ends=True),
)
WALKS = {
    "chat": Walk(_chat, _AT_THE_CHAT),
    "system": Walk(_system, _AT_THE_SYSTEM),
    "list, enter": Walk(_open_calls, (Key("enter", PickUpScreen, hides="1 open call"),)),
    "list, n": Walk(_open_calls, (Key("n", PickUpScreen, hides="1 open call"),)),
    "list, f9": Walk(_open_calls, (Key("f9", PickUpScreen, ends=True),)),
    "list, q": Walk(_open_calls, (Key("q", PickUpScreen, ends=True),)),
    "replay": Walk(_replay, _AT_THE_REPLAY),
    "replay, q": Walk(_replay, (Key("q", ReplayScreen, ends=True),)),
    "trial": Walk(_trial, _AT_THE_TRIAL),
    "broken": Walk(_broken, (Key("f9", WaitScreen, ends=True),)),
    "broken, q": Walk(_broken, (Key("q", WaitScreen, ends=True),)),
    "practice": Walk(
        _practice,
        (
            Key("f10", PracticeScreen, shows="The review comes when", then=("escape",)),
            Key("ctrl+r", PracticeScreen, shows="The review comes when"),
        ),
    ),
    "practice over": Walk(
        _practice_over,
        tuple(Key(key, ReviewPage, hides="PRACTICE  review", first=("f10",)) for key in ("escape", "f10", "enter")),
    ),
    "bench": Walk(_bench, _AT_THE_BENCH),
    "bench, escape": Walk(_bench, (Key("escape", ValveBenchScreen, ends=True),)),
}
"""All walks by name."""
