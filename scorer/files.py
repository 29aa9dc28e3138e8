"""Names of files that are safe on every system, and files that appear whole or not at all.

What others entered or sent becomes the name of a file in one place only: `inside`.
"""

import os
import re
import secrets
import sys
import time
import unicodedata
from collections.abc import Container, Iterable, Iterator
from contextlib import contextmanager, suppress
from os.path import lexists
from pathlib import Path, PurePosixPath

from scorer.errors import Fault, InputError

MOST_NAME_BYTES = 200
"""Bytes of a name in UTF-8: systems allow 255, and copies add a few of their own."""
ALLOWED = (
    "a plain name: letters, digits, spaces, and . - _ ( ) within, with no separator or "
    f"colon, at most {MOST_NAME_BYTES} bytes, none that a system keeps for itself"
)
LEFT_BEHIND_S = 600.0
"""Nobody writes one file for so long."""
_PART = re.compile(r"\.(.{1,40})-[0-9a-f]{8}\.part", re.DOTALL)
"""What `part_beside` names."""
_BAD = re.compile(r'[\\/:*?"<>|\x00-\x1f\x7f]')
"""Separators, and what Windows allows in no name (learn.microsoft.com, "Naming files,
paths, and namespaces", read from memory)."""
_DEVICE = re.compile(
    r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])\s*(\..*)?", re.IGNORECASE
)
"""Names of devices, with any suffix (same source)."""


def flaw_of_name(name: str) -> str:
    """Say why a text cannot be the name of a file everywhere; empty where it can.

    Valid on Windows, macOS and Linux, not hidden, one part and no path.
    """
    if not name.strip(" ."):
        return "it is empty, or only dots and spaces"
    if bad := _BAD.search(name):
        return f"it holds {_shown(bad[0])}"
    if odd := next(filter(_unseen, name), ""):
        return f"it holds the invisible or unknown character {_shown(odd)}"
    if name[0] in ".~ ":
        return f"it starts with {_shown(name[0])}"
    if name[-1] in ". ":
        return f"it ends with {_shown(name[-1])}"
    if _DEVICE.fullmatch(name):
        return "it is what Windows calls a device"
    size = len(name.encode(errors="replace"))
    return f"it has {size} bytes" if size > MOST_NAME_BYTES else ""


_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
_JOINERS = "\u200c\u200d"
"""Invisible, but part of how Persian, Hindi and others are written."""

