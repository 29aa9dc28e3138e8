"""Give out a flight's task sheet: one way for the command line and the window."""

from datetime import datetime

from scorer.event.model import Event
from scorer.facts import fact, number
from scorer.ledger.acts import TaskSheetIssued
from scorer.ledger.entry import Draft, Entry, utc_text
from scorer.ledger.faults import LedgerError
from scorer.ledger.ledger import Ledger
from scorer.ledger.publish import whole_second
from scorer.ledger.replay import State
from scorer.sheets.issue import Issue, Lines, changed, lines_of
from scorer.sheets.task_sheet import task_sheet
from scorer.words.voice import Voice


def last_issued(state: State, flight: str) -> TaskSheetIssued | None:
    """Return the last version of a flight's task sheet; None = none was issued."""
    own = [act for _, act in state.all_of(TaskSheetIssued) if act.flight == flight]
    return max(own, key=lambda act: act.version, default=None)


def next_issued(
    state: State, event: Event, flight: str, now: datetime
) -> TaskSheetIssued | None:
    """Return the version to issue now; None = nothing changed since the last, it stands.

    Raise InputError for a flight that is none.
    """
    last, lines = last_issued(state, flight), _lines(event, flight)
    if last is not None and not [*changed(last.lines, lines)]:
        return None
    version = 1 if last is None else last.version + 1
    at = utc_text(whole_second(now))
    return TaskSheetIssued(flight=flight, version=version, at=at, lines=lines)


def give_out(ledger: Ledger, draft: Draft) -> Entry:
    """Record a version; raise LedgerError where another desk gave that one out first."""
    act = draft.act
    assert isinstance(act, TaskSheetIssued)

    def refuse_news() -> None:
        last = last_issued(ledger.state(), act.flight)
        if last is not None and last.version >= act.version:
            said = Voice().say(fact("issued-overtaken", version=number(act.version)))
            raise LedgerError(said)

    return ledger.record_all([draft], first=refuse_news)[0]


def issue_of(state: State, act: TaskSheetIssued, why: str) -> Issue:
    """Return what a version prints of itself: its time, why, what the one before said."""
    acts = (a for _, a in state.all_of(TaskSheetIssued) if a.flight == act.flight)
    earlier = [a for a in acts if a.version < act.version]
    before = max(earlier, key=lambda a: a.version).lines if earlier else None
    return Issue(version=act.version, at=act.at, why=why, before=before)


def standing_issue(state: State, event: Event, flight: str) -> Issue | None:
    """Return the version that a sheet printed now is; None = it was not issued so."""
    last = last_issued(state, flight)
    if last is None or [*changed(last.lines, _lines(event, flight))]:
        return None
    held = state.all_of(TaskSheetIssued)
    why = next(current.entry.why for current, act in held if act is last)
    return issue_of(state, last, why)


def _lines(event: Event, flight: str) -> Lines:
    return lines_of(task_sheet(event, flight))
