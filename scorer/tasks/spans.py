"""Task kinds with the distance between two points, the smallest or the greatest.

MDT SFL MDD XDT XDI XDD of the published model event rules.
"""

from collections.abc import Callable

import numpy as np

from scorer.event.matters import IMPOSSIBLE
from scorer.facts import distance as far
from scorer.facts import fact, length, moment, span
from scorer.tasks.base import Quantity
from scorer.tasks.choice import one_mark
from scorer.tasks.crossing import length_m
from scorer.tasks.lengths import (
    distance,
    flight_in_u,
    leg_m,
    over,
    require_inside,
    under,
)
from scorer.tasks.points import (
    Located,
    by_role,
    launch,
    moment_of,
    placed,
    reference,
)
from scorer.tasks.work import NoResult, Work

SMALLEST, GREATEST = "smallest", "greatest"
LAUNCH_SIGMA_S = 2.0
"""How well a log shows the moment of the launch.  Our choice."""

Condition = Callable[[Work, Located, Located], None]
"""Of reference and mark; raises NoResult when the task's condition is not met."""


def shortest_flight(work: Work) -> Quantity:
    """SFL: distance from the reference to a mark inside a scoring area, smallest."""
    return _from_reference(work, SMALLEST)


def longest_in_area(work: Work) -> Quantity:
    """XDI: distance from the reference to a mark inside a scoring area, greatest."""
    return _from_reference(work, GREATEST)


def nearest_after(work: Work) -> Quantity:
    """MDT: distance from the reference after a least time or a least way flown."""
    return _from_reference(work, SMALLEST, _check_least)


def farthest_within(work: Work) -> Quantity:
    """XDT: distance from the reference within a greatest time."""
    return _from_reference(work, GREATEST, _check_most)


def _from_reference(
    work: Work, best: str, condition: Condition | None = None
) -> Quantity:
    start = reference(work)
    besides = start.mark.label.upper() if start.mark is not None else ""

    def value(at: Located) -> Quantity:
        require_inside(work, at, work.evidence.task.scoring_areas)
        if condition is not None:
            condition(work, start, at)
        return check_leg(work, start, at)

    return one_mark(work, value, best=best, besides=besides)


def check_leg(work: Work, start: Located, end: Located) -> Quantity:
    """Measure a distance and check it against the limits the task sets."""
    leg = distance(work, start, end)
    least, most = (work.settings.get(k) for k in ("least_leg", "most_leg"))
    said = {"start": start.name, "end": end.name, "length": length(leg.value)}
    if least is not None and under(leg.value, least):
        work.beyond_limits(fact("leg-too-short", **said, least=length(least)))
    if most is not None and over(leg.value, most):
        work.beyond_limits(fact("leg-too-long", **said, most=length(most)))
    edges = [e for e in (least, most) if e is not None]
    if any(abs(leg.value - e) < 2 * leg.sigma for e in edges):
        work.warn(fact("leg-near-limit", **said))
    return leg


def _check_least(work: Work, start: Located, at: Located) -> None:
    """Check the least time and the least way flown before the mark."""
    least_s, least_m = (work.settings[k] for k in ("least_time", "least_flown"))
    if least_s is not None:
        flown_s = _elapsed(work, start, at, least_s)
        if flown_s < least_s:
            times = {"after": span(flown_s), "least": span(least_s)}
            raise NoResult(fact("fell-too-early", point=at.name, **times))
    if least_m is not None:
        way = _way_flown(work, moment_of(work, at)[0])
        said = {"point": at.name, "way": far(way)}
        work.say(fact("way-flown", **said))
        if under(way, least_m):
            raise NoResult(fact("way-too-short", **said, least=far(least_m)))


def _check_most(work: Work, start: Located, at: Located) -> None:
    """Check the greatest time to the mark."""
    most_s = work.settings["most_time"]
    flown_s = _elapsed(work, start, at, most_s)
    if flown_s > most_s:
        times = {"after": span(flown_s), "most": span(most_s)}
        raise NoResult(fact("fell-too-late", point=at.name, **times))


def _elapsed(work: Work, start: Located, at: Located, limit_s: float) -> float:
    """Return the time from the task's start to a mark; warn where it is too close."""
    begin_s, begin_sigma = start_moment(work, start)
    end_s, end_sigma = moment_of(work, at)
    elapsed = end_s - begin_s
    sigma = float(np.hypot(begin_sigma, end_sigma))
    said = {"point": at.name, "elapsed": span(elapsed)}
    between = {"start": moment(begin_s), "end": moment(end_s)}
    work.say(fact("time-elapsed", **said, **between))
    if elapsed < -2 * sigma:
        raise work.failed(
            fact("fell-before-start", point=at.name, **between), IMPOSSIBLE
        )
    if elapsed < 0:
        work.warn(fact("time-near-limit", **said, limit=span(0.0)))
    if abs(elapsed - limit_s) < 2 * sigma:
        work.warn(fact("time-near-limit", **said, limit=span(limit_s)))
    return elapsed


def start_moment(work: Work, start: Located) -> tuple[float, float]:
    """Return when a task's time begins, and one sigma, seconds: as `time_from` says."""
    chosen = work.settings["time_from"]
    if isinstance(chosen, float):
        return chosen, 0.0
    if chosen == "launch-period":
        period = work.evidence.task.launch_period
        if period is None:
            raise NoResult(fact("no-launch-period"))
        return period.start_s, 0.0
    at = launch(work) if chosen == "launch" else start
    if chosen == "launch" and at.time_s is None:
        raise NoResult(fact("launch-time-unknown"))
    time_s, sigma = moment_of(work, at)
    return time_s, sigma or (LAUNCH_SIGMA_S if chosen == "launch" else 0.0)


def _way_flown(work: Work, until_s: float) -> float:
    """Way over the ground from the launch to a time, metres."""
    flown = work.evidence.flown
    if flown is None or flown.launch is None:
        raise NoResult(fact("way-unknown"))
    if until_s > flown.time_s[-1]:
        raise NoResult(fact("log-ends-before-mark"))
    start, _ = flight_in_u(flown)
    until = np.interp(until_s, flown.time_s, np.arange(len(flown)))
    counted = np.array([[start, max(start, until)]])
    return float(length_m(counted, leg_m(work, flown)).sum())


def double_drop_nearest(work: Work) -> Quantity:
    """MDD: distance between two marks in different areas, smallest."""
    return _double_drop(work, apart=True)


def double_drop_farthest(work: Work) -> Quantity:
    """XDD: distance between two marks, greatest."""
    return _double_drop(work, apart=False)


def _double_drop(work: Work, *, apart: bool) -> Quantity:
    a, b = by_role(work, "A"), by_role(work, "B")
    areas = work.evidence.task.scoring_areas
    own = work.settings["mark_areas"] or {}
    for role, at in (("A", a), ("B", b)):
        if at.mark is not None:
            require_inside(work, at, (own[role],) if role in own else areas)
    if apart and not own:
        _check_apart(work, a, b)
    return check_leg(work, a, b)


def _check_apart(work: Work, a: Located, b: Located) -> None:
    """Check that two marks lie in two different areas."""
    site, areas = work.evidence.site, work.evidence.task.scoring_areas
    held = [
        {name for name in areas if site.inside(name, placed(work, at))} for at in (a, b)
    ]
    if not any(one != other for one in held[0] for other in held[1]):
        raise NoResult(fact("same-area", start=a.name, end=b.name))
