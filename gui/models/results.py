"""Task results and standings as rows, and what changed since the last publication."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from gui.blind import Pairs, is_ranked, ranked, veiled
from gui.models.matters import MatterList
from gui.models.table import RIGHT, TableColumn
from gui.snapshot import ScoredSnapshot
from gui.theme import Tone
from scorer.event.matter import Blocks, Matter
from scorer.ledger.api import Change
from scorer.scoring import told
from scorer.scoring.results import (
    Results,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.sheets.breakdown import remark
from scorer.sheets.sheet import Sheet, task_order
from scorer.sheets.stamp import Stamp

WARNINGS = "warnings"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoreRow:
    """One pilot in one task."""

    pilot: int
    name: str
    score: Score | None
    """None = a guest, in no rank and without points."""
    measured: str
    result: str
    remark: str
    flown: str

    @property
    def place(self) -> str:
        """The rank, with the ranks the measurements' uncertainty leaves open."""
        if self.score is None or not is_ranked(self.score):
            return ""
        others = told.place_range(self.score)
        return f"{self.score.rank} ({others})" if others else str(self.score.rank)


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingRow:
    """One line of the standings."""

    pilot: int | None
    """None = a team."""
    name: str
    standing: Standing
    value: float | None = None
    """What the line comes to, None = no result; and as people read it."""
    total: str = ""
    values: Mapping[int, float] = field(default_factory=dict)
    """What each task adds, by number; and as people read it."""
    cells: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class WarningRow:
    """One open matter."""

    number: int
    """Its place in the list: those that keep results from becoming official first."""
    pilot: int | None
    name: str
    warning: Matter
    title: str
    text: str
    holds_up: str
    """What it keeps results from becoming."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeRow:
    """What changed for one pilot."""

    pilot: int
    name: str
    change: Change
    what: str
    why: str


def sheet_of(scored: ScoredSnapshot | None) -> Sheet | None:
    """Return what puts the results into words; None without results."""
    if scored is None or scored.results is None:
        return None
    return Sheet(
        results=scored.results, event=scored.event, stamp=Stamp(results_sha256="")
    )


def score_rows(sheet: Sheet, task: TaskResult) -> list[ScoreRow]:
    """List a task's scores as they stand on the board, guests last."""
    rows = [
        ScoreRow(
            pilot=score.pilot,
            name=sheet.name(score.pilot),
            score=score,
            measured=sheet.amount(score.measured, task),
            result=sheet.amount(score.shown, task),
            remark="; ".join(filter(None, (score.field, remark(sheet, task, score)))),
            flown=told.group(sheet.voice, score),
        )
        for score in task_order(task)
    ]
    return rows + [
        ScoreRow(
            pilot=guest.pilot,
            name=sheet.name(guest.pilot),
            score=None,
            measured="",
            result=told.guest_result(sheet.voice, task, guest),
            remark=sheet.word("out-of-competition"),
            flown="",
        )
        for guest in task.guests
        if task.state == "flown"
    ]


def standing_rows(sheet: Sheet, table: StandingsTable) -> list[StandingRow]:
    """List the lines of the standings."""
    teams = list(table.teams)
    flown = _flown(sheet.results)
    return [
        StandingRow(
            pilot=None if teams else row.pilot,
            name=teams[row.pilot - 1] if teams else sheet.name(row.pilot),
            standing=row,
            value=table.value(row),
            total=sheet.total(row, table),
            values=table.values(row),
            cells={task.task: sheet.cell(row, table, task) for task in flown},
        )
        for row in table.rows
    ]


def _flown(results: Results) -> list[TaskResult]:
    return [task for task in results.tasks if task.state == "flown"]


def warning_rows(sheet: Sheet, listed: MatterList) -> list[WarningRow]:
    """List all open matters in their order."""
    return [
        WarningRow(
            number=number,
            pilot=row.matter.pilot,
            name="" if row.matter.pilot is None else sheet.name(row.matter.pilot),
            warning=row.matter,
            title=sheet.results.voice.title(row.matter.kind.name),
            text=row.text,
            holds_up=_holds_up(sheet, row.matter),
        )
        for number, row in enumerate(listed.rows)
    ]


def _holds_up(sheet: Sheet, matter: Matter) -> str:
    if matter.blocks is Blocks.NOTHING:
        return sheet.word("holds-up-accepted") if matter.accepted else ""
    return sheet.word(f"holds-up-{matter.blocks}")


def change_rows(sheet: Sheet, changes: Sequence[Change]) -> list[ChangeRow]:
    """List what changed since the last publication."""
    return [
        ChangeRow(
            pilot=c.pilot,
            name=sheet.name(c.pilot),
            change=c,
            what=", ".join(sheet.say(value.says) for value in c.values),
            why="; ".join(map(sheet.say, c.reasons)),
        )
        for c in changes
    ]


def tables_of(results: Results, listed: MatterList) -> list[tuple[str, str]]:
    """List what there is to see: title, and a key."""
    options = [("Standings, everybody", "standings")]
    options += [
        (f"Standings, {table.title}", f"class {i}")
        for i, table in enumerate(results.class_standings)
    ]
    if results.team_standings is not None:
        options.append(("Standings of teams", "teams"))
    options += [
        (told.task_title(results.voice, task), f"task {task.task}")
        for task in results.tasks
    ]
    options.append((f"Open matters ({len(listed.rows)})", WARNINGS))
    return options


