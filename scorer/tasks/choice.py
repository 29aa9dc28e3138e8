"""Which mark counts in a task with one mark, where a pilot has several."""

import math
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction

from scorer.event.model import Method
from scorer.event.task_kinds import TASK_KINDS, measure_of
from scorer.facts import Fact, Value, count, fact, listed, several, term
from scorer.rounding import Exact, exact
from scorer.tasks.base import Quantity, Together
from scorer.tasks.points import (
    LANDING_MARK,
    LAUNCH_MARK,
    Located,
    called,
    mark,
    moment_of,
    roles_present,
)
from scorer.tasks.work import NoResult, Work


def one_mark(
    work: Work, value: Callable[[Located], Quantity], *, best: str, besides: str = ""
) -> Quantity:
    """Measure the one mark of a task; with several, the one that the task says counts.

    `besides` is the role of a mark that serves another purpose.
    """
    work.counted_from = besides
    roles = drops(work, besides)
    if not roles:
        found_none = _none_found(work)
        raise NoResult(fact("no-mark-found" if found_none else "no-mark-entered"))
    how = work.settings["several_marks"]
    if how in TOGETHER and len(roles) < (work.settings.get("drops") or 0):
        wanted = count(work.settings["drops"])
        raise NoResult(fact("too-few-drops", marks=count(len(roles)), wanted=wanted))
    if len(roles) == 1:
        return value(mark(work, roles[0]))
    names = several(map(called, roles))
    work.say(fact("several-marks", marks=names, how=term(f"marks-{how}")))
    if how in TOGETHER:
        return together(work, [value(mark(work, role)) for role in roles], how)
    if how == "invalid":
        raise NoResult(fact("too-many-marks", marks=count(len(roles))))
    if how in {"first", "last"}:
        timed = [(moment_of(work, at)[0], at) for at in (mark(work, r) for r in roles)]
        ordered = sorted(timed, key=lambda pair: pair[0])
        return value(ordered[0 if how == "first" else -1][1])
    return _chosen(work, roles, value, worst=how == "least-advantageous", best=best)


TOGETHER = frozenset({"sum", "mean"})
"""Ways of counting several marks in which all of them count."""


def together(work: Work, valued: Sequence[Quantity], how: str) -> Quantity:
    """Add up what several marks give, or take the mean; one without result leaves none."""
    share = Fraction(1, len(valued)) if how == "mean" else Fraction(1)
    total = share * sum((exact(q.value) for q in valued), Fraction(0))
    taped = all(isinstance(q.value, Exact) for q in valued)
    value = Exact(total) if taped else float(total)
    code = str(work.evidence.task.kind)
    measure = measure_of(TASK_KINDS[code].unit, code)
    each = several(Value(measure, q.value) for q in valued)
    work.say(fact(f"marks-{how}", each=each, result=Value(measure, value)))
    sigma = float(share) * math.hypot(*(q.sigma for q in valued))
    return Quantity(value, sigma, Together(float(share), tuple(valued)))


def drops(work: Work, besides: str = "") -> list[str]:
    """Return the roles of the markers a pilot dropped: no launch and no landing."""
    aside = {LAUNCH_MARK, LANDING_MARK, besides or LAUNCH_MARK}
    return [role for role in roles_present(work) if role not in aside]


def _none_found(work: Work) -> bool:
    keyed = work.evidence.keyings.values()
    return work.evidence.no_mark or any(k.method is Method.NONE for k in keyed)


def _chosen(
    work: Work,
    roles: Iterable[str],
    value: Callable[[Located], Quantity],
    *,
    worst: bool,
    best: str,
) -> Quantity:
    """Take the worst mark or the best; a mark without result is the worst there is."""
    valued: list[Quantity] = []
    reasons: list[Fact] = []
    for role in roles:
        try:
            valued.append(value(mark(work, role)))
        except NoResult as none:
            reasons.append(none.reason)
    if not valued or (worst and reasons):
        raise NoResult(fact("marks-give-none", reasons=listed(reasons)))
    greatest = (best == "greatest") is not worst
    pick = max if greatest else min
    return pick(valued, key=lambda q: q.value)
