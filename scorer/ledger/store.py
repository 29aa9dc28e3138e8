"""Entries and files at rest: one SQLite file, or a PostgreSQL database.

Entries are only ever added.  A write is one transaction: all of its entries and their
files are there, or none is.  Writers of one store take turns, so numbers, ticks and
arrival order never have holes that fill later, and a cursor misses nothing.
"""

import sqlite3
import threading
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, nullcontext, suppress
from datetime import datetime
from pathlib import Path
from types import MappingProxyType
from typing import Any, NewType, Self

from sqlalchemy import Connection, Engine, Row, func, select
from sqlalchemy.exc import DBAPIError

from scorer.fresh import Threads
from scorer.ledger.acts import DeskId, EntryId, Sha256
from scorer.ledger.aside import MOST_AHEAD
from scorer.ledger.engine import HELD, WAIT_S, explained, let_go
from scorer.ledger.entry import (
    HEAD,
    NO_ENTRY,
    Draft,
    Entry,
    Link,
    RawRow,
    hash_of,
    named,
    same_act,
    seal,
)
from scorer.ledger.event_file import EventFile, Identity, NewestEntry
from scorer.ledger.faults import (
    DamagedError,
    LedgerError,
    MissingBlobError,
    ReadOnlyError,
    TokenError,
)
from scorer.ledger.files import AtRest, Content, HeldFile, StoredFile, checked, pack
from scorer.ledger.schema import BLOB, ENTRY, READ
from scorer.ledger.server import desk_role

Cursor = NewType("Cursor", int)
"""How far a reader has read this one store; 0 = nothing yet."""
START = Cursor(0)
NO_FILES: Mapping[Sha256, bytes] = MappingProxyType({})
_FIRST = f"""SELECT json_array({", ".join(HEAD)}, typeof(payload)) || char(10)
    || coalesce(payload, '') FROM entry WHERE seq <= ? ORDER BY seq"""  # noqa: S608
CHUNK = 500
"""Rows, or hashes in one question, at a time."""
PACKING = 2
"""So many files are compressed side by side."""