def task_words(sheet: Sheet, task: TaskResult, hidden: Pairs = frozenset()) -> str:
    """Say what the points of a task rest on, or that it gives none."""
    if task.task in veiled(hidden):
        return ""
    if task.state != "flown":
        return sheet.word(f"this-task-is-{task.state}")
    return " · ".join(told.formula_line(sheet.voice, part) for part in task.parts)


def standings_of(results: Results, key: str) -> StandingsTable | None:
    """Return the standings behind a key."""
    if key == "standings":
        return results.standings
    if key == "teams":
        return results.team_standings
    if key.startswith("class "):
        return results.class_standings[int(key.removeprefix("class "))]
    return None


def _own(name: str) -> Callable[[ScoreRow], Any]:
    """Return what reads a value of a row's score; None for a guest."""

    def read(row: ScoreRow) -> Any:
        return None if row.score is None else getattr(row.score, name)

    return read


def _ranked(name: str) -> Callable[[ScoreRow], Any]:
    """Return what reads a value that goes with the rank."""
    return lambda row: ranked(row.score, name)


def _number(name: str) -> Callable[[ScoreRow], str]:
    own = _ranked(name)
    return lambda row: "" if own(row) is None else str(own(row))


def _tone(row: ScoreRow) -> Tone:
    if row.score is not None and not row.score.settled:
        return Tone.BAD
    return Tone.WARN if row.remark else Tone.PLAIN


SCORE_COLUMNS = (
    TableColumn("Place", _ranked("rank"), text=lambda r: r.place, align=RIGHT),
    TableColumn("No.", lambda r: r.pilot, align=RIGHT),
    TableColumn("Pilot", lambda r: r.name, width=24, rest=True),
    TableColumn("Result", _own("result"), text=lambda r: r.result, align=RIGHT),
    TableColumn(
        "Points",
        _ranked("formula_points"),
        text=_number("formula_points"),
        align=RIGHT,
    ),
    TableColumn(
        "Penalty",
        lambda r: (r.score and r.score.task_penalty) or None,
        text=lambda r: str((r.score and r.score.task_penalty) or ""),
        align=RIGHT,
    ),
    TableColumn("Score", _ranked("score"), text=_number("score"), align=RIGHT),
    TableColumn("Flown", lambda r: r.flown),
    TableColumn("Remarks", lambda r: r.remark, tone=_tone, width=40),
    TableColumn("Measured", _own("measured"), text=lambda r: r.measured, align=RIGHT),
)


PENALTY = TableColumn(
    "Competition penalty", lambda r: r.standing.event_penalty or None, align=RIGHT
)


def standing_columns(
    results: Results, table: StandingsTable | None = None
) -> tuple[TableColumn, ...]:
    """Return the columns of standings (None: of everybody): one for each task."""
    table = table or results.standings
    head = told.total_head(results.voice, table)
    dash = told.legend_dash(results.voice, table)
    alone = table.teams and table.by_result  # teams have no results by task
    tasks = [] if alone else [task.task for task in _flown(results)]
    return (
        TableColumn("Rank", lambda r: r.standing.rank, align=RIGHT),
        TableColumn("No.", lambda r: r.pilot, align=RIGHT),
        TableColumn("Pilot", lambda r: r.name, width=24, rest=True),
        TableColumn(head, lambda r: r.value, text=lambda r: r.total, align=RIGHT),
        *(
            TableColumn(
                f"Task {number}",
                partial(_task_score, number),
                text=partial(_task_score_text, number),
                tip=partial(_task_tip, number, dash),
                align=RIGHT,
            )
            for number in tasks
        ),
        *([PENALTY] if any(row.event_penalty for row in table.rows) else []),
    )


def _task_score(number: int, row: StandingRow) -> float | None:
    return row.values.get(number)


def _task_score_text(number: int, row: StandingRow) -> str:
    return row.cells.get(number, told.DASH)


def _task_tip(number: int, dash: str, row: StandingRow) -> str:
    return dash if _task_score(number, row) is None else ""


def _where(row: ChangeRow) -> str:
    return "overall" if row.change.task is None else str(row.change.task)


WARNING_COLUMNS = (
    TableColumn(
        "Holds up",
        lambda r: r.number,
        text=lambda r: r.holds_up,
        tone=lambda _: Tone.BAD,
    ),
    TableColumn("Kind", lambda r: r.title),
    TableColumn("Task", lambda r: r.warning.task, align=RIGHT),
    TableColumn("No.", lambda r: r.pilot, align=RIGHT),
    TableColumn("Pilot", lambda r: r.name, width=20),
    TableColumn("What to know", lambda r: r.text, width=90),
)
CHANGE_COLUMNS = (
    TableColumn("Task", lambda r: r.change.task, text=_where, align=RIGHT),
    TableColumn("No.", lambda r: r.pilot, align=RIGHT),
    TableColumn("Pilot", lambda r: r.name, width=26),
    TableColumn("What changed", lambda r: r.what, width=44),
    TableColumn("Why", lambda r: r.why),
)
