"""Open zip folders of logs without trusting them."""

import hashlib
import lzma
import stat
import struct
import zipfile
import zlib
from dataclasses import dataclass
from io import BytesIO
from pathlib import PurePosixPath

from scorer.errors import Fault, InputError
from scorer.event.model import Blob
from scorer.tracks.lines import MAX_LOG_BYTES, printable

MAX_ENTRIES = 5_000
MAX_TOTAL_BYTES = 2**30
"""All files of an archive together, unpacked."""
MAX_RATIO = 200
"""Unpacked over packed; logs shrink by 3 to 30."""
RATIO_FROM_BYTES = 2**20
"""Smaller files may have any ratio."""
_CHUNK = 2**16
_DAMAGED = (
    *(zipfile.BadZipFile, zlib.error, struct.error, lzma.LZMAError, EOFError),
    *(IndexError, NotImplementedError, RuntimeError, ValueError, OSError),
)
"""All that zipfile raises over damaged files, found by feeding it such."""
_JUNK = frozenset({"__macosx", ".ds_store", "thumbs.db", "desktop.ini"})


@dataclass(frozen=True, slots=True, kw_only=True)
class LogArchive:
    """What an archive holds, and what in it cannot be used."""

    blobs: tuple[Blob, ...]
    """In the order of their names; folders stay in the names."""
    faults: tuple[Fault, ...]


def open_archive(blob: Blob) -> list[Blob]:
    """Return the files of a zip, those of zips within it (one level) included.

    Raises InputError, with all that is wrong, when any file cannot be used.
    """
    archive = read_archive(blob)
    if archive.faults:
        raise InputError(archive.faults)
    return list(archive.blobs)


def read_archive(blob: Blob) -> LogArchive:
    """Return the usable files of a zip and a fault for each other one.

    Nothing is written to disk.  Refused: names that lead out of the folder, links, locked
    files, files over MAX_LOG_BYTES or that unpack over MAX_RATIO times, more than
    MAX_ENTRIES files or MAX_TOTAL_BYTES in all, zips in zips in zips.
    """
    opening = _Opening()
    opening.unpack(blob, inner=False)
    return LogArchive(
        blobs=tuple(sorted(opening.blobs, key=lambda b: b.name)),
        faults=tuple(opening.faults),
    )


def is_archive(blob: Blob) -> bool:
    """Tell whether a file is a zip, by its content."""
    return blob.start(4) in (b"PK\x03\x04", b"PK\x05\x06")


class _RefusedError(Exception):
    """Why a file of an archive is not taken."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(found)
        self.found, self.allowed = found, allowed


class _Opening:
    """Unpacks with a common budget for an archive and those within it."""

    def __init__(self) -> None:
        self.blobs: list[Blob] = []
        self.faults: list[Fault] = []
        self._entries = 0
        self._budget = MAX_TOTAL_BYTES

    def unpack(self, blob: Blob, *, inner: bool) -> None:
        """Take the files of one zip."""
        try:
            archive = zipfile.ZipFile(BytesIO(blob.data))
        except _DAMAGED as error:
            self._fault(blob.name, f"a damaged zip ({printable(str(error))})", "a zip")
            return
        with archive:
            for entry in archive.infolist():
                if entry.filename.endswith("/") or _is_junk(entry.filename):
                    continue
                self._entries += 1
                if self._entries > MAX_ENTRIES:
                    allowed = f"at most {MAX_ENTRIES} files in an archive"
                    self._fault(blob.name, "more files", allowed)
                    return
                self._take(archive, entry, blob, inner=inner)

    def _take(
        self,
        archive: zipfile.ZipFile,
        entry: zipfile.ZipInfo,
        blob: Blob,
        *,
        inner: bool,
    ) -> None:
        where = f"{blob.name}: {printable(entry.filename)}"
        try:
            name = _safe_name(entry)
            data = self._read(archive, entry)
        except _RefusedError as refused:
            self._fault(where, refused.found, refused.allowed)
            return
        digest = hashlib.sha256(data).hexdigest()
        if inner:
            name = str(PurePosixPath(blob.name).with_suffix("") / name)
        file = Blob(name=name, sha256=digest, content=data)
        if not is_archive(file):
            self.blobs.append(file)
        elif inner:
            self._fault(where, "a zip in a zip in a zip", "zips nested once")
        else:
            self.unpack(file, inner=True)

    def _read(self, archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
        """Unpack one file as far as the limits go, whatever size it states."""
        if entry.flag_bits & 1:
            raise _RefusedError("a locked file", "files without a password")
        most = min(MAX_LOG_BYTES, self._budget)
        if entry.compress_size * MAX_RATIO >= RATIO_FROM_BYTES:
            most = min(most, entry.compress_size * MAX_RATIO)
        else:
            most = min(most, RATIO_FROM_BYTES)
        pieces, size = [], 0
        try:
            with archive.open(entry) as packed:
                while piece := packed.read(_CHUNK):
                    size += len(piece)
                    if size > most:
                        raise _RefusedError(*self._why(most))
                    pieces.append(piece)
        except _DAMAGED as error:
            found = f"a damaged file ({printable(str(error))})"
            raise _RefusedError(found, "a file that unpacks") from None
        self._budget -= size
        return b"".join(pieces)

    def _why(self, most: int) -> tuple[str, str]:
        if most == MAX_LOG_BYTES:
            return "a file too large", f"files of at most {most / 2**20:.0f} MiB"
        if most == self._budget:
            total = f"at most {MAX_TOTAL_BYTES / 2**20:.0f} MiB in all"
            return "more than that unpacked", total
        allowed = f"files that unpack to at most {MAX_RATIO} times their size"
        return "a file that unpacks out of all proportion", allowed

    def _fault(self, where: str, found: str, allowed: str) -> None:
        self.faults.append(Fault(where=where, found=found, allowed=allowed))


def _is_junk(name: str) -> bool:
    parts = name.replace("\\", "/").casefold().split("/")
    return any(part in _JUNK or part.startswith("._") for part in parts)


def _safe_name(entry: zipfile.ZipInfo) -> str:
    """Return the path of a file within its archive, refusing any that leads out."""
    allowed = "plain file names within the archive"
    if stat.S_ISLNK(entry.external_attr >> 16):
        raise _RefusedError("a link to another file", allowed)
    name = entry.filename.replace("\\", "/")
    parts = name.split("/")
    if name.startswith("/") or ".." in parts or ":" in name or not name.isprintable():
        raise _RefusedError("a name that leads out of the archive", allowed)
    kept = [part for part in parts if part not in ("", ".")]
    if not kept:
        raise _RefusedError("a file without a name", allowed)
    return "/".join(kept)
