"""A pilot's breakdown in words: what was found, what was decided, what it cost."""

from dataclasses import dataclass

from scorer.event.finding import Finding, Verdict
from scorer.facts import fact, inner, several
from scorer.rounding import half_up
from scorer.scoring.results import (
    Charge,
    Group,
    RuledFinding,
    RulingState,
    Score,
    Standing,
    TaskResult,
)
from scorer.sheets.records import counted
from scorer.sheets.sheet import Sheet, clean

DECIDED = {
    RulingState.UNRULED: "not ruled on yet",
    RulingState.APPLY: "applied",
    RulingState.WAIVE: "waived",
    RulingState.SET: "set to another amount",
    RulingState.IMPOSE: "imposed",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskPart:
    """One task of a pilot's breakdown."""

    task: TaskResult
    score: Score
    findings: tuple[RuledFinding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Breakdown:
    """All that is published of one pilot."""

    pilot: int
    standing: Standing | None
    parts: tuple[TaskPart, ...]
    event_charges: tuple[Charge, ...]


def breakdowns(sheet: Sheet) -> dict[int, Breakdown]:
    """Return every pilot's breakdown by competition number, in roster order."""
    parts: dict[int, list[TaskPart]] = {p.number: [] for p in sheet.event.pilots}
    found = _findings_by_place(sheet)
    for task in sheet.results.tasks:
        for score in task.scores:
            own = tuple(found.get((task.task, score.pilot), ()))
            part = TaskPart(task=task, score=score, findings=own)
            parts.setdefault(score.pilot, []).append(part)
    standing = {row.pilot: row for row in sheet.results.standings.rows}
    return {
        number: Breakdown(
            pilot=number,
            standing=standing.get(number),
            parts=tuple(own),
            event_charges=tuple(
                c for p, c in sheet.results.event_charges if p == number
            ),
        )
        for number, own in parts.items()
    }


def _findings_by_place(sheet: Sheet) -> dict[tuple[int, int], list[RuledFinding]]:
    found: dict[tuple[int, int], list[RuledFinding]] = {}
    for ruled in sheet.results.findings:
        key = ruled.finding.task, ruled.finding.pilot
        found.setdefault(key, []).append(ruled)
    return found


def remark(sheet: Sheet, score: Score) -> str:
    """Say in a line what is special about a score."""
    parts = []
    if not score.settled:
        parts.append("unsettled: the keyings differ")
    if score.group is not Group.A and score.why:
        parts.append(sheet.say(score.why))
    if any(charge.counts for charge in score.charges):
        parts.append(f"penalty: {counted(score.charges)}")
    if any(charge.ruling is RulingState.WAIVE for charge in score.charges):
        parts.append("finding waived")
    if any(_is_open(sheet, charge) for charge in score.charges):
        parts.append("finding not ruled on yet")
    return "; ".join(parts)


def _is_open(sheet: Sheet, charge: Charge) -> bool:
    ruled = sheet.finding(charge.finding)
    seen = ruled is None or ruled.finding.verdict is not Verdict.CLEAR
    return charge.ruling is RulingState.UNRULED and seen


def finding_facts(sheet: Sheet, ruled: RuledFinding) -> tuple[tuple[str, str], ...]:
    """Return what a finding says, as label and value."""
    f = ruled.finding
    measured = sheet.quantity(f.measured, f.unit)
    sigma = f" ± {sheet.quantity(f.sigma, f.unit)} (1σ)" if f.sigma else ""
    chance = sheet.results.voice.chance(f.probability)
    rows = (
        ("Verdict", f"{f.verdict.value}, {chance} sure"),
        ("When", _when(sheet, f)),
        ("Measured", f"{measured}{sigma}" if f.measured is not None else ""),
        ("Limit", limit_words(sheet, f)),
        ("Beyond it", sheet.quantity(f.excess, f.unit) if f.excess else ""),
        ("Where", place_words(f)),
        ("Rule", sheet.say(f.rule)),
        ("Rule book asks", _asked(sheet, f)),
        ("Ruling", ruling_words(sheet, ruled)),
        ("Counted", counted(ruled.charges)),
        ("Evidence", clean(f.evidence)),
    )
    return tuple((label, value) for label, value in rows if value)


def limit_words(sheet: Sheet, finding: Finding) -> str:
    """Print a finding's limit; empty where it has none."""
    if finding.limit is None:
        return ""
    if finding.unit == "m":
        return sheet.limit(finding.limit)
    return sheet.quantity(finding.limit, finding.unit)


def _asked(sheet: Sheet, finding: Finding) -> str:
    """Print the penalties the rule book sets, each with how it comes about."""
    return sheet.say(fact("all-of", parts=several(map(inner, finding.sums))))


def _when(sheet: Sheet, finding: Finding) -> str:
    start, end = sheet.clock(finding.from_s), sheet.clock(finding.to_s)
    if finding.to_s <= finding.from_s:
        return start
    return f"{start} to {end}, {half_up(finding.duration_s)} s"


def place_words(finding: Finding) -> str:
    """Print where something was found."""
    if finding.lat_deg is None or finding.lon_deg is None:
        return ""
    north = "N" if finding.lat_deg >= 0 else "S"
    east = "E" if finding.lon_deg >= 0 else "W"
    return f"{abs(finding.lat_deg):.5f}° {north}, {abs(finding.lon_deg):.5f}° {east}"


def ruling_words(sheet: Sheet, ruled: RuledFinding) -> str:
    """Print what officials decided, who, when and why."""
    if ruled.finding.verdict is Verdict.CLEAR and ruled.state is RulingState.UNRULED:
        return "none needed"
    charge = ruled.charges[0] if ruled.charges else None
    decision = ruled.ruling
    by, at, reason, rule = "", "", "", ""
    if decision is not None:
        by, at, reason, rule = decision.by, decision.at, decision.reason, decision.rule
    elif charge is not None and charge.ruling is not RulingState.UNRULED:
        by, at, reason = charge.by, charge.at, charge.reason
        rule = sheet.say(charge.rule)
    return _decision(DECIDED[ruled.state], by=by, at=at, reason=reason, rule=rule)


def charge_words(sheet: Sheet, charge: Charge) -> str:
    """Print a penalty: how much, whether it counts, who decided and why."""
    amount = sheet.say(charge.figures or charge.amount.says)
    counts = "" if charge.counts else " (not counted)"
    decided = _decision(
        DECIDED[charge.ruling],
        by=charge.by,
        at=charge.at,
        reason=charge.reason,
        rule=sheet.say(charge.rule),
    )
    return f"{amount}{counts}: {decided}"


def _decision(what: str, *, by: str, at: str, reason: str, rule: str) -> str:
    who = f" by {clean(by)}" if by else ""
    when = f", {clean(at)}" if at else ""
    cited = f", rule {clean(rule)}" if rule else ""
    because = f": {clean(reason)}" if reason else ""
    return f"{what}{who}{when}{cited}{because}"


def sum_words(standing: Standing) -> str:
    """Print how a total came about: `794 + 707 − 100 = 1401`."""
    counted_tasks = standing.counted or tuple(standing.tasks)
    if standing.result is not None:
        results = [standing.results[t] for t in counted_tasks if t in standing.results]
        added = " + ".join(f"{half_up(value, 2).normalize():f}" for value in results)
        return f"{added} = {half_up(standing.result, 2).normalize():f}"
    scores = [str(standing.tasks[t]) for t in counted_tasks if t in standing.tasks]
    penalty = f" − {standing.event_penalty}" if standing.event_penalty else ""
    return f"{' + '.join(scores) or '0'}{penalty} = {standing.total}"


def score_words(score: Score) -> str:
    """Print how a score came about: `809 − 15 = 794`."""
    if not score.task_penalty:
        return str(score.score)
    under = score.formula_points - score.task_penalty < score.score
    floor = ", not under 0" if under else ""
    return f"{score.formula_points} − {score.task_penalty} = {score.score}{floor}"


def step_lines(sheet: Sheet, score: Score) -> tuple[str, ...]:
    """Print every step to a score, a line each."""
    how = () if score.how is None else (score.how,)
    return tuple(sheet.say(step) for step in (*score.steps, *how, *score.after))


def finding_heading(sheet: Sheet, ruled: RuledFinding) -> str:
    """Print a finding's kind with its verdict."""
    return f"{sheet.finding_title(ruled.finding)} ({ruled.finding.verdict.value})"
