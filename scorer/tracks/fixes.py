"""From the fixes a reader found, in file order, to a Track: the part all formats share."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.facts import Value, moment, span
from scorer.tracks.columns import rows
from scorer.tracks.flown import Array, LogMark
from scorer.tracks.order import (
    DAY_S,
    Index,
    longest_advance,
    lost_weeks,
)
from scorer.tracks.plain import median
from scorer.tracks.track import Datum, Repair, Track

EARLIEST_S, LATEST_S = 0.0, 4_102_444_800.0
"""1970 and 2100: times outside are no times of a flight."""
TWO_SIGMA = 2.0
UERE_M = 4.0
"""One-sigma range error that turns a dilution of precision into metres: half of 7.8 m
(95 %), GPS Standard Positioning Service Performance Standard 2008, table 3.4-1; from
memory."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fixes:
    """Fixes in file order, before anything is left out; arrays are (N,)."""

    line: Index
    time_s: Array
    lat_deg: Array
    lon_deg: Array
    valid_3d: NDArray[np.bool_]
    part: Index
    """Number of the recording, where a file holds several."""
    gnss_alt_m: Array = field(default_factory=lambda: np.empty(0))
    pressure_alt_m: Array = field(default_factory=lambda: np.empty(0))
    accuracy_m: Array = field(default_factory=lambda: np.empty(0))
    vertical_accuracy_m: Array = field(default_factory=lambda: np.empty(0))
    satellites: Array = field(default_factory=lambda: np.empty(0))

    def __len__(self) -> int:
        return len(self.time_s)

    def take(self, which: NDArray[np.bool_] | Index) -> "Fixes":
        """Select some of the fixes."""
        return rows(self, which)


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a log holds beside its fixes."""

    format: str
    gnss_datum: Datum = Datum.UNKNOWN
    baro_datum: Datum = Datum.ISA
    headers: Mapping[str, str] = field(default_factory=dict)
    marks: tuple[LogMark, ...] = ()


class Repairs:
    """Collects what is left out or put right while a log is read."""

    def __init__(self) -> None:
        self.found: list[Repair] = []

    def note(self, kind: str, lines: Iterable[int] | Index, **values: Value) -> None:
        """Record a repair at some lines of the log; nothing for no lines."""
        numbers = np.asarray(lines, dtype=np.int64)
        if numbers.size:
            first = int(numbers.min())
            self.found.append(
                Repair(
                    kind=kind,
                    count=int(numbers.size),
                    first_line=first,
                    values=tuple(values.items()),
                )
            )

    def drop(self, fixes: Fixes, bad: NDArray[np.bool_], kind: str) -> Fixes:
        """Leave the bad fixes out and record that."""
        if not bad.any():
            return fixes
        self.note(kind, fixes.line[bad])
        return fixes.take(~bad)


def build_track(
    blob: Blob, fixes: Fixes, about: About, repairs: Repairs, near: date | None
) -> Track:
    """Put fixes in order of time, leave out the impossible and make a Track of them.

    Raises InputError when no fix is left.
    """
    fixes = _possible(fixes, repairs)
    if not len(fixes):
        raise no_fix(blob, about.format, repairs)
    fixes, shift_s = _right_week(fixes, repairs, near)
    fixes = _advancing(_parts_in_order(fixes, repairs), repairs)
    fixes = _present(fixes, repairs)
    marks = tuple(replace(m, time_s=m.time_s + shift_s) for m in about.marks)
    return Track(
        name=blob.name,
        sha256=blob.sha256,
        format=about.format,
        gnss_datum=about.gnss_datum,
        baro_datum=about.baro_datum,
        headers=about.headers,
        marks=_placed(sorted(marks, key=lambda m: m.time_s), fixes),
        repairs=tuple(repairs.found),
        **{k: getattr(fixes, k) for k in _CHANNELS},
    )


_CHANNELS = (
    "time_s",
    "lat_deg",
    "lon_deg",
    "valid_3d",
    "gnss_alt_m",
    "pressure_alt_m",
    "accuracy_m",
    "vertical_accuracy_m",
    "satellites",
)


def no_fix(blob: Blob, kind: str, repairs: Repairs) -> InputError:
    """Return the error for a log in which no usable fix is left."""
    lost = "; ".join(f"{r.count} × {r.title}" for r in repairs.found)
    first = min((r.first_line for r in repairs.found if r.first_line), default=None)
    return InputError(
        [
            Fault(
                where=blob.name,
                line=first,
                found=f"no usable fix ({lost})" if lost else "no fix",
                allowed=f"a log ({kind.upper()}) with at least one fix",
                remedy="Ask the pilot for the log again",
            )
        ]
    )


def _possible(fixes: Fixes, repairs: Repairs) -> Fixes:
    time = fixes.time_s
    fixes = repairs.drop(fixes, np.isnan(time), "no-time")
    time = fixes.time_s
    odd = ~((time >= EARLIEST_S) & (time < LATEST_S))
    fixes = repairs.drop(fixes, odd, "bad-time")
    inside = (np.abs(fixes.lat_deg) <= 90) & (np.abs(fixes.lon_deg) <= 180)
    return repairs.drop(fixes, ~inside, "bad-position")


def _right_week(
    fixes: Fixes, repairs: Repairs, near: date | None
) -> tuple[Fixes, float]:
    if near is None:
        return fixes, 0.0
    days = lost_weeks(int(median(fixes.time_s) // DAY_S), near)
    if not days:
        return fixes, 0.0
    dated, added = moment(float(fixes.time_s[0])), span(days * DAY_S)
    repairs.note("week-rollover", fixes.line, dated=dated, added=added)
    return replace(fixes, time_s=fixes.time_s + days * DAY_S), days * DAY_S


def _parts_in_order(fixes: Fixes, repairs: Repairs) -> Fixes:
    """Sort whole recordings by their first time; within one, keep the file's order."""
    if (fixes.part == fixes.part[0]).all():
        return fixes
    _, first, which = np.unique(fixes.part, return_index=True, return_inverse=True)
    starts = fixes.time_s[first]
    if (np.diff(starts) >= 0).all():
        return fixes
    order = np.argsort(starts[which], kind="stable")
    late = first[1:][np.diff(starts) < 0]
    repairs.note("parts-reordered", fixes.line[late])
    return fixes.take(order)


