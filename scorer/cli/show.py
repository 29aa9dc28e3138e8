"""Print results as tables."""

from scorer.cli.screen import say, screen, table
from scorer.event.finding import Verdict
from scorer.event.model import Event
from scorer.rounding import half_up
from scorer.scoring.assemble import UNIT_NAMES
from scorer.scoring.penalties import show as show_amount
from scorer.scoring.results import Results, Score, TaskResult

CAUTION = (
    "Heights are evidence for a sport, with stated uncertainty; a minimum altitude is a "
    "limit of the game, never a statement that flying at it is safe."
)


def results(event: Event, scored: Results, only_task: int | None) -> None:
    """Print tasks, findings, warnings and, unless one task is asked for, standings."""
    names = {pilot.number: pilot.name for pilot in event.pilots}
    say(f"{scored.event} — rule book {scored.book}")
    for task in scored.tasks:
        if only_task in {None, task.task}:
            _task(task, names)
    _findings(scored, only_task)
    if only_task is None:
        _standings(scored, names)
    _warnings(scored, only_task)


def _task(task: TaskResult, names: dict[int, str]) -> None:
    formula = task.formula
    numbers = (
        f"P {formula.P}, A {formula.A}, M {formula.M}, W {_number(formula.W)}, "
        f"RM {_number(formula.RM)}, SM {formula.SM}"
    )
    title = (
        f"\nTask {task.task} {task.kind}, flight {task.flight}, {task.state}: {numbers}"
    )
    columns = (
        ("Rank", "right"),
        ("No.", "right"),
        ("Pilot", "left"),
        ("Grp", "left"),
        (f"Result {UNIT_NAMES[task.unit]}", "right"),
        ("±", "right"),
        ("Points", "right"),
        ("Penalty", "right"),
        ("Score", "right"),
        ("Places 95 %", "left"),
        ("Remarks", "wrap"),
    )
    rows = [_row(score, names) for score in task.scores]
    screen.print(table(title, columns, rows))
    for better, worse, chance in task.remeasure:
        say(
            f"Worth measuring again: {better} and {worse} "
            f"(their order is wrong with {half_up(100 * chance)} % chance)"
        )


def _row(score: Score, names: dict[int, str]) -> tuple[str, ...]:
    penalty = "−" + str(score.task_penalty) if score.task_penalty else ""
    if score.event_penalty:
        penalty += f" (event −{score.event_penalty})"
    spread = ""
    if score.rank_low is not None and score.rank_low != score.rank_high:
        spread = f"{score.rank_low}–{score.rank_high}"
    return (
        str(score.rank),
        str(score.pilot),
        names.get(score.pilot, ""),
        str(score.group),
        "" if score.result is None else f"{score.result:.2f}",
        "" if score.sigma is None else f"{score.sigma:.2f}",
        str(score.formula_points),
        penalty,
        str(score.score),
        spread,
        _remarks(score),
    )


def _remarks(score: Score) -> str:
    parts = [] if score.settled else ["UNSETTLED"]
    if score.metres_penalty:
        parts.append(f"{score.metres_penalty:g} m penalty")
    if score.why:
        parts.append(score.why)
    return "; ".join(parts)


def _number(value: float | None) -> str:
    return "—" if value is None else f"{value:.2f}"


def _findings(scored: Results, only: int | None) -> None:
    shown = [
        ruled
        for ruled in scored.findings
        if only in {None, ruled.finding.task}
        and ruled.finding.verdict is not Verdict.CLEAR
    ]
    columns = (
        ("Task", "right"),
        ("No.", "right"),
        ("Finding", "left"),
        ("Verdict", "left"),
        ("Prob.", "right"),
        ("Ruling", "left"),
        ("Penalty", "left"),
        ("What was seen", "wrap"),
    )
    rows = [
        (
            str(r.finding.task),
            str(r.finding.pilot),
            str(r.finding.kind),
            str(r.finding.verdict),
            f"{r.finding.probability:.2f}",
            str(r.state),
            ", ".join(
                show_amount(c.amount) + ("" if c.counts else " (not counted)")
                for c in r.charges
            ),
            r.finding.text,
        )
        for r in shown
    ]
    if rows:
        screen.print(table("\nFindings", columns, rows))
        say(CAUTION)


def _standings(scored: Results, names: dict[int, str]) -> None:
    tasks = [t.task for t in scored.tasks if t.state == "flown"]
    columns = (
        ("Rank", "right"),
        ("No.", "right"),
        ("Pilot", "left"),
        *((f"Task {number}", "right") for number in tasks),
        ("Event pen.", "right"),
        ("Total", "right"),
    )
    rows = [
        (
            str(row.rank),
            str(row.pilot),
            names.get(row.pilot, ""),
            *(str(row.tasks.get(number, "")) for number in tasks),
            f"−{row.event_penalty}" if row.event_penalty else "",
            str(row.total),
        )
        for row in scored.standings.rows
    ]
    screen.print(table("\nStandings", columns, rows))


def _warnings(scored: Results, only: int | None) -> None:
    shown = [w for w in scored.warnings if only is None or w.task in {None, only}]
    columns = (
        ("", "left"),
        ("Warning", "left"),
        ("Flight", "left"),
        ("Task", "right"),
        ("No.", "right"),
        ("What to know", "wrap"),
    )
    rows = [
        (
            "blocks" if w.blocks else "",
            str(w.kind),
            w.flight,
            "" if w.task is None else str(w.task),
            "" if w.pilot is None else str(w.pilot),
            w.text,
        )
        for w in shown
    ]
    if rows:
        screen.print(table("\nWarnings", columns, rows))
    if scored.blocked:
        blocking = sum(w.blocks for w in scored.warnings)
        say(f"Not ready to become official: {blocking} matters to settle or rule on.")
