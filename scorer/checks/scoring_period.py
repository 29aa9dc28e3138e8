"""Marks dropped outside the scoring period."""

import numpy as np

from scorer.checks.base import Circumstances, Seen, check, dropped_s, in_air
from scorer.checks.launch import Bounds, Moment, check_moment
from scorer.event.finding import Picture, finding_kind
from scorer.facts import fact, term
from scorer.tracks.flown import Flown

SCORING_PERIOD = finding_kind(
    "scoring-period", rule="scoring.penalty", unit="s", picture=Picture.MAP
)

NOTED_SIGMA_S = 2.0
"""One sigma of a time that an official or the logger noted (our choice)."""
PASS_SIGMA_S = 20.0
"""The same of a drop taken to be where the track passes nearest to the mark."""


@check("scoring period")
def check_scoring_period(flown: Flown, about: Circumstances) -> Seen:
    """Compare the time of the drop with the scoring period.

    A time that nobody noted is taken from the pass nearest to the mark; then the finding
    is possible at most.
    """
    period = about.task.scoring_period
    time = None if period is None else dropped_s(flown, about)
    if period is None or time is None:
        return Seen()
    noted = about.drop_s is not None or any(m.time_s is not None for m in about.marks)
    air = in_air(flown)
    at = air.start + int(np.searchsorted(flown.time_s[air], time))
    moment = Moment(
        what="act-dropped",
        time_s=time,
        at=min(at, len(flown) - 1),
        sigma_s=NOTED_SIGMA_S if noted else PASS_SIGMA_S,
        sure=noted,
    )
    bounds = Bounds(
        kind=SCORING_PERIOD,
        start_s=period.start_s,
        end_s=period.end_s,
        name="task-scoring-period",
        rule=fact("rule-of-task", what=term("task-scoring-period")),
        penalties=about.book.scoring.penalty,
    )
    return Seen(findings=check_moment(moment, bounds, flown, about))
