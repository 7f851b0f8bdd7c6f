"""What has surely happened on every way by which a call can come to a node."""

from collections.abc import Iterable, Mapping

from assistant.tree.graph import Links, turned_around


def surely(starts: Iterable[str], along: Links, gives: Mapping[str, Iterable[str]]) -> dict[str, frozenset[str]]:
    """Give, for every node that can be reached, what was given on all ways to it, by itself included."""
    found: dict[str, frozenset[str]] = {}
    back = turned_around(along)
    own = {name: frozenset(gives.get(name, ())) for name in along}
    beginnings = set(starts)
    waiting = list(dict.fromkeys(starts))
    while waiting:
        name = waiting.pop()
        # A node that no way has come to yet says nothing so far.
        ways = [found[source] for source in back.get(name, ()) if source in found]
        common = frozenset() if name in beginnings or not ways else frozenset.intersection(*ways)
        now = common | own[name]
        if found.get(name) != now:
            found[name] = now
            waiting.extend(along[name])
    return found
