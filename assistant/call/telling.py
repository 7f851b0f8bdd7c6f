"""Conditions and nodes in the words of a tech: titles, the words of choices, and the units of the screen."""

from collections.abc import Mapping
from typing import assert_never

from assistant.catalogue.catalogue import Catalogue
from assistant.quantity import Kind, Unit, plain, preferred_unit, show
from assistant.tree.expression import And, Not, Or
from assistant.tree.meaning import Broken, Compared, Constant, IsOneOf, Moved, Part, Sum, Term, ValueOf
from assistant.tree.model import CauseLeaf, NoFaultLeaf, Step, Tree, UndecidedLeaf, Use
from assistant.worksheet.showing import Display

_MOST_TITLES = 3
_LONGEST_ACTION = 60


_NOTHING: Mapping[str, str] = {}


def condition_words(part: Part, display: Display, answered: Mapping[str, str] = _NOTHING) -> str:
    """Say a condition: `superheat > superheat target + 5 °F and air filter is "clean"`.

    Of several choices that would do, the one that was `answered` is said alone.
    """
    return _words(part, display, answered, is_inner=False)


def _words(part: Part, display: Display, answered: Mapping[str, str], *, is_inner: bool) -> str:
    match part:
        case Compared():
            return f"{_sum(part.left, part, display)} {part.operator} {_sum(part.right, part, display)}"
        case IsOneOf():
            made = answered.get(part.need.name)
            told = (made,) if made in part.choices and not part.negated else part.choices
            return _in_brackets(_choice(part, told, display.catalogue), is_inner and len(told) > 1)
        case Not():
            return f"not ({_words(part.part, display, answered, is_inner=False)})"
        case And() | Or():
            joint = " and " if isinstance(part, And) else " or "
            words = joint.join(_words(one, display, answered, is_inner=True) for one in part.parts)
            return _in_brackets(words, is_inner)
        case Broken():
            raise ValueError("a condition with mistakes cannot be told")
        case _:
            assert_never(part)


def _in_brackets(text: str, wanted: bool) -> str:
    return f"({text})" if wanted else text


def _choice(test: IsOneOf, told: tuple[str, ...], catalogue: Catalogue) -> str:
    entry = catalogue.observations.get(test.need.name) or catalogue.facts.get(test.need.name)
    known = entry.choices if entry else {}
    # What has no words, such as a refrigerant, is called by its name.
    words = [f'"{known[choice]}"' if choice in known else choice for choice in told]
    verb = "is" if not test.negated else "is not" if len(words) == 1 else "is neither"
    return f"{_title(test.need.name, catalogue)} {verb} {(' nor ' if test.negated else ' or ').join(words)}"


def _sum(side: Sum, test: Compared, display: Display) -> str:
    (_, first), *others = side
    text = _term(first, test, display)
    for sign, term in others:
        words = _term(term, test, display)
        # A limit may itself be below zero.
        text += f" {'-' if (sign < 0) is not words.startswith('-') else '+'} {words.removeprefix('-')}"
    return text


def _term(term: Term, test: Compared, display: Display) -> str:
    match term:
        case ValueOf():
            return _title(term.need.name, display.catalogue)
        case Moved():
            return f"change of {_title(term.need.name, display.catalogue)}"
        case Constant():
            unit = unit_beside(test, term.kind, display)
            if unit == term.unit:
                return f"{plain(term.number)} {unit.label}".strip()
            value = term.value + display.atmosphere if term.unit.gauge else term.value
            return show(value, unit, display.atmosphere)
        case _:
            assert_never(term)


def unit_beside(test: Compared, kind: Kind, display: Display) -> Unit:
    """Return the unit in which a comparison shows values of a kind: that of the first such quantity in it.

    Static pressure is shown in inches of water, not in psi, where it is compared; a kind that nothing in the
    comparison has is shown in its usual unit.
    """
    for term in test.terms:
        if not isinstance(term, Constant) and term.kind is kind:
            own = display.unit(term.need.name)
            if own.kind is kind:
                return own
    return preferred_unit(kind, display.system)


def node_words(tree: Tree | None, name: str, catalogue: Catalogue) -> str:
    """Say what a node of a linked tree is: its title, else what it ends in, does, asks, or decides by.

    A step that only leads on is what it leads to.
    """
    seen: set[str] = set()
    while tree is not None and name in tree.nodes and name not in seen:
        seen.add(name)
        node = tree.nodes[name]
        match node:
            case CauseLeaf():
                return _in_sentence(catalogue.causes[node.cause.text].title)
            case Step() | NoFaultLeaf() | UndecidedLeaf() | Use() if node.title:
                return _in_sentence(node.title)
            case NoFaultLeaf():
                return "nothing wrong found"
            case UndecidedLeaf():
                return "left undecided"
            case Use():
                return node.tree.text
            case Step():
                words = _step_words(node, catalogue)
                if words:
                    return words
                name = node.branches[0].go.text
            case _:
                assert_never(node)
    return "the next step"


def _step_words(step: Step, catalogue: Catalogue) -> str:
    if step.do:
        titles = [catalogue.acts[act.text].title for act in step.do if act.text in catalogue.acts]
        return _in_sentence(_first_clause(", then ".join(titles)))
    named = [name.text for name in (*step.ask, *step.measure_again)]
    asked = dict.fromkeys(named or (need.name for need in step.decision(catalogue).needs))
    titles = [_title(name, catalogue) for name in asked]
    return ", ".join(titles[:_MOST_TITLES]) + (", ..." if len(titles) > _MOST_TITLES else "")


def _first_clause(text: str) -> str:
    ends = [place for mark in (". ", "; ", ": ", ", ") if (place := text.find(mark)) > 0]
    clause = text[: min(ends, default=len(text))].rstrip(".")
    return clause if len(clause) <= _LONGEST_ACTION else clause[: clause.rfind(" ", 0, _LONGEST_ACTION)] + " ..."


def _title(name: str, catalogue: Catalogue) -> str:
    return _in_sentence(catalogue.title_of(name))


def _in_sentence(title: str) -> str:
    """Return a title with a small first letter, unless it begins with an abbreviation."""
    return title if title[1:2].isupper() or title[1:2] == "-" else title[:1].lower() + title[1:]