class Store:
    """One ledger at rest; safe to use from several threads."""

    def __init__(
        self, engine: Engine, where: str, *, writing: bool, in_memory: bool = False
    ) -> None:
        self.engine = engine
        self.where = where
        """File or database, without password, for people."""
        self.writing = writing
        self.in_memory = in_memory
        # Threads of one program take turns here: fairer than SQLite's waiting, and the
        # one connection of a ledger in memory must not be shared at all.
        self._gate = threading.RLock()
        self._file = EventFile(Path(where)) if self.is_file else None

    @property
    def is_file(self) -> bool:
        """Tell whether this is an event file rather than a server or memory."""
        return self.engine.dialect.name == "sqlite" and not self.in_memory

    def close(self) -> None:
        """Let go of the event; raise MovedError if its file is gone and was recovered."""
        try:
            if self._file is not None and self.writing:
                self._file.close(self.engine)
        finally:
            let_go(self.engine)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # Writing.

    def append(
        self,
        drafts: Sequence[Draft],
        *,
        desk: DeskId,
        who: str,
        when: datetime,
        first: Callable[[], object] = lambda: None,
    ) -> tuple[Entry, ...]:
        """Write acts into a desk's chain, all or none, and return their entries.

        When this returns, the entries are on the disk.  A draft that this desk has
        written already comes back as the entry it became, so trying again is harmless.
        `first` is called when nobody else can write any more: what it raises ends it all.

        Raises
        ------
        TokenError
            A draft's token is known with other content or from another desk; nothing
            was written.
        """
        files = self._packed(drafts)
        with self.turn() as connection:
            first()
            self._add_files(connection, files.values())
            return self.insert(connection, drafts, desk, who, when)

    def take(self, entries: Iterable[Entry], files: Iterable[AtRest]) -> int:
        """Copy entries of another ledger as they are; return how many were new.

        Files are taken one at a time, so they may be made as they are asked for.
        """
        by_order = sorted(entries, key=lambda entry: entry.order)
        with self.turn() as connection:
            self._add_files(connection, files)
            known = set(connection.execute(select(ENTRY.c.hash)).scalars())
            fresh = [entry for entry in by_order if entry.hash not in known]
            tokens = set(connection.execute(select(ENTRY.c.token)).scalars())
            self._add_entries(connection, fresh, tokens)
        return len(fresh)

    @contextmanager
    def turn(self) -> Iterator[Connection]:
        """Give one writer a transaction, when all others are done with theirs.

        When this ends, what was written is on the disk, in the file that stands at the
        event's place.

        Raises
        ------
        MovedError
            The event file was moved, replaced or emptied.  Nothing was written, or what
            was written was recovered: the text says which.
        """
        if not self.writing:
            raise ReadOnlyError(
                f"{self.where} may be read here, but not written. Copy the event file "
                "to a folder you may write in and open the copy; merge it back later."
            )
        with self._gate, explained(self.where):
            with ExitStack() as stack:
                connection, before = self._begin(stack)
                yield connection
                mark = self._newest(connection) if self._file is not None else None
            if self._file is not None and before is not None:
                self._file.confirm(self.engine, before, mark)

    def _begin(self, stack: ExitStack) -> tuple[Connection, Identity | None]:
        """Begin to write; end a program first that holds all up and does nothing."""
        try:
            with ExitStack() as trying:
                begun = trying.enter_context(self._transaction(writing=True))
                self._take_turn(begun[0])
                stack.push(trying.pop_all())
                return begun
        except DBAPIError as error:
            if getattr(error.orig, "sqlstate", None) != HELD:
                raise
        with suppress(DBAPIError), self.engine.begin() as connection:
            connection.exec_driver_sql("SELECT ledger_frees_turn()")
        begun = stack.enter_context(self._transaction(writing=True))
        begun[0].exec_driver_sql(f"SET LOCAL lock_timeout = '{WAIT_S}s'")
        self._take_turn(begun[0])
        return begun

    @contextmanager
    def _transaction(
        self, *, writing: bool
    ) -> Iterator[tuple[Connection, Identity | None]]:
        """Begin a transaction in the file that stands at the event's place."""
        file = self._file
        before = file.identity() if file is not None else None
        try:
            with self.engine.connect() as plain:
                connection = plain.execution_options(writing=writing)
                with connection.begin():
                    if file is not None and before is not None:
                        file.check(connection, before)
                    yield connection, before
        except DBAPIError as error:
            if file is not None and before is not None and file.shows(error, before):
                raise file.moved() from error
            raise

    def server_time(self) -> datetime | None:
        """Return the database server's clock; None where the event is a file."""
        if self._file is not None:
            return None
        with self._gate, explained(self.where), self.engine.connect() as connection:
            if connection.dialect.name != "postgresql":
                return None
            found: datetime = connection.execute(
                select(func.clock_timestamp())
            ).scalar_one()
            return found

    @staticmethod
    def _newest(connection: Connection) -> NewestEntry | None:
        row = connection.execute(
            select(ENTRY.c.seq, ENTRY.c.hash).order_by(ENTRY.c.seq.desc()).limit(1)
        ).one_or_none()
        return NewestEntry(row.seq, row.hash) if row is not None else None

    @staticmethod
    def _take_turn(connection: Connection) -> None:
        if connection.dialect.name != "postgresql":
            return
        # One writer at a time, so that arrival order is commit order: with plain
        # sequences a lower number can appear after a reader has gone past it.
        connection.exec_driver_sql(
            "SELECT pg_advisory_xact_lock(hashtext('ledger'), "
            "hashtext(coalesce(current_schema(), '')))"
        )

    def insert(
        self,
        connection: Connection,
        drafts: Sequence[Draft],
        desk: DeskId,
        who: str,
        when: datetime,
    ) -> tuple[Entry, ...]:
        """Seal drafts and add them, within a turn; `append` does the rest."""
        known = self._by_token(connection, [draft.token for draft in drafts])
        link = self._next_link(connection, desk)
        done: dict[str, Entry] = {}
        entries = []
        fresh = []
        for draft in drafts:
            sealed = seal(named(draft, done), link, who=who, when=when)
            entry = self._written(sealed, known[draft.token])
            if entry is None:
                entry = sealed
                fresh.append(entry)
                known[draft.token].append(entry)
                link = Link(
                    desk=desk,
                    number=link.number + 1,
                    tick=link.tick + 1,
                    prev=entry.hash,
                )
            done[draft.token] = entry
            entries.append(entry)
        self._add_entries(connection, fresh)
        return tuple(entries)

    def _written(self, sealed: Entry, known: Sequence[Entry]) -> Entry | None:
        """Find the entry that a draft became before; None = it is new."""
        for entry in known:
            if same_act(entry, sealed):
                return entry
        if not sealed.token:
            raise TokenError("an entry needs a token of its own; enter it again")
        if not known:
            return None
        first = known[0]
        differs = "other content" if first.desk == sealed.desk else "another desk"
        raise TokenError(
            f"{self.where}: not recorded: its token is that of entry {first.label} by "
            f"{first.who}, with {differs}. That entry stays as it is, and this one was "
            "not written. Enter it again, as a new entry."
        )

    @staticmethod
    def _add_entries(
        connection: Connection, entries: Sequence[Entry], tokens: Iterable[str] = ()
    ) -> None:
        """Add rows; those whose tokens others hold are told apart, none is left out."""
        taken = {"", *tokens}
        rows = []
        for entry in entries:
            rows.append(
                _row_of(entry, again=bool(entry.token) and entry.token in taken)
            )
            taken.add(entry.token)
        if rows:
            connection.execute(ENTRY.insert(), rows)

    @staticmethod
    def _by_token(
        connection: Connection, tokens: Sequence[str]
    ) -> defaultdict[str, list[Entry]]:
        found: defaultdict[str, list[Entry]] = defaultdict(list)
        for start in range(0, len(tokens), CHUNK):
            some = tokens[start : start + CHUNK]
            rows = connection.execute(select(*READ).where(ENTRY.c.token.in_(some)))
            for row in rows:
                found[row.token].append(entry_of(row))
        return found

    @staticmethod
    def _next_link(connection: Connection, desk: DeskId) -> Link:
        tick, last = _ends(connection, desk)
        if max(tick, last.number if last is not None else 0) > MOST_AHEAD:
            # What lies beyond is nobody's clock: see `scorer.ledger.aside`.  Counting
            # all entries takes longer the more there are, so only now.
            count = connection.execute(select(func.count()).select_from(ENTRY)).scalar()
            tick, last = _ends(connection, desk, (count or 0) + MOST_AHEAD)
        if last is not None:
            return Link(
                desk=desk, number=last.number + 1, tick=tick + 1, prev=last.hash
            )
        root = root_of(connection) or NO_ENTRY
        return Link(desk=desk, number=1, tick=tick + 1, prev=root)

    def _packed(self, drafts: Iterable[Draft]) -> dict[Sha256, AtRest]:
        """Compress the files of drafts that the store does not hold yet."""
        given: dict[Sha256, Content] = {}
        needed: list[Sha256] = []
        for draft in drafts:
            given.update(draft.files)
            needed.extend(draft.act.files)
        if not needed and not given:
            return {}
        known = self.known_files([*needed, *given])
        for sha256 in needed:
            if sha256 not in known and sha256 not in given:
                raise MissingBlobError(
                    f"{self.where}: the file with hash {sha256[:12]}… is not stored "
                    "and was not handed over; add the file again"
                )
        fresh = [own for own in given.items() if own[0] not in known]
        with Threads(max_workers=PACKING) as hands:
            return {own.sha256: own for own in hands.map(_at_rest, fresh)}

    @staticmethod
    def _add_files(connection: Connection, files: Iterable[AtRest]) -> None:
        for file in files:
            if not _known(connection, [file.sha256]):
                connection.execute(
                    BLOB.insert().values(
                        sha256=file.sha256,
                        size=file.size,
                        encoding=file.encoding,
                        data=file.data,
                    )
                )

    # Reading.

    @contextmanager
    def _read(self) -> Iterator[Connection]:
        gate = self._gate if self.in_memory else nullcontext()
        with (
            gate,
            explained(self.where),
            self._transaction(writing=False) as (connection, _),
        ):
            yield connection

    def _saw(self, mark: NewestEntry | None) -> None:
        """Remember the newest entry, by which the file is known again."""
        file = self._file
        if file is None or mark is None:
            return
        if file.mark is None or mark.seq > file.mark.seq:
            file.mark = mark

    def new_since(self, cursor: Cursor) -> tuple[tuple[Entry, ...], Cursor]:
        """Return the entries that arrived after a cursor, and the next cursor."""
        rows = self._rows_since(cursor)
        last = Cursor(rows[-1].seq) if rows else cursor
        if rows:
            self._saw(NewestEntry(last, rows[-1].hash))
        return tuple(entry_of(row) for row in rows), last

    def _rows_since(self, cursor: Cursor) -> Sequence[Row[Any]]:
        with self._read() as connection:
            return connection.execute(
                select(*READ).where(ENTRY.c.seq > cursor).order_by(ENTRY.c.seq)
            ).all()

    @property
    def rows_at(self) -> str | None:
        """Where the entries lie in a file of this computer; None = in none."""
        return self.where if self.is_file else None

    def raw_rows(self, last: Cursor) -> list[RawRow]:
        """Return the rows up to a cursor as they lie in a file of this computer.

        None of them where a column holds bytes.
        """
        with self._rows() as connection:
            file: Any = connection.connection.dbapi_connection
            kept, file.text_factory = file.text_factory, bytes
            try:
                return [row for (row,) in file.execute(_FIRST, (last,))]
            except sqlite3.OperationalError:  # JSON holds none
                return []
            finally:
                file.text_factory = kept

    def checked_rows(self, last: Cursor) -> list[RawRow]:
        """Return the same, held against their hashes where they are a copy."""
        return self.raw_rows(last)

    @contextmanager
    def _rows(self) -> Iterator[Connection]:
        with self._read() as connection:
            yield connection

    @contextmanager
    def unheard(self) -> Iterator[None]:
        """Let work whose faults nobody hears leave a lost file to be told later."""
        told = self._file is not None and self._file.told
        try:
            yield
        finally:
            if self._file is not None:
                self._file.told = told

    def last(self) -> Cursor:
        """Return the cursor of the newest entry."""
        with self._read() as connection:
            newest = self._newest(connection)
        self._saw(newest)
        return Cursor(newest.seq if newest is not None else 0)

    def entries(self) -> tuple[Entry, ...]:
        """Return all entries in the order of replay."""
        found, _ = self.new_since(START)
        return tuple(sorted(found, key=lambda entry: entry.order))

    def held(self, sha256: Sha256) -> HeldFile | None:
        """Return a file by its content address without fetching it; None = not here."""
        return self.all_held([sha256]).get(sha256)

    def all_held(self, hashes: Iterable[Sha256]) -> dict[Sha256, HeldFile]:
        """Return those of some files that are here, as `held` does."""
        return {
            sha256: HeldFile(sha256=sha256, where=self.where, fetch=self.stored_file)
            for sha256 in self.known_files([*hashes])
        }

    def known_files(self, hashes: Iterable[Sha256]) -> set[Sha256]:
        """Return which of some files the store holds."""
        with self._read() as connection:
            return _known(connection, list(hashes))

    def file_hashes(self) -> tuple[Sha256, ...]:
        """Return the content addresses of all files held, sorted."""
        with self._read() as connection:
            found = connection.execute(select(BLOB.c.sha256)).scalars().all()
        if not all(isinstance(item, str) for item in found):
            raise DamagedError(
                f"{self.where}: the list of stored files was damaged. Run `sandtail "
                "verify` on the event, and use another copy."
            )
        return tuple(sorted(Sha256(item) for item in found))

    def stored_file(self, sha256: Sha256) -> StoredFile:
        """Return a file as it lies in the store, unchecked."""
        found = self._stored_files([sha256])
        if not found:
            raise MissingBlobError(
                f"{self.where}: the file with hash {sha256[:12]}… is missing. Merge "
                "the event file of the desk that added it, or add the file again."
            )
        return found[sha256]

    def _stored_files(self, hashes: Sequence[Sha256]) -> dict[Sha256, StoredFile]:
        """Return those of some files that are there, fetched together, unchecked."""
        with self._read() as connection:
            rows = [
                row
                for some in _chunks(hashes)
                for row in connection.execute(
                    select(BLOB).where(BLOB.c.sha256.in_(some))
                )
            ]
        return {
            Sha256(row.sha256): StoredFile(
                sha256=Sha256(row.sha256),
                size=row.size,
                encoding=row.encoding,
                data=_bytes_of(row.data),
            )
            for row in rows
        }

    def reader(self, wanted: Iterable[Sha256]) -> Callable[[Sha256], StoredFile]:
        """Return what gives files, packed and checked; those wanted come together."""
        at_rest: dict[Sha256, StoredFile] = {}
        for some in _chunks(list(dict.fromkeys(wanted))):
            with suppress(DamagedError):  # one alone, perhaps: each tells by itself
                at_rest |= checked([*self._stored_files(some).values()], self.where)

        def read(sha256: Sha256) -> StoredFile:
            if sha256 not in at_rest:
                return checked([self.stored_file(sha256)], self.where)[sha256]
            return at_rest[sha256]

        return read

    def file(self, sha256: Sha256) -> bytes:
        """Return a file's bytes, checked against its content address."""
        return self.stored_file(sha256).content(self.where)

    def add_desk_role(
        self,
        role: str,
        password: str,
        *,
        desks: tuple[str, ...] = (),
        officials: tuple[str, ...] = (),
    ) -> None:
        """Make a PostgreSQL user for a desk that may read and insert only."""
        if self.engine.dialect.name != "postgresql":
            raise LedgerError(f"{self.where}: only a PostgreSQL ledger has users")
        with self.turn() as connection:
            desk_role(connection, role, password, desks=desks, officials=officials)


