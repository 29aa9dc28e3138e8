"""What is open in an event: the one list that people and publications are shown.

The engine's matters stand in results, with what the entries leave open by themselves
(`scorer.ledger.doubts`).  What depends on the hour or on the board (complaints, protests)
is added here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from itertools import islice, takewhile
from typing import TYPE_CHECKING

from scorer.event.acceptances import rows_of
from scorer.event.matter import (
    ACCEPTANCE_GONE,
    Blocks,
    Closes,
    Matter,
    MatterKind,
    about,
    grouped,
    in_order,
    matter_kind,
)
from scorer.event.model import Event, ReportKind
from scorer.facts import Fact, fact, inner, moment, pilot, several, term, words
from scorer.ledger.acts import (
    FlightSet,
    MarkKeyed,
    MarkSettled,
    MatterAccepted,
    ReportMade,
    RowAct,
    RulingMade,
)
from scorer.ledger.aside import ReadEntry
from scorer.ledger.cells import whole_number
from scorer.ledger.changes import pilot_and_task, told_of
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
    own = results.matters
    if state is not None:
        own = tuple(_followed(matter, state) for matter in own)
    return grouped(in_order((*own, *not_checked_in(event), *disputes, *clock)))


MOST_FOLLOWED = 4
"""So many entries are named that came after an acceptance: the last ones.  Our choice."""


def _followed(matter: Matter, state: State) -> Matter:
    """Add to an acceptance that counts no more what was entered about it since."""
    if matter.kind is not ACCEPTANCE_GONE:
        return matter
    held = state.all_of(MatterAccepted)
    given = [current.entry for current, act in held if _accepts(act, matter)]
    if not given:
        return matter
    matter = replace(matter, evidence=tuple(entry.label for entry in given))
    since = min(entry.order for entry in given)
    newer = takewhile(
        lambda held: held.entry.order > since, reversed(state.standing.entries)
    )
    concern = (held.entry for held in newer if _concerns(held, state, matter))
    about = list(islice(concern, MOST_FOLLOWED))
    if not about:
        return matter
    named = several(inner(told_of(entry)) for entry in reversed(about))
    says = fact("acceptance-followed", lapsed=inner(matter.says), entries=named)
    return replace(matter, says=says)


def _accepts(act: MatterAccepted, matter: Matter) -> bool:
    """Tell whether an acceptance is the one that a matter says counts no more."""
    cells = {column: act.fields.get(column, "") for column in _SUBJECT}
    told = inner(fact(f"matter-{act.fields.get('kind', '')}"))
    return matter.says["what"] == told and cells == {
        "flight": matter.flight,
        "task": "" if matter.task is None else str(matter.task),
        "pilots": " ".join(map(str, matter.pilots)),
        "mark": matter.mark,
    }


_SUBJECT = ("flight", "task", "pilots", "mark")


def _concerns(held: ReadEntry, state: State, matter: Matter) -> bool:
    """Tell whether an entry is about a pilot and the task of a matter."""
    pilot_number, task_number = pilot_and_task(held, state.standing.by_id)
    if pilot_number is None or pilot_number not in matter.pilots:
        return False
    return task_number is None or matter.task is None or task_number == matter.task


def entries_of(matter: Matter, state: State) -> tuple[Entry, ...]:
    """Return the entries that a matter is about: that can be withdrawn, or hold."""
    if matter.says.kind == "flight-lost" and (gone := _taken_back(matter, state)):
        return gone
    named = tuple(e for e in state.entries if e.label in matter.evidence)
    forms = _RESTS_ON.get(matter.says.kind, ())
    return named or tuple(
        entry
        for form in forms
        for current, act in state.all_of(form)
        if act.flight == matter.flight and _fits(act, matter)
        for entry in current.entries
    )


def _taken_back(matter: Matter, state: State) -> tuple[Entry, ...]:
    """Return the withdrawals of a flight of which entries are left."""
    return tuple(
        held.entry
        for own in state.standing.lineages
        if own.versions[0].is_a(FlightSet) and not own.ends
        if own.versions[0].flight == matter.says.get("flight")
        for held in own.withdrawals
    )


_RESTS_ON: Mapping[str, tuple[type[RowAct], ...]] = {
    "mark-of-not-flown": (ReportMade, MarkKeyed, MarkSettled),
    "ruling-meets-nothing": (RulingMade,),
    "ruling-on-no-kind": (RulingMade,),
    "penalty-added-again": (RulingMade,),
    "target-moved-after": (MarkKeyed, MarkSettled),
}
"""Acts that a matter rests on which names no entry: results know none.  By what it says."""


def _fits(act: RowAct, matter: Matter) -> bool:
    """Tell whether a row is what a matter speaks of."""
    pilot_number, task_number = (
        whole_number(act.fields.get(column, "")) for column in ("pilot", "task")
    )
    if pilot_number not in matter.pilots or task_number not in {None, matter.task}:
        return False
    if isinstance(act, ReportMade):
        return act.fields.get("kind", "").strip() == ReportKind.NOT_FLOWN
    wanted = matter.says.get("finding")
    return wanted is None or act.fields.get("finding", "").strip() == wanted


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
