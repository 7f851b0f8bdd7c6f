"""How long checking takes for trees of growing size: run by hand, `python tests/bench/bench_check.py`."""

import tempfile
import time
from dataclasses import replace
from pathlib import Path

from assistant.catalogue.loading import load_catalogue
from assistant.tree.check import review_file
from assistant.worksheet.formulas import all_inputs

HEAD = """tree: big
version: 1
title: A big tree
complaints: [not cooling enough]
facts: [refrigerant, metering_device]
start: step_0
nodes:
"""
STEP = """  step_{number}:
    say: Look at the coil and the filter before anything else; a choked coil reads like a charge fault.
    why: Superheat tells how much of the coil is fed with liquid.
    caution: [moving_parts]
    ask: [suction_pressure]
    decide:
      - when: superheat > superheat_target + {number} F and subcooling < 3 F
        say: The coil is starved.
        go: end_{number}
      - when: suction_pressure < 60 psig or outdoor_air_temperature < 65 F
        go: end_{number}
      - cannot_tell: end_{number}
      - otherwise: step_{following}
  end_{number}:
    undecided: Come back with gauges.
    because: [superheat, subcooling]
"""
LAST = """  step_{number}:
    no_fault: Nothing wrong was found.
"""


def tree_text(nodes: int) -> str:
    """A chain of steps, each with a leaf of its own: `nodes` nodes in all."""
    steps = nodes // 2
    body = "".join(STEP.format(number=number, following=number + 1) for number in range(steps))
    return HEAD + body + LAST.format(number=steps)


def main() -> None:
    """Print the time for 250 to 2000 nodes, with the libraries loaded and without."""
    began = time.perf_counter()
    vocabulary = replace(load_catalogue(Path(__file__).parents[2] / "trees" / "catalogue")[0], inputs=all_inputs())
    print(f"catalogue: {time.perf_counter() - began:.2f} s")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "big.yaml"
        for nodes in (250, 250, 500, 1000, 2000):
            path.write_text(tree_text(nodes), encoding="utf-8")
            began = time.perf_counter()
            busy = time.process_time()
            review = review_file(path, vocabulary)
            spent, worked = time.perf_counter() - began, time.process_time() - busy
            told = f"{len(review.problems)} problems"
            print(
                f"{nodes:5} nodes: {spent:6.3f} s, {worked:6.3f} s busy, {1e3 * worked / nodes:.2f} ms a node, {told}"
            )


if __name__ == "__main__":
    main()