class FilesAtHand:
    """Files of a store, kept from one reading of an event to the next, packed."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._kept: dict[Sha256, StoredFile | bytes] = {}

    @contextmanager
    def reading(
        self, wanted: Iterable[Sha256], fresh: Mapping[Sha256, bytes] = NO_FILES
    ) -> Iterator[Callable[[Sha256], StoredFile | bytes]]:
        """Give what reads files; of those kept, what it did not read is let go.

        Those wanted are fetched together; `fresh` are some that nobody stored yet.
        """
        used: dict[Sha256, StoredFile | bytes] = {}
        held = {**self._kept, **fresh}
        read = self._store.reader(name for name in wanted if name not in held)

        def load(sha256: Sha256) -> StoredFile | bytes:
            if sha256 not in used:
                kept = held.get(sha256)
                used[sha256] = read(sha256) if kept is None else kept
            return used[sha256]

        yield load
        self._kept = used


def check_entry(entry: Entry, where: str) -> None:
    """Raise unless an entry's content fits its hash."""
    if hash_of(entry) != entry.hash:
        raise DamagedError(
            f"{where}: entry {entry.label} was altered: its content does not fit its "
            "hash. Run `sandtail verify` on it, and use another copy."
        )


def root_of(connection: Connection) -> EntryId | None:
    """Return the event's first entry; None where there is none yet."""
    asked = select(ENTRY.c.hash).where(ENTRY.c.prev == NO_ENTRY, ENTRY.c.tick == 1)
    found = connection.execute(asked).scalar()
    return None if found is None else EntryId(found)


