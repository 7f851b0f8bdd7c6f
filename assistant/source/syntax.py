"""What the YAML parser cannot take, reworded into what to look for and what to type."""

import yaml

from assistant.source.problem import Place, Problem

# (part of the parser's words, code, our words, what to do); the first that fits is taken.
_WORDS: tuple[tuple[str, str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "yaml-colon",
        "a second colon is on this line, or the line above is not finished",
        'put text that contains ": " in quotes, and check the indentation',
    ),
    (
        "could not find expected ':'",
        "yaml-colon",
        "a colon is missing after the key",
        'write: key: value (with a space after the colon), or put a long text in quotes',
    ),
    ("did not find expected key", "yaml-indent", "this line does not fit what is above it",
     "check the indentation here and above, and quotes or brackets that are not closed"),
    ("expected <block end>", "yaml-indent", "this line does not fit what is above it",
     "check the indentation here and above, and quotes or brackets that are not closed"),
    ("did not find expected '-' indicator", "yaml-indent", "this line does not fit the list above it",
     'start it with "- " under the other items, or indent it further'),
    ("block sequence entries are not allowed", "yaml-indent", "a list item cannot begin here",
     'put "- " on a line of its own below the key'),
    ("expected ',' or ']'", "yaml-bracket", "a list in [ ] is not closed, or a comma is missing", "write: [one, two]"),
    ("expected ',' or '}' before a list", "yaml-bracket", "inside of { } a text that holds [ ] needs quotes",
     'write: {when: "filter_condition is one of [clogged, missing]", go: NODE}'),
    ("expected ',' or '}'", "yaml-bracket", "a { } is not closed, or a comma is missing",
     "write: {key: text, key: text}"),
    ("while scanning a quoted scalar", "yaml-quote", "a quote is opened here and not closed",
     "close it, or leave the quotes out"),
    ("unknown escape character", "yaml-quote", 'a backslash in "..." starts a special character that does not exist',
     "use single quotes"),
    ("escape", "yaml-quote", 'a backslash in "..." is not followed by what it needs', "use single quotes"),
    ("cannot start any token", "yaml-start", "text cannot begin with this character", "put the text in quotes"),
    ("expected node content", "yaml-bracket", "an item is missing in a [ ] or { }, or it is not closed",
     "write: [one, two]"),
    ("expected the node content", "yaml-bracket", "an item is missing in a [ ] or { }, or it is not closed",
     "write: [one, two]"),
    ("undefined alias", "yaml-alias", "this refers to another part of the file", "write it out here"),
    ("alias", "yaml-alias", '"*" at the start of a text refers to another part of the file', "put the text in quotes"),
    ("anchor", "yaml-alias", '"&" at the start of a text marks a part for use elsewhere', "put the text in quotes"),
    ("tag", "yaml-tag", '"!" at the start of a text is a tag; nothing here needs one', "put the text in quotes"),
    ("directive", "yaml-directive",
     '"%" at the start of a line is an instruction to the reader; nothing here needs one', "delete the line"),
    ("block scalar", "yaml-block", 'after "|" or ">" the text begins on the next line, indented',
     "write the text on the next line, indented with spaces"),
    ("max", "yaml-deep", "lists and keys are nested too deep", "check the brackets and the indentation"),
    ("<document start>", "yaml-indent", "this line stands outside of everything above it",
     "check the indentation, and quotes or brackets that are not closed"),
)  # fmt: skip


def syntax_problem(error: yaml.YAMLError, text: str, name: str) -> Problem:
    """Reword an error of the YAML parser; the place is where the parser noticed, or the file as a whole."""
    said = " ".join(str(getattr(error, part, None) or "") for part in ("context", "problem"))
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    if mark is not None and "".join(text.split("\n")[mark.line : mark.line + 1])[mark.column :].startswith("["):
        said += " before a list"
    # An unclosed quote or bracket is noticed at the end of the file, but is to be mended where it was opened.
    opened = getattr(error, "context_mark", None)
    if opened is not None and ("quoted scalar" in said or "end of stream" in said or "flow" in said):
        mark = opened
    place = Place(name) if mark is None else _place(mark, text, name)
    for words, code, message, hint in _WORDS:
        if words in said:
            return Problem(code, place, message, hint)
    return Problem("yaml-syntax", place, "this is not YAML", "check the indentation, quotes and brackets around here")


def _place(mark: yaml.Mark, text: str, name: str) -> Place:
    lines = text.split("\n")
    line, column = mark.line, mark.column
    # At the end of the file, the last line that says something is the better place.
    if line >= len(lines) or (line == len(lines) - 1 and not lines[line].strip()):
        line = max((number for number, words in enumerate(lines) if words.strip()), default=0)
        column = len(lines[line])
    return Place(name, line + 1, column + 1, column + 2)
