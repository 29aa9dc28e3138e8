"""One file that holds an event for good: a jury can read it, check it and run it again.

The archive is a ZIP of plain files: every entry as a line of JSON, every file by its
content address, the event as a folder, what was published, a manifest of hashes and a
page that says how to check it all, with or without this program.  The same ledger gives
the same bytes, whatever the file is called.  It is written and read piece by piece, and
read back before it is called done.
"""

import hashlib
import json
import os
import tempfile
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict
from pathlib import Path
from typing import Any

from scorer.event.folder import write_folder
from scorer.event.raw import RawEvent
from scorer.files import flaw_of_name, part_beside, put_in_place
from scorer.ledger.acts import DeskId, EntryId, Sha256
from scorer.ledger.audit import Severity, chain_problems
from scorer.ledger.bundle import (
    MANIFEST,
    Reader,
    Writer,
    altered,
    reading,
    unfit,
)
from scorer.ledger.entry import Entry, hash_of, heads_of, publications
from scorer.ledger.faults import DamagedError, LedgerError, NotALedgerError
from scorer.ledger.files import PIECE, StoredFile, pack_pieces
from scorer.ledger.publish import file_hashes
from scorer.ledger.store import Store, check_entry
from scorer.progress import Control

ENTRIES = "entries.jsonl"
README = "README.txt"
FILES, EVENT, PUBLISHED = "files/", "event/", "published/"

PAGE = """\
This archive holds everything that was set down and published at an event.

To run it again:
    sandtail verify ARCHIVE    checks every hash and computes every publication again
    sandtail score ARCHIVE     computes the results from the evidence

To check it without the program (SHA-256 throughout):
  - manifest.json lists the hash of every other file here; nothing else may be here.
    "heads" names the last entry of every desk's chain.
  - files/ holds logs, terrain and publications; each file's name is its hash.
  - entries.jsonl holds one entry a line, in order.  An entry's "hash" is the SHA-256 of
    a header, a line feed and the text under "payload", all UTF-8.  The header is the
    JSON object of at, desk, kind, number, prev, replaces, tick, token, who and why, in
    that order, without spaces and with non-ASCII characters as they are.
    "prev" names the desk's entry before (a desk's first names the event's root), so no
    entry can be altered or taken out without all later ones showing it.
  - published/ holds what went up on the board, version by version.
  - event/ holds the last state as a folder of tables that people can read.

Results and heights are evidence for a sport, computed after the flight, with stated
uncertainty. They are not for navigation, nor for deciding whether a flight was lawful
or safe: the aviation authority, the event's waiver, the event director and the safety
officials come first.
"""

Member = tuple[str, int, Iterable[bytes]]
"""Name, size in bytes, content in pieces."""


def addressed(sha256: Sha256) -> bytes:
    """Stand in for a file's content by its address: `write_archive` fills it in."""
    return sha256.encode()


def write_archive(
    store: Store,
    entries: Sequence[Entry],
    raw: RawEvent,
    path: Path,
    *,
    control: Control | None = None,
) -> str:
    """Write an archive, read it back, and return its SHA-256.

    `raw` is the event as it stands, made with `addressed` so that it holds no content.
    The file appears whole and checked or not at all; an existing one is never
    overwritten.
    """
    if os.path.lexists(path):
        raise LedgerError(f"{path} exists already; choose another name")
    _check_sound(store, entries)
    control = control or Control()
    try:
        with part_beside(path) as part:
            with part.open("wb") as file:
                with Writer(file) as writer, tempfile.TemporaryDirectory() as room:
                    for member in _members(store, entries, raw, Path(room), control):
                        writer.add(*member)
                    writer.finish(heads=heads_of(entries))
                file.flush()
                os.fsync(file.fileno())
            control.step(0, 1, "reading it back")
            _read_back(part, path, entries, writer.hashes)
            with part.open("rb") as file:
                digest = hashlib.file_digest(file, "sha256").hexdigest()
            put_in_place(part, path)
    except OSError as error:
        raise LedgerError(
            f"cannot write {path} ({error.strerror}); choose a folder you may write in, "
            "on a disk with room (the folder for temporary files needs some too)"
        ) from error
    return digest


