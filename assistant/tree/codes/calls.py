"""Codes of example calls, and of what is only noted."""

from assistant.tree.codes.explanation import explained

CALLS = (
    explained(
        "call-end",
        "No leaf of the tree ends so",
        "The call could never reach this end, so either the name or the tree is not as it was meant.",
        "calls",
        """
        calls:
          - name: the filter is clogged
            answers: {filter_condition: clogged}
            reaches: overcharge
        """,
        """
        calls:
          - name: the filter is clogged
            answers: {filter_condition: clogged}
            reaches: dirty_filter
        """,
    ),
    explained(
        "call-like",
        "The call that it is like is not there",
        "A call takes over the facts and answers of one that stands further up in the same file.",
        "calls",
        """
        calls:
          - name: the filter is clogged
            answers: {filter_condition: clogged}
            reaches: dirty_filter
          - name: the filter is clean
            like: the filter is clocked
            answers: {filter_condition: clean}
            reaches: undecided
        """,
        """
        calls:
          - name: the filter is clogged
            answers: {filter_condition: clogged}
            reaches: dirty_filter
          - name: the filter is clean
            like: the filter is clogged
            answers: {filter_condition: clean}
            reaches: undecided
        """,
    ),
    explained(
        "call-no-tree",
        "Example calls without their tree",
        "The calls of poor_cooling.yaml stand in poor_cooling.calls.yaml beside it. These belong to a tree not here.",
    ),
    explained(
        "call-repeat",
        "Two calls have the same name",
        "When one of them fails, nobody could tell which.",
        "calls",
        """
        calls:
          - name: the filter is clogged
            answers: {filter_condition: clogged}
            reaches: dirty_filter
          - name: the filter is clogged
            answers: {filter_condition: clean}
            reaches: undecided
        """,
        """
        calls:
          - name: the filter is clogged
            answers: {filter_condition: clogged}
            reaches: dirty_filter
          - name: the filter is clean
            answers: {filter_condition: clean}
            reaches: undecided
        """,
    ),
    explained(
        "call-step",
        "A step is answered as no step is",
        """A step with "do" is answered with "done" or "cannot do"; a step without has nothing to answer.""",
        "calls",
        """
        calls:
          - name: the filter is clogged
            answers: {first: clogged}
            reaches: undecided
        """,
        """
        calls:
          - name: the filter is clogged
            answers: {filter_condition: clogged}
            reaches: dirty_filter
        """,
    ),
)

NOTES = (
    explained(
        "note-otherwise",
        "Nothing is left for an otherwise",
        """The branches above it take every value. That is harmless, and a net should the catalogue get another choice,
        so it is only noted. But where numbers are compared, the turned side of a close call comes here, and that is
        seldom what was meant: let the last branch be the "otherwise".""",
        "first",
        """
        decide:
          - when: superheat > 12 F
            go: found
          - when: superheat <= 12 F
            go: open_end
          - cannot_tell: open_end
          - otherwise: open_end
        """,
        """
        decide:
          - when: superheat > 12 F
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "note-replaced",
        "A shop's folder replaces something",
        """What has the same name in the folder of --shop counts instead of what lies below it. That is what the folder
        is for, so it is only noted; where it is a surprise, choose another name.""",
    ),
    explained(
        "note-to-self",
        "A note to yourself",
        """What stands behind "note:" in a tree or a node is for its author: no call shows it, and the check lists it so
        that it is not forgotten.""",
        "first",
        "note: Ask Monday whether 12 F suits our climate.\ngo: open_end",
        "go: open_end",
    ),
    explained(
        "note-unused",
        "Nothing uses an entry of the catalogue",
        """No tree of the folder uses the observation or limit, or ends in the cause. Noted only when asked for, with
        --unused: the entry may serve another tree.""",
    ),
)
