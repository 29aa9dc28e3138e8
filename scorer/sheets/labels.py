"""Where words stand on a map: beside what they name, clear of what stands there already."""

from collections.abc import Iterable
from functools import lru_cache
from unicodedata import category, east_asian_width

from scorer.sheets.scene import Box, Dot, Label, Line, Shape, bounds

LETTER, WIDE_LETTER = 0.56, 1.0
"""About as wide letters are, of their size."""
ABOVE_FOOT, BELOW_FOOT = 0.75, 0.2
"""How far letters reach up and down from their line, of their size."""


def wide(label: Label) -> float:
    """Return about how wide a label is, in points."""
    return label.size * _letters(label.text)


@lru_cache(maxsize=4096)  # the same names stand on the drawings of every pilot
def _letters(text: str) -> float:
    return sum(map(_letter, text))


def _letter(sign: str) -> float:
    if category(sign) in {"Mn", "Me", "Cf"}:
        return 0.0
    return WIDE_LETTER if east_asian_width(sign) in {"W", "F"} else LETTER


def room_of(shape: Shape) -> Box:
    """Return about the room that a shape takes: left, top, right, below."""
    if isinstance(shape, Line):
        return bounds(shape.points)
    x, y = shape.at
    if isinstance(shape, Dot):
        r = shape.radius
        return x - r, y - r, x + r, y + r
    size, long = shape.size, wide(shape)
    left = x - long * {"start": 0.0, "middle": 0.5, "end": 1.0}[shape.anchor]
    return left, y - ABOVE_FOOT * size, left + long, y + BELOW_FOOT * size


def taken(placed: Iterable[Shape]) -> list[Box]:
    """Return the rooms of words, signs and axes; words may stand over other lines."""
    return [
        room_of(shape)
        for shape in placed
        if not isinstance(shape, Line) or shape.role == "axis"
    ]


def is_clear(room: Box, rooms: Iterable[Box]) -> bool:
    """Tell whether a room lies over none of others."""
    left, top, right, below = room
    return not any(
        left < right_ and left_ < right and top < below_ and top_ < below
        for left_, top_, right_, below_ in rooms
    )


def first_clear(choices: Iterable[Label], placed: Iterable[Shape]) -> Label | None:
    """Return the first of some labels that stands over nothing; None where all would."""
    rooms = taken(placed)
    return next((one for one in choices if is_clear(room_of(one), rooms)), None)
