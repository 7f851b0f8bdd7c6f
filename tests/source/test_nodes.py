"""YAML read with places: what is kept, what is refused, and that nothing can hang or break it."""

import os
import time
from pathlib import Path

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.source import nodes
from assistant.source.inside import place_inside
from assistant.source.nodes import Mapping, Node, Scalar, Sequence, read, read_string
from assistant.source.text import MOST_BYTES


def value(text: str) -> Scalar:
    """The one value of a text such as `a: ...`."""
    root, problems = read_string(text, "t.yaml")
    assert problems == []
    assert isinstance(root, Mapping)
    found = root.get("a")
    assert isinstance(found, Scalar)
    return found


def codes(text: str) -> list[str]:
    """The codes of everything that is wrong with a text."""
    return [problem.code for problem in read_string(text, "t.yaml")[1]]


@pytest.mark.parametrize(
    "typed", ["no", "010", "1:30", "0x1F", "1e3", "~", "null", "2026-11-25", "1_000", "=", ".inf", "on", "5.10"]
)
def test_values_stay_as_typed(typed: str) -> None:
    """No value becomes a number, date or truth value."""
    assert value(f"a: {typed}").text == typed


def test_an_empty_value_is_not_an_empty_text() -> None:
    """Nothing behind a colon is told apart from quotes with nothing in them."""
    assert value("a:").is_empty
    assert not value("a: ''").is_empty


def test_places_count_characters_from_one() -> None:
    """Line and columns are those that an editor shows, with characters beyond ASCII counted as one."""
    root, _ = read_string("# ä\nb:\n  - é: [ö, value]\n", "t.yaml")
    assert isinstance(root, Mapping)
    inner = root.get("b")
    assert isinstance(inner, Sequence)
    first = inner.items[0]
    assert isinstance(first, Mapping)
    items = first.get("é")
    assert isinstance(items, Sequence)
    mark = items.items[1].mark
    assert (mark.path, mark.line, mark.column, mark.end_column) == ("t.yaml", 3, 12, 17)


def test_line_ends_of_every_system_give_the_same_places() -> None:
    """A file saved with other line ends has the same nodes at the same places."""
    text = "a: 1\nb:\n  - x\n"
    assert read_string(text, "t") == read_string(text.replace("\n", "\r\n"), "t")
    assert read_string(text, "t") == read_string(text.replace("\n", "\r"), "t")


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    """The mark that some editors put in front changes neither names nor places."""
    path = tmp_path / "t.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: b\n")
    root, problems = read(path)
    assert problems == []
    assert isinstance(root, Mapping)
    key = root.key("a")
    assert key is not None
    assert key.mark.column == 1


@pytest.mark.parametrize(
    "text",
    [
        "a: one two three\n",
        "a:   'one two three'\n",
        'a: "one two three"\n',
        "a: >-\n   one\n   two three\n",
        "a: one\n   two three\n",
        "a: |\n  one\n\n\n  two three\n",
        "a: > # remark\n  one\n   two three\n",
        "b: ü\na: 'it''s one two three'\n",
        "a: >-\n\n   one two\n   three\n",
    ],
)
def test_parts_of_a_text_are_found_in_the_file(text: str) -> None:
    """A word inside plain, quoted, folded or kept text has the place where it stands."""
    scalar = value(text)
    for word in ("one", "two", "three"):
        start = scalar.text.index(word)
        place = place_inside(scalar, start, start + len(word))
        assert text.split("\n")[place.line - 1][place.column - 1 : place.end_column - 1] == word


def test_a_part_over_several_lines_ends_with_its_first() -> None:
    """The place of a part that goes on over the line end stops there."""
    text = "a: one two\n   three\n"
    place = place_inside(value(text), 4, 13)
    assert (place.line, place.column, place.end_column) == (1, 8, 11)


def test_escapes_hide_where_a_part_stands() -> None:
    """With backslash escapes, the place of the whole text is given."""
    scalar = value('a: "one\\ttwo"\n')
    assert place_inside(scalar, 4, 7) == scalar.mark


def test_a_repeated_key_names_the_line_of_the_first() -> None:
    """The first value stays, and the message says where it is."""
    root, problems = read_string("a: 1\nb: 2\na: {c: 3}\n", "t.yaml")
    assert isinstance(root, Mapping)
    assert [key.text for key, _ in root.entries] == ["a", "b"]
    assert [(problem.code, problem.place.line) for problem in problems] == [("yaml-duplicate", 3)]
    assert "line 1" in problems[0].message


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("a:\n\t- b", "yaml-tab"),
        ("a: b: c", "yaml-colon"),
        ("a: 'b", "yaml-quote"),
        ('a: "\\q"', "yaml-quote"),
        ("a: [b", "yaml-bracket"),
        ("a: {b: c", "yaml-bracket"),
        ("a:\n  b: c\n d: e", "yaml-indent"),
        ("- a\nb: c", "yaml-indent"),
        ("a: - b", "yaml-indent"),
        ("a: @b", "yaml-start"),
        ("a: &b c", "yaml-alias"),
        ("a: *b", "yaml-alias"),
        ("a: !!python/object/apply:os.system [ls]", "yaml-tag"),
        ("a: !b c", "yaml-tag"),
        ("%FOO\n", "yaml-directive"),
        ("a: |x\n b", "yaml-block"),
        ("a: b\n---\nc: d", "yaml-documents"),
        ("[a]: b", "yaml-key"),
        ("a: b\x00", "yaml-control"),
        ("a: b\x1b[31m", "yaml-control"),
        ("a: b\u2028c", "yaml-control"),
        ("a: b\u202ec", "yaml-control"),
        ("", "yaml-empty"),
        ("# nothing\n", "yaml-empty"),
    ],
)
def test_what_is_not_taken_is_told_in_one_problem(text: str, code: str) -> None:
    """Everything outside plain YAML gives one problem."""
    assert codes(text) == [code]


