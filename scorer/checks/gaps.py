"""Pauses and unknown heights that people must know before they read anything from a log."""

from collections.abc import Callable

import numpy as np

from scorer.checks.base import Circumstances, Scope, Seen, check, in_air
from scorer.checks.runs import Mask
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import Fact, count, fact, log, moment, span
from scorer.tracks.flown import Flown

LONGEST_PAUSE_S = 30.0
"""Longer than this no fix stands for what follows it (our choice)."""
LEAST_UNKNOWN_S = 10.0
"""Unknown heights for less than this in all are not told (our choice)."""


def unknown_heights(
    flown: Flown, where: Mask, about: Circumstances, says: Callable[..., Fact]
) -> tuple[Matter, ...]:
    """Tell of ground, or altitudes, that nobody knows where a rule needs them.

    `where` (N,) marks such fixes; `says` states it, given `log`, `lasts` and `start`.
    """
    steps = np.diff(flown.time_s, append=flown.time_s[-1])
    lasts = float(np.minimum(steps, LONGEST_PAUSE_S)[where].sum())
    if lasts < LEAST_UNKNOWN_S:
        return ()
    start = moment(float(flown.time_s[int(np.argmax(where))]))
    return (
        Matter(
            kind=matters.HEIGHT_UNKNOWN,
            flight=about.task.flight,
            task=about.task.number,
            pilots=(flown.pilot,),
            says=says(log=log(flown.log), lasts=span(lasts), start=start),
        ),
    )


@check("log gaps", Scope.FLIGHT)
def check_gaps(flown: Flown, about: Circumstances) -> Seen:
    """Warn of pauses longer than the book lets pass, in the air only."""
    air = in_air(flown)
    steps = np.diff(flown.time_s[max(air.start - 1, 0) : air.stop + 1])
    longest_s = about.book.tracks.log_gap_s
    gaps = steps[steps > longest_s]
    if not gaps.size:
        return Seen()
    says = fact(
        "log-has-pauses",
        log=log(flown.log),
        pauses=count(int(gaps.size)),
        longest=span(float(gaps.max())),
        least=span(longest_s),
    )
    matter = Matter(
        kind=matters.LOG_GAP,
        flight=about.task.flight,
        pilots=(flown.pilot,),
        says=says,
    )
    return Seen(matters=(matter,))
