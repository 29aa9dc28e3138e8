"""The facts that decide which commands can be given now; the only place that knows."""

from collections.abc import Iterable
from enum import StrEnum

from gui.session import Session


class Fact(StrEnum):
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
    CHOSEN = "chosen"
    """A row is chosen on the page in front."""


REASONS = {
    Fact.EVENT: "open or make an event first (page Start)",
    Fact.WRITABLE: "this event can only be read here",
    Fact.IDLE: "another job is running; wait, or cancel it below",
    Fact.BUSY: "no job is running",
    Fact.RESULTS: "there are no results yet",
    Fact.TASKS: "there is no task yet (page Places & tasks)",
    Fact.ROSTER: "there are no pilots yet (page Pilots)",
    Fact.CHOSEN: "choose a row first",
}
"""Why a command cannot be given, where a fact is missing."""


def facts_of(session: Session, *, busy: bool, chosen: bool) -> frozenset[Fact]:
    """Return the facts that hold now."""
    snapshot, results = session.snapshot, session.results
    holds = {
        Fact.EVENT: snapshot is not None,
        Fact.WRITABLE: session.writable,
        Fact.IDLE: not busy,
        Fact.BUSY: busy,
        Fact.RESULTS: results is not None and results.results is not None,
        Fact.TASKS: snapshot is not None and bool(snapshot.event.tasks),
        Fact.ROSTER: snapshot is not None and bool(snapshot.event.pilots),
        Fact.CHOSEN: chosen,
    }
    return frozenset(fact for fact, so in holds.items() if so)


def why_not(needs: Iterable[Fact], facts: frozenset[Fact]) -> str:
    """Say which facts are missing, as a phrase; empty if none."""
    return "; ".join(REASONS[fact] for fact in Fact if fact in set(needs) - facts)
