"""Marks dropped outside the scoring period."""

from collections.abc import Iterable

import numpy as np

from scorer.checks.base import Circumstances, Seen, check, dropped_s, in_air
from scorer.checks.launch import Bounds, TimedMoment, check_moment
from scorer.event.finding import Drawing, Finding, finding_kind
from scorer.facts import fact, term
from scorer.tracks.flown import Flown

SCORING_PERIOD = finding_kind(
    "scoring-period", rule="scoring.penalty", unit="s", picture=Drawing.MAP
)

NOTED_SIGMA_S = 2.0
"""One sigma of a time that an official or the logger noted (our choice)."""
PASS_SIGMA_S = 20.0
"""The same of a drop taken to be where the track passes nearest to the mark."""


@check("scoring period")
def check_scoring_period(flown: Flown, about: Circumstances) -> Seen:
    """Compare the times of drops with the scoring period.

    Every noted time is compared.  Where nobody noted one, it is taken from the pass
    nearest to the mark; then the finding is possible at most.
    """
    if about.task.scoring_period is None:
        return Seen()
    noted = {mark.time_s for mark in about.marks if mark.time_s is not None}
    if about.drop_s is not None:
        noted = {about.drop_s}
    times, sigma_s = sorted(noted), NOTED_SIGMA_S
    if not times:
        passed_s = dropped_s(flown, about)
        times, sigma_s = [] if passed_s is None else [passed_s], PASS_SIGMA_S
    air = in_air(flown)
    findings: list[Finding] = []
    for time_s in times:
        at = air.start + int(np.searchsorted(flown.time_s[air], time_s))
        at = min(at, len(flown) - 1)
        moment = TimedMoment(
            "act-dropped", time_s, at, sigma_s, sure=bool(noted), noted=bool(noted)
        )
        findings += check_moment(moment, _bounds(about), flown, about)
    return Seen(findings=tuple(findings))


def noted_outside(
    times_s: Iterable[float], about: Circumstances, pilot: int
) -> tuple[Finding, ...]:
    """Compare times of drops with the scoring period where no log speaks of them."""
    if about.task.scoring_period is None:
        return ()
    bounds = _bounds(about)
    return tuple(
        found
        for time_s in sorted(set(times_s))
        for found in check_moment(
            TimedMoment("act-dropped", time_s, 0, NOTED_SIGMA_S, sure=True, noted=True),
            bounds,
            None,
            about,
            pilot=pilot,
        )
    )


def _bounds(about: Circumstances) -> Bounds:
    period = about.task.scoring_period
    assert period is not None
    return Bounds(
        kind=SCORING_PERIOD,
        start_s=period.start_s,
        end_s=period.end_s,
        name="task-scoring-period",
        rule=fact(
            "rule-of-task",
            what=about.book.beside(term("task-scoring-period"), "scoring.penalty"),
        ),
        penalties=about.book.scoring.penalty,
    )
