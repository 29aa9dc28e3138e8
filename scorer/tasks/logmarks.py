"""Marks taken from a flight log: the logger's mark, or the track at a time."""

import math
import re
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from scorer.event.model import Keying, Method
from scorer.facts import Fact, Step, Value, count, fact, several, span, words
from scorer.geodesy.arrays import Point
from scorer.geodesy.mark import Mark, mark_at
from scorer.geodesy.precision import Covariance
from scorer.geodesy.site import Site, Somewhere
from scorer.tasks.geometry import round_covariance
from scorer.tasks.work import NoResult
from scorer.tracks.flown import Flown, LogMark

STRAY_M_S2 = 0.05
"""Acceleration by which a balloon may leave the straight line between two fixes: half-way
through a pause of 10 s it strays 0.6 m, of 60 s 22 m.  Our choice."""

_PLAIN = re.compile(r"\s*(?:mark|m|#)?\s*(\d{1,6})\s*", re.IGNORECASE)


class AtTime(NamedTuple):
    """A track at one moment, between two fixes in proportion to time."""

    point: Point
    covariance: Covariance
    altitude_m: float
    """Above mean sea level; NaN where not recorded."""
    altitude_sigma_m: float
    pause_s: float
    """Between the fix before and the one after."""


def track_at(flown: Flown, time_s: float, receiver_m: float) -> AtTime | None:
    """Return where a track was at a time; None before its first fix and after its last.

    `receiver_m` is the sigma of each axis where the log states none.
    """
    time = flown.time_s
    if not len(time) or not time[0] <= time_s <= time[-1]:
        return None
    after = int(np.searchsorted(time, time_s))
    before = after if time[after] == time_s else after - 1

    def between(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> float:
        pair = slice(before, after + 1)
        return float(np.interp(time_s, time[pair], values[pair]))

    pause = float(time[after] - time[before])
    stray = STRAY_M_S2 * (time_s - time[before]) * (time[after] - time_s) / 2
    accuracy = between(flown.accuracy_m)
    sigma = math.hypot(receiver_m if math.isnan(accuracy) else accuracy, stray)
    point = (between(flown.east_m), between(flown.north_m))
    if not np.isfinite(point).all():
        return None
    return AtTime(
        point=point,
        covariance=round_covariance(float(sigma)),
        altitude_m=between(flown.altitude_m),
        altitude_sigma_m=between(flown.height_sigma_m),
        pause_s=pause,
    )


def mark_from_log(
    keying: Keying,
    flown: Flown | None,
    site: Site,
    target: Somewhere | None,
    *,
    wanted: str = "",
    log_gap_s: float = math.inf,
) -> tuple[Mark, float]:
    """Make a mark of a keying of method `log`; also return its time.

    A keyed time means the track at that time.  Without one the logger's own mark counts:
    the one that the keying's note names (its number or label), else `wanted`, else the
    only one there is.

    Raises
    ------
    NoResult
        No log, no such mark, several of that name, or a time the log does not cover.
    """
    if flown is None:
        raise NoResult(fact("mark-without-log"))
    moment = _moment(keying, flown, site, wanted)
    at = track_at(flown, moment.time_s, site.sigmas.latlon_m)
    point = moment.own or (at.point if at else None)
    if point is None:
        raise NoResult(fact("mark-outside-log"))
    steps = list(moment.steps)
    warnings: list[Fact] = []
    if moment.own is None and at is not None:
        steps.append(fact("mark-between-fixes"))
        if at.pause_s > log_gap_s:
            warnings.append(fact("mark-in-a-pause", pause=span(at.pause_s)))
    mark = mark_at(
        point,
        at.covariance if at else round_covariance(site.sigmas.latlon_m),
        site,
        target,
        method=Method.LOG,
        label=keying.mark,
        steps=tuple(steps),
        warnings=tuple(warnings),
    )
    return mark, moment.time_s


class _Moment(NamedTuple):
    """When a mark was made, and where, if the logger wrote that down beside it."""

    time_s: float
    own: Point | None
    steps: tuple[Step, ...]


def _moment(keying: Keying, flown: Flown, site: Site, wanted: str) -> _Moment:
    if keying.time_s is not None:
        return _Moment(keying.time_s, None, ())
    logged = find_logged(flown, keying.note or wanted)
    own = None
    if logged.lat_deg is not None and logged.lon_deg is not None:
        own = site.plane.to_plane(logged.lat_deg, logged.lon_deg)
    return _Moment(logged.time_s, own, (fact("logger-mark", name=words(logged.label)),))


def find_logged(flown: Flown, name: str) -> LogMark:
    """Return the logger's mark of that name; raise NoResult if there is not exactly one.

    A name is the mark's label, or its number: the number in its label or, where no label
    holds one, its place in the order of time.  An empty name means the only mark there is.
    """
    marks = sorted(flown.marks, key=lambda m: m.time_s)
    if not marks:
        raise NoResult(fact("log-without-marks"))
    found = _called(marks, name) if name else marks
    if len(found) == 1:
        return found[0]
    raise NoResult(_unclear(name, len(found), marks))


def _unclear(name: str, found: int, marks: Sequence[LogMark]) -> Fact:
    labels: Value = several(words(m.label) for m in marks[:12])
    if not name:
        return fact("logger-marks-several", marks=count(found), labels=labels)
    if not found:
        return fact("logger-mark-unknown", name=words(name), labels=labels)
    own = words(name)
    return fact("logger-marks-alike", marks=count(found), name=own, labels=labels)


def _called(marks: Sequence[LogMark], name: str) -> list[LogMark]:
    exact = [m for m in marks if m.label.strip().casefold() == name.strip().casefold()]
    number = _PLAIN.fullmatch(name)
    if exact or not number:
        return exact
    wanted = int(number[1])
    held = [[int(d) for d in re.findall(r"\d+", m.label)] for m in marks]
    if any(held):
        return [m for m, n in zip(marks, held, strict=True) if n == [wanted]]
    return list(marks[wanted - 1 : wanted]) if wanted else []
