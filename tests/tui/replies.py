"""Typed replies to the prompts of a call, from answers by name, as somebody at the keyboard would give them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import assert_never

from assistant.call.prompts import (
    Acknowledge,
    AskChoice,
    AskQuantity,
    AskRefrigerant,
    AskText,
    CheckOut,
    CloseCall,
    DoStep,
    Prompt,
)


@dataclass
class Typist:
    """Answers each prompt from `answers`; what is not there is answered as usual, or with "cannot tell"."""

    answers: Mapping[str, Sequence[str]]
    complaint: str = "not cooling enough"
    given: dict[str, int] = field(default_factory=dict)

    def reply(self, prompt: Prompt) -> str:
        """What is typed at a prompt."""
        match prompt:
            case AskText():
                return self.complaint
            case AskQuantity() | AskChoice() | AskRefrigerant():
                return self._named(prompt.name, "" if getattr(prompt, "default", None) else "cannot tell")
            case Acknowledge():
                return str(prompt.place) if prompt.is_listed else "ok"
            case DoStep():
                return self._named(prompt.node, "done")
            case CloseCall():
                return ""
            case CheckOut():
                return "yes"
            case _:
                assert_never(prompt)

    def _named(self, name: str, otherwise: str) -> str:
        nth = self.given.get(name, 0)
        self.given[name] = nth + 1
        texts = self.answers.get(name, ())
        return texts[nth] if nth < len(texts) else otherwise
