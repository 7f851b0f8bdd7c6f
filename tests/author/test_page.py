"""The drawing as a page: valid, self-contained, readable without colour, and safe whatever a tree says."""

import base64
import hashlib
import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from assistant.author.cards import PAD, WIDTH, card, width_of
from assistant.author.page import page
from assistant.author.picture import Picture, picture, with_call, with_coverage
from assistant.author.svg import anchor, round_corners
from assistant.catalogue.catalogue import Catalogue
from assistant.source.shipped import shipped_folder
from assistant.tree.reader import read_tree
from tests.author.conftest import TREE
from tests.author.drawings import HOSTILE, NAME_WITHOUT_END, USING, WORDS, picture_of, tree_of

SVG = "{http://www.w3.org/2000/svg}"


class Elements(HTMLParser):
    """Collects the elements of a page with their attributes, and its texts."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def drawing(shown: Picture) -> ElementTree.Element:
    """The SVG of a page, read as XML."""
    found = re.search(r"<svg xmlns.*?</svg>\n(?=<pre)", page(shown), re.DOTALL)
    assert found is not None
    return ElementTree.fromstring(found.group())


def cards(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    """The cards by their ids."""
    return {group.attrib["id"]: group for group in root.iter(f"{SVG}g") if "card" in group.get("class", "").split()}


def words(element: ElementTree.Element) -> str:
    return " ".join("".join(text.itertext()) for text in element.iter(f"{SVG}text"))


def shape(element: ElementTree.Element) -> str:
    """The outline of a card as its commands, without the lengths."""
    found = next(path for path in element.iter(f"{SVG}path") if path.get("class") == "shape")
    return re.sub(r"[\d. ]", "", found.attrib["d"])


@pytest.fixture(scope="module")
def poor_cooling(catalogue: Catalogue) -> Picture:
    tree, _ = read_tree(shipped_folder("trees") / "poor_cooling.yaml")
    assert tree is not None
    return picture(tree, catalogue)


def test_every_node_has_a_card_that_links_lead_to(poor_cooling: Picture) -> None:
    """Each card has an id of its own; each row and card is a link to a card that is there."""
    root = drawing(poor_cooling)
    found = cards(root)
    assert set(found) == {anchor(name) for name in poor_cooling.boxes}
    links = [link.attrib["href"] for link in root.iter(f"{SVG}a")]
    assert {link.removeprefix("#") for link in links} == set(found)
    assert len(links) > len(found)


def test_a_line_leads_from_each_row_to_its_target(poor_cooling: Picture) -> None:
    """There is one line for each pair of a node and a node that it leads to in one go."""
    lines = [line for line in drawing(poor_cooling).iter(f"{SVG}path") if "line" in line.get("class", "").split()]
    drawn = {(line.attrib["data-from"], line.attrib["data-to"]) for line in lines}
    meant = {(anchor(name), anchor(arrow.target)) for name, box in poor_cooling.boxes.items() for arrow in box.arrows}
    assert drawn == meant


def test_words_fit_their_cards(poor_cooling: Picture, catalogue: Catalogue) -> None:
    """No line is wider than its card, and none stands below its lower edge, however long a word is."""
    for shown in (poor_cooling, picture_of(HOSTILE, catalogue)):
        for box in shown.boxes.values():
            laid = card(box)
            lines = [*laid.lines, *(line for row in laid.rows for line in row.lines)]
            assert all(line.x + width_of(line.text, line.style) <= WIDTH - PAD + 0.1 for line in lines)
            assert all(line.y < laid.height for line in lines)


def test_ends_differ_by_shape_and_by_word(catalogue: Catalogue) -> None:
    """Without any colour, a step, a cause, no fault, undecided, a used tree and a missing node are told apart."""
    found = cards(drawing(picture_of(HOSTILE, catalogue))) | cards(drawing(picture_of(USING, catalogue)))
    names = ("first", "cause_node", "sound", NAME_WITHOUT_END, "bench")
    assert len({shape(found[anchor(name)]) for name in names}) == len(names)
    said = {name: words(found[anchor(name)]) for name in (*names, "nowhere")}
    tags = ("START", "CAUSE", "NO FAULT", "UNDECIDED", "USES THE TREE", "MISSING")
    assert all(tag in said[name] for name, tag in zip((*names, "nowhere"), tags, strict=True) if name != "bench")
    assert "START" in said["bench"]


def test_what_a_tree_says_is_never_more_than_words(catalogue: Catalogue) -> None:
    """Tags in a tree's words become text: no element comes from them, and the words can be read in full."""
    text = page(picture_of(HOSTILE, catalogue))
    found = Elements(text)
    tags = {tag for tag, _ in found.found}
    assert tags.isdisjoint({"img", "b", "i", "u", "br", "iframe"})
    assert [tag for tag, _ in found.found].count("script") == 1
    assert not [name for _, attributes in found.found for name in attributes if name.startswith("on")]
    assert WORDS.split()[0] in "".join(found.texts)
    assert WORDS.split()[0] in words(drawing(picture_of(HOSTILE, catalogue)))


