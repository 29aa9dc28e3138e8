"""What every check is given, and the list of all checks."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scorer.checks.charge import charge, sums
from scorer.event.finding import Finding, FindingKind, Verdict
from scorer.event.matter import Matter
from scorer.event.model import Period, Place, Task, Units
from scorer.event.rulebook import Penalties, RuleBook
from scorer.facts import Fact
from scorer.geodesy.site import Site
from scorer.tracks.flown import Flown
from scorer.tracks.height import LOGGER_ABOVE_GROUND_M

Array = NDArray[np.float64]

CERTAIN_FROM = 0.99
"""Probability from which a breach is called certain."""
POSSIBLE_FROM = 0.03
"""Probability under which a breach is not brought up at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedMark:
    """A pilot's mark of one task in the event's plane."""

    task: int
    pilot: int
    mark: str = ""
    east_m: float
    north_m: float
    sigma_m: float = 0.0
    """One sigma of the place."""
    within_m: float = 0.0
    """The mark lies this far from the place, in a direction nobody measured: a taped
    distance from a target, without a bearing."""
    time_s: float | None = None
    """When the marker fell, where somebody noted it or the logger did."""
    aim: tuple[float, float] | None = None
    """East and north of the target it was thrown at; None = none, or nobody knows."""
    aimed_m: float | None = None
    """How far from that target it lies."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Other:
    """Another flight of the event, as far as a log may be of it."""

    id: str
    day: date
    periods: tuple[Period, ...]
    """Launch and scoring periods of its tasks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Circumstances:
    """What the checks of one task need to know beside the track.  Picklable."""

    task: Task
    book: RuleBook
    site: Site
    date: date
    """Local date of the flight."""
    periods: tuple[Period, ...] = ()
    """The launch and scoring periods of all tasks of the flight."""
    remarks: bool = False
    """Whether what officials wrote beside their reports may be published."""
    drop_s: float | None = None
    """When the pilot's marker fell; None = not known."""
    marks: tuple[PlacedMark, ...] = ()
    """This pilot's marks in this task."""
    prohibited: tuple[Place, ...] = ()
    """All prohibited airspace of the event."""
    time_zone: str = "UTC"
    """IANA name, of the local date."""
    tasks: tuple[Task, ...] = ()
    """All tasks of the flight in their order, this one included; empty = this one alone."""
    others: tuple[Other, ...] = ()
    """The event's other flights."""
    dated: bool = True
    """The log says of which day it is; else it was dated by the flight."""
    doubts: tuple[Fact, ...] = ()
    """What was put right in the log and leaves its times in doubt."""
    leads: bool = True
    """This is the first task of its flight: checks of the flight as a whole run here."""

    @property
    def units(self) -> Units:
        """In which people at the event read."""
        return self.site.units


class Scope(StrEnum):
    """How often a check runs."""

    TASK = "task"
    FLIGHT = "flight"
    """Once a flight, together with the flight's first task."""


class Seen(NamedTuple):
    """What a check saw."""

    findings: tuple[Finding, ...] = ()
    matters: tuple[Matter, ...] = ()


CheckFunction = Callable[[Flown, Circumstances], Seen]


class Check(NamedTuple):
    """One check of a log: a row of the registry."""

    name: str
    scope: Scope
    run: CheckFunction


_CHECKS: dict[str, Check] = {}


def check(
    name: str, scope: Scope = Scope.TASK
) -> Callable[[CheckFunction], CheckFunction]:
    """Declare the function below as a check that runs on every log.

    Raises
    ------
    ValueError
        Another check has this name.
    """

    def declare(run: CheckFunction) -> CheckFunction:
        if name in _CHECKS:
            raise ValueError(f"two checks are named {name}")
        _CHECKS[name] = Check(name, scope, run)
        return run

    return declare


