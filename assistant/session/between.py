"""What stands between the tech and the conversation; on an ordinary call nothing does."""

from typing import Protocol

from assistant.call.answers import Value
from assistant.call.prompts import AskChoice
from assistant.call.turns import Answered
from assistant.call.walk import Conversation


class Between(Protocol):
    """Shows a conversation in part, and asks questions of its own, whose answers are none of the call's."""

    def afresh(self) -> "Between":
        """Give the same for another call."""

    def show(self, conversation: Conversation) -> Conversation:
        """Give the conversation as it is to be seen."""

    def asks(self, conversation: Conversation) -> AskChoice | None:
        """Give the question of its own that comes first; `None` where there is none."""

    def take(self, conversation: Conversation, value: Value) -> None:
        """Take the answer to that question."""

    def bars_word(self, conversation: Conversation, word: str) -> str:
        """Say why a command word cannot be used yet; empty where it can."""

    def bars_change(self, turn: Answered) -> str:
        """Say why an answer cannot be changed; empty where it can."""


class Nothing:
    """The conversation is seen and answered as it is."""

    def afresh(self) -> "Nothing":
        """Give the same for another call."""
        return self

    def show(self, conversation: Conversation) -> Conversation:
        """Give the whole conversation."""
        return conversation

    def asks(self, conversation: Conversation) -> None:
        """Ask nothing."""

    def take(self, conversation: Conversation, value: Value) -> None:
        """Refuse: nothing was asked."""
        raise ValueError("nothing was asked")

    def bars_word(self, conversation: Conversation, word: str) -> str:
        """Bar no word."""
        return ""

    def bars_change(self, turn: Answered) -> str:
        """Bar no change."""
        return ""
