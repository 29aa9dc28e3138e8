"""The two consoles, and tables in the one style that all commands use."""

import sys
from collections.abc import Iterable, Sequence
from io import TextIOWrapper
from unicodedata import category

from rich import box
from rich.console import Console
from rich.table import Table

_WIDE = 200
"""Columns when the output goes to a file: nothing is cut."""


def _console(*, stderr: bool) -> Console:
    stream = sys.stderr if stderr else sys.stdout
    if isinstance(stream, TextIOWrapper):  # a name that the terminal cannot show
        stream.reconfigure(errors="backslashreplace")
    console = Console(stderr=stderr, highlight=False, emoji=False)
    if not console.is_terminal:
        console = Console(stderr=stderr, highlight=False, emoji=False, width=_WIDE)
    return console


errors = _console(stderr=True)
screen = _console(stderr=False)


def table(
    title: str, columns: Sequence[tuple[str, str]], rows: Iterable[Sequence[str]]
) -> Table:
    """Make a table; each column is its heading and `left` or `right`."""
    made = Table(title=title, box=box.SIMPLE_HEAD, title_justify="left", pad_edge=False)
    for heading, side in columns:
        made.add_column(
            heading,
            justify="right" if side == "right" else "left",
            no_wrap=side != "wrap",
        )
    for row in rows:
        made.add_row(*(_plain(cell) for cell in row))
    return made


def _plain(cell: str) -> str:
    """Keep square brackets of names from being read as style, and codes from acting."""
    return shown(cell).replace("[", "\\[")


def shown(text: str) -> str:
    """Replace what would steer a terminal; line ends and tabs become spaces."""
    blank = text.translate(_BLANKS)
    return "".join("\ufffd" if category(c) in _CODES else c for c in blank)


_BLANKS = str.maketrans("\n\r\t", "   ")
_CODES = frozenset({"Cc", "Cs"})


def say(text: str = "") -> None:
    """Print one line as it is."""
    screen.print(text, markup=False, soft_wrap=True)
