"""What is up: for each task the stage, version and moment that its results stand at.

Publications are taken in their order.  One that names a task gives it its stage; one of
the whole event gives all of them its own, and takes those down that are not flown in it,
but never takes back what is up at a higher stage while the task's numbers are the same.
What was not put up as it is now is a draft.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Any

from scorer.facts import Fact, Value, count, fact, number, several, term
from scorer.facts import task as task_value
from scorer.ledger.acts import Published, Stage
from scorer.ledger.changes import changes
from scorer.ledger.entry import utc_text
from scorer.ledger.replay import Publication

Tree = Mapping[str, Any]
"""results.json."""
_ORDER = tuple(Stage)
FLOWN = "flown"


@dataclass(frozen=True, kw_only=True)
class Put:
    """Results that go up, or went: what a stage counts from."""

    stage: Stage
    version: int
    tasks: tuple[int, ...]
    at: str
    """UTC, ISO 8601."""
    complaints_until: str = ""
    read: Callable[[], Tree]
    """Reads the results."""

    @cached_property
    def tree(self) -> Tree:
        """The results, read when they are first asked for."""
        return self.read()


@dataclass(frozen=True, slots=True, kw_only=True)
class Up:
    """Where one task stands."""

    task: int
    put: Put | None
    """The publication it was put up with; None = a draft."""


def moment_of(publication: Publication) -> str:
    """Return when results went up: the one moment that all papers say."""
    return publication.act.at or utc_text(publication.entry.when)


def put_of(publication: Publication, read: Callable[[], Tree]) -> Put:
    """Return a publication with what reads its results."""
    act = publication.act
    return Put(
        stage=act.stage,
        version=act.version,
        tasks=act.tasks,
        at=moment_of(publication),
        complaints_until=act.complaints_until,
        read=read,
    )


def standing(puts: Iterable[Put]) -> dict[int, Put]:
    """Return for each task the publication it stands at, oldest publication first."""
    held: dict[int, Put] = {}
    for put in filter(_readable, _since(list(puts))):
        flown = [t["task"] for t in put.tree["tasks"] if t["state"] == FLOWN]
        if put.tasks:
            held |= {task: put for task in flown if task in put.tasks}
        else:
            held = {
                task: held[task] if _keeps(held.get(task), put, task) else put
                for task in flown
            }
    return held


def _since(puts: Sequence[Put]) -> Sequence[Put]:
    """Leave out what nothing stands at any more, without reading its results.

    A publication of the whole event that none before it outranks takes the place of all.
    """
    ranks = [_ORDER.index(put.stage) for put in puts]
    highest = list(accumulate(ranks, max))
    for place in reversed(range(len(puts))):
        outranked = ranks[place] < highest[place]
        if not puts[place].tasks and not outranked and _readable(puts[place]):
            return puts[place:]
    return puts


def _readable(put: Put) -> bool:
    """Tell whether its file holds results, whoever put it up."""
    return "tasks" in put.tree


def _keeps(before: Put | None, now: Put, task: int) -> bool:
    """Tell whether a task keeps its stage beside a publication of the whole event."""
    if before is None or now.tasks:
        return False
    higher = _ORDER.index(before.stage) > _ORDER.index(now.stage)
    return higher and same_numbers(before.tree, now.tree, task)


def same_numbers(before: Tree, after: Tree, task: int) -> bool:
    """Tell whether two documents give the same numbers for a task."""
    return not any(change.values for change in changes(before, after, tasks=[task]))


def where_tasks_stand(puts: Iterable[Put], tree: Tree) -> tuple[Up, ...]:
    """Say for each flown task of some results where it stands, in their order."""
    held = standing(puts)
    found = []
    for task in tree.get("tasks", ()):
        if task["state"] != FLOWN:
            continue
        put = held.get(task["task"])
        if put is not None and not same_numbers(put.tree, tree, task["task"]):
            put = None
        found.append(Up(task=task["task"], put=put))
    return tuple(found)


def taken_back(puts: Sequence[Put], now: Put) -> tuple[Fact, ...]:
    """State which tasks a publication takes back from the stage they stand at."""
    held, then = standing(puts), standing((*puts, now))
    return tuple(
        _taken_back(task, put, then.get(task))
        for task, put in sorted(held.items())
        if task not in then or _ORDER.index(then[task].stage) < _ORDER.index(put.stage)
    )


def _taken_back(task: int, was: Put, now: Put | None) -> Fact:
    told = {
        "task": task_value(task),
        "stage": term(f"state-{was.stage}"),
        "version": number(was.version),
    }
    if now is None:
        return fact("stage-gone", **told)
    return fact("stage-back", now=term(f"state-{now.stage}"), **told)


def raised(puts: Sequence[Put], now: Put) -> tuple[Fact, ...]:
    """State what goes up for the first time, and which tasks to a higher stage."""
    held, fresh, higher = standing(puts), list[int](), dict[Stage, list[int]]()
    for task, put in sorted(standing((*puts, now)).items()):
        was = held.get(task)
        if put is now and was is None:
            fresh.append(task)
        elif put is now and was and _ORDER.index(was.stage) < _ORDER.index(now.stage):
            higher.setdefault(was.stage, []).append(task)
    new = [fact("goes-up-first", **_counted(fresh))] if fresh else []
    if not now.tasks and all(put.tasks for put in puts):
        new.append(fact("standings-go-up-first"))
    then = term(f"state-{now.stage}")
    rest = (
        fact("goes-up-higher", was=term(f"state-{stage}"), now=then, **_counted(tasks))
        for stage, tasks in higher.items()
    )
    return (*new, *rest)


def _counted(tasks: Sequence[int]) -> dict[str, Value]:
    return {"count": count(len(tasks)), "tasks": several(map(task_value, tasks))}


def tree_up(puts: Iterable[Put], tasks: Iterable[int]) -> dict[str, Any] | None:
    """Return what is up of some tasks (none = all) with the standings; None = nothing."""
    every, wanted = list(puts), set(tasks)
    held = standing(every)
    whole = [put for put in every if not put.tasks]
    shown = [(n, put) for n, put in sorted(held.items()) if not wanted or n in wanted]
    if not shown or (not wanted and not whole):
        return None
    rest = whole[-1].tree if whole else {}
    listed = [t for n, put in shown for t in put.tree["tasks"] if t["task"] == n]
    return {**rest, "tasks": listed}


def covers(act: Published, tasks: Iterable[int]) -> bool:
    """Tell whether a publication is of these tasks too (none = of the whole event)."""
    wanted = set(tasks)
    return not act.tasks or (bool(wanted) and wanted <= set(act.tasks))
