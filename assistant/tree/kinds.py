"""What kind each side of a comparison is, and with it what `12 F` means: a temperature or a difference.

Temperatures and pressures are points on a scale, their differences are not: point - point = difference,
point + difference = point, point + point means nothing. A number with a unit of both takes the role that makes the
comparison agree; there is never more than one way.
"""

from collections.abc import Iterator, Mapping
from typing import assert_never

from assistant import quantity
from assistant.quantity import Kind, Unit, difference_of, kinds_of_unit, plain, unit_named, unit_names
from assistant.source.nearest import nearest
from assistant.tree.expression import Change, Compare, Limit, Number, Quantity, Span, Sum, Term
from assistant.tree.meaning import Compared, Constant, Mistake, Moved, Need, NeedSort, ValueOf
from assistant.tree.vocabulary import Sort, Vocabulary

ASKED_AS: Mapping[str | None, NeedSort] = {
    "reading": "reading",
    "number": "number",
    "observation": "observation",
    "fact": "fact",
}
"""What a name that is needed is, by the sort that the vocabulary tells of it."""

_POINT = {difference_of(kind): kind for kind in Kind if difference_of(kind) is not kind}
_POINTS = frozenset(_POINT.values())
_MEASURED: tuple[Sort, ...] = ("reading", "number", "fact")
_PLURAL = {Kind.TEMPERATURE: "temperatures", Kind.PRESSURE: "pressures"}


def understand_comparison(compare: Compare, text: str, vocabulary: Vocabulary) -> Compared | list[Mistake]:
    """Find what every number in a comparison means, or all that is wrong with the comparison."""
    known, mistakes = _known_kinds(compare, vocabulary)
    if mistakes:
        return mistakes
    if not known:
        message = "only fixed numbers are compared here, so the answer never changes"
        return [Mistake("condition-constant", message, compare.span, "compare a reading or a worked number")]
    families = {difference_of(kind): span for span, kind in reversed(known.items())}
    if len(families) > 1:
        return [_different(known, text)]
    family = next(iter(families))
    numbers = [term for _, term in _terms(compare) if isinstance(term, Number)]
    mistakes = [mistake for number in numbers if (mistake := _wrong_unit(number, family, text))]
    if mistakes:
        return mistakes
    kinds = _roles(compare, known, family)
    if isinstance(kinds, Mistake):
        return [kinds]
    units = _units(compare, kinds, text)
    if isinstance(units, list):
        return units
    left, right = (
        tuple((sign, _term(term, kinds, units, vocabulary)) for sign, term in side.terms)
        for side in (compare.left, compare.right)
    )
    kind = _kind_of_side(compare.left, kinds)
    return Compared(left, compare.operator, right, kind, compare.index, compare.span)


def _term(
    term: Term, kinds: Mapping[Span, Kind], units: Mapping[Span, Unit], vocabulary: Vocabulary
) -> ValueOf | Moved | Constant:
    match term:
        case Quantity():
            return ValueOf(Need(term.name, ASKED_AS[vocabulary.sort_of(term.name)]), kinds[term.span])
        case Change():
            return Moved(Need(term.name, "change"), kinds[term.span])
        case Number():
            unit = units[term.span]
            return Constant(term.number, unit, unit.to_si(term.number))
        case Limit():
            found = vocabulary.limit(term.name)
            assert found is not None
            return Constant(_as_typed(found), found.unit, found.value, term.name)
        case _:
            assert_never(term)


def _as_typed(found: quantity.Quantity) -> float:
    """Give the number that stands in the list of limits, which its SI value may miss by its last bits."""
    return round(found.unit.from_si(found.value), 9)


def _terms(compare: Compare) -> Iterator[tuple[int, Term]]:
    yield from compare.left.terms
    yield from compare.right.terms


def _known_kinds(compare: Compare, vocabulary: Vocabulary) -> tuple[dict[Span, Kind], list[Mistake]]:
    known: dict[Span, Kind] = {}
    mistakes: list[Mistake] = []
    for _, term in _terms(compare):
        match term:
            case Quantity():
                found = vocabulary.kind_of(term.name) or _no_quantity(term, vocabulary)
            case Change():
                found = _kind_of_change(term, vocabulary)
            case Limit():
                found = _kind_of_limit(term, vocabulary)
            case Number():
                continue
        if isinstance(found, Mistake):
            mistakes.append(found)
        else:
            known[term.span] = found
    return known, mistakes


def _kind_of_change(term: Change, vocabulary: Vocabulary) -> Kind | Mistake:
    sort = vocabulary.sort_of(term.name)
    kind = vocabulary.kind_of(term.name)
    if sort == "reading" and kind is not None:
        return difference_of(kind)
    if sort is None:
        near = nearest(term.name, vocabulary.names("reading"))
        hint = f"write: change({near[0]})" if near else None
        return Mistake("name-unknown", f'there is no reading called "{term.name}"', term.span, hint)
    message = f'"{term.name}" is not a reading, and only readings are taken again'
    return Mistake("name-sort", message, term.span, "write: change(reading)")


def _kind_of_limit(term: Limit, vocabulary: Vocabulary) -> Kind | Mistake:
    found = vocabulary.limit(term.name)
    if found is not None:
        return found.kind
    near = nearest(term.name, vocabulary.names("limit"))
    hint = f"write: limits.{near[0]}" if near else "add it to the limits of the catalogue"
    return Mistake("name-unknown", f'there is no limit called "{term.name}"', term.span, hint)


