"""Declared goals: what they mean, whether they are valid, and what being late costs.

Nothing is guessed in silence.  A declaration that cannot be understood, or could mean two
things, is not valid and a warning says what to do.  Coordinates stand for themselves unless
the book sets a radius: then they mean the goal near them, as the published event rules of
2000 have it (several near them: the least advantageous; none: no result).
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from scorer.checks.charge import charge, sums
from scorer.errors import nearest
from scorer.event import matters
from scorer.event.finding import Finding, FindingKind, Verdict
from scorer.event.model import Declaration, PlaceKind
from scorer.facts import plain
from scorer.geodesy.arrays import Point
from scorer.geodesy.places import Spot
from scorer.geodesy.precision import error_ellipse
from scorer.tasks.coordinates import read_point
from scorer.tasks.lengths import NEAR_SIGMAS
from scorer.tasks.points import Located, at_time, launch_or_none, placed
from scorer.tasks.work import NoResult, Work
from scorer.units import Unreadable

GOAL_KINDS = frozenset({PlaceKind.GOAL, PlaceKind.TARGET})


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """A valid declared goal."""

    name: str
    """As declared."""
    spots: tuple[Spot, ...]
    """What it means; with several, the one counts that is worst for the pilot."""
    height_m: float | None
    """Declared height above mean sea level."""
    declaration: Declaration


class Invalid(Exception):
    """A declaration that gives no goal; the text says why."""


def declared_goals(work: Work, drop_s: float | None) -> tuple[Goal, ...]:
    """Return the valid goals of a pilot, charging what is late; warn about the others.

    `drop_s` is when the pilot's first mark fell, where that is known.

    Raises
    ------
    NoResult
        No declaration at all, too many of them, or none that is valid.
    """
    declarations = _counted(work)
    goals, late = [], []
    for declaration in declarations:
        try:
            goal = _goal(work, declaration)
        except Invalid as fault:
            _warn(work, f"declared goal {_quoted(declaration)} is not valid: {fault}")
            continue
        goals.append(goal)
        late.append((_late_s(work, declaration, drop_s), declaration))
    if not goals:
        raise NoResult("no valid declared goal")
    _find_late(work, *max(late, key=lambda pair: pair[0]))
    return tuple(goals)


def _counted(work: Work) -> tuple[Declaration, ...]:
    """Return the declarations that count where a pilot made more than allowed."""
    given = work.evidence.declarations
    most = work.settings["goals"]
    if not given:
        raise NoResult("no goal declared")
    if len(given) <= most:
        return given
    which = work.settings["extra_goals"]
    said = f"{len(given)} goals declared, at most {most} allowed"
    if which == "first":
        work.say(f"{said}: the first count")
        return given[:most]
    if which == "last":
        work.say(f"{said}: the last count")
        return given[-most:]
    _warn(
        work,
        f"{said}; the task does not say which count: set extra_goals to first or last, "
        "or strike the others",
    )
    raise NoResult(said)


def _goal(work: Work, declaration: Declaration) -> Goal:
    if not declaration.goal:
        raise Invalid("it names no goal and gives no coordinates")
    known = _allowed(work)
    spot = _named(declaration.goal, known)
    if spot is not None and work.settings["declare_as"] == "coordinates":
        raise Invalid("this task wants coordinates, not a named goal")
    spots = (spot,) if spot else _from_coordinates(work, declaration, known)
    goal = Goal(
        name=declaration.goal,
        spots=spots,
        height_m=declaration.height_m,
        declaration=declaration,
    )
    _check_distances(work, goal)
    height = "" if goal.height_m is None else f" at {work.length(goal.height_m, 1)}"
    means = " or ".join(_placed(s) for s in spots)
    work.say(f"declared goal {_quoted(declaration)}{height}: {means}")
    return goal


def _allowed(work: Work) -> dict[str, Spot]:
    """Return the goals that may be declared, by name."""
    site, listed = work.evidence.site, work.settings["goal_places"]
    if listed:
        return {name: site.spot(name) for name in listed}
    kinds = {name: place.kind for name, place in work.evidence.places.items()}
    return {
        name: spot
        for name, spot in site.spots.items()
        if kinds.get(name, PlaceKind.GOAL) in GOAL_KINDS
    }


def _named(text: str, known: dict[str, Spot]) -> Spot | None:
    folded = {name.casefold(): spot for name, spot in known.items()}
    return folded.get(" ".join(text.split()).casefold())


def _from_coordinates(
    work: Work, declaration: Declaration, known: dict[str, Spot]
) -> tuple[Spot, ...]:
    text, radius_m = declaration.goal, work.evidence.book.declarations.radius_m
    if work.settings["declare_as"] == "name":
        raise Invalid(f"it is none of the goals. {_listed(text, known)}".strip())
    try:
        fix = read_point(text, work.evidence.site.plane, middle(work))
    except Unreadable as fault:
        hint = nearest(text, known)
        raise Invalid(f"{fault}. {hint}".strip()) from None
    if fix.doubt:
        raise Invalid(f"{fix.doubt}; enter the full coordinates")
    work.say(f"coordinates {text}: {fix.how}")
    if radius_m is None:
        if work.settings["goal_places"]:
            raise Invalid(f"a named goal is needed. {_listed(text, known)}".strip())
        return (work.evidence.site.spot_at(fix.point, name=text),)
    return _meant(work, fix.point, known.values(), radius_m)


def _meant(
    work: Work, point: Point, known: Iterable[Spot], radius_m: float
) -> tuple[Spot, ...]:
    """Return the goals that coordinates mean: those within the book's radius."""
    rules, site = work.evidence.book.declarations, work.evidence.site
    apart = sorted((site.distance_m(point, s), s.name, s) for s in known)
    within = [(distance, spot) for distance, _, spot in apart if distance <= radius_m]
    if not within:
        least = f"; the nearest is {_near(work, apart[0])}" if apart else ""
        raise Invalid(f"no goal within {work.length(radius_m)} of it{least}")
    for distance, spot in within:
        work.say(f"{spot.name} is {work.length(distance)} from the coordinates")
    if len(within) == 1 or rules.several == "nearest":
        return (within[0][1],)
    names = ", ".join(spot.name for _, spot in within)
    if rules.several == "least-advantageous":
        work.say(f"several goals meant ({names}): the least advantageous counts")
        return tuple(spot for _, spot in within)
    ask = (
        "" if rules.several else "; the book does not say which (declarations.several)"
    )
    raise Invalid(f"it could mean {names}{ask}")


