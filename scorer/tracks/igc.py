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

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.facts import day as day_value
from scorer.tracks.fixes import TWO_SIGMA, About, Fixes, Repairs, build_track, no_fix
from scorer.tracks.flown import Array, LogMark
from scorer.tracks.igc_body import FIX_LENGTH, Body
from scorer.tracks.igc_extensions import read_extensions
from scorer.tracks.igc_head import MAX_SPECIAL, IgcHead, read_head
from scorer.tracks.lines import (
    MAX_FIXES,
    Bytes,
    Index,
    Lines,
    decode,
    places,
    split_lines,
)
from scorer.tracks.order import DAY_S, Spans, first_day, midnights
from scorer.tracks.plain import marked
from scorer.tracks.track import Track

_EVENT = re.compile(r"E(\d\d)(\d\d)(\d\d)([A-Z0-9]{3})(.*)")
_KNOWN, _SPECIAL = np.zeros((2, 256), dtype=bool)
_KNOWN[list(b"ABCDEFGHIJKLMNOPQRSTUVWXYZ")] = True
_SPECIAL[list(b"AHIE")] = True


def read_igc(
    blob: Blob,
    *,
    near_date: date | None = None,
    time_zone: str | None = None,
    periods: Spans = (),
) -> Track:
    """Read an IGC log.

    `near_date` (local, in `time_zone`) and `periods` date a log whose header holds no
    date, as `first_day` says.  Raises InputError when no fix is left or no date is known.
    """
    repairs = Repairs()
    lines = split_lines(blob)
    kind = lines.data[lines.start]
    odd = ~_KNOWN[kind]
    repairs.note("garbled-line", lines.number[odd])
    where, body = _find_fixes(blob, lines, kind, repairs)
    if not where.size:
        raise no_fix(blob, "igc", repairs)
    special = marked(_SPECIAL[kind])
    head = read_head(lines, special, kind, repairs)
    fix_lines = lines.take(where)
    extra = read_extensions(blob, fix_lines, where, head.layouts, repairs)
    tenths: Array = np.nan_to_num(extra.get("TDS", np.zeros(1)))
    clock_s: Array = body.clock_s.astype(float) + tenths
    day = _days(
        clock_s, where, head, repairs, _Near(blob, near_date, time_zone, periods)
    )
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


def _find_fixes(
    blob: Blob, lines: Lines, kind: Bytes, repairs: Repairs
) -> tuple[Index, Body]:
    """Return which lines hold a whole B record (A4.1), and their fixed parts."""
    candidate = places(blob, kind == ord("B"), MAX_FIXES, "fixes")
    long = (lines.end - lines.start)[candidate] >= FIX_LENGTH
    whole = candidate[long]
    body = Body.gather(lines.data, lines.start[whole])
    good = body.sound()
    if good.all() and long.all():
        return whole, body
    broken = np.setdiff1d(candidate, whole[good], assume_unique=True)
    repairs.note("garbled-fix", lines.number[broken])
    return whole[good], Body(body.char[:, good])


@dataclass(frozen=True, slots=True)
class _Near:
    blob: Blob
    date: date | None
    time_zone: str | None
    periods: Spans


def _days(
    clock_s: Array, where: Index, head: IgcHead, repairs: Repairs, near: _Near
) -> Array:
    """Return the UTC day of each fix: the date record in force plus midnights passed."""
    if not head.dates:
        passed = midnights(clock_s)
        running = passed * DAY_S + clock_s
        return (_assumed_day(running, repairs, near) + passed).astype(float)
    at = np.array([i for i, _ in head.dates])
    force = (np.searchsorted(at, where) - 1).clip(min=0)
    base = np.array([day for _, day in head.dates])[force]
    # A new date record or recording starts counting midnights anew.
    group = force + np.searchsorted(np.array(head.parts, dtype=np.int64), where)
    first = marked(np.diff(group, prepend=-1))
    if len(first) > MAX_SPECIAL:
        first = first[:1]
    pieces = [midnights(piece) for piece in np.split(clock_s, first[1:])]
    day: Array = (base + np.concatenate(pieces)).astype(float)
    return day


def _assumed_day(running_s: Array, repairs: Repairs, near: _Near) -> int:
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
    day = first_day(running_s, near.date, near.time_zone, near.periods)
    repairs.note("date-assumed", [1], day=day_value(near.date.isoformat()))
    return day


def _fixes(
    line: Index, time_s: Array, part: Index, body: Body, extra: Mapping[str, Array]
) -> Fixes:
    """Turn the fixed part of B records and their extensions into fixes."""
    lat = body.angle("lat", extra.get("LAD", np.zeros(1)))
    lon = body.angle("lon", extra.get("LOD", np.zeros(1)))
    char, absent = body.char, np.empty(0)
    return Fixes(
        line=line,
        time_s=time_s,
        part=part,
        lat_deg=np.where(char[14] == ord("S"), -lat, lat),
        lon_deg=np.where(char[23] == ord("W"), -lon, lon),
        valid_3d=char[24] == ord("A"),
        pressure_alt_m=body.altitude("pressure_alt"),
        gnss_alt_m=body.altitude("gnss_alt"),
        # FXA and VXA are 95 % figures (A7, from memory).
        accuracy_m=extra.get("FXA", absent) / TWO_SIGMA,
        vertical_accuracy_m=extra.get("VXA", absent) / TWO_SIGMA,
        satellites=extra.get("SIU", absent),
    )


def _honest_altitudes(fixes: Fixes, head: IgcHead, repairs: Repairs) -> Fixes:
    """Remove altitudes that the log itself calls absent."""
    gnss, baro = fixes.gnss_alt_m, fixes.pressure_alt_m
    lost = np.isnan(gnss) | np.isnan(baro)
    repairs.note("garbled-altitude", fixes.line[lost])
    flat = ~fixes.valid_3d & (gnss == 0)  # A4.1: V, no satellite altitude
    gnss = np.where(flat, np.nan, gnss)
    repairs.note("no-3d-altitude", fixes.line[flat])
    return replace(
        fixes,
        gnss_alt_m=np.empty(0) if head.no_gnss_alt else gnss,
        pressure_alt_m=np.empty(0) if head.no_baro_alt else baro,
    )


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
