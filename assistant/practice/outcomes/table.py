"""Walks over simulated calls summed up: by cause, by family of look-alikes, by device, and what was named instead."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Any, Final

from assistant.practice.outcomes.outcomes import MATTERS, SOUND, OutcomeWalk, Verdict, family_of

HEADS: Final = ("calls", "corr", "pass", "undec", "miss", "misd", "alike", "false")
_LABEL = 32
_LEGEND: Final = (
    "corr: the fault is named. pass: rightly no fault. undec: left undecided. miss: a fault that matters ends as none.",
    "misd: another cause is named, alike: of these one that the catalogue gives as its look-alike. false: a cause is",
    "named where there is none.",
)


@dataclass(frozen=True)
class Tally:
    """How the walks of one line went; `alike` of the misdiagnoses named a look-alike."""

    label: str
    counts: Mapping[Verdict, int]
    alike: int

    @property
    def calls(self) -> int:
        """How many walks there are."""
        return sum(self.counts.values())


@dataclass(frozen=True)
class QuestionCounts:
    """How many questions the walks took to their end; of 95 in 100, `most` at the most."""

    median: float
    most: int
    longest: int


@dataclass(frozen=True)
class TreeOutcomes:
    """The walks of one tree, with all observations (`eyes`) or without.

    Faults that are too slight to matter stand in `slight` alone; `ends` counts the others by truth, then by their end.
    """

    tree: str
    eyes: bool
    whole: Tally
    by_cause: tuple[Tally, ...]
    by_family: tuple[Tally, ...]
    by_device: tuple[Tally, ...]
    slight: tuple[Tally, ...]
    ends: Mapping[str, Mapping[str, int]]
    asked: QuestionCounts


def sections(walks: Iterable[OutcomeWalk], families: Sequence[frozenset[str]]) -> tuple[TreeOutcomes, ...]:
    """The walks summed up, a section for each tree with and without observations, in the order in which they come."""
    grouped: dict[tuple[str, bool], list[OutcomeWalk]] = {}
    for walked in walks:
        grouped.setdefault((walked.tree, walked.eyes), []).append(walked)
    kept = sorted(grouped, key=lambda key: (list(dict.fromkeys(tree for tree, _ in grouped)).index(key[0]), not key[1]))
    return tuple(_section(tree, eyes, grouped[tree, eyes], families) for tree, eyes in kept)


def _section(tree: str, eyes: bool, walks: Sequence[OutcomeWalk], families: Sequence[frozenset[str]]) -> TreeOutcomes:
    mattering = [one for one in walks if not one.is_slight]
    present = {one.truth for one in mattering}
    names = {truth: ", ".join(sorted(family_of(truth, families) & present)) for truth in present}
    ends: dict[str, Counter[str]] = {}
    for one in mattering:
        ends.setdefault(one.truth, Counter())[one.ended] += 1
    asked = sorted(one.questions for one in walks)
    return TreeOutcomes(
        tree=tree,
        eyes=eyes,
        whole=_tally("all", mattering),
        by_cause=_tallies(mattering, lambda one: one.truth),
        by_family=_tallies(mattering, lambda one: names[one.truth]),
        by_device=_tallies(mattering, lambda one: one.device),
        slight=_tallies([one for one in walks if one.is_slight], lambda one: one.truth),
        ends={truth: dict(ends[truth].most_common()) for truth in _sort(ends)},
        asked=QuestionCounts(median(asked), percentile(asked, 0.95), asked[-1]),
    )


def percentile(values: Sequence[int], share: float) -> int:
    """Of sorted values the first that at least a share of them does not exceed."""
    return next(value for rank, value in enumerate(values, start=1) if rank >= share * len(values))


def _tallies(walks: Sequence[OutcomeWalk], label_of: Callable[[OutcomeWalk], str]) -> tuple[Tally, ...]:
    grouped: dict[str, list[OutcomeWalk]] = {}
    for one in walks:
        grouped.setdefault(label_of(one), []).append(one)
    return tuple(_tally(label, grouped[label]) for label in _sort(grouped))


def _sort(labels: Iterable[str]) -> list[str]:
    """By name, with the sound ones first."""
    return sorted(labels, key=lambda label: (label != SOUND, label))


def _tally(label: str, walks: Sequence[OutcomeWalk]) -> Tally:
    counts = Counter(one.verdict for one in walks)
    alike = sum(one.is_alike for one in walks if one.verdict is Verdict.MISDIAGNOSIS)
    return Tally(label, {verdict: counts[verdict] for verdict in Verdict}, alike)


def lines(found: Sequence[TreeOutcomes]) -> Iterator[str]:
    """Yield all sections as text."""
    yield from _LEGEND
    yield ""
    yield _head("every tree")
    for section in found:
        yield _line(section.whole, f"{section.tree}, {_looks_words(section)}")
    for section in found:
        yield ""
        yield f"== {section.tree}, {'with all observations' if section.eyes else 'with gauges and thermometers only'}"
        yield from _tables(section)


def _tables(section: TreeOutcomes) -> Iterator[str]:
    titles = ("by cause", "by family of look-alikes", "by metering device", f"costs less than {MATTERS:.0%}: slight")
    tables = (section.by_cause, section.by_family, section.by_device, section.slight)
    yield _head("")
    yield _line(section.whole, "all")
    yield _shares(section.whole)
    for title, table in zip(titles, tables, strict=True):
        if table:
            yield ""
            yield _head(title)
            yield from (line for tally in table for line in _rows(tally))
    yield ""
    yield "how each fault ended"
    for truth, ends in section.ends.items():
        yield f"  {truth}: " + ", ".join(f"{ended} {times}" for ended, times in ends.items())
    asked = section.asked
    yield f"questions to the end: median {asked.median:g}, 95 % at most {asked.most}, longest {asked.longest}"


def _looks_words(section: TreeOutcomes) -> str:
    return "all seen" if section.eyes else "gauges"


def _head(title: str) -> str:
    return f"{title:<{_LABEL}}" + "".join(f"{head:>6}" for head in HEADS)


def _rows(tally: Tally) -> Iterator[str]:
    *before, last = _wrap(tally.label)
    yield from before
    yield _line(tally, last)


def _wrap(label: str) -> Iterator[str]:
    """Yield a family's names, as many to a line as fit."""
    line = ""
    for name in label.split(", "):
        if line and len(line) + len(name) + 2 >= _LABEL:
            yield f"  {line},"
            line = ""
        line += f", {name}" if line else name
    yield f"  {line}"


