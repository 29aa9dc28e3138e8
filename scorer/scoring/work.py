"""The work that flight logs ask for: done for each alone, in any process.

A worker is given what all logs of a flight share, and a batch of logs.  What comes back
is small: findings, measurements and sums, never the fixes.
"""

import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

import numpy as np
from threadpoolctl import ThreadpoolController

from scorer.checks.base import Circumstances, Other, PlacedMark
from scorer.checks.clock import doubted
from scorer.checks.disputed import disputes, undisputed
from scorer.checks.mark_track import Aloft
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
    ReportKind,
    Task,
    TaskState,
)
from scorer.event.rulebook import RuleBook
from scorer.facts import (
    Fact,
    chance,
    fact,
    inner,
    listed,
    moment,
    several,
    term,
    words,
)
from scorer.facts import log as log_value
from scorer.geodesy.site import Site
from scorer.geodesy.survey import Mark
from scorer.scoring.baskets import launched_far_off, owners_by_basket
from scorer.scoring.coded import hashed_once
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import LogSummary
from scorer.tasks.base import Evidence, Measured
from scorer.tasks.measure import measure
from scorer.tracks.air import Air
from scorer.tracks.air_kept import KeptAir
from scorer.tracks.clean import clean
from scorer.tracks.flown import Array, Flown
from scorer.tracks.heads import LogHead
from scorer.tracks.join import joined
from scorer.tracks.match import (
    BY_HAND,
    Identified,
    Marked,
    signs_of,
    whose,
    with_baskets,
)
from scorer.tracks.order import Spans
from scorer.tracks.phases import Wanted
from scorer.tracks.prepare import Ready, flown_in, make_ready
from scorer.tracks.read import read_log
from scorer.tracks.track import DOUBTING, Track


