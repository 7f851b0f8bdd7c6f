"""What may be typed at the valve bench, and what it says."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.pictures.cells import ASCII, UNICODE, text_of
from assistant.practice.valve_bench.bench import Turned, balance_at, balance_by_hand, orifice_flows, rated_settings
from assistant.practice.valve_bench.coil import VALVE, Settled, settle_device
from assistant.practice.valve_bench.drawing import travel_row, valve_rows
from assistant.practice.valve_bench.knobs import (
    BULB,
    EVERY,
    HEAD,
    LOAD,
    REFRIGERANT,
    bounds,
    show_setting,
    turn_by_steps,
)
from assistant.practice.valve_bench.page import hand_rows
from assistant.practice.valve_bench.sweep import SWEPT, places
from assistant.practice.valve_bench.talk import HELP, Bench, Said, lines_of, understand
from assistant.practice.valve_bench.words import balance_lines, difference, rated_flow
from assistant.quantity import UnitSystem, fahrenheit
from assistant.simulator.plant import RATED_SUPERHEAT

PSI = 6894.757293168
BENCH = Bench(rated_settings("R-410A"))


def said(*lines: str, bench: Bench = BENCH, system: UnitSystem = "us") -> Said:
    """What the last of some lines comes to; those before it must be taken."""
    for line in lines[:-1]:
        found = understand(bench, line, system)
        assert not found.is_problem, found.news
        bench = found.bench
    return understand(bench, lines[-1], system)


def written(*lines: str, system: UnitSystem = "us", width: int = 80, is_ascii: bool = False) -> str:
    """What the line mode writes for the last of some lines."""
    return "\n".join(lines_of(said(*lines, system=system), system, width, is_ascii=is_ascii))


def turned(*lines: str) -> Turned:
    """How everything is turned after some lines, all of which are taken."""
    found = said(*lines)
    assert not found.is_problem, found.news
    return found.bench.turned


@pytest.mark.parametrize(
    "line", ["bulb 62F", "bulb 62", "Bulb = 62 °F", "bulb temperature 62", "BULB:62F", "bulb 16.6667 C"]
)
def test_a_knob_takes_any_unit(line: str) -> None:
    """A bare number is in the unit of the screen."""
    assert turned(line).bulb == pytest.approx(fahrenheit(62.0), abs=1e-3)


def test_a_turn_is_counted_from_where_the_knob_stands() -> None:
    """Up or down by an amount of any unit."""
    assert turned("bulb 50F", "bulb up 9").bulb == pytest.approx(fahrenheit(59.0))
    assert turned("bulb 50F", "bulb DOWN 5 K").bulb == pytest.approx(fahrenheit(41.0))


def test_pressures_and_shares_are_read_as_anywhere_else() -> None:
    """Gauge pressures at sea level, differences as such, the load in percent."""
    assert turned("head 380 psig").head == pytest.approx(380.0 * PSI + 101325.0)
    assert turned("head pressure 394.7psia").head == pytest.approx(394.7 * PSI)
    assert turned("equalizer down 3").equalizer == pytest.approx(BENCH.turned.equalizer - 3.0 * PSI)
    assert turned("spring 20").spring == pytest.approx(20.0 * PSI)
    assert turned("load 60").load == pytest.approx(0.6)
    assert turned("liquid 4 K").subcooling == pytest.approx(4.0)
    assert turned("wet bulb 60F").wet_bulb == pytest.approx(fahrenheit(60.0))


def test_a_refrigerant_is_put_on_by_its_name() -> None:
    """Its pressures and its spring come with it, and that is said."""
    for line in ("R-22", "refrigerant 22", "r22"):
        found = said(line)
        assert found.bench.turned == rated_settings("R-22")
        assert "R-22 at its rating point" in found.news


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("bulb 200F", "Bulb temperature goes from -20.0 °F to 120.0 °F here"),
        ("head 9999", "Head pressure goes from"),
        ("equalizer down 500", "Equalizer pressure goes from"),
        ("bulb warm", "I cannot read"),
        ("bulb 12 psi", "psi is a unit of pressure"),
        ("load lots", "a percentage"),
        ("62F", "Say which knob"),
        ("sesame", "I do not know 'sesame'. Knobs: bulb, equalizer"),
        ("R-999", "no refrigerant called"),
        ("R-134a", "no refrigerant to practise on"),
        ("refrigerant up 1", "chosen by its name"),
        ("sweep bulb", "A sweep goes over load, head"),
        ("bulb " + "9" * 200, "too long"),
    ],
)
def test_what_cannot_be_taken_is_said_and_changes_nothing(line: str, words: str) -> None:
    """One sentence, naming what would fit."""
    found = said(line)
    assert found.is_problem
    assert words in found.news
    assert found.bench == BENCH


@given(
    st.text(max_size=40)
    | st.sampled_from([*EVERY]).flatmap(lambda k: st.text(max_size=20).map(lambda t: f"{k.name} {t}"))
)
def test_any_text_is_answered(text: str) -> None:
    """Never an exception, and where it is refused, with a sentence."""
    found = understand(BENCH, text, "us", BULB)
    assert found.news or not found.is_problem


def test_a_value_alone_is_for_the_marked_knob() -> None:
    """On a screen a knob is marked, so its name need not be typed."""
    assert understand(BENCH, "60", "us", BULB).bench.turned.bulb == pytest.approx(fahrenheit(60.0))
    assert understand(BENCH, "500 psig", "us", HEAD).bench.turned.head == pytest.approx(500.0 * PSI + 101325.0)
    assert understand(BENCH, "32", "us", REFRIGERANT).bench.turned.refrigerant == "R-32"


def test_turns_go_to_whole_steps_and_stop_at_the_end() -> None:
    """From 392.3 psig up to 395, from there by fives; at the end that is said."""
    at = BENCH.turned
    seen = []
    for _ in range(3):
        at, news = turn_by_steps(at, HEAD, 1, "us")
        assert news == ""
        seen.append(show_setting(at, HEAD, "us"))
    assert seen == ["395.0 psig", "400.0 psig", "405.0 psig"]
    at, news = turn_by_steps(at, HEAD, 1000, "us")
    assert at.head == pytest.approx(bounds(at, HEAD)[1])
    assert "goes from" in news


@pytest.mark.parametrize("system", ["us", "si"])
def test_up_and_down_again_is_where_it_was(system: UnitSystem) -> None:
    """On whole steps, in both systems of units."""
    for knob in EVERY:
        if knob.kind is not None:
            start = turn_by_steps(BENCH.turned, knob, -1, system)[0]
            again = turn_by_steps(turn_by_steps(start, knob, 2, system)[0], knob, -2, system)[0]
            assert getattr(again, knob.turns) == pytest.approx(getattr(start, knob.turns), rel=1e-9)


def test_the_refrigerants_go_round() -> None:
    """Each comes once; the other way they come backward."""
    at, seen = BENCH.turned, []
    for _ in range(4):
        at, news = turn_by_steps(at, REFRIGERANT, 1, "us")
        assert at.refrigerant in news
        seen.append(at.refrigerant)
    assert sorted(seen) == ["R-22", "R-32", "R-410A", "R-454B"]
    assert seen[-1] == "R-410A"
    assert turn_by_steps(at, REFRIGERANT, -1, "us")[0].refrigerant == seen[-2]


def test_the_balance_is_written_out() -> None:
    """What opens, what closes, what is left, and what comes of it, with the arithmetic."""
    at = replace(BENCH.turned, bulb=fahrenheit(53.0), spring=12.5 * PSI)
    balance = replace(balance_by_hand(at), rate=10.0 * PSI, left=7.5 * PSI, opening=0.75, wide_open_at=5.0, flow=0.05)
    assert list(balance_lines(balance, 0.1, "us")) == [
        "OPENS  bulb at 53.0 °F       150.5 psig",
        "CLOSES equalizer          -  130.1 psig",
        "CLOSES spring at the seat -   12.5 psi",
        "LEFT   to lift the pin    =    7.5 psi",
        "Over its travel the spring gains 10.0 psi: 7.5 psi / 10.0 psi = 75 % OPEN.",
        "Superheat: bulb - dew = 53.0 °F - 45.0 °F = 8.0 °F. This spring opens from 5.0 °F on, wide at 9.0 °F.",
        "Flow: 75 % x area x root of (2 x density x 262.2 psi) = 397 lb/h, 50 % of the rated.",
    ]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("bulb 40F", "SHUT on its seat"),
        ("bulb 90F", "WIDE OPEN, out of travel"),
        ("bulb 52F", "% OPEN"),
    ],
)
def test_where_the_pin_stands_is_a_word(line: str, words: str) -> None:
    """Shut, wide open, or how far; drawn and written."""
    assert words in written(line)
    balance = balance_by_hand(turned(line))
    for signs in (UNICODE, ASCII):
        drawn = [
            text_of(one)
            for one in (*valve_rows(balance, rated_flow(BENCH.turned), signs), travel_row(balance, 60, signs))
        ]
        assert any(word in drawn[-1] for word in ("SHUT", "OUT OF TRAVEL", "open"))
        assert ("no flow" in "\n".join(drawn)) == (balance.flow == 0.0)


def test_on_the_coil_all_stand_beside_each_other() -> None:
    """The valve with its opening, the orifices with their sizes, and what follows in words."""
    text = written("coil")
    at = difference(RATED_SUPERHEAT, "us")
    for words in (f"TXV            74 % open {at:>13}", f"right orifice  100 % area{at:>13}", "The TXV holds"):
        assert words in text
    assert "out of travel" in written("coil", "head 180 psig")
    assert "Below freezing; frost is left out" in written("coil", "load 20")


def test_a_sweep_is_a_table_and_a_chart() -> None:
    """A row for each place, then a letter for each device, in plain characters where they are wanted."""
    text = written("sweep load", is_ascii=True)
    assert text.isascii() or text.replace("°", "").isascii()
    rows = [line for line in text.splitlines() if "% " in line[:15] and "°F" in line]
    assert len(rows) == len(places(BENCH.turned, LOAD, "us"))
    chart = text.splitlines()[text.splitlines().index("") :]
    for letter in "TSRL":
        assert sum(letter in line for line in chart) >= 1
    assert max(map(len, text.splitlines())) <= 80


@pytest.mark.parametrize("system", ["us", "si"])
def test_every_knob_that_can_be_swept_is(system: UnitSystem) -> None:
    """Each from low to high over a dozen places, within what the knob can do."""
    for knob in SWEPT:
        values = places(BENCH.turned, knob, system)
        low, high = bounds(BENCH.turned, knob)
        assert 7 <= len(values) <= 16
        assert list(values) == sorted(values)
        assert low <= values[0] < values[-1] <= high
        assert said(f"sweep {knob.words[0]}").bench.over == knob.name


def test_take_holds_by_hand_what_the_coil_has_found() -> None:
    """Bulb and equalizer stand where the valve has settled, so that its balance can be disturbed from there."""
    found = said("coil", "load 60", "take")
    place = settle_device(found.bench.turned, VALVE)
    assert isinstance(place, Settled)
    assert not found.bench.on_coil
    assert balance_by_hand(found.bench.turned).opening == pytest.approx(
        place.balance.opening if place.balance else 0.0, abs=1e-3
    )


def test_a_knob_of_the_other_view_is_set_and_that_is_said() -> None:
    """The load means nothing while the valve is held by hand."""
    assert said("load 50").news == "Load counts on the coil only."
    assert said("coil", "bulb 50F").news == "Bulb temperature counts by hand only."
    assert said("load").news.startswith("Load 100 %: air over the coil")


def test_everything_that_help_names_is_understood() -> None:
    """The manual of the bench cannot lie."""
    for line in HELP:
        found = said(line.partition("|")[0])
        assert not found.is_problem, found.news
    assert all(line.partition("|")[0] in written("help") for line in HELP)
    assert "1.35 times" in written("chosen")
    assert said("head 500", "rated").bench.turned == rated_settings("R-410A")


@pytest.mark.parametrize("width", [58, 76, 118])
def test_rows_fit_their_width(width: int) -> None:
    """Nothing is cut at the right."""
    at = BENCH.turned
    for bulb in (40.0, 53.0, 70.0):
        balance, flows = balance_at(at, at.equalizer, fahrenheit(bulb)), orifice_flows(at)
        for signs in (UNICODE, ASCII):
            assert all(len(text_of(one)) <= width for one in hand_rows(at, balance, flows, "us", width, signs))
