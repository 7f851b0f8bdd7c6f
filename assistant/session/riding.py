"""A trainee who rides along: guesses are asked in between, and never kept among the answers of the call."""

from dataclasses import dataclass, field
from typing import Final

from assistant.call.answers import Value
from assistant.call.keys import Topic
from assistant.call.prompts import AskChoice
from assistant.call.riding import Key, open_guess, shown
from assistant.call.turns import Answered
from assistant.call.walk import Conversation

_TELLS_TOO_MUCH: Final = frozenset({"if", "opinion", "picture", "sheet"})
"""Words that would tell what is to be guessed."""

RIDING: Final = "Riding along: before a number or a cause is told, you say what you expect. The score comes at the end."
GUESS_FIRST: Final = "That would tell what you are to guess. Guess first."

NOT_YET: Final = "Riding along, other values are tried when the call has ended: before, they would tell what you guess."


@dataclass(frozen=True, slots=True)
class Guessing:
    """Shows no worked number and no cause before something was guessed.

    Guesses live as long as the session; picked up again, the call asks for them anew.
    """

    guesses: dict[Key, Value] = field(default_factory=dict)

    def afresh(self) -> "Guessing":
        """Give the same for another call, where nothing is guessed yet."""
        return Guessing()

    def show(self, conversation: Conversation) -> Conversation:
        """Give the conversation as far as the trainee may see it."""
        return shown(conversation, self.guesses)

    def asks(self, conversation: Conversation) -> AskChoice | None:
        """Ask for the first guess that is not made yet."""
        guess = open_guess(conversation, self.guesses)
        return guess.prompt if guess else None

    def take(self, conversation: Conversation, value: Value) -> None:
        """Take a guess."""
        guess = open_guess(conversation, self.guesses)
        if guess is None:
            raise ValueError("there is nothing to be guessed")
        self.guesses[guess.key] = value

    def bars_word(self, conversation: Conversation, word: str) -> str:
        """Bar the words that would tell too much."""
        if word in _TELLS_TOO_MUCH and self.asks(conversation) is not None:
            return GUESS_FIRST
        # The reading that is about to be told would work the number that is about to be guessed.
        return NOT_YET if word in ("if", "opinion") and conversation.prompt is not None else ""

    def bars_change(self, turn: Answered) -> str:
        """Let a guess stay as it was made."""
        return "A guess stays as it was made." if turn.prompt.key.topic is Topic.GUESS else ""
