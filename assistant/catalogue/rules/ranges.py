"""What can be believed of a reading lies between two values, the lower one first."""

from collections.abc import Iterator

from assistant.catalogue.catalogue import Catalogue
from assistant.errors import QuantityError
from assistant.quantity import SEA_LEVEL
from assistant.source.problem import Problem


def check(catalogue: Catalogue) -> Iterator[Problem]:
    """Report readings of which no value could be believed."""
    for reading in catalogue.readings.values():
        try:
            ends = [end.absolute(SEA_LEVEL) for end in (reading.low, reading.high)]
        except QuantityError as error:
            # Left alone, it would end the check itself, and with it everything else that there is to tell.
            yield Problem("catalogue-range", reading.place, f"plausible of {reading.name}: {error}")
            continue
        if ends[0] >= ends[1]:
            message = f"nothing lies between {reading.low.text()} and {reading.high.text()}"
            hint = f"write: plausible: [{reading.high.text()}, {reading.low.text()}]"
            yield Problem("catalogue-range", reading.place, f"plausible of {reading.name}: {message}", hint)
