"""What the window shows of an event: the entries as they stand, and what was computed.

Both are frozen values, made in a worker and replaced whole.
"""

from dataclasses import dataclass, replace
from functools import cached_property

from gui.pool import Pool
from scorer.errors import Fault
from scorer.event.build import build
from scorer.event.model import Blob, Event, Flight, Task, Units
from scorer.ledger.acts import Sha256
from scorer.ledger.api import Ledger, State, sound
from scorer.ledger.keyings import SlotState, slots
from scorer.progress import Control
from scorer.scoring.document import to_json
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import Results
from scorer.scoring.validate import faults_of


@dataclass(frozen=True, kw_only=True, eq=False)
class Snapshot:
    """The event as entered, at one moment; files are left out of it."""

    read: State
    """What the ledger said."""
    state: State
    """Of that, what an event can be built of."""
    event: Event
    """Without the content of logs and terrain."""
    faults: tuple[Fault, ...]
    slots: tuple[SlotState, ...]

    @property
    def imperial(self) -> bool:
        """Tell whether a bare number counts feet."""
        return self.event.units is Units.IMPERIAL

    @property
    def bare(self) -> str:
        """Unit of a bare number."""
        return self.event.units.bare

    def task(self, number: int | None) -> Task | None:
        """Find a task by its number."""
        return next((t for t in self.event.tasks if t.number == number), None)

    def flight(self, name: str) -> Flight | None:
        """Find a flight by its identifier."""
        return next((f for f in self.event.flights if f.id == name), None)

    def pilot_name(self, number: int) -> str:
        """Return a pilot's name, empty for an unknown number."""
        return self._names.get(number, "")

    @cached_property
    def _names(self) -> dict[int, str]:
        return {pilot.number: pilot.name for pilot in self.event.pilots}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ScoredSnapshot:
    """Results and the state they were computed from; None with faults."""

    state: State
    event: Event
    """With all files."""
    faults: tuple[Fault, ...]
    results: Results | None
    hidden: frozenset[tuple[int, int]] = frozenset()
    """Tasks and pilots whose results this official must not see yet: they are left out."""

    @property
    def document(self) -> bytes:
        """results.json, written when results are published or compared."""
        return b"" if self.results is None else to_json(self.results).encode()


def flight_said(name: str) -> str:
    """Return a flight as people say it, where nothing before it says that it is one."""
    plain = name.replace("-", " ")
    return f"flight {plain}" if plain.isdecimal() else plain


def look(ledger: Ledger, keep: Keep = NOTHING_KEPT) -> Snapshot:
    """Read what stands in the ledger now; `keep` has what entries came to before."""
    read = ledger.state()
    found = sound(read)
    state, event = found.state, found.event
    whole = replace(event, terrain=_with_content(event.terrain, ledger))
    return Snapshot(
        read=read,
        state=state,
        event=event,
        faults=found.faults,
        slots=slots(state, whole, keep),
    )


def _with_content(blob: Blob | None, ledger: Ledger) -> Blob | None:
    """Return the terrain with its content, by which entries of marks are compared."""
    return blob and replace(blob, content=ledger.file(Sha256(blob.sha256)))


def compute(
    ledger: Ledger, pool: Pool, control: Control, known: Snapshot | None = None
) -> ScoredSnapshot:
    """Score what stands in the ledger now; faults instead of results where there are.

    `known` was looked at before: where nothing came since, it is not worked out again.
    """
    read = ledger.state()
    same = known is not None and known.read is read
    state = known.state if known and same else sound(read).state
    event, faults = build(ledger.raw(state))
    faults += faults_of(event, places_sound=not faults)
    if faults:
        return ScoredSnapshot(
            state=state, event=event, faults=tuple(faults), results=None
        )
    results = pool.score(event, control)
    return ScoredSnapshot(state=state, event=event, faults=(), results=results)