def _line(tally: Tally, label: str) -> str:
    return f"{label:<{_LABEL}}" + "".join(f"{number or '.':>6}" for number in _numbers(tally))


def _shares(tally: Tally) -> str:
    whole = max(tally.calls, 1)
    return f"{'  in 100':<{_LABEL}}" + "".join(f"{100.0 * number / whole:>6.1f}" for number in _numbers(tally))


def _numbers(tally: Tally) -> tuple[int, ...]:
    of = tally.counts
    shown = (Verdict.CORRECT, Verdict.PASSED, Verdict.UNDECIDED, Verdict.MISSED, Verdict.MISDIAGNOSIS)
    return (tally.calls, *(of[one] for one in shown), tally.alike, of[Verdict.FALSE_ALARM])


def values(section: TreeOutcomes) -> dict[str, Any]:
    """Return a section for another program."""
    return {
        "tree": section.tree,
        "observations": "all" if section.eyes else "gauges and thermometers",
        "all": _tally_values(section.whole),
        "by_cause": {tally.label: _tally_values(tally) for tally in section.by_cause},
        "by_family": {tally.label: _tally_values(tally) for tally in section.by_family},
        "by_device": {tally.label: _tally_values(tally) for tally in section.by_device},
        "slight": {tally.label: _tally_values(tally) for tally in section.slight},
        "ends": {truth: dict(ends) for truth, ends in section.ends.items()},
        "questions": {
            "median": section.asked.median,
            "of_95_in_100": section.asked.most,
            "longest": section.asked.longest,
        },
    }


def _tally_values(tally: Tally) -> dict[str, int]:
    counts = {verdict.value: count for verdict, count in tally.counts.items()}
    return {"calls": tally.calls, **counts, "misdiagnosis_look_alike": tally.alike}
