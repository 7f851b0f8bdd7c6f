"""The layered layout of a graph, first half: which layer a card stands in, and the order of the cards within a layer.

After Sugiyama, Tagawa and Toda (1981), with one change: all ways to one card share one line, which runs beside the
cards of the layers between. Ways that lead back run upwards the same way. Nothing here knows what a card shows.
"""

from bisect import bisect_right, insort
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

_SWEEPS = 24
# After so many sweeps that bring nothing, none will.
_IDLE = 6


class Link(NamedTuple):
    """A way from one card to another; `row` is its place among the ways of its source."""

    source: str
    target: str
    row: int


class Item(NamedTuple):
    """What takes room in a layer: a card, or the line `down` or `up` to the card of that name."""

    kind: Literal["card", "down", "up"]
    name: str
    layer: int


@dataclass(frozen=True)
class Layers:
    """Cards and lines in their layers; `routes` gives the items that a way runs through, both ends among them."""

    rows: tuple[tuple[Item, ...], ...]
    routes: Mapping[Link, tuple[Item, ...]]
    backward: frozenset[Link]


def arrange(names: Sequence[str], links: Sequence[Link]) -> Layers:
    """Put every card into a layer below all that lead to it, and order each layer so that few lines cross.

    The first name comes first. `links` come in the order of the rows of each source.
    """
    backward = _backward(names, links)
    layer = _layer(names, [link for link in links if link not in backward])
    routes = {link: tuple(_route(link, layer, link in backward)) for link in links}
    count = max(layer.values(), default=0) + 1
    rows: list[list[Item]] = [[] for _ in range(count)]
    for item in dict.fromkeys(
        [*_in_order(names, links, layer), *(item for route in routes.values() for item in route)]
    ):
        rows[item.layer].append(item)
    ordered = _few_crossings(rows, _pieces(routes.items()))
    return Layers(tuple(tuple(row) for row in ordered), routes, frozenset(backward))


def _along(names: Sequence[str], links: Iterable[Link]) -> dict[str, list[Link]]:
    along: dict[str, list[Link]] = {name: [] for name in names}
    for link in links:
        along[link.source].append(link)
    return along


def _backward(names: Sequence[str], links: Sequence[Link]) -> set[Link]:
    """Give the links that lead back to where a walk in depth has come from; without them nothing goes in circles."""
    along = _along(names, links)
    open_now: set[str] = set()
    done: set[str] = set()
    backward: set[Link] = set()
    for root in names:
        if root in done:
            continue
        stack = [(root, iter(along[root]))]
        open_now.add(root)
        while stack:
            name, ways = stack[-1]
            link = next(ways, None)
            if link is None:
                stack.pop()
                open_now.discard(name)
                done.add(name)
            elif link.target in open_now:
                backward.add(link)
            elif link.target not in done:
                open_now.add(link.target)
                stack.append((link.target, iter(along[link.target])))
    return backward


def _layer(names: Sequence[str], links: Sequence[Link]) -> dict[str, int]:
    """Give each card the layer below the lowest that leads to it."""
    along = _along(names, links)
    waiting = dict.fromkeys(names, 0)
    for link in links:
        waiting[link.target] += 1
    layer = dict.fromkeys(names, 0)
    free = [name for name in names if not waiting[name]]
    for name in free:
        for link in along[name]:
            layer[link.target] = max(layer[link.target], layer[name] + 1)
            waiting[link.target] -= 1
            if not waiting[link.target]:
                free.append(link.target)
    return layer


def _route(link: Link, layer: Mapping[str, int], back: bool) -> Iterable[Item]:
    first, last = layer[link.source], layer[link.target]
    yield Item("card", link.source, first)
    if back:
        yield from (Item("up", link.target, at) for at in range(first, last - 1, -1))
    else:
        yield from (Item("down", link.target, at) for at in range(first + 1, last))
    yield Item("card", link.target, last)


def _in_order(names: Sequence[str], links: Sequence[Link], layer: Mapping[str, int]) -> Iterable[Item]:
    """Give the cards as a reader comes to them, the first way of each first."""
    along = _along(names, links)
    seen: set[str] = set()
    waiting = list(reversed(names))
    while waiting:
        name = waiting.pop()
        if name not in seen:
            seen.add(name)
            yield Item("card", name, layer[name])
            waiting.extend(link.target for link in reversed(along[name]))


