"""Numbers as a hurried hand types them; the wordings are common speech of the trade, from memory, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant import doubt
from assistant.call.typed_numbers import read_number
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import QuantityError
from assistant.quantity import Kind, unit_names
from tests.call.small import small_library, talk

TEMPERATURES = ["95 degrees", "95deg", "95°", "95 deg F", "95 degrees f", "95.", " 95 f!", "95 °F", "95F"]
PRESSURES = ["118.", "118#", "118 #", "118 pounds", "118psi", "r410 118 psig", "R-410A 118", "r22: 118", "118 lbs"]


@pytest.mark.parametrize("text", TEMPERATURES)
def test_degrees_need_no_letter(text: str) -> None:
    """A bare degree is in the unit that the screen shows."""
    assert read_number(text, Kind.TEMPERATURE, "F").text() == "95 F"


@pytest.mark.parametrize("text", PRESSURES)
def test_pressures_as_they_are_jotted_down(text: str) -> None:
    """Pounds are gauge pounds, and a refrigerant in front says nothing new."""
    assert read_number(text, Kind.PRESSURE, "psig").text() == "118 psig"


@pytest.mark.parametrize("text", ["20 inHg", '20"', "20 in hg", "20 inches", "20 inches of mercury", "20 in. vac"])
def test_inches_on_a_gauge_are_vacuum(text: str) -> None:
    """A compound gauge shows inches only below the atmosphere."""
    found = read_number(text, Kind.PRESSURE, "psig")
    assert found.unit.symbol == "inHg vac"
    assert found.value < 0


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("95-100", "97.5 ± 2.5 F"), ("95 to 100 F", "97.5 ± 2.5 F"), ("95 – 100", "97.5 ± 2.5 F"),
        ("97 +/- 2", "97 ± 2 F"), ("97 ± 2 °F", "97 ± 2 F"), ("-5 to 5", "0 ± 5 F"), ("35c-37c", "36 ± 1 C"),
        ("abt 95", "95 ± 2.5 F"), ("about 90", "90 ± 5 F"), ("~ 93", "93 ± 0.5 F"), ("around 95 degrees", "95 ± 2.5 F"),
        ("minus 5", "-5 F"), ("approx. 41", "41 ± 0.5 F"),
    ],
)  # fmt: skip
def test_what_is_left_open_is_kept(text: str, told: str) -> None:
    """A range is its middle with half its width; "about" leaves open half of what it was rounded to."""
    found = read_number(text, Kind.TEMPERATURE, "F")
    assert found.text() == told
    assert read_number(found.text(), Kind.TEMPERATURE, "F") == found


@pytest.mark.parametrize(
    ("text", "told"), [("all day", "8 h"), ("an hour", "1 h"), ("half an hour", "30 min"), ("15-20", "17.5 ± 2.5 min")]
)
def test_times_in_words(text: str, told: str) -> None:
    """How long it has been running is seldom known to the minute."""
    assert read_number(text, Kind.DURATION, "min").text() == told


@pytest.mark.parametrize("text", ["", "warm", "100-95", "95 psi", "12/5", "1.2.3", "95 96", "about", "5 or so"])
def test_what_could_mean_two_things_is_refused(text: str) -> None:
    """Nothing is guessed."""
    with pytest.raises(QuantityError):
        read_number(text, Kind.TEMPERATURE, "F")


@given(
    number=st.decimals(1, 500, places=1), half=st.decimals("0.1", 20, places=1), kind=st.sampled_from(Kind),
    place=st.integers(0, 5),
)  # fmt: skip
def test_what_is_kept_reads_again_as_it_was(number: object, half: object, kind: Kind, place: int) -> None:
    """In every unit of every kind, with what was left open."""
    units = unit_names(kind)
    unit = units[place % len(units)]
    found = read_number(f"{number} ± {half} {unit}", kind, unit)
    again = read_number(found.text(), kind, units[0])
    assert (again.number, again.unit) == (found.number, found.unit)
    assert again.around == pytest.approx(found.around)


def test_a_range_widens_the_doubt_of_what_comes_of_it(catalogue: Catalogue) -> None:
    """97.5 F give or take 2.5 F and a clamp within its own: root of both, as two rectangles (GUM 4.3.7, 5.1.2)."""
    nodes = """
first:
  decide:
    - when: liquid_line_temperature > 200 F
      go: unsure
    - cannot_tell: unsure
    - otherwise: all_well
unsure: {undecided: It is open.}
all_well: {no_fault: All is well.}
"""
    library = small_library(catalogue, nodes)
    sure, unsure = (talk(library, text).state.quantities["liquid_line_temperature"] for text in ("97.5", "95-100"))
    assert doubt.nominal(sure) == pytest.approx(doubt.nominal(unsure))
    alone = 2.5 * 5 / 9 / 3**0.5
    assert doubt.standard(unsure) == pytest.approx((doubt.standard(sure) ** 2 + alone**2) ** 0.5)
