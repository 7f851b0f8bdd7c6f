"""What widgets tell the screen. A widget knows its own record; what follows from a message is the screen's matter."""

from textual.message import Message

from assistant.call.turns import Answered


class OptionPicked(Message):
    """An option was clicked: `say` is what would be typed for it, `again` whether it was pointed at already."""

    def __init__(self, say: str, again: bool) -> None:
        self.say = say
        self.again = again
        super().__init__()


class ChangeWanted(Message):
    """An answered prompt was clicked."""

    def __init__(self, turn: Answered) -> None:
        self.turn = turn
        super().__init__()


class Stepped(Message):
    """Up or down was pressed in the reply line."""

    def __init__(self, by: int) -> None:
        self.by = by
        super().__init__()


class KeyWanted(Message):
    """A key of the key bar was clicked: `action` is what the key does."""

    def __init__(self, action: str) -> None:
        self.action = action
        super().__init__()


class RoomChanged(Message):
    """The transcript has more or less room than before."""
