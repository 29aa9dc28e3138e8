"""An event as entered: plain fields, before anything is understood.

The folder reader and the ledger both produce a `RawEvent`; `scorer.event.build` is the
only way from there to an `Event`.  So both accept the same spellings, and report faults
in the same words.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from scorer.event.matter import Matter
from scorer.event.model import Blob, Origin


@dataclass(frozen=True, slots=True, kw_only=True)
class RawRow:
    """One line of a table as entered: column name to text, empty = not given."""

    fields: Mapping[str, str]
    origin: Origin = Origin()


@dataclass(frozen=True, slots=True, kw_only=True)
class RawLog:
    """A log file, and the number of the pilot it was assigned to by hand, if any."""

    blob: Blob
    pilot: int | None = None
    problem: str = ""
    """Why the content could not be taken over, if so; the blob is then empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RawFlight:
    """One flight: the content of flight.toml, the rows of its tables, its logs."""

    id: str
    settings: Mapping[str, Any]
    """As parsed from flight.toml (date, qnh_hpa, task = [...], ...)."""
    marks: tuple[RawRow, ...] = ()
    declarations: tuple[RawRow, ...] = ()
    reports: tuple[RawRow, ...] = ()
    rulings: tuple[RawRow, ...] = ()
    targets: tuple[RawRow, ...] = ()
    logs: tuple[RawLog, ...] = ()
    air: Mapping[str, Any] | None = None
    """The air its logs are read with, as set down with a publication."""
    origins: Mapping[str, Origin] = field(default_factory=dict)
    """Where settings stand, by dotted path (`task.0.kind`); `""` = the file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RawEvent:
    """A whole event as entered."""

    settings: Mapping[str, Any]
    """As parsed from event.toml: format, event, rules, ..."""
    pilots: tuple[RawRow, ...] = ()
    places: tuple[Mapping[str, Any], ...] = ()
    """GeoJSON features as parsed."""
    flights: tuple[RawFlight, ...] = ()
    terrain: Blob | None = None
    complaints: tuple[RawRow, ...] = ()
    """Complaints and protests with their outcomes; no score depends on them."""
    notes: tuple[RawRow, ...] = ()
    """Notes that change no result."""
    matters: tuple[Matter, ...] = ()
    """What the entries by themselves leave open: clashes of desks, entries set aside."""
    accepted: tuple[RawRow, ...] = ()
    """Open matters that an official accepted as they stand."""
    origins: Mapping[str, Origin] = field(default_factory=dict)
    """Where settings stand, by dotted path (`rules.floor.height`), `""` = the file;
    `pilots` and `places` for those files, `places.0` for one place of a ledger."""
