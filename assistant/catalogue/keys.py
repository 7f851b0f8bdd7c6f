"""The tables of keys of catalogue files: for the loader, its messages and the schemas."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from assistant.catalogue.unit_state import DIMENSIONS
from assistant.quantity import Kind, accepted_forms
from assistant.source.keys import (
    NAME,
    Apart,
    AtLeastOne,
    ByName,
    Key,
    KeyTable,
    Listed,
    OneOf,
    Spelling,
    Text,
    Texts,
    Wrong,
)

REFRIGERANT: Final = "refrigerant"
"""The kind of a fact that is answered with a refrigerant's designation."""
CHOICE: Final = Spelling(
    re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.\-]*"), "of a choice is made of letters, digits, _, - and .", "badly_iced"
)
"""What a choice may be called."""

_KINDS = {kind.value: f"{accepted_forms(kind)}.".capitalize() for kind in Kind}
_FACT_KINDS = _KINDS | {REFRIGERANT: "The designation of a refrigerant, such as R-410A."}
_TEXT, _VALUE, _LIST = Text(), Text(numeric=True), Texts(least=0)
_CHOICES = ByName(Text(), CHOICE, least=2)
_ANSWERS = "choices: {clean: words, dirty: words}"

_UNIT = Key(
    Text(empty=True), "Unit in which US screens ask and show it; the usual one of its kind when absent.", False, ("F",)
)
_SI_UNIT = Key(
    Text(empty=True), "Unit in which SI screens ask and show it; the usual one of its kind when absent.", False, ("C",)
)
_KIND = Key(
    OneOf(_KINDS, "kind", "kind-unknown"),
    "What it measures. A temperature and a temperature difference are two kinds.",
    needed=True,
    write="kind: pressure",
)
WHO: Final[Mapping[str, str]] = {
    "anyone": "Anyone who may work on the unit.",
    "live_work": "A person qualified for live work and for proving that a part is dead.",
    "refrigerant": "A person certified for refrigerant, or under the eyes of one.",
    "licence": "A person with the licence that local law asks for.",
}
"""Who may do something; of several, all."""
_STATES = "; ".join(f"{name}: {', '.join(values)}" for name, values in DIMENSIONS.items())
_NEEDS = Key(
    ByName(Texts(), NAME),
    f"The state of the unit that it needs; of several values any will do. {_STATES}.",
    write="needs: {power: running, panel: closed}",
)
_WHO = Key(Texts(), f"Who may do it: {', '.join(WHO)}; of several, all. Anyone when absent.", write="who: live_work")
_MINUTES = Key(_VALUE, "How long it takes, in minutes.", write="minutes: 5")
_OWN_CAUTIONS = Key(
    Texts(least=0),
    "Cautions that come before it; those of a change of state stand at the act that makes it.",
    write="cautions: [hoses_and_liquid]",
)
_TAKING = {"needs": _NEEDS, "who": _WHO, "minutes": _MINUTES, "cautions": _OWN_CAUTIONS}
_SOURCE = "Where it comes from: document and place in it, or: common practice, no source."
_QUESTION = Key(
    _TEXT, "The question as the tech is asked it.", needed=True, examples=("What is the suction pressure?",)
)