Piece = tuple[Item, Item, float]
"""A stretch of line from an item down to one in the next layer, and where it leaves the upper one (0 to 1)."""


def _pieces(routes: Iterable[tuple[Link, tuple[Item, ...]]]) -> list[Piece]:
    found: dict[tuple[Item, Item], float] = {}
    rows: dict[str, int] = {}
    routes = list(routes)
    for link, _ in routes:
        rows[link.source] = max(rows.get(link.source, 0), link.row)
    for link, route in routes:
        for one, other in pairwise(route):
            if one.layer == other.layer:
                continue
            upper, lower = sorted((one, other), key=lambda item: item.layer)
            leaves = (link.row + 1) / (rows[link.source] + 2) if upper.kind == "card" else 0.5
            found.setdefault((upper, lower), leaves)
    return [(upper, lower, leaves) for (upper, lower), leaves in found.items()]


def _few_crossings(rows: list[list[Item]], pieces: Sequence[Piece]) -> list[list[Item]]:
    """Order each layer by where its lines come from and lead to, back and forth; the best order met is kept."""
    above: dict[Item, list[Piece]] = {}
    below: dict[Item, list[Piece]] = {}
    for piece in pieces:
        below.setdefault(piece[0], []).append(piece)
        above.setdefault(piece[1], []).append(piece)
    best, fewest = [list(row) for row in rows], _crossings(rows, below)
    idle = 0
    for sweep in range(_SWEEPS):
        if not fewest or idle == _IDLE:
            break
        downwards = sweep % 2 == 0
        for at in range(1, len(rows)) if downwards else range(len(rows) - 2, -1, -1):
            beside = {item: place for place, item in enumerate(rows[at - 1 if downwards else at + 1])}
            own = {item: float(place) for place, item in enumerate(rows[at])}
            for item in rows[at]:
                if downwards and item in above:
                    own[item] = _mean([beside[upper] + leaves - 0.5 for upper, _, leaves in above[item]])
                elif not downwards and item in below:
                    own[item] = _mean([beside[lower] + 0.5 - leaves for _, lower, leaves in below[item]])
            rows[at].sort(key=own.__getitem__)
        _exchange(rows, above, below)
        count = _crossings(rows, below)
        idle = 0 if count < fewest else idle + 1
        if count < fewest:
            best, fewest = [list(row) for row in rows], count
    return best


def _exchange(
    rows: list[list[Item]], above: Mapping[Item, Sequence[Piece]], below: Mapping[Item, Sequence[Piece]]
) -> None:
    """Exchange neighbours of a layer wherever fewer of their lines cross then."""
    for at, row in enumerate(rows):
        upper = {item: place for place, item in enumerate(rows[at - 1])} if at else {}
        lower = {item: place for place, item in enumerate(rows[at + 1])} if at + 1 < len(rows) else {}
        ends = {
            item: (
                [upper[other] + leaves for other, _, leaves in above.get(item, ())],
                [float(lower[other]) for _, other, _ in below.get(item, ())],
            )
            for item in row
        }
        for place in range(len(row) - 1):
            one, other = ends[row[place]], ends[row[place + 1]]
            gain = sum((a > b) - (a < b) for side in (0, 1) for a in one[side] for b in other[side])
            if gain > 0:
                row[place], row[place + 1] = row[place + 1], row[place]


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)


def _crossings(rows: Sequence[Sequence[Item]], below: Mapping[Item, Sequence[Piece]]) -> int:
    """Count the pairs of lines that cross between neighbouring layers."""
    total = 0
    for upper_row, lower_row in pairwise(rows):
        place = {item: at for at, item in enumerate(lower_row)}
        ends = [
            place[lower]
            for item in upper_row
            for _, lower, _ in sorted(below.get(item, ()), key=lambda piece: piece[2])
        ]
        seen: list[int] = []
        for end in ends:
            total += len(seen) - bisect_right(seen, end)
            insort(seen, end)
    return total
