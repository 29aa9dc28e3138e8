"""What the engine sees in the evidence: findings."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from scorer.event.model import PenaltyUnit
from scorer.facts import Fact, fact, length, plain, points


class FindingKind(StrEnum):
    """Kinds of findings, as written in rulings and in results.json."""

    FLOOR = "floor"
    GROUND_CONTACT = "ground-contact"
    LAUNCH_DISTANCE = "launch-distance"
    LAUNCH_PERIOD = "launch-period"
    LAUNCH_AREA = "launch-area"
    SCORING_PERIOD = "scoring-period"
    AIRSPACE = "airspace"
    BOUNDARY = "boundary"
    NIGHT = "night"
    LATE_DECLARATION = "late-declaration"


class Verdict(StrEnum):
    """How sure the engine is; missing data is never `certain`."""

    CLEAR = "clear"
    POSSIBLE = "possible"
    CERTAIN = "certain"


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """A penalty put in numbers."""

    amount: float
    """Points or metres; 0 with `no result` and `disqualified`."""
    unit: PenaltyUnit

    @property
    def says(self) -> Fact:
        """State it: so many task points, metres of result, no result."""
        kind = f"amount-{self.unit.name.casefold().replace('_', '-')}"
        if self.unit in {PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS}:
            return fact(kind, points=points(self.amount))
        if self.unit is PenaltyUnit.METRES:
            return fact(kind, length=length(self.amount))
        return fact(kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing seen in the evidence, fit to print, to rule on and to store."""

    kind: FindingKind
    flight: str
    task: int
    pilot: int
    verdict: Verdict
    probability: float
    """That the limit was really broken, 0 to 1."""
    from_s: float
    """POSIX seconds, UTC."""
    to_s: float
    """POSIX seconds, UTC."""
    measured: float | None
    """The decisive value, in `unit`; None when an official reported it without one."""
    limit: float | None
    unit: str
    """`m`, `s`, ..."""
    excess: float
    """How far beyond the limit, always positive for a breach, in `unit`."""
    duration_s: float
    sigma: float
    """One sigma of `measured`, in `unit`."""
    lat_deg: float | None = None
    lon_deg: float | None = None
    evidence: str = ""
    """Name of the log or report."""
    sha256: str = ""
    """Hash of the log; empty for a report."""
    penalty: Amount | None = None
    """What the rule book asks for; None = the book sets none and people must decide."""
    also: tuple[Amount, ...] = ()
    """Further penalties on the same act."""
    sums: tuple[Fact, ...] = ()
    """How `penalty` and each of `also` come about, in figures."""
    rule: Fact | None = None
    """Where the limit comes from, with its source."""
    says: Fact = plain("")
    """What was seen, with values; the sentence is made of it."""
    details: Mapping[str, float | str] = field(default_factory=dict)
    """Numbers of the check beyond these, by name with unit."""

    @property
    def id(self) -> str:
        """Identifier, stable while the evidence is: used in rulings.

        `kind:task:pilot:SSSSS`, the seconds of the UTC day at its start; two findings of
        one kind never start in the same second, since checks merge what touches.
        """
        return f"{self.kind}:{self.task}:{self.pilot}:{int(self.from_s) % 86400:05d}"