def _no_quantity(term: Quantity, vocabulary: Vocabulary) -> Mistake:
    choices = vocabulary.choices_of(term.name)
    if vocabulary.sort_of(term.name) is not None:
        hint = f"write: {term.name} is {choices[0]}" if choices else f"write: {term.name} is ..."
        return Mistake("name-sort", f'"{term.name}" is a choice, not a number', term.span, hint)
    if vocabulary.limit(term.name) is not None:
        hint = f"write: limits.{term.name}"
        return Mistake("name-sort", f'"{term.name}" is a limit', term.span, hint)
    known = [name for sort in _MEASURED for name in vocabulary.names(sort) if vocabulary.kind_of(name)]
    near = nearest(term.name, known)
    suggestion = f"write: {' or '.join(near)}" if near else None
    return Mistake("name-unknown", f'there is no reading or number called "{term.name}"', term.span, suggestion)


def _different(known: Mapping[Span, Kind], text: str) -> Mistake:
    first_span, first = next(iter(known.items()))
    span, other = next((s, k) for s, k in known.items() if difference_of(k) != difference_of(first))
    said = f'"{text[first_span.start : first_span.end]}" is {first.words}'
    message = f'{said}, "{text[span.start : span.end]}" is {other.words}'
    return Mistake("kind-mixed", message, span, "compare and add only what is of one kind")


def _wrong_unit(number: Number, family: Kind, text: str) -> Mistake | None:
    """Give what is wrong with a number's unit, where the unit is missing only if the kind needs none."""
    if not number.unit or _kinds_in(number.unit, family):
        return None
    point = _POINT.get(family)
    units = list(dict.fromkeys([*(unit_names(point) if point else ()), *unit_names(family)]))
    value = plain(number.number)
    if not any(units):
        message = f"{family.words} has no unit"
        return Mistake("kind-unit", message, number.span, f"write: {value}")
    near = nearest(number.unit, units, 1)
    hint = f"write: {value} {near[0] if near else units[0]}"
    if kinds_of_unit(number.unit):
        message = f'"{number.unit}" does not fit here; the unit is one of {", ".join(units)}'
        return Mistake("kind-unit", message, number.span, hint)
    message = f'there is no unit called "{number.unit}"; the unit is one of {", ".join(units)}'
    return Mistake("unit-unknown", message, number.span, hint)


def _kinds_in(unit: str, family: Kind) -> list[Kind]:
    """Give the kinds of a family that have such a unit, the point first."""
    return [kind for kind in (_POINT.get(family), family) if kind is not None and unit_named(unit, kind) is not None]


def _roles(compare: Compare, known: Mapping[Span, Kind], family: Kind) -> dict[Span, Kind] | Mistake:
    """Give every term its kind, so that both sides agree."""
    kinds = dict(known)
    point = _POINT.get(family)
    open_numbers: set[Span] = set()
    for _, term in _terms(compare):
        if isinstance(term, Number):
            possible = _kinds_in(term.unit, family) if term.unit else [family]
            kinds[term.span] = possible[-1]
            if point is not None and (len(possible) > 1 or not term.unit):
                open_numbers.add(term.span)
    point = _POINT.get(family)
    if point is None:
        return kinds
    # Raising one number to a point moves its side up by one; two raised numbers are the most that can make sense.
    for _ in range(3):
        left, right = (_points(side, kinds, point) for side in (compare.left, compare.right))
        if left == right and left in (0, 1):
            return kinds
        side = compare.left if left < 0 or 0 <= left < right else compare.right
        raised = next((t.span for sign, t in side.terms if sign > 0 and t.span in open_numbers), None)
        if raised is None:
            break
        open_numbers.remove(raised)
        kinds[raised] = point
    return _disagreement(compare, (left, right), point)


def _points(side: Sum, kinds: Mapping[Span, Kind], point: Kind) -> int:
    return sum(sign for sign, term in side.terms if kinds[term.span] is point)


def _disagreement(compare: Compare, counts: tuple[int, int], point: Kind) -> Mistake:
    difference = difference_of(point)
    for side, count in zip((compare.left, compare.right), counts, strict=True):
        if count > 1:
            message = f"two {_PLURAL[point]} are added here, which means nothing"
            return Mistake("kind-mixed", message, side.span, f"add {difference.words}, or subtract one from the other")
        if count < 0:
            message = f"{point.words} is subtracted from {difference.words}"
            return Mistake("kind-mixed", message, side.span, "turn the sum around")
    words = [point.words if count else difference.words for count in counts]
    message = f"the left side is {words[0]}, the right side is {words[1]}"
    last = compare.right.terms[-1][1]
    hint = "compare a difference with a difference"
    if counts[1] and isinstance(last, Number):
        hint = f"write: {plain(last.number)} {unit_names(difference)[0]}"
    return Mistake("kind-mixed", message, compare.span, hint)


def _units(compare: Compare, kinds: Mapping[Span, Kind], text: str) -> dict[Span, Unit] | list[Mistake]:
    units: dict[Span, Unit] = {}
    mistakes: list[Mistake] = []
    for _, term in _terms(compare):
        if not isinstance(term, Number):
            continue
        kind = kinds[term.span]
        unit = unit_named(term.unit, kind)
        if unit is not None:
            units[term.span] = unit
            continue
        value = plain(term.number)
        start, end = (offset - compare.span.start for offset in term.span)
        said = text[compare.span.start : compare.span.end]
        hint = f"write: {said[:start]}{value} {unit_names(kind)[0]}{said[end:]}"
        mistakes.append(Mistake("kind-no-unit", f"{value} has no unit", term.span, hint))
    return mistakes or units


def _kind_of_side(side: Sum, kinds: Mapping[Span, Kind]) -> Kind:
    point = next((kind for kind in kinds.values() if kind in _POINTS), None)
    if point is None:
        return next(iter(kinds.values()))
    return point if _points(side, kinds, point) else difference_of(point)
