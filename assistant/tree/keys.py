"""The tables of keys of tree files, example calls and answers: for the reader, its messages and the schemas."""

from typing import Final

from assistant.source.keys import (
    MOST_WHOLE,
    NAME,
    Apart,
    AtLeastOne,
    ByName,
    Cases,
    Key,
    KeyTable,
    Listed,
    PlainNumber,
    Text,
    Texts,
    Wrong,
)

LEAF_WORDS: Final = ("cause", "no_fault", "undecided")
BRANCH_WORDS: Final = ("when", "cannot_tell", "otherwise")

_TEXT, _TEXTS = Text(), Texts()

_SAY = Key(_TEXT, "Shown to the tech.", examples=("Air first. A choked coil reads like a fault of charge or valve.",),
           write="say: text")  # fmt: skip
_NOTE = Key(_TEXTS, "Notes to yourself, never shown on a call; `coilside trees check` lists them.", write="note: text")
_CAUTION = Key(
    _TEXTS,
    "Cautions from the catalogue; each is acknowledged before anything else at this node.",
    write="caution: [moving_parts]",
)
_BECAUSE = Key(
    _TEXTS,
    "The evidence to show: numbers, readings, observations, facts, change(reading).",
    write="because: [superheat, change(suction_pressure)]",
)
_TITLE = Key(
    _TEXT,
    "How the call speaks of this node where it tells which way it goes; derived from the node where it is left out.",
    write="title: text",
)
_GO = Key(_TEXT, "The node that comes next.", needed=True, write="go: NODE")
_BRANCH = "write: - when: superheat > 12 F, with go: NODE on the next line"


def _only_one(word: str) -> dict[str, Wrong]:
    """Tell of the words of other branches in a branch that begins with `word`."""
    return {
        other: Wrong(
            "shape-branch", f'a branch has only one of "{word}" and "{other}"', 'begin each branch with its own "- "'
        )
        for other in BRANCH_WORDS[BRANCH_WORDS.index(word) + 1 :]
    }


WHEN: Final = KeyTable(
    'a branch with "when"',
    {
        "when": Key(
            _TEXT,
            "A condition, such as: superheat > superheat_target + 5 F and filter_condition is not clogged.",
            needed=True,
            examples=(
                "superheat > 12 F",
                "filter_condition is one of [clogged, missing]",
                "superheat > superheat_target + limits.superheat_band",
                "minutes_running < 15 min",
                "change(suction_pressure) > 3 psi",
                "metering_device is txv and not (superheat < 5 F or subcooling > 14 F)",
            ),
        ),
        "go": _GO,
        "say": _SAY,
    },
    elsewhere=_only_one("when"),
)
CANNOT_TELL: Final = KeyTable(
    'a branch with "cannot_tell"',
    {
        "cannot_tell": Key(
            _TEXT,
            "The node to go to when what the decision needs was answered with cannot tell.",
            needed=True,
            write="cannot_tell: NODE",
        ),
        "say": _SAY,
    },
    elsewhere=_only_one("cannot_tell"),
)
OTHERWISE: Final = KeyTable(
    'a branch with "otherwise"',
    {
        "otherwise": Key(
            _TEXT, "The node to go to when no other branch is taken.", needed=True, write="otherwise: NODE"
        ),
        "say": _SAY,
    },
)
BRANCH: Final = Cases(
    "a branch",
    {"when": WHEN, "cannot_tell": CANNOT_TELL, "otherwise": OTHERWISE},
    _BRANCH,
    none=Wrong("shape-branch", 'a branch begins with "when", "cannot_tell" or "otherwise"', _BRANCH),
    # What those write who know branches from elsewhere.
    meant={"if": "when", "else": "otherwise", "default": "otherwise", "unknown": "cannot_tell"},
)

_USE_WORD = Key(
    _TEXT,
    "Another tree, which is walked from its start; a cause found there ends the call.",
    needed=True,
    write="use: TREE",
)
_NO_TREE = "tells where another tree leads back to, and no tree is used here"

