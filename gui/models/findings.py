"""Findings in the order of how much they matter, with what officials made of them."""

from dataclasses import dataclass

from gui.models.table import RIGHT, Column
from gui.snapshot import Scored
from gui.theme import Tone
from scorer.event.finding import Amount, Verdict
from scorer.event.model import PenaltyUnit
from scorer.scoring import told
from scorer.scoring.results import RuledFinding
from scorer.sheets.breakdown import limit_words, ruling_words
from scorer.sheets.sheet import Sheet
from scorer.sheets.stamp import Stamp

HARSHEST = (
    PenaltyUnit.DISQUALIFIED,
    PenaltyUnit.NO_RESULT,
    PenaltyUnit.EVENT_POINTS,
    PenaltyUnit.TASK_POINTS,
    PenaltyUnit.METRES,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRow:
    """One finding in words."""

    ruled: RuledFinding
    weight: tuple[float, ...]
    """Smaller = matters more."""
    name: str
    sure: str
    chance: str
    what: str
    measured: str
    limit: str
    when: str
    penalty: str
    ruling: str

    @property
    def open(self) -> bool:
        """Tell whether nobody has ruled on it, and somebody should."""
        clear = self.ruled.finding.verdict is Verdict.CLEAR
        return self.ruled.state.is_open and not clear


def finding_rows(scored: Scored | None) -> list[FindingRow]:
    """List all findings, what matters most first."""
    if scored is None or scored.results is None:
        return []
    stamp = Stamp(results_sha256="")
    sheet = Sheet(results=scored.results, event=scored.event, stamp=stamp)
    rows = [_row(sheet, ruled) for ruled in scored.results.findings]
    return sorted(rows, key=lambda row: row.weight)


def weight_of(ruled: RuledFinding) -> tuple[float, ...]:
    """Order findings: open ones, certain ones, costly ones, probable ones first."""
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


def _row(sheet: Sheet, ruled: RuledFinding) -> FindingRow:
    finding = ruled.finding
    proposed = () if finding.penalty is None else (finding.penalty, *finding.also)
    asked = [sheet.say(amount.says) for amount in proposed]
    return FindingRow(
        ruled=ruled,
        weight=weight_of(ruled),
        name=sheet.name(finding.pilot),
        sure=told.verdict(sheet.voice, finding),
        chance=sheet.voice.chance(finding.probability),
        what=told.finding_title(sheet.voice, finding),
        measured=sheet.quantity(finding.measured, finding.unit),
        limit=limit_words(sheet, finding),
        when=sheet.clock(finding.from_s),
        penalty=" and ".join(asked) or sheet.word("none"),
        ruling=ruling_words(sheet, ruled),
    )


def _tone(row: FindingRow) -> Tone:
    if not row.open:
        return Tone.MUTED
    return Tone.BAD if row.ruled.finding.verdict is Verdict.CERTAIN else Tone.WARN


COLUMNS = (
    Column("State", lambda r: r.weight, text=lambda r: "open" if r.open else "decided"),
    Column("Task", lambda r: r.ruled.finding.task, align=RIGHT),
    Column("No.", lambda r: r.ruled.finding.pilot, align=RIGHT),
    Column("Pilot", lambda r: r.name, width=22),
    Column("What was seen", lambda r: r.what, tone=_tone),
    Column("Sure", lambda r: r.sure, tone=_tone),
    Column(
        "Chance",
        lambda r: r.ruled.finding.probability,
        text=lambda r: r.chance,
        align=RIGHT,
    ),
    Column(
        "Measured",
        lambda r: r.ruled.finding.measured,
        text=lambda r: r.measured,
        align=RIGHT,
    ),
    Column("Limit", lambda r: r.limit),
    Column("At", lambda r: r.ruled.finding.from_s, text=lambda r: r.when),
    Column("Rules ask for", lambda r: r.penalty, width=30),
    Column("Decision", lambda r: r.ruling, width=40),
)
