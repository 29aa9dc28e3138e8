"""The work that flight logs ask for: done for each alone, in any process.

A worker is given what all logs of a flight share, and a batch of logs.  What comes back
is small: findings, measurements and sums, never the fixes.
"""

import hashlib
import pickle
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from threadpoolctl import threadpool_limits

from scorer.checks.base import Circumstances, PlacedMark
from scorer.checks.mark_track import Approaches, approaches
from scorer.checks.pilot import Trail, trail_of
from scorer.checks.run import run_checks
from scorer.checks.winds import Drift, drift_of
from scorer.errors import Fault, InputError
from scorer.event import matters
from scorer.event.finding import Finding
from scorer.event.matter import Matter, about
from scorer.event.model import (
    Declaration,
    Keying,
    LogFile,
    Period,
    Pilot,
    Place,
    Report,
    Task,
    TaskState,
)
from scorer.event.rulebook import RuleBook
from scorer.facts import Fact, fact, listed, term, words
from scorer.facts import log as log_value
from scorer.geodesy.site import Site
from scorer.geodesy.survey import Mark
from scorer.scoring.results import LogSummary
from scorer.tasks.base import Evidence, Measured
from scorer.tasks.measure import measure
from scorer.tracks.clean import clean
from scorer.tracks.flown import Array, Flown
from scorer.tracks.match import Identified, LogHead, identify
from scorer.tracks.prepare import prepare
from scorer.tracks.read import read_log
from scorer.tracks.track import Track

DAY_S = 86_400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnEvidence:
    """What officials set down about one pilot in one task."""

    marks: Mapping[str, Mark] = field(default_factory=dict)
    keyings: Mapping[str, Keying] = field(default_factory=dict)
    no_mark: bool = False
    declarations: tuple[Declaration, ...] = ()
    reports: tuple[Report, ...] = ()
    placed: tuple[PlacedMark, ...] = ()


