"""The pictures as characters and as SVG."""

import os
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant import doubt
from assistant.catalogue.catalogue import Catalogue
from assistant.pictures.album import Picture, as_svg, draw_pictures, in_characters, in_words
from assistant.pictures.cells import ASCII, UNICODE, Canvas, Role, Signs, text_of
from assistant.pictures.scale import Scale, scale_of
from tests.pictures.sheets import FULL, display, finished, sheet_of

FOLDER = Path(__file__).parent / "snapshots"
SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "<script>alert('&')</script>\x1b[31m\u202e\"]]>"


def scales() -> tuple[Scale, ...]:
    """A sure one, one with a doubtful limit, and a close one."""
    made = ((14.0, 1.0, 25.0, 0.0), (14.0, 1.0, 19.0, 1.5), (14.0, 1.0, 13.0, 0.0))
    return tuple(a_scale(*numbers) for numbers in made)


def a_scale(value: float, accuracy: float, limit: float, doubt_of_limit: float) -> Scale:
    one, other = doubt.within(value, accuracy), doubt.within(limit, doubt_of_limit)
    sides = (one, f"{value:.1f} °F"), (other, f"{limit:.1f} °F")
    return scale_of(f"superheat > {limit:.0f} °F", ("superheat",), *sides, one - other)


@pytest.fixture(scope="module")
def full(catalogue: Catalogue) -> tuple[Picture, ...]:
    return finished(catalogue, sheet_of(catalogue, **FULL), scales())


@pytest.fixture(scope="module")
def bare(catalogue: Catalogue) -> tuple[Picture, ...]:
    sheet = sheet_of(catalogue)
    return draw_pictures(sheet, display(catalogue, sheet), (), {})


def drawn(picture: Picture, width: int, height: int, signs: Signs = UNICODE) -> str:
    return "\n".join(text_of(row) for row in in_characters(picture, width, height, signs)) + "\n"


SIZES = [
    ("80x24", 78, 22, UNICODE),
    ("120x36", 118, 34, UNICODE),
    ("60x20", 58, 17, UNICODE),
    ("ascii_80x24", 78, 22, ASCII),
]


@pytest.mark.parametrize(("name", "width", "height", "signs"), SIZES, ids=[size[0] for size in SIZES])
@pytest.mark.parametrize(
    ("place", "what"), list(enumerate(("cycle", "balance", "scales"))), ids=lambda value: str(value)
)
def test_a_picture_is_as_stored(
    full: tuple[Picture, ...], place: int, what: str, name: str, width: int, height: int, signs: Signs
) -> None:
    """`COILSIDE_SNAPSHOTS=write` stores it anew, to be looked at before it is committed."""
    path = FOLDER / f"{what}_{name}.txt"
    shown = drawn(full[place], width, height, signs)
    if os.environ.get("COILSIDE_SNAPSHOTS") == "write":
        path.write_text(shown, encoding="utf-8")
    assert shown == path.read_text(encoding="utf-8")


@given(st.integers(40, 220), st.integers(3, 70), st.sampled_from([UNICODE, ASCII]))
@settings(max_examples=40, deadline=None)
def test_no_row_is_longer_than_the_width(
    full: tuple[Picture, ...], bare: tuple[Picture, ...], width: int, height: int, signs: Signs
) -> None:
    """At any size of a terminal; nothing is cut at the edge."""
    for picture in (*full, *bare):
        for row in in_characters(picture, width, height, signs):
            assert len(text_of(row)) <= width, text_of(row)


@pytest.mark.parametrize("height", [12, 17, 22, 34])
def test_the_chart_and_its_marks_fit_the_height(full: tuple[Picture, ...], height: int) -> None:
    """Only what is to be kept in mind may lie below the edge of the screen."""
    rows = in_characters(full[0], 78, height, UNICODE)[: max(height, 14)]
    shown = "\n".join(text_of(row) for row in rows)
    assert all(f"\n{sign} " in shown for sign in "1234")


def test_ascii_is_ascii(full: tuple[Picture, ...]) -> None:
    """But for the signs in numbers with units, which every text of the program has."""
    for picture in full:
        text = drawn(picture, 78, 22, ASCII)
        assert {sign for sign in text if not sign.isascii()} <= {"°", "±"}


