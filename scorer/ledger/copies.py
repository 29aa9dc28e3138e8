"""Copies of served events: what desks of this computer read, for when a server is away.

Each is an event file in the user's own cache folder, with the arrival numbers of its
server, and may be deleted at any time.  It is named after the event's first entry, never
after an address, of which only a hash is written down.  Nothing in it is believed unseen:
each entry fits its hash, all of them the digest that was noted, each file its own.
Whatever goes wrong with one means that the server is asked.
"""

import hashlib
import os
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import Connection, Row, func, select
from sqlalchemy.engine import make_url
from sqlalchemy.exc import SQLAlchemyError

from scorer.files import write_whole
from scorer.ledger.acts import EntryId, Sha256
from scorer.ledger.copy_tables import (
    ABOUT,
    ABSENT,
    FILE,
    HASHES,
    INSERT,
    add_files,
    file_of,
    make_tables,
    note_absent,
    packed_hash,
)
from scorer.ledger.engine import file_engine
from scorer.ledger.entry import utc_text
from scorer.ledger.faults import LedgerError
from scorer.ledger.files import StoredFile
from scorer.ledger.schema import BLOB, ENTRY, STEPS, format_of
from scorer.ledger.store import CHUNK, START, Cursor, check_entry, entry_of

T = TypeVar("T")
FOLDER = "served-1"
"""Within the cache; with the number of its form."""
MOST = 20
"""So many copies are kept; those that no desk read for longest go first."""
NOTED_EVERY_S = 60.0
"""The moment of the last answer is written down no more often than this."""
_ROOT = re.compile("[0-9a-f]{64}")
_PLACE = ("host", "hostaddr", "port", "dbname", "service", "options")
"""What says in an address which event it is; users and passwords do not."""


def address_of(url: str) -> str:
    """Return a hash of where an address leads, whoever asks there."""
    parsed = make_url(url)
    told = {key: os.environ.get(f"PG{key.upper()}", "") for key in _PLACE}
    told["dbname"] = os.environ.get("PGDATABASE", "")
    told |= {key: str(value) for key, value in parsed.query.items() if key in told}
    given = {"host": parsed.host, "port": parsed.port, "dbname": parsed.database}
    told |= {key: str(value) for key, value in given.items() if value}
    return hashlib.sha256(repr(sorted(told.items())).encode()).hexdigest()