_COLUMNS = tuple(column.type.python_type for column in READ)


def entry_of(row: Row[Any]) -> Entry:
    """Make an entry of a row of the table."""
    if tuple(map(type, row)) != _COLUMNS:
        raise DamagedError(
            f"the row of entry {row.desk!r} #{row.number!r} (arrival {row.seq}) was "
            "damaged. Run `sandtail verify` on the event, and use another copy."
        )
    return Entry(
        desk=DeskId(row.desk),
        number=row.number,
        tick=row.tick,
        kind=row.kind,
        payload=row.payload,
        who=row.who,
        at=row.at,
        why=row.why,
        replaces=tuple(EntryId(item) for item in row.replaces.split()),
        token=row.token,
        prev=EntryId(row.prev),
        hash=EntryId(row.hash),
    )


def _bytes_of(data: object) -> bytes:
    """Return a column's bytes; damage can make SQLite believe they are text."""
    if isinstance(data, str):
        return data.encode("utf-8", "surrogateescape")
    return bytes(data) if isinstance(data, bytes | memoryview) else b""


def _row_of(entry: Entry, *, again: bool) -> dict[str, object]:
    return {
        "again": int(again),
        "hash": entry.hash,
        "desk": entry.desk,
        "number": entry.number,
        "tick": entry.tick,
        "kind": entry.kind,
        "payload": entry.payload,
        "who": entry.who,
        "at": entry.at,
        "why": entry.why,
        "replaces": " ".join(entry.replaces),
        "token": entry.token,
        "prev": entry.prev,
    }


