"""What the engine sees in the evidence: findings, and the registry of their kinds.

A kind is declared once, beside the check that finds it; whoever prints, draws or stores
findings asks the kind.  Its titles stand in the catalogue: `finding-NAME` as a heading
and `term-finding-NAME` within a sentence.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from functools import cache
from math import floor
from typing import NamedTuple

from scorer.event.model import PenaltyUnit, ReportKind
from scorer.event.place_kinds import PlaceKind
from scorer.event.rulebook import SECTIONS
from scorer.facts import Fact, fact, inner, length, points


class Drawing(StrEnum):
    """How a finding is drawn, beside a map of where it was."""

    HEIGHTS = "heights"
    """A height profile with the limit, which is a height over the ground."""
    ALTITUDE = "altitude"
    """Altitude over sea level against the walls, floor and ceiling of an airspace."""
    PROFILE = "profile"
    """A height profile; the limit is none."""
    MAP = "map"
    """The map alone: heights say nothing about it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingKind:
    """One kind of finding: a row of the registry."""

    name: str
    """As in rulings and in results.json; never changes."""
    rule: str = ""
    """Key of the rule that is broken, as `floor.height`."""
    unit: str = "m"
    """Of what is measured: `m` or `s`."""
    picture: Drawing = Drawing.PROFILE
    around: PlaceKind | None = None
    """Places of this kind are put into the map where the finding has no place itself."""
    reported: ReportKind | None = None
    """What officials report of this kind."""

    @property
    def section(self) -> str:
        """Section of the rule book that it falls under; empty where it has none."""
        return self.rule.partition(".")[0]

    def __str__(self) -> str:
        return self.name

    def __reduce__(self) -> tuple[object, ...]:
        """Come back from another process as the one and same kind."""
        return kind_named, (self.name,)


_KINDS: dict[str, FindingKind] = {}


def finding_kind(
    name: str,
    *,
    rule: str = "",
    unit: str = "m",
    picture: Drawing = Drawing.PROFILE,
    around: PlaceKind | None = None,
    reported: ReportKind | None = None,
) -> FindingKind:
    """Declare a kind of finding, beside the check that finds it.

    Raises
    ------
    ValueError
        Another kind has this name.
    """
    kind = FindingKind(
        name=name,
        rule=rule,
        unit=unit,
        picture=picture,
        around=around,
        reported=reported,
    )
    if _KINDS.setdefault(name, kind) != kind:
        raise ValueError(f"two kinds of finding are named {name}")
    finding_kinds.cache_clear()
    return _KINDS[name]


@cache
def finding_kinds() -> tuple[FindingKind, ...]:
    """Return all declared kinds, in the order of the rule book's sections, then by name.

    The order does not hang on which check was loaded first.
    """
    sections = {section: i for i, section in enumerate(SECTIONS)}
    return tuple(
        sorted(
            _KINDS.values(),
            key=lambda kind: (sections.get(kind.section, len(sections)), kind.name),
        )
    )


def kind_named(name: str) -> FindingKind:
    """Return a kind by its name; KeyError where none has it."""
    return _KINDS[name]


class Verdict(StrEnum):
    """How sure the engine is; missing data is never `certain`."""

    CLEAR = "clear"
    POSSIBLE = "possible"
    CERTAIN = "certain"


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """A penalty put in numbers."""

    amount: float
    """Points or metres; 0 with `no result` and `disqualified`, less than 0 where points
    are given.
    """
    unit: PenaltyUnit

    @property
    def says(self) -> Fact:
        """State it: so many task points, metres of result, no result."""
        if self.amount < 0:
            given = replace(self, amount=-self.amount)
            return fact("amount-given", amount=inner(given.says))
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
    """POSIX seconds, UTC; 0 where nobody noted a time and no log shows it."""
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
    says: Fact
    """What was seen, with values; the sentence is made of it."""
    details: Mapping[str, float | str] = field(default_factory=dict)
    """Numbers of the check beyond these, by name with unit."""

    @property
    def id(self) -> str:
        """Identifier, stable while the evidence and the engine are: used in rulings.

        `kind:task:pilot:YYYYMMDDThhmmssZ`, its start in UTC; two findings of one kind
        never start in the same second, since checks merge what touches.
        """
        start = _moment(floor(self.from_s))
        return f"{self.kind}:{self.task}:{self.pilot}:{start:%Y%m%dT%H%M%SZ}"

    @property
    def ruled_on(self) -> dict[str, str]:
        """Columns of a ruling that keep when and what it was made on."""
        known = self.measured is not None and self.unit in {"m", "s"}
        start, end = (
            f"{_moment(round(time_s)):{_WRITTEN}}" if self.from_s else ""
            for time_s in (self.from_s, self.to_s)
        )
        return {
            "from": start,
            "to": end,
            "measured": f"{self.measured:.2f} {self.unit}" if known else "",
        }


DAY_S = 86_400
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_WRITTEN = "%Y-%m-%dT%H:%M:%SZ"
_ID = re.compile(r"([a-z-]+):([0-9]{1,9}):([0-9]{1,9}):([0-9]{8}T[0-9]{6}Z|[0-9]{5})")


def _moment(time_s: int) -> datetime:
    """Return a moment, UTC; before 1970 too, on every system."""
    return _EPOCH + timedelta(seconds=time_s)


class FindingName(NamedTuple):
    """What an identifier says.  Those of version 0.1.0 end in the second of the day."""

    kind: str
    task: int
    pilot: int
    start_s: int
    """POSIX seconds; the second of the UTC day where `dated` is false."""
    dated: bool

    @property
    def dateless(self) -> str:
        """The identifier as version 0.1.0 wrote it."""
        return f"{self.kind}:{self.task}:{self.pilot}:{self.start_s % DAY_S:05d}"


def read_id(text: str) -> FindingName | None:
    """Take an identifier apart; None = it is none."""
    found = _ID.fullmatch(text)
    if found is None:
        return None
    kind, task, pilot, at = found.groups()
    if "T" not in at:
        return FindingName(kind, int(task), int(pilot), int(at), dated=False)
    try:
        start = datetime.strptime(at, "%Y%m%dT%H%M%S%z")
    except ValueError:
        return None
    seconds = int((start - _EPOCH).total_seconds())
    return FindingName(kind, int(task), int(pilot), seconds, dated=True)


def dateless(text: str) -> str:
    """Return a text with its identifiers as version 0.1.0 wrote them, for comparing."""

    def old(found: re.Match[str]) -> str:
        named = read_id(found.group())
        return named.dateless if named else found.group()

    return _ID.sub(old, text)
