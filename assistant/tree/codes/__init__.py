"""The codes of all problems: what each means, why it matters, and an example of it wrong and right.

The only table: `coilside trees explain`, the page `trees/PROBLEMS.md` and the tests of the examples are made from it.
"""

from collections.abc import Mapping

from assistant.tree.codes.calls import CALLS, NOTES
from assistant.tree.codes.catalogue import CATALOGUE
from assistant.tree.codes.conditions import CONDITIONS
from assistant.tree.codes.explanation import Explanation
from assistant.tree.codes.names import NAMES
from assistant.tree.codes.reading import READING
from assistant.tree.codes.shape import SHAPE
from assistant.tree.codes.uses import USES
from assistant.tree.codes.ways import WAYS

_PARTS = (READING, SHAPE, NAMES, CONDITIONS, WAYS, USES, CALLS, CATALOGUE, NOTES)

EXPLANATIONS: Mapping[str, Explanation] = {item.code: item for part in _PARTS for item in part}
"""Every code that a problem can have, with its explanation, the families in the order in which files are checked."""
