"""A pilot's breakdown: every step to the points, for people to read."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from scorer.event.finding import Finding, Verdict
from scorer.event.model import Event, Flight, Keying, Method, Origin, Task
from scorer.event.rulebook import RuleBook
from scorer.facts import (
    Fact,
    Value,
    chance,
    count,
    day,
    fact,
    flight,
    inner,
    log,
    moment,
    number,
    pilot,
    points,
    several,
    task,
    words,
)
from scorer.scoring import told
from scorer.scoring.assemble import decimals_rule
from scorer.scoring.results import (
    Charge,
    Group,
    Results,
    RuledFinding,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.words.voice import Voice


def explain(
    event: Event, results: Results, pilot_: int, only: int | None = None
) -> Iterator[str]:
    """Yield the lines of a pilot's breakdown, of one task or of all with the total."""
    voice = results.voice
    yield voice.say(fact("explain-title", pilot=pilot(pilot_), event=words(event.name)))
    yield voice.say(fact("rules-of-event", rules=words(voice.book(event.book))))
    for own in event.flights:
        for one in own.tasks:
            whole = results.task(one.number)
            result = whole.part_of(pilot_) if whole else None
            score = result.score_of(pilot_) if result else None
            if result and score and only in {None, one.number}:
                yield ""
                yield from _Breakdown(
                    event=event,
                    results=results,
                    flight=own,
                    task=one,
                    result=result,
                    score=score,
                ).lines()
            elif whole and pilot_ in whole.withdrawn and only in {None, one.number}:
                yield ""
                title = words(told.task_title(voice, whole))
                yield voice.say(fact("task-after-withdrawal", title=title))
    if only is None:
        yield from _total(event, results, pilot_)
    yield ""
    yield voice.word("caution")


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

    @property
    def voice(self) -> Voice:
        """How the event speaks."""
        return self.results.voice

    def lines(self) -> Iterator[str]:
        """Yield all parts in the order of work."""
        title = words(told.task_title(self.voice, self.result))
        where = {"flight": flight(self.flight.id), "day": self._day}
        if self.result.state != "flown":
            kind = f"explain-task-{self.result.state}"
            yield self.say(fact(kind, title=title, **where))
        else:
            yield self.say(fact("explain-task", title=title, **where))
        yield from self._part("explain-evidence", self._evidence())
        yield from self._part("explain-result", self._result())
        yield from self._part("explain-points", self._points())
        yield from self._part("explain-infringements", self._infringements())
        yield from self._part("explain-score", self._score())

    @property
    def _day(self) -> Value:
        return day(self.flight.date.isoformat())

    def _part(self, title: str, lines: Iterable[str]) -> Iterator[str]:
        """Yield a part below its title; nothing where it has no lines."""
        own = list(lines)
        if own:
            yield f"  {self.voice.word(title)}"
            yield from (f"    {line}" for line in own)

    def _evidence(self) -> Iterator[str]:
        for keying in self._keyings():
            line = told.entry_of(keying)
            yield f"{self.say(line)}{_origin(keying.origin)}"
            if keying.note:
                yield f"  {self.say(fact('explain-note', note=words(keying.note)))}"
        yield from self._declared()
        logs = [
            own
            for flown in self.results.flights
            if flown.id == self.flight.id
            for own in flown.logs
            if own.counts and own.pilot == self.score.pilot
        ]
        for own in logs:
            yield self.say(
                fact(
                    "explain-log",
                    log=log(own.name),
                    fixes=count(own.fixes),
                    sha256=words(own.sha256),
                )
            )
        if not logs:
            yield self.voice.word("explain-no-log")

    def _declared(self) -> Iterator[str]:
        for given in self.flight.declarations:
            if (given.task, given.pilot) != (self.task.number, self.score.pilot):
                continue
            goal = words(given.goal)
            what = fact("explain-declared", goal=goal)
            if given.time_s is not None:
                what = fact("explain-declared-at", goal=goal, at=moment(given.time_s))
            yield f"{self.say(what)}{_origin(given.origin)}"

    def _keyings(self) -> list[Keying]:
        wanted = (self.task.number, self.score.pilot)
        return [k for k in self.flight.keyings if (k.task, k.pilot) == wanted]

    def _result(self) -> Iterator[str]:
        for mark in self.score.marks:
            if mark.method != Method.NONE:
                label = f"{self.say(told.mark_of(mark.mark))}: " if mark.mark else ""
                yield from (f"{label}{self.say(step)}" for step in mark.steps)
        yield from (self.say(step) for step in self.score.steps)
        if self.score.result is not None:
            sigma = told.spread(self.voice, self.result, self.score.sigma or 0.0)
            yield self.say(fact("explain-spread", give_or_take=words(f"± {sigma}")))
            stepped = self.result.step_unit != self.result.unit
            key = "step" if stepped else decimals_rule(self.result.unit)
            yield self.rule(f"results.{key}")
        if not self.score.settled:
            yield self.voice.word("explain-not-settled")

    def _points(self) -> Iterator[str]:
        score = self.score
        if score.how is not None:
            yield self.say(score.how)
        yield told.formula_line(self.voice, self.result)
        yield from map(self.rule, self._rules_of_points())
        tied = [s.pilot for s in self.result.scores if s.rank == score.rank]
        if score.group is Group.A and len(tied) > 1:
            yield self.say(
                fact(
                    "explain-equal",
                    others=several(pilot(n) for n in tied if n != score.pilot),
                    rule=inner(self.book.cite("points.ties")),
                )
            )

    def _rules_of_points(self) -> Iterator[str]:
        """Yield the rules that made the points, by name."""
        yield "points.method"
        if self.result.points.method == "places":
            yield "points.places"
        if self.score.field:
            yield "points.by_class"
        if self.score.parted:
            yield "points.parted_by"
        if self.score.group is Group.B:
            yield "points.no_result"
        if self.score.how is not None and self.score.how.kind == "points-at-least":
            yield "points.show_up"

    def _infringements(self) -> Iterator[str]:
        for ruled in self.results.findings:
            finding = ruled.finding
            mine = (finding.task, finding.pilot) == (self.task.number, self.score.pilot)
            if mine and finding.verdict is not Verdict.CLEAR:
                yield from self._finding(ruled)
        for charge in self.score.charges:
            if not charge.finding:
                yield from _added(self.voice, charge)

    def _finding(self, ruled: RuledFinding) -> Iterator[str]:
        finding = ruled.finding
        yield self.say(
            fact(
                "explain-seen",
                what=words(told.finding_title(self.voice, finding)),
                sure=words(told.verdict(self.voice, finding)),
                chance=chance(finding.probability),
                when=words(told.when(self.voice, finding)),
                seen=inner(finding.says),
            )
        )
        if finding.rule:
            yield f"  {self.say(fact('cited-rule', rule=inner(finding.rule)))}"
        yield f"  {self.say(_based_on(self.voice, finding))}"
        yield f"  {told.asked(self.voice, finding)}"
        where = "" if ruled.ruling is None else _origin(ruled.ruling.origin)
        yield f"  {told.decision(self.voice, ruled)}{where}"

    def _score(self) -> Iterator[str]:
        score, field = self.score, self.result.formula.P
        yield from (self.say(step) for step in score.after)
        yield self.say(
            fact(
                "explain-rank",
                rank=number(score.rank),
                field=number(field),
                group=words(told.group(self.voice, score)),
            )
        )
        low, high = score.rank_low, score.rank_high
        if low is not None and high is not None and low != high:
            yield self.say(fact("explain-range", low=number(low), high=number(high)))

    def say(self, stated: Fact) -> str:
        """Say a step as people read it."""
        return self.voice.say(stated)

    def rule(self, key: str) -> str:
        """Say a rule, and where it comes from."""
        return self.say(fact("explain-rule", rule=inner(self.book.cite(key))))


