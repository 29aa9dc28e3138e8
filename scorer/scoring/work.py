"""The work that one flight log asks for: done for each alone, in any process.

A worker is given what all logs of a flight share once, and a batch of logs.  What comes
back is small: findings, measurements and sums, never the fixes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from scorer.checks.base import Circumstances, PlacedMark
from scorer.checks.mark_track import Approach, approaches
from scorer.checks.run import run_checks
from scorer.checks.winds import Drift, drift_of
from scorer.errors import ScorerError
from scorer.event.finding import Finding, WarningKind, Warning_
from scorer.event.model import (
    Declaration,
    Keying,
    LogFile,
    Period,
    Pilot,
    Place,
    Report,
    Task,
)
from scorer.event.rulebook import RuleBook
from scorer.geodesy.site import Site
from scorer.geodesy.survey import Mark
from scorer.scoring.results import LogSummary
from scorer.tasks.base import Evidence, Measured
from scorer.tasks.measure import measure
from scorer.tracks.clean import clean
from scorer.tracks.flown import Flown
from scorer.tracks.match import Identified, identify
from scorer.tracks.prepare import prepare
from scorer.tracks.read import read_log
from scorer.tracks.track import Track


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnEvidence:
    """What officials set down about one pilot in one task."""

    marks: Mapping[str, Mark] = field(default_factory=dict)
    log_keyings: tuple[Keying, ...] = ()
    no_mark: bool = False
    declarations: tuple[Declaration, ...] = ()
    reports: tuple[Report, ...] = ()
    placed: tuple[PlacedMark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightWork:
    """What all logs of one flight share."""

    flight: str
    day: date
    time_zone: str
    qnh_hpa: float | None
    temperature_c: float | None
    ground_elevation_m: float | None
    site: Site
    tasks: tuple[Task, ...]
    books: Mapping[int, RuleBook]
    """By task number."""
    pilots: tuple[Pilot, ...]
    own: Mapping[tuple[int, int], OwnEvidence]
    """By task and pilot."""
    marks: tuple[PlacedMark, ...]
    """All marks of all pilots in this flight that have a place."""
    prohibited: tuple[Place, ...]
    periods: tuple[Period, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LogOutcome:
    """What came of one log."""

    summary: LogSummary
    identified: Identified | None
    """Whose it is; None when the log could not be read."""
    findings: tuple[Finding, ...] = ()
    warnings: tuple[Warning_, ...] = ()
    measured: Mapping[int, Measured] = field(default_factory=dict)
    """By task number."""
    drift: Drift | None = None
    approaches: tuple[Approach, ...] = ()
    """How near the track came to each mark of the flight."""
