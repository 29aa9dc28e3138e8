"""Tables of text that fit the screen: wide characters, long names, long remarks."""

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from unicodedata import bidirectional

from rich.cells import cell_len, set_cell_size
from rich.text import Text

from scorer.cli.screen import say, screen, shown
from scorer.facts import fact, words
from scorer.words.voice import Voice

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
    `spare` (left out where it is empty or does not fit), `shed` (right; left out with a
    word, the first ones first, where nothing else helps), or, in last place, `text`:
    where that would be squeezed, it stands below its row.
    """
    cells = [[shown(cell) for cell in row] for row in rows]
    layout = _Layout([side for _, side in columns], [h for h, _ in columns], cells)
    say(title)
    layout.print_head()
    for row in cells:
        layout.print_row(row)
    if layout.shed:
        shed = words(", ".join(layout.shed))
        say(Voice().say(fact("not-shown", columns=shed)))


class _Layout:
    """Which columns of a table are shown, and how wide."""

    def __init__(
        self, sides: Sequence[str], head: Sequence[str], cells: Sequence[Sequence[str]]
    ) -> None:
        columns = list(zip(*cells, strict=True)) or [()] * len(head)
        self.sides = sides
        self.head = head
        self.widths = [
            max(map(cell_len, (title, *column)))
            for title, column in zip(head, columns, strict=True)
        ]
        self.fixed = [
            index
            for index, (side, column) in enumerate(zip(sides, columns, strict=True))
            if side != "text" and (side != "spare" or any(column))
        ]
        self.shed: list[str] = []
        self.beside = self._text_width()
        self._fit(screen.width - (self.beside + len(_GAP) if self.beside else 0))

    def _text_width(self) -> int:
        """Return the width of the text beside the rest; 0 = it stands below its row."""
        for index in self.fixed:
            if self.sides[index] == "name":
                self.widths[index] = min(self.widths[index], _MOST_NAME)
        if "text" not in self.sides:
            return 0
        whole = self.widths[-1]
        room = min(whole, screen.width - self.taken - len(_GAP))
        return room if room >= min(whole, _LEAST_TEXT) else 0

    @property
    def taken(self) -> int:
        """Width of all columns but the text."""
        gaps = len(_GAP) * max(len(self.fixed) - 1, 0)
        return 1 + sum(self.widths[i] for i in self.fixed) + gaps

    def _fit(self, room: int) -> None:
        for index in self.fixed[::-1]:
            if self.sides[index] == "spare" and self.taken > room:
                self.fixed.remove(index)
        for index in self.fixed:
            over = self.taken - room
            if self.sides[index] == "name" and over > 0:
                self.widths[index] = max(self.widths[index] - over, _LEAST_NAME)
        for index in self.fixed[:]:
            if self.sides[index] == "shed" and self.taken > room:
                self.fixed.remove(index)
                self.shed.append(self.head[index])

    def print_head(self) -> None:
        text = self.head[-1:] if self.beside else []
        _print([*self._padded(self.head), *text])
        line = self.taken + (self.beside + len(_GAP) if self.beside else 0)
        screen.print(" " + "─" * min(line - 1, screen.width - 1))

    def print_row(self, row: Sequence[str]) -> None:
        start = self._padded(row)
        text = row[-1] if "text" in self.sides else ""
        if not self.beside:
            _print(start)
            for line in _wrapped(text, screen.width - len(_INDENT) - 1):
                _print([_INDENT + line])
            return
        for own, line in zip_longest([start], _wrapped(text, self.beside) or [""]):
            _print([*(own or [" " * (self.taken - 1)]), line])

    def _padded(self, row: Sequence[str]) -> list[str]:
        return [_padded(row[i], self.widths[i], self.sides[i]) for i in self.fixed]


def _padded(cell: str, width: int, side: str) -> str:
    size = cell_len(cell)
    if size > width:
        return set_cell_size(cell, width - 1) + "…"
    turned = any(bidirectional(c) in _RIGHT_TO_LEFT for c in cell)
    cell = cell + _MARK if turned and screen.is_terminal else cell
    blank = " " * (width - size)
    return blank + cell if side in {"right", "shed"} else cell + blank


def _wrapped(text: str, width: int) -> list[str]:
    return [line.plain for line in Text(text).wrap(screen, width)] if text else []


def _print(cells: Sequence[str]) -> None:
    line = " " + _GAP.join(cells)
    screen.print(Text(line.rstrip()), no_wrap=True, crop=False, overflow="ignore")
