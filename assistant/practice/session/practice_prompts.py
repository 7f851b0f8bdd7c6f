"""The prompts of a practice call that are no questions of a tree."""

from typing import Final

from assistant.call.keys import PromptKey, Topic
from assistant.call.prompts import AskText
from assistant.call.script import Outcome
from assistant.catalogue.catalogue import Catalogue
from assistant.practice.training.kept import SetCall
from assistant.practice.training.review import cause_words
from assistant.practice.visit.amounts import minute_words

DOOR: Final = PromptKey(Topic.PRACTICE, "door")
ALONE: Final = PromptKey(Topic.PRACTICE, "alone")
VERDICT: Final = PromptKey(Topic.PRACTICE, "verdict")
"""Keys of the prompts before the first question, of a trainee who goes alone, and at the end of the trees."""

_HELP: Final = "cause alone lists them; tree NAME goes on with another tree; give up ends the call."


def door(call: SetCall) -> AskText:
    """What stands before the first question."""
    return AskText(key=DOOR, question=f'The customer says: "{call.scenario.complaint}" Enter begins the visit.')


def by_oneself(minute: float) -> AskText:
    """What a trainee is asked who goes alone."""
    return AskText(key=ALONE, question=f"Minute {minute_words(minute)}. What do you do?")


def verdict(outcome: Outcome | None, catalogue: Catalogue) -> AskText:
    """What is asked where the trees have ended."""
    if outcome is None or outcome.kind == "undecided":
        question = "The trees end here, undecided. What do you name?"
    elif outcome.cause is None:
        question = "The trees find no fault. Type agree, or name what it is."
    else:
        question = f"The trees come to: {cause_words(outcome.cause, catalogue)}. Type agree, or name what it is."
    why = ("A practice call ends with the cause that you name: one, or several with commas.",)
    return AskText(key=VERDICT, question=question, why=why, help=_HELP)