def _near(work: Work, entry: tuple[float, str, Spot]) -> str:
    return f"{entry[1]} at {work.length(entry[0])}"


def middle(work: Work) -> Point:
    """Return the middle of the task's targets, else of all places of the event."""
    site = work.evidence.site
    named = [n for n in work.evidence.task.targets if n in site.spots]
    points = [site.spots[n].point for n in named] or [
        spot.point for spot in site.spots.values()
    ]
    points = points or [(a.centroid.x, a.centroid.y) for a in site.areas.values()]
    if not points:
        raise Invalid("the event has no place that says where its grid figures belong")
    east, north = np.asarray(points, dtype=float).mean(axis=0)
    return (float(east), float(north))


def _check_distances(work: Work, goal: Goal) -> None:
    """Check the goal's distance from where it was declared and from the launch."""
    book = work.evidence.book.declarations
    if book.least_distance_m is not None:
        start = _declared_at(work, goal.declaration)
        _check_far(
            work, goal, start, "where it was declared", (book.least_distance_m, None)
        )
    limits = (work.settings["least_distance"], work.settings["most_distance"])
    if limits != (None, None):
        from_launch = work.settings["limits_from"] == "launch"
        start = (
            launch_or_none(work)
            if from_launch
            else _declared_at(work, goal.declaration)
        )
        what = "the launch" if from_launch else "where it was declared"
        _check_far(work, goal, start, what, limits)


