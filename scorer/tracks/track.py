"""One logger recording, exactly as measured."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from scorer.facts import Fact, Value, count
from scorer.tracks.columns import columns
from scorer.tracks.flown import Array, LogMark
from scorer.tracks.plain import marked


class Datum(StrEnum):
    """What a log's altitudes count from."""

    ELLIPSOID = "ellipsoid"
    """The WGS84 ellipsoid."""
    GEOID = "geoid"
    """Mean sea level."""
    ISA = "isa"
    """The 1013.25 hPa level of the standard atmosphere."""
    UNKNOWN = "unknown"


DOUBTING = frozenset({"doubled-hour-open", "clock-not-set", "zone-assumed"})
"""Repairs after which the times of a log are in doubt."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """What a reader or the cleaning left out, put right or assumed."""

    kind: str
    """Short name, e.g. `duplicate-time`; the catalogue has it as `repair-…`."""
    count: int
    """How many lines, fixes or values it concerns."""
    first_line: int | None
    """Line of the first one in the log; None where lines are not known."""
    values: tuple[tuple[str, Value], ...] = ()
    """What the sentence on it takes beside the count."""

    @property
    def says(self) -> Fact:
        """State it."""
        return Fact(f"repair-{self.kind}", (("count", count(self.count)), *self.values))

    @property
    def title(self) -> str:
        """Return the kind as words, for faults in files."""
        return self.kind.replace("-", " ")


def _absent() -> Array:
    return np.empty(0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Track:
    """One logger recording, exactly as measured.  Cleaning makes a new Track.

    All arrays are (N,), N at least 1; the Track keeps read-only copies.  NaN means not
    recorded and never zero; a channel left empty is filled with NaN.

    Raises ValueError when arrays differ in length, time does not strictly increase or
    a position is not finite: a reader that lets those through has a bug.
    """

    name: str
    """File name as the official received it."""
    sha256: str
    """Hash of the bytes read; ties every later number to this file."""
    format: str
    """`igc`, `gpx`, `nmea` or `csv`."""
    time_s: Array
    """POSIX seconds, UTC, strictly increasing."""
    lat_deg: Array
    """WGS84 latitude, north positive."""
    lon_deg: Array
    """WGS84 longitude, east positive."""
    gnss_alt_m: Array = field(default_factory=_absent)
    """Altitude by satellite, above what `gnss_datum` says."""
    gnss_datum: Datum = Datum.UNKNOWN
    pressure_alt_m: Array = field(default_factory=_absent)
    """Pressure altitude, above what `baro_datum` says (ISA: 1013.25 hPa)."""
    baro_datum: Datum = Datum.ISA
    valid_3d: NDArray[np.bool_]
    """The receiver called the fix three-dimensional."""
    accuracy_m: Array = field(default_factory=_absent)
    """One-sigma horizontal accuracy (radial: root of the summed variances)."""
    vertical_accuracy_m: Array = field(default_factory=_absent)
    """One-sigma accuracy of `gnss_alt_m`."""
    satellites: Array = field(default_factory=_absent)
    """Satellites in use."""
    headers: Mapping[str, str] = field(default_factory=dict)
    """What the log says of itself.  Standard keys: `pilot`, `registration`,
    `competition_id`, `logger` (serial), `recorder` (type), `time_zone`; others as the
    log names them."""
    marks: tuple[LogMark, ...] = ()
    """Moments the pilot marked, in order of time."""
    repairs: tuple[Repair, ...] = ()

    def __post_init__(self) -> None:
        n = len(self.time_s)
        for name, value in columns(self).items():
            own = np.full(n, np.nan) if value.size == 0 else value.copy()
            if own.shape != (n,):
                raise ValueError(f"{name} is {own.shape}, expected ({n},)")
            own.setflags(write=False)
            object.__setattr__(self, name, own)
        if n == 0 or not np.isfinite(self.time_s).all():
            raise ValueError("a track needs at least one fix, and a time for each")
        stuck = marked(~(self.time_s[1:] > self.time_s[:-1]))
        if stuck.size:
            raise ValueError(f"time does not advance after fix {stuck[0]}")
        if not (np.isfinite(self.lat_deg) & np.isfinite(self.lon_deg)).all():
            raise ValueError("a fix has no position")

    def __len__(self) -> int:
        return len(self.time_s)

    def moved(self, by_s: float) -> "Track":
        """Return the track with so much added to its times, its marks' times too."""
        marks = tuple(replace(one, time_s=one.time_s + by_s) for one in self.marks)
        return replace(self, time_s=self.time_s + by_s, marks=marks)

    @property
    def start_s(self) -> float:
        """Time of the first fix, POSIX seconds, UTC."""
        return float(self.time_s[0])

    @property
    def end_s(self) -> float:
        """Time of the last fix, POSIX seconds, UTC."""
        return float(self.time_s[-1])
