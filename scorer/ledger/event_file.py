"""The one file of an open event: whether it still stands at its place, as it was left.

A file can be moved, deleted, replaced, emptied or written over by other programs while
an event is open.  What is confirmed must be in the file that stands at the path, so each
transaction opens what stands there, finds the newest entry seen so far in it, and looks
once more when it is done.
"""

import os
import shutil
import stat
import weakref
from pathlib import Path
from typing import NamedTuple

from sqlalchemy import Connection, Engine, select
from sqlalchemy.exc import DBAPIError

from scorer.ledger.faults import MovedError
from scorer.ledger.schema import ENTRY

_OTHER_FILE = ("no such table", "no such column", "not a database")
"""What SQLite says of a file that is empty or holds something else."""
_REPLACED = (
    "The event file was moved or replaced. Nothing more is recorded here until it is back "
    "at its place."
)


class NewestEntry(NamedTuple):
    """The newest entry seen, and when it arrived in this one file.

    A file that holds the same entry at the same place is this file or a copy of it that
    is as new or newer.
    """

    seq: int
    hash: str


class Identity(NamedTuple):
    """Which file of the computer it is, whatever its name."""

    device: int
    number: int


class EventFile:
    """Watches over an event file from opening to closing."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.mark: NewestEntry | None = None
        self.told = False
        """Whether somebody has heard that the file is not at its place."""
        self._recovered: tuple[NewestEntry, Path] | None = None
        self._identity: Identity | None = None
        self._handle: int | None = None
        self._release = weakref.finalize(self, lambda: None)

    def identity(self) -> Identity:
        """Return which file stands at the path now; raise MovedError if none does."""
        try:
            found = self.path.stat()
        except OSError as error:
            raise self.moved() from error
        if not stat.S_ISREG(found.st_mode):
            raise self.moved()
        return Identity(found.st_dev, found.st_ino)

    def check(self, connection: Connection, before: Identity) -> None:
        """Raise MovedError unless a fresh connection leads to the event as it was left.

        `before` is what stood at the path before the connection was made.
        """
        if self.identity() != before or not self._holds(connection, self.mark):
            raise self.moved()
        if before != self._identity:
            self._hold(before)

    def confirm(
        self, engine: Engine, before: Identity, mark: NewestEntry | None
    ) -> None:
        """Raise MovedError unless what was just written can be read at the path."""
        held, self.mark = self.mark, mark or self.mark
        try:
            sound = self.identity() == before and self._found(engine, before)
        except MovedError:
            sound = False
        if not sound:
            raise self.moved(written=self.mark != held)

    def close(self, engine: Engine) -> None:
        """Let go of the file; bring what nobody could reach any more to safety."""
        told = self.told  # before it is looked at: looking tells too
        try:
            if self.mark is not None and not self._stands(engine):
                fault = self.moved()
                if not told and self._recovered is not None:
                    raise fault
        finally:
            self._release()

    def moved(self, *, written: bool = False) -> MovedError:
        """Say that the file is not at its place, and bring its entries to safety.

        `written` tells that the last entry went into the file that is gone.
        """
        self.told = True
        safe = self._rescue() if written or self._deleted() else None
        if safe is not None:
            last = (
                " Your last entry is in it: do not enter it again." if written else ""
            )
            advice = (
                f"Everything confirmed is safe in {safe}.{last} Put it back as "
                f"{self.path}, or unite both files with `sandtail merge`."
            )
        elif written:
            advice = (
                "Your last entry is not in it. Put the file back, or open the newest "
                "copy, then enter it again."
            )
        else:
            advice = "Put it back, or open the event where it is now, and try again."
        return MovedError(f"{self.path}: {_REPLACED} {advice}")

    def _hold(self, identity: Identity) -> None:
        """Keep hold of the file, so that it can be read even when its name is gone."""
        self._release()
        self._identity, self._handle = identity, None
        # An ordinary handle would do harm: closing it lets go of SQLite's locks.
        if hasattr(os, "O_PATH"):
            handle = os.open(self.path, os.O_PATH)
            found = os.fstat(handle)
            self._handle = handle
            self._release = weakref.finalize(self, lambda: os.close(handle))
            self._identity = Identity(found.st_dev, found.st_ino)

    def _deleted(self) -> bool:
        """Tell whether no name leads to the file any more."""
        alive = self._handle is not None and self._release.alive
        return alive and os.fstat(self._handle or 0).st_nlink == 0

    def _stands(self, engine: Engine) -> bool:
        try:
            return self._found(engine, self.identity())
        except MovedError:
            return False

    def _found(self, engine: Engine, before: Identity) -> bool:
        """Read the newest entry anew at the path."""
        try:
            with engine.begin() as connection:
                return self._holds(connection, self.mark) and self.identity() == before
        except DBAPIError as error:
            # Another writer's turn, say, tells nothing against the file.
            return not any(words in str(error.orig) for words in _OTHER_FILE)

    @staticmethod
    def _holds(connection: Connection, mark: NewestEntry | None) -> bool:
        if mark is None:
            return True
        try:
            found = connection.execute(
                select(ENTRY.c.hash).where(ENTRY.c.seq == mark.seq)
            ).scalar()
        except DBAPIError as error:
            if any(words in str(error.orig) for words in _OTHER_FILE):
                return False
            raise
        return bool(found == mark.hash)

    def shows(self, error: DBAPIError, before: Identity) -> bool:
        """Tell whether an error comes from our file being gone from its place."""
        other = self.mark is not None and "not a database" in str(error.orig)
        return other or self.identity() != before

    def _rescue(self) -> Path | None:
        """Copy the file that is gone to a name beside its own; None = out of reach."""
        mark = self.mark
        if mark is None or self._handle is None or not self._release.alive:
            return None
        if self._recovered is not None and self._recovered[0] == mark:
            return self._recovered[1]
        for folder in (self.path.absolute().parent, Path.home()):
            copy = self._copy(folder)
            if copy is not None:
                self._recovered = (mark, copy)
                return copy
        return None

    def _copy(self, folder: Path) -> Path | None:
        copy = _free_name(folder, self.path)
        try:
            with open(f"/proc/self/fd/{self._handle}", "rb") as gone:  # noqa: PTH123
                with copy.open("xb") as out:
                    shutil.copyfileobj(gone, out, 1 << 20)
                    out.flush()
                    os.fsync(out.fileno())
                copy.chmod(stat.S_IMODE(os.fstat(gone.fileno()).st_mode))
        except OSError:
            copy.unlink(missing_ok=True)
            return None
        if not self._complete(copy):
            copy.unlink()
            return None
        return copy

    def _complete(self, copy: Path) -> bool:
        from scorer.ledger.engine import file_engine  # noqa: PLC0415

        engine = file_engine(copy)
        try:
            with engine.begin() as connection:
                return self._holds(connection, self.mark)
        except DBAPIError:
            return False


def _free_name(folder: Path, path: Path) -> Path:
    """Return a name that says what the copy is and that nothing has yet."""
    number, copy = 1, folder / f"{path.stem}-recovered{path.suffix}"
    while os.path.lexists(copy):
        number += 1
        copy = folder / f"{path.stem}-recovered-{number}{path.suffix}"
    return copy
