"""What is kept of a practice call: the call with its whole site, the answers, and what was done at the site.

Each line is on disk before the next question shows. They lie in a record of their own beside that of the real calls, so
that the two never mix.
"""

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import Any, Final, Literal, Self

from assistant.call.answers import Written, with_answer, without_answer, write_answer
from assistant.call.keys import PromptKey, Topic
from assistant.call.library import Library
from assistant.call.replies import read_all_written
from assistant.call.wording import title_of
from assistant.errors import CoilsideError, FileError, InputError, PhysicsError, StoreError
from assistant.practice.session.practice_turns import EVENT
from assistant.practice.training.history import Moment, apply_event
from assistant.practice.training.kept import SetCall, call_text, read_call
from assistant.practice.training.review import CallReview, cause_words, review
from assistant.practice.training.steps import known_at_the_door
from assistant.practice.visit.amounts import minute_words
from assistant.practice.visit.events import Event, read_events, write_events
from assistant.practice.visit.visit import Visit, begin_visit
from assistant.quantity import UnitSystem
from assistant.session.responses import Accepted
from assistant.session.session import Session
from assistant.store.store import Line, Store
from assistant.store.times import now

STORE_NAME: Final = "practice.db"
"""The file of practice calls, in the folder of the real ones."""
CALL: Final = PromptKey(Topic.PRACTICE, "call")
END: Final = PromptKey(Topic.PRACTICE, "end")
"""Keys of the lines that hold the call with its site, and what was named at its end."""

Deed = Literal["set", "drop"]


