"""Print results as tables."""

from scorer.cli.columns import show_table
from scorer.cli.screen import say
from scorer.cli.standings import show_standings
from scorer.event.finding import Verdict
from scorer.event.matter import MOST_NAMED, readiness
from scorer.event.model import Event, Units
from scorer.rounding import half_up
from scorer.scoring.results import Results, Score, TaskResult
from scorer.scoring.words import (
    UNIT_NAMES,
    score_in_feet,
    show_race,
    show_result,
    sigma_decimals,
)
from scorer.words.voice import Voice

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
            _task(task, scored.voice)
    _findings(scored, only_task)
    if only_task is None:
        show_standings(scored, names, event.units)
    _warnings(scored, only_task)


def _task(task: TaskResult, voice: Voice) -> None:
    title = f"\nTask {task.task} {task.kind}, flight {task.flight}, {task.state}"
    race = task.race
    kept = "spare" if task.formula.method == "none" else "right"
    columns = (
        ("Rank", "right"),
        ("No.", "right"),
        ("Pilot", "name"),
        ("Grp", "left"),
        (f"Result {'km' if race else UNIT_NAMES[task.unit]}", "right"),
        ("Feet, inches", "spare"),
        (f"± {UNIT_NAMES[task.unit]}", "right"),
        *[(heading, kept) for heading in ("Points", "Penalty", "Score")],
        ("Places 95 %", "spare"),
        ("Remarks", "text"),
    )
    rows = [_row(score, task, voice) for score in task.scores]
    show_table(f"{title}: {_symbols(task, voice.units)}", columns, rows)
    results = {score.pilot: score.result for score in task.scores}
    for better, worse, chance in task.remeasure:
        why = f"their order is wrong with {half_up(100 * chance)} % chance"
        if results[better] == results[worse]:
            why = "equal as published"
        say(f"Worth measuring again: {better} and {worse} ({why})")


def _symbols(task: TaskResult, units: Units) -> str:
    f = task.formula
    best, at_median = (
        "—" if value is None else show_result(value, task, units)
        for value in (f.W, f.RM)
    )
    if f.method != "international":
        how = "no points" if f.method == "none" else "points by place"
        return f"{how}, P {f.P}, A {f.A}, best {best}"
    return f"P {f.P}, A {f.A}, M {f.M}, W {best}, RM {at_median}, SM {f.SM}"


def _row(score: Score, task: TaskResult, voice: Voice) -> tuple[str, ...]:
    penalty = "−" + str(score.task_penalty) if score.task_penalty else ""
    if score.event_penalty:
        penalty += f" (event −{score.event_penalty})"
    spread = ""
    if score.rank_low is not None and score.rank_low != score.rank_high:
        spread = f"{score.rank_low}–{score.rank_high}"
    pointed = task.formula.method != "none"
    return (
        str(score.rank),
        str(score.pilot),
        voice.pilots.get(score.pilot, ""),
        str(score.group),
        _result(score, task),
        "" if task.race else score_in_feet(score, task, voice.units),
        "" if score.sigma is None else f"{half_up(score.sigma, sigma_decimals(task))}",
        str(score.formula_points) if pointed else "",
        penalty,
        str(score.score) if pointed else "",
        spread,
        _remarks(score, voice),
    )


def _result(score: Score, task: TaskResult) -> str:
    if score.result is None:
        return ""
    if task.race:
        return show_race(score.result, Units.METRIC).removesuffix(" km")
    return str(half_up(score.result, task.decimals))


def _remarks(score: Score, voice: Voice) -> str:
    parts = [] if score.settled else ["UNSETTLED"]
    if score.metres_penalty:
        parts.append(f"{score.metres_penalty:g} m penalty")
    if score.why:
        parts.append(voice.say(score.why))
    return "; ".join(parts)


def _findings(scored: Results, only: int | None) -> None:
    voice = scored.voice
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
        ("Prob.", "spare"),
        ("Ruling", "left"),
        ("Penalty", "name"),
        ("What was seen", "text"),
    )
    rows = [
        (
            str(r.finding.task),
            str(r.finding.pilot),
            voice.finding(r.finding.kind.name),
            str(r.finding.verdict),
            voice.chance(r.finding.probability),
            str(r.state),
            ", ".join(
                voice.say(c.amount.says) + ("" if c.counts else " (not counted)")
                for c in r.charges
            ),
            voice.say(r.finding.says),
        )
        for r in shown
    ]
    if rows:
        show_table("\nFindings", columns, rows)
        say(CAUTION)


def _warnings(scored: Results, only: int | None) -> None:
    voice = scored.voice
    shown = [w for w in scored.told if only is None or w.task in {None, only}]
    columns = (
        ("", "left"),
        ("Matter", "left"),
        ("Flight", "left"),
        ("Task", "right"),
        ("No.", "right"),
        ("What to know", "text"),
    )
    rows = [
        (
            "accepted" if w.accepted else "open" if w.holds_up else "",
            voice.title(w.kind.name),
            w.flight,
            "" if w.task is None else str(w.task),
            " ".join(map(str, w.pilots)) if len(w.pilots) <= MOST_NAMED else "",
            voice.say(w.stated),
        )
        for w in shown
    ]
    if rows:
        show_table("\nOpen and doubtful", columns, rows)
    if scored.blocked:
        ready = voice.say(readiness(scored.told))
        say(f"{ready} `sandtail open-matters` says what closes each.")