def test_the_page_needs_and_allows_nothing_from_elsewhere(catalogue: Catalogue) -> None:
    """No address but those within the page; its policy allows its own style and script alone, by their digests."""
    text = page(picture_of(TREE, catalogue))
    found = Elements(text)
    addresses = [
        value for _, attributes in found.found for name, value in attributes.items() if name in ("href", "src")
    ]
    assert addresses
    assert all(value and value.startswith("#") for value in addresses)
    assert "url(http" not in text
    assert "@import" not in text
    policy = next(attributes["content"] for tag, attributes in found.found if tag == "meta" and "content" in attributes)
    assert policy is not None
    assert policy.startswith("default-src 'none'; ")
    for tag in ("style", "script"):
        inside = re.search(rf"<{tag}>(.*?)</{tag}>", text, re.DOTALL)
        assert inside is not None
        digest = base64.b64encode(hashlib.sha256(inside.group(1).encode()).digest()).decode()
        assert f"{tag}-src 'sha256-{digest}'" in policy


def test_the_page_is_for_light_dark_and_paper(catalogue: Catalogue) -> None:
    """The style answers to a dark screen and to print, where the tree also stands in words."""
    text = page(picture_of(TREE, catalogue))
    assert "@media (prefers-color-scheme: dark)" in text
    assert "@media print" in text
    assert "1. air" in re.search(r'<pre id="words">(.*?)</pre>', text, re.DOTALL).group(1)  # type: ignore[union-attr]


def test_a_call_is_marked_by_lines_and_numbers(catalogue: Catalogue) -> None:
    """The lines of the call are of a class of their own and lie on top; its cards carry their numbers."""
    root = drawing(with_call(picture_of(TREE, catalogue), "well fed", [("air", 2), ("feed", 2)]))
    lines = [line for line in root.iter(f"{SVG}path") if "line" in line.get("class", "").split()]
    called = ["called" in line.attrib["class"].split() for line in lines]
    assert called == sorted(called)
    assert sum(called) == 2
    orders = {name: "".join(group.itertext()) for name, one in cards(root).items()
              for group in one.iter(f"{SVG}g") if group.get("class") == "order"}  # fmt: skip
    assert orders == {anchor("air"): "1", anchor("feed"): "2", anchor("all_well"): "3"}


def test_a_way_that_no_call_takes_stands_out_in_words(catalogue: Catalogue) -> None:
    """Each way says how many calls take it, and "no call" where none does."""
    counted = with_coverage(picture_of(TREE, catalogue), {("air", 0): 1, ("air", 2): 2}, {"choked": 1}, 3)
    said = words(cards(drawing(counted))[anchor("air")])
    assert "1 call" in said
    assert "2 calls" in said
    assert "no call" in said


def test_an_empty_looking_tree_is_drawn(catalogue: Catalogue) -> None:
    """A tree of one end is a page too."""
    text = "tree: t\nversion: 1\ntitle: T\ncomplaints: [x]\nstart: a\nnodes:\n  a: {no_fault: Fine.}\n"
    assert set(cards(drawing(picture(tree_of(text), catalogue)))) == {"node-a"}


def test_corners_are_rounded_and_needless_points_left_out() -> None:
    """A line with one corner is two straight parts and a curve; points along a straight part add nothing."""
    assert round_corners([(0, 0), (0, 10), (0, 40), (40, 40)]) == "M0 0 L0 33 Q0 40 7 40 L40 40"
    assert round_corners([(0, 0), (0, 5), (0, 9)]) == "M0 0 L0 9"