STEP: Final = KeyTable(
    "a step",
    {
        "title": _TITLE,
        "say": _SAY,
        "why": Key(
            _TEXT,
            "Shown when the tech asks why, and above the worked number.",
            examples=("Superheat tells how much of the coil is fed with liquid.",),
            write="why: text",
        ),
        "caution": _CAUTION,
        "do": Key(
            _TEXTS,
            "Acts of the catalogue, in order; the tech answers each with done or cannot do.",
            examples=("warm_bulb", "[zero_gauges, reset_clamps]"),
            write="do: ACT",
        ),
        "ask": Key(
            _TEXTS,
            "Readings, observations or facts; readings and observations are asked anew each time this node is entered.",
            write="ask: suction_pressure",
        ),
        "measure_again": Key(
            _TEXTS,
            "Readings taken anew after `do`, so that change(reading) can tell what it did.",
            write="measure_again: suction_pressure",
        ),
        "decide": Key(
            Listed(BRANCH),
            "Branches in order; the first true one is taken.",
            write="decide:, and below it - when: superheat > 12 F",
        ),
        "go": Key(_TEXT, _GO.says, write=_GO.write),
        "note": _NOTE,
    },
    rules=(
        Apart(
            "go",
            "decide",
            Wrong(
                "shape-two-ways",
                'a step goes on with either "decide" or "go", not both',
                'move it into "decide" as: - otherwise: NODE',
            ),
        ),
        AtLeastOne(
            ("decide", "go"),
            Wrong(
                "shape-no-way-on",
                "this step has no way on, and it is no leaf either",
                'write "decide:", "go: NODE" or "use: TREE"; at an end, "cause:", "no_fault:" or "undecided:"',
            ),
        ),
    ),
    elsewhere={
        name: Wrong("shape-unknown-key", f'"{name}" {_NO_TREE}', f"write: {_USE_WORD.write}")
        for name in ("when_no_fault", "when_undecided")
    },
)


def _one_end(word: str) -> dict[str, Wrong]:
    """Tell of the words of other leaves in a leaf that begins with `word`."""
    return {
        other: Wrong(
            "shape-leaf",
            f'a node ends in one way; this one has both "{word}" and "{other}"',
            "make a node of its own for one of them",
        )
        for other in LEAF_WORDS[LEAF_WORDS.index(word) + 1 :]
    }


CAUSE_LEAF: Final = KeyTable(
    'a node with "cause"',
    {
        "cause": Key(_TEXT, "The cause that was found, from the catalogue.", needed=True, write="cause: name"),
        "because": _BECAUSE,
        "say": _SAY,
        "caution": _CAUTION,
        "note": _NOTE,
    },
    elsewhere=_one_end("cause"),
)
NO_FAULT_LEAF: Final = KeyTable(
    'a node with "no_fault"',
    {
        "no_fault": Key(
            _TEXT,
            "An end where nothing wrong was found: what to tell the customer.",
            needed=True,
            examples=("The coil is fed as it should be.",),
            write="no_fault: text",
        ),
        "title": _TITLE,
        "because": _BECAUSE,
        "caution": _CAUTION,
        "note": _NOTE,
    },
    elsewhere=_one_end("no_fault"),
)
UNDECIDED_LEAF: Final = KeyTable(
    'a node with "undecided"',
    {
        "undecided": Key(
            _TEXT,
            "An honest end: what is still open and what to do.",
            needed=True,
            examples=("What could not be measured leaves this open. Come back with it.",),
            write="undecided: text",
        ),
        "title": _TITLE,
        "because": _BECAUSE,
        "caution": _CAUTION,
        "note": _NOTE,
    },
)

