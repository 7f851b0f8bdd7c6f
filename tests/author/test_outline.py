"""The outline of a tree in the terminal."""

from assistant.author.outline import outline
from assistant.author.picture import with_call, with_coverage
from assistant.catalogue.catalogue import Catalogue
from tests.author.conftest import TREE
from tests.author.drawings import HOSTILE, picture_of


def test_an_outline_shows_every_node_once_and_refers_to_it_after(catalogue: Catalogue) -> None:
    """Nodes come as a call reaches them, each way with the node it leads to and that node's number."""
    text = TREE.replace("limits.high_superheat", "limits.superheat_band")
    assert outline(picture_of(text, catalogue)) == (
        "Small (small, version 1)\n"
        "  complaints: not cold\n"
        "  asks first: Refrigerant\n"
        "\n"
        "1. air\n"
        "   ask: How does the air filter look?\n"
        "   - filter_condition is clogged -> choked (2)\n"
        "   - cannot tell -> feed (3)\n"
        "   - otherwise -> feed (3)\n"
        "\n"
        "2. choked  CAUSE  Clogged air filter\n"
        "   because: air filter\n"
        "\n"
        "3. feed\n"
        "   work out: Superheat at the outdoor unit\n"
        "   - superheat > limits.superheat_band -> starved (4)\n"
        "       limits.superheat_band = 5.0 °F\n"
        "   - cannot tell -> open_end (5)\n"
        "   - otherwise -> all_well (6)\n"
        "\n"
        "4. starved\n"
        "   do: Let it settle\n"
        "   work out: Superheat at the outdoor unit\n"
        "   - superheat > 60 F -> open_end (5)\n"
        "   - cannot tell -> open_end (5)\n"
        "   - otherwise -> all_well (6)\n"
        "\n"
        "5. open_end  UNDECIDED\n"
        "   say: Come back with gauges.\n"
        "\n"
        "6. all_well  NO FAULT\n"
        "   say: The coil is fed as it should be.\n"
    )


def test_an_outline_fits_its_width(catalogue: Catalogue) -> None:
    """On a narrow screen long lines are broken between words."""
    assert max(len(line) for line in outline(picture_of(TREE, catalogue), 44).splitlines()) <= 44


def test_marks_are_signs_and_words(catalogue: Catalogue) -> None:
    """A marked call has a sign and its steps, a way that no call takes has its own, all without colour."""
    shown = with_coverage(picture_of(TREE, catalogue), {("air", 0): 1, ("air", 2): 1}, {"all_well": 1}, 2)
    text = outline(with_call(shown, "well fed", [("air", 2), ("feed", 2)]))
    assert ">> 1. air  step 1\n" in text
    assert "   >> otherwise -> feed (3)  [1]  step 1\n" in text
    assert "   - cannot tell -> feed (3)  [0 !!]\n" in text
    assert ">> 6. all_well  NO FAULT  [1]  step 3\n" in text
    assert text.count(">>") == 6


def test_colour_adds_nothing_to_the_words(catalogue: Catalogue) -> None:
    """With the looks taken away the painted outline is the plain one."""
    shown = picture_of(HOSTILE, catalogue)
    painted = outline(shown, 80, lambda text, sort: f"\x1b[1m{text}\x1b[0m" if sort else text)
    assert painted != outline(shown)
    assert painted.replace("\x1b[1m", "").replace("\x1b[0m", "") == outline(shown)
