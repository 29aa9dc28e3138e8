"""What rows of a table were read as the last time: the same are not read again.

A row comes to the same record wherever all that its reader asks about is the same, so
records are kept by it.  They are the very same objects, too: whoever has worked out
something of one knows it still (`scorer.scoring.coded`).  Rows with a fault are always
read, for the fault must be told.
"""

from collections.abc import Callable, Hashable, Iterable
from functools import lru_cache
from typing import Any, TypeVar

from scorer.event.raw import RawRow
from scorer.event.reading import Faults
from scorer.remembered import one_and_same

T = TypeVar("T")

MOST_TABLES = 200
"""So many are remembered, each as it was read the last time."""


class _Table:
    """Records by what was entered."""

    def __init__(self) -> None:
        self.records: dict[Hashable, Any] = {}
        self.whole: tuple[tuple[RawRow, ...], tuple[Any, ...]] = ((), ())
        """All rows and their records, where none had a fault."""


@lru_cache(maxsize=MOST_TABLES)
def _table(_asked: Hashable) -> _Table:
    return _Table()


def read_rows(
    rows: Iterable[RawRow],
    reader: Callable[[RawRow], T | None],
    asked: Hashable,
    faults: Faults,
) -> tuple[T, ...]:
    """Return the records that rows come to; those without one are left out.

    `asked` is all that the reader asks about beside the row, with its own name.  Where
    all rows are the very objects of the last time, so are the records.
    """
    table, own = _table(asked), tuple(rows)
    same, known = table.whole
    if one_and_same(same, own):
        return known
    before, now = table.records, dict[Hashable, Any]()
    found, wrong = [], False
    for row in own:
        key = row.origin, *row.fields.items()
        # The same row twice is two records: people tell who stands beside whom.
        record = None if key in now else before.get(key)
        if record is None:
            told = faults.told
            record = reader(row)
            clean = record is not None and faults.told == told
        else:
            clean = True
        if clean:
            now[key] = record
        wrong |= not clean
        if record is not None:
            found.append(record)
    every = tuple(found)
    table.records = now  # at once, for other threads read as well
    table.whole = ((), ()) if wrong else (own, every)
    return every
