"""Making prompts out of catalogue entries and tree steps, and showing an answer as a person reads it."""

from collections.abc import Collection, Iterable
from dataclasses import replace

from assistant.call.answers import (
    ALL_TREES,
    CANNOT_TELL,
    GO_ON,
    UNDERSTOOD,
    Chosen,
    Measured,
    Remeasure,
    Untold,
    Value,
    write_value,
)
from assistant.call.complaint import Match
from assistant.call.keys import COMPLAINT, TREE, NodeAt, PromptKey, Topic, entry_key
from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    Choice,
    CloseCall,
    DoStep,
    Leaning,
    Prompt,
    choices_from,
)
from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.entries import Act, Caution, Fact, Observation, Reading
from assistant.quantity import UnitSystem
from assistant.tree.linking import own_name
from assistant.tree.model import Head, Leaf, Step, Tree, Use


def ask_for(name: str, catalogue: Catalogue, system: UnitSystem, why: tuple[str, ...], again: bool = False) -> Prompt:
    """The prompt for a fact, an observation or a reading.

    Raises:
        KeyError: the catalogue has no such entry.
    """
    if name in catalogue.readings:
        return _ask_reading(catalogue.readings[name], system, why, again)
    if name in catalogue.observations:
        return _ask_observation(catalogue.observations[name], why)
    return _ask_fact(catalogue.facts[name], system, why)


def _ask_reading(reading: Reading, system: UnitSystem, why: tuple[str, ...], again: bool) -> AskQuantity:
    spoils = f" What spoils it: {reading.spoils}" if reading.spoils else ""
    return AskQuantity(
        key=entry_key(reading.name),
        title=reading.title,
        question=f"Measure again. {reading.question}" if again else reading.question,
        why=why,
        help=reading.how + spoils,
        kind=reading.kind,
        unit=reading.units[system],
        low=reading.low,
        high=reading.high,
        again=again,
    )


def _ask_observation(observation: Observation, why: tuple[str, ...]) -> AskChoice:
    return AskChoice(
        key=entry_key(observation.name),
        title=observation.title,
        question=observation.question,
        why=why,
        help=observation.how,
        choices=choices_from(tuple(observation.choices.items())),
    )


def _ask_fact(fact: Fact, system: UnitSystem, why: tuple[str, ...]) -> Prompt:
    if fact.kind is not None:
        return AskQuantity(
            key=entry_key(fact.name),
            title=fact.title,
            question=fact.question,
            why=why,
            help=fact.how,
            kind=fact.kind,
            unit=fact.units[system],
            default=fact.default,
        )
    if fact.is_refrigerant:
        return AskRefrigerant(
            key=entry_key(fact.name), title=fact.title, question=fact.question, why=why, help=fact.how
        )
    return AskChoice(
        key=entry_key(fact.name),
        title=fact.title,
        question=fact.question,
        why=why,
        help=fact.how,
        choices=choices_from(tuple(fact.choices.items())),
        default=fact.default,
    )


def ask_complaint() -> AskText:
    """The first question of a call."""
    return AskText(
        key=COMPLAINT,
        question="What is the complaint?",
        why=("The words of the customer point to the tree that fits.",),
        help="In your own words, such as: not cooling enough.",
    )


def ask_tree(trees: Collection[Head], matches: Iterable[Match]) -> AskChoice:
    """Which tree to follow: those that match the complaint, each with what was matched; or all where none does.

    A tree that is not in the list can be named all the same, and `ALL_TREES` asks for the whole list. One without
    complaints is there for others to use: it is in no list.
    """
    titles = {tree.name: tree.title for tree in trees if tree.complaints}
    for_others = {tree.name: tree.title for tree in trees if not tree.complaints}
    matched = {match.tree: f"{titles[match.tree]}  ({match.text})" for match in matches}
    others = {name: title for name, title in titles.items() if name not in matched}
    is_short = matched and len(others) > 1
    listed = matched | ({ALL_TREES: "none of these: show all there are"} if is_short else others)
    return AskChoice(
        key=TREE,
        title="Tree",
        question="Which of these fits?" if matched else "Nothing matches those words. Which of these fits?",
        why=("Each tree asks its own questions.",),
        choices=choices_from(tuple(listed.items())),
        unlisted=choices_from(tuple((others | for_others if is_short else for_others).items())),
        default=next(iter(matched), next(iter(listed)) if len(listed) == 1 else None),
        can_be_unknown=False,
    )


def ask_any_tree(trees: Collection[Head]) -> AskChoice:
    """Which of all trees to follow."""
    return replace(ask_tree(trees, ()), question="Which of these fits?")


