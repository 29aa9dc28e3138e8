"""Everything that was computed: the frozen results of an event.

Numbers are unrounded unless a name says otherwise; `scorer.scoring.document` turns this
into results.json.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from fractions import Fraction

from scorer.checks.throws import Throw
from scorer.event.finding import Amount, Finding
from scorer.event.matter import Matter, grouped
from scorer.event.model import Keying, Ruling
from scorer.event.rulebook import PointsRule, StandingsRule
from scorer.event.task_kinds import MEASURES, TASK_KINDS, measure_of
from scorer.facts import Fact, Measure, Step
from scorer.scoring.coded import hashed_once
from scorer.scoring.entered import Entered
from scorer.scoring.keyings import Keyed
from scorer.tracks.air import Air
from scorer.words.voice import Voice


class Group(StrEnum):
    """Group of a score by the published model event rules."""

    A = "A"
    """Has a result."""
    B = "B"
    """Flew, has no result."""
    C = "C"
    """Did not fly, or is disqualified."""


class RulingState(StrEnum):
    """What officials made of a finding."""

    UNRULED = "unruled"
    APPLY = "apply"
    WAIVE = "waive"
    SET = "set"
    HOLD = "hold"
    IMPOSE = "impose"
    BONUS = "bonus"
    RESULT = "result"
    SCORE = "score"
    AVERAGE = "average"

    @property
    def is_open(self) -> bool:
        """Tell whether nobody has decided yet, the pilot being asked or not."""
        return self in {RulingState.UNRULED, RulingState.HOLD}


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """One penalty in a pilot's score: proposed, ruled on or imposed."""

    finding: str
    """Identifier of the finding; empty for an imposed penalty."""
    kind: str = ""
    """Kind of the finding; empty for an imposed penalty."""
    amount: Amount
    counts: bool
    """Whether it is in the score (waived and unruled possible ones are not)."""
    ruling: RulingState
    rule: Fact | None = None
    figures: Fact | None = None
    """How the amount comes about; None where people set it."""
    reason: str = ""
    by: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkResult:
    """One agreed mark of a pilot in a task."""

    mark: str
    """Role (`A`, `B`, ...); empty where a task has one mark."""
    method: str
    distance_m: float | None
    """From its target or named point, on the event's surface."""
    sigma_m: float
    lat_deg: float | None = None
    lon_deg: float | None = None
    time_s: float | None = None
    """POSIX seconds, UTC."""
    keyings: tuple[Keying, ...] = ()
    """Its entries as made, in an order that does not know where they stood."""
    state: Keyed | None = None
    """How far its entries have come; None = the log alone gives the mark."""
    steps: tuple[Step, ...] = ()


@hashed_once
@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """One pilot's score in one task, with every step to it."""

    pilot: int
    group: Group
    measured: float | None
    """In the task's unit, before penalties; None in groups B and C."""
    sigma: float | None
    result: float | None
    """`measured` with metre penalties put in and rounded as the book says."""
    rank: int
    """Rank in the task; group B shares one rank, group C the next."""
    formula_points: int
    task_penalty: int
    event_penalty: int
    score: int
    """Formula points less task penalty, not under 0; event penalty not yet taken."""
    settled: bool
    findings: tuple[str, ...] = ()
    """Identifiers of findings of this pilot in this task."""
    charges: tuple[Charge, ...] = ()
    metres_penalty: float = 0.0
    marks: tuple[MarkResult, ...] = ()
    why: Fact | None = None
    """Why there is no result, for groups B and C."""
    steps: tuple[Step, ...] = ()
    """Every step from evidence to result, before the points."""
    how: Step | None = None
    """How the points come about: the formula with its numbers."""
    after: tuple[Step, ...] = ()
    """Every step from the points to the score: penalties and their sum."""
    shown: float | None = None
    """The result as people read it: in feet and inches as taped, penalty put in, where the
    event rounds to centimetres all the same; elsewhere `result`."""
    parted: int = 0
    """What parts it from equal results, the smallest first: when its first drop fell."""
    field: str = ""
    """Class whose field it is ranked in; empty where all pilots are one field."""
    rank_low: int | None = None
    """Best rank within the 95 % confidence of the measurements."""
    rank_high: int | None = None
    """Worst rank within it."""

    @property
    def entered_once(self) -> int:
        """How many of its marks only one person entered."""
        return sum(mark.state is Keyed.ONCE for mark in self.marks)

    @property
    def way(self) -> tuple[Step, ...]:
        """The whole way from evidence to score: what explain, slips and pages show."""
        how = () if self.how is None else (self.how,)
        return (*self.steps, *how, *self.after)