class Copy:
    """What this computer holds of one served event."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.off = False
        """Something went wrong with it: it is left alone."""
        self._engine = file_engine(path)
        self._digest = hashlib.sha256()
        self._entries = -1  # not read yet
        self._last = START
        self._noted: datetime | None = None

    @classmethod
    def of_event(cls, folder: Path, root: EntryId, address: str) -> "Copy | None":
        """Return the copy of an event, made where there is none; None = it cannot be."""
        if not _ROOT.fullmatch(root):
            return None
        path = folder / FOLDER / f"{root}.sqlite"
        try:
            path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            if not path.exists():
                _make_room(path.parent)
                path.touch(mode=0o600)
            own = cls(path)
            if not own.answer(own._prepared):
                return None
            write_whole(path.with_name(f"at-{address[:32]}"), root.encode())
        except OSError:
            return None
        return own

    @classmethod
    def at_address(cls, folder: Path, address: str) -> "Copy | None":
        """Return the copy of the event that an address led to, if all of it is sound."""
        try:
            root = (folder / FOLDER / f"at-{address[:32]}").read_text("ascii")
        except (OSError, ValueError):
            return None
        path = folder / FOLDER / f"{root}.sqlite"
        if not _ROOT.fullmatch(root) or not path.is_file():
            return None
        own = cls(path)
        if own.answer(own._is_sound):
            return own
        own.close()
        return None

    def close(self) -> None:
        """Let go of the file."""
        self._engine.dispose()

    # Reading.

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection to read with."""
        with self._engine.connect() as connection, connection.begin():
            yield connection

    @property
    def root(self) -> EntryId:
        """The event's first entry, by which it is known."""
        return EntryId(self.path.stem)

    @property
    def last(self) -> Cursor:
        """Up to where it holds the server's entries."""
        self.answer(self._counted)
        return self._last

    @property
    def entries(self) -> int:
        """How many it holds."""
        self.answer(self._counted)
        return max(self._entries, 0)

    @property
    def digest(self) -> str:
        """Hash of the hashes of all its entries, as they arrived."""
        self.answer(self._counted)
        return self._digest.hexdigest()

    @property
    def answered(self) -> datetime:
        """When the server was last heard of; 1970 where that is not known."""
        found = self.answer(lambda: str(self._about().answered))
        try:
            return datetime.fromisoformat(found or "")
        except ValueError:
            return datetime.fromtimestamp(0, UTC)

    def files(self, hashes: Sequence[Sha256]) -> dict[Sha256, StoredFile]:
        """Return those of some files that are here as they were stored."""
        return self.answer(lambda: dict(self._files(hashes))) or {}

    def absent(self, hashes: Iterable[Sha256]) -> set[Sha256]:
        """Return which of some files the server did not have."""
        with self.reading() as connection:
            return {*hashes} & set(connection.execute(select(ABSENT)).scalars())

    # Writing.

    def grow(self, rows: Sequence[Row[Any]], answered: datetime) -> None:
        """Take rows of the server that follow what is here; those known are passed over."""
        if any(row.seq > self._last for row in rows):
            self.answer(lambda: self._grown(rows, answered))
        else:
            self.note(answered)

    def note(self, answered: datetime, every_s: float = NOTED_EVERY_S) -> None:
        """Note when the server answered, now and then."""
        before = self._noted
        if before and abs((answered - before).total_seconds()) < every_s:
            return
        self.answer(lambda: self._write(self._noting(answered)))

    def keep(self, files: Iterable[StoredFile]) -> None:
        """Take files as they lie on the server."""
        self.answer(lambda: self._write(lambda c: add_files(c, files)))

    def note_absent(self, asked: set[Sha256], found: set[Sha256]) -> None:
        """Note which files the server has not."""
        self.answer(lambda: self._noted_absent(asked, found))

    def discard(self) -> None:
        """Delete what is not as it was written; the server has it all."""
        self.off = True
        self.close()
        with suppress(OSError):
            self.path.unlink()

    def set_aside(self) -> Path | None:
        """Give its place free; return where it lies now, None where it stays."""
        self.close()
        at = f"{datetime.now(UTC):%Y%m%d-%H%M%S}"
        place = self.path.with_name(f"{self.path.stem[:16]}-{at}.sandtail")
        try:
            self.path.rename(place)
        except OSError:
            return None
        return place

    def answer(self, work: Callable[[], T]) -> T | None:
        """Do something with it; whatever goes wrong leaves it alone from then on."""
        if self.off:
            return None
        try:
            return work()
        except (LedgerError, SQLAlchemyError, OSError, UnicodeError):
            self.off = True  # what is damaged is made anew when it is next opened
        return None

    # All that may fail.

    def _prepared(self) -> bool:
        """Make the tables; what is not sound, or of another version, is made anew."""
        try:
            self._write(make_tables)
            sound = self._is_sound()
        except (SQLAlchemyError, UnicodeError):
            sound = False
        if not sound:
            self.close()
            self.path.unlink()
            self.path.touch(mode=0o600)
            self._write(make_tables)
            self._count_again()
        return True

    def _is_sound(self) -> bool:
        """Tell whether nothing is missing among the entries it once took."""
        with self.reading() as connection:
            if format_of(connection) != STEPS[-1].number:
                return False
        self._counted()
        about = self._about()
        return (about.entries, about.digest) == (
            self._entries,
            self._digest.hexdigest(),
        )

    def _about(self) -> Row[Any]:
        with self.reading() as connection:
            return connection.execute(select(ABOUT)).one()

    def _counted(self) -> None:
        if self._entries < 0:
            self._count_again()

    def _count_again(self) -> None:
        with self.reading() as connection:
            self._count(connection)

    def _count(self, connection: Connection) -> None:
        hashes = connection.execute(HASHES).scalars().all()
        last = connection.execute(select(func.max(ENTRY.c.seq))).scalar()
        self._digest = hashlib.sha256("".join(hashes).encode())
        self._entries, self._last = len(hashes), Cursor(last or 0)

    def _grown(self, rows: Sequence[Row[Any]], answered: datetime) -> None:
        digest, held = self._digest, self._entries

        def take(connection: Connection) -> None:
            nonlocal digest, held
            about = connection.execute(select(ABOUT)).one()
            if about.entries != self._entries:  # another window was faster
                self._count(connection)
            fresh = [row for row in rows if row.seq > self._last]
            digest, held = self._digest.copy(), self._entries + len(fresh)
            for row in fresh:
                check_entry(entry_of(row), str(self.path))
                digest.update(row.hash.encode())
            file: Any = connection.connection.dbapi_connection
            file.executemany(INSERT, [(*row, row.token, row.token) for row in fresh])
            connection.execute(
                ABOUT.update().values(
                    entries=held,
                    digest=digest.hexdigest(),
                    answered=utc_text(answered),
                )
            )

        self._write(take)
        self._digest, self._entries, self._noted = digest, held, answered
        self._last = Cursor(max(self._last, rows[-1].seq))

    def _noting(self, answered: datetime) -> Callable[[Connection], None]:
        def write(connection: Connection) -> None:
            connection.execute(ABOUT.update().values(answered=utc_text(answered)))
            self._noted = answered

        return write

    def _noted_absent(self, asked: set[Sha256], found: set[Sha256]) -> None:
        with self.reading() as connection:
            known = set(connection.execute(select(ABSENT)).scalars())
        fresh, come = asked - found - known, found & known
        if fresh or come:
            self._write(lambda c: note_absent(c, fresh, come))

    def _files(self, hashes: Sequence[Sha256]) -> Iterator[tuple[Sha256, StoredFile]]:
        for start in range(0, len(hashes), CHUNK):
            asked = BLOB.c.sha256.in_(hashes[start : start + CHUNK])
            with self.reading() as connection:
                rows = connection.execute(
                    select(BLOB, FILE.c.packed)
                    .join(FILE, FILE.c.sha256 == BLOB.c.sha256)
                    .where(asked)
                ).all()
            for row in rows:
                file = file_of(row)
                if row.packed == packed_hash(file):
                    yield file.sha256, file

    def _write(self, work: Callable[[Connection], None]) -> None:
        with self._engine.connect() as plain:
            connection = plain.execution_options(writing=True)
            with connection.begin():
                work(connection)


def _make_room(folder: Path) -> None:
    """Delete copies that no desk read for longest."""
    held = sorted(folder.glob("*.sqlite"), key=lambda path: path.stat().st_mtime)
    for path in held[: max(len(held) - MOST + 1, 0)]:
        path.unlink(missing_ok=True)
