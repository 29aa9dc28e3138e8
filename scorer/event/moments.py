"""Event time: moments as the event's own clocks show them, read and written in one place.

A moment is an instant (POSIX seconds) seen in the event's time zone; day, time, offset and
which of two equal readings it is follow from that.  Durations are differences of instants,
so a change of the clocks can never stretch or shorten one.  Rules of the zones: the IANA
time zone database, by the standard library.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from scorer.event.model import Period
from scorer.rounding import half_up
from scorer.units import Unreadable

NOTED_S = 60.0
"""A time that somebody noted may be off by this much (our choice)."""
ALLOWED = (
    "a local time HH:MM or HH:MM:SS, or with its date before it; +1 behind it (00:20+1) "
    "means the day after the flight's date"
)
ALLOWED_DATED = "a date and a local time, YYYY-MM-DD HH:MM or with seconds"
SLACK_S = 6 * 3600.0
"""So long before and after the periods of a task things are written down about it (our
choice): tells on which side of midnight a time without a date lies."""
LONGEST_OVERNIGHT_S = 12 * 3600.0
"""A period past midnight without dates is at most this long: a longer one has its times
swapped, or needs a date."""
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_TOLD = re.compile(r"\s*\(UTC([+-]\d\d:\d\d)\)")
"""An offset as `EventTime.clock` prints it."""
_FORM = re.compile(r"(.*?)(?:\s+(first|second))?\s*(?:\+([1-9]))?", re.DOTALL)
_DATED = re.compile(r"\d{4}-")


@dataclass(frozen=True, slots=True)
class EventTime:
    """One moment, in the event's zone."""

    time_s: float
    """POSIX seconds, UTC."""
    zone: ZoneInfo

    @classmethod
    def of(cls, moment: datetime, zone: ZoneInfo) -> "EventTime":
        """Return an aware datetime as a moment of the event."""
        return cls((moment - _EPOCH).total_seconds(), zone)

    @property
    def local(self) -> datetime:
        """As the event's clocks show it, with offset and fold."""
        return (_EPOCH + timedelta(seconds=self.time_s)).astimezone(self.zone)

    @property
    def day(self) -> date:
        """Local date."""
        return self.local.date()

    @property
    def fold(self) -> int:
        """1 for the second of two equal readings, else 0 (PEP 495)."""
        return self.local.fold

    @property
    def offset(self) -> str:
        """Offset from UTC, as `+02:00`."""
        return _offset(self.local)

    @property
    def offset_matters(self) -> bool:
        """Tell whether the clocks change on this local date."""
        return _clocks_change(self.day, self.zone)

    def clock(self, *, seconds: bool = True) -> str:
        """Print the time of day; with its offset on a day on which the clocks change."""
        text = f"{self.local:%H:%M:%S}" if seconds else f"{self.local:%H:%M}"
        return f"{text} (UTC{self.offset})" if self.offset_matters else text

    def dated(self, *, seconds: bool = True) -> str:
        """Print date and time of day."""
        return f"{self.day.isoformat()} {self.clock(seconds=seconds)}"

    def written(self) -> str:
        """Write date and time of day so that reading it gives this minute back."""
        again = self.local.replace(fold=1 - self.fold)
        twice = again.utcoffset() != self.local.utcoffset()
        return f"{self.local:%Y-%m-%d %H:%M}" + (self.offset if twice else "")

    def stated(self) -> str:
        """Print date, time of day and zone, as people outside need them."""
        name = self.local.tzname() or ""
        zone = name if name.isalpha() else f"UTC{self.offset}"
        return f"{self.local:%Y-%m-%d %H:%M} {zone}"


@lru_cache(maxsize=1024)
def _clocks_change(day: date, zone: ZoneInfo) -> bool:
    midnight = datetime.combine(day, time(), tzinfo=zone)
    following = datetime.combine(day + timedelta(days=1), time(), tzinfo=zone)
    return midnight.utcoffset() != following.utcoffset()


def at(time_s: float, time_zone: str | ZoneInfo) -> EventTime:
    """Return the moment to the whole second, half up, in a zone (IANA name)."""
    zone = time_zone if isinstance(time_zone, ZoneInfo) else ZoneInfo(time_zone)
    return EventTime(float(half_up(time_s)), zone)


