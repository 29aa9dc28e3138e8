"""What officials set down: the frozen data of an event.

Lengths are metres, angles degrees, times POSIX seconds in UTC, unless a name says
otherwise.  Every record that came from a person keeps where it stands (`origin`) and the
fields as they were entered (`entered`), so that nothing entered is lost.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from enum import StrEnum
from typing import Any, Protocol

from scorer.event.matter import Acceptance, Matter
from scorer.event.place_kinds import PlaceKind
from scorer.event.rulebook import RuleBook
from scorer.facts import Fact, fact, words


class Units(StrEnum):
    """How people at the event read and key lengths."""

    METRIC = "metric"
    IMPERIAL = "imperial"

    @property
    def bare(self) -> str:
        """Unit of a length that stands without one."""
        return "ft" if self is Units.IMPERIAL else "m"


class DistanceKind(StrEnum):
    """On which surface a distance is meant."""

    GROUND = "ground"
    GRID = "grid"
    ELLIPSOID = "ellipsoid"


class TaskState(StrEnum):
    """Whether a task counts."""

    PLANNED = "planned"
    """Not flown yet: it gives no points and no ranks."""
    FLOWN = "flown"
    CANCELLED = "cancelled"


class Method(StrEnum):
    """How a marker was measured."""

    TAPE = "tape"
    POLAR = "polar"
    ARCS = "arcs"
    OFFSET = "offset"
    """Along a line between two named points, and square to it."""
    GRID = "grid"
    LATLON = "latlon"
    LOG = "log"
    NONE = "none"


class North(StrEnum):
    """From which north a bearing counts."""

    GRID = "grid"
    TRUE = "true"
    MAGNETIC = "magnetic"


class ReportKind(StrEnum):
    """What an official can report having seen."""

    GROUND_CONTACT = "ground-contact"
    LOW = "low"
    NOT_FLOWN = "not-flown"
    WITHDRAWN = "withdrawn"
    """The pilot took no further part, from this task on."""
    STILL_FLYING = "still-flying"
    LAUNCH_PLACE = "launch-place"
    OTHER = "other"


class TargetEvent(StrEnum):
    """What can happen to a target."""

    CLEAR = "clear"
    """The field was seen to be clear of other balloons."""
    OPENED = "opened"
    CLOSED = "closed"
    MOVED = "moved"


class Level(StrEnum):
    """How far a dispute has come."""

    COMPLAINT = "complaint"
    PROTEST = "protest"


class Outcome(StrEnum):
    """What became of a complaint or protest."""

    UPHELD = "upheld"
    REJECTED = "rejected"
    TAKEN_BACK = "taken back"


class Decision(StrEnum):
    """What an official decides: on a finding, or without one (see `on_finding`)."""

    APPLY = "apply"
    WAIVE = "waive"
    SET = "set"
    HOLD = "hold"
    """Not yet: the pilot is asked."""
    IMPOSE = "impose"
    """A penalty without a finding."""
    BONUS = "bonus"
    """Points given, as a redress say."""
    RESULT = "result"
    """The result of a task, in place of what was measured."""
    SCORE = "score"
    """The score of a task, in place of what it came to."""
    AVERAGE = "average"
    """The mean of the pilot's other scores, in place of what a task came to."""

    @property
    def on_finding(self) -> bool:
        """Tell whether it decides on a finding."""
        return self in {Decision.APPLY, Decision.WAIVE, Decision.SET, Decision.HOLD}


