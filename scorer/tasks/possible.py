"""Whether the evidence of a measured task can be true: the order in time of what happened.

The same for every task kind.  A launch comes before the drops, a landing after them, no
drop before anybody could launch, and marks with letters fall in the order of their letters.
What cannot be is a matter that keeps results from being official until somebody looked;
where a time enters the result itself, there is no result before its start.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from scorer.event import matters
from scorer.facts import Fact, fact, moment
from scorer.tasks.points import LANDING_MARK, LAUNCH_MARK, called
from scorer.tasks.work import Work

NOTED_S = 60.0
"""A time that somebody noted may be off by this much (our choice)."""


def check_order(work: Work, roles: tuple[str, ...] = ()) -> None:
    """State what cannot be in the times of the marks that a result rests on.

    `roles` are those that the task kind names in the order they are flown.

    Raises
    ------
    NoResult
        The task says that marks out of order get none.
    """
    drops = {
        role: time_s
        for role, time_s in work.times.items()
        if role not in {LAUNCH_MARK, LANDING_MARK}
    }
    for says in (*_before_flight(work, drops), *_after_flight(work, drops)):
        work.warn(says, matters.IMPOSSIBLE)
    for says in _out_of_order(drops, _in_order(work, drops, roles)):
        if work.settings.get("out_of_order") == "no result":
            raise work.failed(says, matters.IMPOSSIBLE)
        work.warn(says, matters.IMPOSSIBLE)


def _before_flight(work: Work, drops: Mapping[str, float]) -> Iterator[Fact]:
    """Yield drops before the launch, or before anybody could launch."""
    period = work.evidence.task.launch_period
    launch_s = _noted(work, LAUNCH_MARK, "launch")
    for role, time_s in drops.items():
        said = {"mark": called(role), "time": moment(time_s)}
        if launch_s is not None and time_s < launch_s - NOTED_S:
            yield fact("dropped-before-launch", **said, launch=moment(launch_s))
        elif period is not None and time_s < period.start_s:
            opening = moment(period.start_s)
            yield fact("dropped-before-period", **said, opening=opening)


def _after_flight(work: Work, drops: Mapping[str, float]) -> Iterator[Fact]:
    """Yield drops after the landing."""
    landing_s = _noted(work, LANDING_MARK, "landing")
    for role, time_s in drops.items():
        if landing_s is not None and time_s > landing_s + NOTED_S:
            said = {"mark": called(role), "time": moment(time_s)}
            yield fact("dropped-after-landing", **said, landing=moment(landing_s))


def _in_order(
    work: Work, drops: Mapping[str, float], roles: tuple[str, ...]
) -> Iterator[tuple[str, str]]:
    """Yield pairs of marks of which the first must fall first."""
    timed = [role for role in roles if role in drops]
    yield from pairwise(timed)
    if work.counted_from in drops and not roles:
        others = (role for role in drops if role != work.counted_from)
        yield from ((work.counted_from, role) for role in others)


def _out_of_order(
    drops: Mapping[str, float], pairs: Iterable[tuple[str, str]]
) -> Iterator[Fact]:
    """Yield the pairs that fell the other way round."""
    for first, second in pairs:
        first_s, second_s = drops[first], drops[second]
        if second_s < first_s:
            yield fact(
                "marks-out-of-order",
                first=called(first),
                first_at=moment(first_s),
                second=called(second),
                second_at=moment(second_s),
            )


def _noted(work: Work, role: str, what: str) -> float | None:
    """Return when a pilot launched or landed: as entered, else by the log."""
    entered = work.evidence.keyings.get(role)
    if entered is not None and entered.time_s is not None:
        return entered.time_s
    flown = work.evidence.flown
    index = None if flown is None else getattr(flown, what)
    if flown is None or index is None or index >= len(flown):
        return None
    return float(flown.time_s[index])
