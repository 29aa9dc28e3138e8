"""The registry of tables and their columns: what people may write into an event's files.

One declaration is read by the readers of folders (a column nearly named so is a fault), by
what writes folders (the order of columns) and by the manual.  In the catalogue stand what
a table holds, `table-NAME-about`, and what a column means, `column-TABLE-NAME`; how a cell
is written, `written-KIND`.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum

from scorer.event.model import (
    Decision,
    Level,
    Method,
    Outcome,
    PenaltyUnit,
    ReportKind,
    TargetEvent,
)
from scorer.registry import Registry


class Written(StrEnum):
    """How a cell is written."""

    TEXT = "text"
    NUMBER = "number"
    WHOLE = "whole"
    TASK = "task"
    PILOT = "pilot"
    PLACE = "place"
    LENGTH = "length"
    BEARING = "bearing"
    LATITUDE = "latitude"
    LONGITUDE = "longitude"
    TIME = "time"
    MOMENT = "moment"
    MEASURED = "measured"
    NUMBERS = "numbers"
    PAPERS = "papers"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table."""

    name: str
    """As in the header; never changes."""
    written: Written = Written.TEXT
    choices: tuple[str, ...] = ()
    """The words it may hold; empty = any."""
    example: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table of an event folder."""

    name: str
    """File name without its ending."""
    columns: tuple[Column, ...]
    """In the order they are written; the header must name the first two."""
    of: str
    """Where it stands: `event`, `flight` or `logs`."""
    names: tuple[str, ...] = field(init=False)
    """Of the columns."""

    def __post_init__(self) -> None:
        """Gather the names."""
        object.__setattr__(self, "names", tuple(c.name for c in self.columns))


TABLES: Registry[Table] = Registry("table")
"""Every table by name."""


def tables_of(holder: str) -> dict[str, tuple[str, ...]]:
    """Return the columns of all tables of an `event` or a `flight`, by table."""
    return {name: table.names for name, table in TABLES.items() if table.of == holder}


def _column(
    name: str,
    example: str = "",
    written: Written = Written.TEXT,
    choices: Iterable[str] = (),
) -> Column:
    return Column(
        name=name, written=written, choices=tuple(map(str, choices)), example=example
    )


def _table(name: str, of: str, *columns: Column) -> Table:
    return TABLES.declare(name, Table(name=name, of=of, columns=columns))


YES_NO = ("yes", "no")
_TASK = _column("task", "1", Written.TASK)
_PILOT = _column("pilot", "12", Written.PILOT)
_POSITION = (
    _column("easting", "500123.4", Written.NUMBER),
    _column("northing", "5380123.4", Written.NUMBER),
    _column("lat", "48.601800", Written.LATITUDE),
    _column("lon", "66.304000", Written.LONGITUDE),
)
_BY = _column("by", "Ann Example")
_NOTE = _column("note", "wet tape")
_AT = _column("at", "2026-09-12 11:20", Written.MOMENT)
_LENGTHS = ("m", "ft", "cm", "in", "yd", "km", "mi")

PILOTS = _table(
    "pilots",
    "roster",
    _column("number", "12", Written.WHOLE),
    _column("name", "Bo Example"),
    _column("registration", "X-ABCD"),
    _column("class", "hot air"),
    _column("country", "XX"),
    _column("logger", "1A2"),
    _column("enters", "3", Written.WHOLE),
    _column("leaves", "7", Written.WHOLE),
    _column("competes", "yes", choices=YES_NO),
    _column("papers", "2027-03-31", Written.PAPERS),
    _column("waiver", "yes", choices=YES_NO),
)
ABOUT_PEOPLE = PILOTS.names[: PILOTS.names.index("enters")]
"""Columns of the roster that stay from event to event."""
MARKS = _table(
    "marks",
    "flight",
    _TASK,
    _PILOT,
    _column("mark", "A"),
    _column("method", "tape", choices=Method),
    _column("distance", "12.34 m", Written.LENGTH),
    _column("bearing", "045 T", Written.BEARING),
    _column("from", "centre", Written.PLACE),
    _column("distance2", "40 ft 3.5 in", Written.LENGTH),
    _column("from2", "bridge", Written.PLACE),
    _column("side", "L", choices=("L", "R")),
    *_POSITION,
    _column("unit", "ft", choices=_LENGTHS),
    _column("time", "07:41:20", Written.TIME),
    _column("measurer", "team 2"),
    _BY,
    _NOTE,
    _column("settles", "tape read again"),
    _column("between", "Ann Example: tape 12.34; Cy Example: tape 12.43"),
)
DECLARATIONS = _table(
    "declarations",
    "flight",
    _TASK,
    _PILOT,
    _column("goal", "goal 1"),
    _column("height", "600 m", Written.LENGTH),
    _column("time", "07:05", Written.TIME),
    _column("place", "in flight"),
    _BY,
    _NOTE,
)
REPORTS = _table(
    "reports",
    "flight",
    _TASK,
    _PILOT,
    _column("kind", "ground-contact", choices=ReportKind),
    _column("time", "07:32", Written.TIME),
    _column("value", "18 m", Written.MEASURED),
    _column("unit", "m", choices=(*_LENGTHS, "s", "sec", "min", "h")),
    _BY,
    _NOTE,
)
RULINGS = _table(
    "rulings",
    "flight",
    _TASK,
    _PILOT,
    _column("finding", "ground-contact"),
    _column("decision", "set", choices=Decision),
    _column("amount", "100", Written.NUMBER),
    _column("unit", "task points", choices=PenaltyUnit),
    _column("rule", "3.2"),
    _column("reason", "seen by two observers"),
    _BY,
    _AT,
    _column("from", "07:32", Written.TIME),
    _column("to", "07:33", Written.TIME),
    _column("measured", "18.40 m", Written.MEASURED),
)
TARGETS = _table(
    "targets",
    "flight",
    _TASK,
    _column("target", "centre", Written.PLACE),
    _column("event", "opened", choices=TargetEvent),
    _column("time", "07:00", Written.TIME),
    _BY,
    _NOTE,
    *_POSITION,
)
ASSIGNED = _table("assigned", "logs", _column("log", "flight.igc"), _PILOT)
COMPLAINTS = _table(
    "complaints",
    "event",
    _TASK,
    _PILOT,
    _column("number", "1", Written.WHOLE),
    _column("kind", "complaint", choices=Level),
    _column("against", "1", Written.WHOLE),
    _column("text", "my mark was measured from the wrong cross"),
    _BY,
    _AT,
    _NOTE,
    _column("outcome", "upheld", choices=Outcome),
    _column("reason", "measured again"),
    _column("decided_by", "Cy Example"),
    _column("decided_at", "2026-09-12 12:00", Written.MOMENT),
)
NOTES = _table("notes", "event", _AT, _column("text", "launch delayed by fog"), _BY)
"""The time stands first: a line that starts with `#` would be a comment."""
ACCEPTED = _table(
    "accepted",
    "event",
    _column("kind", "no-log"),
    _column("flight", "saturday"),
    _TASK,
    _column("pilots", "12 14", Written.NUMBERS),
    _column("mark", "A"),
    _column("matter", "m0123456789abcde"),
    _column("why", "the logger was lost; the mark is sound"),
    _BY,
    _AT,
)
