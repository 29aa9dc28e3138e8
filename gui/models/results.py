"""Task results and standings as rows, and what changed since the last publication."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from gui.models.table import RIGHT, Column
from gui.snapshot import Scored
from gui.theme import Tone
from scorer.event.matter import Matter
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
    score: Score
    measured: str
    result: str
    remark: str

    @property
    def place(self) -> str:
        """The rank, with the ranks the measurements' uncertainty leaves open."""
        low, high = self.score.rank_low, self.score.rank_high
        if low is None or high is None or low == high:
            return str(self.score.rank)
        return f"{self.score.rank} ({low}–{high})"


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingRow:
    """One line of the standings."""

    pilot: int
    name: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class WarningRow:
    """One warning of the score."""

    number: int
    """Its place in the score: those that keep results from becoming official first."""
    pilot: int | None
    name: str
    warning: Matter
    title: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeRow:
    """What changed for one pilot."""

    pilot: int
    name: str
    change: Change


def sheet_of(scored: Scored) -> Sheet | None:
    """Return what puts the results into words."""
    if scored.results is None:
        return None
    return Sheet(
        results=scored.results, event=scored.event, stamp=Stamp(results_sha256="")
    )


def score_rows(sheet: Sheet, task: TaskResult) -> list[ScoreRow]:
    """List a task's scores as they stand on the board."""
    return [
        ScoreRow(
            pilot=score.pilot,
            name=sheet.name(score.pilot),
            score=score,
            measured=sheet.amount(score.measured, task),
            result=sheet.amount(score.shown, task),
            remark="; ".join(filter(None, (score.field, remark(sheet, task, score)))),
        )
        for score in task_order(task)
    ]


def standing_rows(sheet: Sheet, table: StandingsTable) -> list[StandingRow]:
    """List the lines of the standings."""
    return [
        StandingRow(pilot=row.pilot, name=sheet.name(row.pilot), standing=row)
        for row in table.rows
    ]


def warning_rows(sheet: Sheet) -> list[WarningRow]:
    """List all warnings in the order of the score."""
    return [
        WarningRow(
            number=number,
            pilot=warning.pilot,
            name="" if warning.pilot is None else sheet.name(warning.pilot),
            warning=warning,
            title=sheet.results.voice.title(warning.kind.name),
            text=sheet.say(warning.stated),
        )
        for number, warning in enumerate(sheet.results.told)
    ]


def change_rows(sheet: Sheet, changes: Sequence[Change]) -> list[ChangeRow]:
    """List what changed since the last publication."""
    return [
        ChangeRow(pilot=c.pilot, name=sheet.name(c.pilot), change=c) for c in changes
    ]


def tables_of(results: Results) -> list[tuple[str, str]]:
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
    options.append((f"Open and doubtful ({len(results.told)})", WARNINGS))
    return options


def standings_of(results: Results, key: str) -> StandingsTable | None:
    """Return the standings behind a key."""
    if key == "standings":
        return results.standings
    if key == "teams":
        return results.team_standings
    if key.startswith("class "):
        return results.class_standings[int(key.removeprefix("class "))]
    return None


def _tone(row: ScoreRow) -> Tone:
    if not row.score.settled:
        return Tone.BAD
    return Tone.WARN if row.remark else Tone.PLAIN


SCORE_COLUMNS = (
    Column("Place", lambda r: r.score.rank, text=lambda r: r.place, align=RIGHT),
    Column("No.", lambda r: r.pilot, align=RIGHT),
    Column("Pilot", lambda r: r.name, width=20),
    Column("Result", lambda r: r.score.result, text=lambda r: r.result, align=RIGHT),
    Column("Score", lambda r: r.score.score, align=RIGHT),
    Column("Points", lambda r: r.score.formula_points, align=RIGHT),
    Column(
        "Penalty",
        lambda r: r.score.task_penalty or None,
        text=lambda r: str(r.score.task_penalty or ""),
        align=RIGHT,
    ),
    Column("Group", lambda r: str(r.score.group)),
    Column("Remarks", lambda r: r.remark, tone=_tone, width=40),
    Column(
        "Measured", lambda r: r.score.measured, text=lambda r: r.measured, align=RIGHT
    ),
)


def standing_columns(results: Results) -> tuple[Column, ...]:
    """Return the columns of standings: one for each task."""
    tasks = [task.task for task in results.tasks if task.state == "flown"]
    return (
        Column("Rank", lambda r: r.standing.rank, align=RIGHT),
        Column("No.", lambda r: r.pilot, align=RIGHT),
        Column("Pilot", lambda r: r.name, width=22),
        Column("Total", lambda r: r.standing.total, align=RIGHT),
        *(
            Column(f"Task {number}", partial(_task_score, number), align=RIGHT)
            for number in tasks
        ),
        Column(
            "Event penalty", lambda r: r.standing.event_penalty or None, align=RIGHT
        ),
    )


def _task_score(number: int, row: StandingRow) -> int | None:
    return row.standing.tasks.get(number)


def _where(row: ChangeRow) -> str:
    return "overall" if row.change.task is None else str(row.change.task)


WARNING_COLUMNS = (
    Column(
        "Weight",
        lambda r: r.number,
        text=lambda r: "open" if r.warning.holds_up else "",
        tone=lambda _: Tone.BAD,
    ),
    Column("Kind", lambda r: r.title),
    Column("Task", lambda r: r.warning.task, align=RIGHT),
    Column("No.", lambda r: r.pilot, align=RIGHT),
    Column("Pilot", lambda r: r.name, width=20),
    Column("What to know", lambda r: r.text, width=90),
)
CHANGE_COLUMNS = (
    Column("Task", lambda r: r.change.task, text=_where, align=RIGHT),
    Column("No.", lambda r: r.pilot, align=RIGHT),
    Column("Pilot", lambda r: r.name, width=26),
    Column("What changed", lambda r: ", ".join(map(str, r.change.values)), width=44),
    Column("Why", lambda r: "; ".join(r.change.reasons)),
)
