"""What the board in the hall shows: what was published last, and never a live score.

It is made of entries and of published results alone; nothing that was computed since is
even given to it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any
from zoneinfo import ZoneInfo

from gui.blind import Pairs
from scorer.event.matter import Blocks
from scorer.event.moments import EventTime
from scorer.event.task_kinds import MEASURES
from scorer.facts import Fact, Measure, count, fact, inner, number, several, words
from scorer.facts import task as task_value
from scorer.ledger.publish import Read, what_is_up
from scorer.ledger.replay import State
from scorer.ledger.up import Put, where_tasks_stand
from scorer.sheets.edition import stage_of_task
from scorer.sheets.stamp import Binding as Stage
from scorer.sheets.stamp import Stamp, TaskStage, utc
from scorer.words.voice import Voice

FIRST = 10
"""Rows that always stand there."""
PAGE = 42
"""Further rows on one page, in two columns."""
PAGE_S = 12
"""How long a page stands, seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HallRow:
    """One line of the board."""

    rank: str
    pilot: int | None
    name: str
    total: str
    open: bool
    """The score may change: something about it was not decided when it went up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HallBoard:
    """One publication as the hall sees it."""

    event: str
    title: str
    stage: Stage | None
    """None = nothing was published."""
    stage_word: str
    when: str
    """Version and moment."""
    open_words: str
    """How many pilots were not decided; empty = all are."""
    rows: tuple[HallRow, ...] = ()
    tasks: tuple[str, ...] = ()
    """Where each task stands, a line each."""

    @property
    def pages(self) -> int:
        """How many pages the rows after the first ones take, one at least."""
        return max(1, -(-(len(self.rows) - FIRST) // PAGE))

    def page(self, index: int) -> tuple[HallRow, ...]:
        """Return the further rows of a page; pages go round."""
        start = FIRST + (index % self.pages) * PAGE
        return self.rows[start : start + PAGE]

    def ranks_words(self, index: int) -> str:
        """Say which rows of how many a page shows."""
        rows = self.page(index)
        if not rows:
            return ""
        total = number(len(self.rows))
        ends = {"first": words(rows[0].rank), "last": words(rows[-1].rank)}
        return Voice().say(fact("hall-ranks", total=total, **ends))


def hall_board(
    state: State, read: Read, voice: Voice, event: str, hidden: Pairs = frozenset()
) -> HallBoard:
    """Return the board of what was published last; `read` reads published results.

    Where they tell a `hidden` result, of a task and pilot, none of them are shown.
    """
    puts = what_is_up(state, read)
    for place in range(len(puts), 0, -1):
        found = _standings(puts[:place], puts, voice)
        if found is not None:
            return _seen(found, puts[place - 1].tree, hidden, voice)
    if puts:
        return _seen(_task(puts, voice), puts[-1].tree, hidden, voice)
    empty = voice.word("hall-nothing")
    return HallBoard(
        event=event, title=empty, stage=None, stage_word="", when="", open_words=""
    )


def _seen(
    board: HallBoard, tree: Mapping[str, Any], hidden: Pairs, voice: Voice
) -> HallBoard:
    """Return a board without what it would tell of hidden results: where they lie."""
    told = {
        (task["task"], score["pilot"])
        for task in tree.get("tasks", ())
        for score in task["scores"]
        if score["marks"]
    }
    if not told & hidden:
        return board
    return replace(board, title=voice.word("hall-hidden"), open_words="", rows=())


def _standings(
    puts: Sequence[Put], every: Sequence[Put], voice: Voice
) -> HallBoard | None:
    """Return the standings of a publication; None where they rest on a draft."""
    put = puts[-1]
    stages = tuple(map(stage_of_task, where_tasks_stand(puts, put.tree)))
    stamp = Stamp(
        state=Stage(put.stage.value),
        version=put.version,
        published_at=put.at,
        complaint_end=put.complaints_until,
        results_sha256="",
        scope=put.tasks,
        tasks=stages,
    )
    if not stages or stamp.of_standings.state is None:
        return None
    rests = several(task_value(stage.task) for stage in stages)
    title = fact("hall-standings", count=count(len(stages)), tasks=rests)
    now = tuple(map(stage_of_task, where_tasks_stand(every, every[-1].tree)))
    tree = put.tree
    return _board(
        tree,
        voice,
        title,
        stamp.of_standings,
        rows=tuple(_standing_rows(tree, voice)),
        tasks=_task_lines(now, voice),
    )


def _task(puts: Sequence[Put], voice: Voice) -> HallBoard:
    """Return the results of the task put up last, where there are no standings."""
    put = puts[-1]
    listed = where_tasks_stand(puts, put.tree)
    stages = [stage_of_task(up) for up in listed if up.put is put]
    shown = stages[-1] if stages else TaskStage(task=min(put.tasks, default=0))
    rows = tuple(_score_rows(put.tree, shown.task, voice))
    title = fact("hall-task", task=task_value(shown.task))
    lines = _task_lines([s for s in stages if s is not shown], voice)
    return _board(put.tree, voice, title, shown, rows=rows, tasks=lines)


def _board(
    tree: Mapping[str, Any],
    voice: Voice,
    title: Fact,
    stage: TaskStage,
    *,
    rows: tuple[HallRow, ...],
    tasks: tuple[str, ...],
) -> HallBoard:
    waiting = sum(row.open for row in rows)
    open_words = ""
    if waiting:
        open_words = voice.say(fact("hall-open", pilots=count(waiting)))
    word = "" if stage.state is None else voice.term(f"state-{stage.state}")
    at = words(_moment(stage.published_at, voice)) if stage.published_at else words("")
    return HallBoard(
        event=str(tree.get("event", {}).get("name", "")),
        title=voice.say(title),
        stage=stage.state,
        stage_word=word,
        when=voice.say(fact("hall-version", version=number(stage.version or 0), at=at)),
        open_words=open_words,
        rows=rows,
        tasks=tasks,
    )


def _task_lines(stages: Sequence[TaskStage], voice: Voice) -> tuple[str, ...]:
    return tuple(voice.say(_task_line(stage, voice)) for stage in stages if stage.state)


def _task_line(stage: TaskStage, voice: Voice) -> Fact:
    own = {"task": task_value(stage.task), "stage": inner(stage.says)}
    if not stage.complaint_end:
        return fact("hall-task-stands", **own)
    until = words(_moment(stage.complaint_end, voice))
    return fact("hall-task-complaints", until=until, **own)


def _moment(text: str, voice: Voice) -> str:
    return EventTime.of(utc(text), ZoneInfo(voice.time_zone)).dated(seconds=False)


def _standing_rows(tree: Mapping[str, Any], voice: Voice) -> Iterator[HallRow]:
    by = tree.get("standings_by", {})
    waiting, names = _waiting(tree, None), _names(tree)
    for row in tree.get("standings", ()):
        pilot = row["pilot"]
        total = str(row["total"])
        if by.get("measure") == "result":
            total = _result(row.get("result"), by, voice)
        elif isinstance(row["total"], int):
            total = voice.figure(row["total"])
        yield HallRow(
            rank=str(row["rank"]),
            pilot=pilot,
            name=names.get(pilot, ""),
            total=total,
            open=pilot in waiting,
        )


def _result(value: float | None, by: Mapping[str, Any], voice: Voice) -> str:
    if value is None:
        return voice.word("no-result")
    unit = str(by.get("unit"))
    race = unit == "m" and by.get("best") == "greatest"
    return voice.result(value, Measure.RACE if race else MEASURES[unit])


def _score_rows(tree: Mapping[str, Any], task: int, voice: Voice) -> Iterator[HallRow]:
    waiting, names = _waiting(tree, task), _names(tree)
    own = next((t for t in tree.get("tasks", ()) if t["task"] == task), None)
    scores = own["scores"] if own else ()
    for row in sorted(scores, key=lambda s: (s["rank"], s["pilot"])):
        yield HallRow(
            rank=str(row["rank"]),
            pilot=row["pilot"],
            name=names.get(row["pilot"], ""),
            total=voice.figure(row["score"]),
            open=row["pilot"] in waiting,
        )


def _names(tree: Mapping[str, Any]) -> dict[int, str]:
    return {row["number"]: row["name"] for row in tree.get("pilots", ())}


def _waiting(tree: Mapping[str, Any], task: int | None) -> set[int]:
    """Return the pilots about whom something was open as the results went up."""
    return {
        pilot
        for matter in tree.get("matters", ())
        if matter.get("blocks") == Blocks.OFFICIAL and not matter.get("accepted")
        if task is None or matter.get("task") in {None, task}
        for pilot in matter.get("pilots", ())
    }
