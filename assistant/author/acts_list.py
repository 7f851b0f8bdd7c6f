"""What a tree has done and taken: each act, reading and observation with the state it needs and its cautions."""

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.unit_state import FOUND, Needs, Reached
from assistant.tree.model import Step, Tree


@dataclass(frozen=True, slots=True)
class Needing:
    """An act, a reading or an observation at a node: the state before it, who may, minutes and cautions.

    `reached` are the acts that lead to that state on a unit that runs, as it is found; `None` where they do not.
    """

    node: str
    name: str
    sort: str
    needs: Needs
    makes: tuple[str, ...]
    who: tuple[str, ...]
    minutes: float
    cautions: tuple[str, ...]
    reached: tuple[str, ...] | None


def needing_of(tree: Tree, catalogue: Catalogue) -> Iterator[Needing]:
    """Give what the nodes of a tree have done, asked and measured, in the order of the file."""
    for node in tree.nodes.values():
        if not isinstance(node, Step):
            continue
        for name in (act.text for act in node.do if act.text in catalogue.acts):
            act = catalogue.acts[name]
            makes = (*(f"{what}: {value}" for what, value in act.makes.items()), *([act.leaves] if act.leaves else []))
            reached = _acts_of(catalogue.planner.perform({FOUND}, act))
            yield Needing(node.name, name, "act", act.needs, makes, act.who, act.minutes, tuple(act.cautions), reached)
        asked = [name.text for name in (*node.ask, *node.measure_again)]
        asked += [need.name for need in node.decision(catalogue).needs]
        for name in dict.fromkeys(asked):
            sort = catalogue.sort_of(name)
            if sort not in ("reading", "observation"):
                continue
            taking = catalogue.taking(name)
            reached = _acts_of(catalogue.planner.reach({FOUND}, taking.needs))
            yield Needing(node.name, name, sort, taking.needs, (), taking.who, taking.minutes, taking.cautions, reached)


def _acts_of(reached: Reached) -> tuple[str, ...] | None:
    return None if reached.stuck else reached.acts


def lines_of(tree: Tree, catalogue: Catalogue) -> Iterator[str]:
    """Give the list in words, node by node."""
    node = ""
    for one in needing_of(tree, catalogue):
        if one.node != node:
            node = one.node
            yield f"{node}:"
        yield f"  {one.sort} {one.name}"
        yield from (f"      {line}" for line in _told(one))


def _told(one: Needing) -> Iterator[str]:
    if one.needs:
        needs = ", ".join(f"{what} {' or '.join(values)}" for what, values in one.needs.items())
        ways = "nothing leads there by itself" if one.reached is None else ", ".join(one.reached)
        yield f"needs {needs}" + (f" (from a unit that runs: {ways})" if ways else "")
    if one.makes:
        yield f"makes {', '.join(one.makes)}"
    if one.cautions:
        yield f"cautions {', '.join(one.cautions)}"
    who = [name for name in one.who if name != "anyone"]
    if who or one.minutes:
        yield ", ".join([*who, *([f"{one.minutes:g} min"] if one.minutes else [])])
