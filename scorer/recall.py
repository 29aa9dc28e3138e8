"""What logs told, kept in the user's own cache folder from one start to the next.

One SQLite file of answers by content (`scorer.scoring.keep`), each checked by hash, the
oldest dropped where it grows too large.  It may be deleted at any time, two programs may
use it at once, and whatever goes wrong with it (damage, a full disk, no right to write)
only means that answers are found anew.  Answers of another version of the program, of its
libraries or of their data are never used: all of that is in the key.
"""

import hashlib
import os
import platform
import sqlite3
import struct
import sys
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pyproj.datadir import get_data_dir
from pyproj.network import is_network_enabled  # type: ignore[attr-defined]

from scorer.checks.base import declared_checks
from scorer.scoring.coded import decode, encode
from scorer.scoring.keep import Keep
from scorer.tasks.kinds import KINDS
from scorer.version import libraries

T = TypeVar("T")

MOST_BYTES = 1_500_000_000
"""About as large as the file may grow: four thousand logs of an hour at a fix a second."""
HELD_BYTES = 250_000_000
"""In memory, by a command: three flights of 275 logs of an hour at a fix a second."""
LARGEST = 0.25
"""No single answer takes more than this share."""
WAIT_S = 2.0
"""So long another program may be busy with it before it is left alone."""
VARIABLE = "SANDTAIL_CACHE"
"""Names another folder; `none` = nothing outlasts the program."""
_FILE = "logs-1.sqlite"
"""With the number of its form; what has another one is left alone."""
UNREADABLE = (
    ValueError,
    LookupError,
    TypeError,
    AttributeError,
    ImportError,
    struct.error,
)
"""What `decode` says of bytes that are no answer."""
_TABLE = """
CREATE TABLE IF NOT EXISTS kept (
    key TEXT PRIMARY KEY, used REAL NOT NULL, size INTEGER NOT NULL,
    hash BLOB NOT NULL, data BLOB NOT NULL)
"""
_ENGINE = (
    "checks",
    "event",
    "geodesy",
    "ledger",
    "scoring",
    "sheets",
    "tasks",
    "tracks",
    "words",
)
"""Packages that results, sheets and states of ledgers come from, beside the modules on
top."""
_SOURCE = frozenset({".py", ".toml", ".ftl", ".css", ".html"})


def cache_folder() -> Path | None:
    """Return where this user's programs keep what can be made again; None = nowhere."""
    given = os.environ.get(VARIABLE, "").strip()
    if given:
        return None if given == "none" else Path(given)
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local"))
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Caches"
    else:
        base = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    return base / "sandtail"


def recall_of_user() -> "Recall | None":
    """Return what outlasts this user's programs; None where nothing may."""
    folder = cache_folder()
    return None if folder is None else Recall(folder / _FILE)


def keep_of_user() -> Keep:
    """Return a command's keep, which remembers from one start to the next where it can.

    It goes through an event flight by flight, so a few of them are enough to hold.
    """
    return Keep(recall_of_user(), HELD_BYTES)


def foreign() -> bool:
    """Tell whether checks or task kinds come from elsewhere: nobody knows their changes."""
    checks = [check.run for check in declared_checks()]
    work = [*checks, *(kind.measure for kind in KINDS.values())]
    return not all(own.__module__.startswith("scorer.") for own in work)


@cache
def fingerprint() -> str:
    """Return a hash of all beside the event that results depend on.

    The program itself, its libraries, the tables of reference systems, the computer.
    """
    made = hashlib.sha256()
    root = Path(__file__).parent
    files = [*root.glob("*.py"), *(f for p in _ENGINE for f in (root / p).rglob("*"))]
    for file in sorted(f for f in files if f.suffix in _SOURCE):
        made.update(f"{file.relative_to(root).as_posix()}\0".encode())
        made.update(hashlib.sha256(file.read_bytes()).digest())
    tables = Path(get_data_dir()).glob("*")
    names = sorted((file.name, file.stat().st_size) for file in tables)
    made.update(libraries().encode())
    made.update(repr([names, is_network_enabled()]).encode())
    # `platform.processor()` asks another program elsewhere, which knows no more.
    processor = os.environ.get("PROCESSOR_IDENTIFIER", "")  # of Windows
    made.update(repr([sys.version, platform.machine(), processor]).encode())
    return made.hexdigest()


