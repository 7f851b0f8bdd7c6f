"""The call for other programs: one JSON object a line comes in, and one goes out.

A request is `{"begin": {"tree": NAME}}` or `{"begin": {"complaint": TEXT}}`, `{"answer": TEXT}` with what a person
would type, `{"back": true}`, or `{"quit": true}`. Whatever cannot be done comes back as `error`, a sentence, with the
prompt standing as before. The reply's keys are in `Talk.take`.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from assistant.call.headless import on_tree
from assistant.call.plain_values import end_values, prompt_values, turn_values
from assistant.call.turns import common
from assistant.errors import CoilsideError
from assistant.session.session import Accepted, Anew, Information, Leave, Rejected, Session

Read = Callable[[], str | None]
Write = Callable[[str], None]

_FORMS: Final = (
    'Write one object a line: {"begin": {"tree": "poor_cooling"}}, {"begin": {"complaint": "not cold"}}, '
    '{"answer": "118 psig"}, {"back": true} or {"quit": true}.'
)
_NOT_BEGUN: Final = 'No call has begun. Write: {"begin": {"tree": "poor_cooling"}}'


class RequestError(CoilsideError):
    """A request is none that can be done; the message says what to write."""


@dataclass
class Talk:
    """One conversation after another with a program. `new_session` gives a session without an answer.

    Where sessions have a store, every call that is begun is kept.
    """

    new_session: Callable[[], Session]
    session: Session | None = None
    has_ended: bool = False
    _shown: tuple[Any, ...] = field(default=(), repr=False)

    def take(self, request: object) -> dict[str, Any]:
        """Do what a request asks, and return the reply.

        `turns` are those that are new since the last reply, and `from` is the place of the first of them among all of
        the call: after `back`, turns that were told before are gone. `prompt` is what is asked now, null at the end.
        `outcome` is null until then. `error` is a sentence where the request could not be done; `told` what the
        assistant says besides, such as to `why`.
        """
        error = ""
        told: tuple[str, ...] = ()
        try:
            told = self._do(request)
        except CoilsideError as problem:
            error = str(problem)
        return self._reply(error, told)

    def _do(self, request: object) -> tuple[str, ...]:
        match request:
            case {"begin": Mapping() as begin, **rest} if not rest:
                self._begin(begin)
                return ()
            case {"answer": str(text), **rest} if not rest:
                return self._say(text)
            case {"back": True, **rest} if not rest:
                return self._heard(self._begun().command("back"))
            case {"quit": True, **rest} if not rest:
                self.has_ended = True
                return ()
        raise RequestError(_FORMS)

    def _begin(self, begin: Mapping[Any, Any]) -> None:
        match begin:
            case {"tree": str(tree), **rest} if not rest:
                session = self.new_session()
                session.give(on_tree(session.library, tree))
            case {"complaint": str(complaint), **rest} if not rest:
                session = self.new_session()
                if isinstance(found := session.say(complaint), Rejected):
                    raise RequestError(found.message)
            case _:
                raise RequestError(_FORMS)
        self.session, self._shown = session, ()

    def _begun(self) -> Session:
        if self.session is None:
            raise RequestError(_NOT_BEGUN)
        return self.session

    def _say(self, text: str) -> tuple[str, ...]:
        return self._heard(self._begun().say(text))

    def _heard(self, response: object) -> tuple[str, ...]:
        match response:
            case Accepted(notices):
                return notices
            case Information(title, lines):
                return (title, *lines)
            case Rejected(message):
                raise RequestError(message)
            case Leave():
                self.has_ended = True
            case Anew():
                raise RequestError(f"Another call is begun with begin. {_FORMS}")
        return ()

    def _reply(self, error: str, told: tuple[str, ...]) -> dict[str, Any]:
        if self.session is None:
            return {"turns": [], "from": 0, "prompt": None, "outcome": None, "error": error or None, "told": list(told)}
        conversation = self.session.shown
        first = common(self._shown, conversation.turns)
        self._shown = conversation.turns
        prompt = self.session.prompt
        return {
            "turns": [turn_values(turn, conversation) for turn in conversation.turns[first:]],
            "from": first,
            "prompt": None if prompt is None else prompt_values(prompt, conversation),
            "outcome": end_values(conversation) if prompt is None else None,
            "error": error or None,
            "told": list(told),
        }


def run_programs(talk: Talk, read: Read, write: Write) -> None:
    """Take requests line by line until the program quits or the input ends; blank lines are passed over."""
    while not talk.has_ended and (line := read()) is not None:
        if not line.strip():
            continue
        try:
            request = json.loads(line)
        except (ValueError, RecursionError) as error:
            reply = talk.take(None) | {"error": f"That line is no JSON ({error}). {_FORMS}"}
        else:
            reply = talk.take(request)
        write(json.dumps(reply, ensure_ascii=False, allow_nan=False))