def zone_told(time_zone: str, days: Iterable[date]) -> str:
    """Print a zone with its offset on some days: `Europe/Madrid (UTC+02:00)`.

    Where it changes on one of them or between them, all of them, in their order.
    """
    zone = ZoneInfo(time_zone)
    edges = (
        datetime.combine(day, clock, tzinfo=zone)
        for day in sorted(days)
        for clock in (time(), time(23, 59))
    )
    offsets = dict.fromkeys(f"UTC{_offset(edge)}" for edge in edges)
    if time_zone == "UTC" or not offsets:
        return time_zone
    return f"{time_zone} ({', '.join(offsets)})"


def zone_of(settings: Mapping[str, Any]) -> ZoneInfo:
    """Return the zone that settings as entered name; UTC where they name none."""
    event = settings.get("event")
    name = event.get("time_zone") if isinstance(event, Mapping) else None
    try:
        return ZoneInfo(str(name))
    except (KeyError, OSError, ValueError):
        return ZoneInfo("UTC")


def read_moment(text: str, zone: ZoneInfo) -> EventTime:
    """Read a date with its time, local unless it names its offset; raise Unreadable."""
    if not _DATED.match(text):
        raise Unreadable(text, ALLOWED_DATED)
    written = _Written(text, ALLOWED_DATED)
    assert written.day is not None
    return written.on(written.day, zone)


def told_again(text: str, zone: ZoneInfo) -> str:
    """Print a date and time somebody wrote as the event's clocks show it.

    What cannot be read, an entry of an earlier version, stands as it is.
    """
    try:
        return read_moment(text, zone).dated(seconds=False) if text else ""
    except Unreadable:
        return text


class Clock:
    """Reads times as people at a flight write them."""

    def __init__(
        self, day: date, zone: ZoneInfo, periods: Sequence[Period] = ()
    ) -> None:
        """`periods` of a task tell on which side of midnight a time lies."""
        self.day = day
        self.zone = zone
        self.periods = tuple(periods)

    def with_periods(self, periods: Sequence[Period]) -> "Clock":
        """Return the clock of a task with these periods; itself where there are none."""
        return Clock(self.day, self.zone, periods) if periods else self

    def read(self, text: str) -> float:
        """Return a written time as POSIX seconds; raise Unreadable."""
        return self.moment(text).time_s

    def moment(self, text: str) -> EventTime:
        """Read a time, `HH:MM[:SS]`, perhaps with more; raise Unreadable.

        Before it a date, behind it an offset (`01:30+02:00`, `Z`, or as printed,
        `01:30 (UTC+02:00)`), `first` or `second`
        where the clocks show it twice, or `+1` for the day after the flight's date.
        Without a date it is of the flight's date, or of the night after where the
        periods say so.
        """
        written = _Written(text, ALLOWED)
        day = self.day if written.fixed else self._day_of(written)
        return written.on(self._own(written, day), self.zone)

    def period(self, start: str, end: str, *, after_s: float | None = None) -> Period:
        """Read a period, which may run past midnight; raise Unreadable.

        `after_s` is when the task begins: a period that would be over by then is of the
        day after.
        """
        first, last = _Written(start, ALLOWED), _Written(end, ALLOWED)
        day = self._own(first, self.day)
        until = self._own(last, day)
        if not last.fixed and last.near(until, self.zone) <= first.near(day, self.zone):
            until = _next(until)
        free = not (first.fixed or last.fixed)
        if free and after_s is not None and last.near(until, self.zone) <= after_s:
            day, until = _next(day), _next(until)
        opens, closes = first.on(day, self.zone), last.on(until, self.zone)
        long = not last.fixed and closes.time_s - opens.time_s > LONGEST_OVERNIGHT_S
        if closes.time_s <= opens.time_s or (until != day and long):
            raise Unreadable(
                f"{start} to {end}",
                "a period that ends after it starts",
                "Write its date before a time of another day, or +1 behind it.",
            )
        return Period(start_s=opens.time_s, end_s=closes.time_s)

    def _own(self, written: "_Written", day: date) -> date:
        """Return the day a time names, else the one given."""
        if written.days:
            return self.day + timedelta(days=written.days)
        return written.day or day

    def _day_of(self, written: "_Written") -> date:
        """Tell of which day a time without a date is."""
        if not self.periods:
            return self.day
        opens = min(period.start_s for period in self.periods)
        closes = max(period.end_s for period in self.periods)
        own, later = (
            written.near(day, self.zone) for day in (self.day, _next(self.day))
        )
        plausible = opens - SLACK_S <= own <= closes + SLACK_S
        if opens <= later <= closes:
            if plausible:
                remedy = f"Write {self.day.isoformat()} before it, or +1 behind it."
                found = "a time of which the task's periods hold two days"
                raise Unreadable(written.text, f"a date with {found}", remedy)
            return _next(self.day)
        if not plausible and closes < later <= closes + SLACK_S:
            return _next(self.day)
        return self.day


