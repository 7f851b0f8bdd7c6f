"""Walks over simulated calls counted: what each was worth, the tables' sums, and the command that prints them."""

import csv
import io
import json
from collections import Counter
from dataclasses import replace

import pytest
from click.testing import CliRunner, Result

from assistant.call.answers import CANNOT_TELL, Acted, Measured
from assistant.call.library import Library
from assistant.call.prompts import AskQuantity
from assistant.call.turns import Answered
from assistant.cli.main import cli
from assistant.practice.outcomes.draw import cost_of, draw_site
from assistant.practice.outcomes.outcomes import (
    NO_FAULT,
    SOUND,
    UNDECIDED,
    OutcomeWalk,
    Verdict,
    families,
    is_slight,
    verdict,
)
from assistant.practice.outcomes.run import Plan, conversation_of, run, truths_of
from assistant.practice.outcomes.table import percentile, sections
from assistant.practice.outcomes.tech import Tech, exact
from assistant.practice.visit.acts import ACTS
from assistant.practice.visit.doing import RECOVERY, SCALE
from assistant.practice.visit.site import Hidden, Site, guises
from assistant.practice.visit.ways import WAYS
from assistant.quantity import fahrenheit
from assistant.simulator.faults import FAULTS, with_severity
from assistant.simulator.plant import DeviceKind
from assistant.simulator.system import Wish
from assistant.source.shipped import shipped_folder

RATED = Wish("R-410A", 3.0, "txv", fahrenheit(95.0), fahrenheit(80.0), fahrenheit(67.0))
PLAN = Plan(6, 3, ("poor_cooling", "starved_coil"), (shipped_folder("trees"),))


def spoilt(cause: str, severity: float | None = None, device: DeviceKind = "txv") -> Site:
    """A system at its rating point with one fault, as severe as is usual."""
    guise = next(one for one in guises() if one.cause == cause)
    fault = FAULTS[guise.fault]
    one = with_severity(fault, fault.usual if severity is None else severity)
    return Site(replace(RATED, device=device), (Hidden(cause, one, guise.place, guise.looks[0]),))


def command(*arguments: str) -> Result:
    """The command as typed, in this process."""
    return CliRunner().invoke(cli, ["practice", "outcomes", "--processes", "1", *arguments])


@pytest.fixture(scope="module")
def walks() -> list[OutcomeWalk]:
    """Some calls, walked."""
    return [one for call in run(PLAN) for one in call.walks]


@pytest.mark.parametrize(
    ("truth", "ended", "slight", "worth"),
    [
        ("undercharge", "undercharge", False, Verdict.CORRECT),
        ("undercharge", "undercharge", True, Verdict.CORRECT),
        ("undercharge", "overcharge", False, Verdict.MISDIAGNOSIS),
        ("undercharge", "overcharge", True, Verdict.MISDIAGNOSIS),
        ("undercharge", NO_FAULT, False, Verdict.MISSED),
        ("undercharge", NO_FAULT, True, Verdict.PASSED),
        ("undercharge", UNDECIDED, False, Verdict.UNDECIDED),
        ("noncondensables", NO_FAULT, False, Verdict.PASSED),
        ("noncondensables", "undercharge", False, Verdict.MISDIAGNOSIS),
        (SOUND, NO_FAULT, False, Verdict.PASSED),
        (SOUND, "undercharge", False, Verdict.FALSE_ALARM),
        (SOUND, UNDECIDED, False, Verdict.UNDECIDED),
    ],
)
def test_an_end_is_judged_by_the_truth(truth: str, ended: str, slight: bool, worth: Verdict) -> None:
    """Five outcomes as Yuill and Braun 2012 (paper 1307) count them, and what is rightly passed; of a tree that can
    name undercharge and overcharge alone."""
    truths = () if truth == SOUND else (truth,)
    assert verdict(truths, ended, {"undercharge", "overcharge"}, slight=slight) is worth


def test_too_little_air_is_rightly_named_wherever_it_is_lost() -> None:
    """A clogged filter may be called by its effect; a weak outdoor fan is not a dirty coil, which is another place."""
    assert truths_of(spoilt("dirty_filter").hidden[0]) == {"dirty_filter", "low_airflow"}
    assert truths_of(spoilt("outdoor_fan_fault").hidden[0]) == {"outdoor_fan_fault"}
    assert truths_of(None) == frozenset()


def test_families_are_causes_that_name_each_other(library: Library) -> None:
    """Overcharge, foreign gas and a dirty condenser are look-alikes of each other; each cause is in one family."""
    found = families(library.catalogue.causes)
    assert Counter(name for family in found for name in family) == Counter(dict.fromkeys(library.catalogue.causes, 1))
    family = next(one for one in found if "overcharge" in one)
    assert {"noncondensables", "dirty_outdoor_coil"} <= family
    assert "undercharge" not in family


def test_a_call_of_a_number_is_always_the_same() -> None:
    """Calls are drawn by seed and number alone; another seed draws others."""
    assert [draw_site(1, number) for number in range(5)] == [draw_site(1, number) for number in range(5)]
    assert draw_site(1, 0) != draw_site(2, 0)


def test_what_a_fault_costs_is_weighed_in_the_same_weather() -> None:
    """A sound system costs nothing; a third of the charge gone costs a good part of the capacity."""
    assert cost_of(Site(RATED)) == 0.0
    assert 0.1 < cost_of(spoilt("undercharge", 0.35)) < 0.6


def test_every_act_that_means_something_at_a_site_is_one(library: Library) -> None:
    """What the table of ways names is in the catalogue and among what can be done at a site, so none was renamed."""
    assert set(WAYS) <= set(library.catalogue.acts)
    assert {part for way in WAYS.values() for part in way.does} - {SCALE, RECOVERY} <= set(ACTS)


