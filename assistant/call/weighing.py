"""What a decision weighed: its comparisons as scales of doubt against limit."""

import re
from collections.abc import Iterator

from assistant import doubt
from assistant.call.decision import Picked, sides, worded
from assistant.pictures.scale import Scale, scale_of
from assistant.worksheet.showing import Display

_NAME = re.compile(r"(?<![.\w])[a-z]\w*", re.ASCII)


def scales_at(picked: Picked, display: Display) -> tuple[Scale, ...]:
    """Every comparison on the way to a branch in which there is doubt."""
    return tuple(_scales(picked, display))


def _scales(picked: Picked, display: Display) -> Iterator[Scale]:
    for _, evaluation in picked.evaluations:
        for found in evaluation.comparisons:
            if found.margin is None or doubt.standard(found.margin) == 0:
                continue
            left, right = sides(found, display)
            names = (name for name in _NAME.findall(found.text) if display.catalogue.sort_of(name))
            text = worded(found.text, display)
            yield scale_of(text, tuple(dict.fromkeys(names)), (found.left, left), (found.right, right), found.margin)
