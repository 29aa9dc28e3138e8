"""The files of this computer in which entries wait for the ledger, one for each window.

A window locks its file.  What a window that died has left is taken over by the next one
that opens the event; a file of a window that lives is left alone.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import count
from pathlib import Path

from PySide6.QtCore import QLockFile

from gui.home import write_safely
from scorer.errors import ScorerError


class WaitingFile:
    """One window's file of waiting lines, its own until it is closed.

    Of lines that wait for copies of the event (`of_all` names the files of all of them)
    those are taken over too that are free to go elsewhere.
    """

    def __init__(
        self,
        base: Path,
        *,
        of_all: Path | None = None,
        is_free: Callable[[Sequence[str]], bool] = bool,
    ) -> None:
        base.parent.mkdir(parents=True, exist_ok=True)
        self._path, self._lock = own_file(base)
        self._lines = _lines(self._path)
        for left, lock in left_behind(of_all or base, self._path):
            lines = _lines(left)
            if left.stem.startswith(base.stem) or is_free(lines):
                # Kept here before it is gone there: twice is harmless, never is not.
                self.keep([*self._lines, *lines])
                left.unlink()
            lock.unlock()

    @property
    def lines(self) -> tuple[str, ...]:
        """What waited here, and what windows that died have left."""
        return tuple(self._lines)

    def keep(self, lines: Iterable[str]) -> None:
        """Put what waits now in the place of what waited before."""
        self._lines = list(lines)
        write_safely(self._path, "".join(line + "\n" for line in self._lines))

    def close(self) -> None:
        """Let go of the file; nothing is left of it where nothing waits."""
        if not self._lines:
            self._path.unlink(missing_ok=True)
        self._lock.unlock()


def left_behind(base: Path, own: Path) -> Iterator[tuple[Path, QLockFile]]:
    """Yield the files of windows that died, each locked."""
    names = sorted(base.parent.glob(f"{base.stem}*{base.suffix}"))
    for left in (name for name in names if name != own):
        lock = _locked(left)
        if lock is not None:
            yield left, lock


def own_file(base: Path) -> tuple[Path, QLockFile]:
    """Return the first name that no window uses, locked."""
    for path in _names(base):
        lock = _locked(path)
        if lock is not None:
            return path, lock
    raise AssertionError


def _names(base: Path) -> Iterator[Path]:
    yield base
    yield from (base.with_stem(f"{base.stem}-{number}") for number in count(2))


def _locked(path: Path) -> QLockFile | None:
    """Lock a file, unless a window that lives has it."""
    lock = QLockFile(f"{path}.lock")
    lock.setStaleLockTime(0)  # however old: only a program that died loses its lock
    if lock.tryLock(0):
        return lock
    if lock.error() is not QLockFile.LockError.LockFailedError:
        raise ScorerError(
            f"{path.parent} cannot be written, and entries could not be kept safe "
            "there. Make room or ask for the right to write, then open the event again."
        )
    return None


def _lines(path: Path) -> list[str]:
    if not path.exists():
        return []
    lines = path.read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line.strip()]
