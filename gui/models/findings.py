"""Infringements as a list: to decide, on hold, decided; those of one cause in one row."""

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum

from gui.models.results import sheet_of
from gui.parts.factrow import Told
from gui.snapshot import ScoredSnapshot
from scorer.event.finding import Amount, Finding, Verdict
from scorer.event.model import Event, PenaltyUnit, Report
from scorer.facts import (
    Fact,
    Measure,
    Value,
    count,
    fact,
    inner,
    listed,
    moment,
    speed,
    term,
    words,
)
from scorer.scoring import told
from scorer.scoring.results import RuledFinding, RulingState
from scorer.sheets.breakdown import limit_words
from scorer.sheets.profiles import touches_ground
from scorer.sheets.sheet import Sheet

HARSHEST = (
    PenaltyUnit.DISQUALIFIED,
    PenaltyUnit.NO_RESULT,
    PenaltyUnit.EVENT_POINTS,
    PenaltyUnit.TASK_POINTS,
    PenaltyUnit.METRES,
)
TOGETHER = 4
"""So many undecided launches of one task at a wrong time or place are one row: what the
launch area did to one it did to all.  Our choice."""
SHARED = frozenset({"launch", "scoring", "night"})
"""Sections of the rules whose breaches have one cause for many."""


class FindingGroup(IntEnum):
    """How far an infringement has come."""

    TO_DECIDE = 0
    ON_HOLD = 1
    DECIDED = 2
    LET_PASS = 3
    """The rules let it pass: nobody need decide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRow:
    """One infringement in words, or several of one cause."""

    ruled: RuledFinding
    members: tuple[RuledFinding, ...] = ()
    """The others it stands for, this one among them; empty = itself alone."""
    weight: tuple[float, ...]
    """Smaller = matters more."""
    group: FindingGroup
    number: str
    name: str
    second: str
    """In short what it is, or what was decided."""
    sure: str

    @property
    def open(self) -> bool:
        """Tell whether nobody has decided it, and somebody should."""
        return self.group in {FindingGroup.TO_DECIDE, FindingGroup.ON_HOLD}

    @property
    def each(self) -> tuple[RuledFinding, ...]:
        """All infringements it stands for."""
        return self.members or (self.ruled,)

    @property
    def key(self) -> str:
        """What names it from one score to the next."""
        mine = self.ruled.finding
        return f"{mine.kind}:{mine.task}:all" if self.members else mine.id


def finding_rows(
    scored: ScoredSnapshot | None,
    task: int | None = None,
    before: Iterable[FindingRow] = (),
) -> list[FindingRow]:
    """List all infringements, of one task if given, what matters most first.

    Rows `before`, in the same voice, are taken over where all in them is the very same.
    """
    sheet = sheet_of(scored)
    if sheet is None:
        return []
    found = [r for r in sheet.results.findings if task in {None, r.finding.task}]
    known = {_same(row.each): row for row in before}
    rows = [
        known.get(_same(several)) or _row(sheet, several)
        for several in _together(found)
    ]
    return sorted(rows, key=lambda row: (row.group, row.weight))


def _same(several: Iterable[RuledFinding]) -> tuple[int, ...]:
    return tuple(map(id, several))


def group_of(ruled: RuledFinding) -> FindingGroup:
    """Tell how far an infringement has come."""
    if ruled.state is RulingState.HOLD:
        return FindingGroup.ON_HOLD
    if ruled.state is not RulingState.UNRULED:
        return FindingGroup.DECIDED
    clear = ruled.finding.verdict is Verdict.CLEAR
    return FindingGroup.LET_PASS if clear else FindingGroup.TO_DECIDE


def _together(found: Iterable[RuledFinding]) -> list[tuple[RuledFinding, ...]]:
    """Put undecided infringements of one cause together."""
    alike: dict[object, list[RuledFinding]] = defaultdict(list)
    for ruled in found:
        own = ruled.finding
        shared = (
            group_of(ruled) is FindingGroup.TO_DECIDE and own.kind.section in SHARED
        )
        alike[(own.kind.name, own.task) if shared else own.id].append(ruled)
    rows: list[tuple[RuledFinding, ...]] = []
    for several in alike.values():
        pilots = {ruled.finding.pilot for ruled in several}
        many = len(pilots) >= TOGETHER
        rows += [tuple(several)] if many else [(ruled,) for ruled in several]
    return rows


def weight_of(ruled: RuledFinding) -> tuple[float, ...]:
    """Order infringements: open, certain, costly, probable ones first."""
    finding = ruled.finding
    verdicts = (Verdict.CERTAIN, Verdict.POSSIBLE, Verdict.CLEAR)
    return (
        float(not ruled.state.is_open),
        float(verdicts.index(finding.verdict)),
        *_cost(finding.penalty),
        -finding.probability,
        float(finding.task),
        float(finding.pilot),
    )


def _cost(amount: Amount | None) -> tuple[float, float]:
    if amount is None:
        return float(len(HARSHEST)), 0.0
    return float(HARSHEST.index(amount.unit)), -amount.amount


def _row(sheet: Sheet, several: Sequence[RuledFinding]) -> FindingRow:
    ruled = min(several, key=weight_of)
    finding, voice = ruled.finding, sheet.voice
    single = len(several) == 1
    name = sheet.name(finding.pilot)
    if not single:
        name = voice.say(fact("pilots-together", pilots=count(len(several))))
    short = short_of(finding) if single else _plain(finding)
    return FindingRow(
        ruled=ruled,
        members=() if single else tuple(several),
        weight=weight_of(ruled),
        group=group_of(ruled),
        number=str(finding.pilot) if single else "",
        name=name,
        second=voice.say(_second(ruled, short)),
        sure=sure_of(sheet, finding),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """What stands beside the list about the chosen row."""

    title: str
    """What it is, after the pilot's name."""
    asks: str
    """What the rules ask for; empty = nothing by themselves."""
    how: str = ""
    """The same with how it comes about."""
    facts: tuple[Told, ...]


