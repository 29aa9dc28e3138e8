"""The minimum height above the ground while flying in.

Where and when it holds (`scope`): inside the book's boundary (everywhere, if it names
none), from launch to landing, until the book's end (the scoring area first entered, the
drop, or leaving the boundary).  Two stretches are let pass, since nobody can fly without
them: the climb-out, until the basket first is clearly above the floor but for at most
`CLIMB_OUT_S`; and the last descent, from when it last was, if it takes at most
`LAST_DESCENT_S` to the landing (else only those last seconds).  Where a pilot landed and
launched again, each hop has both.

In a flight of several tasks each has its own leg, from the scoring area entered before to
its own, and inside the other tasks' scoring areas the floor does not hold.

An *episode* lasts as long as the basket is not clearly above the limit: under it, or
within `RISE_M` or `RISE_SIGMAS` of it, pauses shorter than `PAUSE_S` put in.  The book's
tolerance and least time decide whether an episode breaks the rule; its depth and duration
are told, and charged, from the stated minimum height.  So a height
that flickers about the limit is one finding.  Its probability: see `episode_chance.py`.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.checks.base import (
    CERTAIN_FROM,
    Circumstances,
    FindingNumbers,
    Seen,
    basket_m,
    check,
    dropped_s,
    finding_of,
    in_air,
    verdict_of,
)
from scorer.checks.episode_chance import held_under
from scorer.checks.gaps import LONGEST_PAUSE_S, unknown_heights
from scorer.checks.retry import hops_of
from scorer.checks.runs import merge, runs_of, span_s
from scorer.checks.stays import first_entry_s, inside
from scorer.event.finding import Drawing, Finding, Verdict, finding_kind
from scorer.event.model import ReportKind
from scorer.event.rulebook import FloorRule, Until
from scorer.facts import Fact, chance, fact, inner, span
from scorer.facts import height as height_value
from scorer.tracks.flown import Flown
from scorer.tracks.height import LOGGER_ABOVE_GROUND_M
from scorer.tracks.plain import diffs, marked

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

FLOOR = finding_kind(
    "floor", rule="floor.height", picture=Drawing.HEIGHTS, reported=ReportKind.LOW
)

CLIMB_OUT_S = 120.0
"""Longest climb-out that is let pass: 23 m at 0.2 m/s (our choice)."""
LAST_DESCENT_S = 180.0
"""Longest last descent that is let pass (our choice)."""
RISE_M = 1.0
RISE_SIGMAS = 2.0
"""An episode ends when the basket is this far above the limit (our choice)."""
PAUSE_S = 10.0
"""Pauses shorter than this do not part an episode (our choice)."""
LEAST_FIXES = 3
"""Fewer fixes on end, or some farther apart than `LONGEST_PAUSE_S`, leave a breach possible
(our choice)."""
LEAST_SIGMA_M = 0.05
"""No height from a log is better known than this."""


class Episode(NamedTuple):
    """One stretch of a track near or under the floor."""

    lowest: int
    """Index of the lowest fix."""
    start_s: float
    end_s: float
    """From when to when it was under the minimum height; where never, near it."""
    under: bool
    """The estimate itself is under it, not only within its uncertainty."""
    margin: float
    """Decisive depth in standard deviations."""
    probability: float
    sure: bool
    """Nothing but the height is in doubt."""
    broken: bool
    """It rests on a pause, or on fixes far apart."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Floor:
    """The floor put to one track."""

    flown: Flown
    rule: FloorRule
    height_m: float
    """The book's minimum height."""
    basket_m: Array
    """(N,) height of the basket."""
    sigma_m: Array
    """(N,)."""
    in_scope: Mask
    """(N,) the floor holds at this fix by place and time."""
    holds: Mask
    """(N,) it holds, and neither climb-out nor last descent excuses it."""
    end_known: bool
    """Whether it can be told when the floor stops to hold."""

    @property
    def limit_m(self) -> float:
        """The minimum height less the tolerance."""
        return self.height_m - self.rule.tolerance_m


