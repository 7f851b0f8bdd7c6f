"""What the example calls of trees show, as lines for a person and as plain values for another program."""

from collections.abc import Iterator, Sequence
from typing import Any

from assistant.author.summary import Failure, Summary

FEW = 8
"""So many ways that no call takes are listed without being asked for."""
_MANY_QUESTIONS = 20


def tree_lines(summary: Summary, *, all_ways: bool) -> Iterator[str]:
    """One tree, without wrapping; with `all_ways`, every way that no call takes."""
    if not summary.calls:
        yield f"{summary.tree}: there are no example calls beside it"
        return
    yield f"{summary.tree}: {summary.passed} of {summary.calls} calls end where they must"
    for failure in summary.failures:
        yield from _failure_lines(failure)
    reached = len(summary.causes) - len(summary.causes_missed)
    taken = summary.ways - len(summary.untaken)
    yield f"  causes reached: {reached} of {len(summary.causes)}; ways taken: {taken} of {summary.ways}"
    if summary.causes_missed:
        yield f"    no call reaches: {', '.join(summary.causes_missed)}"
    yield from _asked_lines(summary)
    yield from _edge_lines(summary, all_ways=all_ways)
    shown = summary.untaken if all_ways or len(summary.untaken) <= FEW else summary.untaken[: FEW - 1]
    if shown:
        yield "  ways that no call takes:"
        yield from (f"    {way.node}: {way.words} -> {way.go}" for way in shown)
    if len(shown) < len(summary.untaken):
        yield f"    and {len(summary.untaken) - len(shown)} more: --ways lists them all"


def _edge_lines(summary: Summary, *, all_ways: bool) -> Iterator[str]:
    if not summary.edges:
        return
    loose = [edge.words for edge in summary.loose]
    yield f"  limits with a call just either side: {len(summary.edges) - len(loose)} of {len(summary.edges)} sides"
    shown = loose if all_ways or len(loose) <= FEW else [*loose[: FEW - 1], f"and {len(loose) - FEW + 1} more"]
    if shown:
        yield f"    no call turns with: {', '.join(shown)}"


def _asked_lines(summary: Summary) -> Iterator[str]:
    longest = summary.longest
    if longest is None or summary.median_questions is None or summary.median_cautions is None:
        return
    yield (
        f"  questions to an end: median {summary.median_questions:g}, longest {longest.questions} "
        f"({longest.call}); cautions: median {summary.median_cautions:g}"
    )
    many = sum(one.questions > _MANY_QUESTIONS for one in summary.asked)
    if many:
        yield f"    {_count(many, 'call')} {'asks' if many == 1 else 'ask'} more than {_MANY_QUESTIONS} questions"


def _failure_lines(failure: Failure) -> Iterator[str]:
    place = failure.call.place
    for fault in failure.faults:
        yield f"  FAILS {place.path}:{place.line}: {failure.call.name}: {fault}"
    if failure.parted is not None:
        parted = failure.parted
        why = "; ".join(parted.reasons)
        yield f"    it left the way to {failure.call.reaches.text} at {parted.node}, which led to {parted.go}"
        if why:
            yield f"    because {why}"


def table_lines(summaries: Sequence[Summary]) -> Iterator[str]:
    """Yield all trees in one table, their sum below."""
    name = max([len(summary.tree) for summary in summaries] + [4])
    yield f"{'tree':<{name}}  {'calls':>7}  {'causes':>7}  {'ways':>9}  questions  longest  cautions"
    for one in summaries:
        yield (
            f"{one.tree:<{name}}  {_of(one.passed, one.calls):>7}  {_causes(one):>7}  {_ways(one):>9}  "
            f"{_number(one.median_questions):>9}  {'-' if one.longest is None else one.longest.questions:>7}  "
            f"{_number(one.median_cautions):>8}"
        )
    passed, calls = sum(one.passed for one in summaries), sum(one.calls for one in summaries)
    yield f"{'all':<{name}}  {_of(passed, calls):>7}"
    yield "(passed of calls; causes reached and ways taken of those there are; medians, and the longest call)"


def cause_lines(summaries: Sequence[Summary], causes: Sequence[str]) -> Iterator[str]:
    """Yield every cause with the trees whose example calls come to it, and how many do."""
    for cause in causes:
        trees = [f"{one.tree} {one.reached[cause]}" for one in summaries if one.reached.get(cause)]
        yield f"{cause}: {', '.join(trees) if trees else 'NO CALL COMES TO IT'}"
    missed = sum(not any(one.reached.get(cause) for one in summaries) for cause in causes)
    yield f"({_count(len(causes), 'cause')}; each with the trees whose calls come to it, and how many; {missed} missed)"


def _of(part: int, whole: int) -> str:
    return f"{part}/{whole}"


def _causes(one: Summary) -> str:
    return _of(len(one.causes) - len(one.causes_missed), len(one.causes))


def _ways(one: Summary) -> str:
    return _of(one.ways - len(one.untaken), one.ways)


def _number(value: float | None) -> str:
    return "-" if value is None else f"{value:g}"


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def summary_values(summary: Summary) -> dict[str, Any]:
    """One tree as plain values for a JSON document."""
    longest = summary.longest
    return {
        "tree": summary.tree,
        "calls": summary.calls,
        "passed": summary.passed,
        "failures": [_failure_values(failure) for failure in summary.failures],
        "causes": len(summary.causes),
        "causes_missed": list(summary.causes_missed),
        "reached": dict(summary.reached),
        "ways": summary.ways,
        "ways_not_taken": [{"node": way.node, "words": way.words, "go": way.go} for way in summary.untaken],
        "limit_sides": len(summary.edges),
        "limit_sides_loose": [{"limit": edge.limit, "raised": edge.is_raised} for edge in summary.loose],
        "questions": {
            "median": summary.median_questions,
            "longest": None if longest is None else longest.questions,
            "longest_call": None if longest is None else longest.call,
        },
        "cautions": {"median": summary.median_cautions},
    }


def _failure_values(failure: Failure) -> dict[str, Any]:
    parted = failure.parted
    return {
        "call": failure.call.name,
        "path": failure.call.place.path,
        "line": failure.call.place.line,
        "faults": list(failure.faults),
        "parted": None if parted is None else {"node": parted.node, "go": parted.go, "reasons": list(parted.reasons)},
    }
