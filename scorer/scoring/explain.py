"""A pilot's breakdown: every step to the points, for people to read."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from scorer.event.finding import Verdict
from scorer.event.model import Event, Flight, Keying, Method, Origin, Ruling, Task
from scorer.event.rulebook import RuleBook
from scorer.facts import Fact
from scorer.rounding import half_up
from scorer.scoring.entries import entry
from scorer.scoring.results import (
    Charge,
    Group,
    Results,
    RuledFinding,
    RulingState,
    Score,
    StandingsTable,
    TaskResult,
)
from scorer.scoring.words import (
    UNIT_NAMES,
    show_evidence,
    show_result,
    show_score,
    show_total,
    sigma_decimals,
)
from scorer.tasks.kinds import KINDS
from scorer.words.voice import Voice

GROUPS = {
    Group.A: "has a result",
    Group.B: "flew, has no result",
    Group.C: "did not fly, or is disqualified",
}
SYMBOLS = {
    "P": "pilots entered",
    "A": "pilots with a result",
    "M": "rank of the median",
    "W": "best result",
    "RM": "result at rank M",
    "SM": "points of rank M",
}


def explain(
    event: Event, results: Results, pilot: int, task: int | None = None
) -> Iterator[str]:
    """Yield the lines of a pilot's breakdown, of one task or of all with the total."""
    entered = event.pilot(pilot)
    yield f"{pilot} {entered.name if entered else ''} — {event.name}".strip()
    yield f"rule book {results.book}"
    for flight in event.flights:
        for own in flight.tasks:
            result = results.task(own.number)
            score = result.score_of(pilot) if result else None
            if result and score and task in {None, own.number}:
                yield ""
                yield from _Breakdown(
                    event=event,
                    results=results,
                    flight=flight,
                    task=own,
                    result=result,
                    score=score,
                ).lines()
    if task is None:
        yield ""
        yield from _total(event, results, pilot)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Breakdown:
    """One pilot's score in one task, line by line."""

    event: Event
    results: Results
    flight: Flight
    task: Task
    result: TaskResult
    score: Score

    @property
    def book(self) -> RuleBook:
        """The rules this task is scored by."""
        return self.event.book_of(self.task)

    def lines(self) -> Iterator[str]:
        """Yield all parts in the order of work."""
        name = self.results.voice.say(KINDS[self.task.kind].title)
        yield (
            f"Task {self.task.number}, {name} ({self.task.kind}), flight "
            f"{self.flight.id} of {self.flight.date}, {self.result.state}"
        )
        yield "  Evidence"
        yield from _deeper(self._evidence())
        yield "  Result"
        yield from _deeper(self._result())
        yield "  Points"
        yield from _deeper(self._points())
        charged = list(self._penalties())
        if charged:
            yield "  Findings and penalties"
            yield from _deeper(charged)
        yield "  Score"
        yield from _deeper(self._score())

    def _evidence(self) -> Iterator[str]:
        for keying in self._keyings():
            yield f"{_label(keying)}: {self.say(entry(keying))}{_origin(keying.origin)}"
            if keying.note:
                yield f"  note: {keying.note}"
        for given in self.flight.declarations:
            if (given.task, given.pilot) == (self.task.number, self.score.pilot):
                when = (
                    "" if given.time_s is None else f" at {self._clock(given.time_s)}"
                )
                yield f'declared "{given.goal}"{when}{_origin(given.origin)}'
        logs = [
            log
            for flight in self.results.flights
            if flight.id == self.flight.id
            for log in flight.logs
            if log.counts and log.pilot == self.score.pilot
        ]
        for log in logs:
            yield f"log {log.name}, {log.fixes} fixes, SHA-256 {log.sha256}"
        if not logs:
            yield "no log"

    def _keyings(self) -> list[Keying]:
        wanted = (self.task.number, self.score.pilot)
        return [k for k in self.flight.keyings if (k.task, k.pilot) == wanted]

    def _result(self) -> Iterator[str]:
        for mark in self.score.marks:
            if mark.method != Method.NONE:
                label = f"mark {mark.mark}: " if mark.mark else ""
                yield from (f"{label}{self.say(step)}" for step in mark.steps)
        yield from (self.say(step) for step in self.score.steps)
        if self.score.result is not None:
            shown = show_score(self.score, self.result, self.event.units)
            sigma = self.score.sigma or 0.0
            unit = UNIT_NAMES[self.result.unit]
            spread = half_up(sigma, sigma_decimals(self.result))
            yield f"result {shown}, measured to ± {spread} {unit} (one sigma)"
            key = "angle_decimals" if self.result.unit == "deg" else "decimals"
            yield self.rule(f"results.{key}")
        if not self.score.settled:
            yield "UNSETTLED: this result cannot become official yet"

    def _points(self) -> Iterator[str]:
        formula, score = self.result.formula, self.score
        if score.how is not None:
            yield self.say(score.how)
        if formula.method == "international":
            values = {name: getattr(formula, name) for name in SYMBOLS}
            for name in ("W", "RM"):
                if values[name] is not None:
                    values[name] = show_result(
                        values[name], self.result, self.event.units
                    )
            yield "where " + ", ".join(
                f"{name} = {'none' if value is None else value} ({SYMBOLS[name]})"
                for name, value in values.items()
            )
        yield self.rule("points.method")
        if score.group is Group.B:
            yield self.rule("points.no_result")
        tied = [s for s in self.result.scores if s.rank == score.rank]
        if score.group is Group.A and len(tied) > 1:
            others = ", ".join(str(s.pilot) for s in tied if s.pilot != score.pilot)
            yield f"equal with {others}; {self.rule('points.ties')}"

    def _penalties(self) -> Iterator[str]:
        for ruled in self.results.findings:
            finding = ruled.finding
            mine = (finding.task, finding.pilot) == (self.task.number, self.score.pilot)
            if mine and finding.verdict is not Verdict.CLEAR:
                yield from self._finding(ruled)
        for charge in self.score.charges:
            if not charge.finding:
                yield f"imposed: {self.say(charge.amount.says)}"
                yield f"  {_decided(charge, self.results.voice)}"

    def _finding(self, ruled: RuledFinding) -> Iterator[str]:
        finding = ruled.finding
        voice = self.results.voice
        title, chance = (
            voice.finding(finding.kind.name),
            voice.chance(finding.probability),
        )
        start, end = self._clock(finding.from_s), self._clock(finding.to_s)
        when = start if start == end else f"{start} to {end}"
        yield f"{title}, {finding.verdict} ({chance}), {when}: {self.say(finding.says)}"
        yield f"  finding {finding.id}"
        if finding.rule:
            yield f"  rule: {self.say(finding.rule)}"
        yield f"  evidence: {show_evidence(finding)}"
        proposed = () if finding.penalty is None else (finding.penalty, *finding.also)
        asked = [self.say(s) for s in finding.sums or [a.says for a in proposed]]
        yield f"  the rule book asks for: {'; '.join(asked) or 'nothing by itself'}"
        yield f"  {_ruling(ruled, self.results.voice)}"

    def _score(self) -> Iterator[str]:
        score, field = self.score, self.result.formula.P
        yield from (self.say(step) for step in score.after)
        yield f"rank {score.rank} of {field}; group {score.group}: {GROUPS[score.group]}"
        if score.rank_low is not None and score.rank_low != score.rank_high:
            yield (
                "within the uncertainty of the measurements the place is "
                f"{score.rank_low} to {score.rank_high} (95 %)"
            )

    def say(self, stated: Fact) -> str:
        """Say a step as people read it."""
        return self.results.voice.say(stated)

    def rule(self, key: str) -> str:
        """Say where a rule comes from."""
        return f"rule: {self.say(self.book.cite(key))}"

    def _clock(self, time_s: float) -> str:
        zone = ZoneInfo(self.event.time_zone)
        local = datetime.fromtimestamp(int(time_s), UTC).astimezone(zone)
        return f"{local:%H:%M:%S}"