@check("floor")
def check_floor(flown: Flown, about: Circumstances) -> Seen:
    """Find where the basket was, or may have been, under the minimum height."""
    rule = about.book.floor
    if rule.height_m is None:
        return Seen()
    height = over_m(flown, about)
    near = _near(flown, height, rule.height_m, rule)
    counted = counted_span(flown, near)
    unknown = ~np.isfinite(height) & counted
    if not (near & counted).any() and not unknown.any():
        return Seen()
    floor = _put(flown, about, height, rule.height_m, counted)
    runs = merge(runs_of(near & floor.holds), flown.time_s, PAUSE_S)
    spans = zip(runs.first.tolist(), runs.last.tolist(), strict=True)
    found = (_finding(_episode(floor, a, b), floor, about) for a, b in spans)
    return Seen(
        findings=tuple(f for f in found if f is not None),
        matters=unknown_heights(
            flown,
            unknown & floor.in_scope,
            about,
            lambda **told: fact("floor-unknown", **told),
        ),
    )


def floor_of(flown: Flown, about: Circumstances) -> Floor | None:
    """Put the book's minimum height to a track, as pictures show it; None for none."""
    rule = about.book.floor
    if rule.height_m is None:
        return None
    height = over_m(flown, about)
    counted = counted_span(flown, _near(flown, height, rule.height_m, rule))
    return _put(flown, about, height, rule.height_m, counted)


def _near(flown: Flown, height: Array, least_m: float, rule: FloorRule) -> Mask:
    """Tell at which fixes, (N,), the basket is not clearly above the limit."""
    limit = least_m - rule.tolerance_m
    sigma = _sigma(flown)
    return np.asarray(
        height < np.maximum(least_m + RISE_M, limit + RISE_SIGMAS * sigma)
    )


def _sigma(flown: Flown) -> Array:
    return np.maximum(flown.height_sigma_m, LEAST_SIGMA_M)


def _put(
    flown: Flown, about: Circumstances, height: Array, least_m: float, counted: Mask
) -> Floor:
    place, end_known = scope(flown, about)
    return Floor(
        flown=flown,
        rule=about.book.floor,
        height_m=least_m,
        basket_m=height,
        sigma_m=_sigma(flown),
        in_scope=place,
        holds=counted & place,
        end_known=end_known,
    )


def over_m(flown: Flown, about: Circumstances) -> Array:
    """Return the basket's height over what the book counts from, (N,).

    The ground under it, or the elevation of a named place; where that has none, the
    ground too.
    """
    above = about.book.floor.above
    level = None if above is None else about.site.elevation_m(above)
    if level is None or not np.isfinite(level):
        return basket_m(flown)
    return np.asarray(flown.altitude_m - LOGGER_ABOVE_GROUND_M - level)


def counted_span(flown: Flown, near: Mask) -> Mask:
    """Tell which fixes, (N,), lie between climb-out and last descent, of every hop."""
    counted = np.zeros(len(flown), dtype=bool)
    for hop in hops_of(flown):
        counted[_counted(hop, near)] = True
    return counted


def _counted(flown: Flown, near: Mask) -> slice:
    """Return the fixes between climb-out and last descent of one launch and landing.

    Both reach as far as the height is near the limit, (N,): the fix that crosses it says
    nothing of how low anybody flew.
    """
    air = in_air(flown)
    start, stop = air.start, air.stop
    time = flown.time_s
    above = marked(~near[start:stop])
    if flown.landing is not None and stop > start:
        earliest = int(np.searchsorted(time, time[stop - 1] - LAST_DESCENT_S))
        last = start + int(above[-1]) + 1 if above.size else start
        stop = max(last, earliest)
    if flown.launch is not None and stop > start:
        latest = int(np.searchsorted(time, time[start] + CLIMB_OUT_S, "right"))
        through = start + int(above[0]) if above.size else latest
        start = min(through, latest)
    return slice(start, stop)


