"""The two consoles, and tables in the one style that all commands use."""

import sys
from codecs import register_error
from collections.abc import Iterable, Sequence
from io import TextIOWrapper
from unicodedata import category, normalize

from rich import box
from rich.cells import cell_len
from rich.console import Console
from rich.table import Table
from rich.text import Text

from scorer.files import TURNING

_WIDE = 200
"""Columns when the output goes to a file: nothing is cut."""


_NEAREST = "sandtail-nearest"
_ALIKE = str.maketrans(
    "\u2212\u2010\u2011\u2013\u2014\u2500\u2026\u2192\u00b7\u00d7", "------.>.x"
)


def _nearest(error: UnicodeError) -> tuple[str, int]:
    """Write the nearest letters a terminal has: a without its accent, - for a line."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    shown = ""
    for character in error.object[error.start : error.end]:
        base = normalize("NFKD", character.translate(_ALIKE))[:1]
        shown += base if base.isascii() else "?"
    return shown, error.end


register_error(_NEAREST, _nearest)


def _console(*, stderr: bool) -> Console:
    stream = sys.stderr if stderr else sys.stdout
    if isinstance(stream, TextIOWrapper):  # a name that the terminal cannot show
        stream.reconfigure(errors=_NEAREST)
    console = Console(stderr=stderr, highlight=False, emoji=False)
    if not console.is_terminal:
        console = Console(stderr=stderr, highlight=False, emoji=False, width=_WIDE)
    return console


errors = _console(stderr=True)
screen = _console(stderr=False)


def write_plainly(text: str) -> None:
    """Write what programs read: UTF-8 whatever letters the terminal has."""
    stream = sys.stdout
    if isinstance(stream, TextIOWrapper):
        stream.reconfigure(encoding="utf-8")
    stream.write(text)


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


_BLANKS = str.maketrans({**dict.fromkeys("\n\r\t", " "), **dict.fromkeys(TURNING, "")})
_HANG = 2
_LEAST = 20
_CODES = frozenset({"Cc", "Cs"})


def say(text: str = "", console: Console | None = None) -> None:
    """Print lines as they are; on a terminal long ones are broken between words."""
    console = console or screen
    for line in text.split("\n"):
        whole = shown(line.rstrip())
        indent = len(whole) - len(whole.lstrip())
        room = max(console.width - indent - _HANG, _LEAST)
        if not console.is_terminal or cell_len(whole) <= console.width:
            console.print(Text(whole), soft_wrap=True)
            continue
        first, *rest = Text(whole.lstrip()).wrap(console, room)
        for part, more in [(first, 0), *((part, _HANG) for part in rest)]:
            console.print(
                Text(" " * (indent + more) + part.plain.rstrip()), soft_wrap=True
            )