class PenaltyUnit(StrEnum):
    """In what a penalty is paid."""

    TASK_POINTS = "task points"
    EVENT_POINTS = "event points"
    METRES = "metres"
    NO_RESULT = "no result"
    DISQUALIFIED = "disqualified"


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where a record stands in what was entered."""

    where: str = ""
    """File (relative to the event folder) or ledger entry."""
    line: int | None = None
    entries: tuple[str, ...] = ()
    """Hashes of the ledger's entries that say so; empty = it stands in a file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pilot:
    """One entered pilot."""

    number: int
    """Competition number, unique in the event."""
    name: str
    registration: str = ""
    class_name: str = ""
    country: str = ""
    logger: str = ""
    """Serial of the pilot's logger, as it stands in the log's header or file name."""
    enters: int | None = None
    """Number of the first task that the pilot takes part in; None = the event's first."""
    leaves: int | None = None
    """Number of the task from which the pilot takes no part any more, by the roster or a
    report of `withdrawn`, whichever is earlier; None = none."""
    competes: bool = True
    """Whether the pilot is ranked; else a guest, out of competition."""
    papers: date | bool | None = None
    """Whether the papers were seen, or until when they hold; None = not said."""
    waiver: bool | None = None
    """Whether the waiver is signed; None = not said."""
    extra: Mapping[str, str] = field(default_factory=dict)
    """Columns the roster had beyond these: kept, and private unless the event names
    them."""
    origin: Origin = Origin()

    def takes_part(self, task: int) -> bool:
        """Tell whether the pilot is entered at a task, ranked or not."""
        late = self.enters is not None and task < self.enters
        return not late and not self.has_left(task)

    def has_left(self, task: int) -> bool:
        """Tell whether the pilot takes no part any more at a task."""
        return self.leaves is not None and task >= self.leaves

    def team(self, column: str) -> str:
        """Return what the roster says in the column that names teams."""
        own = {"class": self.class_name, "country": self.country}
        return own.get(column.casefold(), self.extra.get(column.casefold(), ""))


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A named point or polygon of the event, WGS84."""

    name: str
    kind: PlaceKind
    rings: tuple[tuple[tuple[float, float], ...], ...]
    """(lon_deg, lat_deg) pairs as in GeoJSON: one ring of one pair for a point; for a
    polygon the outer ring, then its holes."""
    elevation_m: float | None = None
    lower_m: float | None = None
    """Lower limit of a prohibited airspace, above mean sea level; None = ground."""
    upper_m: float | None = None
    """Upper limit, above mean sea level; None = unlimited."""
    height_m: float | None = None
    """How high a power line or obstacle stands above the ground; None = not known."""
    extra: Mapping[str, Any] = field(default_factory=dict)
    origin: Origin = Origin()

    @property
    def is_point(self) -> bool:
        """Tell whether this place is a point rather than an area."""
        return self.kind.is_point


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """An entry that cannot be applied: it is kept, told, and counts for nothing."""

    entry: str
    """Its hash."""
    label: str
    """Its name for people: desk and number."""
    desk: str
    who: str
    kind: str
    field: str
    found: str
    allowed: str

    @property
    def says(self) -> Fact:
        """Which entry, whose, what is wrong with it, and what to do."""
        return fact(
            "set-aside",
            entry=words(self.label),
            who=words(self.who),
            field=words(self.field),
            found=words(self.found),
            allowed=words(self.allowed),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Period:
    """A closed span of time."""

    start_s: float
    """POSIX seconds, UTC."""
    end_s: float
    """POSIX seconds, UTC."""

    def holds(self, time_s: float) -> bool:
        """Tell whether a moment lies within, ends included."""
        return self.start_s <= time_s <= self.end_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One task of a flight."""

    number: int
    """Unique in the event."""
    flight: str
    """Identifier of the flight it belongs to."""
    kind: str
    """Code of a kind of `scorer.event.task_kinds`."""
    targets: tuple[str, ...] = ()
    """Names of target, goal or reference places, in the order given."""
    roles: Mapping[str, str] = field(default_factory=dict)
    """Place names by role (`A`, `B`, `C`, ...), where the kind has roles."""
    scoring_areas: tuple[str, ...] = ()
    launch_period: Period | None = None
    scoring_period: Period | None = None
    measuring_radius_m: float | None = None
    marker: str = ""
    state: TaskState = TaskState.FLOWN
    settings: Mapping[str, Any] = field(default_factory=dict)
    """Further keys of the task, parsed where a task kind knows them."""
    book: RuleBook | None = None
    """The event's rule book with this task's own overrides put in; None = the event's."""
    origin: Origin = Origin()

    @property
    def periods(self) -> tuple[Period, ...]:
        """Its launch and scoring periods, as far as it has them."""
        given = (self.launch_period, self.scoring_period)
        return tuple(period for period in given if period is not None)

    @property
    def target(self) -> str | None:
        """Name of the first target, if any."""
        return self.targets[0] if self.targets else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Keying:
    """One measurement of one marker as one official keyed it."""

    task: int
    pilot: int
    method: Method
    mark: str = ""
    """Which of the pilot's marks in this task, where there are several (`A`, `B`, ...)."""
    distance_m: float | None = None
    bearing_deg: float | None = None
    north: North = North.GRID
    from_place: str | None = None
    """Named point the distance counts from; None = the task's target."""
    distance2_m: float | None = None
    from2_place: str | None = None
    side: str = ""
    """`L` or `R` of the line from `from_place` to `from2_place`."""
    easting_m: float | None = None
    northing_m: float | None = None
    lat_deg: float | None = None
    lon_deg: float | None = None
    time_s: float | None = None
    measurer: str = ""
    """Who measured: a person or a team."""
    by: str = ""
    note: str = ""
    settles: str = ""
    """Reason, where this row settles keyings that differ; empty = an ordinary keying."""
    between: str = ""
    """Of a settling row: the entries it decides between, as `scorer.event.entries`
    writes them; empty = those of two people at most, one value
    of each."""
    entered: Mapping[str, str] = field(default_factory=dict)
    """The fields as they were keyed."""
    origin: Origin = Origin()

    @property
    def noted_s(self) -> float | None:
        """When somebody noted that the marker fell; None where only the log says."""
        return None if self.method is Method.LOG else self.time_s

    def without_remark(self) -> "Keying":
        """Return it as it may be published where remarks are private."""
        entered = {name: text for name, text in self.entered.items() if name != "note"}
        return replace(self, note="", entered=entered)