def _label(keying: Keying) -> str:
    return f"mark {keying.mark}" if keying.mark else "mark"


def _deeper(lines: Iterable[str]) -> Iterator[str]:
    return (f"    {line}" for line in lines)


def _origin(origin: Origin) -> str:
    if not origin.where:
        return ""
    line = "" if origin.line is None else f", line {origin.line}"
    return f" [{origin.where}{line}]"


def _ruling(ruled: RuledFinding, voice: Voice) -> str:
    counted = "; ".join(voice.say(c.amount.says) for c in ruled.charges if c.counts)
    costs = counted or "nothing"
    if ruled.ruling is None:
        if ruled.finding.verdict is Verdict.CERTAIN:
            return f"no ruling yet; charged provisionally: {costs}"
        return "no ruling yet; possible only, so not charged"
    outcome = "waived" if ruled.state is RulingState.WAIVE else f"charged: {costs}"
    return f"ruled: {ruled.state}{_who(ruled.ruling)}; {outcome}"


def _who(ruling: Ruling) -> str:
    parts = [
        f"by {ruling.by}" if ruling.by else "",
        f"at {ruling.at}" if ruling.at else "",
        f"because: {ruling.reason}" if ruling.reason else "",
        f"rule: {ruling.rule}" if ruling.rule else "",
    ]
    told = "".join(f", {part}" for part in parts if part)
    return f"{told}{_origin(ruling.origin)}"


def _decided(charge: Charge, voice: Voice) -> str:
    parts = [
        f"by {charge.by}" if charge.by else "by an official",
        f"at {charge.at}" if charge.at else "",
        f"because: {charge.reason}" if charge.reason else "",
        f"rule: {voice.say(charge.rule)}" if charge.rule else "",
    ]
    return ", ".join(part for part in parts if part)


def _total(event: Event, results: Results, pilot: int) -> Iterator[str]:
    row = next((r for r in results.standings.rows if r.pilot == pilot), None)
    if row is None:
        return
    field = len(results.standings.rows)
    total = show_total(row, results.standings, event.units)
    yield f"Total {total}, rank {row.rank} of {field}"
    listed = row.results if results.standings.by == "result" else row.tasks
    for number, value in listed.items():
        result = results.task(number)
        left = "" if number in row.counted else " (does not count: not among the best)"
        shown = str(value)
        if results.standings.by == "result" and result is not None:
            shown = show_result(value, result, event.units)
        yield f"  task {number}: {shown}{left}"
    if row.event_penalty:
        yield f"  event points: −{row.event_penalty}"
    for other, charge in results.event_charges:
        if other == pilot:
            amount = results.voice.say(charge.amount.says)
            yield f"    imposed: {amount}, {_decided(charge, results.voice)}"
    if results.standings_rule.best_of is not None:
        yield f"  {_rule(event, results, 'standings.best_of')}"
    if sum(r.rank == row.rank for r in results.standings.rows) > 1:
        yield f"  equal with others; {_rule(event, results, 'standings.ties')}"
    yield from _within(results.class_standings, pilot)


def _rule(event: Event, results: Results, key: str) -> str:
    return f"rule: {results.voice.say(event.book.cite(key))}"


def _within(tables: Iterable[StandingsTable], pilot: int) -> Iterator[str]:
    for table in tables:
        for row in table.rows:
            if row.pilot == pilot:
                yield f"  class {table.title}: rank {row.rank} of {len(table.rows)}"
