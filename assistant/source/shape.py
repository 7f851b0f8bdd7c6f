"""Reading a mapping by its table: every key and value that does not fit is a problem that says what to write.

What is built of a file afterwards takes what is there (`nodes.Mapping`) and need not complain.
"""

import re
from collections.abc import Iterator

from assistant.frozen import dataclass
from assistant.quantity import plain, split
from assistant.source.keys import (
    MOST_WHOLE,
    Apart,
    AtLeastOne,
    ByName,
    Cases,
    Form,
    KeyTable,
    Listed,
    Needs,
    OneOf,
    PlainNumber,
    Spelling,
    Text,
    Texts,
    Wrong,
    sample,
)
from assistant.source.nearest import nearest
from assistant.source.nodes import Mapping, Node, Scalar, Sequence
from assistant.source.problem import Place, Problem, shorten


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a value stands: the name of its key, the key itself (none for an item of a list), and what to write."""

    name: str
    key: Scalar | None
    write: str


def find_mistakes(root: Node, form: Form) -> list[Problem]:
    """Return every mistake of shape in a file; what is missing from the whole of it is told of the file."""
    spot = _Spot("", None, "NAME: text")
    if isinstance(form, KeyTable) and isinstance(root, Mapping) and root.entries:
        return list(_keys(root, form, Place(root.mark.path), spot))
    return list(_value(root, form, spot))


def find_mistakes_under(key: Scalar, value: Node, form: Form) -> list[Problem]:
    """Return every mistake of shape in what stands behind a key."""
    return list(_value(value, form, _Spot(key.text, key, f"{shorten(key.text)}: text")))


def find_keys(mapping: Mapping, form: KeyTable | Cases) -> KeyTable | None:
    """Return the table that a mapping follows; None where it has no word that tells."""
    if isinstance(form, KeyTable):
        return form
    return next((table for word, table in form.cases.items() if mapping.key(word) is not None), form.otherwise)


def form_of(node: Node) -> str:
    """Say what form a value has."""
    match node:
        case Scalar():
            return "text" if node.text.strip() else "nothing"
        case Sequence():
            return "a list" if node.items else "an empty list"
        case Mapping():
            return "keys and values" if node.entries else "an empty { }"


def suggest_name(text: str) -> str:
    """Return the name that is meant by a text that cannot be one: `Box temperature` is meant as box_temperature."""
    return "_".join(re.findall(r"[a-z0-9]+", text.lower()))


def _value(node: Node, form: Form, spot: _Spot) -> Iterator[Problem]:
    match form:
        case Text() | PlainNumber() | OneOf():
            yield from _scalar(node, form, spot)
        case Texts():
            yield from _texts(node, form, spot)
        case ByName():
            yield from _by_name(node, form, spot)
        case Listed():
            if not isinstance(node, Sequence) or len(node.items) < form.least:
                yield _wrong_value(node, spot)
                return
            for item in node.items:
                yield from _value(item, form.item, _Spot(spot.name, None, spot.write))
        case KeyTable() | Cases():
            yield from _mapping(node, form, spot)


def _scalar(node: Node, form: Text | PlainNumber | OneOf, spot: _Spot) -> Iterator[Problem]:
    empty = isinstance(form, Text) and form.empty
    if not isinstance(node, Scalar) or not (node.text.strip() or empty):
        yield _wrong_value(node, spot)
        return
    match form:
        case Text():
            if form.longest is not None and len(node.text) > form.longest:
                message = f'"{spot.name}" has up to {form.longest} characters'
                yield Problem("shape-value", node.mark, message, "shorten it")
        case PlainNumber():
            if not _fits(node.text, form):
                what = "whole number" if form.whole else "number"
                end = "up" if form.high >= MOST_WHOLE else f"to {plain(form.high)}"
                message = f'"{spot.name}" is a {what} from {plain(form.low)} {end}'
                yield Problem(form.code, node.mark, message, f"write: {spot.write}")
        case OneOf():
            if node.text not in form.names:
                yield _not_one_of(node, form, spot)


def _fits(text: str, form: PlainNumber) -> bool:
    if form.whole and re.fullmatch("0|[1-9][0-9]{0,8}", text, re.ASCII) is None:
        return False
    found = split(text) if len(text) <= 20 else None
    return found is not None and not found[1] and form.low <= found[0] <= form.high


def _not_one_of(node: Scalar, form: OneOf, spot: _Spot) -> Problem:
    near = [name for name in form.names if name.startswith(node.text)] or nearest(node.text, form.names)
    hint = f"write {' or '.join(near)}" if near else f"{form.what}s: {', '.join(form.names)}"
    if len(form.names) == 2:
        return Problem(form.code, node.mark, f'"{spot.name}" is {" or ".join(form.names)}', f"write: {spot.write}")
    return Problem(form.code, node.mark, f"there is no {form.what} {shorten(node.text)!r}", hint)


def _texts(node: Node, form: Texts, spot: _Spot) -> Iterator[Problem]:
    if isinstance(node, Sequence) and len(node.items) >= form.least:
        if form.most is not None and len(node.items) > form.most:
            yield Problem("shape-form", node.mark, f'"{spot.name}" holds {form.most} values', f"write: {spot.write}")
            return
        one = Text(form.numeric, longest=form.longest)
        for item in node.items:
            yield from _value(item, one, _Spot(spot.name, None, spot.write))
    elif form.single and isinstance(node, Scalar) and node.text.strip():
        yield from _value(node, Text(form.numeric, longest=form.longest), spot)
    else:
        yield _wrong_value(node, spot)


def _by_name(node: Node, form: ByName, spot: _Spot) -> Iterator[Problem]:
    if form.word and isinstance(node, Scalar) and node.text.strip() == form.word:
        return
    if not isinstance(node, Mapping):
        yield _not_by_name(node, form, spot)
        return
    if len(node.entries) < form.least:
        if form.least == 1:
            yield _wrong_value(node, spot)
        else:
            message = f'"{spot.name}" holds at least {form.least} names'
            yield Problem("shape-form", node.mark, message, f"write: {spot.write}")
    for key, value in node.entries:
        if form.name is not None and form.name.pattern.fullmatch(key.text) is None:
            yield not_a_name(key, form.name)
        yield from _value(value, form.value, _Spot(key.text, key, f"{shorten(key.text)}: text"))


def not_a_name(key: Scalar, name: Spelling) -> Problem:
    """Return the problem of a name that cannot be one."""
    meant = suggest_name(key.text)
    hint = f"write: {meant}" if name.pattern.fullmatch(meant) else f"write, for example: {name.example}"
    return Problem("shape-name", key.mark, f"a name {name.says}", hint)


def _not_by_name(node: Node, form: ByName, spot: _Spot) -> Problem:
    first = node.items[0] if isinstance(node, Sequence) and node.items else None
    if form.name is None or not isinstance(first, Scalar) or form.name.pattern.fullmatch(first.text) is None:
        return _wrong_value(node, spot)
    message = f'a list cannot stand behind "{spot.name}:", which holds names, each with its words'
    return Problem("shape-form", node.mark, message, f"write, without a dash: {shorten(first.text)}: text")


def _mapping(node: Node, form: KeyTable | Cases, spot: _Spot) -> Iterator[Problem]:
    if not isinstance(node, Mapping) or not node.entries:
        place = node.mark if spot.key is None else spot.key.mark
        message = f"{form.what or spot.name} holds keys and values, and this is {form_of(node)}"
        yield Problem("shape-form", place, message, form.write)
        return
    first = node.entries[0][0].mark
    table = find_keys(node, form)
    if table is not None:
        also = tuple(form.cases) if isinstance(form, Cases) and table is form.otherwise else ()
        yield from _keys(node, table, first if spot.key is None else spot.key.mark, spot, also)
    elif isinstance(form, Cases):
        yield _no_case(node, form, first)


def _no_case(node: Mapping, form: Cases, first: Place) -> Problem:
    for key, _ in node.entries:
        meant = form.meant.get(key.text.lower()) or next(iter(nearest(key.text, form.cases, 1)), None)
        if meant is not None:
            message = f'"{shorten(key.text, 40)}" is no key of {form.what}'
            return Problem("shape-unknown-key", key.mark, message, f"write: {meant}")
    assert form.none is not None
    return _tell(form.none, first)


def _keys(
    mapping: Mapping, table: KeyTable, owner: Place, spot: _Spot, also: tuple[str, ...] = ()
) -> Iterator[Problem]:
    """Find the mistakes of a mapping: unknown keys, values that do not fit, missing keys, keys that do not go together.

    A misspelt key is not also missing; where a key belongs elsewhere, nothing is called missing.
    """
    what = table.what or shorten(spot.name)
    meant: set[str] = set()
    elsewhere = False
    for key, value in mapping.entries:
        known = table.keys.get(key.text)
        if known is not None:
            if not _is_text_for(value, known.form):
                yield from _value(value, known.form, _Spot(key.text, key, sample(key.text, known)))
            continue
        if key.text in table.elsewhere:
            elsewhere = True
            yield _tell(table.elsewhere[key.text], key.mark)
            continue
        near = nearest(key.text, [*table.keys, *also], 1)
        meant.update(near or (_UNCLEAR,))
        message = f'"{shorten(key.text, 40)}" is no key of {what}; the keys are {", ".join(table.keys)}'
        yield Problem("shape-unknown-key", key.mark, message, f"write: {near[0]}" if near else None)
    for name in table.needed:
        if not elsewhere and mapping.key(name) is None and name not in meant:
            hint = f"write: {sample(name, table.keys[name])}"
            yield Problem("shape-missing-key", owner, f'"{name}" is missing from {what}', hint)
    for rule in table.rules:
        yield from _together(mapping, rule, owner, elsewhere or not meant.isdisjoint((_UNCLEAR, *also)), meant)


def _is_text_for(value: Node, form: Form) -> bool:
    """Tell at once what holds for most values of a file: a text stands where one is wanted."""
    wanted = (isinstance(form, Text) and form.longest is None) or (
        isinstance(form, Texts) and form.single and form.longest is None
    )
    return wanted and isinstance(value, Scalar) and bool(value.text.strip())


def _together(
    mapping: Mapping, rule: Apart | AtLeastOne | Needs, owner: Place, told: bool, meant: set[str]
) -> Iterator[Problem]:
    match rule:
        case Apart():
            key = mapping.key(rule.key)
            if key is not None and mapping.key(rule.other) is not None:
                yield _tell(rule.wrong, key.mark)
        case AtLeastOne():
            # A key that is unknown and was probably meant as one of these is reported.
            if not told and meant.isdisjoint(rule.keys) and all(mapping.key(name) is None for name in rule.keys):
                yield _tell(rule.wrong, owner)
        case Needs():
            key = mapping.key(rule.key)
            if key is not None and mapping.key(rule.other) is None:
                yield _tell(rule.wrong, key.mark)


def _tell(wrong: Wrong, place: Place) -> Problem:
    return Problem(wrong.code, place, wrong.message, wrong.hint)


def _wrong_value(node: Node, spot: _Spot) -> Problem:
    """Return the problem of a value that is of another form than its key, or the list that it is in, needs."""
    form, name = form_of(node), shorten(spot.name, 40)
    hint = f"write: {spot.write}"
    if spot.key is None:
        message = f'an item of "{name}" is empty' if form == "nothing" else f'{form} cannot be an item of "{name}"'
        # In a list, words with a colon behind them are keys to YAML.
        return Problem("shape-form", node.mark, message, _QUOTES if isinstance(node, Mapping) else hint)
    if form == "nothing":
        return Problem("shape-empty", spot.key.mark, f'nothing stands behind "{name}:"', hint)
    return Problem("shape-form", node.mark, f'{form} cannot stand behind "{name}:"', hint)


# Stands for what was meant by a key that is like no other.
_UNCLEAR = ""
_QUOTES = 'put text that contains ": " in quotes'