def row_named(table: str, entered: Mapping[str, str]) -> str:
    """Name a row by what it says: the same in a folder, an event file and an archive."""
    about = (entered.get("by", ""), entered.get("time", ""))
    told = ", ".join(filter(None, map(str.strip, about)))
    return f"{table}.csv ({told})" if told else f"{table}.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class Declaration:
    """A goal that a pilot declared."""

    task: int
    pilot: int
    goal: str = ""
    """Name of a place, or coordinates as written."""
    height_m: float | None = None
    time_s: float | None = None
    place: str = ""
    """Where the declaration was made or handed in, if that matters."""
    entered: Mapping[str, str] = field(default_factory=dict)
    origin: Origin = Origin()

    @property
    def named(self) -> str:
        """How evidence names it."""
        return row_named("declarations", self.entered)


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What an official saw."""

    task: int
    pilot: int
    kind: ReportKind
    time_s: float | None = None
    value: float | None = None
    """Metres for `low`, else as the kind needs it."""
    by: str = ""
    note: str = ""
    entered: Mapping[str, str] = field(default_factory=dict)
    origin: Origin = Origin()

    @property
    def named(self) -> str:
        """How evidence names it."""
        return row_named("reports", self.entered)


@dataclass(frozen=True, slots=True, kw_only=True)
class TargetLine:
    """A line of a flight's target log: what happened to a target, and when."""

    task: int
    target: str
    event: TargetEvent
    time_s: float
    easting_m: float | None = None
    """Where a moved target stands from then on, in the event's reference system,"""
    northing_m: float | None = None
    lat_deg: float | None = None
    """or in WGS84; both empty = nobody said where."""
    lon_deg: float | None = None
    by: str = ""
    note: str = ""
    entered: Mapping[str, str] = field(default_factory=dict)
    origin: Origin = Origin()

    @property
    def says_where(self) -> bool:
        """Tell whether it says where the target stands from then on."""
        return self.easting_m is not None or self.lat_deg is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruling:
    """What an official decided."""

    task: int | None
    """None = the event as a whole (event points only)."""
    pilot: int
    finding: str = ""
    """Identifier or kind of the finding ruled on; empty with `impose`."""
    from_s: float | None = None
    """When what was ruled on began, POSIX seconds; None = not recorded."""
    to_s: float | None = None
    """When it ended."""
    measured: float | None = None
    """What the finding showed when it was ruled on, in metres or seconds."""
    decision: Decision
    amount: float | None = None
    unit: PenaltyUnit | None = None
    rule: str = ""
    reason: str = ""
    by: str = ""
    at: str = ""
    """When, as entered."""
    entered: Mapping[str, str] = field(default_factory=dict)
    origin: Origin = Origin()


class Packed(Protocol):
    """What a file holds, packed; known to fit its hash."""

    @property
    def size(self) -> int:
        """Return how many bytes it holds once unpacked."""

    def content(self, where: str) -> bytes:
        """Unpack all of it; `where` it comes from."""

    def start(self, count: int) -> bytes:
        """Unpack so many bytes."""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Blob:
    """A file by content: a log, or the terrain grid."""

    name: str
    """As the official received it, relative to the event folder."""
    sha256: str
    """Hash of `data`, lower-case hexadecimal."""
    content: bytes | Packed = field(compare=False)

    @property
    def data(self) -> bytes:
        """What the file holds; whoever asks more than once keeps it."""
        own = self.content
        return own if isinstance(own, bytes) else own.content(self.name)

    @property
    def size(self) -> int:
        """Bytes of `data`."""
        own = self.content
        return len(own) if isinstance(own, bytes) else own.size

    def start(self, count: int) -> bytes:
        """Return the first bytes of `data`."""
        own = self.content
        return own[:count] if isinstance(own, bytes) else own.start(count)

    def __repr__(self) -> str:
        return f"Blob({self.name!r}, {self.size} bytes, {self.sha256[:12]})"