@dataclass(frozen=True, slots=True, kw_only=True)
class Guest:
    """What a pilot out of competition came to in one task."""

    pilot: int
    result: float | None
    """In the task's unit, rounded as others'; None = no result."""
    why: Fact | None = None
    """Why there is none."""
    field: str = ""
    """The guest's class, where the classes are scored by themselves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """The symbols of the points formula as they stood in one task."""

    method: str
    P: int
    """Pilots entered in the task."""
    A: int
    """Pilots in group A."""
    M: int
    """Rank of the median: half of P, rounded up (or A, where A is smaller)."""
    W: float | None
    """Best result."""
    RM: float | None
    """Result at rank M."""
    SM: int
    """Rounded points of rank M."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """Pilots who are ranked and get points among themselves."""

    name: str
    """Their class."""
    formula: Formula


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskResult:
    """One task's results, best first, pilots by number within equal ranks.

    Where classes are scored by themselves, class by class.
    """

    flight: str
    task: int
    kind: str
    unit: str
    """`m`, `deg`, `km2` or `s`."""
    best: str
    """`smallest` or `greatest`."""
    state: str
    """`planned`, `flown` or `cancelled`."""
    formula: Formula
    """Of all pilots; points by class rest on those of `fields`."""
    scores: tuple[Score, ...]
    remeasure: tuple[tuple[int, int, float], ...] = ()
    """Neighbours in rank (better, worse) and the chance that their order is wrong, where
    measuring both again is worth it."""
    points: PointsRule = PointsRule()
    """How ranks and results became points."""
    decimals: int = 2
    """Of a result."""
    counts: str = "less advantageous"
    """Which of the entries of a mark that agree counted."""
    step: Fraction = Fraction(1, 100)
    """What results are multiples of, in `unit`."""
    step_unit: str = "m"
    """Unit people count the steps in: `in`, or `unit`."""
    guests: tuple[Guest, ...] = ()
    """Pilots out of competition, in no rank."""
    missing: tuple[int, ...] = ()
    """Pilots who are not accounted for, in a flown task."""
    withdrawn: tuple[int, ...] = ()
    """Pilots who had left the event by then, in a flown task: they have no score."""
    fields: tuple[Field, ...] = ()
    """Each class by its name, where classes are scored by themselves."""
    field: str = ""
    """The class that these results were narrowed to, by `parts`."""

    @property
    def place(self) -> tuple[str, str, int]:
        """Where its results stand among what is kept."""
        return "task", self.flight, self.task

    @property
    def parts(self) -> tuple["TaskResult", ...]:
        """The task as it is ranked: whole, or class by class."""
        return tuple(map(self._narrowed, self.fields)) or (self,)

    def part_of(self, pilot: int) -> "TaskResult":
        """Return what a pilot is ranked in: the task, or it narrowed to the class."""
        own = self.score_of(pilot)
        named = "" if own is None else own.field
        return next((part for part in self.parts if part.field == named), self)

    def _narrowed(self, to: Field) -> "TaskResult":
        among = {s.pilot for s in self.scores if s.field == to.name}
        return replace(
            self,
            formula=to.formula,
            scores=tuple(s for s in self.scores if s.pilot in among),
            remeasure=tuple(pair for pair in self.remeasure if pair[0] in among),
            missing=tuple(n for n in self.missing if n in among),
            guests=tuple(g for g in self.guests if self._beside(g) == to.name),
            fields=(),
            field=to.name,
        )

    def _beside(self, guest: Guest) -> str:
        """Return the class a guest is shown with: the own, else the first."""
        known = [own.name for own in self.fields]
        return guest.field if guest.field in known else known[0]

    @property
    def accounted(self) -> int:
        """How many pilots are accounted for: a mark, none found, not flown and so on."""
        return len(self.scores) - len(self.missing)

    @property
    def entered(self) -> int:
        """How many marks people entered."""
        states = (mark.state for score in self.scores for mark in score.marks)
        return sum(state is not None for state in states)

    @property
    def entered_once(self) -> int:
        """How many of them only one person entered."""
        return sum(score.entered_once for score in self.scores)

    @property
    def all_entered_once(self) -> bool:
        """Tell whether no mark was entered by a second person."""
        states = (mark.state for score in self.scores for mark in score.marks)
        return all(state in {None, Keyed.ONCE} for state in states)

    @property
    def pointed(self) -> bool:
        """Tell whether it gives points; else places go by result."""
        return self.formula.method != "none"

    @property
    def race(self) -> bool:
        """Tell whether its metres are shown as kilometres."""
        return TASK_KINDS[self.kind].race

    @property
    def measure(self) -> Measure:
        """What its results count."""
        return measure_of(self.unit, self.kind)

    def score_of(self, pilot: int) -> Score | None:
        """Find a pilot's score."""
        return next((s for s in self.scores if s.pilot == pilot), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class RuledFinding:
    """A finding with what officials made of it."""

    finding: Finding
    state: RulingState
    ruling: Ruling | None
    charges: tuple[Charge, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One line of the standings over tasks."""

    rank: int
    pilot: int
    total: int
    tasks: Mapping[int, int]
    """Score by task number, of the tasks that the pilot was entered in."""
    event_penalty: int = 0
    counted: tuple[int, ...] = ()
    """Tasks that count, where only the best so many do."""
    result: float | None = None
    """Results added up, in standings by result; None = there is none."""
    results: Mapping[int, float] = field(default_factory=dict)
    """Result by task number, in standings by result."""

    def at(self, rank: int) -> "Standing":
        """Return this line with another rank."""
        return replace(self, rank=rank)


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingsTable:
    """Standings of the whole field, of a class or of teams."""

    title: str
    rows: tuple[Standing, ...]
    by: str = "points"
    """`points`, or `result` where the rule book gives no points."""
    unit: str = ""
    """Of the results that were added up."""
    best: str = ""
    """`smallest` or `greatest`, in standings by result."""
    teams: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    """The pilots who count, by team."""
    members: Mapping[str, int] = field(default_factory=dict)
    """How many pilots a team has, those included who do not count."""

    @property
    def measure(self) -> Measure:
        """What results count that were added up: metres to be far are a race."""
        race = self.unit == "m" and self.best == "greatest"
        return Measure.RACE if race else MEASURES[self.unit]

    @property
    def by_result(self) -> bool:
        """Whether results add up here, not points."""
        return self.by == "result"

    def value(self, row: Standing) -> float | None:
        """Return what a line comes to: points, or the result; None = no result."""
        return row.result if self.by_result else row.total

    def values(self, row: Standing) -> Mapping[int, float]:
        """Return what each task adds to a line, by task number."""
        return row.results if self.by_result else row.tasks

    def earns(self, row: Standing) -> bool:
        """Tell whether a line can get a prize: it has a result, or points."""
        return row.result is not None if self.by_result else row.total > 0


@dataclass(frozen=True, slots=True, kw_only=True)
class WindLayer:
    """Drift of the field's balloons in one layer of height: wind that is past."""

    height_m: float
    """Middle of the layer, above the ground."""
    from_deg: float
    """Direction the wind came from, true north."""
    speed_m_s: float
    spread_m_s: float
    """Root mean square deviation of the drift in the layer."""
    seconds: float
    """Flying time in the layer, all balloons."""
    balloons: int = 0
    """How many flew there: fewer than three cannot correct each other."""


@hashed_once
@dataclass(frozen=True, slots=True, kw_only=True)
class LogSummary:
    """What one log showed."""

    name: str
    sha256: str
    pilot: int | None
    fixes: int
    counts: bool = False
    """It is the log that counts for its pilot."""
    launch_s: float | None = None
    launch_lat_deg: float | None = None
    launch_lon_deg: float | None = None
    landing_s: float | None = None
    landing_lat_deg: float | None = None
    landing_lon_deg: float | None = None
    highest_m: float | None = None
    """Above the ground."""
    anchored: bool = False
    notes: tuple[Fact, ...] = ()
    """Repairs and how the pilot was matched."""
    clock_s: float = 0.0
    """Added to the log's times, as an official accepted."""
    clock_sigma_s: float = 0.0
    """One sigma of the log's clock; infinite = doubtful, and nothing was accepted."""
    air: Air | None = field(default=None, compare=False, repr=False)
    """The air it was read with; None = by itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightResult:
    """What the logs of one flight showed."""

    id: str
    date: str
    logs: tuple[LogSummary, ...] = ()
    winds: tuple[WindLayer, ...] = ()
    air: Air | None = field(default=None, compare=False, repr=False)
    """What all logs tell of the air, or what was set down of it."""
    throw: Throw | None = field(default=None, compare=False, repr=False)
    """How markers of the flight fall beside tracks; None = too few to tell."""
    air_kept: bool = False
    """The air was set down with a publication."""

    @property
    def place(self) -> tuple[str, str]:
        """Where it stands among what is kept."""
        return "logs", self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """Everything that was computed from one event."""

    event: str
    book: str
    tasks: tuple[TaskResult, ...]
    findings: tuple[RuledFinding, ...]
    standings: StandingsTable
    standings_rule: StandingsRule = StandingsRule()
    event_charges: tuple[tuple[int, Charge], ...] = ()
    """Pilot and event points imposed on the event as a whole."""
    class_standings: tuple[StandingsTable, ...] = ()
    team_standings: StandingsTable | None = None
    flights: tuple[FlightResult, ...] = ()
    matters: tuple[Matter, ...] = ()
    """All that is open or doubtful, each by itself; `told` has like ones as one."""
    entered: Entered | None = None
    """What they rest on, as set down."""
    voice: Voice = Voice()
    """How the event speaks: units, time zone, names."""

    @property
    def told(self) -> tuple[Matter, ...]:
        """The matters as people are told of them: like ones as one."""
        return grouped(self.matters)

    @property
    def blocked(self) -> bool:
        """Tell whether something keeps these results from becoming official."""
        return any(matter.holds_up for matter in self.matters)

    def of_tasks(self, numbers: Collection[int]) -> "Results":
        """Return what some tasks came to, with their flights; sums stay those of all."""
        tasks = tuple(task for task in self.tasks if task.task in numbers)
        flights = {task.flight for task in tasks}
        return replace(
            self,
            tasks=tasks,
            findings=tuple(f for f in self.findings if f.finding.task in numbers),
            flights=tuple(own for own in self.flights if own.id in flights),
            matters=tuple(
                matter
                for matter in self.matters
                if (matter.task is None or matter.task in numbers)
                and (not matter.flight or matter.flight in flights)
            ),
        )

    def task(self, number: int) -> TaskResult | None:
        """Find a task's results."""
        return next((t for t in self.tasks if t.task == number), None)