def _based_on(voice: Voice, finding: Finding) -> Fact:
    evidence = words(told.evidence(voice, finding))
    if finding.sha256:
        digest = words(finding.sha256)
        return fact("explain-based-on-log", evidence=evidence, sha256=digest)
    return fact("explain-based-on", evidence=evidence)


def _origin(origin: Origin) -> str:
    """Print where something was entered."""
    if not origin.where:
        return ""
    line = "" if origin.line is None else f", line {origin.line}"
    return f" [{origin.where}{line}]"


def _added(voice: Voice, charge: Charge) -> Iterator[str]:
    """Say a penalty that officials added on their own."""
    yield voice.say(fact("explain-added", amount=inner(charge.amount.says)))
    yield f"  {told.charge_line(voice, charge)}"


def _total(event: Event, results: Results, pilot_: int) -> Iterator[str]:
    table, voice = results.standings, results.voice
    row = next((r for r in table.rows if r.pilot == pilot_), None)
    if row is None:
        return
    yield ""
    yield voice.say(
        fact(
            "explain-total",
            total=words(told.total(voice, row, table)),
            rank=number(row.rank),
            field=number(len(table.rows)),
        )
    )
    yield from (f"  {line}" for line in _parts(event, results, row))


def _parts(event: Event, results: Results, row: Standing) -> Iterator[str]:
    """Yield what a total is made of, and the rules that made it."""
    table, voice = results.standings, results.voice
    for own in results.tasks:
        score = told.part(voice, row, table, own)
        if not score:
            continue
        which = {"task": task(own.task), "score": words(score)}
        if own.task in row.counted:
            yield voice.say(fact("explain-task-score", **which))
        else:
            yield voice.say(fact("explain-task-left-out", **which))
    if row.event_penalty:
        taken = points(row.event_penalty)
        yield voice.say(fact("explain-competition-points", points=taken))
    for other, charge in results.event_charges:
        if other == row.pilot:
            yield from (f"  {line}" for line in _added(voice, charge))
    if results.standings_rule.best_of is not None:
        cited = inner(event.book.cite("standings.best_of"))
        yield voice.say(fact("explain-rule", rule=cited))
    if sum(other.rank == row.rank for other in table.rows) > 1:
        cited = inner(event.book.cite("standings.ties"))
        yield voice.say(fact("explain-tie", rule=cited))
    yield from _within(voice, results.class_standings, row.pilot)


def _within(
    voice: Voice, tables: Iterable[StandingsTable], pilot_: int
) -> Iterator[str]:
    for table in tables:
        for row in table.rows:
            if row.pilot == pilot_:
                yield voice.say(
                    fact(
                        "explain-class",
                        name=words(table.title),
                        rank=number(row.rank),
                        field=number(len(table.rows)),
                    )
                )
