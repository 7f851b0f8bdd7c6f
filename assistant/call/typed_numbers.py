"""Numbers as people type them: "abt 95", "115#", "95-100", "20 inHg", "half an hour", with what they leave open.

Trees and catalogues are held to `assistant.quantity.parse`; here a hurried hand is understood and nothing is guessed: a
text that can be read in two ways is refused as it is there.
"""

import re
from dataclasses import replace
from typing import Final

from assistant.errors import QuantityError
from assistant.quantity import Kind, Quantity, parse, spread_to_si

_NUMBER: Final = r"[+-]?\d{1,9}(?:[.,]\d{1,9})*|[+-]?[.,]\d{1,9}"
_SPAN: Final = re.compile(rf"({_NUMBER})\s*([^\d\s+-]*)\s*(?:-|to|or)\s*({_NUMBER})\s*(.*)", re.IGNORECASE)
_GIVE_OR_TAKE: Final = re.compile(
    rf"({_NUMBER})\s*(?:±|\+/-|\+-|give or take|plus minus)\s*({_NUMBER})\s*(.*)", re.IGNORECASE
)
_ABOUT: Final = re.compile(
    r"(?:about|abt|around|arnd|roughly|approx(?:imately)?|close to|nearly|maybe|say|like|near|ca|circa)\b\.?\s*|~\s*",
    re.IGNORECASE,
)
_CHARGED: Final = re.compile(r"r[- ]?\d{2,4}[a-z]{0,2}\s*[:,=]?\s+(?=[\d+-])", re.IGNORECASE)
_MINUS: Final = re.compile(r"(?:minus|negative|neg)\s+(?=[\d.])", re.IGNORECASE)
_DEGREES: Final = re.compile(r"\b(?:degrees?|degs?)\b\.?|(?<=\d)(?:degrees?|degs?)\b\.?", re.IGNORECASE)
# A compound gauge shows inches only below the atmosphere.
_INCHES: Final = re.compile(
    r"(?<=[\d\s])(?:in\.?|inch|inches|\")\s*(?:of\s+)?(?:hg|mercury|vac|vacuum)?\.?$", re.IGNORECASE
)
_POUNDS: Final = re.compile(r"(?<=[\d\s])(?:#|pounds?|psi's|psis|lbs?\.)$", re.IGNORECASE)
_HOURS: Final = {
    "all day": "8 h", "all day long": "8 h", "all night": "8 h", "all morning": "4 h", "all afternoon": "4 h",
    "an hour": "1 h", "one hour": "1 h", "half an hour": "30 min", "half hour": "30 min", "a half hour": "30 min",
    "a quarter of an hour": "15 min", "an hour and a half": "90 min", "a couple of hours": "2 h", "two hours": "2 h",
    "for hours": "4 h", "hours": "4 h",
}  # fmt: skip
"""Times in words; a day's work stands for "long enough", common practice, no source."""


def read_number(text: str, kind: Kind, default_unit: str | None = None) -> Quantity:
    """Read what a person typed as a quantity of `kind`; a range or "about" gives its half-width in `around`.

    A range is its middle. Who says "about" rounded to the next one, five or ten: half of that is left open.

    Raises:
        QuantityError: as `parse`.
    """
    said = _MINUS.sub("-", _tidy(text))
    if kind is Kind.PRESSURE:
        said = _CHARGED.sub("", said, count=1) if _CHARGED.match(said) else said
    about = _ABOUT.match(said)
    if about is not None:
        said = said[about.end() :]
    if kind is Kind.DURATION and said.casefold() in _HOURS:
        return parse(_HOURS[said.casefold()], kind, default_unit)
    said = _units(said, kind)
    wide = _GIVE_OR_TAKE.fullmatch(said)
    if wide is not None:
        return _around(parse(f"{wide[1]} {wide[3]}", kind, default_unit), parse(wide[2], Kind.RATIO).number, text)
    span = _SPAN.fullmatch(said)
    if span is not None:
        return _middle(span, kind, default_unit, text)
    found = parse(said, kind, default_unit)
    return found if about is None else _around(found, _left_open(found.number), text)


def _tidy(text: str) -> str:
    return text.translate(str.maketrans("\N{MINUS SIGN}\N{EN DASH}\N{EM DASH}", "---")).strip().rstrip(".,;!?").strip()


def _units(said: str, kind: Kind) -> str:
    """The text with the units of a hurried hand as this project writes them."""
    match kind:
        case Kind.TEMPERATURE | Kind.TEMPERATURE_DIFFERENCE:
            return _DEGREES.sub(" ", said).rstrip("°º˚ ")
        case Kind.PRESSURE:
            return _POUNDS.sub(" psig", _INCHES.sub(" inHg vac", said))
        case _:
            return said


def _middle(span: re.Match[str], kind: Kind, default_unit: str | None, text: str) -> Quantity:
    unit = span[4] or span[2]
    low, high = (parse(f"{number} {unit}", kind, default_unit) for number in (span[1], span[3]))
    if low.unit is not high.unit or low.number >= high.number:
        raise QuantityError(f"{text.strip()!r} is no range: write the lower number first, or one number.")
    middle = (low.number + high.number) / 2
    return _around(parse(f"{middle:.6f} {low.unit.symbol}", kind, default_unit), (high.number - low.number) / 2, text)


def _around(found: Quantity, half: float, text: str) -> Quantity:
    return replace(found, around=spread_to_si(half, found.unit), typed=text.strip())


def _left_open(number: float) -> float:
    """Half of what a number was rounded to by who says "about" it; chosen."""
    return next((step / 2 for step in (10.0, 5.0) if number % step == 0), 0.5)
