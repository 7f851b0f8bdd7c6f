"""Codes of names that nothing answers to or that are of another sort, and of kinds and units that do not fit."""

from assistant.tree.codes.explanation import explained

NAMES = (
    explained(
        "name-act",
        "What is to be done has no name",
        """What a tech does is an act of the catalogue: it brings how it is done well, its cautions, and who may do it.
        The message names the act that comes nearest; words for this place go into `say`, beside it. An act that the
        catalogue does not have is written into the catalogue of a folder of your own.""",
        "first",
        """
        do: Put the gauges on.
        decide:
          - cannot_tell: open_end
          - otherwise: fine
        """,
        """
        do: hoses_on
        decide:
          - cannot_tell: open_end
          - otherwise: fine
        """,
    ),
    explained(
        "name-choice",
        "An observation has no such choice",
        "The tech is offered the choices of the catalogue, so a branch for another one would never be taken.",
        "condition",
        "filter_condition is cloged",
        "filter_condition is clogged",
    ),
    explained(
        "name-clash",
        "A node is called like something that is asked",
        """Answers are kept by name: in an example call, "blower_state: slow" must mean one thing. So no node is called
        like a reading, an observation or a fact.""",
        "nodes",
        "first:\n  go: blower_state\nblower_state:\n  undecided: The blower could not be seen.",
        "first:\n  go: look_at_blower\nlook_at_blower:\n  undecided: The blower could not be seen.",
    ),
    explained(
        "name-derived",
        "A fact is asked that follows from another",
        """The safety group follows from the refrigerant. Asking for it could only bring in a contradiction, and it
        decides about cautions.""",
        "first",
        """
        ask: safety_group
        decide:
          - when: safety_group is A3
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
        """
        decide:
          - when: safety_group is A3
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "name-repeat",
        "The same name stands twice",
        """In a list, naming it twice has no effect. In the catalogue, nobody could tell which of the two is meant.""",
        "first",
        "caution: [live_panels, live_panels]\ngo: open_end",
        "caution: [live_panels]\ngo: open_end",
    ),
    explained(
        "name-sort",
        "A name of another sort is needed here",
        """A worked number is never asked, a limit is written limits.NAME, and only readings are measured again. The
        message says what the name is and what can stand here.""",
        "first",
        "ask: superheat\ngo: open_end",
        """
        decide:
          - when: superheat > 12 F
            go: found
          - cannot_tell: open_end
          - otherwise: open_end
        """,
    ),
    explained(
        "name-unknown",
        "Nothing answers to this name",
        "It is misspelt, or still to be added to the tree or the catalogue. The nearest known names are suggested.",
        "condition",
        "super_heat > 12 F",
        "superheat > 12 F",
    ),
    explained(
        "kind-mixed",
        "Quantities of different kinds are added or compared",
        """A temperature and a temperature difference are different things: 12 F outdoors is cold, 12 F of superheat is
        usual. Two temperatures subtracted are a difference; two added mean nothing.""",
        "condition",
        "superheat > outdoor_air_temperature",
        "outdoor_air_temperature - evaporating_temperature > 30 F",
    ),
    explained(
        "kind-no-unit",
        "A number has no unit",
        "12 may be degrees Fahrenheit or kelvins, and between them lies a verdict. Only ratios are plain numbers.",
        "condition",
        "superheat > 12",
        "superheat > 12 F",
    ),
    explained(
        "kind-unit",
        "A unit of another kind",
        "The unit belongs to something else than what it is compared with.",
        "condition",
        "superheat > 12 psi",
        "superheat > 12 F",
    ),
    explained(
        "kind-unknown",
        "There is no such kind of quantity",
        "Kinds tell what can be compared with what, so there is a fixed list of them.",
        "limits",
        "dust:\n  value: 5 F\n  kind: temprature\n  what: an example\n  source: common practice, no source",
        "dust:\n  value: 5 F\n  kind: temperature\n  what: an example\n  source: common practice, no source",
    ),
    explained(
        "kind-value",
        "A value cannot be read",
        "Values carry a number and a unit of their kind, in example calls and in the catalogue as in an answer.",
        "limits",
        "dust:\n  value: five\n  kind: temperature\n  what: an example\n  source: common practice, no source",
        "dust:\n  value: 5 F\n  kind: temperature\n  what: an example\n  source: common practice, no source",
    ),
    explained(
        "unit-unknown",
        "There is no such unit",
        "It is misspelt, or we do not know it. The message lists the units that fit.",
        "condition",
        "superheat > 12 deg",
        "superheat > 12 F",
    ),
)
