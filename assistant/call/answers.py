"""A call is its answers: typed texts by name, in the order in which they were given.

A name may be answered several times on one call, as when a pressure is measured again; `nth` counts from 1. What
prompts that are no catalogue entries are called: `complaint`, `tree`, `caution NAME @ NODE`, `do NODE`,
`close NODE`, `check NODE`, `settle NODE`.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

CANNOT_TELL = "cannot tell"
UNDERSTOOD = "understood"
DONE = "done"
CANNOT_DO = "cannot do"
GO_ON = "go on"
AGAIN = "again "
MEASURE = "measure again"
ALL_TREES = "all trees"
YES = "yes"
NO = "no"


@dataclass(frozen=True, slots=True)
class Answer:
    """One acknowledged answer: the `nth` to the prompt called `name`, as a text fit to be read again."""

    name: str
    text: str
    nth: int = 1

    @property
    def key(self) -> tuple[str, int]:
        """What the answer is found by."""
        return self.name, self.nth


def answers_by_name(given: Mapping[str, str | Sequence[str]]) -> tuple[Answer, ...]:
    """Answers from texts by name; a list holds successive answers to the same prompt."""
    answers: list[Answer] = []
    for name, texts in given.items():
        several = [texts] if isinstance(texts, str) else texts
        answers.extend(Answer(name, text, nth) for nth, text in enumerate(several, start=1))
    return tuple(answers)


def given(answers: Sequence[Answer], answer: Answer) -> tuple[Answer, ...]:
    """The answers with one more, or with one replaced in its place."""
    if any(old.key == answer.key for old in answers):
        return tuple(answer if old.key == answer.key else old for old in answers)
    return (*answers, answer)


def without(answers: Iterable[Answer], name: str, nth: int) -> tuple[Answer, ...]:
    """The answers without one of them; later answers to the same name stay later ones, so that it is asked again."""
    return tuple(answer for answer in answers if answer.key != (name, nth))
