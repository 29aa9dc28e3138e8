"""Score one flight: marks, logs, findings, rulings, tasks."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, NamedTuple

from scorer.checks.mark_told import check_marks
from scorer.checks.mark_track import Approaches, Course, Doubt, Marks
from scorer.checks.pilot import check_log_owner, check_same_flight
from scorer.checks.report_log import REPORT_LOG, Beside, ReportBasis, contradicted
from scorer.checks.reports import from_reports
from scorer.checks.scoring_period import SCORING_PERIOD, noted_outside
from scorer.checks.throws import Throw
from scorer.checks.winds import Drift, middle_of, wind_table
from scorer.event import matters
from scorer.event.build import NOTE
from scorer.event.entries import people
from scorer.event.matter import Matter, MatterKind, about
from scorer.event.model import (
    Decision,
    Event,
    Flight,
    Keying,
    Method,
    Pilot,
    Report,
    ReportKind,
    Ruling,
    Task,
    TaskState,
)
from scorer.event.task_kinds import TASK_KINDS, measure_of
from scorer.facts import (
    Fact,
    Step,
    Value,
    count,
    fact,
    inner,
    parts,
    several,
    term,
    words,
)
from scorer.facts import log as log_value
from scorer.facts import pilot as pilot_value
from scorer.geodesy.site import Site
from scorer.geodesy.survey import Mark
from scorer.progress import Control
from scorer.rounding import Exact, exact
from scorer.scoring.assemble import ScoreBasis, assemble, decided, planned, unranked
from scorer.scoring.clocks import moved
from scorer.scoring.evidence import FlightEvidence, take
from scorer.scoring.helpers import Helpers
from scorer.scoring.keep import Keep
from scorer.scoring.keyings import Agreed, entry_step, revealed
from scorer.scoring.meant import SHOWING, GuessBasis, doubted, weighed
from scorer.scoring.noted import not_noted
from scorer.scoring.penalties import rule_on
from scorer.scoring.results import (
    FlightResult,
    LogSummary,
    MarkResult,
    RuledFinding,
    TaskResult,
    WindLayer,
)
from scorer.scoring.shared import shared_work, unpacked
from scorer.scoring.slipped import shifted
from scorer.scoring.stacks import with_stacks
from scorer.scoring.target_log import of_targets
from scorer.scoring.ties import left_tied
from scorer.scoring.work import (
    NOTHING,
    LogOutcome,
    circumstances,
    evidence,
)
from scorer.scoring.workers import LogsWork
from scorer.tasks.base import Measured
from scorer.tasks.kinds import KINDS
from scorer.tasks.measure import measure
from scorer.tracks.air import Air
from scorer.tracks.air_kept import KeptAir, kept_air

UNKNOWN = fact("nothing-known")
"""Why a pilot of whom nothing is known has no points."""
SEEN_FLYING = (ReportKind.GROUND_CONTACT, ReportKind.LOW, ReportKind.LAUNCH_PLACE)
"""Reports of what only somebody who flies can do."""
ADJUSTED = "adjusted"
"""Method of a mark that several measurements fix together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightScore:
    """What one flight came to."""

    tasks: tuple[TaskResult, ...]
    findings: tuple[RuledFinding, ...]
    matters: tuple[Matter, ...]
    summary: FlightResult


def name_of(event: Event, flight: Flight) -> str:
    """Return the name of a flight among what is kept."""
    return f"{event.name} {flight.id}"


class _Entered(NamedTuple):
    """What bears on one pilot's score in one task, and what is told of it."""

    basis: ScoreBasis
    findings: Sequence[RuledFinding]
    matters: Sequence[Matter]
    lacks_mark: bool
    """He flew and has no mark in a task that asks for one."""