def detail_of(scored: ScoredSnapshot, row: FindingRow) -> Detail | None:
    """Say all that a row is decided on; None without results."""
    sheet = sheet_of(scored)
    if sheet is None:
        return None
    finding = row.ruled.finding
    if row.members:
        title = told.finding_title(sheet.voice, finding)
        return Detail(title=title, asks="", facts=_facts_of_many(sheet, row.members))
    return Detail(
        title=sheet.voice.say(short_of(finding)),
        asks=told.costs(sheet.voice, finding),
        how=told.asked_amounts(sheet.voice, finding),
        facts=facts_of(sheet, row.ruled),
    )


def sure_of(sheet: Sheet, finding: Finding) -> str:
    """Say how sure an infringement is: in percent, or that it is certain."""
    if finding.probability >= 1.0:
        return sheet.voice.term(f"verdict-{Verdict.CERTAIN}")
    return sheet.voice.chance(finding.probability)


def _what(finding: Finding) -> Value:
    return term(f"finding-{finding.kind}")


def short_of(finding: Finding) -> Fact:
    """State in a few words what an infringement is."""
    if finding.kind.name == "floor" and finding.excess > 0:
        depth = Value(_measure_of(finding), finding.excess)
        return fact("short-floor", depth=depth)
    if finding.kind.name == "floor":
        return fact("short-near-floor")
    if finding.excess > 0 and finding.limit is not None:
        beyond = Value(_measure_of(finding), finding.excess)
        return fact("short-beyond", what=_what(finding), beyond=beyond)
    return _plain(finding)


_CLOCK = re.compile(r"\b\d\d:\d\d\b")
"""The time of day; a date may stand before it, seconds or an offset behind."""


def _plain(finding: Finding) -> Fact:
    return fact("short-plain", what=_what(finding))


def _measure_of(finding: Finding) -> Measure:
    return Measure.HEIGHT if finding.unit == "m" else Measure.SPAN


def _second(ruled: RuledFinding, short: Fact) -> Fact:
    group = group_of(ruled)
    if group in {FindingGroup.TO_DECIDE, FindingGroup.LET_PASS}:
        return short
    if group is FindingGroup.ON_HOLD:
        at = ruled.ruling.at if ruled.ruling else ""
        clock = _CLOCK.search(at)
        return fact("short-held", since=words(clock[0] if clock else at or "–"))
    decided = term(f"ruling-{ruled.state}")
    return fact("short-decided", decision=decided, what=inner(short))


def facts_of(sheet: Sheet, ruled: RuledFinding) -> tuple[Told, ...]:
    """Return the five facts on which an infringement is decided."""
    finding = ruled.finding
    found = (
        _measured(sheet, finding),
        _beyond(sheet, finding),
        Told(
            sheet.word("fact-how-sure"),
            sure_of(sheet, finding),
            sheet.voice.word(_charged(ruled)),
        ),
        _height(sheet, finding),
        _observer(sheet, finding),
    )
    if ruled.state is RulingState.UNRULED:
        return found
    decided = Told(sheet.word("fact-decision"), *_decided(sheet, ruled))
    return (*found[:4], decided)


def _decided(sheet: Sheet, ruled: RuledFinding) -> tuple[str, str]:
    """Return what was decided, and who said so and why; what counts stands beside it."""
    return told.decision_word(sheet.voice, ruled.state), told.given_by(
        sheet.voice, ruled
    )


def _charged(ruled: RuledFinding) -> str:
    counted = any(charge.counts for charge in ruled.charges)
    if ruled.state in {RulingState.UNRULED, RulingState.HOLD}:
        return "fact-charged-now" if counted else "fact-not-charged"
    return "fact-charged-decided" if counted else "fact-charged-nothing"


