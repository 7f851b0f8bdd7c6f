"""Codes of keys that are wrong, missing or of the wrong form."""

from assistant.tree.codes.explanation import explained

SHAPE = (
    explained(
        "shape-branch",
        "A branch does not say when it is taken",
        """A branch begins with one of "when", "cannot_tell" and "otherwise", and with no more than one.""",
        "first",
        """
        decide:
          - go: open_end
        """,
        """
        decide:
          - when: filter_condition is clogged
            go: choked
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "shape-empty",
        "Nothing stands behind a key",
        "A key with nothing behind its colon says that something is still to be written.",
        "first",
        "say:\ngo: open_end",
        "say: Air first.\ngo: open_end",
    ),
    explained(
        "shape-form",
        "Text, list or keys where something else is needed",
        "Every key takes one form: a text, a list of names, or keys below it. The message says which.",
        "first",
        "say: [Air, first]\ngo: open_end",
        "say: Air first.\ngo: open_end",
    ),
    explained(
        "shape-leaf",
        "A node ends in two ways",
        """A call ends with a cause, with nothing wrong, or undecided. A node that claims two of them says nothing.""",
        "first",
        "cause: undercharge\nundecided: It cannot be told.",
        "cause: undercharge",
    ),
    explained(
        "shape-missing-key",
        "A key is missing",
        "Without it the tree, the branch or the entry of the catalogue is not complete.",
        "first",
        """
        decide:
          - when: filter_condition is clogged
          - cannot_tell: open_end
          - otherwise: open_end
        """,
        """
        decide:
          - when: filter_condition is clogged
            go: choked
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "shape-name",
        "A name cannot be one",
        """Nodes, and entries of the catalogue, are named in small letters, digits and _, a letter first, so that they
        can be typed and found everywhere. A choice may also hold capital letters, - and a point.""",
        "nodes",
        "first:\n  go: Open End\nOpen End:\n  undecided: It cannot be told.",
        "first:\n  go: no_gauges\nno_gauges:\n  undecided: It cannot be told.",
    ),
    explained(
        "shape-no-way-on",
        "A step leads nowhere",
        """Whoever comes to this node would be left standing. A step has "decide" or "go"; an end has "cause",
        "no_fault" or "undecided".""",
        "first",
        "say: Air first.",
        "say: Air first.\ngo: open_end",
    ),
    explained(
        "shape-schema",
        "Reader and schema disagree",
        """The check takes this, and the schema that editors read refuses it. Both are made from one table, so it is a
        mistake of the program and not of the file.""",
        "none",
    ),
    explained(
        "shape-two-ways",
        "A step has both decide and go",
        """Only one of them could count. What is to happen when no branch is taken is said with "otherwise".""",
        "first",
        """
        decide:
          - when: filter_condition is clogged
            go: choked
          - cannot_tell: open_end
          - otherwise: open_end
        go: open_end
        """,
        """
        decide:
          - when: filter_condition is clogged
            go: choked
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "shape-unknown-key",
        "A key means nothing here",
        "A misspelt key would be passed over in silence, and with it what it was to do - a caution, for example.",
        "first",
        "cautoin: [live_panels]\ngo: open_end",
        "caution: [live_panels]\ngo: open_end",
    ),
    explained(
        "shape-value",
        "A value is none of those that are taken",
        """Behind some keys stands one of a few words, or a number within bounds: yes or no, 1 to 4. The message names
        them.""",
        "cautions",
        "fins:\n  title: Fins\n  text: Fins cut. Wear gloves.\n  rule: common safety practice\n  irreversible: perhaps",
        "fins:\n  title: Fins\n  text: Fins cut. Wear gloves.\n  rule: common safety practice\n  irreversible: yes",
    ),
    explained(
        "shape-version",
        "The version is no whole number",
        "Versions are counted 1, 2, 3, so that it is plain which of two is the newer.",
        "file",
        "tree: example\nversion: 1.2\ntitle: An example\ncomplaints: [warm air]\nstart: fine\nnodes:\n"
        "  fine:\n    no_fault: Nothing wrong was found.",
        "tree: example\nversion: 2\ntitle: An example\ncomplaints: [warm air]\nstart: fine\nnodes:\n"
        "  fine:\n    no_fault: Nothing wrong was found.",
    ),
)
