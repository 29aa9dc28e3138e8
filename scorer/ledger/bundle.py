"""The ZIP file beneath an archive: written and read by the same rules, piece by piece.

A manifest lists the hash of every other member; nothing else may be in the file.
"""

import hashlib
import json
import lzma
import os
import stat
import struct
import unicodedata
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from typing import Any, BinaryIO, Self

from scorer.files import flaw_of_name
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
FREE_GROWTH = 2**28
"""Bytes from which an archive may not grow by `MOST_MEAN_GROWTH` in all."""
MOST_MEAN_GROWTH = 100
_LOCAL = struct.Struct("<26xHH")
"""The part of a member's own header that says how long its name and extras are."""
_END = struct.Struct("<4s6xHIIH")
"""The end of a ZIP file: signature, count, size and place of its list, comment."""
_END_64 = struct.Struct("<4s36xQQ20x")
"""The same of a large one, with what points to it."""
_WIDE = (0xFFFF, 0xFFFFFFFF)
"""Where a count or a size stands elsewhere, being larger."""
_SIZES_EXTRA = 1
"""The one extra field that writers of ours need: sizes of large members."""
_FILES = (0, stat.S_IFREG)
"""Kinds of a member: none said, and a plain file."""
_DESCRIBED = 0x08
"""Flag of a member whose sizes stand behind it."""
_ABOUT = frozenset({"format", "files", "heads"})
"""What a manifest says."""

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
    struct.error,
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
    if any(map(flaw_of_name, parts)):
        return f"{name!r} is no plain name below a folder, on every computer"
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

    def size(self, name: str) -> int:
        """Return how many bytes a member has once unpacked."""
        return self._zip.getinfo(name).file_size

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
        found = manifest["format"] if isinstance(manifest, dict) else None
        if type(found) is not int or not 1 <= found <= FORMAT:
            raise NotALedgerError(
                f"{self.path} is an archive of format {found}; this version knows "
                f"formats up to {FORMAT}. Update the program."
            )
        files, heads = manifest["files"], manifest["heads"]
        if not isinstance(files, dict) or not isinstance(heads, list):
            raise TypeError("its manifest lists no files")
        if strange := manifest.keys() - _ABOUT:
            says = f"its manifest says more than one of ours: {min(strange)}"
            raise altered(self.path, says)
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
        grown = sum(info.file_size for info in infos)
        if grown > max(FREE_GROWTH, MOST_MEAN_GROWTH * packed):
            raise ValueError(f"it would grow to {grown:,} bytes")
        self._check_bytes(infos)
        names = sorted(info.filename for info in infos)
        alike = Counter(unicodedata.normalize("NFC", n).casefold() for n in set(names))
        if doubled := next((name for name, times in alike.items() if times > 1), None):
            raise altered(self.path, f"{doubled} is in it in two spellings")
        listed = sorted([MANIFEST, *self.hashes])
        if names != listed:
            raise altered(self.path, _difference(names, listed))

    def _check_bytes(self, infos: Sequence[zipfile.ZipInfo]) -> None:
        """Refuse what stands before, between or behind the members: nobody lists it."""
        with self.path.open("rb") as file:
            at = 0
            for info in sorted(infos, key=lambda info: info.header_offset):
                if info.header_offset != at:
                    raise altered(
                        self.path, f"something was put before {info.filename}"
                    )
                if stat.S_IFMT(info.external_attr >> 16) not in _FILES or info.comment:
                    raise altered(self.path, f"{info.filename} is no plain file")
                file.seek(at)
                name, more = _LOCAL.unpack(file.read(_LOCAL.size))
                file.seek(name, os.SEEK_CUR)
                extra = file.read(more)
                if not (_plain_extra(extra) and _plain_extra(info.extra)):
                    raise altered(self.path, f"more was put beside {info.filename}")
                if info.flag_bits & _DESCRIBED:
                    raise ValueError(f"{info.filename} is packed in no way of ours")
                at += _LOCAL.size + name + more + info.compress_size
            if not _ends(file, at):
                raise altered(self.path, "something was put behind its members")


def _plain_extra(extra: bytes) -> bool:
    """Tell whether extras hold nothing but sizes."""
    if not extra:
        return True
    kind, size = struct.unpack_from("<HH", extra) if len(extra) >= 4 else (0, 0)
    return bool(kind == _SIZES_EXTRA and size <= 28 and len(extra) == 4 + size)


def _ends(file: BinaryIO, at: int) -> bool:
    """Tell whether a file ends with the list of its members, which begins at `at`."""
    size = file.seek(0, os.SEEK_END)
    file.seek(max(0, size - _END.size))
    signed, count, length, place, comment = _END.unpack(file.read(_END.size))
    last = size - _END.size
    if count == _WIDE[0] or _WIDE[1] in {length, place}:
        last -= _END_64.size
        file.seek(max(0, last))
        _, length, place = _END_64.unpack(file.read(_END_64.size))
    return bool(signed == b"PK\5\6" and not comment and place == at == last - length)


def _difference(names: list[str], listed: list[str]) -> str:
    found, wanted = Counter(names), Counter(listed)
    if doubled := next((name for name in names if found[name] > 1), None):
        return f"{doubled} is in it twice"
    if extra := next(iter(found - wanted), None):
        return f"{extra} was put in: the manifest does not list it"
    return f"{next(iter(wanted - found))} is missing"
