"""Codes of the catalogue."""

from assistant.tree.codes.explanation import explained

_CAUSE = """\
worn_contact:
  title: Worn contact
  what: A contact is worn.
  why: It lets too little current through.
{}
  repair:
    - {}
  prove:
    - {{do: read_voltage, say: The voltage drop is gone.}}
  licence: Electrical work as your local law requires.
  source: {}
"""
_READING = """\
room_temperature:
  title: Room temperature
  question: How warm is the room?
  how: In the middle of the room, out of the sun.
  kind: temperature
  plausible: [{}]
  accuracy: 1 F
  accuracy_source: common practice, no source
"""
_CAUTION = """\
cut_fins:
  title: Cuts by fins
  text: Fins and sheet metal cut. Wear gloves.
  rule: common safety practice
{}
"""


def _cause(look: str = "", step: str = "do: replace_contactor", source: str = "common practice") -> str:
    return "\n".join(line for line in _CAUSE.format(look, step, source).split("\n") if line)


_ACT = """\
watch_port:
  title: Watch the port
  how: Gauge on, two minutes, glasses on.
  minutes: 2
  who: {}
{}
  makes: {{circuit: {}}}
  source: common practice, no source
"""


CATALOGUE = (
    explained(
        "catalogue-act",
        "An act is not what it says",
        """What lays open live parts or the circuit, or lets something move, has cautions; work on the circuit is for
        whoever is certified for it; what an act leaves behind has an act that undoes it.""",
        "acts",
        _ACT.format("anyone", "  cautions: [hoses_and_liquid]", "hoses"),
        _ACT.format("refrigerant", "  cautions: [hoses_and_liquid]", "hoses"),
    ),
    explained(
        "catalogue-caution",
        "A remark asks for a caution that no act of its repair has",
        """Cautions come with the acts that they guard. The words of this remark ask for one, as the catalogue says in
        `words:` of each caution, and none of the acts has it: what the remark says is an act of its own.""",
        "causes",
        _cause(step="{do: set_thermostat, say: Braze the joint before.}"),
        _cause(step="do: clear_circuit\n    - do: mend_leak\n    - {do: braze_joint, say: Braze the joint.}"),
    ),
    explained(
        "catalogue-joins",
        "A caution would never come by itself",
        """A caution that comes along with others for some refrigerants needs both: `joins`, the cautions that it comes
        with, and `safety_groups`, the refrigerants' groups after ASHRAE 34.""",
        "cautions",
        _CAUTION.format("  joins: [cut_fins]"),
        _CAUTION.format("  joins: [cut_fins]\n  safety_groups: [A2L]"),
    ),
    explained(
        "catalogue-layer",
        "An entry of a shop's folder does not fit",
        """Trees rely on what a name is: its kind, and the choices that they decide by. So an entry that replaces
        another keeps its kind and every choice; more choices may be added. What guards a tech is added to and never
        thinned: a caution keeps its words and text, an act its way, cautions, needs, who and what it makes. Until it
        does, the one below stands.""",
    ),
    explained(
        "catalogue-never",
        "An entry asks for what is never done",
        """No safety control is bridged, held or taken out, nothing is vented, no test is made with oxygen. It does not
        matter in which words, or with which caution.""",
        "causes",
        _cause(step="{do: replace_contactor, say: Tape the float switch down.}"),
        _cause(step="{do: replace_contactor, say: Find out what it was open for.}"),
    ),
    explained(
        "catalogue-placeholder",
        "Something is still to be written",
        """A tech relies on sources, rules, licences, repairs and proofs. What nobody has looked up is said plainly:
        "common practice, no source".""",
        "causes",
        _cause(source="TODO"),
        _cause(source="common practice, no source"),
    ),
    explained(
        "catalogue-range",
        "No value of a reading could be believed",
        "Readings outside of `plausible` are not taken, and here nothing lies inside. The lower value goes first.",
        "readings",
        _READING.format("110 F, 40 F"),
        _READING.format("40 F, 110 F"),
    ),
    explained(
        "catalogue-state",
        "A state that there is not",
        """`needs` and `makes` tell the state of the unit: power, panel, circuit, settled and bulb, each with its few
        values. The message says which there are.""",
        "acts",
        _ACT.format("refrigerant", "  cautions: [hoses_and_liquid]", "connected"),
        _ACT.format("refrigerant", "  cautions: [hoses_and_liquid]", "hoses"),
    ),
    explained(
        "catalogue-self",
        "A cause is said to look like itself",
        "`looks_like` names the other causes that it can be taken for, and how to tell them apart.",
        "causes",
        _cause("  looks_like:\n    - cause: worn_contact\n      tell: it is worn"),
        _cause(),
    ),
)
