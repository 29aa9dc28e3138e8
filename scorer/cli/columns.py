"""Tables of text that fit the screen: wide characters, long names, long remarks."""

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from unicodedata import bidirectional

from rich.cells import cell_len, set_cell_size
from rich.text import Text

from scorer.cli.screen import say, screen, shown

_GAP = "  "
_INDENT = "      "
_LEAST_TEXT = 48
"""A text column narrower than this is hard to read."""
_LEAST_NAME, _MOST_NAME = 12, 60
_RIGHT_TO_LEFT = frozenset({"R", "AL"})
_MARK = "\u200e"
"""After a name written from right to left: the numbers that follow stay in their order."""


def show_table(
    title: str, columns: Sequence[tuple[str, str]], rows: Iterable[Sequence[str]]
) -> None:
    """Print a table as wide as the screen at most.

    Each column is its heading and what it is: `left`, `right`, `name` (may be cut),
    `spare` (left out where it is empty or does not fit), or, in last place, `text`: where
    that would be squeezed, it stands below its row.
    """
    cells = [[shown(cell) for cell in row] for row in rows]
    sides = [side for _, side in columns]
    head = [heading for heading, _ in columns]
    widths = [max(map(cell_len, column)) for column in zip(head, *cells, strict=True)]
    widths = [
        min(width, _MOST_NAME) if side == "name" else width
        for width, side in zip(widths, sides, strict=True)
    ]
    empty = [not any(column) for column in zip(*cells, strict=True)] or [False] * len(
        head
    )
    fixed = [
        i
        for i, side in enumerate(sides)
        if side != "text" and not (side == "spare" and empty[i])
    ]
    room = screen.width
    beside = 0
    if "text" in sides:
        beside = min(widths[-1], room - _taken(widths, fixed) - len(_GAP))
        beside = beside if beside >= min(widths[-1], _LEAST_TEXT) else 0
    _fit(widths, fixed, sides, room - (beside + len(_GAP) if beside else 0))
    taken = _taken(widths, fixed)
    say(title)
    titles = [_padded(head[i], widths[i], sides[i]) for i in fixed]
    _print([*titles, *(head[-1:] if beside else [])])
    screen.print(
        " " + "─" * min(taken + (beside + len(_GAP) if beside else 0), room - 1)
    )
    for row in cells:
        start = [_padded(row[i], widths[i], sides[i]) for i in fixed]
        text = row[-1] if "text" in sides else ""
        if beside:
            for own, line in zip_longest([start], _wrapped(text, beside) or [""]):
                _print([*(own or [" " * (taken - 1)]), line])
        else:
            _print(start)
            for line in _wrapped(text, room - len(_INDENT) - 1):
                _print([_INDENT + line])


def _taken(widths: Sequence[int], used: Sequence[int]) -> int:
    return 1 + sum(widths[i] for i in used) + len(_GAP) * max(len(used) - 1, 0)


def _fit(widths: list[int], fixed: list[int], sides: Sequence[str], room: int) -> None:
    """Leave out spare columns and narrow the names until the rest fits."""
    for index in fixed[::-1]:
        if sides[index] == "spare" and _taken(widths, fixed) > room:
            fixed.remove(index)
    over = _taken(widths, fixed) - room
    for index in fixed:
        if sides[index] == "name" and over > 0:
            widths[index] = max(widths[index] - over, _LEAST_NAME)


def _padded(cell: str, width: int, side: str) -> str:
    size = cell_len(cell)
    if size > width:
        return set_cell_size(cell, width - 1) + "…"
    turned = any(bidirectional(c) in _RIGHT_TO_LEFT for c in cell)
    cell = cell + _MARK if turned and screen.is_terminal else cell
    blank = " " * (width - size)
    return blank + cell if side == "right" else cell + blank


def _wrapped(text: str, width: int) -> list[str]:
    return [line.plain for line in Text(text).wrap(screen, width)] if text else []


def _print(cells: Sequence[str]) -> None:
    line = " " + _GAP.join(cells)
    screen.print(Text(line.rstrip()), no_wrap=True, crop=False, overflow="ignore")
