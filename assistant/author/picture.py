"""What a drawing of a tree shows, apart from how: boxes with their words, arrows with theirs, and marks of calls.

All forms of drawing are made from this one value, so they say the same.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from types import MappingProxyType
from typing import Literal, assert_never

from assistant.call.telling import unit_beside
from assistant.catalogue.catalogue import Catalogue
from assistant.quantity import SEA_LEVEL, UnitSystem, show
from assistant.source.problem import without_controls
from assistant.tree.meaning import Constant
from assistant.tree.model import CannotTell, CauseLeaf, Leaf, Node, NoFaultLeaf, Otherwise, Step, Tree, Use, When
from assistant.worksheet.showing import Display

BoxSort = Literal["step", "cause", "no_fault", "undecided", "use", "missing"]
Way = tuple[str, int]
"""A node, and the place of one of its arrows."""


@dataclass(frozen=True, slots=True)
class Arrow:
    """One way on. `words` are the author's, `limits` the values of the limits in them.

    `calls` counts the example calls that take it, `None` where none were run; `steps` are the places in the order of
    the marked call at which it is taken.
    """

    target: str
    sort: Literal["when", "cannot_tell", "otherwise", "go", "no_fault", "undecided"]
    words: str
    limits: tuple[str, ...] = ()
    say: str = ""
    calls: int | None = None
    steps: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """One node. `title` is that of a cause or of the tree that is used; `cautions` are titles.

    `texts` are label and text in the order in which a call shows them.

    `calls` counts the example calls that end here; `used` is the name of the tree that it uses.
    """

    name: str
    sort: BoxSort
    title: str
    cautions: tuple[str, ...] = ()
    texts: tuple[tuple[str, str], ...] = ()
    why: str = ""
    arrows: tuple[Arrow, ...] = ()
    calls: int | None = None
    marked: bool = False
    used: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A whole tree as it is drawn; boxes come in the order in which a call can come to them.

    `call` is the name of the marked call, `calls` how many example calls were counted.
    """

    name: str
    version: int
    title: str
    complaints: tuple[str, ...]
    facts: tuple[str, ...]
    start: str
    boxes: Mapping[str, Box]
    call: str | None = None
    calls: int | None = None

    @property
    def called(self) -> Mapping[str, tuple[int, ...]]:
        """The boxes that the marked call comes to, each with its places in the order."""
        found: dict[str, list[int]] = {}
        for box in self.boxes.values():
            for arrow in box.arrows:
                for step in arrow.steps:
                    found.setdefault(arrow.target, []).append(step + 1)
        if self.call is not None:
            found.setdefault(self.start, []).insert(0, 1)
        return {name: tuple(sorted(places)) for name, places in found.items()}


def picture(
    tree: Tree, catalogue: Catalogue, system: UnitSystem = "us", titles: Mapping[str, str] = MappingProxyType({})
) -> Picture:
    """Return the picture of a tree, whole or with mistakes; a name that no node has becomes a box of its own.

    `titles` are those of the trees that it may use, by name.
    """
    boxes = {name: _box(node, catalogue, system, titles) for name, node in tree.nodes.items()}
    for box in list(boxes.values()):
        for arrow in box.arrows:
            boxes.setdefault(arrow.target, Box(arrow.target, "missing", ""))
    if tree.start.text not in boxes:
        boxes[tree.start.text] = Box(tree.start.text, "missing", "")
    ordered = {name: boxes[name] for name in _in_order(tree.start.text, boxes)}
    return Picture(
        name=_clean(tree.name),
        version=tree.version,
        title=_clean(tree.title),
        complaints=tuple(_clean(complaint) for complaint in tree.complaints),
        facts=tuple(_clean(catalogue.title_of(fact.text)) for fact in tree.facts),
        start=tree.start.text,
        boxes=ordered,
    )


def with_coverage(shown: Picture, taken: Mapping[Way, int], ends: Mapping[str, int], calls: int) -> Picture:
    """Return the picture with how many of `calls` example calls take each way and end at each leaf."""
    boxes = {
        name: replace(
            box,
            calls=None if box.sort == "step" else ends.get(name, 0),
            arrows=tuple(replace(arrow, calls=taken.get((name, at), 0)) for at, arrow in enumerate(box.arrows)),
        )
        for name, box in shown.boxes.items()
    }
    return replace(shown, boxes=boxes, calls=calls)


def with_call(shown: Picture, name: str, ways: Iterable[Way]) -> Picture:
    """Return the picture with the ways of one call marked, in their order."""
    steps: dict[Way, list[int]] = {}
    met = {shown.start}
    for place, (node, at) in enumerate(ways, start=1):
        steps.setdefault((node, at), []).append(place)
        met |= {node, shown.boxes[node].arrows[at].target}
    boxes = {
        node: replace(
            box,
            marked=node in met,
            arrows=tuple(replace(arrow, steps=tuple(steps.get((node, at), ()))) for at, arrow in enumerate(box.arrows)),
        )
        for node, box in shown.boxes.items()
    }
    return replace(shown, boxes=boxes, call=_clean(name))


def _in_order(start: str, boxes: Mapping[str, Box]) -> Iterator[str]:
    """Give the boxes as a call comes to them, the first way first; then those that no way leads to."""
    seen: set[str] = set()
    waiting = [*reversed(list(boxes)), start]
    while waiting:
        name = waiting.pop()
        if name not in seen:
            seen.add(name)
            yield name
            waiting.extend(arrow.target for arrow in reversed(boxes[name].arrows))


