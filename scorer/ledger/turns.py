"""Turns at an event file on a drive of another computer, whose locks may be worth nothing.

SQLite keeps programs apart with locks on ranges of bytes, and many a share only pretends to
have them.  Making a file that must not exist yet is what every share does whole or not at
all; so whoever reads or writes first makes `NAME.turn` beside the event, and takes it away
afterwards.  Every transaction opens the file anew, as shares promise what others wrote to
be seen only then.
"""

import os
import secrets
import socket
import sqlite3
import threading
import time
from contextlib import suppress
from pathlib import Path

BEAT_S = 5.0
"""So often a program that works on for long says that it is alive."""
DEAD_S = 20.0
"""A turn of whoever has not said so for this long is over: the program ended."""
PATIENCE_S = 45.0
"""So long one waits for the turns of others."""
_NAP_S = (0.01, 0.25)
"""Shortest and longest time between two looks."""
_TRIES = 40
"""So often one tries to take the turn away while others look at it, 0.05 s apart."""

_NO_THREAD = (
    "this computer starts no more threads, so nobody could tell others of our turn"
)


class SharedTurn:
    """The turn of this program at one file; its threads share it."""

    def __init__(self, path: Path) -> None:
        self.path = path.with_name(f"{path.name}.turn")
        self._own = b""
        self._count = 0
        self._lock = threading.RLock()
        self._over = threading.Event()

    def enter(self) -> None:
        """Wait for the turn; sqlite3.OperationalError where others do not end theirs."""
        with self._lock:
            if not self._count:
                self._take()
            self._count += 1

    def leave(self) -> None:
        """Give the turn on."""
        with self._lock:
            self._count -= 1
            if not self._count:
                self._give()

    def _take(self) -> None:
        self._own = (
            f"{socket.gethostname()} {os.getpid()} {secrets.token_hex(8)}".encode()
        )
        began, nap = time.monotonic(), _NAP_S[0]
        seen, since = (b"", 0), began
        while not self._make():
            now, found = time.monotonic(), self._look()
            if found != seen:
                seen, since = found, now
            elif now - since > DEAD_S and self._bury(found):
                continue
            if now - began > PATIENCE_S:
                who = found[0].decode("utf-8", "replace").partition(" ")[0]
                raise sqlite3.OperationalError(f"database is locked by {who or '?'}")
            time.sleep(nap)
            nap = min(2 * nap, _NAP_S[1])
        self._over = threading.Event()
        beat = threading.Thread(target=self._beat, args=(self._over,), daemon=True)
        try:
            beat.start()
        except RuntimeError as error:
            self._give()
            raise sqlite3.OperationalError(_NO_THREAD) from error

    def _make(self) -> bool:
        try:
            handle = os.open(self.path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666)
        except FileExistsError:
            return False
        except OSError as error:
            # Windows: it is just being taken away
            if isinstance(error, PermissionError) and self.path.exists():
                return False
            says = f"unable to open {self.path}: {error.strerror}"
            raise sqlite3.OperationalError(says) from error
        with os.fdopen(handle, "wb") as file:
            file.write(self._own)
        return True

    def _look(self) -> tuple[bytes, int]:
        """Return whose turn it is, and when that program last said that it is alive."""
        try:
            return _said_in(self.path), self.path.stat().st_mtime_ns
        except OSError:
            return b"", time.monotonic_ns()

    def _bury(self, dead: tuple[bytes, int]) -> bool:
        """Take the turn of an ended program away; of two who try, one does."""
        if self._look() != dead:
            return False
        aside = self.path.with_name(f"{self.path.name}-{secrets.token_hex(4)}")
        try:
            self.path.rename(aside)
            other = _said_in(aside) != dead[0]
            if other:  # somebody else was faster, and has the turn now
                with suppress(OSError):
                    aside.rename(self.path)
                return False
            aside.unlink()
        except OSError:
            return False
        return True

    def _beat(self, over: threading.Event) -> None:
        # Its own end: a beat that outlasts its turn keeps the turn of a dead one alive.
        while not over.wait(BEAT_S):
            with suppress(OSError):
                os.utime(self.path)

    def _give(self) -> None:
        self._over.set()
        for _ in range(_TRIES):
            try:
                if self.path.read_bytes() == self._own:
                    self.path.unlink()
            except FileNotFoundError:
                return
            except OSError:  # Windows: somebody looks at it
                time.sleep(0.05)
            else:
                return


def _said_in(path: Path) -> bytes:
    """Return whose turn a file says it is; empty where that user lets nobody read it."""
    try:
        return path.read_bytes()
    except PermissionError:
        return b""


class TurnedConnection(sqlite3.Connection):
    """A connection that gives its turn on when it is closed."""

    turn: SharedTurn | None = None

    def close(self) -> None:
        """Close it, then let others go on."""
        turn, self.turn = self.turn, None
        try:
            super().close()
        finally:
            if turn is not None:
                turn.leave()


_TURNS: dict[Path, SharedTurn] = {}
_TURNS_LOCK = threading.Lock()


def turn_at(path: Path) -> SharedTurn:
    """Return the turn of this program at a file, one for all who have it open here."""
    place = Path(os.path.realpath(path))
    with _TURNS_LOCK:
        return _TURNS.setdefault(place, SharedTurn(place))


def may_take(path: Path) -> bool:
    """Tell whether a turn at a file can be taken, by making a file beside it.

    Who may make none can make no journal either, and only reads.  A share tells so only
    where it is tried.
    """
    place = Path(os.path.realpath(path))
    trial = place.with_name(f"{place.name}.turn-{secrets.token_hex(4)}")
    try:
        os.close(os.open(trial, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
    except PermissionError:
        return False
    except OSError:  # told where the turn is taken
        return True
    with suppress(OSError):
        trial.unlink()
    return True