def declared_checks() -> tuple[Check, ...]:
    """Return all declared checks by name, whichever was loaded first."""
    return tuple(_CHECKS[name] for name in sorted(_CHECKS))


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingNumbers:
    """The numbers of a finding, before it is put into a Finding."""

    kind: FindingKind
    verdict: Verdict
    probability: float
    from_s: float
    to_s: float
    measured: float | None
    limit: float | None
    excess: float
    sigma: float = 0.0
    at: int
    """Index of the fix to show on the map."""
    rule: Fact
    says: Fact
    details: Mapping[str, float | str] = field(default_factory=dict)


def finding_of(
    measure: FindingNumbers,
    penalties: Penalties,
    flown: Flown | None,
    about: Circumstances,
    *,
    pilot: int = 0,
) -> Finding:
    """Fill in pilot, task, evidence and penalty; a clear finding has no penalty.

    Without a log (`flown` None) `pilot` says whose it is, and it has no place.
    """
    due = penalties if measure.verdict is not Verdict.CLEAR else ()
    amounts = charge(due, measure.excess)
    return Finding(
        kind=measure.kind,
        flight=about.task.flight,
        task=about.task.number,
        pilot=pilot if flown is None else flown.pilot,
        verdict=measure.verdict,
        probability=measure.probability,
        from_s=measure.from_s,
        to_s=measure.to_s,
        measured=_known(measure.measured),
        limit=measure.limit,
        unit=measure.kind.unit,
        excess=measure.excess,
        duration_s=measure.to_s - measure.from_s,
        sigma=_known(measure.sigma) or 0.0,
        lat_deg=None if flown is None else float(flown.lat_deg[measure.at]),
        lon_deg=None if flown is None else float(flown.lon_deg[measure.at]),
        evidence="" if flown is None else flown.log,
        sha256="" if flown is None else flown.sha256,
        penalty=amounts[0] if amounts else None,
        also=amounts[1:],
        sums=sums(due, measure.excess),
        rule=measure.rule,
        says=measure.says,
        details=measure.details,
    )


def _known(value: float | None) -> float | None:
    """Return a value, or None where the log or the terrain does not tell it."""
    return None if value is None or not math.isfinite(value) else value


def verdict_of(probability: float, *, sure: bool = True) -> Verdict:
    """Return the verdict on a breach; `sure` = False keeps it from being certain."""
    if probability < POSSIBLE_FROM:
        return Verdict.CLEAR
    if probability >= CERTAIN_FROM and sure:
        return Verdict.CERTAIN
    return Verdict.POSSIBLE


def in_air(flown: Flown) -> slice:
    """Return the fixes from launch to landing; the log's ends where it shows neither."""
    start = 0 if flown.launch is None else flown.launch
    return slice(start, len(flown) if flown.landing is None else flown.landing)


def basket_m(flown: Flown) -> Array:
    """Return the height of the basket floor over the terrain, (N,).

    Rules speak of the basket, and heights are the logger's: one stands at
    `LOGGER_ABOVE_GROUND_M` while the other is on the ground.
    """
    return flown.height_m - LOGGER_ABOVE_GROUND_M


def dropped_s(flown: Flown, about: Circumstances) -> float | None:
    """Return when the pilot's marker fell, as far as anybody knows.

    The stated time; else the time noted with a mark; else when the track passes nearest
    to the last mark, if it comes within a throw of it.  None = cannot be told.
    """
    if about.drop_s is not None:
        return about.drop_s
    noted = [mark.time_s for mark in about.marks if mark.time_s is not None]
    if noted:
        return max(noted)
    passes = [_pass_s(flown, mark, about.book.tracks.throw_m) for mark in about.marks]
    return max((p for p in passes if p is not None), default=None)


def _pass_s(flown: Flown, mark: PlacedMark, throw_m: float) -> float | None:
    air = in_air(flown)
    away = np.hypot(flown.east_m[air] - mark.east_m, flown.north_m[air] - mark.north_m)
    if not np.isfinite(away).any():
        return None
    nearest = int(np.nanargmin(away))
    if away[nearest] > throw_m + mark.within_m:
        return None
    return float(flown.time_s[air][nearest])
