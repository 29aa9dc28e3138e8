"""Logs of the event: whose, how that is known, what they showed."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import PurePosixPath
from typing import NamedTuple
from zoneinfo import ZoneInfo

from gui.models.table import RIGHT, TableColumn
from gui.snapshot import ScoredSnapshot, Snapshot
from gui.theme import Tone
from scorer.event import matters
from scorer.event.moments import at
from scorer.ledger.api import LogHeld
from scorer.scoring.results import LogSummary
from scorer.words.voice import Voice


class LogState(StrEnum):
    """What a log is good for; the ones that need people come first."""

    BROKEN = "cannot be used"
    UNMATCHED = "whose is it?"
    SPARE = "spare"
    """Another log of the pilot counts."""
    WAITING = "not read yet"
    COUNTS = "counts"


TONES = {
    LogState.BROKEN: Tone.BAD,
    LogState.UNMATCHED: Tone.BAD,
    LogState.SPARE: Tone.MUTED,
    LogState.WAITING: Tone.MUTED,
    LogState.COUNTS: Tone.GOOD,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LogRow:
    """One log."""

    held: LogHeld
    name: str
    state: LogState
    pilot: int | None
    pilot_name: str
    by_hand: bool
    fixes: int | None
    launch: str
    landing: str
    anchored: bool | None
    notes: str
    likely: int | None
    """Who is the first choice where nobody is sure."""
    proposals: tuple[int, ...]
    """Whose it may be, the likely one first: those that a digit takes."""
    proposed: str
    """The proposals in words, each with its digit."""
    warning: str
    """What the log's clock, gaps or pilot make doubtful."""


class LogTold(NamedTuple):
    """All that a row is made of."""

    held: LogHeld
    summary: LogSummary | None
    read: bool
    """It was read for these results."""
    warning: str
    proposals: tuple[int, ...]
    voice: Voice


KnownLogs = dict[tuple[str, str], tuple[LogTold, LogRow]]
"""Rows by flight and name, with what they were made of."""


def log_rows(
    snapshot: Snapshot, scored: ScoredSnapshot | None, known: KnownLogs | None = None
) -> list[LogRow]:
    """List all logs, those that need people first.

    Rows of which nothing changed are taken over from `known`, and new ones put into it.
    """
    known = {} if known is None else known
    summaries = _summaries(scored)
    read = set()
    if scored is not None and scored.results is not None:
        read = {(log.flight, log.sha256) for log in scored.state.logs}
    warned, likely = _warned(scored), _likely(scored)
    voice = Voice.of(snapshot.event)
    rows = []
    for held in snapshot.state.logs:
        summary = summaries.get((held.flight, held.sha256))
        proposals = likely.get((held.flight, held.name), ())
        pilot = _pilot(held, summary)
        about = pilot if pilot is not None else next(iter(proposals), None)
        told = LogTold(
            held,
            summary,
            (held.flight, held.sha256) in read,
            "" if about is None else warned.get((held.flight, about), ""),
            proposals,
            voice,
        )
        before = known.get((held.flight, held.name))
        row = before[1] if before is not None and before[0] == told else _row(told)
        known[held.flight, held.name] = told, row
        rows.append(row)
    order = list(LogState)
    return sorted(
        rows, key=lambda r: (order.index(r.state), r.held.flight, r.pilot or 0, r.name)
    )


def counted(rows: Iterable[LogRow]) -> str:
    """Say how many logs there are, and what they are good for."""
    every = Counter(row.state for row in rows)
    parts = [
        f"{every[state]} {words}" for state, words in COUNTED.items() if every[state]
    ]
    total = every.total()
    return f"{total} {'log' if total == 1 else 'logs'}: {', '.join(parts)}"


COUNTED = {
    LogState.BROKEN: "cannot be used",
    LogState.UNMATCHED: "of nobody yet",
    LogState.SPARE: "spare",
    LogState.WAITING: "not read yet",
    LogState.COUNTS: "used",
}


def about(row: LogRow) -> str:
    """Say all that is known of one log: its columns have no room for it."""
    said = (row.state, _given(row), row.proposed, row.warning)
    return f"{row.name}: {'; '.join(filter(None, map(str, said)))}"


def without_log(snapshot: Snapshot, rows: list[LogRow], flight: str) -> list[int]:
    """Return the pilots of the roster for whom a flight holds no log."""
    have = {row.pilot for row in rows if row.held.flight == flight}
    numbers = (pilot.number for pilot in snapshot.event.pilots)
    return sorted(number for number in numbers if number not in have)


def _summaries(scored: ScoredSnapshot | None) -> Mapping[tuple[str, str], LogSummary]:
    if scored is None or scored.results is None:
        return {}
    return {
        (flight.id, log.sha256): log
        for flight in scored.results.flights
        for log in flight.logs
    }


