"""Task kinds with one mark and a distance to a goal: the nearer the better.

PDG JDG HWZ FIN FON HNH WSD GBM CRT of the published model event rules.
"""

from collections.abc import Sequence

import numpy as np

from scorer.event.model import Method, Period
from scorer.facts import Value, count, fact, inner, length, moment, several, words
from scorer.facts import distance as far
from scorer.facts import place as named
from scorer.tasks.base import Quantity
from scorer.tasks.choice import drops, one_mark
from scorer.tasks.declarations import DeclaredGoal, declared_goals
from scorer.tasks.lengths import distance, over, require_inside
from scorer.tasks.points import (
    Located,
    mark,
    moment_of,
    spot_located,
    target_at,
)
from scorer.tasks.work import NoResult, Work

SMALLEST = "smallest"


def to_targets(work: Work) -> Quantity:
    """JDG HWZ FIN HNH GBM: distance from the mark to the (nearest) target."""

    def value(at: Located) -> Quantity:
        require_inside(work, at, work.evidence.task.scoring_areas)
        return _nearest(work, at, _targets(work, at))

    return one_mark(work, value, best=SMALLEST)


def watership_down(work: Work) -> Quantity:
    """WSD: fly to the hare's launch point, then distance to the hare's target."""
    quantity = to_targets(work)
    _check_hare_launch(work)
    return quantity


def rate_of_approach(work: Work) -> Quantity:
    """CRT: distance to the target, in scoring areas valid in their own times only."""

    def value(at: Located) -> Quantity:
        areas = require_inside(work, at, work.evidence.task.scoring_areas)
        _check_window(work, at, areas)
        return _nearest(work, at, _targets(work, at))

    return one_mark(work, value, best=SMALLEST)


def _targets(work: Work, at: Located) -> list[Located]:
    """Return the task's targets where they stood as a mark fell."""
    names = work.evidence.task.targets
    return [target_at(work, name, at.time_s) for name in names]


def pilot_declared(work: Work) -> Quantity:
    """PDG, FON: distance from the mark to the nearest valid goal the pilot declared."""
    goals = declared_goals(work, _drop_s(work))

    def value(at: Located) -> Quantity:
        require_inside(work, at, work.evidence.task.scoring_areas)
        return _least(work, at, [_to_goal(work, at, goal) for goal in goals])

    return one_mark(work, value, best=SMALLEST)


def _drop_s(work: Work) -> float | None:
    """Return when the pilot's first mark fell, where goals are due by then."""
    if work.settings.get("declare_by") != "drop":
        return None
    times = []
    for role in drops(work):
        try:
            times.append(moment_of(work, mark(work, role))[0])
        except NoResult:
            continue
    return min(times, default=None)


def _to_goal(work: Work, at: Located, goal: DeclaredGoal) -> Quantity:
    """Measure to what a goal means; to the worst of it where that is several places."""
    ends = [
        spot_located(spot, goal.height_m, _goal_named(spot.name or goal.name))
        for spot in goal.spots
    ]
    return max((distance(work, at, end) for end in ends), key=lambda q: q.value)


def _goal_named(name: str) -> Value:
    return inner(fact("goal-named", goal=words(name)))


def _nearest(work: Work, at: Located, targets: Sequence[Located]) -> Quantity:
    """Measure to the nearest of several targets.

    A mark that is taped alone has a distance from one target only; that one counts, and
    people are told.
    """
    if at.point is None and len(targets) > 1:
        taped = [t for t in targets if t.point == at.taped_from]
        if taped:
            target = taped[0].name
            work.warn(fact("nearest-target-unknown", point=at.name, target=target))
            targets = taped
    return _least(work, at, [distance(work, at, target) for target in targets])


def _least(work: Work, at: Located, distances: Sequence[Quantity]) -> Quantity:
    nearest = min(distances, key=lambda q: q.value)
    if len(distances) > 1:
        targets = count(len(distances))
        work.say(fact("nearest-of", targets=targets, length=length(nearest.value)))
    _check_radius(work, at, nearest.value)
    return nearest


def _check_radius(work: Work, at: Located, away_m: float) -> None:
    """Compare how a mark was measured with the radius within which markers are taped."""
    radius = work.evidence.task.measuring_radius_m
    if radius is None or not over(away_m, radius):
        return
    said = {"point": at.name, "away": length(away_m), "radius": length(radius)}
    if work.settings.get("outside_radius") == "no result":
        raise NoResult(fact("outside-radius", **said))
    if at.mark is not None and at.mark.method in {Method.TAPE, Method.POLAR}:
        work.warn(fact("taped-outside-radius", **said))


def _check_window(work: Work, at: Located, areas: Sequence[str]) -> None:
    """Check that a mark fell while one of the areas it lies in was valid."""
    windows: dict[str, tuple[Period, ...]] = work.settings["windows"]
    periods = [p for area in areas for p in windows.get(area, ())]
    within = several(map(named, areas))
    if not periods:
        raise work.failed(fact("area-never-valid", areas=within))
    time_s, sigma = moment_of(work, at)
    _warn_if_close(work, at, time_s, sigma, periods)
    fell = {"point": at.name, "time": moment(time_s), "areas": within}
    valid = several(map(_period, periods))
    if not any(p.holds(time_s) for p in periods):
        raise NoResult(fact("fell-outside-window", **fell, valid=valid))
    work.say(fact("fell-within-window", **fell, valid=valid))


def _warn_if_close(
    work: Work, at: Located, time_s: float, sigma: float, periods: Sequence[Period]
) -> None:
    edges = np.array([(p.start_s, p.end_s) for p in periods])
    if sigma > 0 and np.abs(edges - time_s).min() < 2 * sigma:
        work.warn(fact("time-near-window", point=at.name))


def _period(period: Period) -> Value:
    start, end = moment(period.start_s), moment(period.end_s)
    return inner(fact("from-to", start=start, end=end))


def _check_hare_launch(work: Work) -> None:
    """Tell whether the track came near the hare's launch point first."""
    name, within_m = (work.settings[k] for k in ("hare_launch", "hare_launch_within"))
    flown = work.evidence.flown
    if name is None:
        return
    if flown is None:
        work.warn(fact("hare-launch-unseen", place=named(name)))
        return
    east, north = work.evidence.site.point(name)
    away = np.hypot(flown.east_m - east, flown.north_m - north)
    if not np.isfinite(away).any():
        work.warn(fact("hare-launch-unseen", place=named(name)))
        return
    nearest, index = float(np.nanmin(away)), int(np.nanargmin(away))
    time = moment(float(flown.time_s[index]))
    said = {"place": named(name), "away": far(nearest), "time": time}
    work.say(fact("nearest-to-hare-launch", **said))
    if within_m is not None and over(nearest, within_m):
        most = far(within_m)
        work.beyond_limits(fact("too-far-from-hare-launch", **said, most=most))
