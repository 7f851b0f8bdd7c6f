"""One number alone must not part work that cannot be taken back from "nothing wrong".

A close call is decided by a number within its doubt. Where its other side is a cause whose repair opens the circuit,
and this side tells the customer that all is well, either verdict may be false, and one of them cannot be mended.
"""

from collections.abc import Iterator

from assistant.source.problem import Problem
from assistant.tree.condition import tests
from assistant.tree.expression import Compare
from assistant.tree.forms import All, Any, Form
from assistant.tree.linear import Row, UnprovenError
from assistant.tree.model import CannotTell, CauseLeaf, Leaf, NoFaultLeaf, Otherwise, Step, Tree, When
from assistant.tree.proof import known, model_of
from assistant.tree.vocabulary import Vocabulary


def check(tree: Tree, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Report every decision in which turning one comparison leads from such a cause to "nothing wrong"."""
    for node in tree.nodes.values():
        if not isinstance(node, Step) or not node.whole:
            continue
        ends = [(branch, _end(tree, branch.go.text)) for branch in node.branches if not isinstance(branch, CannotTell)]
        grave = [branch for branch, end in ends if end is not None and _cannot_be_taken_back(end, vocabulary)]
        well = [branch for branch, end in ends if isinstance(end, NoFaultLeaf)]
        if grave and well and _compares(node):
            yield from _of_step(tree, node, grave, well, vocabulary)


def _of_step(
    tree: Tree, step: Step, grave: list[When | Otherwise], well: list[When | Otherwise], vocabulary: Vocabulary
) -> Iterator[Problem]:
    decision = known(step, vocabulary)
    if decision is None:
        return
    forms = {id(branch): form for branch, form in decision.branches}
    order = [branch for branch in step.branches if not isinstance(branch, CannotTell)]
    for one in grave:
        for other in well:
            first, second = sorted((order.index(one), order.index(other)))
            if _beside(first, second, [forms.get(id(branch)) for branch in order]):
                end = _end(tree, one.go.text)
                assert isinstance(end, CauseLeaf)
                which = f'"{end.cause.text}", whose repair cannot be taken back,'
                message = f'one number alone parts {which} from "nothing wrong"'
                hint = "leave a middle between the two, or look at something else first"
                branch = order[first]
                place = branch.condition.place if isinstance(branch, When) else branch.place
                yield Problem("tree-close-call", place, message, hint)
                return


def _beside(first: int, second: int, forms: list[Form | None]) -> bool:
    """Tell whether turning one comparison of the first branch can lead from it to the second."""
    taken = forms[first]
    if taken is None:
        return False
    wanted = forms[second]
    before = [form for form in forms[:first] if form is not None]
    between = [form for form in forms[first + 1 : second] if form is not None]
    for turned in _turned(taken):
        try:
            true = [taken] if wanted is None else [taken, wanted]
            if model_of(true, [*before, turned, *between]) is not None:
                return True
        except UnprovenError:
            continue
    return False


def _turned(form: Form) -> Iterator[Form]:
    """Give a form once for each of its comparisons, with that one turned into its opposite."""
    if isinstance(form, Row):
        yield form.opposite
    elif isinstance(form, All | Any):
        for index, part in enumerate(form.parts):
            for turned in _turned(part):
                yield type(form)((*form.parts[:index], turned, *form.parts[index + 1 :]))


def _end(tree: Tree, name: str) -> Leaf | None:
    """Give the leaf that a way comes to without anything being asked, done or decided on it."""
    seen: set[str] = set()
    node = tree.nodes.get(name)
    while isinstance(node, Step):
        if node.ask or node.do or node.measure_again or len(node.branches) != 1 or node.name in seen:
            return None
        seen.add(node.name)
        node = tree.nodes.get(node.branches[0].go.text)
    return node


def _cannot_be_taken_back(end: Leaf, vocabulary: Vocabulary) -> bool:
    return isinstance(end, CauseLeaf) and any(
        vocabulary.is_irreversible(name) for name in vocabulary.cautions_of_cause(end.cause.text)
    )


def _compares(step: Step) -> bool:
    return any(
        isinstance(test, Compare)
        for branch in step.branches
        if isinstance(branch, When)
        for test in tests(branch.condition.root)
    )
