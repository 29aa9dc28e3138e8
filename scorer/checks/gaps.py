"""Pauses of a log that people must know before they read anything from it."""

import numpy as np

from scorer.checks.base import Circumstances, Scope, Seen, check, in_air
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import count, fact, log, span
from scorer.tracks.flown import Flown


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
