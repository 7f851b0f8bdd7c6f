"""Riding along: a trainee says what a number will be, and names a suspect, before the call tells.

A guess is no answer of the call. What is shown is cut in front of what is to be guessed; the call behind it goes as
it would without anybody guessing.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from assistant.call.answers import Answer, Chosen, Value
from assistant.call.asking import shown_answer
from assistant.call.bands import HIGH, IN_RANGE, LOW, Band
from assistant.call.keys import PromptKey, Topic
from assistant.call.prompts import AskChoice, choices_from
from assistant.call.turns import Answered, Coached, Decided, NumberShown, Turn
from assistant.call.walk import Conversation
from assistant.frozen import dataclass
from assistant.tree.model import CauseLeaf
from assistant.worksheet.formulas import FORMULAS
from assistant.worksheet.sheet import Worked
from assistant.worksheet.showing import Display

Key = tuple[str, str]
"""What a guess belongs to: a name, and what will be told of it. Another value of a number is another guess."""


@dataclass(frozen=True, slots=True)
class Guess:
    """Something to be guessed before it is told: the prompt, what is right, and what will be said then.

    `verdict` is what is right in words, `truth` the same with the value, `tells` what there is to learn from it.
    """

    key: Key
    prompt: AskChoice
    right: frozenset[str]
    title: str
    verdict: str
    truth: str
    tells: str


def shown(conversation: Conversation, guesses: Mapping[Key, Value]) -> Conversation:
    """The conversation as far as it may be seen: up to the first guess that is not made, with the others judged."""
    turns: list[Turn] = []
    told: set[str] = set()
    counts: dict[PromptKey, int] = {}
    made: list[tuple[Guess, Value]] = []
    for turn in conversation.turns:
        guess = guess_at(turn, conversation)
        if guess is not None:
            nth = counts[guess.prompt.key] = counts.get(guess.prompt.key, 0) + 1
            prompt = replace(guess.prompt, key=guess.prompt.key.numbered(nth))
            said = guesses.get(guess.key)
            if said is None:
                hidden = frozenset(FORMULAS) - told
                return replace(conversation, turns=tuple(turns), prompt=prompt, hidden=hidden)
            made.append((guess, said))
            answered = Answered(prompt, Answer(prompt.key, said), shown_answer(prompt, said))
            turns += [answered, turn, judged(guess, said)]
        else:
            turns.append(turn)
        if isinstance(turn, NumberShown):
            told |= {turn.worked.name, *_under(turn.worked)}
    if conversation.prompt is None:
        turns.append(Coached("RIDING ALONG: the score", tuple(score_lines(made))))
        return replace(conversation, turns=tuple(turns))
    # What a later decision looks at will be guessed there, and must not stand beside the call before.
    return replace(conversation, turns=tuple(turns), hidden=frozenset(FORMULAS) - told)


def _under(worked: Worked) -> Iterator[str]:
    """The numbers that a number was worked from; its work tells them."""
    for name, _ in worked.inputs:
        if name in FORMULAS:
            yield name


def open_guess(conversation: Conversation, guesses: Mapping[Key, Value]) -> Guess | None:
    """The first guess that is not made yet; `None` when all are."""
    found = (guess_at(turn, conversation) for turn in conversation.turns)
    return next((guess for guess in found if guess is not None and guess.key not in guesses), None)


def guess_at(turn: Turn, conversation: Conversation) -> Guess | None:
    """What is to be guessed before a turn is shown."""
    match turn:
        case NumberShown(band=Band() as band):
            return _of_number(turn, band, conversation.display)
        case Decided():
            return _of_cause(turn, conversation)
        case _:
            return None


def _of_number(turn: NumberShown, band: Band, display: Display) -> Guess:
    name = turn.worked.name
    entry = display.catalogue.numbers[name]
    prompt = AskChoice(
        key=PromptKey(Topic.GUESS, name),
        title=entry.title,
        question=f"Before it is worked: what will this be? {entry.title}",
        why=(entry.tells, "Say it before you see it; the call goes on the same whatever you say."),
        choices=choices_from(((LOW, "low"), (IN_RANGE, "in range"), (HIGH, "high"))),
    )
    limits = []
    if band.low is not None:
        limits.append(f"low below {display.value(name, band.low)}")
    if band.high is not None:
        limits.append(f"high above {display.value(name, band.high)}")
    right = band.fitting(turn.worked.value)
    verdict = f"{' or '.join(word for word in (LOW, IN_RANGE, HIGH) if word in right)} ({', '.join(limits)})"
    return Guess((name, turn.line), prompt, right, entry.title, verdict, f"{turn.line}: {verdict}", entry.tells)


def _of_cause(turn: Decided, conversation: Conversation) -> Guess | None:
    nodes = conversation.tree.nodes if conversation.tree else {}
    leaf = nodes.get(turn.go)
    if not isinstance(leaf, CauseLeaf):
        return None
    causes = conversation.display.catalogue.causes
    named = dict.fromkeys(node.cause.text for node in nodes.values() if isinstance(node, CauseLeaf))
    prompt = AskChoice(
        key=PromptKey(Topic.GUESS, "cause"),
        title="Suspect",
        question="The call comes to a cause. Which one do you suspect?",
        why=("Name it before you see it, from all causes that this tree knows.",),
        choices=choices_from(tuple((name, causes[name].title) for name in named)),
    )
    cause = causes[leaf.cause.text]
    key = ("cause", f"{turn.node} {turn.go}")
    return Guess(key, prompt, frozenset({cause.name}), "Cause", cause.title, cause.title, cause.what)


def judged(guess: Guess, said: Value) -> Coached:
    """What is said of a guess once it is told."""
    if _is_right(guess, said):
        return Coached("RIGHT", (guess.truth,))
    return Coached("MISSED" if isinstance(said, Chosen) else "NOT SAID", (guess.truth, guess.tells))


def _is_right(guess: Guess, said: Value) -> bool:
    return isinstance(said, Chosen) and said.name in guess.right


def score_lines(made: list[tuple[Guess, Value]]) -> Iterator[str]:
    """How many guesses were right, and what was missed."""
    numbers = [pair for pair in made if pair[0].key[0] != "cause"]
    causes = [pair for pair in made if pair[0].key[0] == "cause"]
    for word, pairs in (("numbers", numbers), ("causes", causes)):
        right = sum(_is_right(guess, said) for guess, said in pairs)
        yield f"{right} of {len(pairs)} {word}"
    missed = [(guess, said) for guess, said in made if not _is_right(guess, said)]
    if missed:
        yield "Missed:"
        for guess, said in missed:
            yield f"  {guess.title}: you said {shown_answer(guess.prompt, said)}; it was {guess.verdict}"
    elif made:
        yield "Nothing was missed."
