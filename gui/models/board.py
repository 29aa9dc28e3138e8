"""The number board: of every pilot of a task, in one sight, what is left to do."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from gui.models.logs import LogRow, LogState
from gui.models.marks import MarkRow, MarkState
from gui.snapshot import ScoredSnapshot, Snapshot
from scorer.event.model import Task
from scorer.facts import count, fact, term
from scorer.facts import pilot as pilot_value
from scorer.facts import task as task_value
from scorer.ledger.cells import whole_number
from scorer.words.voice import Voice

FEW = 10
"""One in so many pilots of whom nothing is known are few: did they fly?  Our choice."""


class CellState(StrEnum):
    """What is left to do about one pilot."""

    YOURS = "yours"
    """Filled: for who is at the desk."""
    OTHERS = "others"
    """Grey: somebody else goes on."""
    UNKNOWN = "unknown"
    """Boxed: nothing is known of this pilot."""
    DONE = "done"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One number on the board."""

    pilot: int
    state: CellState
    says: str
    """For assistive tools and tooltips: who it is, and what is left."""

    @property
    def text(self) -> str:
        """The number as it stands on the board."""
        return str(self.pilot)


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """All numbers, and what they add up to."""

    cells: tuple[Cell, ...] = ()
    title: str = ""
    done: str = ""
    legends: tuple[tuple[CellState, str], ...] = ()

    @property
    def share(self) -> float:
        """How much of it is done, 0 to 1."""
        return len(self.of(CellState.DONE)) / len(self.cells) if self.cells else 0.0

    def of(self, state: CellState) -> tuple[int, ...]:
        """Return the numbers in a state, in order."""
        return tuple(cell.pilot for cell in self.cells if cell.state is state)

    def next_after(self, pilot: int) -> int | None:
        """Return whose mark comes next: the next of yours, then whoever is unknown."""
        for state in (CellState.YOURS, CellState.UNKNOWN):
            numbers = self.of(state)
            if numbers:
                return next((n for n in numbers if n > pilot), numbers[0])
        return None


def mark_board(
    snapshot: Snapshot,
    scored: ScoredSnapshot | None,
    task: Task,
    rows: Sequence[MarkRow],
) -> Board:
    """Say of every pilot of a task whose entry is left.

    Pilots of whom nothing is known are boxed once they are few (`FEW`): before that,
    entering goes on.
    """
    by_pilot: dict[int, list[MarkState]] = {}
    for row in rows:
        by_pilot.setdefault(row.pilot, []).append(row.state)
    heard = set(known_pilots(snapshot, scored, task))
    heard |= {n for n, own in by_pilot.items() if set(own) != {MarkState.MISSING}}
    late = len(by_pilot.keys() - heard) <= max(1, len(by_pilot) // FEW)
    twice = snapshot.event.book_of(task).keying.twice
    states = {
        number: _entered(own, known=number in heard or not late, twice=twice)
        for number, own in by_pilot.items()
    }
    return _board(snapshot, task, states)


def _entered(own: Sequence[MarkState], *, known: bool, twice: bool) -> CellState:
    found = set(own)
    if MarkState.MISSING in found:
        return CellState.YOURS if known else CellState.UNKNOWN
    if MarkState.SECOND in found and twice:
        return CellState.YOURS
    waits = {MarkState.DIFFERS, MarkState.CONTRADICTED}
    waits |= {MarkState.ONCE, MarkState.WAITING} if twice else set()
    return CellState.OTHERS if found & waits else CellState.DONE


def log_board(
    snapshot: Snapshot,
    scored: ScoredSnapshot | None,
    task: Task,
    rows: Sequence[LogRow],
) -> Board:
    """Say of every pilot of a task whether a log, a mark or a report accounts for them."""
    counts = {r.pilot for r in _of_flight(rows, task) if r.state is LogState.COUNTS}
    asked = {r.likely for r in _of_flight(rows, task) if r.state is LogState.UNMATCHED}
    heard = set(known_pilots(snapshot, scored, task)) | set(_entries(snapshot, task))
    heard -= _missing(scored, task)
    states = {}
    for pilot in snapshot.event.pilots:
        number = pilot.number
        if not pilot.takes_part(task.number):
            continue
        if number in counts:
            states[number] = CellState.DONE
        elif number in asked:
            states[number] = CellState.YOURS
        else:
            states[number] = CellState.OTHERS if number in heard else CellState.UNKNOWN
    return _board(snapshot, task, states, beside="-logs")


def _of_flight(rows: Iterable[LogRow], task: Task) -> Iterator[LogRow]:
    return (row for row in rows if row.held.flight == task.flight)


def known_pilots(
    snapshot: Snapshot, scored: ScoredSnapshot | None, task: Task
) -> Iterator[int]:
    """Yield of whom a log or a report tells something."""
    flight = snapshot.flight(task.flight)
    for report in flight.reports if flight else ():
        if report.task == task.number:
            yield report.pilot
    for held in snapshot.state.logs:
        if held.flight == task.flight and held.pilot is not None:
            yield held.pilot
    results = scored.results if scored is not None else None
    for own in results.flights if results else ():
        if own.id == task.flight:
            yield from (log.pilot for log in own.logs if log.pilot is not None)


def _entries(snapshot: Snapshot, task: Task) -> Iterator[int]:
    for state in snapshot.slots:
        slot, pilot = state.slot, whole_number(state.slot.pilot)
        own = (slot.flight, slot.task) == (task.flight, str(task.number))
        if own and pilot is not None:
            yield pilot


def _missing(scored: ScoredSnapshot | None, task: Task) -> frozenset[int]:
    results = scored.results if scored is not None else None
    own = results.task(task.number) if results else None
    return frozenset(own.missing) if own else frozenset()


def _board(
    snapshot: Snapshot,
    task: Task,
    states: Mapping[int, CellState],
    beside: str = "",
) -> Board:
    voice = Voice.of(snapshot.event)
    told = {s: voice.word(f"term-board{beside}-{s}") for s in CellState}
    cells = tuple(
        Cell(
            pilot=number,
            state=state,
            says=f"{voice.value(pilot_value(number))}: {told[state]}",
        )
        for number, state in sorted(states.items())
    )
    tally = {s: sum(cell.state is s for cell in cells) for s in CellState}
    own = fact("board-of-task", pilots=count(len(cells)), task=task_value(task.number))
    legends = (
        (s, fact("board-legend", state=term(f"board{beside}-{s}"), count=count(n)))
        for s, n in tally.items()
    )
    return Board(
        cells=cells,
        title=voice.say(own),
        done=voice.say(fact("board-count-done", count=count(tally[CellState.DONE]))),
        legends=tuple((s, voice.say(says)) for s, says in legends),
    )
