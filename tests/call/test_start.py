"""A call that begins at a node of a tree, as when its author tries one."""

import pytest

from assistant.call.script import Start
from assistant.call.turns import Concluded
from assistant.call.walk import walk
from assistant.catalogue.catalogue import Catalogue
from assistant.errors import UnknownNameError
from tests.answering import by_name
from tests.call.small import asked_next, small_library, way

NODES = """
first:
  ask: filter_condition
  decide:
    - when: filter_condition is clogged
      go: choked
    - cannot_tell: second
    - otherwise: second
second:
  do: wait_settled
  measure_again: suction_pressure
  decide:
    - when: change(suction_pressure) > 3 psi
      go: answers
    - cannot_tell: open_end
    - otherwise: open_end
choked:
  cause: dirty_filter
  because: [filter_condition]
answers: {undecided: It answers.}
open_end: {undecided: It cannot be told.}
"""


def test_a_call_may_begin_at_any_node(catalogue: Catalogue) -> None:
    """No complaint is asked for; facts come first, then the node."""
    library = small_library(catalogue, NODES, facts="refrigerant")
    assert asked_next(walk(library, (), start=Start("small"))) == "refrigerant"
    facts = by_name({"refrigerant": "R-22"})
    assert asked_next(walk(library, facts, start=Start("small"))) == "filter_condition"
    assert asked_next(walk(library, facts, start=Start("small", "second"))) == "suction_pressure"


def test_what_the_way_would_have_asked_is_known(catalogue: Catalogue) -> None:
    """What is known counts as asked: an end shows it, and a change is measured from it."""
    library = small_library(catalogue, NODES)
    answers = by_name({"filter_condition": "clogged", "suction_pressure": ["70 psig", "80 psig"]})
    at_the_end = walk(library, answers, start=Start("small", "choked", ("filter_condition",)))
    concluded = next(turn for turn in at_the_end.turns if isinstance(turn, Concluded))
    assert [line.split(":")[0] for line in concluded.evidence] == ["Air filter"]
    begun = Start("small", "second", ("suction_pressure",))
    done = by_name({"suction_pressure": ["70 psig", "80 psig"], "do second": "done"})
    assert way(walk(library, done, start=begun)) == ["answers"]


def test_an_unknown_start_gives_the_nearest(catalogue: Catalogue) -> None:
    """A misspelt node or tree is told with the name that was meant."""
    library = small_library(catalogue, NODES)
    with pytest.raises(UnknownNameError, match="Did you mean second"):
        walk(library, (), start=Start("small", "secnd"))
    with pytest.raises(UnknownNameError, match="Did you mean small"):
        walk(library, (), start=Start("smal"))
