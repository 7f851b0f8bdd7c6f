"""The call line by line on standard input and output: for pipes, dumb terminals and screen readers."""

from collections.abc import Callable, Iterable

from assistant.call.keys import PromptKey
from assistant.call.turns import Answered, Turn, common
from assistant.call.wording import prompt_lines, turn_lines, wrapped
from assistant.frozen import dataclass
from assistant.session.session import Accepted, Anew, Information, Leave, Rejected, Session

Read = Callable[[], str | None]
Write = Callable[[str], None]


def run_plain(session: Session, read: Read, write: Write, width: int = 80, echo: bool = False) -> None:
    """Carry a call on until it ends, the tech leaves, or the input runs out.

    `read` gives the next line or `None` at the end of the input; `write` takes one line. With `echo`, replies are
    written too, as a terminal would show them.

    Raises:
        StoreError: an answer could not be written; it does not count.
    """

    def show(lines: Iterable[str]) -> None:
        for line in wrapped(tuple(lines), width):
            write(line)

    before: tuple[Turn, ...] = ()
    typed: PromptKey | None = None
    while True:
        after = session.shown.turns
        for turn in after[common(before, after) :]:
            # What was just asked and typed is on screen already.
            if not (isinstance(turn, Answered) and turn.prompt.key == typed):
                show((*turn_lines(turn), ""))
        before = after
        if session.prompt is None:
            show((f"The call has ended. {session.closing}",))
        elif session.conversation.unfit:
            show((f"The stored answer does not fit: {session.conversation.unfit}",))
        if session.prompt is not None:
            show(prompt_lines(session.prompt))
            under = (f"({session.hint})" if session.hint else "", session.offer_facts())
            show(tuple(line for line in under if line))
        found = _reply(session, read, show, echo)
        if found is None:
            return
        if isinstance(found, Session):
            session, before, typed = found, (), None
        else:
            typed = found.key


@dataclass(frozen=True, slots=True)
class _Taken:
    """A reply was taken; `key` is that of the prompt that it answered, where one was asked."""

    key: PromptKey | None


def _reply(session: Session, read: Read, show: Callable[[Iterable[str]], None], echo: bool) -> _Taken | Session | None:
    """Read replies until one is taken, or begins another call; `None` at the end of it all."""
    while True:
        line = read()
        if session.prompt is None and not (line or "").strip():
            return None
        if line is None:
            show(("", session.kept))
            return None
        asked = _asked(session)
        if echo:
            show((f"> {line.strip()}",))
        match session.say(line.rstrip("\n")):
            case Accepted(notices, is_told):
                show(("",) if is_told else (*notices, ""))
                return _Taken(asked)
            case Rejected(message):
                show((message,))
            case Information(title, lines):
                show((title, *(f"  {text}" for text in lines), ""))
                if session.changing is not None and session.prompt is not None:
                    show(prompt_lines(session.prompt))
            case Anew():
                show(("",))
                return session.anew()
            case Leave():
                show((session.kept,))
                return None


def _asked(session: Session) -> PromptKey | None:
    """The key of the prompt that the next reply answers."""
    if session.changing is not None:
        return session.changing.prompt.key
    prompt = session.shown.prompt
    return prompt.key if prompt else None
