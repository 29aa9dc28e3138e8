"""What is open in an event: the one list that people and publications are shown.

The engine's matters stand in results, with what the entries leave open by themselves
(`scorer.ledger.doubts`).  What depends on the hour or on the board (complaints, protests)
is added here.
"""

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from scorer.event.acceptances import rows_of
from scorer.event.matter import (
    Blocks,
    Closes,
    Matter,
    MatterKind,
    about,
    grouped,
    in_order,
    matter_kind,
)
from scorer.event.model import Event
from scorer.facts import Fact, moment, pilot, term, words
from scorer.ledger.acts import MatterAccepted
from scorer.ledger.clocks import clock_matters, off_from
from scorer.ledger.disputes import Complaint
from scorer.ledger.entry import Draft, Entry
from scorer.ledger.faults import LedgerError
from scorer.ledger.ledger import Ledger
from scorer.ledger.replay import State
from scorer.scoring.check_in import not_checked_in

if TYPE_CHECKING:
    from scorer.scoring.results import Results

COMPLAINT = matter_kind(
    "complaint", blocks=Blocks.FINAL, closes=Closes.COMPLAINTS, acceptable=False
)
PROTEST_PERIOD = matter_kind(
    "protest-period", blocks=Blocks.FINAL, closes=Closes.COMPLAINTS, acceptable=False
)
PROTEST_TIME = "publication.protest_time"


def matters(
    event: Event,
    results: "Results",
    state: State | None = None,
    now: datetime | None = None,
) -> tuple[Matter, ...]:
    """Return all that is open or doubtful, like ones as one, what blocks first.

    `state` is there where the event comes from a ledger, `now` where it is known.
    """
    disputes = () if state is None else of_complaints(event, state, now)
    clock: tuple[Matter, ...] = ()
    if state is not None and now is not None:
        clock = clock_matters(off_from(state.entries, now))
    return grouped(
        in_order((*results.matters, *not_checked_in(event), *disputes, *clock))
    )


def accept(
    ledger: Ledger, matter: Matter, *, why: str, by: str = ""
) -> tuple[Entry, ...]:
    """Accept a matter as it stands; raise LedgerError where it can only be settled.

    One that stands for several becomes an entry for each: should one of them change, the
    others stay accepted.
    """
    return ledger.record_all(acceptance(matter, why=why, by=by or ledger.who))


def acceptance(matter: Matter, *, why: str, by: str) -> tuple[Draft, ...]:
    """Return what accepts a matter once recorded; raise LedgerError where it cannot be."""
    check_acceptance(matter, why)
    rows = rows_of(matter, why=why.strip(), by=by)
    return tuple(Draft(act=MatterAccepted(fields=row), why=why.strip()) for row in rows)


def check_acceptance(matter: Matter, why: str) -> None:
    """Raise LedgerError where a matter cannot be accepted, or no reason is given."""
    if not matter.kind.acceptable:
        raise LedgerError("this cannot be accepted, it can only be settled")
    if matter.accepted:
        raise LedgerError("this is accepted already")
    if not why.strip():
        raise LedgerError("say why it is accepted as it stands")


def of_complaints(
    event: Event, state: State, now: datetime | None = None
) -> Iterator[Matter]:
    """Yield what complaints and protests keep from being final."""
    for complaint in state.complaints:
        if complaint.is_open:
            yield _dispute(COMPLAINT, "complaint-open", complaint)
            continue
        if PROTEST_TIME in event.book.unset and complaint.may_be_protested:
            yield _dispute(PROTEST_PERIOD, "protest-time-open", complaint)
            continue
        end = complaint.protest_end(event.book.publication.protest_s)
        if end is not None and now is not None and now < end:
            yield _dispute(PROTEST_PERIOD, "protest-time-runs", complaint, end)


def _dispute(
    kind: MatterKind, says: str, complaint: Complaint, end: datetime | None = None
) -> Matter:
    until = {} if end is None else {"until": moment(end.timestamp())}
    return Matter(
        kind=kind,
        task=complaint.act.task,
        pilots=about(complaint.act.pilot),
        says=Fact(
            says,
            (
                ("level", term(complaint.level)),
                ("pilot", pilot(complaint.act.pilot)),
                ("entry", words(complaint.entry.label)),
                *until.items(),
            ),
        ),
        evidence=(complaint.entry.label,),
    )
