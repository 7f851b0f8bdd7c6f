"""The layered layout of a graph, second half: where cards stand, and how the lines run between them.

Lines are drawn along the axes. They pass a layer only beside its cards, and change their x only in the channel above
a layer, where each has a height of its own; so no line runs through a card, and no two run along one another.
Lengths are in pixels of the picture.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from assistant.author.channels import GUTTER, LANE, Size, channel_of, from_below, lanes_of, ports_of, untangle
from assistant.author.layers import Item, Layers, Link

GAP = 26.0
_LINE_WIDTH = 16.0
_ABOVE_LANES = 16.0
_BELOW_LANES = 24.0
_ROUNDS = 12
_MARGIN = 24.0

Point = tuple[float, float]


@dataclass(frozen=True)
class Layout:
    """Where everything is: the upper left corner of each card, the points of each line, and the size of the whole."""

    corners: Mapping[str, Point]
    lines: Mapping[Link, tuple[Point, ...]]
    width: float
    height: float


def place(layers: Layers, sizes: Mapping[str, Size]) -> Layout:
    """Give everything its place; `sizes` are those of the cards."""
    middles = _middles(layers, sizes)
    ports = ports_of(layers, sizes, middles)
    nets = untangle(layers, middles, ports)
    lanes = {channel: lanes_of(list(of_channel.values())) for channel, of_channel in nets.items()}
    tops, bottoms, starts = _heights(layers, sizes, lanes)
    lane_of: dict[tuple[int, str], float] = {}
    for channel, of_channel in nets.items():
        for (name, _), lane in zip(of_channel.items(), lanes[channel], strict=True):
            lane_of[channel, name] = starts[channel] + lane * LANE
    lines = {link: tuple(_line(link, layers, sizes, middles, ports, tops, lane_of)) for link in layers.routes}
    corners = {
        item.name: (middles[item] - sizes[item.name].width / 2, tops[item.layer])
        for row in layers.rows
        for item in row
        if item.kind == "card"
    }
    return _shift_to_margin(corners, lines, sizes, bottoms[-1] if bottoms else 0.0)


def _half(item: Item, sizes: Mapping[str, Size]) -> float:
    if item.kind != "card":
        return _LINE_WIDTH / 2
    size = sizes[item.name]
    return size.width / 2 + GAP / 2 + GUTTER * max(len(size.exits) - 1, 0)


# ------------------------------------------------------------------ x of cards and lines


def _middles(layers: Layers, sizes: Mapping[str, Size]) -> dict[Item, float]:
    """Give each item its x, as near to what it is joined to as the order of its layer allows."""
    x: dict[Item, float] = {}
    for row in layers.rows:
        at = 0.0
        for item in row:
            half = _half(item, sizes)
            x[item] = at + half
            at += 2 * half
        for item in row:
            x[item] -= at / 2
    pulls = _pulls(layers, sizes)
    count = len(layers.rows)
    for turn in range(_ROUNDS):
        settled = turn >= _ROUNDS - 3
        for at in [*range(count), *range(count - 1, -1, -1)]:
            row = layers.rows[at]
            wishes = []
            for item in row:
                chosen = [
                    (x[other] + shift, weight)
                    for other, shift, weight in pulls.get(item, ())
                    if settled or turn % 2 == (other.layer > at)
                ]
                wishes.append([*chosen, (x[item], 0.05)])
            x.update(zip(row, _settle([_half(item, sizes) for item in row], wishes), strict=True))
    return x


def _pulls(layers: Layers, sizes: Mapping[str, Size]) -> dict[Item, list[tuple[Item, float, float]]]:
    """Give what each item would like to stand below, above or beside: the other, by how much shifted, how much."""
    pulls: dict[Item, list[tuple[Item, float, float]]] = {}
    seen: set[tuple[Item, Item]] = set()
    for link, route in layers.routes.items():
        last = link.row == len(sizes[link.source].exits) - 1
        for one, other in pairwise(route):
            if (one, other) in seen:
                continue
            seen.add((one, other))
            shift, weight = 0.0, 2.0
            if one.kind != "card" and other.kind != "card":
                weight = 8.0
            elif one.layer == other.layer:
                card = one if one.kind == "card" else other
                shift = _half(card, sizes) + _LINE_WIDTH / 2
                shift = shift if card is one else -shift
            elif one.kind == "card" and last:
                weight = 5.0
            pulls.setdefault(other, []).append((one, shift, weight))
            pulls.setdefault(one, []).append((other, -shift, weight))
    return pulls


def _settle(halves: Sequence[float], wishes: Sequence[Sequence[tuple[float, float]]]) -> list[float]:
    """Place items in a row without overlap, at the least sum of weighted distances from what they wish.

    Pooling of neighbours that would overlap, each pool at its weighted median (isotonic regression in L1).
    """
    offsets = [0.0]
    for one, other in pairwise(halves):
        offsets.append(offsets[-1] + one + other)
    pools: list[tuple[list[tuple[float, float]], float, int]] = []
    for offset, wished in zip(offsets, wishes, strict=True):
        values = sorted((value - offset, weight) for value, weight in wished)
        pool = (values, _median(values), 1)
        while pools and pools[-1][1] > pool[1]:
            before = pools.pop()
            values = sorted([*before[0], *pool[0]])
            pool = (values, _median(values), before[2] + pool[2])
        pools.append(pool)
    placed = [middle for _, middle, count in pools for _ in range(count)]
    return [middle + offset for middle, offset in zip(placed, offsets, strict=True)]


def _median(values: Sequence[tuple[float, float]]) -> float:
    """Return the weighted median of values in their order."""
    half = sum(weight for _, weight in values) / 2
    total = 0.0
    for value, weight in values:
        total += weight
        if total >= half:
            return value
    raise AssertionError("nothing to place")


# ------------------------------------------------------------------ y, and the lines


def _heights(
    layers: Layers, sizes: Mapping[str, Size], lanes: Mapping[int, Sequence[int]]
) -> tuple[list[float], list[float], list[float]]:
    """Give the top and bottom of each layer, and where the lanes of each channel begin."""
    tops, bottoms, starts = [], [], []
    y = 0.0
    for channel in range(len(layers.rows) + 1):
        starts.append(y + _ABOVE_LANES)
        y += _ABOVE_LANES + LANE * max(lanes[channel], default=0) + _BELOW_LANES
        if channel < len(layers.rows):
            tops.append(y)
            cards = [sizes[item.name].height for item in layers.rows[channel] if item.kind == "card"]
            y += max(cards, default=0.0)
            bottoms.append(y)
    # The channel below the last layer counts only where something leads back from there.
    return tops, [*bottoms[:-1], y if lanes[len(layers.rows)] else bottoms[-1]], starts


def _line(
    link: Link,
    layers: Layers,
    sizes: Mapping[str, Size],
    x: Mapping[Item, float],
    ports: Mapping[Link, float],
    tops: Sequence[float],
    lane_of: Mapping[tuple[int, str], float],
) -> Iterable[Point]:
    """Give the corners of a line from the row that it leaves to the top of its target."""
    route = layers.routes[link]
    source = route[0]
    size = sizes[link.source]
    middle, at = x[source], ports[link]
    top = tops[source.layer]
    if from_below(link, layers, sizes):
        yield at, top + size.height
    else:
        y = top + size.exits[link.row]
        yield middle + (size.width / 2 if at > middle else -size.width / 2), y
        yield at, y
    for one, other in pairwise(route):
        lane = lane_of[channel_of(one, other, link.target)]
        if abs(x[other] - at) > 0.5:
            yield at, lane
            yield x[other], lane
        elif other.kind == "up" or one.kind == "up":
            yield at, lane
        at = x[other]
    yield at, tops[route[-1].layer]


def _shift_to_margin(
    corners: Mapping[str, Point], lines: Mapping[Link, tuple[Point, ...]], sizes: Mapping[str, Size], bottom: float
) -> Layout:
    """Move everything so that the picture begins at its margin."""
    xs = [x for line in lines.values() for x, _ in line]
    left = min([*(x for x, _ in corners.values()), *xs], default=0.0)
    right = max([*(x + sizes[name].width for name, (x, _) in corners.items()), *xs], default=0.0)

    def moved(point: Point) -> Point:
        return round(point[0] - left + _MARGIN, 1), round(point[1], 1)

    return Layout(
        corners={name: moved(corner) for name, corner in corners.items()},
        lines={link: tuple(moved(point) for point in line) for link, line in lines.items()},
        width=round(right - left + 2 * _MARGIN, 1),
        height=round(bottom + _MARGIN, 1),
    )
