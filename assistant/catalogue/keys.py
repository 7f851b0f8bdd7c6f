"""The keys of catalogue files: one table from which the loader reads and the schema for editors is made."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Form = Literal[
    "text", "texts", "flag", "choices", "kind", "fact_kind", "unit", "quantity", "span", "accuracy", "look_alikes"
]
"""What may stand behind a key."""


@dataclass(frozen=True, slots=True)
class Key:
    """One key of an entry: its form, what it means to an author, whether it must be there, and how it may look."""

    form: Form
    says: str
    needed: bool = True
    examples: tuple[str, ...] = ()


Keys = Mapping[str, Key]

REFRIGERANT = "refrigerant"
"""The kind of a fact that is answered with a refrigerant's designation."""

_UNIT = Key("unit", "Unit in which US screens ask and show it; the usual one of its kind when absent.", False, ("F",))
_SI_UNIT = Key(
    "unit", "Unit in which SI screens ask and show it; the usual one of its kind when absent.", False, ("C",)
)
_KIND = Key("kind", "What it measures. A temperature and a temperature difference are two kinds.")
_SOURCE = "Where it comes from: document and place in it, or: common practice, no source."
_QUESTION = Key("text", "The question as the tech is asked it.", examples=("What is the suction pressure?",))

FACT: Keys = {
    "title": Key("text", "What screens call it.", examples=("Metering device",)),
    "question": _QUESTION,
    "how": Key("text", "Where the tech finds it: data plate, label, look of the part.", needed=False),
    "kind": Key("fact_kind", "What it measures, or refrigerant. Not together with choices.", needed=False),
    "unit": _UNIT,
    "si_unit": _SI_UNIT,
    "choices": Key(
        "choices", "The answers to choose from: a name for trees, and the words the tech sees.", needed=False
    ),
    "default": Key("text", "Taken when the tech cannot tell.", needed=False, examples=("0 ft", "cooling")),
}
READING: Keys = {
    "title": Key("text", "What screens call it.", examples=("Suction pressure",)),
    "question": _QUESTION,
    "how": Key("text", "How to take it well: where to put the instrument, what to wait for."),
    "spoils": Key("text", "What makes it read wrong: sun on the clamp, a gauge that was not zeroed.", needed=False),
    "kind": _KIND,
    "unit": _UNIT,
    "si_unit": _SI_UNIT,
    "plausible": Key(
        "span", "The lowest and the highest value that can be believed.", examples=("[-12 psig, 300 psig]",)
    ),
    "accuracy": Key(
        "accuracy",
        "What the instrument promises, plus or minus: a value, a share of the reading, or both.",
        examples=("3.5 psi", "0.1 % + 1.3 F"),
    ),
    "repeatability": Key(
        "accuracy",
        "How far two readings of one instrument differ with nothing changed; change(reading) counts with it.",
        needed=False,
        examples=("0.5 psi",),
    ),
    "accuracy_source": Key("text", _SOURCE),
}
OBSERVATION: Keys = {
    "title": Key("text", "What screens call it.", examples=("Air filter",)),
    "question": _QUESTION,
    "how": Key("text", "How to look, listen or feel, and from where it is safe.", needed=False),
    "choices": Key(
        "choices", "At least two answers: a name for trees, and the words the tech sees. Cannot tell is added."
    ),
}
NUMBER: Keys = {
    "title": Key("text", "What screens call it.", examples=("Subcooling",)),
    "kind": _KIND,
    "unit": _UNIT,
    "si_unit": _SI_UNIT,
    "tells": Key("text", "What the number tells a tech: what a high and a low one mean."),
}
LIMIT: Keys = {
    "value": Key("quantity", "The value with its unit.", examples=("15 min", "5 F", "3 psi")),
    "kind": _KIND,
    "what": Key("text", "What lies on either side of it, in a few words."),
    "source": Key("text", _SOURCE),
}
CAUTION: Keys = {
    "title": Key("text", "What screens call it.", examples=("Live electrical parts",)),
    "text": Key("text", "What can hurt, and what to do so that it does not."),
    "rule": Key("text", "The rule behind it, or: common safety practice.", examples=("29 CFR 1910.147(d)",)),
    "joins": Key("texts", "Cautions that this one comes along with; needs safety_groups.", needed=False),
    "safety_groups": Key(
        "texts", "Safety groups of refrigerants (ASHRAE 34) for which it comes along.", needed=False, examples=("A2L",)
    ),
    "words": Key(
        "texts",
        "Phrases that ask for this caution: * for any ending, / for or, ... for up to four words between.",
        needed=False,
        examples=("braz*", "cut* ... drier/line"),
    ),
    "irreversible": Key("flag", "Whether what is done under it cannot be taken back.", needed=False),
}
CAUSE: Keys = {
    "title": Key("text", "What screens call it.", examples=("Clogged air filter",)),
    "what": Key("text", "What is wrong, in one or two sentences."),
    "why": Key("text", "Why the readings look as they do."),
    "looks_like": Key("look_alikes", "Other causes with similar readings, and how to tell them apart.", needed=False),
    "repair": Key("texts", "The steps of the repair, in order."),
    "cautions": Key("texts", "Cautions acknowledged before the repair is shown.", needed=False),
    "prove": Key("text", "What must be measured afterwards to prove the repair."),
    "licence": Key("text", "Who may do the work."),
    "source": Key("text", _SOURCE),
}
LOOK_ALIKE: Keys = {
    "cause": Key("text", "A cause of the catalogue."),
    "tell": Key("text", "What tells the two apart."),
}

WORDS: Keys = {
    "same": Key(
        "texts",
        "Words and short phrases that mean the same when a complaint is searched.",
        examples=("suction pipe", "big pipe"),
    ),
}
FILES: Mapping[str, Keys] = {
    "facts": FACT,
    "readings": READING,
    "observations": OBSERVATION,
    "numbers": NUMBER,
    "limits": LIMIT,
    "cautions": CAUTION,
    "causes": CAUSE,
    "words": WORDS,
}
"""The files of a catalogue, each with the keys of its entries."""
SAYS: Mapping[str, str] = {
    "facts": "System facts: what does not change during a call.",
    "readings": "Readings off an instrument, in the order in which a tech takes them.",
    "observations": "What the tech sees, hears or feels, each a choice.",
    "numbers": "What each worked number tells; its formula is part of the program.",
    "limits": "Values that decisions compare with, each with its source; a tree writes limits.NAME.",
    "cautions": "What is acknowledged before the step that it guards.",
    "causes": "What a call can end with: what it is, how to repair it and how to prove the repair.",
    "words": "Words of the trade that mean the same, for the search over complaints.",
}
