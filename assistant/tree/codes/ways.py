"""Codes of the way through the nodes: what is never reached, never left, never asked, or comes without its caution."""

from assistant.tree.codes.explanation import explained

WAYS = (
    explained(
        "tree-after-otherwise",
        "A branch stands behind otherwise",
        """Branches are tried in order, and "otherwise" takes everything, so nothing comes to those behind it.""",
        "first",
        """
        decide:
          - cannot_tell: open_end
          - otherwise: open_end
          - when: filter_condition is clogged
            go: choked
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
        "tree-caution",
        "Something dangerous comes without its caution",
        """The words of this text ask for a caution, as the catalogue says in `words:` of each caution, and there is a
        way to this node on which it is not acknowledged. List it here, or earlier on every way. Where nothing dangerous
        is meant, say it in other words; behind "not", "never", "no" or "without" words do not count.""",
        "first",
        """
        say: Take the bulb off the pipe and hold it in ice water.
        decide:
          - cannot_tell: open_end
          - otherwise: found
        """,
        """
        caution: [chilled_bulb]
        say: Take the bulb off the pipe and hold it in ice water.
        decide:
          - cannot_tell: open_end
          - otherwise: found
        """,
    ),
    explained(
        "tree-never",
        "What is never done",
        """A safety control is believed and never bridged, held in or taken out; refrigerant is never let out; nothing
        is tested with oxygen; no guard is talked away. No caution makes that right. Say what is measured instead.""",
        "first",
        """
        say: Jump out the low-pressure switch and see whether it starts.
        decide:
          - cannot_tell: open_end
          - otherwise: found
        """,
        """
        say: A low-pressure switch that is open is believed until the pressure is known.
        decide:
          - cannot_tell: open_end
          - otherwise: found
        """,
    ),
    explained(
        "tree-change",
        "A change is used that no step measures",
        "change(reading) is the difference of two measurements, so some step must take the reading again.",
        "condition",
        "change(suction_pressure) > 3 psi",
        "superheat > 12 F",
    ),
    explained(
        "tree-close-call",
        "One number alone parts an open circuit from nothing wrong",
        """Every number has its doubt. Where it lies within it, both verdicts may be true - and here one of them opens
        the circuit, while the other tells the customer that all is well. Leave a middle between the two, or look at
        something else before one of them. Causes whose cautions the catalogue marks as irreversible are meant.""",
        "first",
        """
        decide:
          - when: subcooling < 5 F
            go: found
          - cannot_tell: open_end
          - otherwise: fine
        """,
        """
        decide:
          - when: subcooling < 5 F
            go: found
          - when: subcooling > 9 F
            go: fine
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "tree-double",
        "Two branches have the same condition",
        "The first of them takes everything, so the second is never reached.",
        "first",
        """
        decide:
          - when: filter_condition is clogged
            go: choked
          - when: filter_condition is clogged
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
        """
        decide:
          - when: filter_condition is clogged
            go: choked
          - when: filter_condition is missing
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "tree-endless",
        "A circle is never left",
        """The same answers lead the same way. A way back needs a step on it that asks anew for something on which a
        decision of the circle depends.""",
        "first",
        """
        decide:
          - when: superheat > 12 F
            go: first
          - cannot_tell: open_end
          - otherwise: found
        """,
        """
        measure_again: [suction_pressure, suction_line_temperature]
        decide:
          - when: superheat > 12 F
            go: first
          - cannot_tell: open_end
          - otherwise: found
        """,
    ),
    explained(
        "tree-name",
        "The tree is called otherwise than its file",
        "One is found by the name of the other: poor_cooling stands in poor_cooling.yaml.",
        "file",
        "tree: other\nversion: 1\ntitle: An example\ncomplaints: [warm air]\nstart: fine\nnodes:\n"
        "  fine:\n    no_fault: Nothing wrong was found.",
        "tree: example\nversion: 1\ntitle: An example\ncomplaints: [warm air]\nstart: fine\nnodes:\n"
        "  fine:\n    no_fault: Nothing wrong was found.",
    ),
    explained(
        "tree-no-cannot-do",
        "No way on for what cannot be done",
        """A tech may be unable to do what is asked: the panel is painted shut, the tool is in the other truck. "cannot
        do" takes the branch cannot_tell.""",
        "first",
        "do: read_air_side\ngo: open_end",
        """
        do: read_air_side
        decide:
          - cannot_tell: open_end
          - otherwise: found
        """,
    ),
    explained(
        "tree-no-cannot-tell",
        "No way on for what cannot be told",
        'Everything that is asked may be answered with "cannot tell", and an honest answer must lead somewhere.',
        "first",
        """
        decide:
          - when: filter_condition is clogged
            go: choked
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
        "tree-no-end",
        "No way from here leads to an end",
        'A call that comes here could go on for ever, and never hear a cause or an honest "undecided".',
        "nodes",
        """
        first:
          decide:
            - when: filter_condition is clogged
              go: choked
            - cannot_tell: open_end
            - otherwise: wait
        wait:
          ask: filter_condition
          go: wait
        """,
        """
        first:
          decide:
            - when: filter_condition is clogged
              go: choked
            - cannot_tell: open_end
            - otherwise: wait
        wait:
          ask: filter_condition
          go: open_end
        """,
    ),
    explained(
        "tree-no-otherwise",
        "Some values find no branch",
        """A call that meets such values would be left standing. The message names some, found by going through all
        that the conditions leave open. Where the branches take every value of a number, the last of them must still be
        an "otherwise": a close call turns one comparison alone, and must find a way on too.""",
        "first",
        """
        decide:
          - when: superheat > 12 F
            go: found
          - when: superheat < 5 F and subcooling > 9 F
            go: open_end
          - cannot_tell: open_end
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
        "tree-second",
        "A second otherwise or cannot_tell",
        "Only the first one counts.",
        "first",
        """
        decide:
          - when: filter_condition is clogged
            go: choked
          - cannot_tell: open_end
          - otherwise: open_end
          - otherwise: found
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
        "tree-shadowed",
        "Branches above leave nothing to this one",
        """Branches are tried in order, and those above take all the values that this one would. The narrow case goes
        first, the wide one behind it. Proven over everything that the conditions compare, and only claimed where it is
        certain.""",
        "first",
        """
        decide:
          - when: superheat > 5 F
            go: open_end
          - when: superheat > 12 F
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
        """
        decide:
          - when: superheat > 12 F
            go: found
          - when: superheat > 5 F
            go: open_end
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "tree-unreached",
        "No way leads to a node",
        "Nobody will ever see it: a way to it is missing or misspelt, or it was left over.",
        "nodes",
        """
        first:
          go: open_end
        left_over:
          no_fault: Nothing wrong was found.
        """,
        """
        first:
          go: open_end
        """,
    ),
    explained(
        "tree-unused",
        "Something is asked and never used",
        """A question costs the tech a minute and some trust. What is asked is used by a condition, shown as evidence,
        or needed by a worked number that is.""",
        "first",
        "ask: sight_glass\ngo: open_end",
        """
        ask: sight_glass
        decide:
          - when: sight_glass is bubbling
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
)
