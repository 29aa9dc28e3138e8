"""Logs that show local clocks: their way through a night in which the clocks change."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from scorer.tracks.flown import Array
from scorer.tracks.order import Spans

STEP_S = 60.0
"""Offsets of zones change at whole minutes: St John's did so at one past midnight."""
BACK_S = 60.0
"""A clock that goes back by more than this, within the hour that comes twice, was set."""
PAUSE_S = 300.0
"""A longer pause may hide that the clock was set."""

Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Local:
    """Moments read off local clocks; arrays are (N,)."""

    time_s: Array
    """POSIX seconds, UTC; NaN where there is none."""
    told: Mask
    """Of the hour that comes twice: what came before and after tells which."""
    doubtful: Mask
    """The same, and nothing tells: the first hour counts."""
    kept: Mask
    """After a change of the clocks that this clock did not follow."""


def from_local(local_s: Array, zone: ZoneInfo, periods: Spans = ()) -> Local:
    """Turn seconds since 1970-01-01 on local clocks, in file order, into moments.

    Where summer time ends an hour comes twice.  A clock that goes back within it was set
    there; else how the log enters and leaves the hour tells which it was; else the one
    within a period of the flight's tasks.  A clock that runs through the hour and on
    without a pause, or that shows the hour left out in spring, was not set at all: all
    that follows has the offset from before.
    """
    minute, which = np.unique(np.floor(local_s / STEP_S), return_inverse=True)
    starts = [STEP_S * m for m in minute.tolist()]
    first, second = (
        np.array([_offset_s(start, zone, fold) for start in starts])[which]
        for fold in (0, 1)
    )
    nothing = np.zeros(len(local_s), dtype=bool)
    if not (odd := first != second).any() or np.isnan(local_s).all():
        return Local(
            time_s=local_s - first, told=nothing, doubtful=nothing, kept=nothing
        )
    odd &= ~np.isnan(first)
    way = _Way(local_s, first, second, periods)
    edges = np.flatnonzero(np.diff(odd.astype(np.int8), prepend=0, append=0))
    for start, stop in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        way.through(start, stop)
    return Local(
        time_s=local_s - way.offset_s,
        told=way.told,
        doubtful=way.doubtful,
        kept=way.kept,
    )


class _Way:
    """The offsets of a log while they are found."""

    def __init__(
        self, local_s: Array, first: Array, second: Array, periods: Spans
    ) -> None:
        self.local_s, self.first, self.second = local_s, first, second
        self.periods = periods
        self.offset_s = first.copy()
        self.told, self.doubtful, self.kept = np.zeros((3, len(local_s)), dtype=bool)

    def through(self, start: int, stop: int) -> None:
        """Find the offsets from `start` on, where the clocks change, to `stop`."""
        if self.kept[start]:
            return
        enters, leaves = self._runs_on(start), self._runs_on(stop)
        if self.first[start] < self.second[start]:  # the hour does not exist
            if enters or leaves or stop - start == len(self.local_s):
                self._keep(start, start)
            return
        if (at := self._set_back(start, stop)) is not None:
            self._change(start, at, stop)
        elif enters and leaves:
            self._set_unseen(start, stop)
        elif leaves:
            self._change(start, start, stop)
        elif enters:
            self.told[start:stop] = True
        else:
            self._by_periods(start, stop)

    def _runs_on(self, at: int) -> bool:
        """Tell whether the clock runs on to a fix without a pause."""
        if not 0 < at < len(self.local_s):
            return False
        return bool(0.0 <= self.local_s[at] - self.local_s[at - 1] <= PAUSE_S)

    def _set_back(self, start: int, stop: int) -> int | None:
        """Return the fix before which the clock was set back, and stayed so."""
        twice = self.local_s[start:stop]
        after = np.append(twice[2:], -np.inf)
        down = (np.diff(twice) < -BACK_S) & (after < twice[:-1])
        at = np.flatnonzero(down)
        return int(start + at[0] + 1) if at.size else None

    def _set_unseen(self, start: int, stop: int) -> None:
        """Take a clock that shows the hour once, and what lies before and after it."""
        steps = np.diff(self.local_s[start:stop])
        if float(steps.max(initial=0.0)) <= PAUSE_S:
            self._keep(start, stop)
            return
        self._change(start, start + int(np.argmax(steps)) + 1, stop)
        self.told[start:stop], self.doubtful[start:stop] = False, True

    def _change(self, start: int, at: int, stop: int) -> None:
        self.offset_s[at:stop] = self.second[at:stop]
        self.told[start:stop] = True

    def _keep(self, start: int, at: int) -> None:
        """Let all from a fix on have the offset from before."""
        self.offset_s[at:] = self.first[start]
        self.kept[at:] = True

    def _by_periods(self, start: int, stop: int) -> None:
        twice = self.local_s[start:stop]
        early = self._within(twice - self.first[start:stop])
        late = self._within(twice - self.second[start:stop])
        if late > early:
            self._change(start, start, stop)
        elif early > late:
            self.told[start:stop] = True
        else:
            self.doubtful[start:stop] = True

    def _within(self, time_s: Array) -> int:
        return sum(
            int(np.count_nonzero((time_s >= opens) & (time_s <= closes)))
            for opens, closes in self.periods
        )


def _offset_s(local_s: float, zone: ZoneInfo, fold: int) -> float:
    try:
        moment = datetime(1970, 1, 1, tzinfo=zone) + timedelta(seconds=local_s)
        offset = moment.replace(fold=fold).utcoffset()
    except (OverflowError, ValueError):
        return np.nan
    return offset.total_seconds() if offset is not None else np.nan
