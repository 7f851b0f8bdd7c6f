"""A call with a trainee riding along: guesses are asked in between, and never kept among the answers of the call."""

from dataclasses import dataclass, field
from typing import Final

from assistant.call.answers import Value
from assistant.call.keys import Topic
from assistant.call.prompts import Prompt
from assistant.call.replies import Command, Given, Unclear, read_reply
from assistant.call.riding import Key, open_guess, shown
from assistant.call.turns import Answered
from assistant.call.walk import Conversation
from assistant.session.session import Accepted, Rejected, Response, Session

_TELLS_TOO_MUCH = frozenset({"if", "picture", "sheet"})
"""Words that would tell what is to be guessed."""


RIDING: Final = "Riding along: before a number or a cause is told, you say what you expect. The score comes at the end."
GUESS_FIRST: Final = "That would tell what you are to guess. Guess first."

NOT_YET: Final = "Riding along, other values are tried when the call has ended: before, they would tell what you guess."


@dataclass
class Ride(Session):
    """A session that shows no worked number and no cause before something was guessed.

    Guesses live as long as the session; picked up again, the call asks for them anew.
    """

    guesses: dict[Key, Value] = field(default_factory=dict)

    @property
    def shown(self) -> Conversation:
        """The conversation as far as the trainee may see it."""
        return shown(self.conversation, self.guesses)

    @property
    def holds_back(self) -> bool:
        """Whether a guess is open."""
        return open_guess(self.conversation, self.guesses) is not None

    @property
    def prompt(self) -> Prompt | None:
        """What is asked now: a guess, or what the call asks."""
        guess = None if self.changing else open_guess(self.conversation, self.guesses)
        return guess.prompt if guess else super().prompt

    def _say(self, text: str) -> Response:
        guess = None if self.changing else open_guess(self.conversation, self.guesses)
        if guess is None:
            return super()._say(text)
        reply = read_reply(guess.prompt, text)
        match reply:
            case Given():
                self.guesses[guess.key] = reply.value
                return Accepted()
            case Unclear():
                return Rejected(reply.message)
            case Command():
                return self.command(reply.word, reply.argument)

    def _answer(self, value: Value) -> Accepted:
        found = super()._answer(value)
        # Where the call goes now would give away what is to be guessed.
        return Accepted() if self.holds_back else found

    def _command(self, word: str, argument: str) -> Response:
        if word in _TELLS_TOO_MUCH and self.holds_back:
            return Rejected(GUESS_FIRST)
        if word == "if" and self.conversation.prompt is not None:
            # The reading that is about to be told would work the number that is about to be guessed.
            return Rejected(NOT_YET)
        return super()._command(word, argument)

    def change_turn(self, turn: Answered) -> Response:
        """Ask an earlier prompt again; a guess stays as it was made."""
        if turn.prompt.key.topic is Topic.GUESS:
            return Rejected("A guess stays as it was made.")
        return super().change_turn(turn)
