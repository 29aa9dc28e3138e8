"""What one official may see of an event, and what is open in it: made in a worker.

Blinding and listing read every entry, which takes longer than the window's thread has.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from gui.blind import blinded, blinded_scores, hidden_slots
from gui.models.matters import MatterList, matter_list
from gui.snapshot import ScoredSnapshot, Snapshot
from scorer.ledger.acts import Stage
from scorer.ledger.api import Ledger
from scorer.ledger.faults import LedgerError
from scorer.ledger.publish import read_once, what_is_up
from scorer.ledger.up import standing

MINUTE_S = 60


class UpNow(NamedTuple):
    """With which publication a task stands on the board."""

    stage: Stage
    version: int
    at: datetime


StagesUp = Mapping[int, UpNow] | None
"""By task; None = what was published cannot be read now."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seen:
    """What was made of a snapshot and a score, for whom, in which minute."""

    snapshot: Snapshot
    scored: ScoredSnapshot | None
    who: str
    minute: int
    """Some of what is open hangs on the time."""
    shown: Snapshot
    """The event as entered, as far as the official may see it."""
    results: ScoredSnapshot | None
    """What was computed of it, as far as the official may see it."""
    listed: MatterList
    """All that is open or doubtful, as every page lists and counts it."""
    up: StagesUp
    """Where each task stands, as board and papers say it."""

    def is_of(
        self, snapshot: Snapshot, scored: ScoredSnapshot | None, who: str
    ) -> bool:
        """Tell whether it was made of these."""
        same = self.snapshot is snapshot and self.scored is scored
        return same and self.who == who

    def is_new(self, now: datetime) -> bool:
        """Tell whether nothing in it hangs on an earlier minute."""
        return self.minute == minute_of(now)


def minute_of(now: datetime) -> int:
    """Return the number of a minute."""
    return int(now.timestamp()) // MINUTE_S


def see(
    snapshot: Snapshot,
    scored: ScoredSnapshot | None,
    who: str,
    now: datetime,
    before: Seen | None = None,
    *,
    ledger: Ledger,
) -> Seen:
    """Make it; what was made of the same `before` is taken over.

    Published results are read from the `ledger`.
    """
    kept = before if before is not None and before.who == who else None
    same = kept is not None and kept.snapshot is snapshot
    hidden = hidden_slots(snapshot.event, snapshot.state, who)
    shown = kept.shown if kept and same else blinded(snapshot, who, hidden)
    if scored is None:
        results = None
    elif kept is not None and kept.scored is scored:
        results = kept.results
    else:
        results = blinded_scores(scored, who)
    return Seen(
        snapshot=snapshot,
        scored=scored,
        who=who,
        minute=minute_of(now),
        shown=shown,
        results=results,
        listed=matter_list(
            snapshot, scored, who, now, hidden, before=kept.listed if kept else None
        ),
        up=_up(snapshot, before, ledger),
    )


def _up(snapshot: Snapshot, before: Seen | None, ledger: Ledger) -> StagesUp:
    """Read where each task stands, once for each change of what was published."""
    state = snapshot.state
    published = state.publications
    if before and before.snapshot.state.publications == published and before.up:
        return before.up
    try:
        held = standing(what_is_up(state, read_once(ledger)))
    except LedgerError:
        return None
    moments = (
        (task, put, datetime.fromisoformat(put.at)) for task, put in held.items()
    )
    return {task: UpNow(put.stage, put.version, at) for task, put, at in moments}
