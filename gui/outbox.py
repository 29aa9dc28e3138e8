"""Entries on their way to the ledger: none is lost, whatever happens to the database.

What an official recorded stands in a file of this computer until the ledger has
confirmed it.  Each draft carries a token, so sending one twice is harmless.
"""

import hashlib
import json
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from gui.waiting import WaitingFile
from scorer.errors import ScorerError
from scorer.ledger.acts import EntryId, to_payload
from scorer.ledger.api import Draft, Entry, Ledger
from scorer.ledger.engine import is_url
from scorer.ledger.faults import (
    BusyError,
    DamagedError,
    FullError,
    ReadOnlyError,
    UnreachableError,
)
from scorer.ledger.gate import read_act

RETRY_MS = 2000
TOGETHER = 50
"""Batches of a backlog that are written together."""
PASSING = (UnreachableError, BusyError, FullError, DamagedError, ReadOnlyError)
"""Faults that pass: the entry waits and is sent again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Drafts that go together, all or none, and who recorded them."""

    drafts: tuple[Draft, ...]
    who: str
    to: str = ""
    """The event file or address that was open; empty = an earlier version kept it."""

    def to_text(self) -> str:
        """Write the batch as one line."""
        drafts = [
            {
                "kind": str(draft.act.kind),
                "payload": to_payload(draft.act),
                "why": draft.why,
                "replaces": list(draft.replaces),
                "token": draft.token,
            }
            for draft in self.drafts
        ]
        return json.dumps({"who": self.who, "to": self.to, "drafts": drafts})

    @classmethod
    def from_text(cls, line: str) -> "Batch":
        """Read the batch again."""
        found = json.loads(line)
        return cls(
            who=found["who"],
            to=found.get("to", ""),
            drafts=tuple(
                Draft(
                    act=read_act(d["kind"], d["payload"]),
                    why=d["why"],
                    replaces=tuple(EntryId(name) for name in d["replaces"]),
                    token=d["token"],
                )
                for d in found["drafts"]
            ),
        )


def whole_target(target: str) -> str:
    """Name an event file by its whole path, wherever the program was started."""
    return target if not target or is_url(target) else str(Path(target).resolve())


def mark_of(target: str) -> str:
    """Return what tells an event file from its copies; a server may get a new address."""
    if is_url(target):
        return "server"
    return hashlib.sha256(target.encode()).hexdigest()[:8]


def _is_free(lines: Sequence[str]) -> bool:
    """Tell whether the event file for which entries wait was moved or deleted.

    A drive that is away is no such: its entries wait until it is back.
    """
    for line in lines[:1]:
        target = Path(Batch.from_text(line).to)
        if target.name and not is_url(str(target)):
            return target.parent.is_dir() and not target.exists()
        return not target.name
    return True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Outcome:
    batches: tuple[Batch, ...]
    entries: tuple[Entry, ...] = ()
    problem: str = ""
    passing: bool = False


class Outbox(QObject):
    """Sends entries one batch after the other; keeps what cannot be sent now."""

    written = Signal(object, object)  # the batches, their entries
    refused = Signal(object, str)  # the batch, and why the ledger never takes it
    waiting = Signal(int, str)  # how many drafts wait, and why; 0 = none
    _outcome = Signal(object)

    def __init__(
        self, parent: QObject, ledger: Ledger, file: Path, target: str = ""
    ) -> None:
        """Keep what waits in a `file` that copies of the event share.

        What waits for one of them goes into that one alone, the `target`, as long as it
        is there: people see which one they have open.
        """
        super().__init__(parent)
        self._ledger, self._target = ledger, whole_target(target)
        self._refused = file.with_name(f"refused-{file.name}")
        own = file.with_stem(f"{file.stem}-{mark_of(self._target)}")
        self._file = WaitingFile(own, of_all=file, is_free=_is_free)
        self._executor = ThreadPoolExecutor(max_workers=1, thread_name_prefix="outbox")
        self._sending = self._one_by_one = False
        self._queue = [Batch.from_text(line) for line in self._file.lines]
        self.problem = ""
        self._timer = QTimer(self, interval=RETRY_MS, singleShot=True)
        self._timer.timeout.connect(self.retry)
        self._outcome.connect(self._on_outcome)

    @property
    def drafts(self) -> tuple[Draft, ...]:
        """All that waits, oldest first."""
        return tuple(draft for batch in self._queue for draft in batch.drafts)

    def put(self, drafts: Sequence[Draft], *, who: str) -> None:
        """Take drafts over; from here on they are safe."""
        self._queue.append(Batch(drafts=tuple(drafts), who=who, to=self._target))
        self._keep()
        self.retry()

    @Slot()
    def retry(self) -> None:
        """Send the oldest batch, unless one is on its way."""
        self._timer.stop()
        if self._queue and not self._sending:
            self._sending = True
            self._executor.submit(self._send, self._next())

    def _next(self) -> tuple[Batch, ...]:
        """Return what goes now: a backlog of one official goes together."""
        first = self._queue[0]
        together = [first]
        for batch in self._queue[1 : 1 if self._one_by_one else TOGETHER]:
            if batch.who != first.who:
                break
            together.append(batch)
        return tuple(together)

    def close(self) -> None:
        """Stop sending; what waits stays in the file."""
        self._timer.stop()
        self._executor.shutdown(wait=True)
        self._file.close()

    def _send(self, batches: tuple[Batch, ...]) -> None:
        """Write batches, in the worker's thread."""
        drafts = [draft for batch in batches for draft in batch.drafts]
        try:
            entries = self._ledger.record_all(drafts, who=batches[0].who)
            outcome = _Outcome(batches=batches, entries=entries)
        except PASSING as error:
            outcome = _Outcome(batches=batches, problem=str(error), passing=True)
        except ScorerError as error:
            outcome = _Outcome(batches=batches, problem=str(error))
        self._outcome.emit(outcome)

    @Slot(object)
    def _on_outcome(self, outcome: _Outcome) -> None:
        self._sending = False
        if outcome.passing:
            self.problem = outcome.problem
            self.waiting.emit(len(self.drafts), outcome.problem)
            self._timer.start()
            return
        if outcome.problem and len(outcome.batches) > 1:
            self._one_by_one = True  # to find the one that is refused
            self.retry()
            return
        del self._queue[: len(outcome.batches)]
        self._keep()
        if outcome.problem:
            self._set_aside(outcome.batches[0])
            self.refused.emit(outcome.batches[0], outcome.problem)
        else:
            self.written.emit(outcome.batches, outcome.entries)
        if not self._queue:
            self.problem, self._one_by_one = "", False
        self.waiting.emit(len(self.drafts), self.problem)
        self.retry()

    def _keep(self) -> None:
        self._file.keep(batch.to_text() for batch in self._queue)

    def _set_aside(self, batch: Batch) -> None:
        with self._refused.open("a", encoding="utf-8") as out:
            out.write(batch.to_text() + "\n")
