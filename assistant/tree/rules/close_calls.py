"""One number alone must not part work that cannot be taken back from "nothing wrong".

A close call is decided by a number within its doubt. Where its other side is a cause whose repair opens the circuit,
and this side tells the customer that all is well, either verdict may be false, and one of them cannot be mended.
"""

from collections.abc import Iterator
from fractions import Fraction

from assistant.source.problem import Problem
from assistant.tree.forms import All, Any, Form, Pick, opposite
from assistant.tree.linear import Row, UnprovenError
from assistant.tree.linking import SEPARATOR, is_own
from assistant.tree.model import CannotTell, CauseLeaf, Leaf, NoFaultLeaf, Otherwise, Step, Tree, Use, When
from assistant.tree.proof import Effort, gather_known, model_of
from assistant.tree.vocabulary import Vocabulary

# Steps that only lead on, which nobody writes so many of in a row; a circle of them is reported as that.
_MOST_STEPS = 10

Border = tuple[tuple[tuple[str, Fraction], ...], Fraction]


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every decision in which such a cause and "nothing wrong" lie on the two sides of one comparison."""
    effort = Effort.for_tree(tree)
    for node in tree.nodes.values():
        if not isinstance(node, Step) or not node.whole or not any(condition.compares for condition in node.conditions):
            continue
        ends = [(branch, _end(tree, branch.go.text)) for branch in node.branches if not isinstance(branch, CannotTell)]
        grave = [branch for branch, end in ends if end is not None and _cannot_be_taken_back(end, vocabulary)]
        well = [branch for branch, end in ends if isinstance(end, NoFaultLeaf)]
        if grave and well:
            yield from _of_step(tree, node, (grave, well), vocabulary, effort)


def _of_step(
    tree: Tree,
    step: Step,
    sides: tuple[list[When | Otherwise], list[When | Otherwise]],
    vocabulary: Vocabulary,
    effort: Effort,
) -> Iterator[Problem]:
    decision = gather_known(step, vocabulary)
    if decision is None:
        return
    forms = {id(branch): form for branch, form in decision.branches}
    order = [branch for branch in step.branches if not isinstance(branch, CannotTell)]
    taken = [_taken(place, [forms.get(id(branch)) for branch in order]) for place in range(len(order))]
    for one in sides[0]:
        for other in sides[1]:
            first, second = sorted((order.index(one), order.index(other)))
            end = _end(tree, one.go.text)
            assert isinstance(end, CauseLeaf)
            if not _is_told_elsewhere(step, end, _end(tree, other.go.text)) and _touch(
                taken[first], taken[second], effort
            ):
                which = f'"{end.cause.text}", whose repair cannot be taken back,'
                message = f'one number alone parts {which} from "nothing wrong"'
                hint = "leave a middle between the two, or look at something else first"
                branch = order[first]
                place = branch.condition.place if isinstance(branch, When) else branch.place
                yield _at_use(tree, step, Problem("tree-close-call", place, message, hint))
                return


def _is_told_elsewhere(step: Step, one: Leaf, other: Leaf | None) -> bool:
    """Tell whether a step and both ends stand in the same used tree: it is told where that tree is checked."""
    inside = step.name.rpartition(SEPARATOR)[0] + SEPARATOR
    return not is_own(step.name) and all(end is None or end.name.startswith(inside) for end in (one, other))


def _at_use(tree: Tree, step: Step, problem: Problem) -> Problem:
    """Tell what only comes of using a tree where that is done: the used tree by itself is right."""
    if is_own(step.name):
        return problem
    user = tree.nodes[step.name.partition(SEPARATOR)[0]]
    message = f"with the tree used here and where it leads back to, {problem.message} (line {problem.place.line} there)"
    return Problem(problem.code, user.place, message, problem.hint)


def _taken(place: int, forms: list[Form | None]) -> All:
    """Give what is true when a branch is taken: its condition, and none above it."""
    own = forms[place]
    above = tuple(opposite(form) for form in forms[:place] if form is not None)
    return All(above if own is None else (*above, own))


def _touch(one: Form, other: Form, effort: Effort) -> bool:
    """Tell whether there is a value of one number at which the two border on each other, all else being the same."""
    for border in dict.fromkeys(_borders(one)):
        try:
            if model_of([_up_to(border, one), _up_to(border, other)], [], effort) is not None:
                return True
        except UnprovenError:
            continue
    return False


def _borders(form: Form) -> Iterator[Border]:
    match form:
        case Row():
            yield _border(form)
        case All() | Any():
            for part in form.parts:
                yield from _borders(part)
        case Pick():
            pass


def _border(row: Row) -> Border:
    """Give where the two sides of an inequality meet, the same for both of them."""
    return max((row.terms, row.constant), (row.opposite.terms, row.opposite.constant))


def _up_to(border: Border, form: Form) -> Form:
    """Give a form with one border in reach, and away from all others."""
    match form:
        case Row():
            return Row(form.terms, form.constant, _border(form) != border)
        case All():
            return All(tuple(_up_to(border, part) for part in form.parts))
        case Any():
            return Any(tuple(_up_to(border, part) for part in form.parts))
        case Pick():
            return form


def _end(tree: Tree, name: str) -> Leaf | None:
    """Give the leaf that a way comes to without anything being asked, done or decided on it."""
    node = tree.nodes.get(name)
    for _ in range(_MOST_STEPS):
        if not isinstance(node, Step):
            return None if isinstance(node, Use) else node
        if node.ask or node.do or node.measure_again or len(node.branches) != 1:
            return None
        node = tree.nodes.get(node.branches[0].go.text)
    return None


def _cannot_be_taken_back(end: Leaf, vocabulary: Vocabulary) -> bool:
    return isinstance(end, CauseLeaf) and any(
        vocabulary.is_irreversible(name) for name in vocabulary.cautions_of_cause(end.cause.text)
    )