def test_the_forms_differ_not_only_in_colour(full: tuple[Picture, ...]) -> None:
    """Curve, cycle and measured level have signs of their own."""
    roles: dict[str, set[Role]] = {}
    for row in in_characters(full[0], 78, 22, UNICODE):
        for span in row:
            for sign in span.text:
                roles.setdefault(sign, set()).add(span.role)
    assert roles["━"] == {Role.CYCLE}
    assert roles["┈"] == {Role.QUIET}
    assert all(Role.CYCLE not in found for sign, found in roles.items() if 0x2800 <= ord(sign) < 0x2900)


def test_the_balance_moves_with_the_readings(catalogue: Catalogue) -> None:
    """The diaphragm bows down where a sound valve opens, up where it shuts, and is flat in between."""
    bows = {}
    for suction in ("77 psig", "118 psig", "160 psig"):
        sheet = sheet_of(catalogue, suction_pressure=suction, evaporator_outlet_temperature="54 F")
        lines = drawn(draw_pictures(sheet, display(catalogue, sheet), (), {})[1], 78, 22).splitlines()
        bows[suction] = next(place for place in (3, 4, 5) if lines[place][15] == "━")
    assert bows == {"77 psig": 5, "118 psig": 4, "160 psig": 3}


def test_a_line_joins_its_cells() -> None:
    """Every row between the ends of a leg has a sign, and the ends are where they should be."""
    canvas = Canvas(20, 10, UNICODE)
    canvas.leg((2, 8), (12, 1))
    rows = [text_of(row) for row in canvas.rows()]
    assert all(rows[y].strip() for y in range(1, 9))
    assert not rows[0]
    assert len(rows[8]) - len(rows[8].lstrip()) == 2


# ------------------------------------------------------------------ SVG


def test_an_svg_is_well_formed_and_says_itself(full: tuple[Picture, ...], bare: tuple[Picture, ...]) -> None:
    """One element with title and description, without style, script or anything from elsewhere."""
    for picture in (*full, *bare):
        text = as_svg(picture)
        root = ElementTree.fromstring(text)
        assert root.tag == f"{SVG}svg"
        assert root.get("role") == "img"
        assert root.findtext(f"{SVG}title") == picture.title
        assert root.findtext(f"{SVG}desc") == " ".join(in_words(picture))
        kinds = {element.tag.removeprefix(SVG) for element in root.iter()}
        assert kinds <= {"svg", "title", "desc", "text", "line", "polyline", "polygon", "circle", "rect"}
        assert not {name for element in root.iter() for name in element.attrib} & {"style", "href", "onload"}


def test_the_svg_has_the_points_where_they_belong(full: tuple[Picture, ...]) -> None:
    """3 above 4 at the same enthalpy, 1 right of 4 at the same pressure, 2 right of all."""
    root = ElementTree.fromstring(as_svg(full[0]))
    circles = [(float(found.get("cx", "")), float(found.get("cy", ""))) for found in root.iter(f"{SVG}circle")]
    one, two, three, four = circles
    assert three[0] == four[0]
    assert three[1] < four[1]
    assert one[1] == four[1]
    assert one[0] > four[0]
    assert two[1] == three[1]
    assert two[0] == max(x for x, _ in circles)


def test_everything_of_an_svg_lies_on_its_page(full: tuple[Picture, ...]) -> None:
    """Nothing is cut off on paper."""
    for picture in full:
        root = ElementTree.fromstring(as_svg(picture))
        width, height = float(root.get("width", "")), float(root.get("height", ""))
        for element in root.iter():
            for name, value in element.items():
                if name in ("x", "x1", "x2", "cx"):
                    assert 0 <= float(value) <= width
                elif name in ("y", "y1", "y2", "cy"):
                    assert 0 <= float(value) <= height


def test_hostile_text_is_only_text(catalogue: Catalogue) -> None:
    """Markup, escape sequences and direction marks from a file or a keyboard do nothing in any form."""
    sheet = sheet_of(catalogue, HOSTILE)
    scale = scale_of(HOSTILE, (HOSTILE,), (doubt.within(1.0, 0.1), HOSTILE), (2.0, HOSTILE), doubt.within(-1.0, 0.1))
    for picture in draw_pictures(sheet, display(catalogue, sheet), (scale,), {}):
        text = as_svg(picture)
        ElementTree.fromstring(text)
        assert "<script" not in text
        assert "\x1b" not in text + "".join(in_words(picture))
        assert "\u202e" not in text
