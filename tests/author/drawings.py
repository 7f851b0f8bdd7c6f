"""Pictures for tests: of a tree in a text, over the shipped catalogue."""

from assistant.author.picture import Picture, picture
from assistant.catalogue.catalogue import Catalogue
from assistant.tree.model import Tree
from assistant.tree.reader import read_tree_string

NAME_WITHOUT_END = "node_" + "x" * 90
WORDS = "</text></svg><script>alert('x')</script> \"quoted\" `tick` | pipe # hash; ]]> --> %% 温度 Überhitzung"
HOSTILE = f"""\
tree: hostile
version: 1
title: "</title><script>alert(1)</script> & more"
complaints: ["it's | <b>cold</b>"]
facts: [refrigerant]
start: first
nodes:
  first:
    caution: [moving_parts]
    say: {WORDS!r}
    why: '"><img src=x onerror=alert(1)>'
    ask: filter_condition
    decide:
      - when: filter_condition is clogged
        say: '<i>pipes | and "quotes"</i>'
        go: {NAME_WITHOUT_END}
      - when: superheat > limits.superheat_band and (filter_condition is dirty or not filter_condition is clean)
        go: cause_node
      - cannot_tell: nowhere
      - otherwise: cause_node
  {NAME_WITHOUT_END}:
    undecided: {"Wort" * 60} <br> done
  cause_node:
    cause: dirty_filter
  sound:
    no_fault: All is <u>well</u>.
""".replace(repr(WORDS), "'" + WORDS.replace("'", "''") + "'")
USING = """\
tree: using
version: 1
title: Uses another
complaints: [not cold]
facts: [refrigerant]
start: bench
nodes:
  bench:
    caution: [moving_parts]
    use: inner
    when_no_fault: again
  again:
    decide:
      - when: filter_condition is clogged
        go: choked
      - cannot_tell: open_end
      - otherwise: open_end
  choked: {cause: dirty_filter}
  open_end: {undecided: Nothing was found.}
"""
INNER = """\
tree: inner
version: 1
title: The inner tree
complaints: [hot]
facts: [refrigerant]
start: look
nodes:
  look:
    decide:
      - when: indoor_coil_face is clean
        go: fine
      - when: indoor_coil_face is matted
        go: dirt
      - cannot_tell: unknown
      - otherwise: unknown
  fine: {no_fault: It is clean.}
  dirt: {cause: dirty_indoor_coil}
  unknown: {undecided: It cannot be seen.}
"""


def tree_of(text: str) -> Tree:
    """A tree that reads without a mistake."""
    tree, problems = read_tree_string(text, "t.yaml")
    assert problems == []
    assert tree is not None
    return tree


def picture_of(text: str, catalogue: Catalogue) -> Picture:
    """The picture of the tree in a text."""
    return picture(tree_of(text), catalogue)
