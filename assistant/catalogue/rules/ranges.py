"""What can be believed of a reading lies between two values, the lower one first."""

from collections.abc import Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.quantity import SEA_LEVEL
from assistant.source.problem import Problem


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report readings of which no value could be believed."""
    for reading in catalogue.readings.values():
        if reading.low.absolute(SEA_LEVEL) >= reading.high.absolute(SEA_LEVEL):
            message = f"nothing lies between {reading.low.text()} and {reading.high.text()}"
            hint = f"write: plausible: [{reading.high.text()}, {reading.low.text()}]"
            yield Problem("catalogue-range", reading.place, f"plausible of {reading.name}: {message}", hint)
