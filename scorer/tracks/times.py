"""Written dates and times (ISO 8601, RFC 3339) to POSIX seconds, many at once."""

from collections.abc import Sequence
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.lines import Bytes, Index

_PATTERN = b"0000-00-00T00:00:00"
_DIGITS = np.array([i for i, c in enumerate(_PATTERN) if c == ord("0")])
_SIGNS = [(i, c) for i, c in enumerate(_PATTERN) if c in b"-:"]
_MONTH_DAYS = np.array([0, 31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])


def iso_seconds(texts: Sequence[str]) -> tuple[Array, NDArray[np.bool_]]:
    """Read ISO 8601 moments such as `2026-09-12T06:41:12.5Z`, N texts, as `iso_at`."""
    length = np.fromiter(map(len, texts), dtype=np.int64, count=len(texts))
    data = np.frombuffer("".join(texts).encode("latin-1", "replace"), np.uint8)
    end = np.cumsum(length)
    return iso_at(data, end - length, end)


def iso_at(data: Bytes, start: Index, end: Index) -> tuple[Array, NDArray[np.bool_]]:
    """Read ISO 8601 moments at many places of the same bytes.

    Parameters
    ----------
    data : (B,) uint8
    start, end : (N,) int

    Returns
    -------
    time_s : (N,) float64
        POSIX seconds; NaN where no moment stands.
    zoneless : (N,) bool
        The moment stated no zone and was read as UTC.
    """
    time_s, zoneless = np.full(len(start), np.nan), np.zeros(len(start), dtype=bool)
    length = end - start
    usual = (length >= 19) & (length <= 32)
    for width in np.unique(length[usual]).tolist():
        rows = np.flatnonzero(length == width)
        windows = np.lib.stride_tricks.sliding_window_view(data, width)
        time_s[rows] = _common(windows[start[rows]])
        zoneless[rows] = width == 19
    for i in np.flatnonzero(np.isnan(time_s) & (length > 0) & (length < 60)).tolist():
        text = data[start[i] : end[i]].tobytes().decode("latin-1")
        time_s[i], zoneless[i] = _any(text)
    return time_s, zoneless


def _common(text: Bytes) -> Array:
    """Read rows of one length: nothing, a fraction or `Z` behind the seconds."""
    digit = text - np.uint8(48)
    good = (digit[:, _DIGITS] < 10).all(axis=1)
    for place, sign in _SIGNS:
        good &= text[:, place] == sign
    good &= np.isin(text[:, 10], np.frombuffer(b"Tt ", np.uint8))
    number = digit.astype(np.int64)
    two = {i: number[:, i] * 10 + number[:, i + 1] for i in (0, 2, 5, 8, 11, 14, 17)}
    year, month, day = two[0] * 100 + two[2], two[5], two[8]
    good &= (two[11] < 24) & (two[14] < 60) & (two[17] <= 60) & (year > 0)
    good &= is_date(year, month, day)
    days = days_since_epoch(year, month, day)
    clock = two[11] * 3600 + two[14] * 60 + two[17]
    fraction, whole = _tail(text[:, 19:])
    return np.where(good & whole, days * 86_400.0 + clock + fraction, np.nan)


def _tail(text: Bytes) -> tuple[Array, NDArray[np.bool_]]:
    """Read what stands behind the seconds: the fraction, and whether it is known."""
    n, width = text.shape
    none = np.zeros(n)
    if width == 0:
        return none, np.ones(n, dtype=bool)
    zulu = (text[:, -1] == ord("Z")) | (text[:, -1] == ord("z"))
    if width == 1:
        return none, zulu
    digit = text[:, 1:-1] - np.uint8(48)
    point = (text[:, 0] == ord(".")) | (text[:, 0] == ord(","))
    weights = 10.0 ** -np.arange(1, digit.shape[1] + 1)
    known = point & zulu & (digit < 10).all(axis=1) & (digit.shape[1] > 0)
    return digit.astype(float) @ weights, known


def is_date(year: Index, month: Index, day: Index) -> NDArray[np.bool_]:
    """Mark the dates that exist in the Gregorian calendar, (N,)."""
    leap = (year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0))
    most = _MONTH_DAYS[np.where((month >= 1) & (month <= 12), month, 0)]
    most = most - ((month == 2) & ~leap)
    known: NDArray[np.bool_] = (day >= 1) & (day <= most)
    return known


def days_since_epoch(year: Index, month: Index, day: Index) -> Index:
    """Return days since 1970-01-01 of Gregorian dates, (N,).

    Method: years begin in March, so that the leap day is the last one.
    """
    shifted = year - (month <= 2)
    from_march = (month + 9) % 12
    in_year = (153 * from_march + 2) // 5 + day - 1
    leaps = shifted // 4 - shifted // 100 + shifted // 400
    days: Index = shifted * 365 + leaps + in_year - 719_468
    return days


def _any(text: str) -> tuple[float, bool]:
    """Read a single moment in any ISO form; NaN for anything else."""
    try:
        moment = datetime.fromisoformat(text.strip())
        zoneless = moment.tzinfo is None
        if zoneless:
            moment = moment.replace(tzinfo=UTC)
        return moment.timestamp(), zoneless
    except (ValueError, OverflowError):
        return np.nan, False
