"""What is said of marks that do not fit their pilot's track, or that others fit better."""

from collections.abc import Sequence

import numpy as np

from scorer.checks.base import PlacedMark
from scorer.checks.mark_track import Doubt, Marks, fitting
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import (
    Fact,
    count,
    distance,
    fact,
    inner,
    log,
    moment,
    pilot,
    several,
    words,
)

NAMED = 3
"""At most so many pilots are suggested."""


def check_marks(flight: Marks, doubts: Sequence[Doubt] = ()) -> tuple[Matter, ...]:
    """Warn of every mark that its own pilot's track does not reach, or that is doubted.

    The warning says what fits better; where nothing stands out it names the nearest
    pilots whose track reaches the mark, first those who miss a mark themselves, then
    those whose number is easily mistaken for the one keyed.  Where the track may have
    reached it while the log paused, that is told instead.
    """
    by_mark = {doubt.mark: doubt for doubt in doubts}
    beyond = {
        k
        for k, mark in enumerate(flight.marks)
        if mark.pilot in flight.tracks and not flight.fits(k, mark.pilot)
    }
    silent = {k for k in beyond if flight.paused(k, flight.marks[k].pilot)}
    silent -= by_mark.keys()
    astray = beyond - silent
    return tuple(
        _silent(flight, k)
        if k in silent
        else _warning(flight, k, astray, by_mark.get(k))
        for k in sorted(beyond | by_mark.keys())
    )


def _silent(flight: Marks, k: int) -> Matter:
    """State that a log does not tell whether a mark fits."""
    mark = flight.marks[k]
    track = flight.tracks[mark.pilot]
    assert track.paused is not None
    start, end = float(track.paused.start_s[k]), float(track.paused.end_s[k])
    values = {"mark": inner(_named(mark)), "log": log(track.log)}
    if np.isnan(start):
        says = fact("mark-before-log", **values, end=moment(end))
    elif np.isnan(end):
        says = fact("mark-after-log", **values, start=moment(start))
    else:
        says = fact("mark-in-pause", **values, start=moment(start), end=moment(end))
    return Matter(
        kind=matters.LOG_GAP,
        flight=flight.flight,
        task=mark.task,
        pilots=(mark.pilot,),
        mark=mark.mark,
        says=says,
    )


def _warning(flight: Marks, k: int, astray: set[int], doubt: Doubt | None) -> Matter:
    mark = flight.marks[k]
    what = inner(unlike(flight, k, doubt))
    better = inner(_better(flight, k, astray, doubt))
    stack = None if doubt is None else doubt.stack
    says = fact("mark-astray", what=what, others=better)
    if stack is not None:
        own = (("what", what), ("meant", better), *stack.values)
        says = Fact(stack.kind, own)
    return Matter(
        kind=matters.MARK_FAR_FROM_TRACK if stack is None else matters.STACK_UNFIT,
        flight=flight.flight,
        task=mark.task,
        pilots=(mark.pilot,),
        mark=mark.mark,
        says=says,
    )


def _better(flight: Marks, k: int, astray: set[int], doubt: Doubt | None) -> Fact:
    """State what fits a mark better."""
    if doubt is None:
        return _others(flight, k, astray)
    if doubt.meant is not None:
        return doubt.meant
    if doubt.swap is not None:
        one, other = (flight.marks[n].pilot for n in (k, doubt.swap))
        return fact("marks-swapped", pilot=pilot(one), other=pilot(other))
    if doubt.other is not None:
        return fact("mark-fits", named=several([inner(_fit(flight, k, doubt.other))]))
    return fact("mark-fits-none") if k not in astray else _others(flight, k, astray)


def unlike(flight: Marks, k: int, doubt: Doubt | None) -> Fact:
    """State how a mark differs from what is usual in its flight, or from all throws."""
    mark = flight.marks[k]
    if doubt is None or not flight.fits(k, mark.pilot):
        return _what(flight, k)
    track = flight.tracks[mark.pilot]
    named = inner(_named(mark))
    passes = track.passes
    if doubt.sign is None or passes is None:
        return fact("mark-not-unusual", mark=named)
    at = moment(float(track.time_s[k]))
    values = {"mark": named, "log": log(track.log), "at": at}
    nearest = distance(float(passes.nearest_m[k]))
    if doubt.sign == 2:
        assert mark.time_s is not None
        noted = moment(mark.time_s)
        then_m = float(passes.then_m[k])
        if not np.isfinite(then_m):
            whose = log(track.log)
            return fact("mark-not-in-the-air", mark=named, noted=noted, log=whose)
        then = distance(then_m)
        away = distance(float(track.distance_m[k]))
        return fact("mark-at-other-time", **values, away=away, noted=noted, then=then)
    if doubt.sign == 1 and mark.aimed_m is not None:
        near = distance(float(passes.aim_m[k]))
        aimed = distance(float(mark.aimed_m))
        return fact("mark-unlike-aim", **values, aimed=aimed, near=near)
    return fact("mark-unlike-throw", **values, away=nearest)


def _what(flight: Marks, k: int) -> Fact:
    """State how a mark and the track of its pilot disagree."""
    mark = flight.marks[k]
    track = flight.tracks[mark.pilot]
    named = _named(mark)
    away, reach = float(track.distance_m[k]), flight.reach_m(k, mark.pilot)
    if not np.isfinite(away):
        return fact("mark-without-flight", mark=inner(named), log=log(track.log))
    values = {
        "mark": inner(named),
        "log": log(track.log),
        "away": distance(away),
        "at": moment(float(track.time_s[k])),
    }
    if away > reach:
        return fact(
            "mark-beyond-throw",
            **values,
            reach=distance(reach),
            beyond=distance(away - reach),
        )
    assert mark.time_s is not None
    return fact(
        "mark-at-other-time",
        **values,
        noted=moment(mark.time_s),
        then=distance(float(track.noted_m[k])),
    )


def _named(mark: PlacedMark) -> Fact:
    if mark.mark:
        return fact("mark-named", mark=words(mark.mark), pilot=pilot(mark.pilot))
    return fact("mark-of", pilot=pilot(mark.pilot))


def _others(flight: Marks, k: int, astray: set[int]) -> Fact:
    """State whose tracks a mark fits instead."""
    mark = flight.marks[k]
    fits = fitting(flight, k, astray)
    if not fits:
        return fact("mark-fits-nobody")
    theirs = {fit.pilot for fit in fits}
    for i in sorted(astray):
        other = flight.marks[i]
        crossed = other.pilot != mark.pilot and other.task == mark.task
        if crossed and other.pilot in theirs and flight.fits(i, mark.pilot):
            return fact(
                "marks-swapped", pilot=pilot(mark.pilot), other=pilot(other.pilot)
            )
    named = several(inner(_fit(flight, k, fit.pilot)) for fit in fits[:NAMED])
    if len(fits) > NAMED:
        return fact("mark-fits-many", named=named, more=count(len(fits) - NAMED))
    return fact("mark-fits", named=named)


def _fit(flight: Marks, k: int, other: int) -> Fact:
    track = flight.tracks[other]
    return fact(
        "track-reaches",
        pilot=pilot(other),
        away=distance(float(track.distance_m[k])),
        at=moment(float(track.time_s[k])),
    )
