"""Whether an event file lies on a network drive, which may not lock files reliably."""

import ctypes
import os
from collections.abc import Iterable
from pathlib import Path, PurePath, PureWindowsPath

_NETWORK = frozenset(
    {
        "9p",
        "afs",
        "afpfs",
        "ceph",
        "cifs",
        "davfs",
        "fuse.davfs2",
        "fuse.rclone",
        "fuse.sshfs",
        "glusterfs",
        "ncpfs",
        "nfs",
        "nfs4",
        "prl_fs",
        "smb2",
        "smb3",
        "smbfs",
        "vboxsf",
        "webdav",
    }
)
"""Kinds of file systems behind which another computer stands."""
_MOUNTS = Path("/proc/mounts")
_REMOTE = 4
"""What Windows says of the kind of a network drive (GetDriveType)."""
_SIGNS = {r"\040": " ", r"\011": "\t", r"\012": "\n", r"\134": "\\"}


def on_network(path: Path) -> bool:
    """Tell whether a file lies on a drive of another computer; False where unknown."""
    place = Path(os.path.realpath(path))
    if os.name == "nt":  # pragma: no cover
        return _windows(PureWindowsPath(place))
    try:
        lines = _MOUNTS.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return False
    return kind_of(place, lines) in _NETWORK


def kind_of(place: PurePath, mounts: Iterable[str]) -> str:
    """Return the kind of file system that a place lies on, by lines of /proc/mounts."""
    best, kind = -1, ""
    for line in mounts:
        fields = line.split()
        if len(fields) < 3:
            continue
        point = fields[1]
        for sign, plain in _SIGNS.items():
            point = point.replace(sign, plain)
        # A later mount at the same point lies over the earlier one.
        if place.is_relative_to(point) and len(PurePath(point).parts) >= best:
            best, kind = len(PurePath(point).parts), fields[2]
    return kind


def _windows(place: PureWindowsPath) -> bool:  # pragma: no cover
    if place.drive.startswith("\\\\"):
        return True
    library = getattr(ctypes, "windll", None)
    kind = library.kernel32.GetDriveTypeW(f"{place.drive}\\") if library else None
    return bool(kind == _REMOTE)


def uri_of(path: PurePath) -> str:
    """Return a file's address as SQLite reads it, of a share of another computer too."""
    uri = path.as_uri()
    share = path.drive.startswith("\\\\")
    return uri.replace("file://", "file:////", 1) if share else uri
