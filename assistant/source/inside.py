"""Where a part of a scalar's text stands in the file, for text that is plain, quoted or runs over several lines."""

from assistant.source.nodes import Scalar
from assistant.source.problem import Place


def place_inside(scalar: Scalar, start: int, end: int) -> Place:
    """Give the place of `scalar.text[start:end]`; a part that runs over lines ends with its first line.

    Text with backslash escapes stands elsewhere than it reads, so for that the place of the scalar is given.
    """
    mark = scalar.mark
    if scalar.raw is scalar.text or scalar.raw == scalar.text:
        return Place(mark.path, mark.line, mark.column + start, mark.column + max(end, start + 1))
    if scalar.style == '"' and "\\" in scalar.raw:
        return mark
    spots = _spots(scalar)
    if spots is None or not spots:
        return mark
    first = spots[min(start, len(spots) - 1)] + max(0, start - len(spots) + 1)
    last = max(first, spots[min(max(end, start + 1), len(spots)) - 1])
    before = scalar.raw[:first]
    line_start = before.rfind("\n") + 1
    line_end = scalar.raw.find("\n", first)
    last = last if line_end < 0 or last < line_end else line_end - 1
    indent = 0 if line_start else mark.column - 1
    column = first - line_start + 1 + indent
    return Place(mark.path, mark.line + before.count("\n"), column, max(column, last - line_start + 1 + indent) + 1)


def _spots(scalar: Scalar) -> list[int] | None:
    """Find, for each character of the text, its index in the raw text: only white space differs between the two."""
    raw = scalar.raw
    # The first line of a | or > text holds only the sign itself and perhaps a remark.
    spot = raw.find("\n") + 1 if scalar.style in ("|", ">") else len(scalar.style)
    spots: list[int] = []
    for char in scalar.text:
        if char.isspace():
            spots.append(min(spot, len(raw) - 1))
            if spot < len(raw) and raw[spot].isspace():
                spot += 1
            continue
        while spot < len(raw) and raw[spot] != char:
            spot += 1
        if spot >= len(raw):
            return None
        spots.append(spot)
        spot += 1
    return spots