def _chunks(hashes: Sequence[Sha256]) -> Iterator[Sequence[Sha256]]:
    for start in range(0, len(hashes), CHUNK):
        yield hashes[start : start + CHUNK]


def _ends(
    connection: Connection, desk: DeskId, most: int | None = None
) -> tuple[int, Any]:
    """Return the greatest tick, and the row of a desk's last entry, up to a limit."""
    ticks = select(func.max(ENTRY.c.tick))
    if most is not None:
        ticks = ticks.where(ENTRY.c.tick <= most)
    own = select(
        ENTRY.c.hash, ENTRY.c.number, ticks.scalar_subquery().label("tick")
    ).where(ENTRY.c.desk == desk)
    if most is not None:
        own = own.where(ENTRY.c.tick <= most, ENTRY.c.number <= most)
    last = connection.execute(
        own.order_by(ENTRY.c.number.desc(), ENTRY.c.hash.desc()).limit(1)
    ).one_or_none()
    tick = connection.execute(ticks).scalar() if last is None else last.tick
    return max(tick or 0, 0), last


def _at_rest(own: tuple[Sha256, Content]) -> AtRest:
    sha256, content = own
    return pack(sha256, content) if isinstance(content, bytes) else content


def _known(connection: Connection, hashes: Sequence[Sha256]) -> set[Sha256]:
    known: set[Sha256] = set()
    for some in _chunks(hashes):
        found = connection.execute(select(BLOB.c.sha256).where(BLOB.c.sha256.in_(some)))
        known.update(Sha256(item) for item in found.scalars())
    return known
