"""The second opinion counted over simulated calls, and the work shared out."""

from collections.abc import Iterator

import pytest
from click.testing import CliRunner

from assistant.catalogue.loading import load_catalogue
from assistant.cli.main import cli
from assistant.errors import InputError
from assistant.opinion.fits import READINGS
from assistant.practice.outcomes import sharing
from assistant.practice.outcomes.opinions import (
    OpinionCase,
    OpinionPlan,
    Share,
    draw_case,
    family_names,
    opinion_table,
    reliability,
    summary,
    weigh_calls,
)
from assistant.practice.outcomes.parting import WeighedWalk, parting_table
from assistant.practice.outcomes.sharing import share_out
from assistant.source.shipped import shipped_folder

LAYERS = (shipped_folder("trees"),)


def case(truth: str, share: float, other: str = "sound") -> OpinionCase:
    """A call of which one family was thought likely, another one had the rest."""
    shares = {truth: share, other: 1.0 - share}
    return OpinionCase(0, "cooling", truth, truth, False, shares, "", shares, shares)


_SHARES = {"one": 0.75, "sound": 0.25}
MISSED = OpinionCase(0, "cooling", "sound", "sound", False, _SHARES, "", _SHARES, _SHARES)
"""A call of which the wrong family was thought likely."""


def square(number: int) -> int:
    return number * number


def test_what_is_called_likely_is_held_against_what_was_so() -> None:
    """Of ten calls at 0.75 eight come true: the tenth of 70 to 80 says 0.75 against 0.8, its rest 0.25 against 0.2."""
    cases = [case("one", 0.75)] * 8 + [MISSED] * 2
    table, error = reliability(cases)
    assert [(row.called, row.came_true.of, row.came_true.times) for row in table] == [(0.25, 10, 2), (0.75, 10, 8)]
    assert error == pytest.approx(0.05)


def test_an_interval_of_a_share() -> None:
    """8 of 10 is 49 to 94 in 100. Source: Wilson 1927; the value is in many tables of that interval."""
    low, high = Share(10, 8).bounds
    assert (low, high) == pytest.approx((0.490, 0.943), abs=2e-3)


def test_a_summary_counts_what_it_says() -> None:
    """One call is right, one has its family second, one sound unit is called faulty."""
    wrong = OpinionCase(1, "cooling", "two", "two", False, {"one": 0.7, "two": 0.3}, "", {"two": 0.9}, {"one": 0.7})
    sound = OpinionCase(2, "cooling", "sound", "sound", False, {"one": 0.8, "sound": 0.2}, "", {}, {"one": 0.8})
    found = summary([case("one", 0.9), wrong, sound])
    assert (found["likeliest family right"].times, found["among the first two"].times) == (1, 3)
    assert found["named at 0.6 or more, wrong"] == Share(3, 2)
    assert found["sound called faulty above 0.5"] == Share(1, 1)


def test_a_drawn_call_is_the_same_each_time() -> None:
    """It hangs on seed and number alone, and its unit is not the usual one."""
    catalogue, _ = load_catalogue(LAYERS[0] / "catalogue")
    one, same, other = (draw_case(catalogue, 3, number, "cooling") for number in (1, 1, 2))
    assert one == same
    assert one != other
    assert set(one.shown) <= set(READINGS)


def test_families_hold_what_reads_alike() -> None:
    """A clogged filter and a slow blower are one family; a restriction and a bore too small are look-alikes."""
    kinds = family_names(load_catalogue(LAYERS[0] / "catalogue")[0])
    assert kinds["dirty_filter"] == kinds["blower_fault"] == kinds["low_airflow"]
    assert kinds["undercharge"] != kinds["overcharge"]


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """A cluster of this machine, of two processes."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        yield cluster.scheduler_address


@pytest.mark.filterwarnings("ignore")
def test_a_cluster_gives_the_same_table(address: str) -> None:
    """Each call hangs on its number, so that who works it makes no difference."""
    assert list(share_out(square, range(25), cluster=address)) == list(share_out(square, range(25)))
    plan = OpinionPlan(1, 3, ("cooling",), LAYERS)
    here, there = ([one for one in weigh_calls(plan, cluster=where) if one is not None] for where in ("", address))
    assert list(opinion_table(here)) == list(opinion_table(there))
    assert here == there


def test_a_cluster_that_is_not_there_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    """No trace of the program's inside."""
    monkeypatch.setattr(sharing, "_PATIENCE", "500ms")
    with pytest.raises(InputError, match="No cluster answers"):
        list(share_out(square, range(2), cluster="tcp://127.0.0.1:9"))


def test_a_tree_is_weighed_end_by_end() -> None:
    """Where the tree and the opinion part, the truth and what speaks against the tree's end are told."""
    done = CliRunner().invoke(cli, ["trees", "weigh", "poor_cooling", "--calls", "2", "--processes", "1"])
    assert done.exit_code == 0, done.output
    assert "2 simulated calls of seed 1" in done.output
    assert "walks weighed" in done.output
    apart = WeighedWalk("node", "undercharge", "overcharge", 0.8, "overcharge", False, False, True, "liquid_pressure")
    told = list(parting_table([apart]))
    assert "the tree is right in 0, the opinion in 1 of 1" in told[1]
    assert told[-1] == "  most against the tree's end: liquid_pressure 1"


def test_the_opinion_is_counted_by_the_command() -> None:
    """The table of what was right and the reliability, from the command line; lines of a table are no CSV."""
    arguments = ["practice", "outcomes", "--opinion", "--calls", "1", "--processes", "1"]
    done = CliRunner().invoke(cli, arguments)
    assert done.exit_code == 0, done.output
    assert "likeliest family right" in done.output
    assert "expected calibration error" in done.output
    assert CliRunner().invoke(cli, [*arguments, "--format", "csv"]).exit_code == 2
