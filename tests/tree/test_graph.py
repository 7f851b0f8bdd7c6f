"""The way through a tree as a graph."""

from hypothesis import given
from hypothesis import strategies as st

from assistant.tree.graph import loops, reached, turned_around

NAMES = "abcdefg"
LINKS = st.fixed_dictionaries(
    {name: st.lists(st.sampled_from(NAMES), unique=True, max_size=3).map(tuple) for name in NAMES}
)


@given(LINKS)
def test_a_loop_is_found_in_every_group_that_goes_round(along: dict[str, tuple[str, ...]]) -> None:
    """Every loop given is one, and every node that can come back to itself is in the group of exactly one."""
    found = list(loops(along))
    for loop in found:
        for name, following in zip(loop, (*loop[1:], loop[0]), strict=True):
            assert following in along[name]
    comes_back = {name for name in NAMES if name in reached(along[name], along)}
    groups = [
        frozenset(n for n in comes_back if n in reached((loop[0],), along) and loop[0] in reached((n,), along))
        for loop in found
    ]
    assert len(set(groups)) == len(groups)
    assert set().union(*groups) == comes_back


@given(LINKS)
def test_turning_around_turns_every_link(along: dict[str, tuple[str, ...]]) -> None:
    """A node is reached from another exactly if that one is reached when all links are turned around."""
    back = turned_around(along)
    for first in NAMES:
        for second in NAMES:
            assert (second in reached((first,), along)) == (first in reached((second,), back))