def _advancing(fixes: Fixes, repairs: Repairs) -> Fixes:
    again = np.diff(fixes.time_s, prepend=-np.inf) == 0
    fixes = repairs.drop(fixes, again, "duplicate-time")
    return repairs.drop(fixes, ~longest_advance(fixes.time_s), "backward-time")


def _present(fixes: Fixes, repairs: Repairs) -> Fixes:
    """Turn altitude channels that are zero throughout into absent ones."""
    kept = []
    for what, channel in (
        ("satellite", fixes.gnss_alt_m),
        ("pressure", fixes.pressure_alt_m),
    ):
        known = channel[~np.isnan(channel)]
        absent = known.size > 1 and not known.any()
        if absent:
            repairs.note(f"no-{what}-altitude", fixes.line)
        kept.append(np.empty(0) if absent else channel)
    return replace(fixes, gnss_alt_m=kept[0], pressure_alt_m=kept[1])


def _placed(marks: list[LogMark], fixes: Fixes) -> tuple[LogMark, ...]:
    """Give marks without a position that of the fix of the same moment."""
    times = np.array([m.time_s for m in marks])
    at = np.searchsorted(fixes.time_s, times).clip(max=len(fixes) - 1)
    alt = fixes.gnss_alt_m
    placed = []
    for mark, i in zip(marks, at.tolist(), strict=True):
        if mark.lat_deg is None and fixes.time_s[i] == mark.time_s:
            height = float(alt[i]) if alt.size and not np.isnan(alt[i]) else None
            lat, lon = float(fixes.lat_deg[i]), float(fixes.lon_deg[i])
            placed.append(replace(mark, lat_deg=lat, lon_deg=lon, alt_m=height))
        else:
            placed.append(mark)
    return tuple(placed)