def _measured(sheet: Sheet, finding: Finding) -> Told:
    low = finding.kind.name == "floor"
    caption = sheet.word("fact-lowest" if low else "fact-measured")
    own = None if finding.rule is None else told.paragraph(finding.rule)
    limit = limit_words(sheet, finding)
    second = []
    if limit:
        name = "fact-minimum-of" if low else "fact-limit-of"
        second.append(sheet.say(fact(name, limit=words(limit))))
    if own is not None:
        second.append(sheet.voice.value(own))
    measured = told.measured(sheet.voice, finding) or sheet.word("fact-not-measured")
    return Told(caption, measured, ", ".join(second))


def _touch(sheet: Sheet, finding: Finding) -> Told:
    """Return what a touch of the ground did to drift and vertical speed."""
    lost, stop = (
        finding.details.get(name) for name in ("drift_lost_share", "vertical_stop_m_s")
    )
    caption, when = sheet.word("fact-drift-lost"), told.when(sheet.voice, finding)
    if not isinstance(lost, float):
        return Told(sheet.word("fact-when"), when, "")
    percent = round(100.0 * min(max(lost, 0.0), 1.0))
    second = when
    if isinstance(stop, float):
        second = sheet.say(fact("fact-stop", change=speed(abs(stop)), when=words(when)))
    return Told(caption, f"{percent} %", second)


def _beyond(sheet: Sheet, finding: Finding) -> Told:
    if touches_ground(finding):
        return _touch(sheet, finding)
    low = finding.kind.name == "floor"
    caption = sheet.word("fact-too-low" if low else "fact-beyond-limit")
    beyond = told.quantity(sheet.voice, finding.excess, finding.unit)
    if finding.unit == "m" and finding.to_s > finding.from_s and finding.excess > 0:
        lasts = sheet.voice.span(finding.duration_s)
        beyond = sheet.say(fact("fact-for", beyond=words(beyond), lasts=words(lasts)))
    if finding.excess <= 0:
        beyond = sheet.word("fact-nothing-beyond")
    return Told(caption, beyond, told.when(sheet.voice, finding))


def _height(sheet: Sheet, finding: Finding) -> Told:
    caption = sheet.word("fact-height")
    logs = (log for flight in sheet.results.flights for log in flight.logs)
    own = next((log for log in logs if log.sha256 == finding.sha256), None)
    if own is None:
        return Told(caption, sheet.word("fact-no-log"), "")
    if own.anchored:
        return Told(caption, sheet.word("fact-checked"), sheet.word("fact-checked-how"))
    return Told(caption, sheet.word("fact-estimate"), sheet.word("fact-estimate-why"))


def _observer(sheet: Sheet, finding: Finding) -> Told:
    caption = sheet.word("fact-observer")
    reports = list(reports_on(sheet.event, finding))
    if not reports:
        return Told(caption, sheet.word("fact-no-report"), "")
    first = reports[0]
    said = [fact("observer-by", by=words(first.by))] if first.by else []
    if first.time_s is not None:
        said.append(fact("observer-at", at=words(sheet.voice.moment(first.time_s))))
    second = sheet.say(fact("observer-says", parts=listed(map(inner, said))))
    return Told(caption, sheet.word(f"note-{first.kind}"), second if said else "")


def reports_on(event: Event, finding: Finding) -> Iterable[Report]:
    """Yield what officials reported of a pilot's infringement of its kind."""
    for flight in event.flights:
        for report in flight.reports:
            same = (report.task, report.pilot) == (finding.task, finding.pilot)
            if same and report.kind is finding.kind.reported:
                yield report


def _facts_of_many(sheet: Sheet, several: Sequence[RuledFinding]) -> tuple[Told, ...]:
    found = [ruled.finding for ruled in several]
    least = min(found, key=lambda f: f.excess)
    most = max(found, key=lambda f: f.excess)
    both = [told.quantity(sheet.voice, f.excess, f.unit) for f in (least, most)]
    span = sheet.say(fact("fact-from-to", least=words(both[0]), most=words(both[1])))
    when = fact("explain-not-timed")
    if timed := [f for f in found if f.from_s]:
        first, last = min(f.from_s for f in timed), max(f.to_s for f in timed)
        when = fact("explain-from-to", start=moment(first), end=moment(last))
    charged = sum(any(c.counts for c in r.charges) for r in several)
    return (
        Told(sheet.word("fact-pilots"), str(len({f.pilot for f in found})), ""),
        Told(sheet.word("fact-beyond-limit"), span, sheet.say(when)),
        Told(
            sheet.word("fact-charged"),
            str(charged),
            sheet.word("fact-charged-now") if charged else "",
        ),
    )
