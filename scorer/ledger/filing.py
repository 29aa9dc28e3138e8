"""A complaint or protest as somebody files or answers it now, and if it comes late.

One that comes late is recorded all the same; whether it is heard is for officials.
"""

from collections.abc import Sequence
from datetime import datetime

from scorer.event.model import Event, Level, Outcome
from scorer.facts import Fact, fact, moment
from scorer.ledger.acts import ComplaintDecided, ComplaintFiled, EntryId
from scorer.ledger.disputes import Complaint
from scorer.ledger.entry import Draft
from scorer.ledger.publish import complaint_end
from scorer.ledger.replay import Publication, State
from scorer.words.voice import Voice


def filing(
    state: State,
    event: Event,
    now: datetime,
    *,
    pilot: int,
    text: str,
    task: int | None = None,
    against: Complaint | None = None,
) -> Draft:
    """Return the entry of what a pilot disputes; `against` makes it a protest.

    A protest that names no task is about that of its complaint.
    """
    if task is None and against is not None:
        task = against.act.task
    up = _about(state.publications, task)
    late = _late(up, now) if against is None else _late_protest(against, event, now)
    act = ComplaintFiled(
        pilot=pilot,
        text=text.strip(),
        task=task,
        publication=up.entry.id if up else EntryId(""),
        level=Level.PROTEST if against else Level.COMPLAINT,
        against=against.filed.id if against else EntryId(""),
    )
    return Draft(act=act, why="" if late is None else Voice.of(event).say(late))


def answering(state: State, own: Complaint, verdict: Outcome, why: str) -> Draft:
    """Return the entry that answers a complaint, in the place of all answers there are."""
    act = ComplaintDecided(complaint=own.filed.hash, verdict=verdict)
    return Draft(act=act, why=why, replaces=state.answers(own))


def _about(publications: Sequence[Publication], task: int | None) -> Publication | None:
    """Return the last publication that a complaint is about."""
    about = (
        p
        for p in reversed(publications)
        if not p.withdrawn and (not p.act.tasks or task is None or task in p.act.tasks)
    )
    return next(about, None)


def _late(publication: Publication | None, now: datetime) -> Fact | None:
    end = None if publication is None else complaint_end(publication)
    if end is None or now <= end:
        return None
    return fact("filed-late", until=moment(end.timestamp()))


def _late_protest(against: Complaint, event: Event, now: datetime) -> Fact | None:
    if against.level is Level.PROTEST:
        return fact("filed-on-protest")
    if against.is_open:
        return fact("filed-on-open")
    end = against.protest_end(event.book.publication.protest_s)
    if end is None or now <= end:
        return None
    return fact("protested-late", until=moment(end.timestamp()))