def scope(flown: Flown, about: Circumstances) -> tuple[Mask, bool]:
    """Tell at which fixes, (N,), the floor holds by place and end; and if its end is known.

    Where the end hangs on a drop or an area that nobody gave, the floor is taken to hold
    until landing, and the second value is False.
    """
    rule = about.book.floor
    held = np.ones(len(flown), dtype=bool)
    if rule.within is not None:
        held = inside(about.site.area(rule.within), flown.east_m, flown.north_m)
    if rule.until is Until.EXIT:
        return held & about.leads, True
    entries = _entries_s(flown, about)
    own = entries.pop(about.task.number)
    for name in _others_areas(about):
        held &= ~inside(about.site.area(name), flown.east_m, flown.north_m)
    if rule.until is Until.DROP:
        end = dropped_s(flown, about)
        known = end is not None
    else:
        end, known = own, bool(about.task.scoring_areas)
    return held & _leg(flown, about, entries, end), known


def _entries_s(flown: Flown, about: Circumstances) -> dict[int, float | None]:
    """Return when each task's scoring areas were first entered, by task."""
    air = in_air(flown)
    track = flown.time_s[air], flown.east_m[air], flown.north_m[air]
    return {
        task.number: first_entry_s(map(about.site.area, task.scoring_areas), *track)
        for task in about.tasks or (about.task,)
    }


def _others_areas(about: Circumstances) -> set[str]:
    others = (task.scoring_areas for task in about.tasks if task != about.task)
    return set().union(*others) - set(about.task.scoring_areas)


def _leg(
    flown: Flown,
    about: Circumstances,
    others: dict[int, float | None],
    end: float | None,
) -> Mask:
    """Tell which fixes, (N,), lie on this task's own leg of the flight.

    A flight of several tasks has one leg for each, from the area entered before to its
    own, so that no breach is found twice.  What follows the last entry belongs to the
    first of the tasks that did not get anywhere.
    """
    time = flown.time_s
    before = [e for e in others.values() if e is not None]
    order = [task.number for task in about.tasks]
    sooner = order[: order.index(about.task.number)] if order else []
    if end is None:
        if any(others[n] is None for n in sooner):
            return np.zeros(len(flown), dtype=bool)
        return np.asarray(time >= max(before, default=time[0]))
    if any(others[n] == end for n in sooner):
        return np.zeros(len(flown), dtype=bool)
    start = max((e for e in before if e < end), default=time[0])
    return np.asarray((time >= start) & (time < end))


def _episode(floor: Floor, first: int, last: int) -> Episode:
    part = _with_neighbours(floor, first, last)
    time = floor.flown.time_s[part]
    height, sigma = floor.basket_m[part], floor.sigma_m[part]
    held = held_under(time, height, sigma, floor.limit_m, floor.rule.least_time_s)
    under = runs_of(height < floor.height_m)
    start, end = float(floor.flown.time_s[first]), float(floor.flown.time_s[last])
    if len(under.first):
        ends = int(under.first[0]), int(under.last[-1])
        start, end = span_s(time, height, floor.height_m, ends)
    unbroken = _unbroken(floor, time, height, sigma, held.probability)
    return Episode(
        lowest=part.start + int(height.argmin()),
        start_s=start,
        end_s=end,
        under=len(under.first) > 0,
        margin=held.margin,
        probability=held.probability,
        sure=floor.end_known
        and floor.flown.anchored
        and not _open(floor, first, last)
        and unbroken,
        broken=not unbroken,
    )


def _unbroken(
    floor: Floor, time: Array, height: Array, sigma: Array, whole: float
) -> bool:
    """Tell whether fixes without a pause show the breach as surely as the whole does.

    Nothing is certain from a pause, nor from fixes minutes apart.
    """
    cuts = marked(diffs(time) > LONGEST_PAUSE_S) + 1
    for one in np.split(np.arange(len(time)), cuts):
        if len(one) < LEAST_FIXES:
            continue
        held = held_under(
            time[one], height[one], sigma[one], floor.limit_m, floor.rule.least_time_s
        )
        if held.probability >= min(CERTAIN_FROM, whole):
            return True
    return not cuts.size


