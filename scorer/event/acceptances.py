"""Acceptances as an event holds them: rows of accepted.csv, read and written.

A row names what was accepted by `Matter.key`, which binds kind, subject and values; its
other cells say the same to people.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from zoneinfo import ZoneInfo

from scorer.event.matter import Acceptance, Matter
from scorer.event.moments import read_moment, told_again
from scorer.event.raw import RawRow
from scorer.event.reading import Cells, Faults
from scorer.units import Unreadable

_KEY = re.compile("m[0-9a-f]{15}")
_PILOTS = "competition numbers with spaces between, or nothing"


def rows_of(
    matter: Matter, *, why: str, by: str, at: str = ""
) -> Iterator[Mapping[str, str]]:
    """Yield the rows that accept a matter: one for each that it stands for."""
    for one in matter.each:
        yield {
            "kind": one.kind.name,
            "flight": one.flight,
            "task": "" if one.task is None else str(one.task),
            "pilots": " ".join(map(str, one.pilots)),
            "mark": one.mark,
            "matter": one.key,
            "why": why,
            "by": by,
            "at": at,
        }


def read_acceptances(
    rows: Iterable[RawRow], zone: ZoneInfo, faults: Faults
) -> tuple[Acceptance, ...]:
    """Read accepted.csv; a row with a fault is noted and left out."""
    read = (_read(Cells(row, faults), zone) for row in rows)
    return tuple(acceptance for acceptance in read if acceptance is not None)


def _read(cells: Cells, zone: ZoneInfo) -> Acceptance | None:
    before = len(cells.faults.found)
    key = cells.required("matter", "the sign that open-matters gives the matter")
    if key and not _KEY.fullmatch(key):
        allowed = "m and 15 of the digits 0 to 9 and a to f"
        cells.refuse("matter", allowed, "`sandtail accept` writes the row.")
    kind = cells.required("kind", "the kind of matter")
    why = cells.required("why", "the reason")
    task = cells.integer("task") if cells.text("task") else None
    pilots = cells.read("pilots", _numbers)
    if not cells.row.origin.entries:  # entries of earlier versions stand as they are
        cells.read("at", lambda text: read_moment(text, zone))
    if len(cells.faults.found) > before:
        return None
    return Acceptance(
        matter=key,
        kind=kind,
        flight=cells.text("flight"),
        task=task,
        pilots=pilots or (),
        mark=cells.text("mark"),
        why=why,
        by=cells.text("by"),
        at=told_again(cells.text("at"), zone),
    )


def _numbers(text: str) -> tuple[int, ...]:
    parts = text.split()
    if not all(p.isascii() and p.isdigit() and len(p) < 10 for p in parts):
        raise Unreadable(text, _PILOTS)
    return tuple(map(int, parts))
