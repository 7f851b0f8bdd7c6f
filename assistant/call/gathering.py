"""Gathering what a call needs: questions with their answers, cautions, worked numbers as they become known."""

from collections.abc import Generator, Iterable, Mapping
from dataclasses import dataclass, field

from assistant import doubt
from assistant.call.answers import Acted, EntryValue, Untold, Value
from assistant.call.asking import acknowledge, ask_for, do_act
from assistant.call.bands import band_of
from assistant.call.evidence import known_text
from assistant.call.keys import NodeAt
from assistant.call.library import Library
from assistant.call.prompts import Prompt
from assistant.call.state import ALTITUDE, REFRIGERANT, State
from assistant.call.turns import Contradicted, NumberShown, Told, Turn
from assistant.quantity import Kind, UnitSystem
from assistant.tree.model import Named, Step
from assistant.worksheet.plausibility import find_contradictions
from assistant.worksheet.sheet import Worked
from assistant.worksheet.showing import Display, advice, disagreement, display_for

Asking = Generator[Prompt | Turn, Value, None]
"""Gives prompts and turns, and is sent the answer to each prompt."""


@dataclass
class Gathering:
    """What is known on a call, and how more becomes known.

    `told` are facts that are known without being asked, such as the accuracy of the tech's own instruments.
    """

    library: Library
    system: UnitSystem
    told: Mapping[str, EntryValue] = field(default_factory=dict)
    state: State = field(init=False)
    _just_met: set[str] = field(init=False, default_factory=set)
    _minded: set[str] = field(init=False, default_factory=set)
    _here: tuple[str, ...] = field(init=False, default=())
    _guards: dict[str, tuple[str, ...]] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.state = State(self.library.catalogue)
        for name, value in self.told.items():
            self.state.take(name, value)

    @property
    def display(self) -> Display:
        """How numbers are shown at this point of the call."""
        return display_for(self.library.catalogue, self.system, self.state.sheet.known)

    def _ask_each(self, names: Iterable[str], why: tuple[str, ...]) -> Asking:
        for name in names:
            if name not in self.state.asked:
                yield from self._ask(name, why)

    def _ask(self, name: str, why: tuple[str, ...], again: bool = False, is_stale: bool = False) -> Asking:
        """Ask for something, and take the answer.

        What cannot be measured `again` keeps its earlier value, unless that `is_stale`: then it counts no more. Both
        are said.
        """
        yield from self._ask_for_site(name)
        value = yield ask_for(name, self.library.catalogue, self.system, why, again)
        assert isinstance(value, EntryValue)
        self._just_met.clear()
        self._guards.setdefault(name, self._here)
        earlier = known_text(name, self.state, self.display) if again and isinstance(value, Untold) else None
        if earlier is not None:
            title = self.library.catalogue.title_of(name)
            counts = "no longer counts, as things may have changed since" if is_stale else "counts on"
            yield Told("", f"{title}: the earlier answer, {earlier}, {counts}.")
        if earlier is not None and not is_stale:
            self.state.keep(name)
        else:
            self.state.take(name, value)
        if name in self.library.catalogue.readings:
            yield from self._contradictions()

    def _ask_for_site(self, name: str) -> Asking:
        """Ask how high the site lies before the first gauge is read there: a gauge reads against the air around it."""
        is_gauge = self.library.catalogue.kind_of(name) is Kind.PRESSURE
        if is_gauge and ALTITUDE in self.library.catalogue.facts and ALTITUDE not in self.state.asked:
            yield from self._ask(ALTITUDE, ("A gauge reads against the air around it, which is thinner higher up.",))

    def _contradictions(self) -> Asking:
        """Say which readings contradict each other, once for as long as they do."""
        sheet = self.state.sheet
        found = find_contradictions(sheet)
        display = self.display
        for item in found:
            if item not in self.state.contradicted:
                yield Contradicted(item.rule.law, disagreement(item, sheet, display), advice(item))
        self.state.contradicted = frozenset(found)

    def _caution(self, names: Iterable[Named | str], at: NodeAt, node: str) -> Asking:
        """Put cautions up in front of a node, apart from those just acknowledged with nothing measured or done since.

        What a flammable refrigerant adds hangs on the refrigerant, so that is asked first; where nobody can tell it,
        the worst is minded.
        """
        catalogue, asked = self.library.catalogue, tuple(str(name) for name in names)
        if REFRIGERANT in catalogue.facts and REFRIGERANT not in self.state.asked and catalogue.has_joined(asked):
            yield from self._ask(REFRIGERANT, ("Some refrigerants burn, and then there is more to mind here.",))
        cautions = catalogue.cautions
        wanted = catalogue.with_joined(asked, self.state.sheet.known.safety_group)
        unread = [name for name in wanted if name not in self._just_met]
        titles = tuple(cautions[name].title for name in unread)
        for place, name in enumerate(unread, start=1):
            yield acknowledge(cautions[name], at, node, place, titles)
            self._just_met.add(name)
            self._minded.add(name)

    def _do(self, name: str, at: NodeAt, node: str, why: tuple[str, ...]) -> Generator[Prompt | Turn, Value, bool]:
        """Have an act done, its cautions in front of it; tell whether it could be."""
        act = self.library.catalogue.acts[name]
        yield from self._caution(act.cautions, at, node)
        reply = yield do_act(act, at, node, why, self.state.visits.get(node, 1))
        self._just_met.clear()
        return reply != Acted(is_done=False)

    def _show_number(self, name: str, step: Step) -> Asking:
        """Show a number that a step's decision is about, when it is new or has changed."""
        worked = self.state.sheet.number(name)
        if not isinstance(worked, Worked) or self.state.shown.get(name) == doubt.nominal(worked.value):
            return
        self.state.shown[name] = doubt.nominal(worked.value)
        yield NumberShown(worked, self.display, band_of(name, step, self.state))
