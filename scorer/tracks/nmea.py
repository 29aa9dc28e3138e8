"""Read NMEA 0183 logs: GGA and RMC, dated by RMC or ZDA, with GST and GSA beside them.

Source: NMEA 0183, the fields of GGA, GSA, GST, RMC and ZDA; heights of GGA count from the
geoid.
"""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.facts import day as day_value
from scorer.tracks.fixes import UERE_M, About, Fixes, Repairs, build_track, no_fix
from scorer.tracks.flown import Array
from scorer.tracks.lines import Index
from scorer.tracks.order import DAY_S, Spans, first_day, midnights
from scorer.tracks.sentences import TYPES, Sentences, find_sentences
from scorer.tracks.times import days_since_epoch, is_date
from scorer.tracks.track import Datum, Track

_MEASURED = np.isin(np.arange(256), [ord(c) for c in "123459"])
"""GGA quality of a measured fix: not 0 none, 6 estimated, 7 keyed in, 8 simulated."""
_UNMEASURED_MODES = np.frombuffer(b"NEMS", np.uint8)
"""RMC modes: none, estimated, manual, simulated."""


def read_nmea(
    blob: Blob,
    *,
    near_date: date | None = None,
    time_zone: str | None = None,
    periods: Spans = (),
) -> Track:
    """Read an NMEA 0183 log.

    `near_date` (local, in `time_zone`) and `periods` date a log in which no sentence
    holds a date, as `first_day` says.  Raises InputError when no fix is left or no date
    is known.
    """
    repairs = Repairs()
    sentences = find_sentences(blob, repairs)
    epochs = _epochs(sentences)
    measured = _measured(epochs)
    repairs.note("no-position", epochs.line[~measured])
    if not measured.any():
        raise no_fix(blob, "nmea", repairs)
    time_s = _dated(epochs)
    if np.isnan(time_s).all():
        running = _running(epochs.clock_s)
        if near_date is None:
            raise _no_date(blob)
        repairs.note("date-assumed", [1], day=day_value(near_date.isoformat()))
        known = running[measured]
        time_s = running + DAY_S * first_day(known, near_date, time_zone, periods)
    alt = epochs.alt_m
    fixes = Fixes(
        line=epochs.line,
        time_s=time_s,
        part=np.zeros(len(time_s), dtype=np.int64),
        lat_deg=epochs.lat_deg,
        lon_deg=epochs.lon_deg,
        valid_3d=~np.isnan(alt) & ~epochs.flat,
        gnss_alt_m=alt,
        accuracy_m=epochs.accuracy_m,
        vertical_accuracy_m=epochs.vertical_accuracy_m,
        satellites=epochs.satellites,
    ).take(measured)
    about = About(format="nmea", gnss_datum=Datum.GEOID)
    return build_track(blob, fixes, about, repairs, near_date)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Epochs:
    """What the sentences of one moment say together; arrays are (N,)."""

    line: Index
    clock_s: Array
    """Seconds since midnight UTC."""
    day: Array
    """Days since 1970; NaN where no sentence of the moment dates it."""
    lat_deg: Array
    lon_deg: Array
    alt_m: Array
    warned: NDArray[np.bool_]
    """A sentence says that there is no measured position."""
    flat: NDArray[np.bool_]
    accuracy_m: Array
    vertical_accuracy_m: Array
    satellites: Array


def _measured(epochs: _Epochs) -> NDArray[np.bool_]:
    placed = ~(np.isnan(epochs.lat_deg) | np.isnan(epochs.lon_deg))
    return placed & ~epochs.warned & ~np.isnan(epochs.clock_s)


def _epochs(sentences: Sentences) -> _Epochs:
    """Join neighbouring sentences of the same time of day."""
    timed = sentences.take(sentences.kind != TYPES.index("GSA"))
    clock = _clock(timed.number(1))
    new = np.diff(clock, prepend=np.nan) != 0  # NaN counts as new
    epoch = np.cumsum(new) - 1
    n = int(new.sum())
    gather = _Gather(n, timed, epoch)
    gga, rmc, gst = gather.of("GGA"), gather.of("RMC"), gather.of("GST")
    status, mode = rmc.letter(2), rmc.letter(12)
    warned = gga.letter(6) > 0
    warned &= ~_MEASURED[gga.letter(6)]
    warned |= (status != 0) & (status != ord("A"))
    warned |= np.isin(mode, _UNMEASURED_MODES)
    lat, lon = _angle(gga, 2), _angle(gga, 4)
    unplaced = np.isnan(lat) | np.isnan(lon)
    if unplaced.any():
        lat = np.where(unplaced, _angle(rmc, 3), lat)
        lon = np.where(unplaced, _angle(rmc, 5), lon)
    hdop, sigma = gga.number(8), np.hypot(gst.number(6), gst.number(7))
    dop_m = np.where(hdop > 0, hdop, np.nan) * UERE_M
    return _Epochs(
        line=timed.line[new],
        clock_s=clock[new],
        day=_day(rmc, gather.of("ZDA"), warned),
        lat_deg=lat,
        lon_deg=lon,
        alt_m=gga.number(9),
        warned=warned,
        flat=_flat(sentences, timed, epoch, n),
        accuracy_m=np.where(np.isnan(sigma), dop_m, sigma),
        vertical_accuracy_m=gst.number(8),
        satellites=gga.number(7),
    )