def test_the_python_parser_gives_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the C library, nodes and places are the same."""
    text = "a: no\nb:\n  - 'x ä'\n  - >-\n    y\n    z\nc: {d: 1, e: [2, 3]}\n"
    fast = read_string(text, "t.yaml")
    monkeypatch.setattr(nodes, "_Parser", yaml.SafeLoader)
    assert read_string(text, "t.yaml") == fast


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"a: \xff\xfe\n", "file-encoding"),
        ("a: b".encode("utf-16"), "file-encoding"),
        (b"a: b\n" * 500_000, "file-large"),
    ],
)
def test_files_that_are_no_text_are_refused(tmp_path: Path, data: bytes, code: str) -> None:
    """Another encoding or an enormous file is told, not guessed at."""
    path = tmp_path / "t.yaml"
    path.write_bytes(data)
    root, problems = read(path)
    assert root is None
    assert [problem.code for problem in problems] == [code]


def test_a_wrong_byte_is_shown_where_it_is(tmp_path: Path) -> None:
    """The problem of a byte that is no UTF-8 has the line and column of that byte."""
    path = tmp_path / "t.yaml"
    path.write_bytes("ä: b\nc: é".encode() + b"\xe9\n")
    (problem,) = read(path)[1]
    assert (problem.place.line, problem.place.column) == (2, 5)


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    """A folder, a missing file, a pipe that nobody writes to and an impossible name are told at once."""
    pipe = tmp_path / "pipe.yaml"
    os.mkfifo(pipe)
    expected = {
        tmp_path: "file-folder",
        tmp_path / "none.yaml": "file-missing",
        pipe: "file-special",
        Path("a\0b"): "file-unreadable",
        tmp_path / ("x" * 5000): "file-unreadable",
    }
    for path, code in expected.items():
        assert [problem.code for problem in read(path)[1]] == [code]


LADDER = "a0: &a0 [x]\n" + "".join(f"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]\n" for i in range(1, 60))
BOMBS = {
    "a ladder of aliases": LADDER,
    "an alias to itself": "a: &a [*a]",
    "many brackets": "[" * 1_900_000,
    "many braces": "{a: " * 400_000,
    "many dashes": "- " * 900_000,
    "many question marks": "? " * 900_000,
    "many colons": "x: " * 600_000,
    "many anchors": "&a " * 600_000,
    "many exclamation marks": "!" * 1_900_000,
    "an endless quote": "'" * 1_900_001,
    "a flat list": "[" + "a," * 800_000 + "]",
    "many keys": "\n".join(f"k{i}: v" for i in range(150_000)),
    "the same key again and again": "a: b\n" * 100_000,
    "ten million letters": "a: " + "x" * 10_000_000,
}  # fmt: skip


@pytest.mark.parametrize("text", BOMBS.values(), ids=BOMBS.keys())
def test_no_file_can_hold_the_program_up(text: str) -> None:
    """Files made to grow, nest or repeat without end are refused within a few seconds."""
    began = time.perf_counter()
    _, problems = read_string(text, "t.yaml")
    # Usually well under a second; the bound is wide because test machines are shared.
    assert time.perf_counter() - began < 10
    assert problems
    assert len(problems) < 300


def test_nesting_has_a_limit() -> None:
    """Lists inside lists are taken up to the limit and refused beyond it."""
    deepest = nodes.MOST_DEPTH
    assert codes("[" * deepest + "x" + "]" * deepest) == []
    assert codes("[" * (deepest + 1) + "x" + "]" * (deepest + 1)) == ["yaml-deep"]


def test_a_large_honest_text_is_taken() -> None:
    """A long text below the limit is no reason to refuse a file."""
    assert len(value("a: " + "x" * (MOST_BYTES - 100)).text) == MOST_BYTES - 100


def in_values(node: Node) -> object:
    """A node as plain values, every scalar a text."""
    match node:
        case Scalar():
            return node.text
        case Sequence():
            return [in_values(item) for item in node.items]
        case Mapping():
            return {key.text: in_values(item) for key, item in node.entries}


WORDS = st.text(st.characters(min_codepoint=32, max_codepoint=0x24F, exclude_categories=("Cc", "Cf")), max_size=12)
VALUES = st.recursive(
    WORDS,
    lambda inner: st.lists(inner, min_size=1, max_size=4) | st.dictionaries(WORDS, inner, min_size=1, max_size=4),
    max_leaves=12,
)
MANY = settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@MANY
@given(VALUES, st.booleans())
def test_what_was_written_is_read(values: object, flow: bool) -> None:
    """Values written as YAML, in either style, come back the same, with each text at its place."""
    text = yaml.safe_dump(values, allow_unicode=True, default_flow_style=flow, width=40)
    root, problems = read_string(text, "t.yaml")
    assert problems == []
    assert root is not None
    assert in_values(root) == values


@MANY
@given(st.text(max_size=300) | st.text(st.sampled_from("ab:-[]{},'\"|>&*!%#?@ \n\t"), max_size=60))
def test_any_text_gives_a_node_or_problems(text: str) -> None:
    """No text raises, and every problem lies inside it."""
    root, problems = read_string(text, "t.yaml")
    assert root is not None or problems
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for problem in problems:
        assert problem.place.line <= len(lines)
        if problem.place.line:
            assert 1 <= problem.place.column <= len(lines[problem.place.line - 1]) + 2