_USE_KEYS = {
    "use": _USE_WORD,
    "title": _TITLE,
    "say": _SAY,
    "caution": _CAUTION,
    "when_no_fault": Key(
        _TEXT,
        "The node to go on with when the used tree ends in no_fault; without it, the call ends there.",
        write="when_no_fault: NODE",
    ),
    "when_undecided": Key(
        _TEXT,
        "The node to go on with when the used tree ends undecided; without it, the call ends there.",
        write="when_undecided: NODE",
    ),
    "note": _NOTE,
}
USE: Final = KeyTable(
    'a node with "use"',
    _USE_KEYS,
    elsewhere={
        name: Wrong(
            "shape-use",
            f'this node hands over to another tree, so "{name}" cannot stand here',
            "give it a node of its own, before this one or behind it",
        )
        for name in (*STEP.keys, *LEAF_WORDS, "because")
        if name not in _USE_KEYS
    },
)
NODE: Final = Cases(
    "a node",
    {"use": USE, "cause": CAUSE_LEAF, "no_fault": NO_FAULT_LEAF, "undecided": UNDECIDED_LEAF},
    'write keys such as "say", "decide" or "cause" below it',
    otherwise=STEP,
)

TREE: Final = KeyTable(
    "a tree",
    {
        "tree": Key(
            _TEXT,
            "The tree's name: the name of this file without .yaml.",
            needed=True,
            examples=("poor_cooling",),
        ),
        "version": Key(
            PlainNumber(1, MOST_WHOLE, whole=True, code="shape-version"),
            "Whole number; raise it when calls made with the older tree should not be compared with this one.",
            needed=True,
            write="version: 1",
        ),
        "title": Key(
            _TEXT, "What the tree is about, in a few words.", needed=True, examples=("Runs, but cools poorly",)
        ),
        "complaints": Key(
            _TEXTS,
            "What customers say when this tree is the right one; the search over complaints reads these. A tree without"
            " is not offered: it is there for other trees to use.",
            examples=("not cooling enough", "air from the vents is warm"),
            write="complaints: [not cooling enough, runs all day]",
        ),
        "mode": Key(
            _TEXT,
            "Which way the system runs on this tree, cooling or heating: then nobody is asked for it.",
            write="mode: heating",
        ),
        "facts": Key(
            _TEXTS,
            "System facts asked at the start, in this order. Others are asked when a decision needs them.",
            write="facts: [refrigerant, metering_device]",
        ),
        "start": Key(_TEXT, "The node where the tree begins.", needed=True, write="start: NODE"),
        "nodes": Key(
            ByName(NODE, NAME, least=1),
            "The nodes by name: steps, which go on, and leaves, which end.",
            needed=True,
            write="nodes:, and below it each node by its name",
        ),
        "note": _NOTE,
    },
    "write: tree: poor_cooling",
)

_GIVEN = {
    "facts": Key(ByName(Text(numeric=True)), "System facts by name.", write="facts: {refrigerant: R-410A}"),
    "answers": Key(
        ByName(Texts(numeric=True)),
        "Answers by name; a list holds successive measurements. What is not here is answered with cannot tell.",
        write="answers: {suction_pressure: 118 psig}",
    ),
}
CALL: Final = KeyTable(
    "an example call",
    {
        "name": Key(_TEXT, "What the call is, in a few words.", needed=True),
        "like": Key(
            _TEXT,
            "The name of an earlier call of this file; its facts and answers hold here too, but for those given anew.",
            write="like: the name of an earlier call",
        ),
        **_GIVEN,
        "reaches": Key(
            _TEXT,
            "The cause that the call must reach, or no_fault, or undecided.",
            needed=True,
            examples=("undercharge", "no_fault", "undecided"),
            write="reaches: no_fault",
        ),
        "at": Key(
            _TEXT,
            "The end of the tree at which the call must come to it, where several nodes end alike.",
            write="at: NODE",
        ),
    },
    "write: - name: text, with answers: and reaches: below it",
)
CALLS: Final = KeyTable(
    "a file of example calls",
    {
        "calls": Key(
            Listed(CALL),
            "Example calls: stored answers with the end that they must reach.",
            needed=True,
            write="calls:, and below it - name: text",
        )
    },
    "write: calls:, and below it - name: text",
)
ANSWERS: Final = KeyTable("a file of answers", _GIVEN, "write: answers: {suction_pressure: 118 psig}")
