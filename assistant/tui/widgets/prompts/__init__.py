"""The prompts of a call as widgets, one class per kind."""

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
from assistant.tui.widgets.prompts.asked import ChoicePrompt, QuantityPrompt, RefrigerantPrompt, TextPrompt
from assistant.tui.widgets.prompts.base import PromptView
from assistant.tui.widgets.prompts.caution import CautionPrompt
from assistant.tui.widgets.prompts.check_out import CheckPrompt
from assistant.tui.widgets.prompts.close_call import ClosePrompt
from assistant.tui.widgets.prompts.do_step import DoPrompt


def prompt_view(prompt: Prompt, was: str | None = None) -> PromptView:
    """The widget of a prompt; `was` is its answer so far when it is being changed."""
    return _class_of(prompt)(prompt, was)


def _class_of(prompt: Prompt) -> type[PromptView]:
    match prompt:
        case AskText():
            return TextPrompt
        case AskQuantity():
            return QuantityPrompt
        case AskChoice():
            return ChoicePrompt
        case AskRefrigerant():
            return RefrigerantPrompt
        case Acknowledge():
            return CautionPrompt
        case DoStep():
            return DoPrompt
        case CloseCall():
            return ClosePrompt
        case CheckOut():
            return CheckPrompt
        case _:
            assert_never(prompt)


HELP_OF_PROMPTS = (
    ChoicePrompt.help_text,
    QuantityPrompt.help_text,
    CautionPrompt.help_text,
    DoPrompt.help_text,
    ClosePrompt.help_text,
    CheckPrompt.help_text,
)
"""What the kinds of prompts say of themselves, in the order in which a call meets them."""