class _Column:
    """One type of sentence, at most one for each of N moments."""

    def __init__(self, n: int, sentences: Sentences, epoch: Index) -> None:
        self._n, self._epoch, self._sentences = n, epoch, sentences

    def number(self, k: int) -> Array:
        """Return field k, (N,); NaN where there is none."""
        out = np.full(self._n, np.nan)
        out[self._epoch[::-1]] = self._sentences.number(k)[::-1]  # the first one stays
        return out

    def letter(self, k: int) -> NDArray[np.uint8]:
        """Return the first character of field k, (N,); 0 where there is none."""
        out = np.zeros(self._n, dtype=np.uint8)
        out[self._epoch[::-1]] = self._sentences.letter(k)[::-1]
        return out


class _Gather:
    """Hands out the types of sentences by moment."""

    def __init__(self, n: int, sentences: Sentences, epoch: Index) -> None:
        self._n, self._sentences, self._epoch = n, sentences, epoch

    def of(self, kind: str) -> _Column:
        """Return the sentences of a type."""
        which = self._sentences.kind == TYPES.index(kind)
        return _Column(self._n, self._sentences.take(which), self._epoch[which])


def _clock(written: Array) -> Array:
    """Turn hhmmss.sss into seconds since midnight; NaN where that is no time."""
    hours, rest = np.divmod(written, 10_000)
    minutes, seconds = np.divmod(rest, 100)
    good = (hours < 24) & (minutes < 60) & (seconds < 61) & (written >= 0)
    clock = np.round(hours * 3600 + minutes * 60 + seconds, 6)
    return np.where(good, clock, np.nan)


def _angle(column: _Column, k: int) -> Array:
    """Turn dddmm.mmmm in field k and the letter behind it into degrees."""
    degrees, minutes = np.divmod(column.number(k), 100)
    letter = column.letter(k + 1)
    south = (letter == ord("S")) | (letter == ord("W"))
    known = south | (letter == ord("N")) | (letter == ord("E"))
    value = np.where(minutes < 60, degrees + minutes / 60, np.nan)
    return np.where(known, np.where(south, -value, value), np.nan)


def _day(rmc: _Column, zda: _Column, warned: NDArray[np.bool_]) -> Array:
    """Return the date of each moment: RMC's ddmmyy, else ZDA's; NaN without one.

    Receivers invent dates before they have a fix, so only moments with one count.
    """
    short, own = np.unique(rmc.number(9), return_inverse=True)  # few dates in a log
    day, rest = np.divmod(short, 10_000)
    month, year = np.divmod(rest, 100)
    year += np.where(year < 80, 2000, 1900)
    found = _epoch_days(year, month, day)[own]
    if np.isnan(found).any():
        from_zda = _epoch_days(zda.number(4), zda.number(3), zda.number(2))
        found = np.where(np.isnan(found), from_zda, found)
    return np.where(warned, np.nan, found)


def _epoch_days(year: Array, month: Array, day: Array) -> Array:
    known = ~(np.isnan(year) | np.isnan(month) | np.isnan(day))
    parts = [np.where(known, x, 0).astype(np.int64) for x in (year, month, day)]
    good = known & is_date(*parts) & (parts[0] > 0) & (parts[0] < 10_000)
    return np.where(good, days_since_epoch(*parts), np.nan)


def _flat(
    sentences: Sentences, timed: Sentences, epoch: Index, n: int
) -> NDArray[np.bool_]:
    """Mark the moments whose GSA, which follows and bears no time, says 2D."""
    gsa = sentences.of("GSA")
    at = np.searchsorted(timed.start, gsa.start) - 1
    flat = np.zeros(n, dtype=bool)
    flat[epoch[at[(at >= 0) & (gsa.letter(2) == ord("2"))]]] = True
    return flat


def _dated(epochs: _Epochs) -> Array:
    """Return POSIX seconds; a moment without a date takes that of the nearest dated one.

    The one before counts, for the first moments the one after; midnight between them is
    seen by the time of day.  All NaN where no sentence has a date.
    """
    day, clock = epochs.day, epochs.clock_s
    dated = np.flatnonzero(~np.isnan(day) & ~np.isnan(clock))
    if not dated.size:
        return np.full(len(day), np.nan)
    own = np.arange(len(day))
    near = dated[(np.searchsorted(dated, own, side="right") - 1).clip(min=0)]
    moment = day[near] * DAY_S + clock
    known = day[near] * DAY_S + clock[near]
    time_s: Array = moment - DAY_S * np.round((moment - known) / DAY_S)
    return time_s


def _running(clock: Array) -> Array:
    """Count the seconds since the first midnight on past the next ones, (N,)."""
    timed = ~np.isnan(clock)
    running = clock.copy()
    running[timed] += midnights(clock[timed]) * DAY_S
    return running


def _no_date(blob: Blob) -> InputError:
    return InputError(
        [
            Fault(
                where=blob.name,
                found="no sentence with a date",
                allowed="RMC or ZDA sentences beside the fixes",
                remedy="Put the log in a flight that has a date",
            )
        ]
    )
