"""What the target log says against the marks: closed, moved, opened too early."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from scorer.event import matters
from scorer.event.matter import Matter, MatterKind
from scorer.event.model import Flight, Method, TargetEvent, TargetLine, Task
from scorer.facts import Fact, fact, length, moment
from scorer.facts import place as named
from scorer.geodesy.site import Site
from scorer.scoring.results import MarkResult, TaskResult

_GATE = (TargetEvent.OPENED, TargetEvent.CLOSED)


def of_targets(
    flight: Flight, task: Task, result: TaskResult, site: Site
) -> Iterator[Matter]:
    """Yield drops at a closed target, marks of an older place of it, early openings."""
    logs: dict[str, list[TargetLine]] = defaultdict(list)
    for line in sorted(flight.targets, key=lambda one: one.time_s):
        if line.task == task.number:
            logs[line.target].append(line)
    for target, lines in logs.items():
        moves = _moves(task, target, lines, site)
        yield from (
            _matter(matters.TARGET_NOT_CLEAR, task, says)
            for says in _not_clear(target, lines)
        )
        for own in result.scores:
            for mark in own.marks:
                aim = task.roles.get(mark.mark) or task.target
                alone = len(set(task.targets)) <= 1 or bool(task.roles)
                if aim != target or not alone or mark.method == "none":
                    continue
                for kind, says in (
                    *_closed(target, lines, mark.time_s),
                    *_moved(target, mark, moves),
                ):
                    yield _matter(kind, task, says, own.pilot, mark.mark)


def is_open(lines: Sequence[TargetLine], time_s: float) -> bool:
    """Tell whether a target was open at a moment, both ends included.

    `lines` stand in order of time.  Without openings and closings it is always open;
    before the first opening it is closed.
    """
    gate = [line for line in lines if line.event in _GATE]
    past = [
        line
        for line in gate
        if line.time_s < time_s
        or (line.time_s == time_s and line.event is TargetEvent.OPENED)
    ]
    if past:
        return past[-1].event is TargetEvent.OPENED
    return not gate or gate[0].event is TargetEvent.CLOSED


def _not_clear(target: str, lines: Sequence[TargetLine]) -> Iterator[Fact]:
    """Yield openings before which nobody saw the field clear of other balloons."""
    clear = False
    for line in lines:
        if line.event is TargetEvent.OPENED and not clear:
            at = moment(line.time_s)
            yield fact("target-not-clear", target=named(target), at=at)
        clear = line.event is TargetEvent.CLEAR or (
            clear and line.event is not TargetEvent.CLOSED
        )


def _closed(
    target: str, lines: Sequence[TargetLine], time_s: float | None
) -> Iterator[tuple[MatterKind, Fact]]:
    if time_s is not None and not is_open(lines, time_s):
        says = fact("target-closed", target=named(target), at=moment(time_s))
        yield matters.TARGET_CLOSED, says


class _Move(NamedTuple):
    """A target was moved once."""

    at_s: float
    away_m: float | None
    """How far; None = nobody said where it stands since."""


def _moves(
    task: Task, target: str, lines: Sequence[TargetLine], site: Site
) -> list[_Move]:
    """Return the moves of a target in their order, with how far each took it."""
    own = (s for s in site.stood if (s.task, s.spot.name) == (task.number, target))
    away = {b.since_s: site.distance_m(a.spot, b.spot) for a, b in pairwise(own)}
    return [
        _Move(line.time_s, away.get(line.time_s) if line.says_where else None)
        for line in lines
        if line.event is TargetEvent.MOVED
    ]


def _moved(
    target: str, mark: MarkResult, moves: Sequence[_Move]
) -> Iterator[tuple[MatterKind, Fact]]:
    """Ask about a mark whose version of the target nobody can tell.

    One by coordinates counts to where the target stood as it fell; a tape may have been
    laid to where it stood then or later.
    """
    fell_s = mark.time_s
    later = [m for m in moves if fell_s is None or fell_s < m.at_s]
    if not later:
        return
    located = mark.method != Method.TAPE and all(m.away_m is not None for m in moves)
    if fell_s is not None and located:
        return
    kind = "target-moved-when" if fell_s is None else "target-moved-since"
    move = later[-1] if fell_s is None else later[0]
    values = {"target": named(target), "at": moment(move.at_s)}
    if fell_s is not None:
        values["fell"] = moment(fell_s)
    if move.away_m is not None:
        kind, values["away"] = f"{kind}-by", length(move.away_m)
    yield matters.TARGET_MOVED, Fact(kind, tuple(values.items()))


def _matter(
    kind: MatterKind, task: Task, says: Fact, pilot: int | None = None, mark: str = ""
) -> Matter:
    return Matter(
        kind=kind,
        flight=task.flight,
        task=task.number,
        pilots=() if pilot is None else (pilot,),
        mark=mark,
        says=says,
    )
