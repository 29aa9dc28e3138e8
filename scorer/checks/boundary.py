"""Leaving the boundary that pilots must stay within, from launch to landing."""

import numpy as np

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
from scorer.checks.stays import Area, Array, inside
from scorer.event.finding import Finding, finding_kind
from scorer.facts import chance, fact, height, place, span
from scorer.tracks.flown import Flown

BOUNDARY = finding_kind("boundary", rule="boundary.within")

WELL_INSIDE_M = 100.0
"""Fixes farther inside than this are not measured."""


@check("boundary", Scope.FLIGHT)
def check_boundary(flown: Flown, about: Circumstances) -> Seen:
    """Find where the pilot left, or may have left, the boundary."""
    name = about.book.boundary.within
    if name is None:
        return Seen()
    air = in_air(flown)
    sigma = accuracy_m(flown)[air]
    outside = _outside_m(about.site.area(name), flown.east_m[air], flown.north_m[air])
    found = (
        _finding(e, air.start, float(sigma[e.deepest]), flown, about)
        for e in excursions(flown.time_s[air], outside, outside / sigma)
    )
    return Seen(findings=tuple(found))


def _outside_m(area: Area, east: Array, north: Array) -> Array:
    """Return the distance outside, (N,), negative inside; well inside is only bounded."""
    core = area.buffer(-WELL_INSIDE_M)
    outside = np.full(len(east), -WELL_INSIDE_M)
    if not core.is_empty:
        near = ~inside(core, east, north)
    else:
        near = np.ones(len(east), dtype=bool)
    if near.any():
        outside[near] = -depth_inside_m(area, east[near], north[near])
    return outside


def _finding(
    stay: Excursion, start: int, sigma: float, flown: Flown, about: Circumstances
) -> Finding:
    name = about.book.boundary.within
    depth = max(stay.depth_m, 0.0)
    measure = FindingNumbers(
        kind=BOUNDARY,
        verdict=verdict_of(stay.probability),
        probability=stay.probability,
        from_s=stay.start_s,
        to_s=stay.end_s,
        measured=depth,
        limit=0.0,
        excess=depth,
        sigma=sigma,
        at=start + stay.deepest,
        rule=about.book.cite("boundary.within"),
        says=fact(
            "seen-outside-boundary",
            depth=height(depth),
            place=place(name or ""),
            duration=span(stay.end_s - stay.start_s),
            sure=chance(stay.probability),
        ),
    )
    return finding_of(measure, about.book.boundary.penalty, flown, about)