@hashed_once
@dataclass(frozen=True, slots=True, kw_only=True)
class OwnEvidence:
    """What officials set down about one pilot in one task."""

    marks: Mapping[str, Mark] = field(default_factory=dict)
    keyings: Mapping[str, Keying] = field(default_factory=dict)
    no_mark: bool = False
    declarations: tuple[Declaration, ...] = ()
    reports: tuple[Report, ...] = ()
    placed: tuple[PlacedMark, ...] = ()

    @property
    def first_s(self) -> float | None:
        """When the first of the marks fell, POSIX seconds; None = nobody entered it."""
        times = [k.time_s for k in self.keyings.values() if k.time_s is not None]
        return min(times, default=None)

    def reported(self, kind: ReportKind) -> Report | None:
        """Return the report of a kind, the first one where there are several."""
        return next((r for r in self.reports if r.kind is kind), None)


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
    accepted: frozenset[str] = frozenset()
    """Keys of the matters that officials accepted."""
    hours: Period
    """From a day before to a day after the flight's local date and periods, longer for
    races: a log's fixes outside belong to something else."""
    air: KeptAir | None = None
    """The air of the flight, where it is set down."""
    others: tuple[Other, ...] = ()
    """The event's other flights."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogOutcome:
    """What came of one log."""

    summary: LogSummary
    joined: tuple[LogSummary, ...] = ()
    """Of other logs that are parts of this track."""
    identified: Identified | None
    """Whose it is; None when the log could not be read."""
    findings: tuple[Finding, ...] = ()
    matters: tuple[Matter, ...] = ()
    measured: Mapping[int, Measured] = field(default_factory=dict)
    """By task number."""
    drift: Drift | None = None
    aloft: Aloft | None = None
    """What the marks of the flight are held against."""
    trail: Trail | None = None
    """Where the track was at each whole minute."""
    key: str = ""
    """Under which it is kept; empty where it is not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook:
    """What one log shows by itself, before the air of the flight is known.  Picklable."""

    summary: LogSummary
    head: LogHead | None = None
    """What it says of itself; None when the log could not be read."""
    identified: Identified | None = None
    """Whose it is, once all logs of the flight are known; None as `head`."""
    matters: tuple[Matter, ...] = ()
    ready: Ready | None = None
    key: str = ""
    """Under which it is kept; empty where nothing is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """The logs that make one track, the leading one first, each with its air."""

    looks: tuple[FirstLook, ...]
    airs: tuple[Air | None, ...]
    counts: bool
    """It is the track that counts for its pilot."""


@contextmanager
def one_thread() -> Iterator[None]:
    """Let linear algebra run on one thread.

    Logs are done side by side already, matrices are small (more threads make them many
    times slower), and so the last bits do not depend on the machine's number of cores.
    """
    with _libraries(len(sys.modules)).limit(limits=1, user_api="blas"):
        yield


@lru_cache(maxsize=1)
def _libraries(_modules: int) -> ThreadpoolController:
    """Return what rules the libraries that are loaded; more come with modules alone.

    Looking for them takes as long as making a track.
    """
    return ThreadpoolController()


def look_at(shared: FlightWork, logs: Sequence[LogFile]) -> tuple[FirstLook, ...]:
    """Look at a batch of logs, each by itself; a broken one costs itself alone."""
    with one_thread():
        return tuple(look_at_one(shared, log) for log in logs)


def judge(shared: FlightWork, jobs: Sequence[Job]) -> tuple[LogOutcome, ...]:
    """Find heights in the air of the flight, run the checks, measure the tasks."""
    with one_thread():
        return tuple(judge_one(shared, job) for job in jobs)


def look_again(shared: FlightWork, log: LogFile, clock_s: float) -> FirstLook:
    """Look at one log with so much added to its times."""
    with one_thread():
        return look_at_one(shared, log, clock_s)


def look_at_one(shared: FlightWork, log: LogFile, clock_s: float = 0.0) -> FirstLook:
    """Look at one log; whatever happens in here costs this log alone."""
    try:
        track = read(shared, log, clock_s)
        ready = ready_of(shared, track)
        head = LogHead.of(
            track, pilot=log.pilot, day=shared.hours, periods=shared.periods
        )
        return FirstLook(
            summary=_summary(track),
            head=head,
            matters=_repaired(shared, track),
            ready=ready,
        )
    except InputError as error:
        says = broken(error.faults[0] if error.faults else error)
    except Exception as error:  # noqa: BLE001 - a fault of ours must not stop the event
        says = failed(log.blob.name, error)
    return _broken(shared, log.blob.name, log.blob.sha256, says, log.pilot)


def owned(
    shared: FlightWork,
    looks: Sequence[FirstLook],
    reached: Sequence[frozenset[int] | None],
    keep: Keep = NOTHING_KEPT,
) -> list[FirstLook]:
    """Say whose all logs of a flight are, together.

    `reached` says of each log which marks of the flight its track reaches.
    """
    pairs = zip(looks, reached, strict=True)
    heads = [replace(k.head, reaches=fits) for k, fits in pairs if k.head is not None]
    keys = [look.key for look in looks if look.head is not None]
    marked: dict[int, list[int]] = {}
    for k, mark in enumerate(shared.marks):
        marked.setdefault(mark.pilot, []).append(k)
    fits = [head.reaches for head in heads]
    found = keep.newest(
        "owners",
        keys[0] if keys else "",
        (keys, shared.pilots, marked, fits),
        lambda: _owners(shared, looks, heads, marked, keep),
    )
    owners = iter(found)
    times: Counter[str] = Counter()

    def told(look: FirstLook) -> FirstLook:
        """Return the very look of the last time where it is told the same."""
        if look.head is None:
            return look
        own = replace(next(owners), head=look.head)
        times[look.key] += 1  # the same file twice is two logs
        place = "owned", look.key, times[look.key]
        held = keep.recent(place) if look.key else None
        if held is None or held[0] is not look or held[1] != own:
            held = look, own, _owned(look, replace(own, head=replace(look.head)))
            keep.hold(place, held)
        known: FirstLook = held[2]
        return known

    return [told(look) for look in looks]


def _owners(
    shared: FlightWork,
    looks: Sequence[FirstLook],
    heads: Sequence[LogHead],
    marked: Marked,
    keep: Keep,
) -> list[Identified]:
    """Give all logs of a flight to pilots; `heads` are those of its looks that have one."""
    keys = [look.key for look in looks if look.head is not None]
    signs = keep.once(
        "signs", (keys, shared.pilots), lambda: signs_of(heads, shared.pilots)
    )
    found = whose(heads, shared.pilots, marked, signs)
    readies = [k.ready for k in looks if k.head is not None and k.ready is not None]
    if len(readies) < len(heads):
        return found
    sure = [(own.sure, own.pilot) for own in found]
    baskets = keep.once(
        "baskets", (keys, sure), lambda: owners_by_basket(readies, found)
    )
    if baskets:
        more = with_baskets(signs, baskets)
        found = whose(heads, shared.pilots, marked, more)
    return launched_far_off(readies, found)


def _owned(look: FirstLook, own: Identified) -> FirstLook:
    kept = (note for note in look.summary.notes if note.kind not in _MATCHED)
    notes = (_matched(own), *kept)
    summary = replace(look.summary, pilot=own.pilot, notes=notes)
    told = tuple(replace(m, pilots=about(own.pilot)) for m in look.matters)
    return replace(look, identified=own, summary=summary, matters=told)


_MATCHED = frozenset({"log-not-matched", "log-matched", "log-matched-by-hand"})


def _matched(own: Identified) -> Fact:
    """State by what a log was matched."""
    if own.pilot is None:
        return fact("log-not-matched")
    if BY_HAND in own.signs:
        return fact("log-matched-by-hand")
    signs = several(term(sign) for sign in own.signs)
    return fact("log-matched", signs=signs, chance=chance(own.probability))


def broken(why: object) -> Fact:
    """State that a log is left out, for what its reader found in it."""
    return fact("log-broken", why=words(str(why).rstrip(".")))


def failed(name: str, error: Exception) -> Fact:
    """State that the program itself fails on a log."""
    what = words(f"{type(error).__name__}: {error}")
    return fact("log-fails", log=log_value(name), error=what)


def judge_one(shared: FlightWork, job: Job) -> LogOutcome:
    """Judge one track; whatever happens in here costs its logs alone."""
    lead = job.looks[0]
    if lead.ready is None:
        return LogOutcome(summary=lead.summary, identified=None, matters=lead.matters)
    try:
        return _outcome(shared, job)
    except Exception as error:  # noqa: BLE001 - a fault of ours must not stop the event
        own = lead.summary
        says = failed(own.name, error)
        broken = _broken(shared, own.name, own.sha256, says, own.pilot)
        return LogOutcome(
            summary=broken.summary, identified=None, matters=broken.matters
        )


def read(shared: FlightWork, log: LogFile, clock_s: float = 0.0) -> Track:
    """Read and clean a log, its times moved; raises InputError."""
    if log.problem:
        allowed = "a readable log of a sensible size"
        raise InputError(
            [Fault(where=log.blob.name, found=log.problem, allowed=allowed)]
        )
    track = read_log(
        log.blob,
        near_date=shared.day,
        time_zone=shared.time_zone,
        periods=_spans(shared),
    )
    if clock_s:
        track = track.moved(clock_s)
    return clean(track, near_s=(shared.hours.start_s + shared.hours.end_s) / 2)


def _broken(
    shared: FlightWork, name: str, sha256: str, says: Fact, pilot: int | None
) -> FirstLook:
    warning = Matter(
        kind=matters.LOG_BROKEN,
        flight=shared.flight,
        pilots=about(pilot),
        says=says,
    )
    summary = LogSummary(name=name, sha256=sha256, pilot=pilot, fixes=0, notes=(says,))
    return FirstLook(summary=summary, matters=(warning,))


def ready_of(shared: FlightWork, track: Track) -> Ready:
    """Make a cleaned log ready but for the air: plane, phases, shape."""
    return make_ready(
        track,
        plane=shared.site.plane,
        ground=shared.site.ground,
        qnh_hpa=shared.qnh_hpa,
        temperature_c=shared.temperature_c,
        ground_elevation_m=shared.ground_elevation_m,
        terrain_sigma_m=shared.terrain_sigma_m,
        wanted=wanted_of(shared),
    )


def _spans(shared: FlightWork) -> Spans:
    return tuple((period.start_s, period.end_s) for period in shared.periods)


def wanted_of(shared: FlightWork) -> Wanted:
    """Say which flight of a log is asked for."""
    zone = ZoneInfo(shared.time_zone)
    start = datetime.combine(shared.day, time(), zone)
    end = datetime.combine(shared.day + timedelta(days=1), time(), zone)
    return Wanted(
        periods=_spans(shared),
        day=(start.timestamp(), end.timestamp()),
    )


OFFSETS_EVERY_S = 1800.0


def zone_offsets(time_zone: str, hours: Period) -> tuple[float, ...]:
    """Return how far a zone lies from UTC, from first to last.

    What the zone's name means is written in the computer's own tables.
    """
    zone = ZoneInfo(time_zone)
    times = np.arange(hours.start_s, hours.end_s + OFFSETS_EVERY_S, OFFSETS_EVERY_S)
    offsets = (datetime.fromtimestamp(t, zone).utcoffset() for t in times.tolist())
    return tuple(o.total_seconds() for o in offsets if o is not None)


def fly(
    readies: Sequence[Ready], airs: Sequence[Air | None], pilot: int
) -> tuple[Flown, tuple[Flown, ...]]:
    """Return the track of several logs, the leading one first, and each by itself."""
    flown = tuple(
        flown_in(ready, pilot, air) for ready, air in zip(readies, airs, strict=True)
    )
    return joined(flown), flown


def fly_again(
    readies: Sequence[Ready], airs: Sequence[Air | None], pilot: int
) -> Flown:
    """Return the track of several logs once more, to the last bit as it was judged."""
    with one_thread():
        return fly(readies, airs, pilot)[0]


def _outcome(shared: FlightWork, job: Job) -> LogOutcome:
    whose = job.looks[0].identified
    pilot = whose.pilot if whose is not None else None
    readies = [look.ready for look in job.looks if look.ready is not None]
    flown, each = fly(readies, job.airs, pilot or 0)
    summaries = [
        _seen(look.summary, own, air)
        for look, own, air in zip(job.looks, each, job.airs, strict=True)
    ]
    repaired = [matter for look in job.looks for matter in look.matters]
    known = any(p.number == pilot for p in shared.pilots)
    if pilot is None or not known or not job.counts:
        return LogOutcome(
            summary=summaries[0], identified=whose, matters=tuple(repaired)
        )
    told = [*repaired, *_left_out(shared, flown), *disputes(flown, shared.flight)]
    findings: list[Finding] = []
    measured = {}
    leading = leading_task(shared)
    read = [note for one in summaries for note in one.notes]
    doubts = {f"repair-{kind}" for kind in DOUBTING}
    for task in shared.tasks:
        if task.state is TaskState.PLANNED:
            continue
        about = replace(
            circumstances(shared, task, pilot, leads=task is leading),
            dated=not any(note.kind == "repair-date-assumed" for note in read),
            doubts=tuple(note for note in read if note.kind in doubts),
        )
        seen, noted = run_checks(flown, about)
        findings += seen
        told += noted
        measured[task.number] = measure(evidence(shared, task, pilot, flown))
    return LogOutcome(
        summary=summaries[0],
        joined=tuple(summaries[1:]),
        identified=whose,
        findings=doubted(
            undisputed(findings, flown),
            told,
            _noted(shared, pilot),
            sigma_s=max(look.summary.clock_sigma_s for look in job.looks),
        ),
        matters=tuple(told),
        measured=measured,
        drift=drift_of(flown),
        aloft=Aloft.of(flown, course=len(readies) > 1),
        trail=trail_of(flown),
    )


def _noted(shared: FlightWork, pilot: int) -> set[float]:
    """Return the times that people noted with a pilot's marks."""
    own = (shared.own.get((task.number, pilot), NOTHING) for task in shared.tasks)
    return {
        keying.noted_s
        for evidence_of_task in own
        for keying in evidence_of_task.keyings.values()
        if keying.noted_s is not None
    }


