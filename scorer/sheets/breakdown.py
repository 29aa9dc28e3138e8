"""A pilot's breakdown in words: what was found, what was decided, what it cost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from scorer.event.finding import Finding, Verdict
from scorer.event.model import Keying
from scorer.facts import fact, words
from scorer.scoring import told
from scorer.scoring.results import (
    Charge,
    Guest,
    RuledFinding,
    RulingState,
    Score,
    Standing,
    TaskResult,
)
from scorer.sheets.sheet import Sheet, clean

LIKELY = 0.5
"""Probability from which an infringement is rather true than not."""


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
    guest: tuple[tuple[TaskResult, Guest], ...] = ()
    """What the pilot came to out of competition."""
    withdrawn: tuple[TaskResult, ...] = ()
    """Tasks flown after the pilot had left."""


def breakdowns(sheet: Sheet) -> dict[int, Breakdown]:
    """Return every pilot's breakdown by competition number, in roster order."""
    parts: dict[int, list[TaskPart]] = {p.number: [] for p in sheet.event.pilots}
    found = findings_by_place(sheet)
    for task in sheet.results.tasks:
        for score in task.scores:
            own = tuple(found.get((task.task, score.pilot), ()))
            ranked = task.part_of(score.pilot)
            part = TaskPart(task=ranked, score=score, findings=own)
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
            guest=tuple(
                (task, one)
                for task in sheet.results.tasks
                for one in task.guests
                if one.pilot == number and task.state == "flown"
            ),
            withdrawn=tuple(t for t in sheet.results.tasks if number in t.withdrawn),
        )
        for number, own in parts.items()
    }


Found = Mapping[tuple[int, int], Sequence[RuledFinding]]
"""Infringements by task and pilot."""


def findings_by_place(sheet: Sheet) -> Found:
    """Return all infringements by whom and what they are of."""
    found: dict[tuple[int, int], list[RuledFinding]] = {}
    for ruled in sheet.results.findings:
        key = ruled.finding.task, ruled.finding.pilot
        found.setdefault(key, []).append(ruled)
    return found


def beside_lines(sheet: Sheet, own: Breakdown) -> list[str]:
    """Say what a pilot came to in tasks that gave no score: as a guest, or gone."""
    gone = (
        fact("task-after-withdrawal", title=words(sheet.task_title(task)))
        for task in own.withdrawn
    )
    guest = (guest_line(sheet, task, came_to) for task, came_to in own.guest)
    return [*guest, *map(sheet.say, gone)]


def guest_line(sheet: Sheet, task: TaskResult, guest: Guest) -> str:
    """Say in a line what a pilot out of competition came to in a task."""
    return sheet.say(
        fact(
            "guest-of-task",
            title=words(sheet.task_title(task)),
            result=words(told.guest_result(sheet.voice, task, guest)),
        )
    )


def remark(sheet: Sheet, task: TaskResult, score: Score) -> str:
    """Say in a line what is special about a score."""
    return clean(told.remarks(sheet.voice, task, score))


def finding_facts(sheet: Sheet, ruled: RuledFinding) -> tuple[tuple[str, str], ...]:
    """Return what was seen of an infringement, as label and value."""
    f, voice = ruled.finding, sheet.voice
    rows = (
        ("fact-sure", f"{told.verdict(voice, f)}, {voice.chance(f.probability)}"),
        ("fact-when", _when(sheet, f)),
        ("fact-measured", told.measured(voice, f)),
        ("fact-limit", limit_words(sheet, f)),
        ("fact-beyond", sheet.quantity(f.excess, f.unit) if f.excess else ""),
        ("fact-where", place_words(sheet, f)),
        ("fact-rule", sheet.say(f.rule)),
        ("fact-asked", clean(told.asked_amounts(voice, f))),
        ("fact-decision", ruling_words(sheet, ruled)),
        ("fact-evidence", clean(told.evidence(voice, f))),
    )
    return tuple((sheet.word(label), value) for label, value in rows if value)


def limit_words(sheet: Sheet, finding: Finding) -> str:
    """Print an infringement's limit; empty where it has none."""
    if not finding.limit:
        return ""
    return sheet.quantity(finding.limit, finding.unit)


def _when(sheet: Sheet, finding: Finding) -> str:
    when = told.when(sheet.voice, finding)
    if finding.to_s <= finding.from_s:
        return when
    return f"{when}, {sheet.voice.span(finding.duration_s)}"


def place_words(sheet: Sheet, finding: Finding) -> str:
    """Print where something was found."""
    if finding.lat_deg is None or finding.lon_deg is None:
        return ""
    return sheet.voice.position(finding.lat_deg, finding.lon_deg)


def ruling_words(sheet: Sheet, ruled: RuledFinding) -> str:
    """Print what officials decided, who, when and why, and what counts for it."""
    if ruled.finding.verdict is Verdict.CLEAR and ruled.state is RulingState.UNRULED:
        return sheet.word("none-needed")
    return clean(told.decision(sheet.voice, ruled))


def step_lines(sheet: Sheet, part: TaskPart) -> tuple[str, ...]:
    """Print every step to a score, a line each: the same on paper and pages."""
    place = "steps", sheet.language, part.task.task, part.score.pilot
    of = part.score, sheet.results.voice
    return sheet.keep.same(place, of, lambda: tuple(map(sheet.say, part.score.way)))


def entry_line(sheet: Sheet, entered: Keying) -> str:
    """Print one entry of a mark: what, who."""
    return sheet.say(told.entry_of(entered))


def finding_heading(sheet: Sheet, ruled: RuledFinding) -> str:
    """Print an infringement's kind, and how sure it is."""
    finding, voice = ruled.finding, sheet.voice
    sure = told.verdict(voice, finding)
    if finding.verdict is Verdict.POSSIBLE:
        sure = f"{sure}, {voice.chance(finding.probability)}"
    return f"{told.finding_title(voice, finding)} ({sure})"


def in_headline(ruled: RuledFinding) -> bool:
    """Tell whether an infringement stands under a heading: likely, or decided on.

    A faint suspicion is told in the text, and no heading accuses anybody of it.
    """
    decided = not ruled.state.is_open and ruled.state is not RulingState.WAIVE
    return decided or ruled.finding.probability >= LIKELY
