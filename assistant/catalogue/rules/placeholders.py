"""What a tech relies on is written, not left for later: sources, rules, licences, repairs and proofs."""

import re
from collections.abc import Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.source.problem import Place, Problem, shorten

_LATER = re.compile(r"\W*(?:to ?do|tbd|to be done|fix ?me|x+|n/?a|unknown|later|\?*)\W*", re.IGNORECASE)


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report texts that stand for one still to be written."""
    for place, name, key, text in _texts(catalogue):
        if text and _LATER.fullmatch(text):
            message = f'{key} of {name} is still to be written: "{shorten(text, 40)}"'
            yield Problem("catalogue-placeholder", place, message, 'write it, or "common practice, no source"')


def _texts(catalogue: Catalogue) -> Iterator[tuple[Place, str, str, str]]:
    for cause in catalogue.causes.values():
        for key in ("licence", "source"):
            yield cause.place, cause.name, key, str(getattr(cause, key))
        yield from ((cause.place, cause.name, "say", step.say) for step in (*cause.repair, *cause.prove))
    for limit in catalogue.limits.values():
        yield limit.place, limit.name, "source", limit.source
    for caution in catalogue.cautions.values():
        yield caution.place, caution.name, "rule", caution.rule
    for reading in catalogue.readings.values():
        yield reading.place, reading.name, "how", reading.how
        yield reading.place, reading.name, "accuracy_source", reading.accuracy.source