@dataclass
class SiteSession(Session):
    """A session over a visit to a simulated system. `moments` is what was done, `named` what was named at the end.

    `following` are calls that come after this one, as a trainer's list has them; then calls are drawn by `draw`.
    """

    call: SetCall = field(kw_only=True)
    draw: Callable[[], SetCall] | None = None
    following: tuple[SetCall, ...] = ()
    moments: tuple[Moment, ...] = field(default=(), repr=False)
    named: tuple[str, ...] | None = None
    is_over: bool = False
    lines: list[tuple[Deed, Written]] = field(default_factory=list, repr=False)

    @property
    def gives_opinion(self) -> bool:
        """Only when the call is over: a second opinion would give away what is hidden."""
        return self.is_over

    @classmethod
    def start_of(
        cls,
        library: Library,
        store: Store,
        call: SetCall,
        system: UnitSystem = "us",
        draw: Callable[[], SetCall] | None = None,
        following: Sequence[SetCall] = (),
    ) -> Self:
        """A practice call from its beginning: complaint, the tree that fits it, and data plate are known."""
        told = known_at_the_door(library.catalogue, call.scenario)
        lines: list[tuple[Deed, Written]] = [("set", Written(CALL, call_text(call)))]
        lines += [("set", write_answer(one)) for one in told]
        return cls(library, store, system, answers=told, call=call, draw=draw, following=tuple(following), lines=lines)

    @classmethod
    def picked_up(
        cls,
        library: Library,
        store: Store,
        number: int,
        system: UnitSystem = "us",
        draw: Callable[[], SetCall] | None = None,
    ) -> Self:
        """Pick a stored practice call up where it was.

        Raises:
            StoreError: there is no such call, or what is kept of it is none.
        """
        last = store.last_line(number)
        lines = [(line.deed, line.answer) for line in store.lines(number)]
        try:
            kept = next((one.text for _, one in lines if one.key == CALL), "")
            session = cls(library, store, system, number, call=read_call(kept), draw=draw)
            session._read(lines)
        except CoilsideError as error:
            raise StoreError(f"Practice call {number} cannot be read: {error}") from error
        session._last_line = last
        entry = store.entry(number)
        session._listed = (entry.title, entry.ending, entry.status == "ended", entry.edition)
        return session

    def _read(self, lines: Sequence[tuple[Deed, Written]]) -> None:
        """Take the call as its lines have it.

        Raises:
            CoilsideError: they are no practice call's.
        """
        self.lines = list(lines)
        self.moments, self.is_over, self.named = (), False, None
        answers: tuple[Written, ...] = ()
        for deed, one in lines:
            if one.key.first == EVENT:
                self.moments = (*self.moments, self._moment(one.text))
            elif one.key == END:
                self.is_over, self.named = True, _read_named(one.text)
            elif one.key != CALL:
                answers = with_answer(answers, one) if deed == "set" else without_answer(answers, one.key)
        self._take(read_all_written(answers, self.library.catalogue, self.system))

    def _moment(self, text: str) -> Moment:
        values = payload(text)
        event = read_events([values.get("event")])[0]
        skipped = tuple(str(one) for one in values.get("skipped", ()))
        return apply_event(self.visit, event, asked=bool(values.get("asked")), skipped=skipped)

    @cached_property
    def _begun(self) -> Visit:
        return begin_visit(self.call.scenario)

    @property
    def visit(self) -> Visit:
        """The visit as it is now."""
        return self.moments[-1].after if self.moments else self._begun

    @property
    def clock(self) -> str:
        """The minute of the visit, as it is told after what was done."""
        return f"Minute {minute_words(self.visit.minute)}."

    @cached_property
    def review(self) -> CallReview:
        """What it was and how it went; only of a call that is over."""
        return review(self.library, self.call, self.moments, self.named, self.system)

    def happen(self, event: Event, *, asked: bool, met: Iterable[str] = (), skipped: Iterable[str] = ()) -> Moment:
        """Let something happen at the site; it is on disk when this returns.

        Raises:
            InputError: it cannot be as things stand.
            StoreError: it could not be written; it has not happened.
        """
        extra = tuple(skipped)
        try:
            moment = apply_event(self.visit, event, asked=asked, skipped=extra)
        except PhysicsError as error:
            raise InputError(f"The simulated system cannot do that here: {error}") from error
        values: dict[str, Any] = {"event": write_events([event])[0], "asked": asked}
        values |= {"met": list(met)} if met else {}
        values |= {"skipped": list(extra)} if extra else {}
        text = json.dumps(values, ensure_ascii=False)
        nth = sum(one.key.first == EVENT for _, one in self.lines) + 1
        self._record("set", Written(EVENT.numbered(nth), text))
        self.moments = (*self.moments, moment)
        return moment

    def anew(self) -> Self:
        """The next call of the list, or another one drawn.

        Raises:
            ValueError: there is none.
        """
        if self.store is None or not (self.following or self.draw):
            raise ValueError("there is no other call")
        call = self.following[0] if self.following else self.draw()  # type: ignore[misc]
        return self.start_of(self.library, self.store, call, self.system, self.draw, self.following[1:])

    def _catch_up(self) -> Accepted:
        assert self.store is not None
        assert self.number is not None
        self._last_line = self.store.last_line(self.number)
        self.changing = None
        self._read([(line.deed, line.answer) for line in self.store.lines(self.number)])
        return Accepted(("The call was changed in another window. Here it is as it stands; your reply was not taken.",))

    def _record(self, deed: Deed, answer: Written) -> None:
        super()._record(deed, answer)
        self.lines.append((deed, answer))

    def _write(self, store: Store, deed: Deed, answer: Written) -> None:
        if self.number is not None:
            super()._write(store, deed, answer)
            return
        at = now()
        self.number = store.add_call([*self._lines_so_far(at), Line(at, deed, answer)])
        self._last_line = store.last_line(self.number)

    def _lines_so_far(self, at: datetime) -> list[Line]:
        return [Line(at, done, one) for done, one in self.lines]

    def _describe(self) -> None:
        named = ", ".join(cause_words(one, self.library.catalogue) for one in self.named or ())
        ending_words = (named or "given up") if self.is_over else ""
        edition = self.conversation.tree.edition if self.conversation.tree else ""
        listed = (title_of(self.conversation), ending_words, self.is_over, edition)
        if listed == self._listed or self.store is None or self.number is None:
            return
        try:
            self.store.describe(self.number, listed[0], "ended" if listed[2] else "open", listed[1], listed[3])
        except StoreError:
            # The line itself is on disk; the list is set right with the next one.
            return
        self._listed = listed


def store_path(calls: Path) -> Path:
    """The file of the practice calls that belongs to a file of real ones."""
    return calls.with_name(STORE_NAME)


def payload(text: str) -> dict[str, Any]:
    """What is written of an event, or of the end.

    Raises:
        FileError: it is damaged.
    """
    try:
        values = json.loads(text)
    except ValueError as error:
        raise FileError("an event of it is damaged.") from error
    if not isinstance(values, dict):
        raise FileError("an event of it is damaged.")
    return values


def _read_named(text: str) -> tuple[str, ...] | None:
    named = payload(text).get("named")
    return tuple(str(one) for one in named) if isinstance(named, list) else None
