"""Read IGC flight-recorder files.

Source: FAI IGC, Technical specification for GNSS flight recorders, appendix A (the data
file standard): A3.1 record types, A4.1 B record, A3.3 to A3.5 headers, A7 three-letter
codes.  Section numbers from memory.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.tracks.fixes import TWO_SIGMA, About, Fixes, Repairs, build_track, no_fix
from scorer.tracks.flown import Array, LogMark
from scorer.tracks.igc_extensions import FIX_LENGTH, read_extensions
from scorer.tracks.igc_head import MAX_SPECIAL, Head, read_head
from scorer.tracks.lines import Bytes, Index, Lines, decode, split_lines
from scorer.tracks.order import DAY_S, guess_day, midnights
from scorer.tracks.track import Track

_EVENT = re.compile(r"E(\d\d)(\d\d)(\d\d)([A-Z0-9]{3})(.*)")
_KNOWN = np.zeros(256, dtype=bool)
_KNOWN[[ord(c) for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"]] = True
_DIGITS = np.array([*range(1, 14), *range(15, 23)])


def read_igc(
    blob: Blob, *, near_date: date | None = None, time_zone: str | None = None
) -> Track:
    """Read an IGC log.

    `near_date` (local, in `time_zone`) dates a log whose header holds no date.  Raises
    InputError when no fix is left or no date is known.
    """
    repairs = Repairs()
    lines = split_lines(blob)
    kind = lines.data[lines.start]
    odd = ~_KNOWN[kind]
    repairs.note("garbled-line", lines.number[odd], "unreadable line left out")
    where = _fix_lines(lines, kind, repairs)
    if not where.size:
        raise no_fix(blob, "igc", repairs)
    special = np.flatnonzero(np.isin(kind, np.frombuffer(b"AHIE", np.uint8)))
    head = read_head(lines, special, kind, repairs)
    fix_lines = lines.take(where)
    body = _body(lines.data, fix_lines.start)
    extra = read_extensions(blob, fix_lines, where, head.layouts, repairs)
    clock_s = _number(body[:, 1:7], (36000, 3600, 600, 60, 10, 1)).astype(float)
    clock_s += np.nan_to_num(extra.get("TDS", np.zeros(1)))
    day = _days(clock_s, where, head, repairs, _Near(blob, near_date, time_zone))
    time_s = day * DAY_S + clock_s
    part = np.searchsorted(np.array(head.parts, dtype=np.int64), where)
    fixes = _fixes(fix_lines.number, time_s, part, body, extra)
    about = About(
        format="igc",
        gnss_datum=head.gnss_datum,
        baro_datum=head.baro_datum,
        headers=head.headers,
        marks=_marks(head.events, where, time_s),
    )
    fixes = _honest_altitudes(fixes, head, repairs)
    return build_track(blob, fixes, about, repairs, near_date)


def _fix_lines(lines: Lines, kind: Bytes, repairs: Repairs) -> Index:
    """Return the indices of the lines that hold a whole B record (A4.1)."""
    candidate = np.flatnonzero(kind == ord("B"))
    long = (lines.end - lines.start)[candidate] >= FIX_LENGTH
    whole = candidate[long]
    body = _body(lines.data, lines.start[whole])
    good = (body[:, _DIGITS] - np.uint8(48) < 10).all(axis=1)
    good &= np.isin(body[:, 14], (ord("N"), ord("S")))
    good &= np.isin(body[:, 23], (ord("E"), ord("W")))
    good &= np.isin(body[:, 24], (ord("A"), ord("V")))
    # Tens of hours, minutes, seconds and of both minutes of arc.
    good &= _number(body[:, 1:3], (10, 1)) < 24
    good &= (body[:, [3, 5, 9, 18]] < ord("6")).all(axis=1)
    broken = np.setdiff1d(candidate, whole[good], assume_unique=True)
    repairs.note("garbled-fix", lines.number[broken], "unreadable fix left out")
    return whole[good]


def _body(data: Bytes, start: Index) -> Bytes:
    """Return the fixed part of B records as (N, 35) bytes."""
    if not start.size:
        return np.empty((0, FIX_LENGTH), dtype=np.uint8)
    return np.lib.stride_tricks.sliding_window_view(data, FIX_LENGTH)[start]


def _number(digits: NDArray[np.uint8], weights: tuple[int, ...]) -> NDArray[np.int64]:
    """Sum the digits of each row by their weights."""
    total = np.zeros(len(digits), dtype=np.int64)
    for column, weight in enumerate(weights):
        total += (digits[:, column].astype(np.int64) - 48) * weight
    return total


def _altitude(field: Bytes) -> Array:
    """Read five characters, the first of which may be a minus; NaN for anything else."""
    minus = field[:, 0] == ord("-")
    digit = field - np.uint8(48) < 10
    digit[:, 0] |= minus
    value: Array = _number(field[:, 1:], (1000, 100, 10, 1)).astype(float)
    value += np.where(minus, 0, (field[:, 0].astype(float) - 48) * 10_000)
    value[minus] *= -1
    value[~digit.all(axis=1)] = np.nan
    return value


@dataclass(frozen=True, slots=True)
class _Near:
    blob: Blob
    date: date | None
    time_zone: str | None


def _days(
    clock_s: Array, where: Index, head: Head, repairs: Repairs, near: _Near
) -> Array:
    """Return the UTC day of each fix: the date record in force plus midnights passed."""
    if head.dates:
        at = np.array([i for i, _ in head.dates])
        force = (np.searchsorted(at, where) - 1).clip(min=0)
        base = np.array([day for _, day in head.dates])[force]
    else:
        force = np.zeros(len(where), dtype=np.int64)
        base = np.full(len(where), _assumed_day(clock_s, repairs, near))
    # A new date record or recording starts counting midnights anew.
    group = force + np.searchsorted(np.array(head.parts, dtype=np.int64), where)
    first = np.flatnonzero(np.diff(group, prepend=-1))
    if len(first) > MAX_SPECIAL:
        first = first[:1]
    passed = [midnights(piece) for piece in np.split(clock_s, first[1:])]
    day: Array = (base + np.concatenate(passed)).astype(float)
    return day


def _assumed_day(clock_s: Array, repairs: Repairs, near: _Near) -> int:
    if near.date is None:
        raise InputError(
            [
                Fault(
                    where=near.blob.name,
                    field="HFDTE",
                    found="no date record",
                    allowed="HFDTEDDMMYY before the fixes",
                    remedy="Put the log in a flight that has a date",
                )
            ]
        )
    day = guess_day(near.date, float(np.median(clock_s)), near.time_zone)
    text = f"no date in the log; dated by the flight, {near.date}"
    repairs.note("date-assumed", [1], text)
    return day


def _fixes(
    line: Index, time_s: Array, part: Index, body: Bytes, extra: Mapping[str, Array]
) -> Fixes:
    """Turn the fixed part of B records and their extensions into fixes."""
    zero = np.zeros(1)
    lat = (
        _number(body[:, 7:9], (10, 1))
        + (
            _number(body[:, 9:14], (10_000, 1000, 100, 10, 1)) / 1000
            + np.nan_to_num(extra.get("LAD", zero))
        )
        / 60
    )
    lon = (
        _number(body[:, 15:18], (100, 10, 1))
        + (
            _number(body[:, 18:23], (10_000, 1000, 100, 10, 1)) / 1000
            + np.nan_to_num(extra.get("LOD", zero))
        )
        / 60
    )
    absent = np.empty(0)
    return Fixes(
        line=line,
        time_s=time_s,
        part=part,
        lat_deg=np.where(body[:, 14] == ord("S"), -lat, lat),
        lon_deg=np.where(body[:, 23] == ord("W"), -lon, lon),
        valid_3d=body[:, 24] == ord("A"),
        pressure_alt_m=_altitude(body[:, 25:30]),
        gnss_alt_m=_altitude(body[:, 30:35]),
        # FXA and VXA are 95 % figures (A7, from memory).
        accuracy_m=extra.get("FXA", absent) / TWO_SIGMA,
        vertical_accuracy_m=extra.get("VXA", absent) / TWO_SIGMA,
        satellites=extra.get("SIU", absent),
    )


def _honest_altitudes(fixes: Fixes, head: Head, repairs: Repairs) -> Fixes:
    """Remove altitudes that the log itself calls absent."""
    gnss, baro = fixes.gnss_alt_m.copy(), fixes.pressure_alt_m.copy()
    lost = np.isnan(gnss) | np.isnan(baro)
    repairs.note("garbled-altitude", fixes.line[lost], "unreadable altitude left out")
    flat = ~fixes.valid_3d & (gnss == 0)  # A4.1: V, no satellite altitude
    gnss[flat] = np.nan
    repairs.note("no-3d-altitude", fixes.line[flat], "altitude 0 of a 2D fix left out")
    if head.no_gnss_alt:
        gnss[:] = np.nan
    if head.no_baro_alt:
        baro[:] = np.nan
    return replace(fixes, gnss_alt_m=gnss, pressure_alt_m=baro)


def _marks(
    events: list[tuple[int, str]], where: Index, time_s: Array
) -> tuple[LogMark, ...]:
    """Turn pilot events (E records with code PEV) into marks."""
    marks = []
    for i, text in events:
        found = _EVENT.match(text)
        if not found or found[4] != "PEV":
            continue
        near = time_s[max(int(np.searchsorted(where, i)) - 1, 0)]
        clock = int(found[1]) * 3600 + int(found[2]) * 60 + int(found[3])
        moment = near // DAY_S * DAY_S + clock
        moment -= DAY_S * round((moment - near) / DAY_S)
        marks.append(LogMark(time_s=float(moment), label=decode(found[5].encode())))
    return tuple(marks)
