"""The ledger as a desk uses it: record acts, see what holds, hear of other desks."""

import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Self

from scorer.event.raw import RawEvent
from scorer.facts import Fact
from scorer.files import check_name
from scorer.ledger.acts import (
    Act,
    DeskId,
    EntryId,
    FlightSet,
    Sha256,
    Undone,
    Withdrawn,
)
from scorer.ledger.aside import Stored
from scorer.ledger.entry import Draft, Entry
from scorer.ledger.faults import (
    BusyError,
    LedgerError,
    OtherEventError,
    UnreachableError,
)
from scorer.ledger.growing import Growing
from scorer.ledger.opening import create_store, open_at_desk
from scorer.ledger.replay import State
from scorer.ledger.served import Away, Served
from scorer.ledger.snapshot import Snapshots
from scorer.ledger.store import NO_FILES, START, Cursor, FilesAtHand, Store
from scorer.progress import undisturbed

Clock = Callable[[], datetime]
"""Tells the time, with its zone; tests pass their own."""
WATCH_EVERY_S = 0.5
"""How often a watcher looks; changes of other desks must show within 2 s."""


def system_clock() -> datetime:
    """Return this computer's time, UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class News:
    """What a watcher has to tell."""

    entries: tuple[Entry, ...] = ()
    """Entries that arrived, of this desk too."""
    problem: str = ""
    """Why nothing can be heard at present; empty = all is well (again)."""
    told: Fact | None = None
    """What people must know: the database does not go on from what was read of it."""


class Ledger:
    """One event's ledger, opened at one desk by one official.

    All methods may be called from any thread.
    """

    def __init__(
        self, store: Store, *, desk: DeskId, who: str, clock: Clock = system_clock
    ) -> None:
        self.store = store
        self.desk = desk
        self.who = who
        self.clock = clock
        self._lock = threading.Lock()
        self._snapshots = Snapshots(store)
        self._files = FilesAtHand(store)
        self._begin()

    def _begin(self) -> None:
        """Know nothing yet."""
        self._opened = False
        self._growing = Growing(self.store.known_files)
        self._fresh: list[Entry] = []
        self._cursor = START
        self._state: State | None = None

    @classmethod
    def create(
        cls,
        target: str | Path,
        *,
        desk: DeskId,
        who: str,
        clock: Clock = system_clock,
    ) -> Self:
        """Make a new, empty event in a file, or in an empty database by URL."""
        store = create_store(target, desk=desk, who=who, when=clock())
        if not store.is_file:
            store.close()
            store = open_at_desk(target, clock=clock)
        return cls(store, desk=desk, who=who, clock=clock)

    @classmethod
    def open(
        cls,
        target: str | Path,
        *,
        desk: DeskId,
        who: str,
        clock: Clock = system_clock,
        read_only: bool = False,
        or_copy: bool = False,
    ) -> Self:
        """Open an event file or database; read only where it cannot be written.

        With `or_copy`, a database that does not answer is shown as this computer last read
        it: see `away`.
        """
        store = open_at_desk(target, clock=clock, read_only=read_only, or_copy=or_copy)
        return cls(store, desk=desk, who=who, clock=clock)

    @property
    def away(self) -> Away | None:
        """Since when the database was not heard of, and why; None = it is there.

        While it is away the state is that of this computer's copy, recording raises
        UnreachableError, and so does a file that was never read here.
        """
        return self.store.away if isinstance(self.store, Served) else None

    def rejoin(self) -> Fact | None:
        """Go on with a database that was away; return what people must know of it.

        Raises
        ------
        UnreachableError
            It is still away.
        OtherEventError
            Another event answers in its place; the copy stays open.
        """
        store = self.store
        if not isinstance(store, Served):
            return None
        if store.away is not None:
            server = store.reached()
            with self._lock:
                store.told = store.join(server)
                if store.told is not None:
                    self._begin()
        told, store.told = store.told, None
        return told

    def close(self) -> None:
        """Let go of the event; the one file then holds everything."""
        self._snapshots.keep(self._growing, self._cursor)
        self.store.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # Recording.

    def record(
        self,
        act: Act,
        *,
        why: str = "",
        replaces: Sequence[EntryId] = (),
        files: Mapping[Sha256, bytes] | None = None,
        who: str | None = None,
    ) -> Entry:
        """Write one act down; when this returns, it is on the disk."""
        draft = Draft(
            act=act, why=why, replaces=tuple(replaces), files=dict(files or {})
        )
        return self.record_all([draft], who=who)[0]

    def record_all(
        self,
        drafts: Sequence[Draft],
        *,
        who: str | None = None,
        first: Callable[[], object] = lambda: None,
    ) -> tuple[Entry, ...]:
        """Write several acts down, all or none.

        `first` is called when nobody else can write any more, and may look at the state
        once again: what it raises ends it all.
        """
        for draft in drafts:
            if isinstance(draft.act, Withdrawn | Undone) and not draft.why.strip():
                raise LedgerError("taking something back needs a reason: say why")
            if isinstance(draft.act, FlightSet) and not draft.replaces:
                check_name(draft.act.flight, "a new flight", "its name")
        return self.store.append(
            drafts,
            desk=self.desk,
            who=who or self.who,
            when=self.clock(),
            first=first,
        )

    def withdraw(self, entries: Sequence[EntryId], *, why: str) -> Entry:
        """Say that what entries set down no longer holds."""
        return self.record(Withdrawn(entry=entries[0]), why=why, replaces=entries[1:])

    def undo(self, entry: EntryId, *, why: str) -> Entry:
        """Make an entry count as not made; what it replaced holds again."""
        return self.record(Undone(entry=entry), why=why)

    # Looking.

    def refresh(self) -> tuple[Entry, ...]:
        """Fetch and return what arrived since the last look."""
        with self._lock:
            return self._fetch()

    def state(self) -> State:
        """Return the state with everything that has arrived."""
        with self._lock:
            if not self._opened:
                self._opened = True
                return self._first_state()
            self._fetch()
            return self._brought_up()

    def with_more(self, entries: Sequence[Entry], stored: Stored) -> State:
        """Return the state with entries put in that nobody recorded, as `Growing` does."""
        self.state()
        with self._lock:
            return self._growing.with_more(entries, stored)

    def raw(
        self, state: State | None = None, fresh: Mapping[Sha256, bytes] = NO_FILES
    ) -> RawEvent:
        """Return the event as entered, with its files, as a state has it; None = now.

        Files are kept at hand for the next time; `fresh` are some that nobody stored yet.
        """
        state = self.state() if state is None else state
        with self._files.reading(state.log_files, fresh) as load:
            return state.raw(load)

    def file(self, sha256: Sha256) -> bytes:
        """Return a stored file's bytes, checked against its hash."""
        return self.store.file(sha256)

    def watch(
        self,
        stop: threading.Event,
        *,
        since: Cursor | None = None,
        every_s: float = WATCH_EVERY_S,
    ) -> Iterator[News]:
        """Yield news until `stop` is set; for a worker thread of the window.

        With `since` left out, starts with what arrives from now on.  Why a server is not
        heard is told whenever that changes, and when it is back; nothing is missed.
        """
        cursor = since
        problem = ""
        while not stop.is_set():
            try:
                if cursor is None:
                    cursor = self.store.last()
                if told := self.rejoin():
                    cursor = self.store.last()
                entries, cursor = self.store.new_since(cursor)
            except (UnreachableError, BusyError, OtherEventError) as error:
                if str(error) != problem:
                    problem = str(error)
                    yield News(problem=problem)
            else:
                if entries or problem or told:
                    problem = ""
                    yield News(entries=entries, told=told)
            stop.wait(every_s)

    def _first_state(self) -> State:
        with undisturbed():
            self._fetch()
            state = self._brought_up()
            self._snapshots.keep(
                self._growing, self._cursor
            )  # what a session that broke off left
        return state

    def _brought_up(self) -> State:
        if self._state is None:
            self._state = self._growing.add(self._fresh)
            self._fresh = []
        return self._state

    def _fetch(self) -> tuple[Entry, ...]:
        if self._cursor == START:
            self._cursor = self._snapshots.resume(self._growing)
        fresh, self._cursor = self.store.new_since(self._cursor)
        if fresh:
            self._fresh.extend(fresh)
            self._state = None
        return fresh