def _left_out(shared: FlightWork, flown: Flown) -> tuple[Matter, ...]:
    """Tell of other flights, rides and tethering in the log."""
    if not flown.left_out:
        return ()
    parts = several(
        inner(
            fact(
                "log-part",
                what=term(f"part-{part.part}"),
                start=moment(part.start_s),
                end=moment(part.end_s),
            )
        )
        for part in flown.left_out
    )
    says = fact("log-left-out", log=log_value(flown.log), parts=parts)
    return (
        Matter(
            kind=matters.LOG_LEFT_OUT,
            flight=shared.flight,
            pilots=(flown.pilot,),
            says=says,
        ),
    )


def leading_task(shared: FlightWork) -> Task | None:
    """Return the task with which checks of the flight as a whole run."""
    flown_tasks = [t for t in shared.tasks if t.state is TaskState.FLOWN]
    return next(iter(flown_tasks or shared.tasks), None)


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
        others=shared.others,
    )


def evidence(
    shared: FlightWork, task: Task, pilot: int, flown: Flown | None
) -> Evidence:
    """Put together all that bears on a pilot's result in a task."""
    own = shared.own.get((task.number, pilot), NOTHING)
    return Evidence(
        task=task,
        book=shared.books[task.number],
        site=shared.site.standing(task.number, own.first_s),
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


def _repaired(shared: FlightWork, track: Track) -> tuple[Matter, ...]:
    """Tell what was left out of a log or put right in it."""
    if not track.repairs:
        return ()
    return (
        Matter(
            kind=matters.LOG_REPAIRED,
            flight=shared.flight,
            says=fact(
                "log-repaired",
                log=log_value(track.name),
                repairs=listed(repair.says for repair in track.repairs),
            ),
        ),
    )


def _summary(track: Track) -> LogSummary:
    return LogSummary(
        name=track.name,
        sha256=track.sha256,
        pilot=None,
        fixes=len(track),
        notes=tuple(repair.says for repair in track.repairs),
    )


def _seen(summary: LogSummary, flown: Flown, air: Air | None) -> LogSummary:
    """Fill in what a log's flight shows."""
    launch, landing = flown.launch, flown.landing
    heights = flown.height_m[flown.height_m == flown.height_m]  # without NaN
    return replace(
        summary,
        launch_s=_at(flown.time_s, launch),
        launch_lat_deg=_at(flown.lat_deg, launch),
        launch_lon_deg=_at(flown.lon_deg, launch),
        landing_s=_at(flown.time_s, landing),
        landing_lat_deg=_at(flown.lat_deg, landing),
        landing_lon_deg=_at(flown.lon_deg, landing),
        highest_m=float(heights.max()) if heights.size else None,
        anchored=flown.anchored,
        air=air,
    )


def _at(values: Array, index: int | None) -> float | None:
    return None if index is None or index >= len(values) else float(values[index])