def _with_neighbours(floor: Floor, first: int, last: int) -> slice:
    """Take in the fix on either side, so that the way through the limit is there."""
    usable = floor.holds & np.isfinite(floor.basket_m)
    before = first > 0 and bool(usable[first - 1])
    after = last + 1 < len(usable) and bool(usable[last + 1])
    return slice(first - before, last + 1 + after)


def _open(floor: Floor, first: int, last: int) -> bool:
    """Tell whether it may be a climb-out or last descent that the log does not show."""
    flown = floor.flown
    time = flown.time_s
    unseen_launch = flown.launch is None and time[first] - time[0] < CLIMB_OUT_S
    unseen_landing = flown.landing is None and time[-1] - time[last] < LAST_DESCENT_S
    return bool(unseen_launch or unseen_landing)


def _finding(episode: Episode, floor: Floor, about: Circumstances) -> Finding | None:
    lowest = float(floor.basket_m[episode.lowest])
    verdict = verdict_of(episode.probability, sure=episode.sure)
    if verdict is Verdict.CLEAR and lowest >= floor.height_m:
        return None
    measure = FindingNumbers(
        kind=FLOOR,
        verdict=verdict,
        probability=episode.probability,
        from_s=episode.start_s,
        to_s=episode.end_s,
        measured=lowest,
        limit=floor.height_m,
        excess=max(floor.height_m - lowest, 0.0),
        sigma=float(floor.sigma_m[episode.lowest]),
        at=episode.lowest,
        rule=about.book.cite("floor.height"),
        says=_says(episode, floor, verdict),
        details=_details(episode, floor),
    )
    return finding_of(measure, floor.rule.penalty, floor.flown, about)


def _details(episode: Episode, floor: Floor) -> dict[str, float | str]:
    return {
        "lowest_at_s": float(floor.flown.time_s[episode.lowest]),
        "ground_m": float(floor.flown.ground_m[episode.lowest]),
        "tolerance_m": floor.rule.tolerance_m,
        "least_time_s": floor.rule.least_time_s,
        "decisive_depth_sigmas": episode.margin if np.isfinite(episode.margin) else 0.0,
    }


def _says(episode: Episode, floor: Floor, verdict: Verdict) -> Fact:
    lowest = float(floor.basket_m[episode.lowest])
    values = {
        "lowest": height_value(lowest),
        "give_or_take": height_value(float(floor.sigma_m[episode.lowest])),
        "limit": height_value(floor.height_m),
        "depth": height_value(max(floor.height_m - lowest, 0.0)),
        "duration": span(episode.end_s - episode.start_s),
    }
    if verdict is Verdict.CLEAR:
        return fact(
            "seen-low-let-pass",
            **values,
            tolerance=height_value(floor.rule.tolerance_m),
            least_time=span(floor.rule.least_time_s),
        )
    sure = chance(episode.probability)
    if episode.under:
        seen = fact("seen-low", **values, sure=sure)
    else:
        seen = fact("seen-near-minimum", **values, sure=sure)
    doubt = _doubt(episode, floor)
    if doubt is None:
        return seen
    return fact("seen-in-doubt", seen=inner(seen), doubt=inner(doubt))


def _doubt(episode: Episode, floor: Floor) -> Fact | None:
    """State what beside the height is in doubt."""
    if not floor.flown.anchored:
        sigma = float(floor.sigma_m[episode.lowest])
        return fact("doubt-estimates", give_or_take=height_value(sigma))
    if not floor.end_known:
        return fact("doubt-end-unknown")
    if episode.broken:
        return fact("doubt-pause")
    return None if episode.sure else fact("doubt-unseen")