class Archive:
    """An open archive: its entries, and its files one at a time."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader
        with reading(reader.path):
            self.entries = tuple(self._read_entries())
            self._check_heads()
            if list(self.entries) != sorted(self.entries, key=lambda one: one.order):
                raise altered(reader.path, "its entries stand in another order")
            self._check_names()
        reader.check(n for n in self.hashes if not n.startswith((FILES, ENTRIES)))

    @property
    def hashes(self) -> dict[str, str]:
        """The hash of every member but the manifest."""
        return dict(self._reader.hashes)

    def files(self) -> Iterator[StoredFile]:
        """Yield every file, ready for a store, checked against its hash."""
        for name in self._names(FILES):
            with reading(self._reader.path):
                sha256 = Sha256(name.removeprefix(FILES))
                file = pack_pieces(sha256, self._reader.pieces(name))
            yield file

    def size(self, name: str) -> int:
        """Return how many bytes a member has once unpacked."""
        return self._reader.size(name)

    def member(self, name: str) -> bytes:
        """Return the whole content of one member, checked against its hash."""
        with reading(self._reader.path):
            return b"".join(self._reader.pieces(name))

    def check_files(self) -> None:
        """Read every file through and raise if one was altered."""
        self._reader.check(self._names(FILES))

    def _names(self, folder: str) -> list[str]:
        return sorted(name for name in self.hashes if name.startswith(folder))

    def _read_entries(self) -> Iterator[Entry]:
        for line in self._reader.lines(ENTRIES):
            fields: dict[str, Any] = json.loads(line)
            fields["replaces"] = tuple(EntryId(name) for name in fields["replaces"])
            fields["desk"] = DeskId(fields["desk"])
            entry = Entry(**fields)
            if hash_of(entry) != entry.hash:
                raise altered(
                    self._reader.path,
                    f"entry {entry.label} was altered: its content does not fit its hash",
                )
            yield entry

    def _check_heads(self) -> None:
        heads = tuple(self._reader.manifest["heads"])
        if not heads or heads != heads_of(self.entries):
            raise altered(
                self._reader.path,
                f"the manifest names other last entries than the {len(self.entries)} "
                "entries in it have",
            )

    def _check_names(self) -> None:
        """Refuse what no writer puts in, and names that say what is not so."""
        published = dict(_published(self.entries))
        for name, sha256 in self.hashes.items():
            if name.startswith(FILES):
                good = name == FILES + sha256
            elif name.startswith(PUBLISHED):
                good = published.get(name) == sha256
            else:
                good = name in {ENTRIES, README} or name.startswith(EVENT)
            if not good:
                raise altered(
                    self._reader.path, f"{name} is not what the entries say it is"
                )
        for name, sha256 in published.items():
            if name not in self.hashes and FILES + sha256 in self.hashes:
                raise altered(self._reader.path, f"{name} is missing")


@contextmanager
def open_archive(path: Path) -> Iterator[Archive]:
    """Open an archive for reading.

    Raises
    ------
    NotALedgerError
        It is no archive, or its bytes were damaged.
    DamagedError
        Something in it was altered, taken out or put in; for files, when they are read.
    """
    with Reader(path) as reader:
        yield Archive(reader)


def is_archive(path: Path) -> bool:
    """Tell whether a file is an archive of an event."""
    try:
        with reading(path), zipfile.ZipFile(path) as book:
            return {ENTRIES, MANIFEST} <= set(book.namelist())
    except NotALedgerError:
        return False


def _check_sound(store: Store, entries: Sequence[Entry]) -> None:
    """Refuse to make evidence of what is none: it could not be read again."""
    for entry in entries:
        check_entry(entry, store.where)
    for problem in chain_problems(entries):
        if problem.severity is not Severity.NOTICE:
            raise DamagedError(f"{store.where}: {problem}")


def _read_back(
    part: Path, path: Path, entries: Sequence[Entry], hashes: dict[str, str]
) -> None:
    try:
        with open_archive(part) as book:
            book.check_files()
            same = book.entries == tuple(entries)
            same = same and book.hashes == {
                name: sha256 for name, sha256 in hashes.items() if name != MANIFEST
            }
    except LedgerError as error:
        raise LedgerError(
            f"{path} was written, but cannot be read back, and was removed: {error}"
        ) from error
    if not same:
        raise LedgerError(
            f"{path} was written, but reads back otherwise, and was removed; try "
            "another disk"
        )


def _members(
    store: Store,
    entries: Sequence[Entry],
    raw: RawEvent,
    room: Path,
    control: Control,
) -> Iterator[Member]:
    page = PAGE.encode()
    yield README, len(page), [page]
    yield ENTRIES, *_lines(entries, room / ENTRIES)
    yield from _of_folder(store, raw, room / "event")
    held = store.file_hashes()
    for name, sha256 in _published(entries):
        if sha256 in held:  # a foreign entry may name what nobody stored
            yield _of_store(store, name, sha256)
    for sha256 in control.steps(held, "archiving files"):
        yield _of_store(store, FILES + sha256, sha256)


def _lines(entries: Iterable[Entry], path: Path) -> tuple[int, Iterator[bytes]]:
    with path.open("wb") as file:
        for entry in entries:
            text = json.dumps(asdict(entry), ensure_ascii=False, sort_keys=True)
            line = f"{text}\n".encode()
            if fault := unfit(f"entry {entry.label}", len(line), whole=True):
                raise LedgerError(f"this event cannot be archived: {fault}")
            file.write(line)
    return path.stat().st_size, _pieces(path)


def _of_folder(store: Store, raw: RawEvent, folder: Path) -> Iterator[Member]:
    """Yield the event as a folder; addresses give way to the content they name."""
    write_folder(raw, folder)
    named = addresses_in(raw, folder)
    paths = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*")}
    for name in sorted(paths):
        path = paths[name]
        if path in named:
            yield _of_store(store, EVENT + name, named[path])
        elif not path.is_dir():
            yield EVENT + name, path.stat().st_size, _pieces(path)


def addresses_in(raw: RawEvent, folder: Path) -> dict[Path, Sha256]:
    """Return the files of a written folder that stand for a stored one, with its hash."""
    logs = (log.blob for flight in raw.flights for log in flight.logs)
    blobs = (*logs, *((raw.terrain,) if raw.terrain else ()))
    named = {addressed(Sha256(blob.sha256)): Sha256(blob.sha256) for blob in blobs}
    length = len(addressed(Sha256("0" * 64)))
    short = (p for p in folder.rglob("*") if p.is_file() and p.stat().st_size == length)
    found = {path: named.get(path.read_bytes()) for path in short}
    return {path: sha256 for path, sha256 in found.items() if sha256}


def _published(entries: Iterable[Entry]) -> Iterator[tuple[str, Sha256]]:
    """Yield the name and address of every file that went up on the board."""
    for entry, act in publications(entries):
        tasks = "-".join(map(str, act.tasks)) or "event"
        base = f"{PUBLISHED}{tasks}/{act.version:03d}-{act.stage}"
        base += f"-{entry.hash[:8]}"  # two desks may have one version
        for file, sha256 in file_hashes(act).items():
            plain = not any(map(flaw_of_name, file.split("/")))
            if plain and not unfit(f"{base}/{file}", 0):  # else below files/ only
                yield f"{base}/{file}", sha256


def _of_store(store: Store, name: str, sha256: Sha256) -> Member:
    file = store.stored_file(sha256)
    return name, file.size, file.pieces(store.where)


def _pieces(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        yield from iter(lambda: file.read(PIECE), b"")