@dataclass(frozen=True, slots=True, kw_only=True)
class LogFile:
    """A flight log, and the pilot an official assigned it to, if anyone did."""

    blob: Blob
    pilot: int | None = None
    """None = match by the log's header or its file name."""
    problem: str = ""
    """Why the content could not be taken over, if so; the blob is then empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flight:
    """One flight of the event: what was flown in one sitting, with its evidence."""

    id: str
    date: date
    """Local date."""
    qnh_hpa: float | None = None
    temperature_c: float | None = None
    """Air temperature at the event's ground elevation."""
    tasks: tuple[Task, ...] = ()
    keyings: tuple[Keying, ...] = ()
    declarations: tuple[Declaration, ...] = ()
    reports: tuple[Report, ...] = ()
    rulings: tuple[Ruling, ...] = ()
    targets: tuple[TargetLine, ...] = ()
    """The target log, as entered."""
    logs: tuple[LogFile, ...] = ()
    air: Mapping[str, Any] | None = field(default=None, compare=False, repr=False)
    """The air its logs are read with, as set down with a publication; None = theirs."""
    extra: Mapping[str, Any] = field(default_factory=dict)
    origin: Origin = Origin()


class AwardFor(StrEnum):
    """For what a prize is given."""

    OVERALL = "overall"
    CLASS = "class"
    TEAM = "team"
    DAY = "day"
    TASK = "task"


class AwardTies(StrEnum):
    """What becomes of equal places when prizes are given."""

    SHARED = "shared"
    COUNTED_BACK = "counted back"
    """More first places in tasks go before, then more second ones, and so on; in one
    task the better place in the standings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Award:
    """A prize as the event declares it."""

    name: str
    given_for: AwardFor
    task: int | None = None
    """The task it is for; None = each task."""
    day: date | None = None
    """The day it is for; None = each day."""
    class_name: str = ""
    """The class among whom it is given; empty = each class, or everybody."""
    places: int = 3
    ties: AwardTies = AwardTies.SHARED


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Everything that officials set down, and nothing computed."""

    name: str
    venue: str = ""
    time_zone: str = "UTC"
    """IANA name."""
    crs: str
    """Projected reference system of the event, metres, e.g. `EPSG:25830`."""
    units: Units = Units.METRIC
    distance: DistanceKind = DistanceKind.GROUND
    ground_elevation_m: float | None = None
    """Above mean sea level; used where no terrain covers."""
    terrain: Blob | None = None
    terrain_sigma_m: float | None = None
    """One sigma of the terrain grid's heights; None = by the kind of grid."""
    book: RuleBook
    pilots: tuple[Pilot, ...] = ()
    places: tuple[Place, ...] = ()
    flights: tuple[Flight, ...] = ()
    matters: tuple[Matter, ...] = ()
    """What its entries by themselves leave open: clashes of desks, entries set aside."""
    awards: tuple[Award, ...] = ()
    """Prizes, in the order they are given; empty = places one to three of everything."""
    public_columns: frozenset[str] = frozenset()
    """Further columns of the roster that may be published; `note`: what officials wrote
    beside entries and reports."""
    acceptances: tuple[Acceptance, ...] = ()
    """Open matters that officials accepted as they stand."""
    extra: Mapping[str, Any] = field(default_factory=dict)
    """Settings that other layers read: `declination`, `survey`."""

    def pilot(self, number: int) -> Pilot | None:
        """Find a pilot by competition number."""
        return next((p for p in self.pilots if p.number == number), None)

    def place(self, name: str) -> Place | None:
        """Find a place by its name."""
        return next((p for p in self.places if p.name == name), None)

    @property
    def tasks(self) -> tuple[Task, ...]:
        """All tasks of all flights, in their order."""
        return tuple(task for flight in self.flights for task in flight.tasks)

    def of_tasks(self, numbers: Collection[int]) -> "Event":
        """Return the event with what was entered and decided about some tasks alone."""
        flights = tuple(
            replace(
                flight,
                keyings=tuple(k for k in flight.keyings if k.task in numbers),
                rulings=tuple(
                    r for r in flight.rulings if r.task is None or r.task in numbers
                ),
            )
            for flight in self.flights
        )
        return replace(self, flights=flights)

    @property
    def private_columns(self) -> tuple[str, ...]:
        """Columns of the roster that never reach pages, data, workbook or slips."""
        names = dict.fromkeys(key for pilot in self.pilots for key in pilot.extra)
        return tuple(n for n in names if n.casefold() not in self.public_columns)

    def book_of(self, task: Task) -> RuleBook:
        """Return the rule book that a task is scored by."""
        return task.book or self.book
