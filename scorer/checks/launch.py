"""Where and when pilots launched: distance from the target, launch area, launch period."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import scipy

from scorer.checks.base import (
    Circumstances,
    FindingNumbers,
    Seen,
    check,
    finding_of,
    verdict_of,
)
from scorer.checks.edges import accuracy_m, depth_inside_m
from scorer.checks.retry import counting_launch
from scorer.event.finding import (
    Drawing,
    Finding,
    FindingKind,
    Verdict,
    finding_kind,
)
from scorer.event.rulebook import Penalties
from scorer.facts import Fact, Value, chance, distance, fact, place, span, term
from scorer.tracks.flown import Flown

LAUNCH_DISTANCE = finding_kind(
    "launch-distance", rule="launch.least_distance", picture=Drawing.MAP
)
LAUNCH_AREA = finding_kind("launch-area", rule="launch.area", picture=Drawing.MAP)
LAUNCH_PERIOD = finding_kind(
    "launch-period", rule="launch.period_penalty", unit="s", picture=Drawing.MAP
)

MOMENT_SIGMA_S = 5.0
"""One sigma of a launch or landing time that no fit was made for (our choice)."""


class Launch(NamedTuple):
    """Where and when the log shows the launch."""

    at: int
    time_s: float
    point: tuple[float, float]
    sigma_m: float
    sigma_s: float
    sure: bool
    """The log has fixes all around it: nothing is certain from a pause."""


def launch_of(flown: Flown, about: Circumstances) -> Launch | None:
    """Return the launch that counts; None when the log does not show it."""
    at = counting_launch(flown, about)
    if at is None:
        return None
    left = flown.lift_off(at)
    if left is not None:
        return Launch(
            at=at,
            time_s=left.time_s,
            point=(left.east_m, left.north_m),
            sigma_m=left.sigma_m,
            sigma_s=left.sigma_s,
            sure=left.sure,
        )
    return Launch(
        at=at,
        time_s=float(flown.time_s[at]),
        point=(float(flown.east_m[at]), float(flown.north_m[at])),
        sigma_m=float(accuracy_m(flown)[at]),
        sigma_s=MOMENT_SIGMA_S,
        sure=True,
    )


@check("launch distance")
def check_launch_distance(flown: Flown, about: Circumstances) -> Seen:
    """Compare the distance of the launch from the nearest target with its bounds.

    A target that was moved counts where it stood at the launch: the bounds are met by
    choosing a place to launch from, and nobody chooses by what comes later.  Published
    rules that we could read say nothing of it.
    """
    rule = about.book.launch
    launch = launch_of(flown, about)
    if launch is None or not about.task.targets:
        return Seen()
    if rule.least_distance_m is None and rule.most_distance_m is None:
        return Seen()
    site = about.site.standing(about.task.number, launch.time_s)
    targets = about.task.targets
    away = float(site.distances_m([launch.point] * len(targets), targets).min())
    wrongs = []
    if (least := rule.least_distance_m) is not None:
        wrongs.append(_distance("least", away, least, least - away))
    if (most := rule.most_distance_m) is not None:
        wrongs.append(_distance("most", away, most, away - most))
    return _placed(launch, wrongs, flown, about)


class Wrong(NamedTuple):
    """A launch place held against a rule."""

    kind: FindingKind
    measured: float
    limit: float
    beyond: float
    """Metres on the wrong side; negative = all right."""
    key: str
    says: Callable[[Value], Fact]
    """State it, given how sure it is."""


def _distance(key: str, away: float, limit: float, beyond: float) -> Wrong:
    values = {
        "away": distance(away),
        "limit": distance(limit),
        "beyond": distance(max(beyond, 0.0)),
    }

    def says(sure: Value) -> Fact:
        if key == "least":
            return fact("seen-launch-too-near", **values, sure=sure)
        return fact("seen-launch-too-far", **values, sure=sure)

    return Wrong(
        kind=LAUNCH_DISTANCE,
        measured=away,
        limit=limit,
        beyond=beyond,
        key=f"launch.{key}_distance",
        says=says,
    )


@check("launch area")
def check_launch_area(flown: Flown, about: Circumstances) -> Seen:
    """Find launches outside the launch area the book asks for."""
    name = about.book.launch.area
    launch = launch_of(flown, about)
    if launch is None or name is None:
        return Seen()
    east, north = (np.array([v]) for v in launch.point)
    outside = -float(depth_inside_m(about.site.area(name), east, north)[0])
    away = distance(max(outside, 0.0))
    wrong = Wrong(
        kind=LAUNCH_AREA,
        measured=max(outside, 0.0),
        limit=0.0,
        beyond=outside,
        key="launch.area",
        says=lambda sure: fact(
            "seen-launch-outside", away=away, place=place(name), sure=sure
        ),
    )
    return _placed(launch, [wrong], flown, about)


def _placed(
    launch: Launch, wrongs: list[Wrong], flown: Flown, about: Circumstances
) -> Seen:
    found = (_wrong_place(launch, wrong, flown, about) for wrong in wrongs)
    return Seen(findings=tuple(f for f in found if f is not None))


def _wrong_place(
    launch: Launch, wrong: Wrong, flown: Flown, about: Circumstances
) -> Finding | None:
    probability = float(scipy.special.ndtr(wrong.beyond / launch.sigma_m))
    verdict = verdict_of(probability, sure=launch.sure)
    if verdict is Verdict.CLEAR:
        return None
    measure = FindingNumbers(
        kind=wrong.kind,
        verdict=verdict,
        probability=probability,
        from_s=launch.time_s,
        to_s=launch.time_s,
        measured=wrong.measured,
        limit=wrong.limit,
        excess=max(wrong.beyond, 0.0),
        sigma=launch.sigma_m,
        at=launch.at,
        rule=about.book.cite(wrong.key),
        says=wrong.says(chance(probability)),
    )
    return finding_of(measure, about.book.launch.penalty, flown, about)


@check("launch period")
def check_launch_period(flown: Flown, about: Circumstances) -> Seen:
    """Find launches before the launch period opens or after it closes."""
    launch, period = launch_of(flown, about), about.task.launch_period
    if launch is None or period is None:
        return Seen()
    bounds = Bounds(
        kind=LAUNCH_PERIOD,
        start_s=period.start_s,
        end_s=period.end_s,
        name="task-launch-period",
        rule=fact(
            "rule-of-task",
            what=about.book.beside(term("task-launch-period"), "launch.period_penalty"),
        ),
        penalties=about.book.launch.period_penalty,
    )
    moment = TimedMoment(
        "act-launched", launch.time_s, launch.at, launch.sigma_s, sure=launch.sure
    )
    return Seen(findings=check_moment(moment, bounds, flown, about))


class TimedMoment(NamedTuple):
    """Something that has to fall within a period."""

    what: str
    """As the sentence begins: a word of the catalogue."""
    time_s: float
    at: int
    sigma_s: float
    sure: bool
    """False keeps the finding from being certain."""
    noted: bool = False
    """Somebody noted it: within the period it is taken at its word."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """When it may happen, and what comes of it otherwise."""

    kind: FindingKind
    start_s: float
    end_s: float
    name: str
    """Of the period: a word of the catalogue."""
    rule: Fact
    penalties: Penalties


def check_moment(
    moment: TimedMoment,
    bounds: Bounds,
    flown: Flown | None,
    about: Circumstances,
    *,
    pilot: int = 0,
) -> tuple[Finding, ...]:
    """Return the finding of a moment outside its bounds, if it is.

    `measured` counts seconds from the opening, `limit` is 0 or the length of the period.
    Without a log (`flown` None) `pilot` says whose moment it is.
    """
    early, late = bounds.start_s - moment.time_s, moment.time_s - bounds.end_s
    beyond = max(early, late)
    probability = float(scipy.special.ndtr(beyond / moment.sigma_s))
    verdict = verdict_of(probability, sure=moment.sure)
    if verdict is Verdict.CLEAR or (moment.noted and beyond <= 0.0):
        return ()
    measure = FindingNumbers(
        kind=bounds.kind,
        verdict=verdict,
        probability=probability,
        from_s=moment.time_s,
        to_s=moment.time_s,
        measured=moment.time_s - bounds.start_s,
        limit=0.0 if early > late else bounds.end_s - bounds.start_s,
        excess=max(beyond, 0.0),
        sigma=moment.sigma_s,
        at=moment.at,
        rule=bounds.rule,
        says=_seen(moment, bounds, probability),
        details={"opens_s": bounds.start_s, "closes_s": bounds.end_s},
    )
    return (finding_of(measure, bounds.penalties, flown, about, pilot=pilot),)


def _seen(moment: TimedMoment, bounds: Bounds, probability: float) -> Fact:
    """State how far outside a moment is; or how near to the bounds within them."""
    early, late = bounds.start_s - moment.time_s, moment.time_s - bounds.end_s
    values = {
        "act": term(moment.what),
        "period": term(bounds.name),
        "sure": chance(probability),
    }
    if max(early, late) > 0:
        beyond = span(max(early, late))
        if early > late:
            return fact("seen-early", **values, beyond=beyond)
        return fact("seen-late", **values, beyond=beyond)
    near = {"within": span(-max(early, late)), "off": span(max(2 * moment.sigma_s, 1))}
    if early > late:
        return fact("seen-perhaps-early", **values, **near)
    return fact("seen-perhaps-late", **values, **near)
