"""The drawing as flowchart text: its grammar, its escapes, its marks."""

import html
import re

from assistant.author.mermaid import mermaid
from assistant.author.picture import Picture, with_call, with_coverage
from assistant.catalogue.catalogue import Catalogue
from tests.author.conftest import TREE
from tests.author.drawings import HOSTILE, USING, WORDS, picture_of

# The forms of the flowchart grammar that are used, from memory; a rendering was looked at with Mermaid 11.
LABEL = r'"(?P<label>[^"`|\\&]*)"'
NODE = re.compile(rf"  (?P<id>n\d+)(?:\[|\{{\{{|\(\[|>|\[\[|\[/){LABEL}(?:\]|\}}\}}|\]\)|\]\]|/\])")
EDGE = re.compile(rf"  (?P<from>n\d+) (?:-->|-\.->)\|{LABEL}\| (?P<to>n\d+)")
OTHER = re.compile(r"%% .*|flowchart TD|  (?:classDef|class|linkStyle) [\w,:# -]+")


def read(text: str) -> tuple[dict[str, str], list[tuple[str, str, str]]]:
    """The labels of the nodes by id, and the edges with theirs; every line must be of one of the forms."""
    nodes: dict[str, str] = {}
    edges: list[tuple[str, str, str]] = []
    for line in text.splitlines():
        node, edge = NODE.fullmatch(line), EDGE.fullmatch(line)
        if node:
            nodes[node["id"]] = unescaped(node["label"])
        elif edge:
            edges.append((edge["from"], edge["to"], unescaped(edge["label"])))
        else:
            assert OTHER.fullmatch(line), line
    return nodes, edges


def unescaped(label: str) -> str:
    """A label as it is shown; besides line ends no tag may be in it."""
    shown = label.replace("<br>", "\n")
    assert "<" not in shown
    assert ">" not in shown
    return html.unescape(re.sub(r"#(\d+);", r"&#\1;", shown))


def edges_of(shown: Picture) -> list[tuple[str, str]]:
    ids = {name: f"n{number}" for number, name in enumerate(shown.boxes, start=1)}
    return [(ids[name], ids[arrow.target]) for name, box in shown.boxes.items() for arrow in box.arrows]


def test_each_node_and_each_way_has_a_line(catalogue: Catalogue) -> None:
    """Every box is a node and every arrow an edge, in their order; leaves have shapes of their own."""
    shown = picture_of(TREE, catalogue)
    text = mermaid(shown)
    nodes, edges = read(text)
    assert len(nodes) == len(shown.boxes)
    assert [(one, other) for one, other, _ in edges] == edges_of(shown)
    assert re.search(r'n\d+\{\{"CAUSE', text)
    assert re.search(r'n\d+\(\["NO FAULT', text)
    assert re.search(r'n\d+>"UNDECIDED', text)
    assert re.search(r'n\d+\[\["USES', mermaid(picture_of(USING, catalogue)))


def test_words_of_a_tree_stay_words(catalogue: Catalogue) -> None:
    """Quotes, pipes, tags, ticks and hashes are written so that a label holds them and nothing else sees them."""
    nodes, edges = read(mermaid(picture_of(HOSTILE, catalogue)))
    assert "".join(WORDS.split()) in "".join(nodes["n1"].split())
    assert "superheat > limits.superheat_band" in " ".join(edges[1][2].split())


def test_a_call_is_marked_by_class_and_number(catalogue: Catalogue) -> None:
    """Nodes on the way have the class, edges on it the style, and both the number of the step."""
    shown = with_call(picture_of(TREE, catalogue), "well fed", [("air", 2), ("feed", 2)])
    text = mermaid(shown)
    nodes, edges = read(text)
    ids = {name: f"n{number}" for number, name in enumerate(shown.boxes, start=1)}
    marked = re.search(r"  class ([n\d,]+) called", text)
    assert marked is not None
    assert set(marked.group(1).split(",")) == {ids["air"], ids["feed"], ids["all_well"]}
    styled = re.search(r"linkStyle ([\d,]+) ", text)
    assert styled is not None
    on_the_way = [edges[int(number)] for number in styled.group(1).split(",")]
    assert [(one, other) for one, other, _ in on_the_way] == [(ids["air"], ids["feed"]), (ids["feed"], ids["all_well"])]
    assert nodes[ids["feed"]].startswith("step 2 of the call: feed")


def test_counts_stand_on_the_edges(catalogue: Catalogue) -> None:
    """Each edge says how many calls take it."""
    counted = with_coverage(picture_of(TREE, catalogue), {("air", 0): 1}, {"choked": 1}, 1)
    _, edges = read(mermaid(counted))
    assert [label.split("\n")[-1] for _, _, label in edges[:2]] == ["1 call", "no call"]
