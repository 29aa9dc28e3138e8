"""Logs whose clock is wrong: what says so, by how much, and what an official accepts.

A receiver's clock is exact, but a logger may be set to a wrong zone, day or time.  Times
that people entered, a second log of the same pilot and the other balloons of the flight
tell.  What they tell is proposed as a matter; once an official accepts it, the log is read
with its times moved.  Until then nothing that rests on its times is certain.
"""

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.event import matters
from scorer.event.matter import Matter, MatterKind
from scorer.facts import Fact, Value, count, fact, inner, several, span, term
from scorer.facts import log as log_value
from scorer.scoring.work import NOTHING, FirstLook, FlightWork
from scorer.tracks.flown import Array
from scorer.tracks.order import DAY_S
from scorer.tracks.prepare import Ready

HOUR_S = 3600.0
NOTED_S = 45.0
"""One sigma of a time noted to the minute, and of the throw before or after the pass."""
NOTED_OFF_S = 180.0
"""Noted times that differ more from the log's are no slips of a watch."""
AGREE_S = 120.0
"""Several noted times that lie within this of each other tell of one offset."""
TWO_LOGS_OFF_S, TWO_LOGS_SIGMA_S = 20.0, 3.0
"""Two logs in one basket agree within some seconds; less cannot be seen in places."""
TOGETHER_M = 40.0
SEARCH_S = 90.0
FIELD_OFF_S = 2400.0
"""Nobody launches so long before or after all others without a reason ..."""
FIELD_SLACK_S = 300.0
"""... and moved by whole hours the launch lies among those of the others, so near."""
FIELD_SIGMA_S = 600.0
LEAST_OTHERS = 3
WHOLE_SIGMA_S = 5.0
"""Of a clock that is off by whole hours or days."""
MOST_HOURS = 14
"""Zones lie that far from UTC at most."""


class Launches(NamedTuple):
    """When each pilot launched, one launch of each; (N,) arrays."""

    pilot: NDArray[np.int64]
    time_s: Array
    """POSIX seconds."""


class Estimate(NamedTuple):
    """What one source tells of a log's clock."""

    offset_s: float
    """To be added to the log's times."""
    sigma_s: float
    ground: Fact


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtfulClock:
    """A clock that is doubtful."""

    offset_s: float | None
    """To be added to the log's times; None = nothing tells."""
    sigma_s: float
    matter: Matter


def clocks_of(
    shared: FlightWork, looks: Sequence[FirstLook]
) -> Mapping[int, DoubtfulClock]:
    """Return the doubtful clocks of a flight's logs by their place in `looks`."""
    own = {n: look for n, look in enumerate(looks) if _shows_a_flight(look)}
    first = _launches(own)
    same = defaultdict(list)
    for n, look in own.items():
        same[_number(look)].append(n)
    clocks = {
        n: _clock(shared, own, n, same[_number(look)], first) for n, look in own.items()
    }
    return {n: clock for n, clock in clocks.items() if clock is not None}


def _shows_a_flight(look: FirstLook) -> bool:
    whose = look.identified
    return look.ready is not None and whose is not None and whose.pilot is not None


def _clock(
    shared: FlightWork,
    looks: Mapping[int, FirstLook],
    n: int,
    same: Sequence[int],
    first: Launches,
) -> DoubtfulClock | None:
    look = looks[n]
    noted = _by_noted(shared, look)
    if noted is not None and abs(noted.offset_s) <= NOTED_OFF_S:
        return None  # people saw the balloon when the log says
    field = _by_field(looks[n], first)
    other = _by_second_log(shared, looks, n, same, first)
    told = [one for one in (other, noted, field) if one is not None]
    if not told:
        return None
    best = min(told, key=lambda one: one.sigma_s)
    if math.isinf(best.sigma_s):
        return _stated(shared, look, None, told)
    whole = _whole_hours(best, told)
    return _stated(shared, look, whole, told)


def _whole_hours(best: Estimate, told: Iterable[Estimate]) -> Estimate:
    """Take whole hours where they fit what is told, and another source agrees."""
    hours = round(best.offset_s / HOUR_S) * HOUR_S
    near = hours != 0.0 and abs(best.offset_s - hours) <= 2.0 * best.sigma_s
    others = (one for one in told if one is not best)
    if near and any(abs(one.offset_s - hours) <= 2.0 * one.sigma_s for one in others):
        return best._replace(offset_s=hours, sigma_s=WHOLE_SIGMA_S)
    return best


