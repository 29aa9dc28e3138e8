"""Files by their content address, at rest and on their way: piece by piece.

A file may be larger than anybody wants to hold at once (the tracks of a flight with
hundreds of balloons), so all that reads or packs one does so in pieces.
"""

import hashlib
import zlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from itertools import zip_longest
from pathlib import Path

from scorer.ledger.acts import Sha256
from scorer.ledger.faults import DamagedError, LedgerError
from scorer.remembered import remembered

PIECE = 2**18
"""Bytes in hand at a time."""
LEVEL = 5
"""Of packing: a third faster than one more, and two in a hundred larger."""


class _Packed:
    """What all files at rest can do; `data` is their content as `encoding` says."""

    __slots__ = ()
    sha256: Sha256
    size: int
    encoding: str

    def _data(self) -> bytes:
        raise NotImplementedError

    def pieces(self, where: str) -> Iterator[bytes]:
        """Yield the content; DamagedError at its end if it does not fit its address."""
        digest, left = hashlib.sha256(), self.size
        try:
            for piece in _unpacked(self._data(), self.encoding):
                left -= len(piece)
                if left < 0:
                    break
                digest.update(piece)
                yield piece
        except zlib.error as error:
            raise DamagedError(_altered(where, self.sha256)) from error
        if left or digest.hexdigest() != self.sha256:
            raise DamagedError(_altered(where, self.sha256))

    def content(self, where: str) -> bytes:
        """Return the file's bytes, checked against its content address."""
        return b"".join(self.pieces(where))


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredFile(_Packed):
    """A file as it lies in the store."""

    sha256: Sha256
    size: int
    encoding: str
    data: bytes

    def _data(self) -> bytes:
        return self.data

    def start(self, count: int) -> bytes:
        """Return the first bytes of the content."""
        if self.encoding != "zlib":
            return self.data[:count]
        return zlib.decompressobj().decompress(self.data, count)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpooledFile(_Packed):
    """A file packed into a temporary one until it is stored."""

    sha256: Sha256
    size: int
    encoding: str
    path: Path

    def _data(self) -> bytes:
        return self.path.read_bytes()

    def __iter__(self) -> Iterator[bytes]:
        """Yield the content in pieces."""
        return self.pieces(str(self.path))

    @property
    def data(self) -> bytes:
        """The content as it will lie in the store."""
        return self._data()


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldFile:
    """A file that the store holds already, fetched only where it is read."""

    sha256: Sha256
    where: str
    fetch: Callable[[Sha256], StoredFile] = field(repr=False, compare=False)

    def __iter__(self) -> Iterator[bytes]:
        """Yield the content in pieces."""
        return self.fetch(self.sha256).pieces(self.where)


AtRest = StoredFile | SpooledFile
Content = bytes | SpooledFile
"""A file on its way into the store."""
Filed = Content | HeldFile
"""A file that goes up: on its way into the store, or there already."""


def pack(sha256: Sha256, data: bytes) -> StoredFile:
    """Compress a file for the store, unless that gains nothing."""
    found = hashlib.sha256(data).hexdigest()
    if found != sha256:
        raise LedgerError(
            f"a file handed over as {sha256[:12]}… has the hash {found[:12]}…; read it "
            "again"
        )
    packed = zlib.compress(data, LEVEL)
    if len(packed) < len(data):
        return StoredFile(sha256=sha256, size=len(data), encoding="zlib", data=packed)
    return StoredFile(sha256=sha256, size=len(data), encoding="plain", data=data)


def pack_pieces(sha256: Sha256, pieces: Iterable[bytes]) -> StoredFile:
    """Compress a file for the store that comes in pieces; the caller checks its hash."""
    counted = _Counted(pieces)
    data = b"".join(counted.packed())
    return StoredFile(sha256=sha256, size=counted.size, encoding="zlib", data=data)


def spool(
    sources: Sequence[Iterable[bytes]], paths: Sequence[Path]
) -> list[SpooledFile]:
    """Pack what comes in pieces into new files, without ever holding all of it.

    A piece of each is taken in turn, so that sources may share what they are made of.
    """
    counted = [_Counted(pieces) for pieces in sources]
    try:
        with ExitStack() as stack:
            files = [stack.enter_context(path.open("xb")) for path in paths]
            packed = (own.packed() for own in counted)
            for pieces in zip_longest(*packed, fillvalue=b""):
                for file, piece in zip(files, pieces, strict=True):
                    file.write(piece)
    except OSError as error:
        raise LedgerError(
            f"cannot write to the folder for temporary files ({error.strerror}); make "
            "room there"
        ) from error
    return [
        SpooledFile(sha256=own.sha256, size=own.size, encoding="zlib", path=path)
        for own, path in zip(counted, paths, strict=True)
    ]


def checked(files: Sequence[StoredFile], where: str) -> dict[Sha256, StoredFile]:
    """Return stored files by their addresses, or raise DamagedError where one does not fit.

    Just these bytes that were unpacked before, by an earlier program maybe, are not again.
    """
    told = hashlib.sha256()
    for own in files:
        packed = hashlib.sha256(own.data).hexdigest()
        told.update(repr((own.sha256, own.size, own.encoding, packed)).encode())

    def fit() -> bool:
        return not any(False for own in files for _ in own.pieces(where))

    remembered(f"files that fit: {told.hexdigest()}", bool, fit)
    return {own.sha256: own for own in files}


def address_of(content: Filed) -> Sha256:
    """Return the content address of a file."""
    if not isinstance(content, bytes):
        return content.sha256
    return Sha256(hashlib.sha256(content).hexdigest())


class _Counted:
    """Packs pieces as they come, and counts and hashes what they were."""

    def __init__(self, pieces: Iterable[bytes]) -> None:
        self.pieces, self.size, self.digest = pieces, 0, hashlib.sha256()

    @property
    def sha256(self) -> Sha256:
        """The content address of what came."""
        return Sha256(self.digest.hexdigest())

    def packed(self) -> Iterator[bytes]:
        squeezer = zlib.compressobj(LEVEL)
        for piece in self.pieces:
            self.size += len(piece)
            self.digest.update(piece)
            yield squeezer.compress(piece)
        yield squeezer.flush()


def _unpacked(data: bytes, encoding: str) -> Iterator[bytes]:
    whole = memoryview(data)
    parts = (whole[start : start + PIECE] for start in range(0, len(whole), PIECE))
    if encoding != "zlib":
        yield from map(bytes, parts)
        return
    opener = zlib.decompressobj()
    for part in parts:
        rest: bytes | memoryview = part
        while rest:
            yield opener.decompress(rest, PIECE)
            rest = opener.unconsumed_tail
    yield opener.flush()
    if not opener.eof:
        raise zlib.error("cut short")


def _altered(where: str, sha256: Sha256) -> str:
    return (
        f"{where}: the stored file {sha256[:12]}… was altered: its content does not "
        "fit its hash. Take it from another copy of the event (`sandtail merge`)."
    )
