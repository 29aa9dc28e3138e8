"""Task kinds with an angle or an area between three points or two.

ELB LRN ANG of the published model event rules.
"""

from collections.abc import Sequence
from itertools import combinations

from scorer.errors import InputError
from scorer.event.model import North
from scorer.geodesy.arrays import Point
from scorer.geodesy.precision import Covariance
from scorer.tasks.base import Quantity
from scorer.tasks.choice import one_mark
from scorer.tasks.geometry import (
    bearing_deg,
    corner_deg,
    propagate,
    signed_corner_deg,
    signed_triangle_m2,
    triangle_m2,
    turn_deg,
)
from scorer.tasks.lengths import distance, require_inside, surface_m
from scorer.tasks.points import Located, by_role, placed, reference
from scorer.tasks.spans import check_leg
from scorer.tasks.work import NoResult, Work

M2_PER_KM2 = 1e6
_NORTHS = {"": North.GRID, "T": North.TRUE, "M": North.MAGNETIC}


def elbow(work: Work) -> Quantity:
    """ELB: 180° minus the angle ABC, greatest; a straight flight gives 0."""
    points = _three(work)
    _check_legs(work, points[:2], points[1:])
    places = [placed(work, at) for at in points]
    corner = corner_deg(*places)
    work.say(f"angle ABC = {corner:.4f}°; 180° − {corner:.4f}° = {180 - corner:.4f}°")
    sigma = propagate(
        lambda moved: signed_corner_deg(*moved), places, _covariances(points), 360.0
    )
    return Quantity(180.0 - corner, sigma)


def land_run(work: Work) -> Quantity:
    """LRN: area of the triangle ABC in square kilometres, greatest.

    From its three sides on the event's surface, so it is an area on the ground where
    distances are.
    """
    points = _three(work)
    _check_legs(work, points[:2], points[1:])
    ab, ac, bc = (surface_m(work, *pair) for pair in combinations(points, 2))
    area = triangle_m2(ab, bc, ac)
    work.say(
        f"sides {ab:.1f} m, {bc:.1f} m, {ac:.1f} m; area by Heron's formula "
        f"{area / M2_PER_KM2:.6f} km²"
    )
    places = [placed(work, at) for at in points]
    sigma = propagate(
        lambda moved: signed_triangle_m2(*moved), places, _covariances(points)
    )
    return Quantity(area / M2_PER_KM2, sigma / M2_PER_KM2)


def angle(work: Work) -> Quantity:
    """ANG: angle between the set direction and the line A-B, greatest."""
    start = reference(work)
    besides = start.mark.label.upper() if start.mark is not None else ""

    def value(at: Located) -> Quantity:
        require_inside(work, at, work.evidence.task.scoring_areas)
        return _angle_to(work, start, at)

    return one_mark(work, value, best="greatest", besides=besides)


def _angle_to(work: Work, start: Located, at: Located) -> Quantity:
    a, b = placed(work, start), placed(work, at)
    leg = distance(work, start, at)
    check_leg(work, leg, f"{start.name} to {at.name}")
    if a == b:
        raise NoResult(f"{at.name} lies on {start.name}: no line, no angle")
    set_deg = _set_direction(work, a, leg.value)
    flown = bearing_deg(a, b)
    result = turn_deg(set_deg, flown)
    work.say(
        f"line {start.name} to {at.name} {flown:.4f}° grid, set direction "
        f"{set_deg:.4f}° grid: angle {result:.4f}°"
    )
    sigma = propagate(
        lambda moved: bearing_deg(*moved), (a, b), _covariances((start, at)), 360.0
    )
    return Quantity(result, sigma)


def _set_direction(work: Work, start: Point, length_m: float) -> float:
    """Turn the set direction into a grid bearing at the start of the line."""
    degrees, letter = work.settings["direction"]
    north = _NORTHS[letter]
    try:
        grid = work.evidence.site.grid_bearing_deg(start, degrees, north, length_m)
    except InputError as error:
        work.warn(str(error))
        raise NoResult(
            "the set direction cannot be turned into a grid bearing"
        ) from None
    if north is not North.GRID:
        work.say(f"set direction {degrees:g}° {north} north = {grid:.4f}° grid")
    return grid


def _three(work: Work) -> tuple[Located, Located, Located]:
    a, b, c = (by_role(work, role) for role in "ABC")
    for at in (a, b, c):
        if at.mark is not None and at.name.startswith("mark"):
            require_inside(work, at, work.evidence.task.scoring_areas)
    return a, b, c


def _check_legs(work: Work, *legs: Sequence[Located]) -> None:
    for start, end in legs:
        leg = distance(work, start, end)
        check_leg(work, leg, f"{start.name} to {end.name}")
        if leg.value == 0.0:
            raise NoResult(f"{start.name} and {end.name} are one point")


def _covariances(points: Sequence[Located]) -> list[Covariance]:
    return [at.covariance for at in points]
