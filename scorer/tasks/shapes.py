"""Task kinds with an angle or an area between three points or two.

ELB LRN ANG of the published model event rules.
"""

from collections.abc import Sequence
from itertools import combinations

from scorer.errors import InputError
from scorer.event.model import North
from scorer.facts import angle as turned
from scorer.facts import area as size
from scorer.facts import fact, length, term
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
from scorer.tasks.lengths import require_inside, surface_m
from scorer.tasks.points import Located, by_role, called, placed, reference
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
    turn = {"corner": turned(corner), "turn": turned(180.0 - corner)}
    work.say(fact("elbow-turned", **turn))
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
    sides = {"ab": length(ab), "bc": length(bc), "ac": length(ac)}
    work.say(fact("triangle", **sides, area=size(area / M2_PER_KM2)))
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
    leg = check_leg(work, start, at)
    if a == b:
        raise NoResult(fact("one-point", start=start.name, end=at.name))
    set_deg = _set_direction(work, a, leg.value)
    flown = bearing_deg(a, b)
    result = turn_deg(set_deg, flown)
    work.say(
        fact(
            "angle-to-direction",
            start=start.name,
            end=at.name,
            flown=turned(flown),
            set=turned(set_deg),
            angle=turned(result),
        )
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
        raise work.failed(error.says) from None
    if north is not North.GRID:
        counted = {"set": turned(degrees), "north": term(f"north-{north}")}
        work.say(fact("direction-on-the-grid", **counted, grid=turned(grid)))
    return grid


def _three(work: Work) -> tuple[Located, Located, Located]:
    a, b, c = (by_role(work, role) for role in "ABC")
    for role, at in zip("ABC", (a, b, c), strict=True):
        if at.mark is not None and at.name == called(role):
            require_inside(work, at, work.evidence.task.scoring_areas)
    return a, b, c


def _check_legs(work: Work, *legs: Sequence[Located]) -> None:
    for start, end in legs:
        if check_leg(work, start, end).value == 0.0:
            raise NoResult(fact("one-point", start=start.name, end=end.name))


def _covariances(points: Sequence[Located]) -> list[Covariance]:
    return [at.covariance for at in points]
