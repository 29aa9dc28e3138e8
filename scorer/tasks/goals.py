"""Task kinds with one mark and a distance to a goal: the nearer the better.

PDG JDG HWZ FIN FON HNH WSD GBM CRT of the published model event rules.
"""

from collections.abc import Sequence

import numpy as np

from scorer.event.model import Method, Period
from scorer.tasks.base import Quantity
from scorer.tasks.choice import one_mark
from scorer.tasks.declarations import Goal, declared_goals
from scorer.tasks.lengths import distance, require_inside
from scorer.tasks.points import (
    Located,
    mark,
    moment_of,
    place,
    roles_present,
    spot_located,
)
from scorer.tasks.work import NoResult, Work

SMALLEST = "smallest"


def to_targets(work: Work) -> Quantity:
    """JDG HWZ FIN HNH GBM: distance from the mark to the (nearest) target."""
    targets = [place(work, name) for name in work.evidence.task.targets]

    def value(at: Located) -> Quantity:
        require_inside(work, at, work.evidence.task.scoring_areas)
        return _nearest(work, at, targets)

    return one_mark(work, value, best=SMALLEST)


def watership_down(work: Work) -> Quantity:
    """WSD: fly to the hare's launch point, then distance to the hare's target."""
    quantity = to_targets(work)
    _check_hare_launch(work)
    return quantity


def rate_of_approach(work: Work) -> Quantity:
    """CRT: distance to the target, in scoring areas valid in their own times only."""
    targets = [place(work, name) for name in work.evidence.task.targets]

    def value(at: Located) -> Quantity:
        areas = require_inside(work, at, work.evidence.task.scoring_areas)
        _check_window(work, at, areas)
        return _nearest(work, at, targets)

    return one_mark(work, value, best=SMALLEST)


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
    for role in roles_present(work):
        try:
            times.append(moment_of(work, mark(work, role))[0])
        except NoResult:
            continue
    return min(times, default=None)


def _to_goal(work: Work, at: Located, goal: Goal) -> Quantity:
    """Measure to what a goal means; to the worst of it where that is several places."""
    ends = [
        spot_located(spot, goal.height_m, f"goal {spot.name or goal.name}")
        for spot in goal.spots
    ]
    return max((distance(work, at, end) for end in ends), key=lambda q: q.value)


def _nearest(work: Work, at: Located, targets: Sequence[Located]) -> Quantity:
    """Measure to the nearest of several targets.

    A mark that is taped alone has a distance from one target only; that one counts, and
    people are told.
    """
    if at.point is None and len(targets) > 1:
        taped = [t for t in targets if t.point == at.taped_from]
        if taped:
            work.warn(
                f"{at.name} is taped from {taped[0].name} without a bearing: whether "
                "another target is nearer cannot be told"
            )
            targets = taped
    return _least(work, at, [distance(work, at, target) for target in targets])


def _least(work: Work, at: Located, distances: Sequence[Quantity]) -> Quantity:
    nearest = min(distances, key=lambda q: q.value)
    if len(distances) > 1:
        work.say(f"the nearest of {len(distances)}: {work.length(nearest.value)}")
    _check_radius(work, at, nearest.value)
    return nearest


def _check_radius(work: Work, at: Located, away_m: float) -> None:
    """Compare how a mark was measured with the radius within which markers are taped."""
    radius = work.evidence.task.measuring_radius_m
    if radius is None or away_m <= radius:
        return
    said = (
        f"{at.name} is {work.length(away_m)} away, outside the measuring radius of "
        f"{work.length(radius)}"
    )
    if work.settings.get("outside_radius") == "no result":
        raise NoResult(said)
    if at.mark is not None and at.mark.method in {Method.TAPE, Method.POLAR}:
        work.warn(f"{said}, yet it is taped: look whether it is keyed right")


def _check_window(work: Work, at: Located, areas: Sequence[str]) -> None:
    """Check that a mark fell while one of the areas it lies in was valid."""
    windows: dict[str, tuple[Period, ...]] = work.settings["windows"]
    periods = [p for area in areas for p in windows.get(area, ())]
    quoted = '" and "'.join(areas)
    if not periods:
        work.warn(f'scoring area "{quoted}" has no window in this task (windows)')
        raise NoResult(f'scoring area "{quoted}" is valid at no time')
    time_s, sigma = moment_of(work, at)
    _warn_if_close(work, at, time_s, sigma, periods)
    said = f'"{quoted}": valid {", ".join(_period(work, p) for p in periods)}'
    if not any(p.holds(time_s) for p in periods):
        raise NoResult(f"{at.name} fell at {work.clock(time_s)}; {said}")
    work.say(f"{at.name} fell at {work.clock(time_s)}; {said}")


def _warn_if_close(
    work: Work, at: Located, time_s: float, sigma: float, periods: Sequence[Period]
) -> None:
    edges = np.array([(p.start_s, p.end_s) for p in periods])
    if sigma > 0 and np.abs(edges - time_s).min() < 2 * sigma:
        work.warn(
            f"{at.name}: its time is too uncertain for the window; look at the log"
        )


def _period(work: Work, period: Period) -> str:
    return f"{work.clock(period.start_s)}–{work.clock(period.end_s)}"


def _check_hare_launch(work: Work) -> None:
    """Tell whether the track came near the hare's launch point first."""
    name, within_m = (work.settings[k] for k in ("hare_launch", "hare_launch_within"))
    flown = work.evidence.flown
    if name is None:
        return
    if flown is None:
        work.warn(f'no log shows whether the pilot flew to "{name}" first')
        return
    east, north = work.evidence.site.point(name)
    away = np.hypot(flown.east_m - east, flown.north_m - north)
    if not np.isfinite(away).any():
        work.warn(f'the log does not show whether the pilot flew to "{name}" first')
        return
    nearest, index = float(np.nanmin(away)), int(np.nanargmin(away))
    said = (
        f'nearest to "{name}": {work.length(nearest, 0)} at '
        f"{work.clock(float(flown.time_s[index]))}"
    )
    work.say(said)
    if within_m is not None and nearest > within_m:
        work.beyond_limits(f"{said}, farther than {work.length(within_m, 0)}")
