"""Tables of a copy: those of an event file, and what makes it a copy of a server's."""

import hashlib
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Column, Connection, Integer, MetaData, Row, String, Table, select

from scorer.ledger.acts import Sha256
from scorer.ledger.entry import utc_text
from scorer.ledger.files import StoredFile
from scorer.ledger.schema import BLOB, ENTRY, READ, format_of, upgrade

_OWN = MetaData()
ABOUT = Table(
    "copied",
    _OWN,
    Column("entries", Integer),
    Column("digest", String),
    Column("answered", String),
)
"""One row: of how many entries, the hash of their hashes, when the server answered."""
FILE = Table(
    "copied_file",
    _OWN,
    Column("sha256", String, primary_key=True),
    Column("packed", String),
)
"""A hash of each file as it lies in `blob`."""
ABSENT = Table("absent_file", _OWN, Column("sha256", String, primary_key=True))
"""Files that entries name and the server has not."""
_UNGUARDED = ("entry_no_jump", "blob_no_delete")
"""Numbers are those of the server, and a damaged file is taken from it again."""
INSERT = f"""INSERT INTO entry ({", ".join(column.name for column in READ)}, again)
    VALUES ({", ".join("?" * len(READ))},
    (SELECT ? <> '' AND EXISTS (SELECT 1 FROM entry WHERE token = ?)))"""  # noqa: S608
HASHES = select(ENTRY.c.hash).order_by(ENTRY.c.seq)
NOTHING = hashlib.sha256().hexdigest()
"""Digest of no entry."""


def make_tables(connection: Connection) -> None:
    """Make the tables where there are none."""
    if not format_of(connection):
        upgrade(connection, program="sandtail", at=utc_text(datetime.now(UTC)))
        for guard in _UNGUARDED:
            connection.exec_driver_sql(f"DROP TRIGGER {guard}")
        _OWN.create_all(connection)
        none = {"entries": 0, "digest": NOTHING, "answered": ""}
        connection.execute(ABOUT.insert().values(none))


def file_of(row: Row[Any]) -> StoredFile:
    """Return the file of a row, unchecked; what is no bytes is damage."""
    data = row.data if isinstance(row.data, bytes) else b""
    return StoredFile(
        sha256=Sha256(row.sha256), size=row.size, encoding=row.encoding, data=data
    )


def packed_hash(file: StoredFile) -> str:
    """Return a hash of a file as it is stored: sooner found than that of its content."""
    about = f"{file.sha256} {file.size} {file.encoding} ".encode()
    return hashlib.sha256(about + file.data).hexdigest()


def add_files(connection: Connection, files: Iterable[StoredFile]) -> None:
    """Put files down, in the place of what lay there under their names."""
    for file in files:
        row = {column.name: getattr(file, column.name) for column in BLOB.columns}
        for table in (BLOB, FILE):
            connection.execute(table.delete().where(table.c.sha256 == file.sha256))
        connection.execute(BLOB.insert().values(row))
        packed = {"sha256": file.sha256, "packed": packed_hash(file)}
        connection.execute(FILE.insert().values(packed))


def note_absent(connection: Connection, fresh: set[Sha256], come: set[Sha256]) -> None:
    """Note which more files the server has not, and which it has by now."""
    connection.execute(ABSENT.delete().where(ABSENT.c.sha256.in_(come)))
    if fresh:
        connection.execute(ABSENT.insert(), [{"sha256": name} for name in fresh])
