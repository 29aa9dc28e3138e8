"""What goes into measuring a task, and what comes out: the shape all task kinds share."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from scorer.event.finding import Finding
from scorer.event.matter import Matter
from scorer.event.model import Declaration, Keying, Place, Report, Task
from scorer.event.rulebook import RuleBook
from scorer.facts import Fact, Step
from scorer.geodesy.mark import Mark
from scorer.geodesy.site import Site
from scorer.tracks.flown import Flown


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """All that bears on one pilot's result in one task."""

    task: Task
    book: RuleBook
    site: Site
    pilot: int
    day: date
    """Local date of the flight; gives times such as `07:10` their day."""
    time_zone: str = "UTC"
    """IANA name."""
    marks: Mapping[str, Mark] = field(default_factory=dict)
    """Agreed marks by role; the role is empty where the task has one mark."""
    keyings: Mapping[str, Keying] = field(default_factory=dict)
    """The agreed keying of each role: gives a mark its time and what it was taped from.
    Those of method `log` have no mark yet; it is made here, from the track."""
    no_mark: bool = False
    """An official keyed that no mark was found."""
    declarations: tuple[Declaration, ...] = ()
    """Of this pilot for this task, in the order given."""
    flown: Flown | None = None
    reports: tuple[Report, ...] = ()
    places: Mapping[str, Place] = field(default_factory=dict)
    """The event's places by name: which are goals, and the levels of airspace."""


class Apart(NamedTuple):
    """Two points apart, as measured: their distance is this vector's length.

    Its errors lie in the plane or in space, so near each other the distance itself has no
    error of one sigma either way: it is never negative, and short ones come out too long.
    """

    vector_m: tuple[float, ...]
    """(east, north) or (east, north, up), shape (2,) or (3,)."""
    covariance_m2: tuple[tuple[float, ...], ...]
    """Of the vector, square metres, shape (2, 2) or (3, 3)."""


class Together(NamedTuple):
    """Several values added up, or their mean: each has an error of its own."""

    share: float
    """What each counts: 1 in a sum."""
    each: tuple["Quantity", ...]


class Quantity(NamedTuple):
    """A value with its uncertainty, in one unit."""

    value: float
    sigma: float
    """One sigma, along the line where it is a distance."""
    apart: Apart | Together | None = None
    """The points it is the distance of, where both are known by their place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What the evidence gives, with every step to it."""

    value: float | None
    """In the kind's unit, unrounded; None = no result (group B)."""
    sigma: float | None = None
    """One sigma of `value`, in the same unit."""
    apart: Apart | Together | None = None
    """The points it is the distance of, where both are known by their place."""
    reason: Fact | None = None
    """Why there is no result."""
    steps: tuple[Step, ...] = ()
    """How the value comes about, in order."""
    matters: tuple[Matter, ...] = ()
    marks: tuple[Mark, ...] = ()
    """The marks that were used, including those taken from the log."""
    times: Mapping[str, float] = field(default_factory=dict)
    """When marks fell by role, POSIX seconds: as entered, or as logged."""
    findings: tuple[Finding, ...] = ()
    """What the evidence of the task itself shows, such as a late declaration."""
