"""How large and of what form the fields of acts may be: declared beside each field.

`scorer.ledger.gate` checks them, from the acts' own type hints: there is no second list.
They are wide: nothing that people enter comes near, and nothing within them can stop a
program.
"""

from dataclasses import dataclass

MOST_PAYLOAD = 8_000_000
"""Characters of one entry's content."""
MOST_ITEMS = 20_000
"""Of one list or table."""
MOST_WHOLE = 2**53
"""Beyond this, whole numbers are not the same in all programs that read JSON."""


@dataclass(frozen=True, slots=True)
class Text:
    """A text of so many characters."""

    most: int


@dataclass(frozen=True, slots=True)
class MomentBound:
    """A moment, ISO 8601 with its zone; or nothing."""


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number within two."""

    least: int = 0
    most: int = MOST_WHOLE


@dataclass(frozen=True, slots=True)
class CellsBound:
    """A row: text by column."""

    columns: int = 200
    most: int = 4_000
    """Characters of a cell; Python reads whole numbers of no more than 4,300 digits."""


@dataclass(frozen=True, slots=True)
class Tree:
    """Tables, lists and values as parsed from TOML or JSON."""

    depth: int = 24
    tables: tuple[str, ...] = ()
    """Keys that hold a table, if anything."""
    rows: tuple[str, ...] = ()
    """Keys that hold a list of tables, if anything."""


@dataclass(frozen=True, slots=True)
class Names:
    """An entry that this one names must be of this kind, where it names one."""

    kinds: tuple[str, ...]


PROSE = Text(100_000)
"""What people write."""
SOURCE = Text(1_000_000)
"""Where it was imported from; of settings the whole file."""
SHORT = Text(4_000)
NAME = Text(1_000)
"""What it may be called on a disk, `scorer.files` decides where it is written."""