def _box(node: Node, catalogue: Catalogue, system: UnitSystem, titles: Mapping[str, str]) -> Box:
    cautions = tuple(_caution(name.text, catalogue) for name in node.cautions)
    match node:
        case Step():
            return _step(node, cautions, catalogue, system)
        case Use():
            return _use(node, cautions, titles)
        case _:
            return _leaf(node, cautions, catalogue)


def _use(use: Use, cautions: tuple[str, ...], titles: Mapping[str, str]) -> Box:
    arrows: list[Arrow] = []
    ends = ["a cause"]
    if use.when_no_fault is None:
        ends.append("no fault")
    elif use.when_no_fault.text:
        arrows.append(Arrow(use.when_no_fault.text, "no_fault", "it ends without a fault"))
    if use.when_undecided is None:
        ends.append("undecided")
    elif use.when_undecided.text:
        arrows.append(Arrow(use.when_undecided.text, "undecided", "it ends undecided"))
    says = (("say", _clean(use.say)),) if use.say else ()
    return Box(
        name=use.name,
        sort="use",
        title=_clean(titles.get(use.tree.text, use.tree.text)),
        cautions=cautions,
        texts=(*says, ("ends the call", " or ".join(ends))),
        arrows=tuple(arrows),
        used=_clean(use.tree.text),
    )


def _caution(name: str, catalogue: Catalogue) -> str:
    entry = catalogue.cautions.get(name)
    return _clean(entry.title if entry else name)


def _leaf(leaf: Leaf, cautions: tuple[str, ...], catalogue: Catalogue) -> Box:
    titles = [
        ("the change of " if item.change else "") + catalogue.title_of(item.name).lower() for item in leaf.because
    ]
    because = (("because", _clean(", ".join(titles))),) if titles else ()
    match leaf:
        case CauseLeaf():
            cause = catalogue.causes.get(leaf.cause.text)
            says = (("say", _clean(leaf.say)),) if leaf.say else ()
            title = cause.title if cause else leaf.cause.text
            return Box(leaf.name, "cause", _clean(title), cautions, (*says, *because))
        case NoFaultLeaf():
            return Box(leaf.name, "no_fault", "", cautions, (("say", _clean(leaf.text)), *because))
        case _:
            return Box(leaf.name, "undecided", "", cautions, (("say", _clean(leaf.text)), *because))


def _step(step: Step, cautions: tuple[str, ...], catalogue: Catalogue, system: UnitSystem) -> Box:
    texts: list[tuple[str, str]] = []
    if step.say:
        texts.append(("say", step.say))
    texts.extend(("do", catalogue.act_texts(act.text)[0] or act.text) for act in step.do)
    asked = [name.text for name in step.ask]
    worked: dict[str, None] = {}
    for need in step.decision(catalogue).needs:
        if need.sort == "number":
            worked[need.name] = None
        elif need.sort != "change" and need.name not in asked:
            asked.append(need.name)
    texts.extend(("ask", _question(name, catalogue)) for name in asked)
    again = [catalogue.title_of(name.text) for name in step.measure_again]
    if again:
        texts.append(("measure again", ", ".join(again)))
    if worked:
        texts.append(("work out", ", ".join(catalogue.title_of(name) for name in worked)))
    return Box(
        name=step.name,
        sort="step",
        title="",
        cautions=cautions,
        texts=tuple((label, _clean(text)) for label, text in texts),
        why=_clean(step.why or ""),
        arrows=tuple(_arrows(step, catalogue, system)),
    )


def _question(name: str, catalogue: Catalogue) -> str:
    """Return what is asked: of an observation its question, as its title alone says little; of the rest the title."""
    observation = catalogue.observations.get(name)
    return observation.question if observation else catalogue.title_of(name)


def _arrows(step: Step, catalogue: Catalogue, system: UnitSystem) -> Iterator[Arrow]:
    for branch in step.branches:
        if not branch.go.text:
            continue
        say = _clean(branch.say or "")
        match branch:
            case When():
                limits = tuple(dict.fromkeys(_limits(branch, Display(catalogue, system, SEA_LEVEL))))
                yield Arrow(branch.go.text, "when", _clean(branch.condition.text), limits, say)
            case CannotTell():
                yield Arrow(branch.go.text, "cannot_tell", "cannot tell", say=say)
            case Otherwise():
                plain = len(step.branches) == 1
                yield Arrow(branch.go.text, "go" if plain else "otherwise", "go on" if plain else "otherwise", say=say)
            case _:
                assert_never(branch)


def _limits(branch: When, display: Display) -> Iterator[str]:
    """Give the limits of a condition with their values, as in `limits.superheat_band = 5.0 °F`."""
    for test in branch.condition.meaning(display.catalogue).comparisons:
        for term in test.terms:
            if isinstance(term, Constant) and term.limit:
                value = term.value + SEA_LEVEL if term.unit.gauge else term.value
                yield f"limits.{term.limit} = {show(value, unit_beside(test, term.kind, display), SEA_LEVEL)}"


def _clean(text: str) -> str:
    return without_controls(" ".join(text.split()))


def arrows_in_rows(arrows: tuple[Arrow, ...]) -> list[tuple[int, ...]]:
    """Give the places of arrows that share a row: neighbours without a condition that lead to the same node."""
    rows: list[tuple[int, ...]] = [(0,)] if arrows else []
    for at, (one, other) in enumerate(pairwise(arrows), start=1):
        if one.target == other.target and "when" not in (one.sort, other.sort):
            rows[-1] = (*rows[-1], at)
        else:
            rows.append((at,))
    return rows