NOTHING = OwnEvidence()


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightWork:
    """What all logs of one flight share.  Picklable."""

    flight: str
    day: date
    time_zone: str
    qnh_hpa: float | None
    temperature_c: float | None
    ground_elevation_m: float | None
    terrain_sigma_m: float | None = None
    """One sigma of the terrain grid, where the event says; None = by its kind."""
    site: Site
    tasks: tuple[Task, ...]
    books: Mapping[int, RuleBook]
    """By task number."""
    pilots: tuple[Pilot, ...]
    places: Mapping[str, Place]
    own: Mapping[tuple[int, int], OwnEvidence]
    """By task and pilot."""
    marks: tuple[PlacedMark, ...]
    """All marks of all pilots in this flight that have a place."""
    prohibited: tuple[Place, ...]
    periods: tuple[Period, ...]
    remarks: bool
    """Whether what officials wrote beside their reports may be published."""
    hours: Period
    """From a day before to a day after the flight's local date: a log's fixes outside
    belong to something else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogOutcome:
    """What came of one log."""

    summary: LogSummary
    identified: Identified | None
    """Whose it is; None when the log could not be read."""
    findings: tuple[Finding, ...] = ()
    matters: tuple[Matter, ...] = ()
    measured: Mapping[int, Measured] = field(default_factory=dict)
    """By task number."""
    drift: Drift | None = None
    approaches: Approaches | None = None
    """How near the track came to each mark of the flight."""
    trail: Trail | None = None
    """Where the track was at each whole minute."""


def work_on(shared: FlightWork, logs: Sequence[LogFile]) -> tuple[LogOutcome, ...]:
    """Work on a batch of logs; a broken one costs itself alone.

    Linear algebra runs on one thread: logs are done side by side already, matrices are
    small, and so the last bits do not depend on the machine's number of cores.
    """
    with threadpool_limits(limits=1, user_api="blas"):
        return tuple(_work_on(shared, log) for log in logs)


@dataclass(frozen=True, slots=True)
class Packed:
    """What all logs of a flight share, packed once for all batches."""

    key: str
    data: bytes = field(compare=False)

    @classmethod
    def of(cls, shared: FlightWork) -> "Packed":
        """Pack it; a terrain of some 100 MB takes a tenth of a second."""
        data = pickle.dumps(shared, pickle.HIGHEST_PROTOCOL)
        return cls(hashlib.sha256(data).hexdigest(), data)


def work_on_packed(shared: Packed, logs: Sequence[LogFile]) -> tuple[LogOutcome, ...]:
    """Work on a batch of logs, in any process."""
    return work_on(_unpacked(shared), logs)


@lru_cache(maxsize=1)
def _unpacked(shared: Packed) -> FlightWork:
    """Unpack once in each process."""
    work: FlightWork = pickle.loads(shared.data)  # noqa: S301 - our own
    return work


def _work_on(shared: FlightWork, log: LogFile) -> LogOutcome:
    """Work on one log; whatever happens in here costs this log alone."""
    whose = None
    try:
        track = _read(shared, log)
        head = LogHead.of(track, pilot=log.pilot, day=shared.hours)
        whose = identify(head, shared.pilots)
        return _outcome(shared, track, whose)
    except InputError as error:
        text = str(error.faults[0]) if error.faults else str(error)
        says = fact("log-broken", why=words(text.rstrip(".")))
    except Exception as error:  # noqa: BLE001 - a fault of ours must not stop the event
        what = words(f"{type(error).__name__}: {error}")
        says = fact("log-fails", log=log_value(log.blob.name), error=what)
    return _broken(shared, log, says, whose)


def _read(shared: FlightWork, log: LogFile) -> Track:
    if log.problem:
        allowed = "a readable log of a sensible size"
        raise InputError(
            [Fault(where=log.blob.name, found=log.problem, allowed=allowed)]
        )
    track = read_log(log.blob, near_date=shared.day, time_zone=shared.time_zone)
    return clean(track, near_s=(shared.hours.start_s + shared.hours.end_s) / 2)


def _broken(
    shared: FlightWork, log: LogFile, says: Fact, whose: Identified | None
) -> LogOutcome:
    pilot = log.pilot if whose is None else whose.pilot
    warning = Matter(
        kind=matters.LOG_BROKEN,
        flight=shared.flight,
        pilots=about(pilot),
        says=says,
    )
    summary = LogSummary(
        name=log.blob.name,
        sha256=log.blob.sha256,
        pilot=pilot,
        fixes=0,
        notes=(says,),
    )
    return LogOutcome(summary=summary, identified=None, matters=(warning,))


def fly(shared: FlightWork, track: Track, pilot: int) -> Flown:
    """Make a cleaned log ready: plane, phases, heights."""
    return prepare(
        track,
        pilot=pilot,
        plane=shared.site.plane,
        ground=shared.site.ground,
        qnh_hpa=shared.qnh_hpa,
        temperature_c=shared.temperature_c,
        ground_elevation_m=shared.ground_elevation_m,
        terrain_sigma_m=shared.terrain_sigma_m,
    )


def _outcome(shared: FlightWork, track: Track, whose: Identified) -> LogOutcome:
    flown = fly(shared, track, whose.pilot or 0)
    summary = _summary(track, flown, whose)
    repaired = _repaired(shared, track, whose)
    known = any(p.number == whose.pilot for p in shared.pilots)
    if whose.pilot is None or not known:
        return LogOutcome(summary=summary, identified=whose, matters=repaired)
    findings: list[Finding] = []
    warnings = list(repaired)
    measured = {}
    flown_tasks = [t for t in shared.tasks if t.state is TaskState.FLOWN]
    leading = next(iter(flown_tasks or shared.tasks), None)
    for task in shared.tasks:
        if task.state is TaskState.PLANNED:
            continue
        about = circumstances(shared, task, whose.pilot, leads=task is leading)
        seen, told = run_checks(flown, about)
        findings += seen
        warnings += told
        measured[task.number] = measure(evidence(shared, task, whose.pilot, flown))
    return LogOutcome(
        summary=summary,
        identified=whose,
        findings=tuple(findings),
        matters=tuple(warnings),
        measured=measured,
        drift=drift_of(flown),
        approaches=approaches(flown, shared.marks),
        trail=trail_of(flown),
    )


def circumstances(
    shared: FlightWork, task: Task, pilot: int, *, leads: bool
) -> Circumstances:
    """Put together what the checks of a task need to know beside the track."""
    own = shared.own.get((task.number, pilot), NOTHING)
    return Circumstances(
        task=task,
        book=shared.books[task.number],
        site=shared.site,
        date=shared.day,
        time_zone=shared.time_zone,
        periods=shared.periods,
        marks=own.placed,
        prohibited=shared.prohibited,
        tasks=shared.tasks,
        leads=leads,
        remarks=shared.remarks,
    )


def evidence(
    shared: FlightWork, task: Task, pilot: int, flown: Flown | None
) -> Evidence:
    """Put together all that bears on a pilot's result in a task."""
    own = shared.own.get((task.number, pilot), NOTHING)
    return Evidence(
        task=task,
        book=shared.books[task.number],
        site=shared.site,
        pilot=pilot,
        day=shared.day,
        time_zone=shared.time_zone,
        marks=own.marks,
        keyings=own.keyings,
        no_mark=own.no_mark,
        declarations=own.declarations,
        flown=flown,
        reports=own.reports,
        places=shared.places,
    )


def _repaired(
    shared: FlightWork, track: Track, whose: Identified
) -> tuple[Matter, ...]:
    """Tell what was left out of a log or put right in it."""
    if not track.repairs:
        return ()
    return (
        Matter(
            kind=matters.LOG_REPAIRED,
            flight=shared.flight,
            pilots=about(whose.pilot),
            says=fact(
                "log-repaired",
                log=log_value(track.name),
                repairs=listed(repair.says for repair in track.repairs),
            ),
        ),
    )


def _summary(track: Track, flown: Flown, whose: Identified) -> LogSummary:
    launch, landing = flown.launch, flown.landing
    heights = flown.height_m[flown.height_m == flown.height_m]  # without NaN
    matched = fact("log-not-matched")
    if whose.signs:
        matched = fact("log-matched", sign=term(whose.signs[0]))
    return LogSummary(
        name=track.name,
        sha256=track.sha256,
        pilot=whose.pilot,
        fixes=len(track),
        launch_s=_at(flown.time_s, launch),
        launch_lat_deg=_at(flown.lat_deg, launch),
        launch_lon_deg=_at(flown.lon_deg, launch),
        landing_s=_at(flown.time_s, landing),
        landing_lat_deg=_at(flown.lat_deg, landing),
        landing_lon_deg=_at(flown.lon_deg, landing),
        highest_m=float(heights.max()) if heights.size else None,
        anchored=flown.anchored,
        notes=(matched, *(repair.says for repair in track.repairs)),
    )


def _at(values: Array, index: int | None) -> float | None:
    return None if index is None or index >= len(values) else float(values[index])