def _warned(scored: ScoredSnapshot | None) -> Mapping[tuple[str, int | None], str]:
    """Put together what the score warns of about each pilot's log."""
    found: dict[tuple[str, int | None], str] = {}
    results = scored.results if scored is not None else None
    for warning in results.matters if results else ():
        if warning.kind.name.startswith("log"):
            key = (warning.flight, warning.pilot)
            told = results.voice.say(warning.says) if results else ""
            found[key] = "; ".join(filter(None, (found.get(key, ""), told)))
    return found


def _likely(scored: ScoredSnapshot | None) -> Mapping[tuple[str, str], tuple[int, ...]]:
    """Return whose logs that are asked about may be, by flight and log."""
    results = scored.results if scored is not None else None
    asked = {matters.LOG_PILOT, matters.LOG_UNMATCHED}
    return {
        (matter.flight, name): matter.pilots[:MOST_PROPOSED]
        for matter in (results.matters if results else ())
        if matter.kind in asked and matter.pilots
        for name in matter.evidence
    }


MOST_PROPOSED = 3
"""So many digits take a proposal."""


def _pilot(held: LogHeld, summary: LogSummary | None) -> int | None:
    """Return whose log it is: as an official says, else as it was matched."""
    return held.pilot if held.pilot is not None or summary is None else summary.pilot


def _row(told: LogTold) -> LogRow:
    held, summary, voice = told.held, told.summary, told.voice
    pilot, zone = _pilot(held, summary), ZoneInfo(voice.time_zone)
    return LogRow(
        held=held,
        name=PurePosixPath(held.name).name,
        state=_state(held, summary, read=told.read, pilot=pilot),
        pilot=pilot,
        pilot_name=voice.pilots.get(pilot, "") if pilot is not None else "",
        by_hand=held.pilot is not None,
        fixes=summary.fixes if summary else None,
        launch=_clock(summary.launch_s if summary else None, zone),
        landing=_clock(summary.landing_s if summary else None, zone),
        anchored=summary.anchored if summary else None,
        notes=held.problem or _notes(voice, summary),
        likely=next(iter(told.proposals), None),
        proposals=told.proposals,
        proposed="  ".join(
            f"[{i}] {number} {voice.pilots.get(number, '')}"
            for i, number in enumerate(told.proposals, start=1)
        ),
        warning=told.warning,
    )


def _notes(voice: Voice, summary: LogSummary | None) -> str:
    return "; ".join(map(voice.say, summary.notes)) if summary else ""


def _state(
    held: LogHeld, summary: LogSummary | None, *, read: bool, pilot: int | None
) -> LogState:
    if held.problem or (read and summary is None):
        return LogState.BROKEN
    if summary is None:
        return LogState.WAITING
    if not summary.fixes:
        return LogState.BROKEN
    if pilot is None:
        return LogState.UNMATCHED
    return LogState.COUNTS if summary.counts else LogState.SPARE


def _clock(time_s: float | None, zone: ZoneInfo) -> str:
    if time_s is None:
        return ""
    return at(time_s, zone).clock()


def _ground(row: LogRow) -> str:
    if row.anchored is None or row.state is LogState.BROKEN:
        return ""
    return "yes" if row.anchored else "no: estimates"


def _given(row: LogRow) -> str:
    """Say how a log came to its pilot: first by hand, else by what its notes say."""
    by_hand = "given by hand" if row.by_hand else ""
    return "; ".join(filter(None, (by_hand, row.notes))) or row.held.flight


def _span(row: LogRow) -> str:
    return f"{row.launch}\n{row.landing}" if row.launch else ""


COLUMNS = (
    TableColumn(
        "State",
        lambda r: list(LogState).index(r.state),
        text=lambda r: str(r.state),
        tone=lambda r: TONES[r.state],
    ),
    TableColumn("No.", lambda r: r.pilot, align=RIGHT),
    TableColumn("Pilot", lambda r: r.pilot_name, width=26, rest=True),
    TableColumn(
        "Log, and how it was given",
        lambda r: r.name,
        text=lambda r: f"{r.name}\n{_given(r)}",
        tip=lambda r: f"{r.name}\n{r.notes}",
        width=30,
    ),
    TableColumn(
        "Give it to", lambda r: r.proposed, tone=lambda _: Tone.ACCENT, width=30
    ),
    TableColumn("Launch, landing", lambda r: r.launch, text=_span, firm=True),
    TableColumn("Height checked", _ground, width=16),
    TableColumn(
        "Worth knowing", lambda r: r.warning, tone=lambda _: Tone.WARN, width=40
    ),
)
