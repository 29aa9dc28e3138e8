"""Whether the evidence of a measured task can be true: the order in time of what happened.

The same for every task kind, whether it came to a result or not.  A launch comes before
the drops, a landing after them, no drop before anybody could launch, marks with letters or
numbers fall in their order, goals are declared before the drop, and nobody gets from one
point to the next faster than a balloon flies.  What cannot be is a matter that keeps
results from being official until somebody looked; where a time enters the result itself,
there is no result before its start.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from math import hypot

from scorer.event import matters
from scorer.event.model import Method
from scorer.event.moments import NOTED_S
from scorer.facts import Fact, fact, inner, log, moment, words
from scorer.facts import distance as far
from scorer.tasks.points import LANDING_MARK, LAUNCH_MARK, called
from scorer.tasks.work import NoResult, Work

FASTEST_M_S = 60.0
"""No balloon flies faster over the ground: 216 km/h (our choice)."""
Odd = tuple[Fact, tuple[str, ...]]
"""What cannot be, and the roles whose times say so."""


def check_order(work: Work, roles: tuple[str, ...] = ()) -> None:
    """State what cannot be in the times of a pilot's marks, as `impossible` does.

    Raises
    ------
    NoResult
        The task says that marks out of order get none.
    """
    reason = impossible(work, roles)
    if reason is not None:
        raise NoResult(reason)


def impossible(work: Work, roles: tuple[str, ...] = ()) -> Fact | None:
    """State what cannot be in the times of a pilot's marks; return what costs the result.

    `roles` are those that the task kind names in the order they are flown.
    """
    times = _times(work)
    drops = {r: t for r, t in times.items() if r not in {LAUNCH_MARK, LANDING_MARK}}
    flight = (*_before_flight(work, drops), *_after_flight(work, drops))
    declared = _declared_after(work, drops)
    for says, of in (*flight, *declared, *_too_fast(work, times)):
        _warn(work, says, of)
    how = work.settings.get("out_of_order")
    found = tuple(_out_of_order(drops, _in_order(work, drops, roles)))
    for says, of in () if how == "counts" else found:
        _warn(work, says, of)
    return found[0][0] if found and how == "no result" else None


def _warn(work: Work, says: Fact, of: Iterable[str]) -> None:
    """State what cannot be; where the log gives one of the times, with that log.

    `of` are the roles whose times are held against each other.
    """
    flown = work.evidence.flown
    if flown is None or all(_entered(work, role) for role in of):
        work.warn(says, matters.IMPOSSIBLE)
        return
    by_log = fact("times-by-log", told=inner(says), log=log(flown.log))
    work.warn(by_log, matters.IMPOSSIBLE, evidence=(flown.log,))


def _entered(work: Work, role: str) -> bool:
    """Tell whether somebody entered when a mark fell."""
    keying = work.evidence.keyings.get(role)
    return keying is not None and keying.time_s is not None


def _times(work: Work) -> dict[str, float]:
    """Return when a pilot's marks fell by role, as entered or as logged."""
    entered = {
        role: keying.time_s
        for role, keying in work.evidence.keyings.items()
        if keying.time_s is not None and keying.method is not Method.NONE
    }
    return entered | work.times


def _before_flight(work: Work, drops: Mapping[str, float]) -> Iterator[Odd]:
    """Yield drops before the launch, or before anybody could launch."""
    period = work.evidence.task.launch_period
    launch_s = _noted(work, LAUNCH_MARK, "launch")
    for role, time_s in drops.items():
        said = {"mark": called(role), "time": moment(time_s)}
        if launch_s is not None and time_s < launch_s - NOTED_S:
            says = fact("dropped-before-launch", **said, launch=moment(launch_s))
            yield says, (role, LAUNCH_MARK)
        elif period is not None and time_s < period.start_s:
            opening = moment(period.start_s)
            yield fact("dropped-before-period", **said, opening=opening), (role,)


def _after_flight(work: Work, drops: Mapping[str, float]) -> Iterator[Odd]:
    """Yield drops after the landing, and a landing before the launch."""
    landing_s = _noted(work, LANDING_MARK, "landing")
    launch_s = _noted(work, LAUNCH_MARK, "launch")
    if landing_s is not None and launch_s is not None and landing_s < launch_s:
        said = {"landing": moment(landing_s), "launch": moment(launch_s)}
        yield fact("landed-before-launch", **said), (LANDING_MARK, LAUNCH_MARK)
    period = work.evidence.task.launch_period
    if landing_s is not None and period is not None and landing_s < period.start_s:
        said = {"landing": moment(landing_s), "opening": moment(period.start_s)}
        yield fact("landed-before-period", **said), (LANDING_MARK,)
    for role, time_s in drops.items():
        if landing_s is not None and time_s > landing_s + NOTED_S:
            said = {"mark": called(role), "time": moment(time_s)}
            says = fact("dropped-after-landing", **said, landing=moment(landing_s))
            yield says, (role, LANDING_MARK)


def _declared_after(work: Work, drops: Mapping[str, float]) -> Iterator[Odd]:
    """Yield goals declared after the first drop, where no limit makes that a charge."""
    if "declare_by" not in work.settings or work.settings["declare_by"] is not None:
        return
    first = min(drops, key=lambda role: drops[role], default=None)
    for given in work.evidence.declarations:
        if first is None or given.time_s is None:
            continue
        if given.time_s > drops[first] + NOTED_S:
            says = fact(
                "declared-after-drop",
                goal=words(given.goal),
                declared=moment(given.time_s),
                drop=moment(drops[first]),
            )
            yield says, (first,)


def _too_fast(work: Work, times: Mapping[str, float]) -> Iterator[Odd]:
    """Yield marks that lie farther apart than anybody flies from one to the other."""
    marks, throw_m = work.evidence.marks, work.evidence.book.tracks.throw_m
    known = {role: at.point for role, at in marks.items() if at.point and role in times}
    for a, b in pairwise(sorted(known, key=lambda role: (times[role], role))):
        apart = hypot(known[a][0] - known[b][0], known[a][1] - known[b][1])
        taken_s = times[b] - times[a] + NOTED_S
        if apart - 2 * throw_m > FASTEST_M_S * taken_s:
            says = fact(
                "marks-too-far-apart",
                first=called(a),
                first_at=moment(times[a]),
                second=called(b),
                second_at=moment(times[b]),
                apart=far(apart),
            )
            yield says, (a, b)


def _in_order(
    work: Work, drops: Mapping[str, float], roles: tuple[str, ...]
) -> Iterator[tuple[str, str]]:
    """Yield pairs of marks of which the first must fall first."""
    first = work.counted_from
    if first in drops:
        yield from ((first, role) for role in drops if role != first)
    others = [role for role in drops if role != first or not first]
    yield from pairwise([r for r in roles if r in drops] or _numbered(others))


def _numbered(roles: Iterable[str]) -> list[str]:
    """Return marks in the order of their letters or numbers; none where they have names."""
    own = list(roles)
    if all(role.isdecimal() for role in own):
        return sorted(own, key=int)
    return sorted(own) if all(len(r) == 1 and r.isalpha() for r in own) else []


def _out_of_order(
    drops: Mapping[str, float], pairs: Iterable[tuple[str, str]]
) -> Iterator[Odd]:
    """Yield the pairs that fell the other way round."""
    for first, second in pairs:
        first_s, second_s = drops[first], drops[second]
        if second_s < first_s:
            says = fact(
                "marks-out-of-order",
                first=called(first),
                first_at=moment(first_s),
                second=called(second),
                second_at=moment(second_s),
            )
            yield says, (first, second)


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
