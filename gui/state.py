"""The facts that decide which commands can be given now; the only place that knows."""

from collections.abc import Iterable
from enum import StrEnum

from gui.session import Session


class Condition(StrEnum):
    """Something that is so or not."""

    EVENT = "event"
    """An event is open."""
    WRITABLE = "writable"
    """Entries can be made."""
    IDLE = "idle"
    """No long job is running."""
    BUSY = "busy"
    RESULTS = "results"
    """Results were computed, without faults."""
    TASKS = "tasks"
    """There is at least one task."""
    ROSTER = "roster"
    """There is at least one pilot."""
    DATABASE = "database"
    """It answers."""
    CHOSEN = "chosen"
    """A row is chosen on the page in front."""


REASONS = {
    Condition.EVENT: "open or make an event first (page Start)",
    Condition.WRITABLE: "this event can only be read here",
    Condition.IDLE: "another job is running; wait, or cancel it below",
    Condition.BUSY: "no job is running",
    Condition.RESULTS: "there are no results yet",
    Condition.TASKS: "there is no task yet (page Tasks)",
    Condition.ROSTER: "there are no pilots yet (page Pilots)",
    Condition.DATABASE: "the database does not answer; this waits until it does",
    Condition.CHOSEN: "choose a row first",
}
"""Why a command cannot be given, where a fact is missing."""


def facts_of(session: Session, *, busy: bool, chosen: bool) -> frozenset[Condition]:
    """Return the facts that hold now."""
    snapshot, results = session.snapshot, session.results
    holds = {
        Condition.EVENT: snapshot is not None,
        Condition.WRITABLE: session.writable,
        Condition.IDLE: not busy,
        Condition.BUSY: busy,
        Condition.RESULTS: results is not None and results.results is not None,
        Condition.TASKS: snapshot is not None and bool(snapshot.event.tasks),
        Condition.ROSTER: snapshot is not None and bool(snapshot.event.pilots),
        Condition.DATABASE: session.away is None,
        Condition.CHOSEN: chosen,
    }
    return frozenset(fact for fact, so in holds.items() if so)


def why_not(needs: Iterable[Condition], facts: frozenset[Condition]) -> str:
    """Say which facts are missing, as a phrase; empty if none."""
    return "; ".join(REASONS[fact] for fact in Condition if fact in set(needs) - facts)