TURNING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Turn the direction of all that follows, numbers of ours too; no name needs them."""


def _unseen(character: str) -> bool:
    """Tell control codes, and what turns the direction of writing."""
    return unicodedata.category(character) in _UNSEEN and character not in _JOINERS


def _shown(character: str) -> str:
    if character == " ":
        return "a space"
    return f'"{character}"' if character.isprintable() else f"U+{ord(character):04X}"


def check_name(name: str, where: str, field: str) -> None:
    """Refuse a text that cannot be the name of a file or folder everywhere."""
    if flaw := flaw_of_name(name):
        fault = Fault(
            where=where,
            field=field,
            found=f"{name[:80]!r}: {flaw}",
            allowed=ALLOWED,
            remedy="Choose another name.",
        )
        raise InputError([fault])


def safe_name(name: str, taken: Container[str] = ()) -> str:
    """Return the name, or the nearest one that is plain and not among `taken`.

    `taken` holds names as `name_key` writes them.
    """
    plain = name if not flaw_of_name(name) else _made_plain(name)
    stem, suffix = PurePosixPath(plain).stem, PurePosixPath(plain).suffix
    number = 1
    while name_key(plain) in taken:
        number += 1
        plain = f"{stem}~{number}{suffix}"
    return plain


def name_key(name: str) -> str:
    """Return what two names have in common that some systems take for one."""
    return unicodedata.normalize("NFC", name).casefold()


def _made_plain(name: str) -> str:
    text = "".join("-" if _unseen(c) else c for c in _BAD.sub("-", name))
    text = text.lstrip(".~ ").rstrip(". ") or "unnamed"
    if _DEVICE.fullmatch(text):
        text = f"_{text}"
    path = PurePosixPath(text)
    suffix = path.suffix if len(path.suffix.encode()) < 20 else ""
    room = MOST_NAME_BYTES - len(suffix.encode()) - 8
    stem = text.removesuffix(suffix).encode()[:room].decode(errors="ignore")
    return stem.rstrip(". ") + suffix


def leads_out(folder: Path, path: Path) -> bool:
    """Tell whether a path ends outside a folder once every link is followed."""
    try:
        return not path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):  # a ring of links, a zero byte
        return True


def inside(folder: Path, name: str) -> Path:
    """Return the path of a file to write below a folder; refuse to lead out of it.

    `name` is one plain name, or several parted by `/`.

    Raises
    ------
    InputError
        A part is no plain name, or a link in the folder leads elsewhere.
    """
    for part in name.split("/"):
        check_name(part, str(folder), "name of a file")
    path = folder / name
    if leads_out(folder, path):
        fault = Fault(
            where=str(path),
            found="a link that leads out of the folder",
            allowed="files within the folder",
            remedy="Take the link away, or choose another folder.",
        )
        raise InputError([fault])
    return path


def write_below(folder: Path, name: str, data: bytes | Iterable[bytes]) -> Path:
    """Write a file below a folder, whole or not at all; return where it is."""
    path = inside(folder, name)
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, data)
    return path


def write_whole(
    path: Path, data: bytes | Iterable[bytes], *, to_disk: bool = True
) -> None:
    """Write a file, in one or in pieces; a full disk leaves the old one, or none.

    `to_disk`: wait until it is there, for a power cut.  What is no ordinary file, such as
    `/dev/stdout`, is written to as it stands.
    """
    pieces = [data] if isinstance(data, bytes) else data
    if path.is_symlink() or (path.exists() and not path.is_file()):
        with path.open("wb") as out:
            out.writelines(pieces)
        return
    with part_beside(path) as part:
        with part.open("wb") as out:
            out.writelines(pieces)
            if to_disk:
                out.flush()
                os.fsync(out.fileno())
        with suppress(FileNotFoundError):
            part.chmod(path.stat().st_mode & 0o777)
        part.replace(path)
    if to_disk:
        sync_folder(path.absolute().parent)


@contextmanager
def writing(path: Path) -> Iterator[None]:
    """Raise InputError where a file or folder that somebody named cannot be written."""
    try:
        yield
    except (OSError, ValueError) as error:
        found = f"what cannot be written ({getattr(error, 'strerror', None) or error})"
        allowed = "a name in a folder you may write to, on a disk with room"
        fault = Fault(where=str(path), found=found, allowed=allowed)
        raise InputError([fault]) from error


@contextmanager
def part_beside(path: Path) -> Iterator[Path]:
    """Give an empty file beside `path` that nobody else has; it is gone afterwards."""
    part = path.absolute().parent / f".{path.name[:40]}-{secrets.token_hex(4)}.part"
    part.open("xb").close()
    try:
        yield part
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def drop_left_behind(paths: Iterable[Path]) -> None:
    """Remove what programs that were killed once began to write of some files."""
    names: dict[Path, set[str]] = {}
    for path in paths:
        names.setdefault(path.absolute().parent, set()).add(path.name[:40])
    for folder, own in names.items():
        for part in folder.glob(".*.part"):
            name = _PART.fullmatch(part.name)
            if name and name[1] in own:
                with suppress(OSError):
                    if time.time() - part.stat().st_mtime > LEFT_BEHIND_S:
                        part.unlink()


def put_in_place(part: Path, path: Path) -> None:
    """Give a finished file its name; raise FileExistsError rather than overwrite."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise
    except OSError:  # a disk without hard links
        if lexists(path):
            raise FileExistsError(path) from None
        part.rename(path)
    sync_folder(path.absolute().parent)


def sync_folder(folder: Path) -> None:
    """Bring a folder's list of names to the disk, where the system can."""
    if sys.platform == "win32":
        return
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
