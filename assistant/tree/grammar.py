"""The grammar of conditions: from text to a frozen syntax tree whose every part knows its span.

::

    condition  = both { "or" both }
    both       = single { "and" single }
    single     = "not" single | "(" condition ")" | test
    test       = NAME "is" [ "not" ] choices | sum ( "<" | "<=" | ">" | ">=" ) sum
    choices    = CHOICE | "one" "of" "[" CHOICE { "," CHOICE } "]"
    sum        = term { ( "+" | "-" ) term }
    term       = NAME | "change" "(" NAME ")" | "expected" "(" NAME ")" | "limits." NAME | NUMBER [ UNIT ]
"""

import re
from typing import NoReturn

from assistant.expecting import expected_name
from assistant.quantity import kinds_of_unit
from assistant.source.problem import shorten
from assistant.tree.expression import (
    And,
    Change,
    Choice,
    Compare,
    Expression,
    Is,
    Limit,
    Not,
    Number,
    Operator,
    Or,
    Quantity,
    Span,
    Sum,
    Term,
)

LONGEST = 1000
"""Characters that a condition may have: more can no longer be read at a glance, nor shown on a screen."""
_MOST_DEPTH = 20


class GrammarError(Exception):
    """A text is not a condition; caught where conditions are read, and turned into a Problem."""

    def __init__(self, code: str, message: str, span: Span, hint: str | None = None) -> None:
        self.code = code
        self.message = message
        self.span = span
        self.hint = hint
        super().__init__(message)


_SPACE = re.compile(r"\s*")
_TOKEN = re.compile(
    r"<=|>=|[<>+\-()]|\d+(?:\.\d+)?|\.\d+|[A-Za-z_][A-Za-z0-9_]*(?:\.[A-Za-z_][A-Za-z0-9_]*)?", re.ASCII
)
_CHOICE = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.\-]*(?:\([A-Za-z]+\))?", re.ASCII)
_UNIT_WORDS = re.compile(r"[ ]?(%|[A-Za-z°º]+)(?:[ -]([A-Za-z]+))?")
_COMMA_NUMBER = re.compile(r",\d")
_RESERVED = ("and", "or", "not", "is")
_SPELLINGS = {
    "=": ('"=" means nothing here', 'write "is" for a choice, "<=" or ">=" for a number'),
    "!": ('"!" means nothing here', 'write "is not", or "not" in front of a test'),
    "&": ('"&" means nothing here', 'write "and"'),
    "|": ('"|" means nothing here', 'write "or"'),
    "*": ("a condition can add and subtract, but not multiply", "use a worked number or a limit from the catalogue"),
    "/": ("a condition can add and subtract, but not divide", "use a worked number or a limit from the catalogue"),
    "≤": ('"≤" cannot be read', "write: <="),
    "≥": ('"≥" cannot be read', "write: >="),
    "≠": ('"≠" cannot be read', 'write "is not"'),
    ",": ("a comma means nothing here", 'write "and" or "or" between tests; choices stand in a list: one of [a, b]'),
    '"': ("no quotes are needed here", "write the name as it is"),
    "'": ("no quotes are needed here", "write the name as it is"),
}


def parse(text: str) -> Expression:
    """Read a condition.

    Raises:
        GrammarError: the text is not a condition.
    """
    if not text.strip():
        raise GrammarError("condition-grammar", "the condition is empty", Span(0, 1), "write: when: superheat > 12 F")
    if len(text) > LONGEST:
        message = f"the condition is longer than {LONGEST} characters"
        raise GrammarError("condition-long", message, Span(0, 1), "divide it among several branches or steps")
    return _Parser(text).whole()