class _Written:
    """A time taken apart, not yet on a day."""

    def __init__(self, text: str, allowed: str) -> None:
        self.text, self.allowed = text, allowed
        body, which, days = self._parts()
        self.which: str | None = which
        self.days = int(days or 0)
        try:
            self.day, self.time = self._read(body.strip())
        except (ValueError, OverflowError):
            raise Unreadable(text, allowed) from None
        if self.day is not None and self.days:
            raise Unreadable(text, "+1 behind a time without a date")
        if self.time.tzinfo is not None and which:
            raise Unreadable(text, f"either an offset or {which}, not both")

    def _parts(self) -> tuple[str, str | None, str | None]:
        found = _FORM.fullmatch(_TOLD.sub(r"\1", self.text.strip()))
        if not self.text.isascii() or ":" not in self.text or found is None:
            raise Unreadable(self.text, self.allowed)
        return found[1], found[2], found[3]

    @staticmethod
    def _read(body: str) -> tuple[date | None, time]:
        if _DATED.match(body):
            moment = datetime.fromisoformat(body)
            return moment.date(), moment.timetz()
        hours = body.find(":")
        return None, time.fromisoformat("0" * (2 - hours) + body)

    @property
    def fixed(self) -> bool:
        """Whether it says by itself of which day it is."""
        return self.day is not None or bool(self.days)

    def near(self, day: date, zone: ZoneInfo) -> float:
        """Return about when it is on a day: right but for changes of the clocks."""
        moment = datetime.combine(day, self.time)
        if moment.tzinfo is None:
            moment = moment.replace(tzinfo=zone, fold=int(self.which == "second"))
        return (moment - _EPOCH).total_seconds()

    def on(self, day: date, zone: ZoneInfo) -> EventTime:
        """Return the moment; refuse one that does not exist or comes twice."""
        moment = datetime.combine(day, self.time)
        try:
            if moment.tzinfo is not None:
                return EventTime.of(moment, zone)
            return self._local(moment, zone)
        except OverflowError:
            raise Unreadable(self.text, self.allowed) from None

    def _local(self, moment: datetime, zone: ZoneInfo) -> EventTime:
        both = [moment.replace(tzinfo=zone, fold=fold) for fold in (0, 1)]
        first, second = (EventTime.of(m.astimezone(UTC), zone) for m in both)
        if first.time_s == second.time_s:
            if self.which:
                raise Unreadable(
                    self.text, f"no {self.which}: the clocks show this time once"
                )
            return first
        clock = f"{moment:%H:%M:%S}".removesuffix(":00")
        ways = [f"{clock}{_offset(m)}" for m in both]
        if first.local.replace(tzinfo=None) != moment:
            raise Unreadable(
                self.text,
                f"a time that exists: on {moment:%Y-%m-%d} the clocks go forward over "
                "this one",
                f"Write {first.local:%H:%M:%S} ({ways[0]}) or "
                f"{second.local:%H:%M:%S} ({ways[1]}).",
            )
        if not self.which:
            raise Unreadable(
                self.text,
                f"which of two: on {moment:%Y-%m-%d} the clocks go back and show this "
                "time twice",
                f'Write "{clock} first" ({ways[0]}) or "{clock} second" ({ways[1]}).',
            )
        return first if self.which == "first" else second


def _next(day: date) -> date:
    return day + timedelta(days=1)


def _offset(moment: datetime) -> str:
    text = moment.strftime("%z")
    return f"{text[:3]}:{text[3:5]}" + (f":{text[5:]}" if len(text) > 5 else "")
