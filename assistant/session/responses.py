"""What comes back from a reply to a session."""

from assistant.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Accepted:
    """The reply was an answer; it is on disk and the conversation has gone on. `notices` say what else changed.

    `is_told`: the turns of the conversation say the same, so a face that shows nothing else need not say it twice.
    """

    notices: tuple[str, ...] = ()
    is_told: bool = False


@dataclass(frozen=True, slots=True)
class Rejected:
    """The reply could not be used; nothing has changed."""

    message: str


@dataclass(frozen=True, slots=True)
class Information:
    """What was asked of the assistant; nothing has changed."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Leave:
    """The tech wants to stop; the call is kept."""


@dataclass(frozen=True, slots=True)
class Anew:
    """The tech wants to begin another call; this one has ended and is kept."""


Response = Accepted | Rejected | Information | Leave | Anew
