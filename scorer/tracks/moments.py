"""Times of a table as people and programs write them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.lines import number
from scorer.tracks.order import DAY_S, Spans, first_day, midnights
from scorer.tracks.times import iso_seconds

MILLISECONDS_FROM = 1e11
"""A number of seconds this great would lie in the year 5138: it counts milliseconds."""
SECONDS_FROM = 1e8
"""A bare number from here (1973) on counts seconds since 1970."""
_CLOCK = re.compile(r"(\d{1,2}):(\d\d)(?::(\d\d(?:\.\d{1,9})?))?(Z?)")
_TIGHT = re.compile(r"(\d\d)(\d\d)(\d\d(?:\.\d{1,9})?)(Z?)")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})(.*)", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Moments:
    """Moments as written; arrays are (N,)."""

    time_s: Array
    """Seconds since 1970; for undated ones seconds since midnight; NaN = unreadable."""
    zoneless: NDArray[np.bool_]
    undated: NDArray[np.bool_]

    def dated(
        self, near: date, time_zone: str | None, periods: Spans, *, local: bool
    ) -> "Moments":
        """Date times of day, as `first_day` says."""
        clock = self.time_s[self.undated]
        running = midnights(clock) * DAY_S + clock
        day = first_day(running, near, time_zone, periods, local=local)
        time_s = self.time_s.copy()
        time_s[self.undated] = day * DAY_S + running
        return replace(self, time_s=time_s, undated=np.zeros_like(self.undated))


def read_moments(texts: Sequence[str], dates: Sequence[str] | None) -> Moments:
    """Read ISO 8601, `12.09.2026 06:41`, seconds or milliseconds since 1970, or a clock.

    A time of day (`6:41`, `06:41:12.5`, `064112`) takes its date from `dates`, if any;
    where that is one date throughout, it is the date of the first fix.
    """
    time_s, zoneless = iso_seconds([_iso(text) for text in texts])
    undated = np.zeros(len(texts), dtype=bool)
    left = np.flatnonzero(np.isnan(time_s))
    for i in left.tolist():
        clock, loose = _clock(texts[i])
        count = number(texts[i])
        if not np.isnan(clock):
            time_s[i], zoneless[i], undated[i] = clock, loose, True
        elif count >= SECONDS_FROM:
            time_s[i] = count / 1000 if count >= MILLISECONDS_FROM else count
    if dates is not None:
        days, _ = iso_seconds([f"{_iso(day)}T00:00:00" for day in dates])
        if len(set(dates)) == 1:  # the day it began
            days[undated] += midnights(time_s[undated]) * DAY_S
        time_s = np.where(undated, days + time_s, time_s)
        undated[:] = False
    return Moments(time_s=time_s, zoneless=zoneless, undated=undated)


def _iso(text: str) -> str:
    """Return `12.09.2026 06:41` and `2026/09/12` in the order of ISO 8601."""
    found = _DOTTED.fullmatch(text)
    if found:
        day, month, year, rest = found.groups()
        return f"{year}-{int(month):02d}-{int(day):02d}{rest}"
    return text.replace("/", "-")


def _clock(text: str) -> tuple[float, bool]:
    """Read a time of day: seconds since midnight (NaN for others), and no zone."""
    found = _CLOCK.fullmatch(text) or _TIGHT.fullmatch(text)
    if not found:
        return np.nan, False
    hours, minutes, seconds = (float(group or 0) for group in found.groups()[:3])
    good = hours < 24 and minutes < 60 and seconds < 61
    return hours * 3600 + minutes * 60 + seconds if good else np.nan, not found[4]
