"""Read tracks written as plain tables: CSV with named columns."""

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from io import StringIO
from zoneinfo import ZoneInfo

import numpy as np

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.facts import day as day_value
from scorer.tracks.fixes import UERE_M, About, Fixes, Repairs, build_track
from scorer.tracks.flown import Array
from scorer.tracks.lines import Index, number, printable, refuse_oversize, too_big
from scorer.tracks.local import from_local
from scorer.tracks.moments import Moments, read_moments
from scorer.tracks.order import Spans
from scorer.tracks.track import Track

MAX_COLUMNS = 200
MAX_ROWS = 1_000_000
MAX_ROW_CHARS = 10_000
HEADER_LINES = 50
"""The header row stands within these first lines."""
COLUMNS = {
    "time": "time, timestamp, datetime, date time, utc, time utc, utc time, utc datetime,"
    " gps time, gpstime, time s, unix time, epoch, time gmt, posix",
    "local": "local time, time local, localtime, local datetime, datetime local",
    "date": "date, utc date, date utc, local date, date local, day",
    "lat": "lat, latitude, lat deg, latitude deg",
    "lon": "lon, lng, long, longitude, lon deg, longitude deg",
    "alt": "alt, altitude, ele, elevation, alt m, altitude m, ele m, elevation m, alt msl,"
    " altitude msl, gnss alt, gnss alt m, gnss altitude, gnss altitude m, gps alt,"
    " gps alt m, gps altitude, gps altitude m",
    "alt_ft": "alt ft, altitude ft, altitude feet, ele ft, elevation ft, gps alt ft,"
    " gps altitude ft, gnss alt ft, gnss altitude ft",
    "baro": "pressure alt, pressure alt m, pressure altitude, pressure altitude m, baro,"
    " baro alt, baro alt m, baro altitude, baro altitude m",
    "baro_ft": "pressure alt ft, pressure altitude ft, baro alt ft, baro altitude ft",
    "hdop": "hdop",
    "accuracy": "accuracy, accuracy m, horizontal accuracy, hacc, hacc m",
    "satellites": "satellites, sat, sats, num sat, satellite count",
}
"""Names a column may bear: small letters and digits, other signs as blanks."""
FOOT_M = 0.3048
_NAMES = {
    name.strip(): key for key, names in COLUMNS.items() for name in names.split(",")
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """Rows of a table as texts by column."""

    line: Index
    columns: dict[str, list[str]]
    comma: bool
    """Decimals may have a comma."""

    def numbers(self, key: str) -> Array:
        """Read a column as numbers; empty where the table has none."""
        texts = self.columns.get(key, [])
        if self.comma:
            texts = [text.replace(",", ".") for text in texts]
        return np.array([number(text) for text in texts], dtype=float)


def read_table(
    blob: Blob,
    *,
    near_date: date | None = None,
    time_zone: str | None = None,
    periods: Spans = (),
) -> Track:
    """Read a CSV track whose header row names time, latitude and longitude.

    Comma, semicolon or tab part the columns; with a semicolon or tab, decimals may have
    a comma.  Times are ISO 8601, seconds or milliseconds since 1970, or hours, minutes and
    seconds of `near_date` or of a date column.  A time without a zone is UTC, except in
    a column named for local time, which needs `time_zone` and is read as `from_local`
    says; and where the log would lie in none of the `periods` by it, and does by local
    time.

    Raises InputError when a needed column or every fix is missing.
    """
    refuse_oversize(blob)
    repairs = Repairs()
    table = _table(blob, repairs)
    time_s = _times(blob, table, repairs, (near_date, time_zone, periods))
    gnss, baro = _metres(table, "alt"), _metres(table, "baro")
    accuracy, hdop = table.numbers("accuracy"), table.numbers("hdop")
    n = len(table.line)
    fixes = Fixes(
        line=table.line,
        time_s=time_s,
        part=np.zeros(n, dtype=np.int64),
        lat_deg=table.numbers("lat"),
        lon_deg=table.numbers("lon"),
        valid_3d=~np.isnan(gnss) if gnss.size else np.zeros(n, dtype=bool),
        gnss_alt_m=gnss,
        pressure_alt_m=baro,
        accuracy_m=_positive(accuracy if accuracy.size else hdop * UERE_M),
        satellites=table.numbers("satellites"),
    )
    return build_track(blob, fixes, About(format="csv"), repairs, near_date)


def header_of(text: str) -> tuple[str, dict[str, int]] | None:
    """Return delimiter and column numbers of a header row; None for other lines."""
    for delimiter in ";\t,":
        names = text.split(delimiter)[:MAX_COLUMNS]
        found: dict[str, int] = {}
        for i, name in enumerate(names):
            key = _NAMES.get(_normal(name))
            if key:
                found.setdefault(key, i)
        if {"lat", "lon"} <= found.keys():
            return delimiter, found
    return None


def _normal(name: str) -> str:
    return " ".join(re.sub(r"[^a-z0-9]+", " ", name.casefold()).split())


def _positive(values: Array) -> Array:
    return np.where(values > 0, values, np.nan)


def _table(blob: Blob, repairs: Repairs) -> _Table:
    if blob.data.count(b"\n") + blob.data.count(b"\r") > 3 * MAX_ROWS:
        raise too_big(blob, "more rows", f"at most {MAX_ROWS} rows")
    text = blob.data.decode("utf-8", errors="replace")
    lines = re.split(r"\r*\n|\r", text)
    for skip, line in enumerate(lines[:HEADER_LINES]):
        if not line.startswith("#") and (found := header_of(line[:MAX_ROW_CHARS])):
            return _rows(blob, lines[skip + 1 :], skip + 2, found, repairs)
    raise _fault(
        blob,
        1,
        "header",
        f'no row that names columns ("{printable(lines[0])}")',
        "a header row with time, lat and lon, e.g. time,lat,lon,alt",
    )


def _rows(
    blob: Blob,
    lines: Sequence[str],
    first: int,
    header: tuple[str, dict[str, int]],
    repairs: Repairs,
) -> _Table:
    """Part the rows into columns; lines count from `first`."""
    delimiter, where = header
    if not where.keys() & {"time", "local"}:
        allowed = "a column time, with latitude and longitude beside it"
        raise _fault(blob, first - 1, "header", "no column of times", allowed)
    if len(lines) > MAX_ROWS:
        raise too_big(blob, f"{len(lines)} rows", f"at most {MAX_ROWS} rows")
    kept: list[int] = []
    garbled: list[int] = []
    columns: dict[str, list[str]] = {key: [] for key in where}
    last = max(where.values())
    for line, text in enumerate(lines, first):
        if not text.strip() or text.startswith("#"):
            continue
        cells = _cells(text, delimiter)
        if len(cells) <= last:
            garbled.append(line)
            continue
        kept.append(line)
        for key, i in where.items():
            columns[key].append(cells[i].strip())
    repairs.note("garbled-line", garbled)
    return _Table(
        line=np.array(kept, dtype=np.int64), columns=columns, comma=delimiter != ","
    )


def _cells(text: str, delimiter: str) -> list[str]:
    """Part one row; empty when it cannot be parted."""
    if len(text) > MAX_ROW_CHARS:
        return []
    if '"' not in text:
        return text.split(delimiter)
    try:
        return next(csv.reader(StringIO(text), delimiter=delimiter), [])
    except csv.Error:
        return []


def _metres(table: _Table, key: str) -> Array:
    metres = table.numbers(key)
    return metres if metres.size else table.numbers(f"{key}_ft") * FOOT_M


def _times(
    blob: Blob,
    table: _Table,
    repairs: Repairs,
    near: tuple[date | None, str | None, Spans],
) -> Array:
    near_date, time_zone, periods = near
    local = "time" not in table.columns
    if local and time_zone is None:
        allowed = "times in UTC, or an event with a time zone"
        raise _fault(blob, None, "local time", "local times", allowed)
    texts = table.columns["local" if local else "time"]
    moments = read_moments(texts, table.columns.get("date"))
    if moments.undated.any():
        if near_date is None:
            row = int(np.argmax(moments.undated))
            allowed = "times with their date, or a column date"
            raise _fault(blob, int(table.line[row]), "time", f'"{texts[row]}"', allowed)
        lines = table.line[moments.undated]
        repairs.note("date-assumed", lines, day=day_value(near_date.isoformat()))

    def read(*, as_local: bool, notes: Repairs) -> Array:
        own = moments
        if near_date is not None and own.undated.any():
            own = own.dated(near_date, time_zone, periods, local=as_local)
        if not as_local:
            return own.time_s
        zone = ZoneInfo(time_zone or "UTC")
        return _off_local_clocks(table, own, zone, periods, notes)

    time_s = read(as_local=local, notes=repairs)
    loose = table.line[moments.zoneless]
    if local or not loose.size:
        return time_s
    if time_zone is not None and periods and not _covers(time_s, periods):
        further = Repairs()
        as_local = read(as_local=True, notes=further)
        if _covers(as_local, periods):
            repairs.note("zone-assumed", loose)
            repairs.found += further.found
            return as_local
    repairs.note("no-zone", loose)
    return time_s


def _covers(time_s: Array, periods: Spans) -> bool:
    return any(((time_s >= s) & (time_s <= e)).any() for s, e in periods)


def _off_local_clocks(
    table: _Table, moments: Moments, zone: ZoneInfo, periods: Spans, repairs: Repairs
) -> Array:
    loose = moments.zoneless
    read = from_local(moments.time_s[loose], zone, periods)
    lines = table.line[loose]
    repairs.note("doubled-hour", lines[read.told])
    repairs.note("doubled-hour-open", lines[read.doubtful])
    repairs.note("clock-not-set", lines[read.kept])
    time_s = moments.time_s.copy()
    time_s[loose] = read.time_s
    return time_s


def _fault(
    blob: Blob, line: int | None, field: str | None, found: str, allowed: str
) -> InputError:
    fault = Fault(where=blob.name, line=line, field=field, found=found, allowed=allowed)
    return InputError([fault])
