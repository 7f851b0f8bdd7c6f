"""`coilside practice outcomes`: how well the trees do on simulated calls whose truth is known."""

import csv
import io
import json
import os
import sys
from collections.abc import Sequence
from dataclasses import asdict, fields
from typing import TYPE_CHECKING

import click

from assistant.cli.options import Folders, folders_option
from assistant.cli.talk import say

if TYPE_CHECKING:
    from assistant.practice.outcomes.outcomes import OutcomeWalk


@click.command()
@click.option("--calls", default=200, show_default=True, type=click.IntRange(1, 100_000), help="How many calls.")
@click.option("--seed", default=1, show_default=True, type=click.IntRange(0), help="The same seed, the same calls.")
@click.option("--tree", "trees", multiple=True, help="A tree to walk; give several for several. Without: all that fit.")
@click.option(
    "--noise/--exact", default=True, help="Instruments that err as the catalogue says (usual), or exact ones."
)
@click.option("--eyes/--gauges", "eyes", default=None, help="With all observations, or gauges only; else both.")
@click.option(
    "--format", "form", type=click.Choice(["text", "csv", "json"]), default="text", show_default=True, help="Form."
)
@click.option(
    "--processes",
    default=lambda: os.cpu_count() or 1,
    show_default="all processors",
    type=click.IntRange(1, 64),
    help="How many share the work; the result is the same.",
)
@click.option("--opinion", "is_opinion", is_flag=True, help="The second opinion instead of the trees.")
@click.option("--cluster", default="", metavar="ADDRESS", help="A Dask cluster that shares the work instead.")
@folders_option
def outcomes(
    calls: int,
    seed: int,
    trees: tuple[str, ...],
    noise: bool,
    eyes: bool | None,
    form: str,
    processes: int,
    is_opinion: bool,
    cluster: str,
    folders: Folders,
) -> None:
    """How often the trees find the fault of simulated calls, and what they take it for.

    Each call is a simulated system in some weather with one fault of some severity, or none, measured with
    instruments that err. Each tree whose complaint fits is walked over it, once with all that eye and hand find, once
    with gauges and thermometers only. The outcomes are those of published evaluations of such protocols: correct,
    misdiagnosis, missed, false alarm, undecided. A fault that costs less than 5 % of capacity and of efficiency is
    counted apart. `csv` gives one line a walk, from which all tables follow.

    With --opinion no tree is walked: the second opinion is formed on gauges and thermometers alone, then after the one
    look that it asks for, on units that are drawn; printed is how often it is right, and whether what it calls likely
    comes true as often.
    """
    if is_opinion:
        _weigh_opinions(calls, seed, form, processes, cluster, folders)
        return
    from assistant.practice.outcomes.outcomes import families
    from assistant.practice.outcomes.run import COMPLAINTS, Plan, library_of, run
    from assistant.practice.outcomes.table import lines, sections, values

    layers = tuple(folders.layers)
    known = library_of(layers)
    chosen = trees or tuple(name for name in COMPLAINTS if name in known.trees)
    plan = Plan(calls, seed, chosen, layers, (True, False) if eyes is None else (eyes,), noise)
    walks: list[OutcomeWalk] = []
    stopped = 0
    with click.progressbar(
        run(plan, processes, cluster), length=calls, label="simulated calls", file=sys.stderr
    ) as walked:
        for found in walked:
            walks.extend(found.walks)
            stopped += found.stopped
    if form == "csv":
        say(_csv(walks), nl=False)
        return
    summed = sections(walks, families(known.catalogue.causes))
    if form == "json":
        drawn = {"calls": calls, "would_not_run": stopped, "seed": seed, "instruments": "err" if noise else "exact"}
        say(json.dumps({**drawn, "sections": [values(one) for one in summed]}, indent=2))
        return
    instruments = "instruments that err" if noise else "exact instruments"
    say(f"{calls} simulated calls of seed {seed}, {instruments}; {stopped} systems would not run.")
    say("\n".join(lines(summed)))


def _weigh_opinions(calls: int, seed: int, form: str, processes: int, cluster: str, folders: Folders) -> None:
    from assistant.practice.outcomes.opinions import OpinionPlan, opinion_table, opinion_values, weigh_calls

    if form == "csv":
        raise click.UsageError("The opinion is told as text or json.")
    plan = OpinionPlan(calls, seed, ("cooling", "heating"), tuple(folders.layers))
    found = weigh_calls(plan, processes, cluster)
    with click.progressbar(found, length=2 * calls, label="simulated calls", file=sys.stderr) as weighed:
        cases = list(weighed)
    ran = [case for case in cases if case is not None]
    if form == "json":
        say(json.dumps(opinion_values(ran), indent=2))
        return
    say(f"{calls} simulated calls of seed {seed} in each mode; {len(cases) - len(ran)} systems would not run.")
    say("\n".join(opinion_table(ran)))


def _csv(walks: Sequence["OutcomeWalk"]) -> str:
    """One line a walk."""
    from assistant.practice.outcomes.outcomes import OutcomeWalk

    text = io.StringIO()
    writer = csv.DictWriter(text, [field.name for field in fields(OutcomeWalk)], lineterminator="\n")
    writer.writeheader()
    writer.writerows(asdict(one) for one in walks)
    return text.getvalue()
