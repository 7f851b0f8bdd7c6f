"""What an entry tells a tech to do in plain prose has its cautions, and nothing is told that is never done."""

from collections.abc import Iterable, Iterator, Mapping

from assistant.catalogue.catalogue import Catalogue
from assistant.catalogue.repairs import usual_plan
from assistant.catalogue.unit_state import Needs
from assistant.source.dangers import DANGERS
from assistant.source.problem import Place, Problem, shorten

Makers = Mapping[tuple[str, str], Iterable[str]]


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report what questions, choices, ways to do it, repairs and reasons ask for without a caution, or at all."""
    makers = find_makers(catalogue)
    for fact in catalogue.facts.values():
        yield from _told(fact.name, fact.place, (fact.question, fact.how, *fact.choices.values()), (), catalogue)
    for reading in catalogue.readings.values():
        given = {*reading.taking.cautions, *cautions_of_needs(reading.taking.needs, makers)}
        yield from _told(reading.name, reading.place, (reading.question, reading.how, reading.spoils), given, catalogue)
    for seen in catalogue.observations.values():
        given = {*seen.taking.cautions, *cautions_of_needs(seen.taking.needs, makers)}
        yield from _told(seen.name, seen.place, (seen.question, seen.how, *seen.choices.values()), given, catalogue)
    for act in catalogue.acts.values():
        given = {*act.cautions, *cautions_of_needs(act.needs, makers)}
        yield from _told(act.name, act.place, (act.title, act.how), given, catalogue)
    for cause in catalogue.causes.values():
        tells = [look.tell for look in cause.looks_like]
        plan = usual_plan(catalogue, cause)
        remarks = [written.say for written in (*cause.repair, *cause.prove)]
        texts = (cause.title, cause.what, cause.why, *tells, *remarks, cause.licence)
        yield from _told(cause.name, cause.place, texts, (caution.name for caution in plan.cautions), catalogue)


def cautions_of_needs(needs: Needs, makers: Makers) -> Iterator[str]:
    """Give the cautions that come with what makes the state that is needed."""
    for name, values in needs.items():
        for value in values:
            yield from makers.get((name, value), ())


def find_makers(catalogue: Catalogue) -> Makers:
    """Give for each thing that a state tells, and each of its values, the cautions of the acts that make it."""
    makers: dict[tuple[str, str], dict[str, None]] = {}
    for act in catalogue.acts.values():
        for made in act.makes.items():
            makers.setdefault(made, {}).update(dict.fromkeys(act.cautions))
    return makers


def _told(
    name: str, place: Place, texts: Iterable[str], given: Iterable[str], catalogue: Catalogue
) -> Iterator[Problem]:
    have = frozenset(given)
    for text in texts:
        found = DANGERS.find(text)
        for hidden in [one for one in found if one.deed.never] or found:
            words, deed = shorten(hidden.words, 40), hidden.deed
            if deed.never:
                message = f'{name} says "{words}", which is never done: {deed.never}'
                yield Problem("catalogue-never", place, message, "take it out")
                continue
            known = [caution for caution in deed.cautions if caution in catalogue.cautions]
            if known and not have.intersection(deed.cautions):
                message = f'{name} says "{words}" without the caution {" or ".join(known)}'
                acts = f", or name the act: {' or '.join(deed.acts)}" if deed.acts else ""
                hint = f"write: cautions: [{', '.join((*sorted(have), known[0]))}]{acts}"
                yield Problem("catalogue-caution", place, message, hint)