def _stated(
    shared: FlightWork, look: FirstLook, best: Estimate | None, told: Iterable[Estimate]
) -> DoubtfulClock:
    whose = look.identified
    pilots = () if whose is None or whose.pilot is None else (whose.pilot,)
    grounds = several(inner(one.ground) for one in told)
    log = log_value(look.summary.name)
    if best is None:
        says = fact("clock-doubtful", log=log, grounds=grounds)
    else:
        says = fact(
            "clock-proposed",
            log=log,
            grounds=grounds,
            **moved(best.offset_s, best.sigma_s),
        )
    return DoubtfulClock(
        offset_s=None if best is None else best.offset_s,
        sigma_s=math.inf if best is None else best.sigma_s,
        matter=Matter(
            kind=_kind(best, told),
            flight=shared.flight,
            pilots=pilots,
            says=says,
            evidence=(look.summary.name,),
        ),
    )


def _kind(best: Estimate | None, told: Iterable[Estimate]) -> MatterKind:
    """Hold official results up only where something can be put right instead.

    Who flew when nobody else did may have done so, and no entry says otherwise.
    """
    if best is None:
        return matters.LOG_CLOCK
    field = all(one.ground.kind.startswith("clock-by-field") for one in told)
    return matters.LOG_CLOCK_ALONE if field else matters.LOG_CLOCK_WRONG


def moved(offset_s: float, sigma_s: float) -> Mapping[str, Value]:
    """Return an offset as sentences take it: how much, which way, how sure."""
    return {
        "off": span(abs(offset_s)),
        "way": term("clock-later" if offset_s > 0.0 else "clock-earlier"),
        "give_or_take": span(sigma_s),
    }


def _ready(look: FirstLook) -> Ready:
    assert look.ready is not None
    return look.ready


def _number(look: FirstLook) -> int | None:
    return None if look.identified is None else look.identified.pilot


def _by_noted(shared: FlightWork, look: FirstLook) -> Estimate | None:
    """Compare the times that people entered with when the track passes the marks."""
    ready, pilot = _ready(look), _number(look)
    offsets = [
        time_s - passed_s
        for task in shared.tasks
        for time_s, passed_s in _noted(shared, task.number, pilot or 0, ready)
    ]
    if not offsets:
        return None
    middle = float(np.median(offsets))
    if max(abs(one - middle) for one in offsets) > AGREE_S:
        return None  # they contradict each other
    sigma = max(round(NOTED_S / math.sqrt(len(offsets))), 1)
    ground = fact("clock-by-marks", marks=count(len(offsets)))
    return Estimate(float(round(middle)), float(sigma), ground)


def _noted(
    shared: FlightWork, task: int, pilot: int, ready: Ready
) -> Iterator[tuple[float, float]]:
    own = shared.own.get((task, pilot), NOTHING)
    throw_m = shared.books[task].tracks.throw_m
    for mark in own.placed:
        keyed = own.keyings.get(mark.mark)
        if keyed is None or keyed.noted_s is None:
            continue
        away = np.hypot(ready.east_m - mark.east_m, ready.north_m - mark.north_m)
        if not np.isfinite(away).any():
            continue
        nearest = int(np.nanargmin(away))
        if away[nearest] <= throw_m + mark.within_m:
            yield keyed.noted_s, float(ready.time_s[nearest])


def _by_second_log(
    shared: FlightWork,
    looks: Mapping[int, FirstLook],
    n: int,
    same: Sequence[int],
    first: Launches,
) -> Estimate | None:
    """Lay another log of the same pilot over this one."""
    own = looks[n]
    for k in same:
        other = looks[k]
        if k == n:
            continue
        offset = _laid_over(_ready(own), _ready(other))
        if offset is None or abs(offset) <= TWO_LOGS_OFF_S:
            continue
        ground = fact("clock-by-log", other=log_value(other.summary.name))
        mine, theirs = (_borne_out(shared, one, first) for one in (own, other))
        if theirs > mine:
            return Estimate(float(round(offset)), TWO_LOGS_SIGMA_S, ground)
        if theirs == mine:
            return Estimate(0.0, math.inf, ground)
    return None


def _borne_out(shared: FlightWork, look: FirstLook, first: Launches) -> int:
    """Tell what bears a log's clock out: 2 noted times, 1 other balloons, 0 nothing."""
    noted = _by_noted(shared, look)
    if noted is not None:
        return 2 if abs(noted.offset_s) <= NOTED_OFF_S else 0
    begins, others = _begins(_ready(look)), _others(first, look)
    if begins is None or len(others) < LEAST_OTHERS:
        return 0
    early, late = min(others) - FIELD_SLACK_S, max(others) + FIELD_SLACK_S
    return int(early <= begins <= late)