FACT: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What screens call it.", needed=True, examples=("Metering device",)),
        "question": _QUESTION,
        "how": Key(_TEXT, "Where the tech finds it: data plate, label, look of the part."),
        "kind": Key(
            OneOf(_FACT_KINDS, "kind", "kind-unknown"), "What it measures, or refrigerant. Not together with choices."
        ),
        "unit": _UNIT,
        "si_unit": _SI_UNIT,
        "choices": Key(
            _CHOICES, "The answers to choose from: a name for trees, and the words the tech sees.", write=_ANSWERS
        ),
        "default": Key(_TEXT, "Taken when the tech cannot tell.", examples=("0 ft", "cooling")),
    },
    rules=(
        Apart(
            "kind",
            "choices",
            Wrong(
                "shape-form", "this has choices and a kind, and could only be answered by one", "drop one of the two"
            ),
        ),
        AtLeastOne(
            ("choices", "kind"),
            Wrong("shape-missing-key", "this has neither choices nor a kind", f"write: {_KIND.write}, or {_ANSWERS}"),
        ),
    ),
)
READING: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What screens call it.", needed=True, examples=("Suction pressure",)),
        "question": _QUESTION,
        "how": Key(_TEXT, "How to take it well: where to put the instrument, what to wait for.", needed=True),
        "spoils": Key(_TEXT, "What makes it read wrong: sun on the clamp, a gauge that was not zeroed."),
        "kind": _KIND,
        "unit": _UNIT,
        "si_unit": _SI_UNIT,
        "plausible": Key(
            Texts(2, 2, single=False, numeric=True),
            "The lowest and the highest value that can be believed.",
            needed=True,
            examples=("[-12 psig, 300 psig]",),
            write="plausible: [lowest, highest], each with its unit",
        ),
        "accuracy": Key(
            _VALUE,
            "What the instrument promises, plus or minus: a value, a share of the reading, or both.",
            needed=True,
            examples=("3.5 psi", "0.1 % + 1.3 F"),
        ),
        "repeatability": Key(
            _VALUE,
            "How far two readings of one instrument differ with nothing changed; change(reading) counts with it.",
            examples=("0.5 psi",),
        ),
        "accuracy_source": Key(_TEXT, _SOURCE, needed=True),
        **_TAKING,
    },
)
OBSERVATION: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What screens call it.", needed=True, examples=("Air filter",)),
        "question": _QUESTION,
        "how": Key(_TEXT, "How to look, listen or feel, and from where it is safe."),
        "choices": Key(
            _CHOICES,
            "At least two answers: a name for trees, and the words the tech sees. Cannot tell is added.",
            needed=True,
            write=_ANSWERS,
        ),
        **_TAKING,
    },
)
ACT: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What is to be done, as an order.", needed=True, examples=("Connect the gauges",)),
        "how": Key(_TEXT, "How to do it well: order, numbers, when to stop.", needed=True),
        "minutes": replace(_MINUTES, needed=True),
        "who": replace(_WHO, needed=True),
        "needs": _NEEDS,
        "cautions": _OWN_CAUTIONS,
        "makes": Key(
            ByName(_TEXT, NAME), f"What it changes of the unit's state. {_STATES}.", write="makes: {circuit: hoses}"
        ),
        "leaves": Key(_TEXT, "What it leaves that is undone before a call ends.", examples=("valve_shut",)),
        "undo": Key(
            Texts(), "The act that undoes it; of several any does, the usual one first.", write="undo: hoses_off"
        ),
        "changes": Key(
            Texts(),
            "Readings and observations of which what was told before counts no more.",
            write="changes: [suction_pressure]",
        ),
        "between": Key(
            OneOf({"yes": "", "no": ""}),
            "Whether a call puts it in by itself, where what comes next needs the state that it makes.",
            write="between: yes",
        ),
        "source": Key(_TEXT, _SOURCE, needed=True),
    },
)
NUMBER: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What screens call it.", needed=True, examples=("Subcooling",)),
        "kind": _KIND,
        "unit": _UNIT,
        "si_unit": _SI_UNIT,
        "tells": Key(_TEXT, "What the number tells a tech: what a high and a low one mean.", needed=True),
    },
)
LIMIT: Final = KeyTable(
    "",
    {
        "value": Key(_VALUE, "The value with its unit.", needed=True, examples=("15 min", "5 F", "3 psi")),
        "kind": _KIND,
        "what": Key(_TEXT, "What lies on either side of it, in a few words.", needed=True),
        "source": Key(_TEXT, _SOURCE, needed=True),
    },
)
CAUTION: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What screens call it.", needed=True, examples=("Live electrical parts",)),
        "text": Key(_TEXT, "What can hurt, and what to do so that it does not.", needed=True),
        "rule": Key(
            _TEXT, "The rule behind it, or: common safety practice.", needed=True, examples=("29 CFR 1910.147(d)",)
        ),
        "source": Key(_TEXT, "What of it was read, and what is from memory; no call shows it."),
        "joins": Key(_LIST, "Cautions that this one comes along with; needs safety_groups."),
        "safety_groups": Key(
            _LIST, "Safety groups of refrigerants (ASHRAE 34) for which it comes along.", examples=("A2L",)
        ),
        "words": Key(
            _LIST,
            "Phrases that ask for this caution: * for any ending, / for or, ... for up to four words between.",
            examples=("braz*", "cut* ... drier/line"),
        ),
        "irreversible": Key(
            OneOf({"yes": "", "no": ""}),
            "Whether what is done under it cannot be taken back.",
            write="irreversible: yes",
        ),
    },
)
LOOK_ALIKE: Final = KeyTable(
    "a cause that looks alike",
    {
        "cause": Key(_TEXT, "A cause of the catalogue.", needed=True),
        "tell": Key(_TEXT, "What tells the two apart.", needed=True),
    },
    "write: - cause: name, with tell: text below it",
)
SEQUENCE: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What it comes to, as an order.", needed=True, examples=("Empty the circuit",)),
        "acts": Key(Texts(2), "Its acts, in order.", needed=True, write="acts: [recover_charge, purge_circuit]"),
    },
)
WRITTEN_STEP: Final = KeyTable(
    "a step of a repair or its proof",
    {
        "do": Key(_TEXT, "An act of the catalogue, or a sequence of acts.", needed=True, examples=("replace_filter",)),
        "say": Key(_TEXT, "What is particular at this place; beside the act, never in its place."),
    },
    "write: - do: ACT, your words behind say: below it; coilside trees names finds the act",
)
_DEEDS: Final = "[{do: replace_filter, say: your words}]"
CAUSE: Final = KeyTable(
    "",
    {
        "title": Key(_TEXT, "What screens call it.", needed=True, examples=("Clogged air filter",)),
        "what": Key(_TEXT, "What is wrong, in one or two sentences.", needed=True),
        "why": Key(_TEXT, "Why the readings look as they do.", needed=True),
        "looks_like": Key(
            Listed(LOOK_ALIKE, least=0), "Other causes with similar readings, and how to tell them apart."
        ),
        "repair": Key(
            Listed(WRITTEN_STEP),
            "The acts of the repair, in order; their cautions come along.",
            True,
            write=f"repair: {_DEEDS}",
        ),
        "prove": Key(
            Listed(WRITTEN_STEP),
            "The acts that prove the repair, in order; what is to be seen stands beside them.",
            True,
            write="prove: [{do: take_full_set, say: what is to be seen}]",
        ),
        "licence": Key(_TEXT, "Who may do the work.", needed=True),
        "source": Key(_TEXT, _SOURCE, needed=True),
    },
)
WORDS: Final = KeyTable(
    "",
    {
        "same": Key(
            Texts(),
            "Words and short phrases that mean the same when a complaint is searched.",
            needed=True,
            examples=("suction pipe", "big pipe"),
        ),
    },
)
HOW_OFTEN: Final[Mapping[str, float]] = {
    "always": 0.95,
    "usually": 0.75,
    "sometimes": 0.3,
    "seldom": 0.06,
    "never": 0.004,
}
"""How likely a choice is, by the word that says so; those of one observation are brought to a sum of 1."""
HOW_COMMON: Final[Mapping[str, float]] = {"often": 2.0, "at_times": 1.0, "seldom": 0.5, "hardly_ever": 0.2}
"""How common a cause is against others, by the word that says so."""
SIGNS: Final = KeyTable(
    "",
    {
        "reads_like": Key(
            _TEXT,
            "The cause under whose name the simulated unit has it; its own name when absent.",
            examples=("low_airflow",),
        ),
        "common": Key(
            OneOf(dict.fromkeys(HOW_COMMON, "")),
            "How common it is where somebody was called: at_times when absent.",
            write="common: often",
        ),
        "shows": Key(
            ByName(ByName(OneOf(dict.fromkeys(HOW_OFTEN, "")), CHOICE), NAME),
            "What is seen with it: observations, of each its choices with how often. A choice that is not named is"
            " never seen; an observation that is not named looks as it does on a sound unit.",
            write="shows: {sight_glass: {bubbling: usually, clear: sometimes}}",
        ),
        "source": Key(_TEXT, _SOURCE, needed=True),
    },
)
FILES: Final[Mapping[str, KeyTable]] = {
    "facts": FACT,
    "readings": READING,
    "observations": OBSERVATION,
    "acts": ACT,
    "numbers": NUMBER,
    "limits": LIMIT,
    "cautions": CAUTION,
    "sequences": SEQUENCE,
    "causes": CAUSE,
    "signs": SIGNS,
    "words": WORDS,
}
"""The files of a catalogue, each with the keys of its entries."""
SAYS: Final[Mapping[str, str]] = {
    "facts": "System facts: what does not change during a call.",
    "readings": "Readings off an instrument, in the order in which a tech takes them.",
    "observations": "What the tech sees, hears or feels, each a choice.",
    "acts": "What a tech does: how, who may, with which cautions, and what it changes of the unit's state.",
    "numbers": "What each worked number tells; its formula is part of the program.",
    "limits": "Values that decisions compare with, each with its source; a tree writes limits.NAME.",
    "cautions": "What is acknowledged before the step that it guards.",
    "sequences": "Acts that belong together, said once; a repair names them as it names an act.",
    "causes": "What a call can end with: what it is, how to repair it and how to prove the repair.",
    "signs": "How common each cause is, and what is seen with it; `sound` is a unit without a fault.",
    "words": "Words of the trade that mean the same, for the search over complaints.",
}
