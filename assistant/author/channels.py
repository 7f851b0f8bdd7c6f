"""Lines of a layered layout in the channels between layers: where they leave their cards, and in which order they lie.

Channel 3 lies above layer 3. Lines that lead to one card lie in one net; every net that changes its x has a lane of
its own height, and the nets are ordered so that few lines cross and none runs on top of one to another card.
Lengths are in pixels of the picture.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from assistant.author.layers import Item, Layers, Link

LANE = 11.0
GUTTER = 9.0
# Closer than this, two vertical lines would read as one; by so much one of them is then moved aside, so often at most.
_APART = 3.4
_NUDGE = 3.5
_NUDGES = 4
# What an overlap weighs beside a crossing.
_OVERLAP = 1000


@dataclass(frozen=True, slots=True)
class Size:
    """A card's size, and where its ways leave it: the height of each row below the card's top."""

    width: float
    height: float
    exits: tuple[float, ...] = ()


@dataclass
class Net:
    """All lines of one channel that belong together: x where they come from above and from below."""

    uppers: list[float] = field(default_factory=list)
    lowers: list[float] = field(default_factory=list)

    @property
    def span(self) -> tuple[float, float]:
        """From where to where it reaches."""
        xs = [*self.uppers, *self.lowers]
        return min(xs), max(xs)

    @property
    def is_straight(self) -> bool:
        """Whether it needs no lane."""
        low, high = self.span
        return high - low < 0.5


def ports_of(layers: Layers, sizes: Mapping[str, Size], x: Mapping[Item, float]) -> dict[Link, float]:
    """Give the x at which each way goes down from its card: the last at the middle, others at the side they lead to."""
    by_source: dict[str, list[Link]] = {}
    for link in layers.routes:
        by_source.setdefault(link.source, []).append(link)
    ports: dict[Link, float] = {}
    for name, links in by_source.items():
        size = sizes[name]
        middle = x[layers.routes[links[0]][0]]
        sides: dict[int, list[Link]] = {-1: [], 1: []}
        for link in sorted(links, key=lambda link: link.row):
            if from_below(link, layers, sizes):
                ports[link] = middle
            else:
                sides[-1 if x[layers.routes[link][1]] < middle else 1].append(link)
        for side, of_side in sides.items():
            # The uppermost row takes the outermost place, so that no line crosses another of its card.
            for place_in, link in enumerate(reversed(of_side)):
                ports[link] = middle + side * (size.width / 2 + GUTTER * (place_in + 1))
    return ports


def from_below(link: Link, layers: Layers, sizes: Mapping[str, Size]) -> bool:
    """Tell whether a way leaves its card at the lower edge: the last row does, unless it leads back."""
    return link.row == len(sizes[link.source].exits) - 1 and link not in layers.backward


def _nets(layers: Layers, x: Mapping[Item, float], ports: Mapping[Link, float]) -> dict[int, dict[str, Net]]:
    """Give the nets of each channel; a net belongs to the card that its lines lead to, up or down."""
    nets: dict[int, dict[str, Net]] = {channel: {} for channel in range(len(layers.rows) + 1)}
    done: set[tuple[Item, Item]] = set()
    for link, route in layers.routes.items():
        for one, other in pairwise(route):
            channel, key = channel_of(one, other, link.target)
            net = nets[channel].setdefault(key, Net())
            if one.kind == "card":
                net.uppers.append(ports[link])
            if (one, other) in done and one.kind != "card":
                continue
            done.add((one, other))
            for item in (one, other):
                if not (item is one and item.kind == "card"):
                    (net.uppers if item.layer < channel else net.lowers).append(x[item])
    return nets


def untangle(layers: Layers, x: dict[Item, float], ports: dict[Link, float]) -> dict[int, dict[str, Net]]:
    """Give the nets of each channel, after moving aside the few lines from above that no order of lanes keeps apart."""
    nets = _nets(layers, x, ports)
    for turn in range(_NUDGES):
        moved = False
        for channel, of_channel in nets.items():
            for at in list(_overlapping(list(of_channel.values()))):
                moved = True
                by = _NUDGE * (turn + 1) * (1 if turn % 2 == 0 else -1)
                _nudge(layers, x, ports, channel, at, by)
        if not moved:
            break
        nets = _nets(layers, x, ports)
    return nets


def _nudge(layers: Layers, x: dict[Item, float], ports: dict[Link, float], channel: int, at: float, by: float) -> None:
    """Move whatever comes into a channel from above at an x."""
    for link, route in layers.routes.items():
        if route[0].layer + 1 == channel and ports[link] == at:
            ports[link] += by
    for item in layers.rows[channel - 1] if channel else ():
        if item.kind != "card" and x[item] == at:
            x[item] += by


def channel_of(one: Item, other: Item, target: str) -> tuple[int, str]:
    """Give the channel between two items of a route, and the net there; channel 3 lies above layer 3."""
    if one.layer != other.layer:
        up = "up " if one.kind == "up" or other.kind == "up" else ""
        return max(one.layer, other.layer), up + target
    # From a card to the line that leads back: below both. From that line into its card: above both.
    return (one.layer + 1, "up " + target) if one.kind == "card" else (one.layer, target)


def lanes_of(nets: list[Net]) -> list[int]:
    """Give each net its height in the channel, counted from above, so that few lines cross and none overlap."""
    order = _order(nets)
    lanes = [0] * len(nets)
    for place_in, at in enumerate(order):
        low, high = nets[at].span
        for before in order[:place_in]:
            other_low, other_high = nets[before].span
            if low < other_high + LANE and other_low < high + LANE:
                lanes[at] = max(lanes[at], lanes[before] + 1)
    return lanes


def _order(nets: Sequence[Net]) -> list[int]:
    """Give the nets that need a lane from above to below; next is always the one that does best above all the rest."""
    waiting = [at for at, net in enumerate(nets) if not net.is_straight]
    costs = {(one, other): _cost(nets[one], nets[other]) for one in waiting for other in waiting if one != other}
    score = {
        one: sum(costs[one, other] - costs[other, one] % _OVERLAP for other in waiting if one != other)
        for one in waiting
    }
    order = []
    while waiting:
        best = min(waiting, key=score.__getitem__)
        waiting.remove(best)
        order.append(best)
        for one in waiting:
            score[one] -= costs[one, best] - costs[best, one] % _OVERLAP
    return order


def _overlapping(nets: Sequence[Net]) -> Iterator[float]:
    """Give each x at which a line from above would run on top of one to below, whatever the order of the lanes."""
    order = _order(nets)
    for place_in, upper in enumerate(order):
        for lower in order[place_in + 1 :]:
            for x in nets[lower].uppers:
                if any(abs(x - other) < _APART for other in nets[upper].lowers):
                    yield x


def _cost(upper: Net, lower: Net) -> int:
    """Count what goes wrong between two nets when the first lies above the second: crossings, and overlaps most."""
    low, high = upper.span
    crossings = sum(low < x < high for x in lower.uppers)
    low, high = lower.span
    crossings += sum(low < x < high for x in upper.lowers)
    overlaps = sum(abs(one - other) < _APART for one in lower.uppers for other in upper.lowers)
    return crossings + _OVERLAP * overlaps