def node_at(tree: Tree, node: Step | Leaf) -> NodeAt:
    """Give where a node of a linked tree was written."""
    return NodeAt(node.written_in or tree.name, own_name(node.name))


def linked_name(tree: Tree | None, place: NodeAt) -> str:
    """Give the name of a node among all that are linked; its own name where the tree has none such."""
    nodes = tree.nodes.items() if tree is not None and place.tree else ()
    found = (name for name, node in nodes if tree and not isinstance(node, Use) and node_at(tree, node) == place)
    return next(found, place.node)


def acknowledge(
    caution: Caution, at: NodeAt | None, node: str, place: int = 1, together: tuple[str, ...] = ()
) -> Acknowledge:
    """Put up a caution before the step it guards, at its `place` among the titles of those that stand `together`."""
    sign = str(place) if len(together) > 1 else "ok"
    return Acknowledge(
        key=PromptKey(Topic.CAUTION, caution.name, at),
        node=node,
        question=f"Type {sign} when you have read it.",
        why=(f"Rule: {caution.rule}",),
        caution=caution.name,
        title=caution.title,
        text=caution.text,
        rule=caution.rule,
        place=place,
        together=together,
    )


_WHO = {
    "live_work": "by a person qualified for live work",
    "refrigerant": "by a person certified for refrigerant",
    "licence": "by a person with the licence that the law asks for",
}


def do_act(act: Act, at: NodeAt, node: str, why: tuple[str, ...], visit: int) -> DoStep:
    """Ask for an act at a node, the `visit`-th time that the call comes through it."""
    return DoStep(
        key=PromptKey(Topic.ACT, act.name, at),
        node=node,
        question=f"{act.title}. {act.how}",
        why=why,
        help="Type done when it is done, or cannot do.",
        title=act.title,
        minutes=act.minutes,
        who=tuple(_WHO[one] for one in act.who if one in _WHO),
        visit=visit,
    )


def settle(at: NodeAt, node: str) -> DoStep:
    """Ask to let the system come to rest after a repair, before it is measured again."""
    return DoStep(
        key=PromptKey(Topic.SETTLE, place=at),
        node=node,
        question="Close what was opened for the repair, and let it run until pressures and temperatures stand still: "
        "ten minutes, more after a change of charge. Then measure at the same places as before.",
        why=("What still drifts proves nothing, and another place would read otherwise for another reason.",),
        help="Type done when it has settled, or cannot do.",
    )


def close_call(
    step: Step, at: NodeAt, leans_to: str, leanings: tuple[Leaning, ...], readings: Iterable[Reading]
) -> CloseCall:
    """Offer to measure again where a measurement cannot decide."""
    return CloseCall(
        key=PromptKey(Topic.CLOSE_CALL, place=at),
        question="Go on the way it leans, or measure again?",
        why=("The number lies within its own doubt of the limit, so the other way may be the true one. It is kept.",),
        help="Enter goes on. A better probe contact or a zeroed gauge makes the doubt smaller.",
        node=step.name,
        leans_to=leans_to,
        leanings=leanings,
        readings=tuple(Choice(reading.name, f"measure again: {reading.title.lower()}") for reading in readings),
    )


def check_out(
    at: NodeAt, node: str, question: str, kept: int, measurable: tuple[str, ...] = (), ways: tuple[str, ...] = ()
) -> CheckOut:
    """Ask whether an end holds up; `ways` tell how each act of a repair is done well."""
    more = (
        f" If not, {kept} other way{'s' if kept > 1 else ''} kept open on this call will be followed." if kept else ""
    )
    again = ", or measure again to see" if measurable else ""
    return CheckOut(
        key=PromptKey(Topic.CHECK_OUT, place=at),
        node=node,
        question=question,
        why=(f"An end counts when it is proven.{more}", *ways),
        help=f"Answer yes, no, or cannot tell yet{again}.",
        kept=kept,
        measurable=measurable,
    )


def shown_answer(prompt: Prompt, value: Value) -> str:
    """Give an answer as a person reads it."""
    match value:
        case Untold():
            return CANNOT_TELL
        case Measured(quantity):
            return quantity.shown()
        case Chosen(name) if isinstance(prompt, AskChoice):
            known = (*prompt.choices, *prompt.unlisted)
            return next((choice.words for choice in known if choice.name == name), name)
        case Remeasure(name) if isinstance(prompt, CloseCall):
            return next((choice.words for choice in prompt.readings if choice.name == name), GO_ON)
        case _:
            return UNDERSTOOD if isinstance(prompt, Acknowledge) else write_value(value)
