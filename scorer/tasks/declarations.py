"""Declared goals: what they mean, whether they are valid, and what being late costs.

Nothing is guessed in silence.  A declaration that cannot be understood, or could mean two
things, is not valid and a warning says what to do.  Coordinates stand for themselves unless
the book sets a radius: then they mean the goal near them, as the published event rules of
2000 have it (several near them: the least advantageous; none: no result).
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

import numpy as np

from scorer.checks.charge import charge, sums
from scorer.errors import GeometryError, closest
from scorer.event import matters, place_kinds
from scorer.event.finding import Drawing, Finding, Verdict, finding_kind
from scorer.event.model import Declaration
from scorer.facts import (
    Fact,
    Value,
    count,
    fact,
    height,
    inner,
    length,
    moment,
    place,
    several,
    span,
    term,
    words,
)
from scorer.geodesy.arrays import Point
from scorer.geodesy.mark import coordinates
from scorer.geodesy.placed import Spot
from scorer.geodesy.precision import error_ellipse
from scorer.tasks.coordinates import read_point
from scorer.tasks.lengths import NEAR_SIGMAS, over, under
from scorer.tasks.points import Located, at_time, launch_or_none, placed
from scorer.tasks.work import NoResult, Work

LATE_DECLARATION = finding_kind(
    "late-declaration",
    rule="declarations.late_penalty",
    unit="s",
    picture=Drawing.MAP,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeclaredGoal:
    """A valid declared goal."""

    name: str
    """As declared."""
    spots: tuple[Spot, ...]
    """What it means; with several, the one counts that is worst for the pilot."""
    height_m: float | None
    """Declared height above mean sea level."""
    declaration: Declaration


class Invalid(Exception):
    """A declaration that gives no goal; the fact says why."""

    def __init__(self, says: Fact) -> None:
        super().__init__(says)
        self.says = says


def declared_goals(work: Work, drop_s: float | None) -> tuple[DeclaredGoal, ...]:
    """Return the valid goals of a pilot, charging what is late; warn of the others.

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
            why = inner(fault.says)
            _warn(work, fact("goal-not-valid", goal=_goal_of(declaration), why=why))
            continue
        goals.append(goal)
        late.append((_late_s(work, declaration, drop_s), declaration))
    if not goals:
        raise NoResult(fact("no-valid-goal"))
    _find_late(work, *max(late, key=lambda pair: pair[0]))
    return tuple(goals)


def _counted(work: Work) -> tuple[Declaration, ...]:
    """Return the declarations that count where a pilot made more than allowed."""
    given = work.evidence.declarations
    most = work.settings["goals"]
    if not given:
        raise NoResult(fact("no-goal-declared"))
    if len(given) <= most:
        return given
    which = work.settings["extra_goals"]
    goals = {"declared": count(len(given)), "most": count(most)}
    if which is None:
        raise work.failed(fact("too-many-goals", **goals), matters.DECLARATION)
    work.say(fact("goals-that-count", **goals, which=term(f"goals-{which}")))
    return given[:most] if which == "first" else given[-most:]


def _goal(work: Work, declaration: Declaration) -> DeclaredGoal:
    if not declaration.goal:
        raise Invalid(fact("goal-empty"))
    known = _allowed(work)
    spot = _named(declaration.goal, known)
    if spot is not None and work.settings["declare_as"] == "coordinates":
        raise Invalid(fact("goal-must-be-coordinates"))
    spots = (spot,) if spot else _from_coordinates(work, declaration, known)
    goal = DeclaredGoal(
        name=declaration.goal,
        spots=spots,
        height_m=declaration.height_m,
        declaration=declaration,
    )
    _check_distances(work, goal)
    said = {"goal": _goal_of(declaration), "means": several(map(_placed, spots))}
    if goal.height_m is None:
        work.say(fact("declared-goal", **said))
    else:
        up = height(goal.height_m)
        work.say(fact("declared-goal-at-height", **said, height=up))
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
        if kinds.get(name, place_kinds.GOAL).goal
    }


def _named(text: str, known: dict[str, Spot]) -> Spot | None:
    folded = {name.casefold(): spot for name, spot in known.items()}
    return folded.get(" ".join(text.split()).casefold())


def _from_coordinates(
    work: Work, declaration: Declaration, known: dict[str, Spot]
) -> tuple[Spot, ...]:
    text, radius_m = declaration.goal, work.evidence.book.declarations.radius_m
    if work.settings["declare_as"] == "name":
        raise Invalid(_near(fact("goal-unknown", goals=_listed(known)), text, known))
    try:
        fix = read_point(text, work.evidence.site.plane, middle(work))
    except GeometryError as fault:
        raise Invalid(_near(fault.says, text, known)) from None
    if fix.doubt:
        raise Invalid(fix.doubt)
    work.say(fact("coordinates-read", text=words(text), how=inner(fix.how)))
    if radius_m is None:
        if work.settings["goal_places"]:
            raise Invalid(fact("goal-must-be-named", goals=_listed(known)))
        return (work.evidence.site.spot_at(fix.point, name=text),)
    return _meant(work, fix.point, known.values(), radius_m)


