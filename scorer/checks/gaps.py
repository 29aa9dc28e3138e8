"""Pauses of a log that people must know before they read anything from it."""

import numpy as np

from scorer.checks.base import Circumstances, Seen, in_air
from scorer.checks.launch import span
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import plain
from scorer.tracks.flown import Flown


def check_gaps(flown: Flown, about: Circumstances) -> Seen:
    """Warn of pauses longer than the book lets pass, in the air only."""
    air = in_air(flown)
    steps = np.diff(flown.time_s[max(air.start - 1, 0) : air.stop + 1])
    longest_s = about.book.tracks.log_gap_s
    gaps = steps[steps > longest_s]
    if not gaps.size:
        return Seen()
    pauses = f"{gaps.size} pauses, the longest" if gaps.size > 1 else "a pause"
    text = (
        f"{flown.log}: {pauses} of {span(float(gaps.max()))} in the air; "
        f"nothing is known of what was flown there "
        f"(more than {longest_s:.0f} s must be told)."
    )
    return Seen(matters=(_warning(text, flown, about),))


def _warning(text: str, flown: Flown, about: Circumstances) -> Matter:
    return Matter(
        kind=matters.LOG_GAP,
        flight=about.task.flight,
        pilots=(flown.pilot,),
        says=plain(text),
    )
