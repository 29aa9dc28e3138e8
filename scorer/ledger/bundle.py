"""The ZIP file beneath an archive: written and read by the same rules, piece by piece.

A manifest lists the hash of every other member; nothing else may be in the file.
"""

import hashlib
import json
import lzma
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from typing import Any, BinaryIO, Self

from scorer.ledger.faults import DamagedError, LedgerError, NotALedgerError
from scorer.ledger.files import PIECE

FORMAT = 1
MANIFEST = "manifest.json"
_MOMENT = (1980, 1, 1, 0, 0, 0)
"""Earliest time a ZIP can hold: no clock goes into the bytes."""
MOST_BYTES = 2**33
"""No member is larger than this once unpacked: larger than any database takes."""
MOST_TEXT = 2**28
"""The manifest, and one line of a member, are read whole."""
MOST_GROWTH = 1100
"""No compressed member grows by more when unpacked (deflate: 1032 at most)."""

_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    LookupError,
    OSError,
    RuntimeError,
    TypeError,
    ValueError,
)
"""What reading a damaged ZIP raises: a flipped bit can ask for any method or feature."""


def unfit(name: str, size: int, *, whole: bool = False) -> str:
    """Say why a member may not be in an archive; empty = it may.

    Writer and reader both ask here, so that what one writes the other reads.  `whole` is
    for what is read in one piece: the manifest, a line.
    """
    most = MOST_TEXT if whole or name == MANIFEST else MOST_BYTES
    if size > most:
        return f"{name} has {size:,} bytes; an archive holds files up to {most:,}"
    parts = name.split("/")
    if "\\" in name or ":" in parts[0] or not {"", ".", ".."}.isdisjoint(parts):
        return f"{name!r} is no plain name below a folder"
    return ""


@contextmanager
def reading(path: Path) -> Iterator[None]:
    """Say in our words what is wrong with an archive."""
    try:
        yield
    except _BROKEN as error:
        raise NotALedgerError(
            f"{path} is no archive of an event, or was damaged ({error}); get another "
            "copy of it"
        ) from error


def altered(path: Path, what: str) -> DamagedError:
    """Return what is raised when a member is not what it was."""
    return DamagedError(f"{path}: {what}. Ask for another copy of the archive.")


class Writer:
    """Writes members one after the other and the manifest in the end."""

    def __init__(self, file: BinaryIO) -> None:
        self._zip = zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED)
        self.hashes: dict[str, str] = {}

    def add(self, name: str, size: int, pieces: Iterable[bytes]) -> None:
        """Write one member of a known size, in pieces."""
        fault = unfit(name, size)
        if name in self.hashes:
            fault = f"{name} would be in it twice"
        if fault:
            raise LedgerError(f"this event cannot be archived: {fault}")
        info = zipfile.ZipInfo(name, _MOMENT)
        info.compress_type = zipfile.ZIP_DEFLATED
        info.create_system = 3
        info.external_attr = 0o644 << 16
        info.file_size = size
        digest = hashlib.sha256()
        with self._zip.open(info, "w") as member:
            for piece in pieces:
                digest.update(piece)
                member.write(piece)
        if info.file_size != size:
            raise LedgerError(f"{name} changed while it was archived; try again")
        self.hashes[name] = digest.hexdigest()

    def finish(self, **about: object) -> None:
        """Write the manifest, which states some facts too, and end the file."""
        listing = {"format": FORMAT, "files": dict(self.hashes), **about}
        text = json.dumps(listing, ensure_ascii=False, sort_keys=True, indent=1)
        data = text.encode()
        self.add(MANIFEST, len(data), [data])

    def __enter__(self) -> Self:
        return self

    def __exit__(self, failed: object, *_: object) -> None:
        with suppress(OSError) if failed else nullcontext():
            self._zip.close()


class Reader:
    """Reads members; every one is checked against the manifest, which lists them all."""

    def __init__(self, path: Path) -> None:
        self.path = path
        with reading(path):
            self._zip = zipfile.ZipFile(path)
            try:
                self.manifest = self._read_manifest()
                self._check_members()
            except BaseException:
                self._zip.close()
                raise

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._zip.close()

    @property
    def hashes(self) -> Mapping[str, str]:
        """The hash of every member but the manifest."""
        listed: Mapping[str, str] = self.manifest["files"]
        return listed

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield a member's content; DamagedError at its end if it was altered."""
        digest = hashlib.sha256()
        with self._zip.open(name) as member:
            while piece := member.read(PIECE):
                digest.update(piece)
                yield piece
        if digest.hexdigest() != self.hashes[name]:
            raise altered(self.path, f"{name} was altered")

    def lines(self, name: str) -> Iterator[bytes]:
        """Yield a member's lines; DamagedError at its end if it was altered."""
        digest = hashlib.sha256()
        with self._zip.open(name) as member:
            while line := member.readline(MOST_TEXT + 1):
                if fault := unfit(name, len(line), whole=True):
                    raise ValueError(fault)
                digest.update(line)
                yield line
        if digest.hexdigest() != self.hashes[name]:
            raise altered(self.path, f"{name} was altered")

    def check(self, names: Iterable[str]) -> None:
        """Read members through and raise if one was altered."""
        with reading(self.path):
            for name in names:
                for _ in self.pieces(name):
                    pass

    def _read_manifest(self) -> dict[str, Any]:
        info = self._zip.getinfo(MANIFEST)
        if fault := unfit(MANIFEST, info.file_size):
            raise ValueError(fault)
        manifest: dict[str, Any] = json.loads(self._zip.read(info))
        found = manifest.get("format")
        if not isinstance(found, int) or found > FORMAT:
            raise NotALedgerError(
                f"{self.path} is an archive of format {found}; this version knows "
                f"formats up to {FORMAT}. Update the program."
            )
        return manifest

    def _check_members(self) -> None:
        infos = self._zip.infolist()
        packed = sum(info.compress_size for info in infos)
        if packed > self.path.stat().st_size:
            raise ValueError("its members lie over each other")
        for info in infos:
            if fault := unfit(info.filename, info.file_size):
                raise ValueError(fault)
            plain = info.compress_type in {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}
            if not plain or info.file_size > MOST_GROWTH * (info.compress_size + 1):
                raise ValueError(f"{info.filename} is packed in no way of ours")
        names = sorted(info.filename for info in infos)
        listed = sorted([MANIFEST, *self.hashes])
        if names != listed:
            raise altered(self.path, _difference(names, listed))


def _difference(names: list[str], listed: list[str]) -> str:
    found, wanted = Counter(names), Counter(listed)
    if doubled := next((name for name in names if found[name] > 1), None):
        return f"{doubled} is in it twice"
    if extra := next(iter(found - wanted), None):
        return f"{extra} was put in: the manifest does not list it"
    return f"{next(iter(wanted - found))} is missing"
