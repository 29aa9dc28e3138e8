"""Which finding a ruling is about.

A ruling by a bare kind means all findings of that kind.  One with an interval, or with an
identifier, means the one finding of its kind that lies where that lay: the engine may since
have moved its ends, and identifiers with them.  Where nothing fits, or two fit equally,
nothing is joined, and people must say what they meant.
"""

from collections.abc import Sequence
from typing import NamedTuple

from scorer.event.finding import DAY_S, Finding, read_id
from scorer.event.model import Ruling

SLACK_S = 30.0
"""By which the ends of one act may move from version to version, or from an official's
watch to a log: shorter than the pause that parts two findings (our choice)."""


class Span(NamedTuple):
    """From when to when, POSIX seconds."""

    from_s: float
    to_s: float

    def overlap_s(self, other: "Span") -> float:
        """Return for how long both hold; negative: how far they lie apart."""
        return min(self.to_s, other.to_s) - max(self.from_s, other.from_s)


def joined(ruling: Ruling, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Return the findings, of its own pilot and task, that a ruling decides on."""
    named = read_id(ruling.finding)
    if named and (named.task, named.pilot) != (ruling.task, ruling.pilot):
        return ()
    kind = named.kind if named else ruling.finding
    own = [f for f in findings if f.kind.name == kind]
    if means_all(ruling):
        return tuple(own)
    fits = [(_fit(ruling, f), f) for f in own]
    near = [(fit, f) for fit, f in fits if fit is not None and fit[0] >= -SLACK_S]
    best = max((fit for fit, _ in near), default=None)
    found = tuple(f for fit, f in near if fit == best)
    return found if len(found) == 1 else ()


def means_all(ruling: Ruling) -> bool:
    """Tell whether a ruling names a kind and no more."""
    return ruling.from_s is None and read_id(ruling.finding) is None


def apart(one: Ruling, other: Ruling, near_s: float) -> bool:
    """Tell whether two rulings were made on different things, as far as they say."""
    spans = span_of(one, near_s), span_of(other, near_s)
    first, second = spans
    return bool(first and second and first.overlap_s(second) < -SLACK_S)


def span_of(ruling: Ruling, near_s: float) -> Span | None:
    """Return when what was ruled on happened; None = the ruling does not say.

    An identifier without a date is taken for the day that brings it nearest to `near_s`.
    """
    if ruling.from_s is not None and ruling.to_s is not None:
        return Span(ruling.from_s, ruling.to_s)
    named = read_id(ruling.finding)
    if named is None:
        return None
    start = float(named.start_s)
    if not named.dated:
        start += DAY_S * round((near_s - start) / DAY_S)
    return Span(start, start)


def _fit(ruling: Ruling, finding: Finding) -> tuple[float, float] | None:
    """Say how well a finding lies where the ruling says: more is better."""
    span = span_of(ruling, finding.from_s)
    if span is None:
        return None
    overlap = span.overlap_s(Span(finding.from_s, finding.to_s))
    return overlap, -abs(int(finding.from_s) - int(span.from_s))