def _check_far(
    work: Work,
    goal: Goal,
    start: Located | None,
    what: str,
    limits: tuple[float | None, float | None],
) -> None:
    if start is None:
        _warn(
            work,
            f"the distance of goal {_quoted(goal.declaration)} from {what} cannot be "
            "checked: neither the log nor an entry says where that was",
        )
        return
    least, most = limits
    for spot in goal.spots:
        distance = work.evidence.site.distance_m(placed(work, start), spot)
        said = f"{spot.name} is {work.length(distance)} from {what}"
        if least is not None and distance < least:
            raise Invalid(f"too near: {said}, at least {work.length(least)} is asked")
        if most is not None and distance > most:
            raise Invalid(f"too far: {said}, at most {work.length(most)} is allowed")
        work.say(said)
        slack = NEAR_SIGMAS * error_ellipse(start.covariance).major_m
        edges = [edge for edge in limits if edge is not None]
        if any(abs(distance - edge) < slack for edge in edges):
            _warn(work, f"{said}, too near the limit for its uncertainty: look at it")


def _declared_at(work: Work, declaration: Declaration) -> Located | None:
    """Return where a goal was declared: as entered, else by the log at that time."""
    site = work.evidence.site
    if declaration.place:
        spot = _named(declaration.place, dict(site.spots))
        if spot is not None:
            return Located(name=spot.name, point=spot.point)
        try:
            fix = read_point(declaration.place, site.plane, middle(work))
            return Located(name=declaration.place, point=fix.point)
        except Unreadable:
            pass  # `place` may say in words where the sheet was handed in
    start = launch_or_none(work)
    if declaration.time_s is None:
        return start
    launched_s = None if start is None else start.time_s
    if launched_s is not None and declaration.time_s <= launched_s:
        return start
    return at_time(work, declaration.time_s)


def _late_s(work: Work, declaration: Declaration, drop_s: float | None) -> float:
    """Return by how many seconds a declaration is late; 0 = in time or no limit."""
    limit = _limit_s(work, drop_s)
    if limit is None:
        return 0.0
    if declaration.time_s is None:
        _warn(
            work,
            f"goal {_quoted(declaration)} has no time: whether it was declared in time "
            "cannot be told; enter the time",
        )
        return 0.0
    return max(declaration.time_s - limit, 0.0)


def _limit_s(work: Work, drop_s: float | None) -> float | None:
    """Return the latest moment of declaring, where the task sets one."""
    limit = work.settings["declare_by"]
    if limit is None or isinstance(limit, float):
        return limit
    if limit == "launch":
        start = launch_or_none(work)
        moment = None if start is None else start.time_s
    else:
        moment = drop_s
    if moment is None:
        _warn(work, f"goals are due by the {limit}, but its time is not known")
    return moment


def _find_late(work: Work, late_s: float, declaration: Declaration) -> None:
    """Find the latest of the goals late; they come in on one sheet."""
    if late_s <= 0:
        return
    evidence = work.evidence
    task, penalties = evidence.task, evidence.book.declarations.late_penalty
    said = f"goal declared {late_s:.0f} s late"
    work.say(said)
    amounts = charge(penalties, late_s)
    declared_s = declaration.time_s or 0.0
    line = declaration.origin.line
    where = declaration.origin.where or "declaration"
    finding = Finding(
        kind=FindingKind.LATE_DECLARATION,
        flight=task.flight,
        task=task.number,
        pilot=evidence.pilot,
        verdict=Verdict.CERTAIN,
        probability=1.0,
        from_s=declared_s - late_s,
        to_s=declared_s,
        measured=late_s,
        limit=0.0,
        unit="s",
        excess=late_s,
        duration_s=late_s,
        sigma=0.0,
        evidence=where if line is None else f"{where} line {line}",
        penalty=amounts[0] if amounts else None,
        also=amounts[1:],
        sums=sums(penalties, late_s),
        rule=evidence.book.cite("declarations.late_penalty"),
        says=plain(
            f"Declared at {work.clock(declared_s)}, due by "
            f"{work.clock(declared_s - late_s)}: {late_s:.0f} s late."
        ),
    )
    work.findings.append(finding)


def _warn(work: Work, text: str) -> None:
    work.warn(text, matters.DECLARATION)


def _quoted(declaration: Declaration) -> str:
    return f'"{declaration.goal}"'


def _placed(spot: Spot) -> str:
    return f"{spot.name} (east {spot.point[0]:.1f}, north {spot.point[1]:.1f})"


def _listed(text: str, known: dict[str, Spot]) -> str:
    names = ", ".join(list(known)[:12]) or "none"
    return f"Goals: {names}. {nearest(text, known)}"
