"""What the target log says against the marks: closed, moved, opened too early."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from scorer.event import matters
from scorer.event.matter import Matter, MatterKind
from scorer.event.model import Flight, TargetEvent, TargetLine, Task
from scorer.facts import Fact, fact, moment
from scorer.facts import place as named
from scorer.scoring.results import TaskResult

_GATE = (TargetEvent.OPENED, TargetEvent.CLOSED)


def of_targets(flight: Flight, task: Task, result: TaskResult) -> Iterator[Matter]:
    """Yield drops at a closed target, marks of an older place of it, early openings."""
    logs: dict[str, list[TargetLine]] = defaultdict(list)
    for line in sorted(flight.targets, key=lambda one: one.time_s):
        if line.task == task.number:
            logs[line.target].append(line)
    for target, lines in logs.items():
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
                for kind, says in _of_mark(target, lines, mark.time_s):
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


def _of_mark(
    target: str, lines: Sequence[TargetLine], time_s: float | None
) -> Iterator[tuple[MatterKind, Fact]]:
    moves = [line.time_s for line in lines if line.event is TargetEvent.MOVED]
    if time_s is None:
        if moves:
            at = moment(moves[-1])
            says = fact("target-moved-when", target=named(target), at=at)
            yield matters.TARGET_MOVED, says
        return
    if not is_open(lines, time_s):
        says = fact("target-closed", target=named(target), at=moment(time_s))
        yield matters.TARGET_CLOSED, says
    if moves and time_s < moves[-1]:
        yield (
            matters.TARGET_MOVED,
            fact(
                "target-moved-since",
                target=named(target),
                fell=moment(time_s),
                at=moment(moves[-1]),
            ),
        )


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
