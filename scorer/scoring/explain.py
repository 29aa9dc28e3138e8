"""A pilot's breakdown: every step to the points, for people to read."""

from collections.abc import Iterator

from scorer.event.model import Event
from scorer.scoring.results import Results, RuledFinding, Score, TaskResult


def explain(
    event: Event, results: Results, pilot: int, task: int | None = None
) -> Iterator[str]:
    """Yield the lines of a pilot's breakdown, of one task or of all with the total."""
    entered = event.pilot(pilot)
    yield f"{pilot} {entered.name if entered else ''} — {event.name}".strip()
    yield f"rule book {results.book}"
    for result in results.tasks:
        score = result.score_of(pilot)
        if score is not None and task in {None, result.task}:
            yield ""
            yield from _task(results, result, score)
    if task is None:
        yield ""
        yield from _total(results, pilot)


def _task(results: Results, result: TaskResult, score: Score) -> Iterator[str]:
    f = result.formula
    yield f"Task {result.task} ({result.kind}), flight {result.flight}, {result.state}"
    for mark in score.marks:
        label = f"mark {mark.mark}" if mark.mark else "mark"
        for keyed in mark.keyings:
            yield f"  {label} keyed by {keyed}"
        for step in mark.steps:
            yield f"    {step}"
    for step in score.steps:
        yield f"  {step}"
    if not score.settled:
        yield "  UNSETTLED: this result cannot become official yet"
    for ruled in results.findings:
        if (ruled.finding.task, ruled.finding.pilot) == (result.task, score.pilot):
            yield from _finding(ruled)
    numbers = f"P {f.P}, A {f.A}, M {f.M}, W {f.W}, RM {f.RM}, SM {f.SM}"
    yield f"  formula {f.method}: {numbers}"
    yield f"  group {score.group}, rank {score.rank} of {f.P}"
    if score.rank_low is not None and score.rank_low != score.rank_high:
        yield (
            f"  within the measurements' uncertainty the place is "
            f"{score.rank_low} to {score.rank_high} (95 %)"
        )


def _finding(ruled: RuledFinding) -> Iterator[str]:
    finding = ruled.finding
    yield f"  finding {finding.id} ({finding.verdict}): {finding.text}"
    if finding.rule:
        yield f"    rule: {finding.rule}"
    if finding.evidence:
        digest = f", SHA-256 {finding.sha256}" if finding.sha256 else ""
        yield f"    evidence: {finding.evidence}{digest}"
    ruling = ruled.ruling
    if ruling is None:
        yield "    ruling: none yet"
    else:
        parts = [f"ruling: {ruling.decision}"]
        parts += [f"by {ruling.by}"] if ruling.by else []
        parts += [f"at {ruling.at}"] if ruling.at else []
        parts += [f"reason: {ruling.reason}"] if ruling.reason else []
        yield f"    {', '.join(parts)}"


def _total(results: Results, pilot: int) -> Iterator[str]:
    row = next((r for r in results.standings.rows if r.pilot == pilot), None)
    if row is None:
        return
    parts = [
        f"task {task}: {score}" + ("" if task in row.counted else " (not counted)")
        for task, score in row.tasks.items()
    ]
    if row.event_penalty:
        parts.append(f"event penalty: −{row.event_penalty}")
    yield f"Total {row.total} ({', '.join(parts)}); rank {row.rank}"
