"""What may be typed at the valve bench, and what it answers: for the screen and for the line mode alike."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from assistant.errors import CoilsideError, InputError, OutOfRangeError
from assistant.practice.valve_bench.bench import Turned, balance_by_hand, orifice_flows, rated_settings
from assistant.practice.valve_bench.coil import Settled, settle_all
from assistant.practice.valve_bench.drawing import sweep_rows
from assistant.practice.valve_bench.knobs import (
    AT_RATING,
    BY_HAND,
    EVERY,
    ON_THE_COIL,
    REFRIGERANT,
    Knob,
    knob_leading,
    knob_named,
    set_typed,
    show_setting,
    turn_by_amount,
)
from assistant.practice.valve_bench.sweep import SWEPT, sweep, swept_knob
from assistant.practice.valve_bench.words import (
    FLOW_HEAD,
    balance_lines,
    chosen_lines,
    coil_head,
    coil_rows,
    flow_rows,
    knob_line,
    rated_flow,
    verdict_lines,
)
from assistant.quantity import LONGEST_TEXT, UnitSystem, split
from assistant.ranges import range_sentence

_HAND: Final = frozenset({"hand", "by hand"})
_COIL: Final = frozenset({"coil", "on the coil", "the coil"})
_LEAVE: Final = frozenset({"quit", "q", "exit", "leave"})
_SHOW: Final = frozenset({"", "show", "s"})

HELP: Final = (
    "bulb 62F|sets a knob; any unit will do. Also: equalizer, spring, head, subcooling, flash, load, wet bulb",
    "head up 20|turns it by as much; down 20 the other way",
    "R-22|puts another refrigerant on the bench: pressures and spring go to its rating point",
    "hand|bulb and equalizer are held by hand",
    "coil|valve and orifices each run on one coil; turn load or head and see what holds",
    "sweep head|goes through a knob: load, head, wet bulb, subcooling, flash or spring",
    "take|puts bulb and equalizer where the valve on the coil has found them, and goes by hand",
    "rated|turns everything back to the rating point",
    "chosen|says what is chosen and what is left out",
    "show|says everything again",
    "quit|leaves",
)
"""What may be typed, each with what it does behind a bar."""


@dataclass(frozen=True, slots=True)
class Bench:
    """The bench: how everything is turned, whether valve and orifices run on the coil, and the knob of the sweep."""

    turned: Turned
    on_coil: bool = False
    over: str = "load"

    @property
    def knobs(self) -> tuple[Knob, ...]:
        """The knobs that count."""
        return ON_THE_COIL if self.on_coil else BY_HAND


@dataclass(frozen=True, slots=True)
class Said:
    """What a typed line comes to: the bench as it then stands, and what is to be shown of it.

    `news` is a sentence of its own; `wants` names more to show: `state`, `sweep`, `chosen`, `help` or `leave`.
    """

    bench: Bench
    news: str = ""
    wants: str = "state"
    is_problem: bool = False


def understand(bench: Bench, line: str, system: UnitSystem, marked: Knob | None = None) -> Said:
    """Return what a typed line comes to; a value alone is meant for the `marked` knob."""
    words = " ".join(line.casefold().split())
    if len(line) > 2 * LONGEST_TEXT:
        return Said(bench, "That is too long. Type help for what can be typed.", "", True)
    try:
        return _understood(bench, line, words, system, marked)
    except OutOfRangeError as error:
        return Said(bench, range_sentence(error, system), "", True)
    except CoilsideError as error:
        return Said(bench, str(error), "", True)


def _understood(bench: Bench, line: str, words: str, system: UnitSystem, marked: Knob | None) -> Said:
    if words in _LEAVE:
        return Said(bench, wants="leave")
    if words in _SHOW:
        return Said(bench)
    if words in ("help", "?", "h", "chosen"):
        return Said(bench, wants="chosen" if words == "chosen" else "help")
    if words in _HAND or words in _COIL:
        return Said(replace(bench, on_coil=words in _COIL))
    if words == "rated":
        return Said(
            replace(bench, turned=rated_settings(bench.turned.refrigerant)), "Everything is at the rating point."
        )
    if words == "take":
        return Said(take_by_hand(bench), "Bulb and equalizer are where the valve on the coil has found them.")
    if words.split()[0] == "sweep":
        return _to_sweep(bench, words.removeprefix("sweep").strip())
    return _turn_knob(bench, line, system, marked)


def _to_sweep(bench: Bench, over: str) -> Said:
    knob = swept_knob(bench.over) if not over else knob_named(over)
    if knob not in SWEPT:
        raise InputError("A sweep goes over " + list_knobs(SWEPT) + ": such as sweep head.")
    return Said(replace(bench, on_coil=True, over=knob.name), wants="sweep")


def _turn_knob(bench: Bench, line: str, system: UnitSystem, marked: Knob | None) -> Said:
    found = knob_leading(line)
    if found is None:
        if marked is not None and (split(line) is not None or marked.kind is None):
            found = marked, line
        elif split(line) is not None:
            raise InputError(f"Say which knob: such as bulb {line.strip()[:30]}.")
        else:
            found = _as_refrigerant(line)
    knob, value = found
    if not value:
        return Said(bench, f"{knob.title} {show_setting(bench.turned, knob, system)}: {knob.help}.", "")
    way, _, amount = value.partition(" ")
    if way.casefold() in ("up", "down") and amount:
        turned = turn_by_amount(bench.turned, knob, amount, system, 1.0 if way.casefold() == "up" else -1.0)
    else:
        turned = set_typed(bench.turned, knob, value, system)
    if knob is REFRIGERANT:
        return Said(replace(bench, turned=turned), AT_RATING.format(turned.refrigerant))
    news = "" if knob in bench.knobs else f"{knob.title} counts {'by hand' if bench.on_coil else 'on the coil'} only."
    return Said(replace(bench, turned=turned), news)


def _as_refrigerant(line: str) -> tuple[Knob, str]:
    """A line that begins like a refrigerant is one; anything else is not understood."""
    text = line.strip()
    if text[:1].casefold() == "r" and any(sign.isdigit() for sign in text):
        return REFRIGERANT, text
    raise InputError(f"I do not know {text[:30]!r}. Knobs: {list_knobs(EVERY)}. Type help for the rest.")


def list_knobs(knobs: Sequence[Knob]) -> str:
    """Return the knobs by the words that may be typed."""
    return ", ".join(knob.name.replace("_", " ") for knob in knobs)


def take_by_hand(bench: Bench) -> Bench:
    """By hand, with bulb and equalizer where the valve on the coil has found them.

    Raises:
        InputError: it has found no place there.
    """
    found = settle_all(bench.turned)[0]
    if not isinstance(found, Settled):
        raise InputError(f"The valve has found no place on the coil: {found.reason}.")
    turned = replace(bench.turned, bulb=found.outlet, equalizer=found.pressure)
    return replace(bench, turned=turned, on_coil=False)


def heading(bench: Bench) -> str:
    """Return what the bench shows, in a few words."""
    return f"Valve bench, {bench.turned.refrigerant}, {'on one coil' if bench.on_coil else 'held by hand'}"


def state_lines(bench: Bench, system: UnitSystem) -> Iterator[str]:
    """Everything that the bench shows, in lines."""
    turned, rated = bench.turned, rated_flow(bench.turned)
    yield f"{heading(bench)}: {knob_line(turned, bench.knobs, system)}."
    yield ""
    if not bench.on_coil:
        balance = balance_by_hand(turned)
        yield from balance_lines(balance, rated, system)
        yield ""
        yield "Under the same pressures; an orifice knows neither bulb nor spring:"
        yield FLOW_HEAD
        yield from flow_rows(balance, orifice_flows(turned), rated, system)
        return
    found = settle_all(turned)
    yield coil_head()
    yield from coil_rows(found, rated, system)
    yield ""
    yield from verdict_lines(found, system)


def sweep_lines(bench: Bench, system: UnitSystem, width: int, *, is_ascii: bool) -> Iterator[str]:
    """Yield a sweep as a table and a chart."""
    knob = swept_knob(bench.over)
    yield f"Superheat on the coil over {knob.title.lower()}, all else as it stands:"
    yield from sweep_rows(
        tuple(sweep(bench.turned, knob, system)), knob, bench.turned, system, width, is_ascii=is_ascii
    )


def lines_of(said: Said, system: UnitSystem, width: int, *, is_ascii: bool) -> Iterator[str]:
    """Yield what the line mode writes for a typed line.

    Raises:
        PhysicsError: as things are turned, something lies outside the curves.
    """
    if said.news:
        yield said.news
    match said.wants:
        case "state":
            yield from state_lines(said.bench, system)
        case "sweep":
            yield from sweep_lines(said.bench, system, width, is_ascii=is_ascii)
        case "chosen":
            yield from chosen_lines(system)
        case "help":
            for line in HELP:
                word, _, does = line.partition("|")
                yield f"  {word:<12} {does}"
        case _:
            return
