"""Publications and complaints as rows."""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from gui.models.table import RIGHT, TableColumn
from gui.snapshot import Snapshot
from gui.theme import Tone
from scorer.event.model import Outcome
from scorer.event.moments import EventTime, told_again
from scorer.facts import fact, number, pilot, words
from scorer.ledger.api import Complaint, Publication
from scorer.sheets.stamp import local
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class PublicationRow:
    """One publication."""

    publication: Publication
    scope: str
    at: str
    until: str
    who: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplaintRow:
    """One complaint and its answer."""

    complaint: Complaint
    name: str
    at: str
    answer: str


def publication_rows(snapshot: Snapshot) -> list[PublicationRow]:
    """List what went up, newest first."""
    zone = snapshot.event.time_zone
    return [
        PublicationRow(
            publication=p,
            scope=", ".join(f"task {n}" for n in p.act.tasks) or "whole event",
            at=_clock(p.entry.when, zone),
            until=local(p.act.complaints_until, zone),
            who=p.entry.who,
        )
        for p in reversed(snapshot.state.publications)
    ]


def complaint_rows(snapshot: Snapshot) -> list[ComplaintRow]:
    """List complaints, open ones first."""
    rows = []
    for complaint in snapshot.state.complaints:
        decided, outcome = complaint.decided, complaint.outcome
        answer = ""
        if decided is not None and outcome is not None:
            answer = f"{outcome_word(decided.verdict)} by {outcome.who}: {outcome.why}"
        rows.append(
            ComplaintRow(
                complaint=complaint,
                name=snapshot.pilot_name(complaint.act.pilot),
                at=told_again(complaint.filed_at, complaint.zone),
                answer=answer,
            )
        )
    return sorted(rows, key=lambda row: not row.complaint.is_open)


def outcome_word(outcome: Outcome) -> str:
    """Return what an answer is called."""
    return Voice().term(f"outcome-{str(outcome).replace(' ', '-')}")


def deadline_words(snapshot: Snapshot, complaint: Complaint) -> str:
    """Say until when the outcome may be protested against, or what it is about."""
    against = complaint.against
    if against is not None:
        told = {"number": number(against.number), "pilot": pilot(against.act.pilot)}
        return Voice.of(snapshot.event).say(fact("protest-against", **told))
    end = complaint.protest_end(snapshot.event.book.publication.protest_s)
    if end is None:
        return ""
    until = words(_clock(end, snapshot.event.time_zone))
    return Voice().say(fact("protest-until", until=until))


def _clock(moment: datetime, zone: str) -> str:
    return EventTime.of(moment, ZoneInfo(zone)).dated(seconds=False)


PUBLICATION_COLUMNS = (
    TableColumn("At", lambda r: r.publication.entry.order, text=lambda r: r.at),
    TableColumn("What", lambda r: r.scope),
    TableColumn("Stage", lambda r: str(r.publication.act.stage)),
    TableColumn("Version", lambda r: r.publication.act.version, align=RIGHT),
    TableColumn(
        "Stands",
        lambda r: "reverted" if r.publication.withdrawn else "yes",
        tone=lambda r: Tone.BAD if r.publication.withdrawn else Tone.GOOD,
    ),
    TableColumn("Complaints until", lambda r: r.until),
    TableColumn("Open then", lambda r: len(r.publication.act.flags), align=RIGHT),
    TableColumn("By", lambda r: r.publication.entry.who),
    TableColumn("Why", lambda r: r.publication.entry.why),
)
COMPLAINT_COLUMNS = (
    TableColumn(
        "State",
        lambda r: "open" if r.complaint.is_open else "answered",
        tone=lambda r: Tone.BAD if r.complaint.is_open else Tone.GOOD,
    ),
    TableColumn("No.", lambda r: r.complaint.act.pilot, align=RIGHT),
    TableColumn(
        "Task",
        lambda r: r.complaint.act.task,
        text=lambda r: str(r.complaint.act.task or "event"),
        align=RIGHT,
    ),
    TableColumn("What", lambda r: str(r.complaint.act.level)),
    TableColumn("Complaint", lambda r: r.complaint.act.text, width=34),
    TableColumn("Answer", lambda r: r.answer, width=40),
    TableColumn("Pilot", lambda r: r.name, width=24),
    TableColumn("At", lambda r: r.complaint.filed.order, text=lambda r: r.at),
)
