"""Which mark counts in a task with one mark, where a pilot has several."""

from collections.abc import Callable, Iterable

from scorer.event.model import Method
from scorer.facts import Fact, count, fact, listed, several, term
from scorer.tasks.base import Quantity
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
    roles = drops(work, besides)
    if not roles:
        found_none = _none_found(work)
        raise NoResult(fact("no-mark-found" if found_none else "no-mark-entered"))
    if len(roles) == 1:
        return value(mark(work, roles[0]))
    how = work.settings["several_marks"]
    names = several(map(called, roles))
    work.say(fact("several-marks", marks=names, how=term(f"marks-{how}")))
    if how == "invalid":
        raise NoResult(fact("too-many-marks", marks=count(len(roles))))
    if how in {"first", "last"}:
        timed = [(moment_of(work, at)[0], at) for at in (mark(work, r) for r in roles)]
        ordered = sorted(timed, key=lambda pair: pair[0])
        return value(ordered[0 if how == "first" else -1][1])
    return _chosen(work, roles, value, worst=how == "least-advantageous", best=best)


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
