"""Entering prohibited airspace: by place alone, or by place and altitude.

How deep a fix lies in it is the least of three: the way to the outline, to the lower and
to the upper limit.  Each has its own uncertainty, and the least sure of them decides.
Altitudes are above mean sea level, from the terrain under the fix and the height above it.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.checks.base import (
    Circumstances,
    FindingNumbers,
    Scope,
    Seen,
    check,
    finding_of,
    in_air,
    verdict_of,
)
from scorer.checks.edges import accuracy_m, depth_inside_m
from scorer.checks.excursion import Excursion, excursions
from scorer.checks.stays import Area, Array
from scorer.event import place_kinds
from scorer.event.finding import Drawing, Finding, finding_kind
from scorer.event.model import Place
from scorer.facts import chance, fact, height, inner, span, words
from scorer.facts import place as place_value
from scorer.tracks.flown import Flown

AIRSPACE = finding_kind(
    "airspace",
    rule="airspace.tolerance",
    picture=Drawing.ALTITUDE,
    around=place_kinds.PROHIBITED,
)

STEP_S = 1.0
"""Sparser tracks are filled in, straight between fixes, so that no corner is missed."""
NEAR_SIGMAS = 3.0


class TrackPart(NamedTuple):
    """The part of a track near an airspace, on its own times; arrays are (K,)."""

    time_s: Array
    east_m: Array
    north_m: Array
    altitude_m: Array
    across_m: Array
    """One sigma of the place."""
    upright_m: Array
    """One sigma of the altitude."""


@check("airspace", Scope.FLIGHT)
def check_airspace(flown: Flown, about: Circumstances) -> Seen:
    """Find where the pilot was, or may have been, in prohibited airspace."""
    found: list[Finding] = []
    for place in about.prohibited:
        part = _near(flown, about.site.area(place.name))
        if part is None:
            continue
        depth, margin = _depth(part, place, about)
        for stay in excursions(part.time_s, depth, margin):
            found.append(_finding(stay, part, place, flown, about))
    return Seen(findings=tuple(sorted(found, key=lambda f: f.from_s)))


def _near(flown: Flown, area: Area) -> TrackPart | None:
    """Cut out what is near the box around an area and fill it in."""
    air = in_air(flown)
    across = accuracy_m(flown)[air]
    west, south, east, north = area.bounds
    e, n, time = flown.east_m[air], flown.north_m[air], flown.time_s[air]
    if not len(time):
        return None
    room = NEAR_SIGMAS * float(across.max())
    e0, e1, n0, n1 = e[:-1], e[1:], n[:-1], n[1:]
    legs = (np.maximum(e0, e1) > west - room) & (np.minimum(e0, e1) < east + room)
    legs &= (np.maximum(n0, n1) > south - room) & (np.minimum(n0, n1) < north + room)
    where = np.flatnonzero(legs)
    if not where.size:
        return None
    grid = _filled(time, where)
    columns = (
        e,
        n,
        flown.altitude_m[air],
        across,
        np.maximum(flown.height_sigma_m[air], 0.05),
    )
    return TrackPart(grid, *(np.interp(grid, time, column) for column in columns))


def _filled(time: Array, legs: NDArray[np.int64]) -> Array:
    """Return the times of the legs' ends with steps of at most `STEP_S` between."""
    starts, ends = time[legs], time[legs + 1]
    pieces = np.maximum(np.ceil((ends - starts) / STEP_S), 1.0).astype(int)
    leg = np.repeat(np.arange(len(legs)), pieces)
    step = np.arange(len(leg)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    inner = starts[leg] + (ends - starts)[leg] * step / pieces[leg]
    return np.unique(np.concatenate((inner, ends)))


def _depth(part: TrackPart, place: Place, about: Circumstances) -> tuple[Array, Array]:
    """Return the depth inside, metres, and the margin beyond the tolerance, sigmas."""
    let_pass = about.book.airspace.tolerance_m
    depth = depth_inside_m(about.site.area(place.name), part.east_m, part.north_m)
    margin = (depth - let_pass) / part.across_m
    for limit, sign in ((place.lower_m, 1.0), (place.upper_m, -1.0)):
        if limit is not None:
            inner = sign * (part.altitude_m - limit)
            depth = np.minimum(depth, inner)
            margin = np.minimum(margin, (inner - let_pass) / part.upright_m)
    return depth, margin


def _finding(
    stay: Excursion, part: TrackPart, place: Place, flown: Flown, about: Circumstances
) -> Finding:
    limited = place.lower_m is not None or place.upper_m is not None
    verdict = verdict_of(stay.probability, sure=flown.anchored or not limited)
    depth = max(stay.depth_m, 0.0)
    altitude = float(part.altitude_m[stay.deepest])
    at = int(np.searchsorted(flown.time_s, part.time_s[stay.deepest]))
    across, upright = part.across_m[stay.deepest], part.upright_m[stay.deepest]
    measure = FindingNumbers(
        kind=AIRSPACE,
        verdict=verdict,
        probability=stay.probability,
        from_s=stay.start_s,
        to_s=stay.end_s,
        measured=depth,
        limit=0.0,
        excess=depth,
        sigma=float(max(across, upright) if limited else across),
        at=min(at, len(flown) - 1),
        rule=fact(
            "rule-prohibited",
            place=words(place.name),
            tolerance=inner(about.book.cite("airspace.tolerance")),
        ),
        says=fact(
            "seen-airspace",
            depth=height(depth),
            place=place_value(place.name),
            duration=span(stay.end_s - stay.start_s),
            altitude=height(altitude),
            sure=chance(stay.probability),
        ),
        details={"altitude_m": altitude, "place": place.name},
    )
    return finding_of(measure, about.book.airspace.penalty, flown, about)
