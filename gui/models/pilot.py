"""Everything about one pilot: tasks, what the pilot holds in hand, all that was entered."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from gui.blind import is_ranked
from gui.models.journal import EntryRow, entry_rows
from gui.snapshot import ScoredSnapshot, Snapshot
from gui.theme import Tone
from scorer.facts import Fact, count, fact, listed, number, words
from scorer.ledger.changes import Change, changes
from scorer.ledger.publish import Read, what_is_up
from scorer.ledger.replay import State
from scorer.ledger.up import Put, standing, tree_up, where_tasks_stand
from scorer.scoring import told
from scorer.scoring.results import Results, Score, TaskResult
from scorer.sheets.edition import stage_of_task
from scorer.sheets.sheet import Sheet
from scorer.sheets.stamp import TaskStage
from scorer.words.voice import Voice

Tree = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedScores:
    """What is up for all pilots, and how it differs from what counts now."""

    stages: Mapping[int, TaskStage] = field(default_factory=dict)
    """Where each flown task stands on the board."""
    corrected: frozenset[int] = frozenset()
    """Tasks whose results are others now than those on the board."""
    up: Mapping[int, Put] = field(default_factory=dict)
    """The publication each task went up with."""
    changes: tuple[Change, ...] = ()
    """Since then."""

    def score(self, task: int, pilot: int) -> Tree | None:
        """Return a pilot's score as it went up."""
        put = self.up.get(task)
        tasks = () if put is None else put.tree.get("tasks", ())
        own = next((t for t in tasks if t["task"] == task), None)
        scores = own["scores"] if own else ()
        return next((s for s in scores if s["pilot"] == pilot), None)


def hand_of(state: State, tree: Tree, read: Read) -> PublishedScores:
    """Compare what is up with what counts now; `read` reads published results."""
    puts = what_is_up(state, read)
    before = tree_up(puts, ())
    if before is None:
        numbers = [t["task"] for t in tree.get("tasks", ()) if t["state"] == "flown"]
        before = tree_up(puts, numbers)
    found = where_tasks_stand(puts, tree)
    held = standing(puts)
    differs = changes(before, tree, tasks=held) if held else ()
    return PublishedScores(
        stages={
            up.task: stage_of_task(replace(up, put=held.get(up.task))) for up in found
        },
        corrected=frozenset(u.task for u in found if u.put is None and u.task in held),
        up=held,
        changes=differs,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PilotTask:
    """One task of a pilot, as a row."""

    task: TaskResult
    score: Score | None
    """None = hidden, or a guest, or not entered."""
    title: str
    stage: str
    result: str
    rank: str = ""
    points: str = ""
    penalty: str = ""
    total: str = ""
    open: int = 0
    """How many matters are open about the pilot in it."""
    tone: Tone = Tone.PLAIN


def pilot_tasks(
    sheet: Sheet,
    scored: ScoredSnapshot,
    pilot: int,
    up: PublishedScores,
    open_by_task: Mapping[int, int],
) -> list[PilotTask]:
    """List the tasks of a pilot in their order."""
    rows = []
    for task in sheet.results.tasks:
        stage = up.stages.get(task.task)
        said = sheet.word(f"state-{task.state}")
        if stage is not None:
            said = sheet.say(stage.says)
        if task.task in up.corrected:
            said = sheet.say(fact("pilot-corrected", stage=words(said)))
        many = open_by_task.get(task.task, 0)
        if many:
            said = f"{said} · {sheet.say(fact('pilot-open', matters=count(many)))}"
        made: dict[str, Any] = {
            "task": task,
            "title": told.kind_title(sheet.voice, task.kind),
            "stage": said,
            "open": many,
        }
        guest = next((g for g in task.guests if g.pilot == pilot), None)
        score = task.score_of(pilot)
        if (task.task, pilot) in scored.hidden:
            hint = sheet.word("pilot-hidden")
            rows.append(PilotTask(score=None, result=hint, **made))
        elif score is not None:
            rows.append(_task_row(sheet, task, score, made))
        elif guest is not None:
            result = told.guest_result(sheet.voice, task, guest)
            out = sheet.word("out-of-competition")
            rows.append(PilotTask(score=None, result=result, rank=out, **made))
    return rows


def _task_row(
    sheet: Sheet, task: TaskResult, score: Score, made: dict[str, Any]
) -> PilotTask:
    voice = sheet.voice
    waits = [c for c in score.charges if c.ruling.is_open]
    penalty = told.minus(voice, score.task_penalty)
    if not penalty and waits:
        first = waits[0]
        penalty = voice.say(first.amount.says)
        if not first.counts:
            penalty = f"{penalty}\n{voice.word('pilot-if-confirmed')}"
    planned, ranked = task.state == "planned", is_ranked(score)
    hidden = voice.word("pilot-hidden")
    return PilotTask(
        score=score,
        result=sheet.result(score, task),
        rank="" if planned else str(score.rank) if ranked else hidden,
        points=voice.figure(score.formula_points) if ranked else hidden,
        penalty=penalty or told.DASH,
        total=voice.figure(score.score) if ranked else hidden,
        tone=Tone.WARN if waits or not score.settled else Tone.PLAIN,
        **made,
    )


def head_line(snapshot: Snapshot, pilot: int) -> str:
    """Say in a line who a pilot is."""
    own = snapshot.event.pilot(pilot)
    if own is None:
        return ""
    logger = Voice().say(fact("pilot-logger", logger=words(own.logger)))
    guest = "" if own.competes else Voice().word("out-of-competition")
    parts = (own.registration, own.class_name, logger if own.logger else "", guest)
    return "  ·  ".join(part for part in parts if part)


def standing_words(
    results: Results, pilot: int, *, hidden: bool = False
) -> tuple[str, str]:
    """Return a pilot's place and total in the standings; empty where in none."""
    table = results.standings
    row = next((r for r in table.rows if r.pilot == pilot), None)
    if row is None:
        told_ = results.voice.word("pilot-hidden") if hidden else ""
        return told_, told_
    of = {"rank": number(row.rank), "field": number(len(table.rows))}
    place = results.voice.say(fact("pilot-place", **of))
    return place, told.total(results.voice, row, table)


def story(snapshot: Snapshot, who: str, pilot: int) -> list[EntryRow]:
    """List everything that was entered about a pilot, newest first."""
    return [
        row for row in entry_rows(snapshot, who) if pilot in row.pilots or _is_up(row)
    ]


def _is_up(row: EntryRow) -> bool:
    return row.entry.kind == "publication"


def held_words(
    hand: PublishedScores, voice: Voice, task: int, pilot: int, *, hidden: bool
) -> tuple[str, str]:
    """Say what the pilot holds in hand of a task, and whether it changed since."""
    if hidden:
        return voice.word("pilot-hidden"), ""
    put, score = hand.up.get(task), hand.score(task, pilot)
    if put is None or score is None:
        return voice.word("holds-nothing"), ""
    holds = fact(
        "holds-version",
        version=number(put.version),
        stage=words(voice.term(f"state-{put.stage}").lower()),
        rank=number(score["rank"]),
        score=number(score["score"]),
    )
    found = [c for c in hand.changes if (c.task, c.pilot) == (task, pilot)]
    if not found:
        return voice.say(holds), voice.word("holds-unchanged")
    return voice.say(holds), "; ".join(voice.say(_changed(c)) for c in found)


def _changed(change: Change) -> Fact:
    what = [value.says for value in change.values] or change.reasons
    return fact("holds-changed", what=listed(what))
