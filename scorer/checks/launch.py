"""Where and when pilots launched: distance from the target, launch area, launch period."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from scipy.special import ndtr

from scorer.checks.base import (
    Circumstances,
    Measure,
    Seen,
    finding_of,
    percent,
    verdict_of,
)
from scorer.checks.places import accuracy_m, depth_inside_m
from scorer.checks.retry import counting_launch
from scorer.event.finding import Finding, FindingKind, Verdict
from scorer.event.rulebook import Penalties
from scorer.facts import Fact, fact, plain, term
from scorer.tracks.flown import Flown
from scorer.units import show_length

MOMENT_SIGMA_S = 5.0
"""One sigma of a launch or landing time read off a log (our choice)."""


class Launch(NamedTuple):
    """Where and when the log shows the launch."""

    at: int
    time_s: float
    point: tuple[float, float]
    sigma_m: float


def launch_of(flown: Flown, about: Circumstances) -> Launch | None:
    """Return the launch that counts; None when the log does not show it."""
    at = counting_launch(flown, about)
    if at is None:
        return None
    return Launch(
        at=at,
        time_s=float(flown.time_s[at]),
        point=(float(flown.east_m[at]), float(flown.north_m[at])),
        sigma_m=float(accuracy_m(flown)[at]),
    )


def check_launch_distance(flown: Flown, about: Circumstances) -> Seen:
    """Compare the distance of the launch from the nearest target with its bounds."""
    rule = about.book.launch
    launch = launch_of(flown, about)
    if launch is None or not about.task.targets:
        return Seen()
    if rule.least_distance_m is None and rule.most_distance_m is None:
        return Seen()
    away = min(about.site.distance_m(launch.point, t) for t in about.task.targets)
    wrongs = []
    if (least := rule.least_distance_m) is not None:
        wrongs.append(_distance("least", away, least, least - away, about))
    if (most := rule.most_distance_m) is not None:
        wrongs.append(_distance("most", away, most, away - most, about))
    return _placed(launch, wrongs, flown, about)


class Wrong(NamedTuple):
    """A launch place held against a rule."""

    kind: FindingKind
    measured: float
    limit: float
    beyond: float
    """Metres on the wrong side; negative = all right."""
    key: str
    text: str


def _distance(
    key: str, away: float, limit: float, beyond: float, about: Circumstances
) -> Wrong:
    def show(metres: float) -> str:
        return show_length(metres, about.units, 0)

    how = "near" if key == "least" else "far"
    return Wrong(
        kind=FindingKind.LAUNCH_DISTANCE,
        measured=away,
        limit=limit,
        beyond=beyond,
        key=f"launch.{key}_distance",
        text=f"Launched {show(away)} from the target where {show(limit)} is the {key}: "
        f"{show(max(beyond, 0.0))} too {how}",
    )


def check_launch_area(flown: Flown, about: Circumstances) -> Seen:
    """Find launches outside the launch area the book asks for."""
    name = about.book.launch.area
    launch = launch_of(flown, about)
    if launch is None or name is None:
        return Seen()
    east, north = (np.array([v]) for v in launch.point)
    outside = -float(depth_inside_m(about.site.area(name), east, north)[0])
    away = show_length(max(outside, 0.0), about.units, 0)
    wrong = Wrong(
        kind=FindingKind.LAUNCH_AREA,
        measured=max(outside, 0.0),
        limit=0.0,
        beyond=outside,
        key="launch.area",
        text=f"Launched {away} outside “{name}”",
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
    probability = float(ndtr(wrong.beyond / launch.sigma_m))
    verdict = verdict_of(probability)
    if verdict is Verdict.CLEAR:
        return None
    measure = Measure(
        kind=wrong.kind,
        verdict=verdict,
        probability=probability,
        from_s=launch.time_s,
        to_s=launch.time_s,
        measured=wrong.measured,
        limit=wrong.limit,
        unit="m",
        excess=max(wrong.beyond, 0.0),
        sigma=launch.sigma_m,
        at=launch.at,
        rule=about.book.cite(wrong.key),
        says=plain(
            f"{wrong.text}; broken with a probability of {percent(probability)}."
        ),
    )
    return finding_of(measure, about.book.launch.penalty, flown, about)


def check_launch_period(flown: Flown, about: Circumstances) -> Seen:
    """Find launches before the launch period opens or after it closes."""
    launch, period = launch_of(flown, about), about.task.launch_period
    if launch is None or period is None:
        return Seen()
    bounds = Bounds(
        kind=FindingKind.LAUNCH_PERIOD,
        start_s=period.start_s,
        end_s=period.end_s,
        name="launch period",
        rule=fact("rule-of-task", what=term("task-launch-period")),
        penalties=about.book.launch.period_penalty,
    )
    moment = Moment("Launched", launch.time_s, launch.at, MOMENT_SIGMA_S, sure=True)
    return Seen(findings=check_moment(moment, bounds, flown, about))


class Moment(NamedTuple):
    """Something that has to fall within a period."""

    what: str
    """As a sentence begins: `Launched`."""
    time_s: float
    at: int
    sigma_s: float
    sure: bool
    """False keeps the finding from being certain."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """When it may happen, and what comes of it otherwise."""

    kind: FindingKind
    start_s: float
    end_s: float
    name: str
    rule: Fact
    penalties: Penalties


def check_moment(
    moment: Moment, bounds: Bounds, flown: Flown, about: Circumstances
) -> tuple[Finding, ...]:
    """Return the finding of a moment outside its bounds, if it is.

    `measured` counts seconds from the opening, `limit` is 0 or the length of the period.
    """
    early, late = bounds.start_s - moment.time_s, moment.time_s - bounds.end_s
    beyond = max(early, late)
    probability = float(ndtr(beyond / moment.sigma_s))
    verdict = verdict_of(probability, sure=moment.sure)
    if verdict is Verdict.CLEAR:
        return ()
    side = "before the opening" if early > late else "after the end"
    text = f"{moment.what} {span(max(beyond, 0.0))} {side} of the {bounds.name}"
    measure = Measure(
        kind=bounds.kind,
        verdict=verdict,
        probability=probability,
        from_s=moment.time_s,
        to_s=moment.time_s,
        measured=moment.time_s - bounds.start_s,
        limit=0.0 if early > late else bounds.end_s - bounds.start_s,
        unit="s",
        excess=max(beyond, 0.0),
        sigma=moment.sigma_s,
        at=moment.at,
        rule=bounds.rule,
        says=plain(f"{text}; broken with a probability of {percent(probability)}."),
        details={"opens_s": bounds.start_s, "closes_s": bounds.end_s},
    )
    return (finding_of(measure, bounds.penalties, flown, about),)


def span(seconds: float) -> str:
    """Print a span of time: `45 s` or `2 min 5 s`."""
    whole = round(seconds)
    minutes, rest = divmod(whole, 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"