def test_a_held_bulb_is_let_go_once_its_step_has_measured(library: Library) -> None:
    """A sound valve answers the hand in what is measured again; what is asked after that is the steady state."""
    tech = Tech(Site(RATED), True, exact)
    turns = conversation_of(library, "valve_bench", Tech(Site(RATED), True, exact)).turns
    prompts = {turn.prompt.name: turn.prompt for turn in turns if isinstance(turn, Answered)}
    again = prompts["suction_pressure"]
    assert isinstance(again, AskQuantity)
    assert again.again
    fresh = replace(again, again=False)
    steady = tech.answer(fresh)
    assert tech.answer(prompts["do warm_bulb @ warm_holding"]) == Acted(is_done=True)
    answered = tech.answer(again)
    assert isinstance(steady, Measured)
    assert isinstance(answered, Measured)
    assert answered.quantity.number > steady.quantity.number + 2.0
    assert tech.answer(fresh) == steady


def test_only_gauges_and_thermometers_are_left_without_eyes(library: Library) -> None:
    """Without observations every look and the air flow stay open, while gauges and thermometers are read."""
    told = {
        turn.prompt.name: turn.answer.text
        for turn in conversation_of(library, "poor_cooling", Tech(spoilt("dirty_filter", 0.4), False, exact)).turns
        if isinstance(turn, Answered)
    }
    catalogue = library.catalogue
    assert {told[name] for name in told if name in catalogue.observations or name == "indoor_airflow"} == {CANNOT_TELL}
    assert CANNOT_TELL not in {told["suction_pressure"], told["return_air_wet_bulb"]}


def test_the_tables_agree_with_the_walks_and_each_other(walks: list[OutcomeWalk], library: Library) -> None:
    """Each walk counts once by cause, by family and by device, slight ones apart, and once among the ends."""
    for section in sections(walks, families(library.catalogue.causes)):
        own = [one for one in walks if (one.tree, one.eyes) == (section.tree, section.eyes)]
        slight = sum(one.is_slight for one in own)
        for table in (section.by_cause, section.by_family, section.by_device):
            assert sum(tally.calls for tally in table) == section.whole.calls == len(own) - slight
            for worth in Verdict:
                assert sum(tally.counts[worth] for tally in table) == section.whole.counts[worth]
        assert sum(tally.calls for tally in section.slight) == slight
        assert sum(sum(ends.values()) for ends in section.ends.values()) == section.whole.calls
        assert section.asked.median <= section.asked.most <= section.asked.longest


def test_a_percentile_is_one_of_the_values() -> None:
    """Of 20 values the 95th percentile is the 19th, of one value it is that (nearest rank, by definition)."""
    assert percentile(list(range(1, 21)), 0.95) == 19
    assert percentile([7], 0.95) == 7


def test_the_same_seed_gives_the_same_walks(walks: list[OutcomeWalk]) -> None:
    """A run over a few calls is repeated exactly, noise included."""
    again = [one for call in run(replace(PLAN, calls=2)) for one in call.walks]
    assert again == [one for one in walks if one.call < 2]


def test_the_command_prints_text_csv_and_json() -> None:
    """Three forms of one result: the tables, a line a walk, and sums for another program that agree with the lines."""
    few = ("--calls", "2", "--seed", "3", "--tree", "poor_cooling", "--gauges")
    text, table, values = (command(*few, "--format", form).stdout for form in ("text", "csv", "json"))
    assert "by family of look-alikes" in text
    rows = list(csv.DictReader(io.StringIO(table)))
    assert {row["eyes"] for row in rows} == {"False"}
    (section,) = json.loads(values)["sections"]
    assert section["all"]["calls"] + sum(one["calls"] for one in section["slight"].values()) == len(rows)
    assert section["all"]["calls"] == sum(section["all"][worth.value] for worth in Verdict)


def test_an_unknown_tree_is_named_before_anything_is_walked() -> None:
    """A slip in a tree's name is told with the nearest one."""
    done = command("--tree", "poor_coling")
    assert done.exit_code != 0
    assert "poor_coling" in str(done.exception)


@pytest.mark.parametrize("device", ["txv", "fixed_orifice"])
def test_a_sound_system_at_its_rating_point_ends_without_a_fault(library: Library, device: DeviceKind) -> None:
    """Where nothing is hidden and instruments are exact, the tree for poor cooling finds nothing."""
    ended = conversation_of(library, "poor_cooling", Tech(Site(replace(RATED, device=device)), True, exact)).outcome
    assert ended is not None
    assert ended.kind == NO_FAULT


CLEAR = 1.2
"""How far beyond the usual a clear fault goes."""


@pytest.mark.parametrize("cause", sorted({one.cause for one in guises(heat_pump=True)}))
def test_one_clear_fault_is_found_or_left_open(library: Library, cause: str) -> None:
    """With all observations a clear fault ends with its cause or undecided, never with another cause; what costs less
    than 5 % may be passed."""
    guise = next(one for one in guises(heat_pump=True) if one.cause == cause)
    fault = FAULTS[guise.fault]
    device: DeviceKind = "fixed_orifice" if fault.device == "fixed_orifice" else "txv"
    hidden = Hidden(cause, with_severity(fault, min(CLEAR * fault.usual, fault.high)), guise.place, guise.looks[0])
    site = Site(replace(RATED, device=device, heat_pump=guise.heat_pump), (hidden,))
    ended = conversation_of(library, "poor_cooling", Tech(site, True, exact)).outcome
    assert ended is not None
    named = ended.cause or ended.kind
    worth = verdict(truths_of(hidden), named, library.catalogue.causes, slight=is_slight(cause, cost_of(site)))
    assert worth in (Verdict.CORRECT, Verdict.UNDECIDED, Verdict.PASSED), named
