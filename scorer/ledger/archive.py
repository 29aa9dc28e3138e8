"""One file that holds an event for good: a jury can read it, check it and run it again.

The archive is a ZIP of plain files: every entry as a line of JSON, every file by its
content address, the event as a folder, what was published, a manifest of hashes and a
page that says how to check it all, with or without this program.  The same ledger gives
the same bytes.
"""

import hashlib
import json
import lzma
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

from scorer.ledger.acts import DeskId, EntryId, Sha256
from scorer.ledger.entry import Entry, hash_of, sha256_of
from scorer.ledger.faults import DamagedError, LedgerError, NotALedgerError
from scorer.ledger.publish import file_hashes
from scorer.ledger.replay import State
from scorer.ledger.store import Store, StoredFile, pack
from scorer.progress import Control

FORMAT = 1
ENTRIES = "entries.jsonl"
MANIFEST = "manifest.json"
README = "README.txt"
_MOMENT = (1980, 1, 1, 0, 0, 0)
"""Earliest time a ZIP can hold: no clock goes into the bytes."""
MOST_BYTES = 2**30
"""No member of an archive is larger than this once unpacked."""

_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    KeyError,
    OSError,
    RuntimeError,
    ValueError,
)
"""What reading a damaged ZIP raises: a flipped bit can ask for any method or feature."""

_PAGE = """\
This archive holds everything that was set down and published at an event.

To run it again:
    sandtail verify {name}     checks every hash and computes every publication again
    sandtail score {name}      computes the results from the evidence

To check it without the program (SHA-256 throughout):
  - manifest.json lists the hash of every other file here.
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


def write_archive(
    store: Store,
    state: State,
    folder: Mapping[str, bytes],
    path: Path,
    *,
    control: Control | None = None,
) -> str:
    """Write an archive and return its SHA-256; `folder` is the event as a folder.

    The file appears whole or not at all; an existing one is never overwritten.
    """
    if path.exists():
        raise LedgerError(f"{path} exists already; choose another name")
    part = path.with_name(path.name + ".part")
    control = control or Control()
    manifest: dict[str, str] = {}
    try:
        with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as book:
            for name, data in _members(store, state, folder, path.name, control):
                _add(book, name, data)
                manifest[name] = hashlib.sha256(data).hexdigest()
            listing = {"format": FORMAT, "heads": state.heads, "files": manifest}
            _add(book, MANIFEST, _json(listing))
        digest = sha256_of(part.read_bytes())
        part.rename(path)
    except OSError as error:
        raise LedgerError(
            f"cannot write {path} ({error.strerror}); choose a disk with more room"
        ) from error
    finally:
        part.unlink(missing_ok=True)
    return digest


def read_archive(path: Path) -> tuple[tuple[Entry, ...], tuple[StoredFile, ...]]:
    """Read all entries and files of an archive, checked against their hashes."""
    try:
        with zipfile.ZipFile(path) as book:
            manifest = json.loads(_member(book, MANIFEST))
            _check_format(manifest, path)
            _check_members(book, manifest["files"], path)
            entries = tuple(_entries(book, path))
            files = tuple(_files(book, path))
    except _BROKEN as error:
        raise NotALedgerError(
            f"{path} is no archive of an event, or was damaged ({error}); get another "
            "copy of it"
        ) from error
    return entries, files


def is_archive(path: Path) -> bool:
    """Tell whether a file is an archive of an event."""
    try:
        with zipfile.ZipFile(path) as book:
            return {ENTRIES, MANIFEST} <= set(book.namelist())
    except _BROKEN:
        return False


def _members(
    store: Store,
    state: State,
    folder: Mapping[str, bytes],
    name: str,
    control: Control,
) -> Iterator[tuple[str, bytes]]:
    yield README, _PAGE.format(name=name).encode()
    yield ENTRIES, b"".join(_line(entry) for entry in state.entries)
    for item in sorted(folder):
        yield f"event/{item}", folder[item]
    for publication in state.publications:
        act = publication.act
        tasks = "-".join(map(str, act.tasks)) or "event"
        base = f"published/{tasks}/{act.version:03d}-{act.stage}"
        base += f"-{publication.entry.hash[:8]}"  # two desks may have one version
        for file, sha256 in file_hashes(act).items():
            yield f"{base}/{file}", store.file(sha256)
    for sha256 in control.steps(store.file_hashes(), "archiving files"):
        yield f"files/{sha256}", store.file(sha256)


def _line(entry: Entry) -> bytes:
    return _json(asdict(entry), indent=None) + b"\n"


def _entries(book: zipfile.ZipFile, path: Path) -> Iterator[Entry]:
    for line in _member(book, ENTRIES).splitlines():
        fields: dict[str, Any] = json.loads(line)
        fields["replaces"] = tuple(EntryId(name) for name in fields["replaces"])
        fields["desk"] = DeskId(fields["desk"])
        entry = Entry(**fields)
        if hash_of(entry) != entry.hash:
            raise DamagedError(
                f"{path}: entry {entry.label} was altered: its content does not fit "
                "its hash. Ask for another copy of the archive."
            )
        yield entry


def _files(book: zipfile.ZipFile, path: Path) -> Iterator[StoredFile]:
    for name in sorted(book.namelist()):
        if name.startswith("files/"):
            sha256 = Sha256(name.removeprefix("files/"))
            data = _member(book, name)
            if sha256_of(data) != sha256:
                raise DamagedError(
                    f"{path}: the file {sha256[:12]}… was altered. Ask for another "
                    "copy of the archive."
                )
            yield pack(sha256, data)


def _check_format(manifest: Mapping[str, Any], path: Path) -> None:
    found = manifest.get("format")
    if not isinstance(found, int) or found > FORMAT:
        raise NotALedgerError(
            f"{path} is an archive of format {found}; this version knows formats up to "
            f"{FORMAT}. Update the program."
        )


def _check_members(
    book: zipfile.ZipFile, hashes: Mapping[str, str], path: Path
) -> None:
    for name, sha256 in hashes.items():
        if name != ENTRIES and sha256_of(_member(book, name)) != sha256:
            raise DamagedError(
                f"{path}: {name} was altered. Ask for another copy of the archive."
            )


def _member(book: zipfile.ZipFile, name: str) -> bytes:
    info = book.getinfo(name)
    if info.file_size > MOST_BYTES:
        raise ValueError(f"{name} would unpack to {info.file_size} bytes")
    return book.read(info)


def _add(book: zipfile.ZipFile, name: str, data: bytes) -> None:
    info = zipfile.ZipInfo(name, _MOMENT)
    info.compress_type = zipfile.ZIP_DEFLATED
    info.create_system = 3
    info.external_attr = 0o644 << 16
    book.writestr(info, data)


def _json(value: object, indent: int | None = 1) -> bytes:
    text = json.dumps(value, ensure_ascii=False, sort_keys=True, indent=indent)
    return text.encode()
