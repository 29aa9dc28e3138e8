"""What is open in an event: the one list that people and publications are shown.

What the entries by themselves leave open (clashes of desks, entries set aside, clocks)
goes to the engine with the event, so that results and sheets hold it too.  What depends
on the hour or on the board (complaints, protests) is added here.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from scorer.event import matters as engine
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
from scorer.event.model import Event, SetAside
from scorer.facts import Fact, fact, moment, pilot, span, term, words
from scorer.ledger.acts import EntryId
from scorer.ledger.disputes import Complaint
from scorer.ledger.entry import Entry
from scorer.ledger.resolve import Conflict

if TYPE_CHECKING:
    from scorer.ledger.replay import State
    from scorer.scoring.results import Results

CONFLICT = matter_kind(
    "conflict", blocks=Blocks.OFFICIAL, closes=Closes.JOURNAL, acceptable=False
)
FORK = matter_kind("fork", closes=Closes.JOURNAL)
CLOCK = matter_kind("clock", closes=Closes.JOURNAL)
COMPLAINT = matter_kind(
    "complaint", blocks=Blocks.FINAL, closes=Closes.COMPLAINTS, acceptable=False
)
PROTEST_PERIOD = matter_kind(
    "protest-period", blocks=Blocks.FINAL, closes=Closes.COMPLAINTS, acceptable=False
)
PROTEST_TIME = "publication.protest_time"
SET_BACK_S = 60.0
"""A clock set back by more than this is told.  Our choice."""


def matters(
    event: Event,
    results: "Results",
    state: "State | None" = None,
    now: datetime | None = None,
) -> tuple[Matter, ...]:
    """Return all that is open or doubtful, like ones as one, what blocks first.

    `state` is there where the event comes from a ledger, `now` where it is known.
    """
    disputes = () if state is None else of_complaints(event, state, now)
    return grouped(in_order((*results.matters, *disputes)))


def of_entries(
    conflicts: Iterable[Conflict],
    aside: Iterable[SetAside],
    forks: Iterable[Sequence[Entry]],
    entries: Iterable[Entry],
) -> Iterator[Matter]:
    """Yield what entries by themselves leave open."""
    for conflict in conflicts:
        labels = tuple(entry.label for entry in conflict.entries)
        people = tuple(dict.fromkeys(entry.who for entry in conflict.entries))
        yield Matter(kind=CONFLICT, says=conflict.says, evidence=labels, reveals=people)
    for one in aside:
        says = fact(
            "set-aside",
            entry=words(one.label),
            who=words(one.who),
            field=words(one.field),
            found=words(one.found),
            allowed=words(one.allowed),
        )
        yield Matter(kind=engine.SET_ASIDE, says=says, evidence=(one.label,))
    for fork in forks:
        first = fork[0]
        says = fact("desk-forked", desk=words(first.desk), entry=words(first.label))
        yield Matter(kind=FORK, says=says, evidence=tuple(e.label for e in fork))
    yield from _clocks(entries)


def _clocks(entries: Iterable[Entry]) -> Iterator[Matter]:
    by_desk: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        by_desk[entry.desk].append(entry)
    for desk, own in by_desk.items():
        known: dict[EntryId, Entry] = {entry.hash: entry for entry in own}
        for entry in own:
            before = known.get(entry.prev)
            back_s = (before.when - entry.when).total_seconds() if before else 0.0
            if back_s > SET_BACK_S:
                says = fact(
                    "clock-back",
                    desk=words(desk),
                    back=span(back_s),
                    entry=words(entry.label),
                )
                yield Matter(kind=CLOCK, says=says, evidence=(entry.label,))


def of_complaints(
    event: Event, state: "State", now: datetime | None = None
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