class _Parser:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.depth = 0
        self.compared = 0
        self.tokens: dict[int, tuple[str, Span]] = {}

    def whole(self) -> Expression:
        result = self.condition()
        token, span = self.peek()
        if token == ")":
            self.fail("condition-bracket", 'this ")" closes nothing', span, "delete it")
        if token in ("<", "<=", ">", ">="):
            hint = 'divide it: write "and" between two comparisons'
            self.fail("condition-grammar", "one comparison cannot go on into another", span, hint)
        if token:
            self.unexpected(token, span)
        return result

    def condition(self) -> Expression:
        parts = [self.both()]
        while self.accept("or"):
            parts.append(self.both())
        return parts[0] if len(parts) == 1 else Or(tuple(parts), Span(parts[0].span.start, parts[-1].span.end))

    def both(self) -> Expression:
        parts = [self.single()]
        while self.accept("and"):
            parts.append(self.single())
        return parts[0] if len(parts) == 1 else And(tuple(parts), Span(parts[0].span.start, parts[-1].span.end))

    def single(self) -> Expression:
        token, span = self.peek()
        if token not in ("not", "("):
            return self.test()
        self.depth += 1
        if self.depth > _MOST_DEPTH:
            self.fail("condition-deep", "there are too many brackets inside each other", span, "use several branches")
        self.take()
        if token == "not":
            part = self.single()
            self.depth -= 1
            return Not(part, Span(span.start, part.span.end))
        inner = self.condition()
        closing, _ = self.peek()
        if closing in ("<", "<=", ">", ">=", "+", "-"):
            self.fail("condition-bracket", "brackets hold whole tests, not sums", span, "leave the brackets out")
        if closing != ")":
            self.fail("condition-bracket", 'this "(" is not closed', span, 'write ")" behind the last test in it')
        self.take()
        self.depth -= 1
        return inner

    def test(self) -> Expression:
        token, span = self.peek()
        start = self.at
        if _is_name(token):
            self.take()
            if self.accept("is"):
                return self.choices(token, span)
            self.at = start
        left = self.sum()
        token, span = self.peek()
        if token not in ("<", "<=", ">", ">="):
            self.nothing_compared(left, token, span)
        self.take()
        index = self.compared
        self.compared += 1
        right = self.sum()
        return Compare(left, _operator(token), right, index, Span(left.span.start, right.span.end))

    def nothing_compared(self, left: Sum, token: str, span: Span) -> NoReturn:
        first = left.terms[0][1]
        said = shorten(self.text[left.span.start : left.span.end], 40)
        if len(left.terms) == 1 and isinstance(first, Quantity):
            if first.name == "change":
                self.fail("condition-grammar", "the reading stands in brackets", left.span, "write: change(reading)")
            if token and token.lower() in _RESERVED and token not in _RESERVED:
                self.unexpected(token, span)
            if _is_name(token):
                hint = f"write: {said} is {'one of [clean, dirty]' if token == 'in' else token}"
                self.fail("condition-grammar", f'"is" is missing in front of "{token}"', span, hint)
            if token and token[0] in _SPELLINGS:
                self.unexpected(token, span)
            hint = f'write "{said} is ..." for a choice, "{said} > ..." for a number'
            self.fail("condition-grammar", f'"{said}" alone decides nothing', left.span, hint)
        if token and token not in (")", "and", "or"):
            self.unexpected(token, span)
        self.fail("condition-grammar", f'"{said}" is not compared with anything', left.span, f"write: {said} > 12 F")

    def choices(self, name: str, name_span: Span) -> Is:
        negated = self.accept("not")
        start = self.at
        if self.peek()[0] == "[" or (self.accept("one") and self.accept("of")):
            found = self.listed(name, negated, start)
        else:
            self.at = start
            found = [self.choice()]
            while (further := self.further_choice()) is not None:
                found.append(further)
            if len(found) > 1:
                span = Span(name_span.start, found[-1].span.end)
                message = "several choices stand in a list"
                self.fail("condition-choices", message, span, _one_of(name, negated, found))
        return Is(name, name_span, tuple(found), negated, Span(name_span.start, self.at))

    def listed(self, name: str, negated: bool, start: int) -> list[Choice]:
        """Read the choices in square brackets."""
        opening, span = self.peek()
        if opening != "[":
            hint = _one_of(name, negated, [Choice("clean", span), Choice("dirty", span)])
            self.fail("condition-choices", 'the choices behind "one of" stand in [ ]', span, hint)
        self.take()
        found = [self.choice()]
        while self.accept(","):
            found.append(self.choice())
        closing, closing_span = self.peek()
        hint = _one_of(name, negated, found)
        if closing != "]":
            self.fail("condition-choices", 'the list of choices goes on with "," or ends with "]"', closing_span, hint)
        if self.text[start : span.start].isspace() or start == span.start:
            self.fail("condition-choices", '"one of" is missing in front of the list', span, hint)
        self.take()
        return found

    def choice(self) -> Choice:
        found = _CHOICE.match(self.text, self.skip())
        if found is None or found.group() in _RESERVED:
            token, span = self.peek()
            if token in ("'", '"'):
                self.unexpected(token, span)
            self.fail("condition-grammar", "a choice is missing here", span, "write: filter_condition is clogged")
        self.at = found.end()
        return Choice(found.group(), Span(*found.span()))

    def further_choice(self) -> Choice | None:
        """Read a choice behind "or", as who thinks of lists may write it: a bare word that is not itself tested."""
        start = self.at
        if not self.accept("or"):
            return None
        found = _CHOICE.match(self.text, self.skip())
        if found is not None and found.group() not in _RESERVED:
            self.at = found.end()
            if self.peek()[0] in ("", ")", "and", "or"):
                return Choice(found.group(), Span(*found.span()))
        self.at = start
        return None

    def sum(self) -> Sum:
        terms = [self.first_term()]
        while (sign := self.peek()[0]) in ("+", "-"):
            self.take()
            terms.append((1 if sign == "+" else -1, self.term()))
        return Sum(tuple(terms), Span(terms[0][1].span.start, terms[-1][1].span.end))

    def first_term(self) -> tuple[int, Term]:
        token, span = self.peek()
        if token != "-":
            return 1, self.term()
        self.take()
        term = self.term()
        whole = Span(span.start, term.span.end)
        # The sign belongs to the number: -5 F as a temperature is 5 below zero, not minus the temperature 5 F.
        if isinstance(term, Number):
            return 1, Number(-term.number, term.unit, whole)
        self.fail("condition-grammar", 'a sum cannot begin with "-" in front of a name', whole, "turn the sum around")

    def term(self) -> Term:
        token, span = self.peek()
        # Other scripts have digits too, and ² counts as one.
        if token.isascii() and (token[:1].isdigit() or (token[:1] == "." and len(token) > 1)):
            return self.literal(token, span)
        if not _is_name(token):
            self.no_term(token, span)
        self.take()
        if token == "change" and self.peek()[0] == "(":
            return Change(*self.name_in_brackets("change", "a reading", "suction_pressure", span))
        if token == "expected" and self.peek()[0] == "(":
            name, whole = self.name_in_brackets("expected", "a reading or worked number", "superheat", span)
            return Quantity(expected_name(name), whole)
        if "." in token:
            group, _, name = token.partition(".")
            if group != "limits":
                self.fail("condition-grammar", f'there is nothing called "{group}."', span, f"write: limits.{name}")
            return Limit(name, span)
        return Quantity(token, span)

    def name_in_brackets(self, word: str, what: str, example: str, span: Span) -> tuple[str, Span]:
        """Read the name in the brackets that a word opens, with the span of all three."""
        self.take()
        name, name_span = self.peek()
        if not _is_name(name) or "." in name:
            self.fail("condition-grammar", f"{what} is missing", name_span, f"write: {word}({example})")
        self.take()
        closing, closing_span = self.peek()
        if closing != ")":
            self.fail("condition-bracket", f'"{word}(" is not closed', span, f"write: {word}({name})")
        self.take()
        return name, Span(span.start, closing_span.end)

    def no_term(self, token: str, span: Span) -> NoReturn:
        if token and token not in (*_RESERVED, ")", "(", "<", "<=", ">", ">=", "+", "-"):
            self.unexpected(token, span)
        message = "a reading, number or value is missing here"
        if token == "(":
            message = "brackets hold whole tests, not sums"
        self.fail("condition-grammar", message, span, "write, for example: superheat > 12 F")

    def literal(self, token: str, span: Span) -> Number:
        self.take()
        if _COMMA_NUMBER.match(self.text, self.at):
            self.fail(
                "condition-grammar", "a number is written with a point and without commas", span, "write: 1.5 or 1500"
            )
        unit, end = self.unit()
        self.at = end
        return Number(float(token), unit, Span(span.start, end))

    def unit(self) -> tuple[str, int]:
        start = self.skip() if self.at < len(self.text) and self.text[self.at].isspace() else self.at
        found = _UNIT_WORDS.match(self.text, start)
        if found is None or found.group(1).lower() in _RESERVED:
            return "", self.at
        one, two = found.group(1), found.group(2)
        if two is not None and kinds_of_unit(f"{one} {two}"):
            return f"{one} {two}", found.end(2)
        # Any word here was meant as a unit; whether there is such a unit is seen with the other names.
        return one, found.end(1)

    def skip(self) -> int:
        found = _SPACE.match(self.text, self.at)
        return found.end() if found else self.at

    def peek(self) -> tuple[str, Span]:
        if self.at not in self.tokens:
            self.tokens[self.at] = self.look()
        return self.tokens[self.at]

    def look(self) -> tuple[str, Span]:
        start = self.skip()
        if start >= len(self.text):
            end = len(self.text.rstrip())
            return "", Span(max(end, 0), end + 1)
        found = _TOKEN.match(self.text, start)
        if found is None:
            return self.text[start], Span(start, start + 1)
        return found.group(), Span(*found.span())

    def take(self) -> None:
        self.at = self.peek()[1].end

    def accept(self, word: str) -> bool:
        token, span = self.peek()
        if token == word:
            self.at = span.end
            return True
        return False

    def unexpected(self, token: str, span: Span) -> NoReturn:
        if token.lower() in _RESERVED and token not in _RESERVED:
            self.fail("condition-grammar", f'"{token}" must be in small letters', span, f"write: {token.lower()}")
        if token[0] in _SPELLINGS:
            message, hint = _SPELLINGS[token[0]]
            self.fail("condition-grammar", message, span, hint)
        message = f'"{shorten(token, 40)}" is not expected here'
        self.fail("condition-grammar", message, span, 'between tests, write "and" or "or"')

    def fail(self, code: str, message: str, span: Span, hint: str | None = None) -> NoReturn:
        raise GrammarError(code, message, span, hint)


def _one_of(name: str, negated: bool, choices: list[Choice]) -> str:
    listed = ", ".join(dict.fromkeys(choice.text for choice in choices))
    return f"write: {name} is {'not ' if negated else ''}one of [{listed}]"


def _is_name(token: str) -> bool:
    return bool(token) and (token[0].isalpha() or token[0] == "_") and token not in _RESERVED and token.isascii()


def _operator(token: str) -> Operator:
    match token:
        case "<" | "<=" | ">" | ">=":
            return token
        case _:
            raise AssertionError(token)
