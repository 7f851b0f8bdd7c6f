"""The keys of tree files, once for the reader, the schema and the messages."""

TREE = ("tree", "version", "title", "complaints", "mode", "facts", "start", "nodes", "note")
TREE_REQUIRED = ("tree", "version", "title", "complaints", "start", "nodes")
STEP = ("say", "why", "caution", "do", "ask", "measure_again", "decide", "go", "note")
USE = ("use", "say", "caution", "when_no_fault", "when_undecided", "note")
CAUSE_LEAF = ("cause", "because", "say", "caution", "note")
NO_FAULT_LEAF = ("no_fault", "because", "caution", "note")
UNDECIDED_LEAF = ("undecided", "because", "caution", "note")
WHEN = ("when", "go", "say")
CANNOT_TELL = ("cannot_tell", "say")
OTHERWISE = ("otherwise", "say")
CALLS = ("calls",)
CALL = ("name", "like", "facts", "answers", "reaches", "at")
ANSWERS = ("facts", "answers")

LEAF_WORDS = ("cause", "no_fault", "undecided")
BRANCH_WORDS = ("when", "cannot_tell", "otherwise")
CALL_REQUIRED = ("name", "reaches")
# Where one text or a list of texts may stand.
LISTS = ("complaints", "facts", "caution", "ask", "measure_again", "because", "note")
