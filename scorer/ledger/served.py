"""A ledger on a server, and what this computer holds of it.

A desk reads from the server and keeps what it read in a copy (`scorer.ledger.copies`).
While the server is away the copy stands in for it, to be read only: what is recorded
waits.  The server is always right: where the copy is no beginning of what it holds,
nothing of the copy counts.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Row, text

from scorer.facts import Fact, count, fact, moment, words
from scorer.ledger.acts import EntryId, Sha256
from scorer.ledger.copies import Copy, address_of
from scorer.ledger.copy_tables import NOTHING
from scorer.ledger.engine import explained, let_go, server_engine, shown
from scorer.ledger.entry import Entry, RawRow, of_raw
from scorer.ledger.faults import (
    DamagedError,
    LedgerError,
    MissingBlobError,
    OtherEventError,
    UnreachableError,
)
from scorer.ledger.files import StoredFile
from scorer.ledger.store import Cursor, Store, check_entry, root_of

_SAME = text(
    """SELECT count(*), encode(sha256(convert_to(string_agg(hash, '' ORDER BY seq),
    'UTF8')), 'hex') FROM entry WHERE seq <= :last"""
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Away:
    """A server does not answer: what is shown is of a moment before."""

    as_of: datetime
    """When it last answered this computer."""
    why: str
    """What is heard instead of it."""

    @property
    def says(self) -> Fact:
        """State it."""
        return fact("database-away", moment=moment(self.as_of.timestamp()))


class Served(Store):
    """One ledger on a server, with a copy on this computer."""

    def __init__(
        self,
        url: str,
        connect: Callable[[], Store],
        *,
        folder: Path,
        clock: Callable[[], datetime],
    ) -> None:
        engine = server_engine(url)
        super().__init__(engine, shown(engine.url), writing=True)
        self.away: Away | None = None
        self._connect, self._clock = connect, clock
        self._folder, self._address = folder, address_of(url)
        self._copy: Copy | None = None
        self._answered: datetime | None = None
        self.told: Fact | None = None
        """What people must know of how the copy and the server differ."""

    def open(self, *, or_copy: bool) -> None:
        """Find the server, or else the copy.

        Raises
        ------
        UnreachableError
            It does not answer, and there is no copy, or none was asked for.
        """
        try:
            server = self._connect()
        except UnreachableError as error:
            if or_copy:
                self._copy = Copy.at_address(self._folder, self._address)
            if self._copy is None:
                raise
            self.away = Away(as_of=self._copy.answered, why=str(error))
        else:
            self.told = self.join(server)

    def reached(self) -> Store:
        """Find the server again; it may take seconds."""
        server = self._connect()
        try:
            with explained(self.where), server.engine.connect() as connection:
                root = root_of(connection)
        except LedgerError:
            server.close()
            raise
        if self._copy is not None and root != self._copy.root:
            server.close()
            raise OtherEventError(
                f"{self.where}: another event answers there now. Nothing was sent to it, "
                "and what was entered here waits. Ask who looks after the database; to "
                "work on the other event, close this one and open it."
            )
        return server

    def join(self, server: Store) -> Fact | None:
        """Go on with the server itself; return what people must know of it."""
        let_go(self.engine)
        self.engine, self.writing = server.engine, server.writing
        with explained(self.where), self.engine.connect() as connection:
            root = root_of(connection)
            known = self._copy or self._copy_of(root)
            told = None if known is None else self._compared(connection, known)
        self._copy = self._copy_of(root) if told else known
        self.away = None
        return told

    def _copy_of(self, root: EntryId | None) -> Copy | None:
        if root is None:
            return None
        return Copy.of_event(self._folder, root, self._address)

    def _compared(self, connection: Connection, copy: Copy) -> Fact | None:
        """Hold the copy against the server; where they differ, put it aside and say so."""
        entries, digest = connection.execute(_SAME, {"last": copy.last}).one()
        if (entries, digest or NOTHING) == (copy.entries, copy.digest):
            return None
        held, place = copy.entries, copy.set_aside()
        return fact(
            "copy-differs",
            where=words(self.where),
            entries=count(held),
            file=words(str(place or copy.path)),
        )

    def close(self) -> None:
        """Let go of the event."""
        if self._copy is not None:
            if self._answered is not None and self.away is None:
                self._copy.note(self._answered, every_s=0.0)
            self._copy.close()
        super().close()

    # Reading.

    @contextmanager
    def _read(self) -> Iterator[Connection]:
        copy = self._copy if self.away is not None else None
        if copy is None:
            with super()._read() as connection:
                yield connection
            return
        with explained(self.where), copy.reading() as connection:
            yield connection

    @contextmanager
    def turn(self) -> Iterator[Connection]:
        """Give one writer a transaction, as `Store` does; UnreachableError while away."""
        if self.away is not None:
            raise UnreachableError(self.away.why)
        with super().turn() as connection:
            yield connection

    def server_time(self) -> datetime | None:
        """Return the server's clock; None while it is away."""
        return None if self.away is not None else super().server_time()

    def new_since(self, cursor: Cursor) -> tuple[tuple[Entry, ...], Cursor]:
        """Return the entries that arrived after a cursor, and the next cursor."""
        entries, last = super().new_since(cursor)
        if self.away is not None:
            try:
                self._check(entries)
            except DamagedError as error:
                raise UnreachableError(self.away.why) from error
        return entries, last

    def _check(self, entries: Iterable[Entry]) -> None:
        """Hold what the copy holds against its hashes; an altered copy is made anew."""
        try:
            for entry in entries:
                check_entry(entry, self.where)
        except DamagedError:
            if self._copy is not None:
                self._copy.discard()
            raise

    def _rows_since(self, cursor: Cursor) -> Sequence[Row[Any]]:
        rows = super()._rows_since(cursor)
        copy = self._copy
        if copy is not None and not copy.off and self.away is None:
            self._answered = self._clock()
            gap = rows and copy.last < cursor
            copy.grow(super()._rows_since(copy.last) if gap else rows, self._answered)
        return rows

    # The copy's part.

    @property
    def rows_at(self) -> str | None:
        """Where the entries lie in a file of this computer; None = in none."""
        return None if self._copy is None or self._copy.off else str(self._copy.path)

    @contextmanager
    def _rows(self) -> Iterator[Connection]:
        if self._copy is None:
            raise DamagedError(f"{self.where}: there is no copy of it here")
        with explained(self.where), self._copy.reading() as connection:
            yield connection

    def checked_rows(self, last: Cursor) -> list[RawRow]:
        """Return rows of the copy, each held against its hash."""
        rows = super().checked_rows(last)
        self._check(map(of_raw, rows))
        return rows

    def known_files(self, hashes: Iterable[Sha256]) -> set[Sha256]:
        """Return which of some files the server holds, or did when it last answered."""
        asked, copy = set(hashes), self._copy
        if self.away is not None and copy is not None:
            return asked - copy.absent(asked)
        found = super().known_files(asked)
        if copy is not None:
            copy.note_absent(asked, found)
        return found

    def stored_file(self, sha256: Sha256) -> StoredFile:
        """Return a file as it lies in the store, unchecked."""
        try:
            return super().stored_file(sha256)
        except MissingBlobError:
            if self.away is None:
                raise
        raise UnreachableError(
            f"{self.where} is away, and the file {sha256[:12]}… was never read on this "
            "computer. Wait until the database answers; what is entered meanwhile waits."
        )

    def _stored_files(self, hashes: Sequence[Sha256]) -> dict[Sha256, StoredFile]:
        copy = self._copy
        found = {} if copy is None else copy.files(hashes)
        left = [sha256 for sha256 in hashes if sha256 not in found]
        if left and self.away is None:
            fresh = super()._stored_files(left)
            found |= fresh
            if copy is not None:
                copy.keep(fresh.values())
        return found