def _own(key: str) -> str:
    return hashlib.sha256(f"{fingerprint()} {key}".encode()).hexdigest()


class Recall:
    """Answers in one file; `Keep` asks it for what it does not hold itself."""

    def __init__(self, path: Path, most_bytes: int = MOST_BYTES) -> None:
        self.path = path
        self.most_bytes = most_bytes
        self._off = False
        self._open: sqlite3.Connection | None = None
        self._used: set[str] = set()
        self._turn = threading.RLock()

    def load(self, key: str) -> Any | None:
        """Return an answer whose bytes fit their hash; None otherwise."""
        return self._try(lambda file: self._loaded(file, _own(key)))

    def save(self, found: Mapping[str, object]) -> None:
        """Write answers down, all or none; the oldest make room."""
        self._off = False  # what went wrong may be right again
        self._try(lambda file: self._saved(file, found))

    def _loaded(self, file: sqlite3.Connection, key: str) -> Any | None:
        ask = "SELECT hash, data FROM kept WHERE key = ?"
        found = file.execute(ask, (key,)).fetchone()
        if found is None or foreign():
            return None
        if hashlib.sha256(found[1]).digest() != found[0]:
            return None
        self._used.add(key)
        return decode(found[1])

    def _saved(self, file: sqlite3.Connection, found: Mapping[str, object]) -> None:
        if foreign():
            return
        rows = list(self._rows(found))
        now = time.time()  # says what was not asked for longest, and nothing else
        with file:
            file.execute("BEGIN IMMEDIATE")
            file.executemany(
                "UPDATE kept SET used = ? WHERE key = ?",
                [(now, key) for key in self._used],
            )
            file.executemany(
                "INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?, ?)",
                [(key, now, len(data), check, data) for key, check, data in rows],
            )
            self._make_room(file)
        self._used.clear()

    def close(self) -> None:
        """Let go of the file."""
        if self._open is not None:
            self._open.close()
            self._open = None

    def __del__(self) -> None:
        """Leave no file open once nobody asks any more."""
        self.close()

    def _rows(self, found: Mapping[str, object]) -> Iterator[tuple[str, bytes, bytes]]:
        for key, value in found.items():
            with suppress(TypeError):  # it holds what cannot be written: found anew
                data = encode(value)
                if len(data) <= LARGEST * self.most_bytes:
                    yield _own(key), hashlib.sha256(data).digest(), data

    def _make_room(self, file: sqlite3.Connection) -> None:
        asked = ("page_count", "freelist_count", "page_size")
        pages, free, size = (file.execute(f"PRAGMA {a}").fetchone()[0] for a in asked)
        held = (pages - free) * size  # asked of all rows, it would walk over the file
        if held <= self.most_bytes:
            return
        dropped = []
        for key, size in file.execute("SELECT key, size FROM kept ORDER BY used"):
            if held <= self.most_bytes * 3 / 4:
                break
            dropped.append((key,))
            held -= size
        file.executemany("DELETE FROM kept WHERE key = ?", dropped)

    def _file(self) -> sqlite3.Connection:
        if self._open is None:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            file = sqlite3.connect(
                self.path,
                timeout=WAIT_S,
                isolation_level=None,
                check_same_thread=False,
            )
            self._open = file
            file.execute("PRAGMA synchronous = OFF")  # what is lost is found anew
            file.execute(_TABLE)
        return self._open

    def _try(self, work: Callable[[sqlite3.Connection], T]) -> T | None:
        """Let nothing that goes wrong here reach a score."""
        with self._turn:
            try:
                if self._off:
                    return None
                return work(self._file())
            except sqlite3.OperationalError:  # busy, full, not to be written
                self._off = True
            except sqlite3.DatabaseError:  # damaged
                self._off = True
                self.close()
                with suppress(OSError):
                    self.path.unlink()
            except (OSError, *UNREADABLE):
                self._off = True
        return None