def _laid_over(own: Ready, other: Ready) -> float | None:
    """Return what to add to a log's times so that it lies on the other; None = nothing."""
    begins = _begins(own), _begins(other)
    tries = [k * HOUR_S for k in range(-MOST_HOURS, MOST_HOURS + 1)]
    if begins[0] is not None and begins[1] is not None:
        tries.append(begins[1] - begins[0])
    apart = _apart(own, other)
    near = min(
        (d + s for d in tries for s in np.arange(-SEARCH_S, SEARCH_S + 1.0, 15.0)),
        key=lambda d: (apart(d), abs(d)),
    )
    best = min(np.arange(near - 15.0, near + 16.0), key=lambda d: (apart(d), abs(d)))
    return float(best) if apart(float(best)) < TOGETHER_M else None


def _apart(own: Ready, other: Ready) -> Callable[[float], float]:
    """Return a function of the offset: the median distance while both record."""
    some = np.unique(np.linspace(0, len(own.time_s) - 1, 120).astype(int))
    time, east, north = own.time_s[some], own.east_m[some], own.north_m[some]

    def distance(offset_s: float) -> float:
        at = time + offset_s
        during = (at >= other.time_s[0]) & (at <= other.time_s[-1])
        if 2 * np.count_nonzero(during) < min(len(at), _many(other, at)):
            return math.inf
        off = [
            np.interp(at[during], other.time_s, theirs) - mine[during]
            for theirs, mine in ((other.east_m, east), (other.north_m, north))
        ]
        return float(np.median(np.hypot(*off)))

    return distance


def _many(other: Ready, at_s: Array) -> int:
    """Return how many of the times a log as long as the other one could cover."""
    step = float(np.median(np.diff(at_s))) if len(at_s) > 1 else 1.0
    return max(int((other.time_s[-1] - other.time_s[0]) / max(step, 1e-6)), 10)


def _begins(ready: Ready) -> float | None:
    """Return when the flight of a log begins."""
    launch = ready.phases.launch
    return None if launch is None else float(ready.time_s[launch])


def _launches(looks: Mapping[int, FirstLook]) -> Launches:
    """Return when pilots launched, one launch of each."""
    found: dict[int, float] = {}
    for look in looks.values():
        number, begins = _number(look), _begins(_ready(look))
        if number is not None and begins is not None:
            found.setdefault(number, begins)
    return Launches(np.array([*found], dtype=np.int64), np.array([*found.values()]))


def _others(first: Launches, look: FirstLook) -> Array:
    """Return when other pilots launched than the one whose log it is."""
    return np.asarray(first.time_s[first.pilot != _number(look)])


def _by_field(look: FirstLook, first: Launches) -> Estimate | None:
    """Compare the launch with those of all others."""
    begins, others = _begins(_ready(look)), _others(first, look)
    if begins is None or len(others) < LEAST_OTHERS:
        return None
    if np.abs(others - begins).min() < FIELD_OFF_S:
        return None
    middle = float(np.median(others))
    own = others[np.abs(others - middle) < FIELD_OFF_S].tolist()
    if len(own) < LEAST_OTHERS:
        return None
    early, late = min(own) - FIELD_SLACK_S, max(own) + FIELD_SLACK_S
    days = round((middle - begins) / DAY_S) * DAY_S
    if days and early <= begins + days <= late:
        return Estimate(days, WHOLE_SIGMA_S, fact("clock-by-field-days"))
    rest = range(-MOST_HOURS, MOST_HOURS + 1)
    fitting = [k * HOUR_S for k in rest if early <= begins + days + k * HOUR_S <= late]
    if len(fitting) == 1:
        return Estimate(days + fitting[0], WHOLE_SIGMA_S, fact("clock-by-field-hours"))
    landing = _ready(look).phases.landing
    time_s = _ready(look).time_s
    ends = float(time_s[-1 if landing is None else min(landing, len(time_s) - 1)])
    if ends > min(own) and begins < max(own) + HOUR_S:
        return None  # they may have met in the air
    minutes = round((middle - begins) / 60.0) * 60.0
    return Estimate(minutes, FIELD_SIGMA_S, fact("clock-by-field"))


def doubtful(look: FirstLook) -> FirstLook:
    """Return a log whose clock is doubtful and stands as it is."""
    summary = replace(look.summary, clock_sigma_s=math.inf)
    return replace(look, summary=summary)


def put_right(look: FirstLook, clock: DoubtfulClock) -> FirstLook:
    """Return a log that was read with its times moved, as an official accepted."""
    assert clock.offset_s is not None
    note = fact("clock-moved", **moved(clock.offset_s, clock.sigma_s))
    summary = replace(
        look.summary,
        clock_s=clock.offset_s,
        clock_sigma_s=clock.sigma_s,
        notes=(*look.summary.notes, note),
    )
    return replace(look, summary=summary)