class FlightJudge:
    """One flight while it is scored."""

    def __init__(
        self,
        event: Event,
        flight: Flight,
        site: Site,
        keep: Keep,
        executor: Helpers | None,
    ) -> None:
        self.keep = keep
        self.event = event
        self.flight = flight
        self.name = name_of(event, flight)
        self.matters: list[Matter] = []
        self.air: Air | None = None
        self.airs: Mapping[str, Air | None] = {}
        """With which each log was read, by content address."""
        self.key = self.tracks = ""
        self.throw: Throw | None = None
        self.approaches: Mapping[int, Approaches] = {}
        self.courses: Mapping[int, Callable[[], Course]] = {}
        self.without_mark: dict[int, list[int]] = defaultdict(list)
        """Who flew and has no mark in a task that asks for one, by task."""
        self.taken: FlightEvidence = take(event, flight, site, keep)
        self.shared = shared_work(event, flight, site, self.taken)
        logs, broken = unpacked(flight)
        self.matters += broken
        self.work = LogsWork(self.shared, logs, executor, keep)
        self.rulings: dict[tuple[int, int], list[Ruling]] = defaultdict(list)
        for ruling in flight.rulings:
            if ruling.task is not None:
                self.rulings[ruling.task, ruling.pilot].append(ruling)

    def score(self, control: Control, meanwhile: Callable[[], None]) -> FlightScore:
        """Score it; `meanwhile` is called once its logs are handed out for good."""
        if self.flight.air is not None and self.shared.air is None:
            self.warn(matters.AIR_UNREAD, fact("air-unread"))
        outcomes, chosen = self.judged(control, meanwhile)
        self.no_logs(chosen, any_logs=bool(self.flight.logs))
        self.matters += self.across(chosen)
        tasks, findings = [], []
        for task in self.flight.tasks:
            result, ruled = self.task(task, chosen)
            tasks.append(result)
            findings += ruled
        counting = {id(outcome) for outcome in chosen.values()}
        parts = [(o, one) for o in outcomes for one in (o.summary, *o.joined)]
        drifts = [o.drift for o in chosen.values() if o.drift is not None]
        summary = FlightResult(
            id=self.flight.id,
            date=self.flight.date.isoformat(),
            logs=tuple(_counts(one, counts=id(o) in counting) for o, one in parts),
            winds=self.winds(drifts),
            air=self.air,
            throw=self.throw,
            air_kept=self.shared.air is not None,
        )
        return FlightScore(
            tasks=tuple(tasks),
            findings=tuple(findings),
            matters=tuple(self.matters),
            summary=summary,
        )

    def air_once_up(self, found: FlightScore) -> dict[str, Any] | None:
        """Return the air as it stands once it is set down with these results.

        None where it is already, or where some log would be read with another.
        """
        own = found.summary
        if own.air is None or own.air_kept or None in self.airs.values():
            return None
        logs = {log.sha256: log.air for log in own.logs if log.air is not None}
        used = {sha: air for sha, air in self.airs.items() if air is not None}
        down = KeptAir(whole=own.air, logs=logs).tree()
        same = KeptAir(whole=own.air, logs=used).tree() == down
        return down if same and kept_air(down) is not None else None

    def across(self, chosen: Mapping[int, LogOutcome]) -> list[Matter]:
        """Hold all tracks against all marks, and against each other."""
        tracks = {n: self.approaches[n] for n in chosen if n in self.approaches}
        throws = [book.tracks.throw_m for book in self.shared.books.values()]
        marks = Marks(
            marks=self.shared.marks,
            tracks=tracks,
            throw_m=max(throws, default=0.0),
            flight=self.flight.id,
        )
        hand = GuessBasis(
            event=self.event,
            flight=self.flight,
            site=self.shared.site,
            agreed=self.taken.by_pilot,
            courses=self.courses,
            keep=self.keep,
        )
        rest = self.keep.key("across", hand.key, marks.throw_m)
        tables = self.flight.keyings, self.tracks
        self.throw, marked, told = self.keep.same(
            ("across", self.name),
            (rest, *tables, *marks.marks, *chosen.values()),
            lambda: self._weighed(marks, hand),
        )
        trails = [o.trail for o in chosen.values() if o.trail is not None]
        flight = self.flight.id
        return [
            *marked,
            *not_noted(self.flight, self.taken, self.shared.books),
            *told,
            *self.keep.newest(
                "same",
                self.name,
                (flight, trails),
                lambda: check_same_flight(trails, flight),
            ),
        ]

    def _weighed(
        self, marks: Marks, hand: GuessBasis
    ) -> tuple[Throw | None, Sequence[Matter], Sequence[Matter]]:
        """Return the throw of the flight, what marks are doubted, and what else is told."""
        weighing = weighed(marks, self.taken)
        doubts: Sequence[Doubt] = ()
        if weighing is not None:
            doubts = with_stacks(weighing, hand, doubted(weighing, hand))
        own = tuple(map(self.shown_to_others, check_marks(marks, doubts)))
        others = shifted(weighing, self.flight) if weighing else ()
        throw = weighing.throw if weighing else None
        return throw, own, (*others, *check_log_owner(marks))

    def shown_to_others(self, matter: Matter) -> Matter:
        """Say whose entries a matter about a mark shows, as far as it shows any."""
        if not any(part.kind in SHOWING for part in parts(matter.says)):
            return matter
        own = self.taken.by_pilot[matter.task or 0][matter.pilots[0]][matter.mark]
        return replace(matter, reveals=people(k.by for k in own.keyings))

    def winds(self, drifts: Sequence[Drift]) -> tuple[WindLayer, ...]:
        """Fit the wind to the drift of all tracks."""
        middle = middle_of(drifts)
        plane = self.shared.site.plane
        turn = 0.0 if middle is None else float(plane.convergence_deg(*middle))
        layers = self.keep.newest(
            "winds", self.name, (drifts, turn), lambda: wind_table(drifts, turn)
        )
        return tuple(WindLayer(**layer._asdict()) for layer in layers)

    def judged(
        self, control: Control, meanwhile: Callable[[], None]
    ) -> tuple[list[LogOutcome], dict[int, LogOutcome]]:
        """Judge all logs; return what came of each, and what counts for each pilot."""
        work = self.work.done(control, meanwhile)
        match, jobs, outcomes = work.match, work.jobs, work.outcomes
        self.matters += match.matters
        self.air, self.approaches = work.air, work.approaches
        self.courses, self.tracks = work.courses, work.tracks
        self.key = work.key
        self.airs = work.airs
        chosen = {}
        for job, outcome in zip(jobs, outcomes, strict=True):
            whose = outcome.identified
            if whose is None:
                self.matters += outcome.matters
            elif job.counts and whose.pilot is not None:
                chosen[whose.pilot] = outcome
        chosen = dict(sorted(chosen.items()))
        for outcome in chosen.values():
            self.matters += outcome.matters
        return outcomes, chosen

    def no_logs(self, chosen: Mapping[int, LogOutcome], *, any_logs: bool) -> None:
        """Tell of pilots who flew without a log, where others have one."""
        if not any_logs:
            return
        for pilot in self.event.pilots:
            if pilot.number not in chosen and self.flew(pilot.number, None):
                self.warn(matters.NO_LOG, fact("no-log"), pilot=pilot.number)

    def warn(
        self,
        kind: MatterKind,
        says: Fact,
        *,
        task: int | None = None,
        pilot: int | None = None,
        pilots: Iterable[int] = (),
    ) -> None:
        """Put down a matter of the flight."""
        self.matters.append(
            Matter(
                kind=kind,
                flight=self.flight.id,
                task=task,
                pilots=about(pilot, *pilots),
                says=says,
            )
        )

    def flew(self, pilot: int, outcome: LogOutcome | None) -> bool:
        """Tell whether anything shows that a pilot flew."""
        if outcome is not None:
            return True
        own = [self.shared.own.get((t.number, pilot)) for t in self.flight.tasks]
        return any(o is not None and (o.keyings or o.no_mark) for o in own)

    def task(
        self, task: Task, chosen: Mapping[int, LogOutcome]
    ) -> tuple[TaskResult, list[RuledFinding]]:
        """Score a task, by the log that counts for each pilot."""
        kind, book = KINDS[task.kind], self.shared.books[task.number]
        if task.state is TaskState.PLANNED:
            self.entered_for_planned(task)
            return planned(task, kind, book), []
        entries: list[ScoreBasis] = []
        findings: list[RuledFinding] = []
        guests: list[ScoreBasis] = []
        for pilot in self.event.pilots:
            if not pilot.takes_part(task.number):
                self.not_entered(task, pilot, chosen.get(pilot.number))
                continue
            own = self.entered(task, pilot.number, chosen.get(pilot.number))
            own_class = pilot.class_name if book.points.by_class else ""
            entry = self.in_field(task, own.basis, own_class)
            if not pilot.competes:
                guests.append(entry)  # no result waits for a guest
                continue
            entries.append(entry)
            findings += own.findings
            self.matters += own.matters
            if own.lacks_mark:
                self.without_mark[task.number].append(pilot.number)
        units = self.event.units
        result = assemble(task, kind, book, entries, units, keep=self.keep)
        result = replace(result, guests=unranked(kind, guests, result))
        if task.state is not TaskState.FLOWN:
            return result, findings
        unknown = [e.pilot for e in entries if e.measured.reason == UNKNOWN]
        if unknown and len(unknown) == len(entries):
            self.warn(matters.NOT_FLOWN, fact("nobody-known"), task=task.number)
            return planned(task, kind, book), findings
        self.matters += of_targets(self.flight, task, result, self.shared.site)
        self.not_accounted_for(task, unknown)
        for tied, says in left_tied(result):
            self.warn(matters.TIE, says, task=task.number, pilots=tied)
        ranked = {entry.pilot for entry in entries}
        missing = {*unknown, *self.without_mark[task.number]} & ranked
        gone = (p.number for p in self.event.pilots if p.has_left(task.number))
        return replace(
            result, missing=tuple(sorted(missing)), withdrawn=tuple(sorted(gone))
        ), findings

    def in_field(self, task: Task, basis: ScoreBasis, field: str) -> ScoreBasis:
        """Return what bears on a score among those of a class."""
        if basis.field == field:
            return basis
        place = "field", task.number, basis.pilot
        find = partial(replace, basis, field=field)
        return self.keep.same(place, (basis, field), find)

    def not_entered(self, task: Task, pilot: Pilot, outcome: LogOutcome | None) -> None:
        """Ask about entries of a pilot who is not entered at a task."""
        own = self.shared.own.get((task.number, pilot.number), NOTHING)
        seen = [r for r in own.reports if r.kind is not ReportKind.WITHDRAWN]
        if task.state is TaskState.FLOWN and (own.keyings or seen):
            says = fact("not-entered", pilot=pilot_value(pilot.number))
            self.warn(matters.NOT_ENTERED, says, task=task.number, pilot=pilot.number)
        gone = own.reported(ReportKind.WITHDRAWN)
        if gone is not None and outcome is not None:
            says = fact("withdrawn-but-log", by=words(gone.by or "?"))
            self.warn(matters.REPORT, says, task=task.number, pilot=pilot.number)

    def entered_for_planned(self, task: Task) -> None:
        """Tell that something came in for a task that is not flown yet."""
        flight = self.flight
        tables = (flight.keyings, flight.reports, flight.rulings)
        entered = sum(row.task == task.number for table in tables for row in table)
        if entered:
            says = fact("entered-for-planned", entries=count(entered))
            self.warn(matters.PLANNED, says, task=task.number)
        elif flight.logs:
            says = fact("logs-for-planned", logs=count(len(flight.logs)))
            self.warn(matters.PLANNED, says, task=task.number)

    def not_accounted_for(self, task: Task, unknown: Sequence[int]) -> None:
        """Tell of whom nothing shows that they flew: they get no points by it."""
        if unknown:
            says = fact("not-accounted-for", pilots=several(map(pilot_value, unknown)))
            self.warn(matters.NOT_FLOWN, says, task=task.number, pilots=unknown)

    def entered(self, task: Task, pilot: int, outcome: LogOutcome | None) -> _Entered:
        """Return what bears on one pilot's score, as before where nothing changed."""

        def find() -> _Entered:
            told, self.matters = self.matters, []
            lacking, self.without_mark = self.without_mark, defaultdict(list)
            entry, ruled = self.entry(task, pilot, outcome)
            found = self.matters, bool(self.without_mark[task.number])
            self.matters, self.without_mark = told, lacking
            return _Entered(entry, ruled, *found)

        evidence = [self.shared.own.get((t.number, pilot)) for t in self.flight.tasks]
        if not self.key or (outcome is not None and not outcome.key):
            return find()
        beside: tuple[object, ...] = ()
        if any(own is not None and own.reports for own in evidence):
            beside = (self.tracks, *self.flight.reports)  # held against logs of others
        agreed = self.taken.by_pilot[task.number].get(pilot, {})
        track = None if outcome is None else outcome.key
        marks = (*agreed, *agreed.values())
        ruled = self.rulings[task.number, pilot]
        parts = (self.key, task.number, pilot, track, *evidence, *marks, *ruled)
        place = self.flight.id, task.number, pilot
        return self.keep.once("entry", (*parts, *beside), find, place=place)

    def entry(
        self, task: Task, pilot: int, outcome: LogOutcome | None
    ) -> tuple[ScoreBasis, list[RuledFinding]]:
        """Put together what bears on one pilot's score in one task."""
        own = self.shared.own.get((task.number, pilot), NOTHING)
        measured = (
            outcome.measured[task.number]
            if outcome is not None
            else measure(evidence(self.shared, task, pilot, None))
        )
        flew, why = self.started(task, pilot, outcome)
        up = own.reported(ReportKind.STILL_FLYING)
        lost = () if flew and up is None else (matters.RESULT_LOST,)
        self.matters += (m for m in measured.matters if m.kind not in lost)
        if not flew:
            measured = Measured(value=None, reason=why)
        given = self.given(task, pilot)
        if given is not None:
            flew, measured = True, as_decided(task, given, measured)
        seen = () if outcome is None else outcome.findings
        seen = tuple(f for f in seen if f.task == task.number)
        around = circumstances(self.shared, task, pilot, leads=False)
        told = {f.from_s for f in seen if f.kind is SCORING_PERIOD}
        noted = {k.time_s for k in own.keyings.values() if k.time_s is not None}
        late = noted_outside({*noted, *measured.times.values()} - told, around, pilot)
        basis = self.against_logs(task)
        beside = [self.beside(basis, report) for report in own.reports]
        found = {id(r): seen for r, seen in zip(own.reports, beside, strict=True)}
        findings = from_reports(
            own.reports,
            [*seen, *late, *measured.findings],
            around,
            pilot=pilot,
            beside=lambda report: found[id(report)],
        )
        self.matters += self.contradicted(basis, own.reports, beside)
        ruled, imposed, asked = rule_on(
            findings,
            self.rulings[task.number, pilot],
            self.flight.id,
            self.shared.books[task.number],
        )
        if task.state is TaskState.FLOWN:
            self.matters += asked
        settled, steps = self.settled(task, pilot, measured, flew=flew)
        steps = (*_clock_steps(outcome), *steps)
        charges = [c for r in ruled for c in r.charges]
        charges += imposed
        entry = ScoreBasis(
            pilot=pilot,
            flew=flew,
            measured=measured,
            settled=settled,
            findings=tuple(f.id for f in findings),
            charges=tuple(charges),
            marks=self.marks(task, pilot, measured),
            steps=steps,
        )
        return entry, list(ruled)

    def against_logs(self, task: Task) -> ReportBasis:
        """Return what reports of a task are held against."""
        return ReportBasis(
            site=self.shared.site,
            task=task,
            courses=self.courses,
            pilots=self.event.pilots,
            reports=self.flight.reports,
            least_m=self.shared.books[task.number].floor.height_m,
        )

    def beside(self, basis: ReportBasis, report: Report) -> Beside | None:
        """Return where a pilot was at a report, by his log."""
        course = self.courses.get(report.pilot)
        return None if course is None else basis.beside(report, course())

    @staticmethod
    def contradicted(
        basis: ReportBasis, reports: Sequence[Report], beside: Sequence[Beside | None]
    ) -> Iterator[Matter]:
        """Ask about reports that the log of their pilot contradicts."""
        for report, seen in zip(reports, beside, strict=True):
            flown = basis.task.state is TaskState.FLOWN
            if flown and seen is not None and seen.contradicts:
                yield contradicted(report, seen, basis)

    def given(self, task: Task, pilot: int) -> Ruling | None:
        """Return the decision that gives a pilot a result; of several the last."""
        own = self.rulings[task.number, pilot]
        found = [r for r in own if r.decision is Decision.RESULT]
        return found[-1] if found else None

    def started(
        self, task: Task, pilot: int, outcome: LogOutcome | None
    ) -> tuple[bool, Fact | None]:
        """Tell whether a pilot flew a task; else why it is taken that not."""
        own = self.shared.own.get((task.number, pilot), NOTHING)
        report = own.reported(ReportKind.NOT_FLOWN)
        if report is not None:
            marked = any(k.method is not Method.NONE for k in own.keyings.values())
            if outcome is not None and not marked:  # a mark asks where it is compared
                says = fact("not-flown-but-log", by=words(report.by or "?"))
                self.warn(REPORT_LOG, says, task=task.number, pilot=pilot)
            seen = next(filter(None, map(own.reported, SEEN_FLYING)), None)
            if seen is not None:
                says = fact(
                    "not-flown-but-seen",
                    by=words(report.by or "?"),
                    other=words(seen.by or "?"),
                    what=term(f"report-{seen.kind}"),
                )
                self.warn(REPORT_LOG, says, task=task.number, pilot=pilot)
            return False, fact("reported-not-flown", by=words(report.by or "?"))
        if self.flew(pilot, outcome) or own.reported(ReportKind.STILL_FLYING):
            return True, None
        return False, UNKNOWN

    def settled(
        self, task: Task, pilot: int, measured: Measured, *, flew: bool
    ) -> tuple[bool, tuple[Step, ...]]:
        """Tell whether a pilot's marks are settled, with the steps of keying."""
        own = self.taken.by_pilot[task.number].get(pilot, {})
        steps = tuple(entry_step(role, agreed) for role, agreed in own.items())
        problems = [
            (r, problem) for r, mark in own.items() for problem in mark.problems
        ]
        missing = flew and not own and measured.value is None and not measured.marks
        flown = task.state is TaskState.FLOWN
        seen = self.shared.own.get((task.number, pilot), NOTHING)
        up = seen.reported(ReportKind.STILL_FLYING)
        if missing and flown and up is not None:
            says = fact("still-flying", by=words(up.by or "?"))
            self.warn(matters.STILL_FLYING, says, task=task.number, pilot=pilot)
        unmarked = missing and flown and up is None and KINDS[task.kind].marked
        if unmarked:
            self.without_mark[task.number].append(pilot)
            says = fact("mark-missing")
            self.warn(matters.NO_MARK, says, task=task.number, pilot=pilot)
        self.matters += (
            Matter(
                kind=matters.UNSETTLED if flown else matters.KEYING,
                flight=self.flight.id,
                task=task.number,
                pilots=about(pilot),
                mark=role,
                says=problem,
                reveals=revealed(problem),
            )
            for role, problem in problems
        )
        return not problems and not unmarked, steps

    def marks(
        self, task: Task, pilot: int, measured: Measured
    ) -> tuple[MarkResult, ...]:
        """Return the marks of a pilot in a task as results show them."""
        agreed = self.taken.by_pilot[task.number].get(pilot, {})
        used = {mark.label: mark for mark in measured.marks}
        rows = []
        for role in dict.fromkeys([*agreed, *used]):
            own = agreed.get(role)
            mark = used.get(role) or (own.mark if own else None)
            rows.append(self.mark(role, own, mark, measured.times.get(role)))
        return tuple(rows)

    def shown(self, keyings: Sequence[Keying]) -> tuple[Keying, ...]:
        """Return entries as results show them: without remarks, unless released."""
        if NOTE in self.event.public_columns:
            return tuple(keyings)
        return tuple(keying.without_remark() for keying in keyings)

    def mark(
        self, role: str, own: Agreed | None, mark: Mark | None, logged_s: float | None
    ) -> MarkResult:
        """Return a mark as results show it, with what was entered and what counts."""
        lat = lon = None
        if mark is not None and mark.point is not None:
            lat, lon = self.shared.site.plane.to_wgs84(*mark.point)
        method: str = mark.method if mark else own.keying.method if own else Method.NONE
        if own is not None and own.survey:
            method = ADJUSTED
        return MarkResult(
            mark=role,
            method=str(method),
            distance_m=mark.distance_m if mark else None,
            sigma_m=(mark.sigma_m or 0.0) if mark else 0.0,
            lat_deg=None if lat is None else float(lat),
            lon_deg=None if lon is None else float(lon),
            time_s=own.keying.time_s if own and own.keying.time_s else logged_s,
            keyings=self.shown(own.keyings) if own else (),
            state=own.state if own else None,
            steps=mark.steps if mark else (),
        )


def _counts(log: LogSummary, *, counts: bool) -> LogSummary:
    return log if log.counts is counts else replace(log, counts=counts)


def _clock_steps(outcome: LogOutcome | None) -> tuple[Step, ...]:
    """Tell of logs whose times an official moved."""
    logs = () if outcome is None else (outcome.summary, *outcome.joined)
    return tuple(
        fact(
            "step-clock-moved",
            log=log_value(log.name),
            **moved(log.clock_s, log.clock_sigma_s),
        )
        for log in logs
        if log.clock_s
    )


def as_decided(task: Task, ruling: Ruling, measured: Measured) -> Measured:
    """Return the result that officials gave, in place of what was measured."""
    unit = TASK_KINDS[task.kind].unit
    amount = exact(ruling.amount or 0)
    value = Exact(amount / 1000 if unit == "km" else amount)
    how = decided(str(ruling.decision), ruling.by, ruling.at, ruling.reason)
    result = Value(measure_of(unit, task.kind), value)
    step = fact("step-result-given", result=result, ruling=inner(how))
    return Measured(
        value=value, steps=(*measured.steps, step), marks=measured.marks, sigma=None
    )