def _meant(
    work: Work, point: Point, known: Iterable[Spot], radius_m: float
) -> tuple[Spot, ...]:
    """Return the goals that coordinates mean: those within the book's radius."""
    rules, site = work.evidence.book.declarations, work.evidence.site
    apart = sorted((site.distance_m(point, s), s.name, s) for s in known)
    within = [
        (distance, spot) for distance, _, spot in apart if not over(distance, radius_m)
    ]
    if not within:
        radius = length(radius_m)
        if not apart:
            raise Invalid(fact("no-goal-within", radius=radius))
        away, name, _ = apart[0]
        nearest = {"nearest": place(name), "away": length(away)}
        raise Invalid(fact("no-goal-within-but", radius=radius, **nearest))
    for distance, spot in within:
        away_from = {"goal": place(spot.name), "away": length(distance)}
        work.say(fact("goal-near-coordinates", **away_from))
    if len(within) == 1 or rules.several == "nearest":
        return (within[0][1],)
    names = _listed([spot.name for _, spot in within])
    if rules.several == "least-advantageous":
        work.say(fact("several-goals-meant", goals=names))
        return tuple(spot for _, spot in within)
    if rules.several:
        raise Invalid(fact("goal-ambiguous", goals=names))
    raise Invalid(fact("goal-ambiguous-unanswered", goals=names))


def middle(work: Work) -> Point:
    """Return the middle of the task's targets, else of all places of the event."""
    site = work.evidence.site
    named = [n for n in work.evidence.task.targets if n in site.spots]
    points = [site.spots[n].point for n in named] or [
        spot.point for spot in site.spots.values()
    ]
    points = points or [(a.centroid.x, a.centroid.y) for a in site.areas.values()]
    if not points:
        raise Invalid(fact("no-place-for-figures"))
    east, north = np.asarray(points, dtype=float).mean(axis=0)
    return (float(east), float(north))


def _check_distances(work: Work, goal: DeclaredGoal) -> None:
    """Check the goal's distance from where it was declared and from the launch."""
    book = work.evidence.book.declarations
    if book.least_distance_m is not None:
        start = _declared_at(work, goal.declaration)
        least = (book.least_distance_m, None)
        _check_far(work, goal, start, term("place-of-declaration"), least)
    limits = (work.settings["least_distance"], work.settings["most_distance"])
    if limits != (None, None):
        from_launch = work.settings["limits_from"] == "launch"
        start = (
            launch_or_none(work)
            if from_launch
            else _declared_at(work, goal.declaration)
        )
        what = term("launch" if from_launch else "place-of-declaration")
        _check_far(work, goal, start, what, limits)


def _check_far(
    work: Work,
    goal: DeclaredGoal,
    start: Located | None,
    what: Value,
    limits: tuple[float | None, float | None],
) -> None:
    if start is None:
        named = _goal_of(goal.declaration)
        _warn(work, fact("goal-distance-unknown", goal=named, start=what))
        return
    least, most = limits
    for spot in goal.spots:
        distance = work.evidence.site.distance_m(placed(work, start), spot)
        said = {"goal": place(spot.name), "away": length(distance), "start": what}
        if least is not None and under(distance, least):
            raise Invalid(fact("goal-too-near", **said, least=length(least)))
        if most is not None and over(distance, most):
            raise Invalid(fact("goal-too-far", **said, most=length(most)))
        work.say(fact("goal-distance", **said))
        slack = NEAR_SIGMAS * error_ellipse(start.covariance).major_m
        edges = [edge for edge in limits if edge is not None]
        if any(abs(distance - edge) < slack for edge in edges):
            _warn(work, fact("goal-near-limit", **said))


def _declared_at(work: Work, declaration: Declaration) -> Located | None:
    """Return where a goal was declared: as entered, else by the log at that time."""
    site = work.evidence.site
    if declaration.place:
        spot = _named(declaration.place, dict(site.spots))
        if spot is not None:
            return Located(name=place(spot.name), point=spot.point)
        try:
            fix = read_point(declaration.place, site.plane, middle(work))
            return Located(name=words(declaration.place), point=fix.point)
        except GeometryError:
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
        _warn(work, fact("goal-without-time", goal=_goal_of(declaration)))
        return 0.0
    return max(declaration.time_s - limit, 0.0)


def _limit_s(work: Work, drop_s: float | None) -> float | None:
    """Return the latest moment of declaring, where the task sets one."""
    limit = work.settings["declare_by"]
    if limit is None or isinstance(limit, float):
        return limit
    if limit == "launch":
        start = launch_or_none(work)
        due = None if start is None else start.time_s
    else:
        due = drop_s
    if due is None:
        _warn(work, fact("goals-due-unknown", moment=term(limit)))
    return due


def _find_late(work: Work, late_s: float, declaration: Declaration) -> None:
    """Find the latest of the goals late; they come in on one sheet."""
    if late_s <= 0:
        return
    evidence = work.evidence
    task, penalties = evidence.task, evidence.book.declarations.late_penalty
    work.say(fact("goal-late", late=span(late_s)))
    amounts = charge(penalties, late_s)
    declared_s = declaration.time_s or 0.0
    finding = Finding(
        kind=LATE_DECLARATION,
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
        evidence=declaration.named,
        penalty=amounts[0] if amounts else None,
        also=amounts[1:],
        sums=sums(penalties, late_s),
        rule=evidence.book.cite("declarations.late_penalty"),
        says=fact(
            "declared-late",
            declared=moment(declared_s),
            due=moment(declared_s - late_s),
            late=span(late_s),
        ),
    )
    work.findings.append(finding)


def _warn(work: Work, says: Fact) -> None:
    work.warn(says, matters.DECLARATION)


def _goal_of(declaration: Declaration) -> Value:
    return words(declaration.goal)


def _placed(spot: Spot) -> Value:
    at = inner(coordinates(spot.point))
    return inner(fact("goal-at", goal=place(spot.name), at=at))


def _listed(names: Collection[str]) -> Value:
    """Return goals by name, a dozen at most."""
    return several(place(name) for name in list(names)[:12])


def _near(says: Fact, text: str, known: Iterable[str]) -> Fact:
    """Add the goal that was meant, perhaps."""
    near = closest(text, known)
    if not near:
        return says
    return fact("perhaps-meant", what=inner(says), goal=place(near))
