"""The layered layout: nothing overlaps, no line runs through a card, and lines that meet lead to the same card."""

from collections.abc import Iterator
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.author.cards import card
from assistant.author.channels import Size
from assistant.author.layers import Link, arrange
from assistant.author.picture import picture
from assistant.author.placing import Layout, Point, place
from assistant.catalogue.catalogue import Catalogue
from assistant.source.shipped import shipped_folder
from assistant.tree.reader import read_tree
from assistant.tree.shelf import tree_files

Box = tuple[float, float, float, float]
Stretch = tuple[Point, Point]
FILES = tree_files(shipped_folder("trees"))


@st.composite
def graphs(draw: st.DrawFn) -> tuple[list[Link], dict[str, Size]]:
    """Any graph in which neighbouring rows of a card lead to different cards; loops and loose cards among them."""
    names = [f"n{number}" for number in range(draw(st.integers(1, 14)))]
    links: list[Link] = []
    sizes: dict[str, Size] = {}
    for name in names:
        targets = draw(st.lists(st.sampled_from(names), max_size=4))
        targets = [one for at, one in enumerate(targets) if at == 0 or targets[at - 1] != one]
        links.extend(Link(name, target, at) for at, target in enumerate(targets))
        height = draw(st.integers(40, 300)) + 30.0 * len(targets)
        sizes[name] = Size(200.0, height, tuple(40.0 + 30.0 * at for at in range(len(targets))))
    return links, sizes


def laid_out(links: list[Link], sizes: dict[str, Size]) -> tuple[Layout, dict[str, Box]]:
    layout = place(arrange(list(sizes), links), sizes)
    boxes = {name: (x, y, x + sizes[name].width, y + sizes[name].height) for name, (x, y) in layout.corners.items()}
    return layout, boxes


def stretches(line: tuple[Point, ...]) -> Iterator[Stretch]:
    """The stretches of a line, each with its smaller coordinates first."""
    yield from ((min(one, other), max(one, other)) for one, other in pairwise(line) if one != other)


def through(stretch: Stretch, box: Box) -> bool:
    """Whether a stretch has a point inside of a box, its edges left out."""
    (x1, y1), (x2, y2) = stretch
    left, top, right, bottom = box
    return x1 < right - 0.2 and x2 > left + 0.2 and y1 < bottom - 0.2 and y2 > top + 0.2


def check(links: list[Link], sizes: dict[str, Size]) -> None:
    layout, boxes = laid_out(links, sizes)
    for one, other in combinations(boxes.values(), 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
    for link, line in layout.lines.items():
        assert all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise(line)), link
        left, top, right, bottom = boxes[link.source]
        assert line[0][1] in (
            pytest.approx(bottom, abs=0.2),
            pytest.approx(top + sizes[link.source].exits[link.row], abs=0.2),
        )
        assert left - 0.2 <= line[0][0] <= right + 0.2
        target = boxes[link.target]
        assert line[-1] == (pytest.approx((target[0] + target[2]) / 2, abs=0.2), pytest.approx(target[1], abs=0.2))
        for stretch in stretches(line):
            assert not any(through(stretch, box) for box in boxes.values()), link
            assert all(0 <= x <= layout.width and 0 <= y <= layout.height for x, y in stretch), link
    tracks: dict[tuple[int, float], list[tuple[float, float, str]]] = {}
    for link, line in layout.lines.items():
        for one, other in stretches(line):
            axis = 0 if one[1] == other[1] else 1
            tracks.setdefault((axis, one[1 - axis]), []).append((one[axis], other[axis], link.target))
    for track, parts in tracks.items():
        for (low, high, to), (other_low, other_high, other_to) in combinations(parts, 2):
            assert to == other_to or min(high, other_high) - max(low, other_low) <= 0.2, (track, to, other_to)


@settings(max_examples=150, deadline=None)
@given(graphs())
def test_any_graph_is_laid_out_without_overlap(graph: tuple[list[Link], dict[str, Size]]) -> None:
    """Cards keep apart, lines run beside them and end at their target, and only lines to one card share a stretch."""
    check(*graph)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_shipped_tree_is_laid_out_without_overlap(path: object, catalogue: Catalogue) -> None:
    """The same holds for the trees that are shipped, with their words on the cards."""
    tree, problems = read_tree(path)  # type: ignore[arg-type]
    assert tree is not None
    assert problems == []
    cards = {name: card(box) for name, box in picture(tree, catalogue).boxes.items()}
    links = [Link(name, row.target, at) for name, laid in cards.items() for at, row in enumerate(laid.rows)]
    check(links, {name: laid.size for name, laid in cards.items()})
