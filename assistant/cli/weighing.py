"""`coilside trees weigh`: where a tree and the second opinion part."""

import os
import sys

import click

from assistant.cli.completing import complete_tree
from assistant.cli.options import Folders, folders_option
from assistant.cli.talk import say


@click.command()
@click.argument("tree", shell_complete=complete_tree)
@click.option("--calls", default=100, show_default=True, type=click.IntRange(1, 100_000), help="How many calls.")
@click.option("--seed", default=1, show_default=True, type=click.IntRange(0), help="The same seed, the same calls.")
@click.option("--eyes/--gauges", "eyes", default=True, help="With all observations (usual), or gauges only.")
@click.option(
    "--processes",
    default=lambda: os.cpu_count() or 1,
    show_default="all processors",
    type=click.IntRange(1, 64),
    help="How many share the work; the result is the same.",
)
@click.option("--cluster", default="", metavar="ADDRESS", help="A Dask cluster that shares the work instead.")
@folders_option
def weigh(tree: str, calls: int, seed: int, eyes: bool, processes: int, cluster: str, folders: Folders) -> None:
    """List where TREE and the second opinion part, over simulated calls: ends, causes and readings.

    Each call is a simulated system with one fault or none. TREE is walked over it, and everything that was asked on the
    way is weighed against all causes. Where both part, one of them is wrong: the truth is told beside them.
    """
    from assistant.practice.outcomes.parting import PartingPlan, parting_table, weigh_tree

    plan = PartingPlan(tree, calls, seed, tuple(folders.layers), eyes)
    found = weigh_tree(plan, processes, cluster)
    with click.progressbar(found, length=calls, label="simulated calls", file=sys.stderr) as walked:
        walks = list(walked)
    ran = [walk for walk in walks if walk is not None]
    say(f"{calls} simulated calls of seed {seed}; in {len(walks) - len(ran)} nothing could be weighed.")
    say("\n".join(parting_table(ran)))
