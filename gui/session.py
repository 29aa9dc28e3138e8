"""The open event: records acts, hears of other desks, has scores computed.

The only part of the window that computes, and it does so in workers: one looks at the
ledger, one scores, one sends entries, one waits for news, one prepares pictures.
"""

import logging
import threading
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from gui.home import Home
from gui.jobs import Jobs
from gui.last import LastRecorded
from gui.models.logs import KnownLogs, log_rows
from gui.models.matters import MatterList
from gui.opening import Opening
from gui.outbox import Batch, Outbox
from gui.pool import Pool
from gui.seen import MINUTE_S, Seen, StagesUp, see
from gui.shelf import Shelf
from gui.snapshot import ScoredSnapshot, Snapshot, compute, look
from gui.unsaved import Unsaved
from scorer.errors import ScorerError
from scorer.facts import Fact
from scorer.ledger.acts import Act, EntryId, Undone, Withdrawn
from scorer.ledger.api import Draft, Ledger, News
from scorer.ledger.entry import NO_ENTRY
from scorer.ledger.publish import SILENT
from scorer.ledger.replay import State
from scorer.ledger.served import Away
from scorer.progress import Control
from scorer.scoring.keep import Keep
from scorer.words.voice import Voice

log = logging.getLogger(__name__)

SCORE_AFTER_MS = 20
"""Entries that come together are scored once; those that come meanwhile, once after it."""


class Session(QObject):
    """One event, opened at this desk by one official; lives as long as the window."""

    opened = Signal()
    closed = Signal()
    changed = Signal()  # a new snapshot
    scored = Signal()  # new results, or faults instead
    scoring = Signal(bool)  # whether a score is being computed
    waiting = Signal(int, str)  # entries that wait for the database, and why
    refused = Signal(str)  # an entry was not taken: the sentence to show
    recorded = Signal(object)  # entries that were written
    connection = Signal(str)  # why no news can be heard; empty = all is well
    told = Signal(str)  # what people must know of a database that was changed
    crashed = Signal(object)
    task_chosen = Signal()  # another task for the whole window
    _looked = Signal(object)
    _scores_seen = Signal(object)
    _listed = Signal(object)
    _news = Signal(object)

    def __init__(self, parent: QObject, home: Home) -> None:
        super().__init__(parent)
        self.home = home
        self.ledger: Ledger | None = None
        self.outbox: Outbox | None = None
        self.unsaved = Unsaved(home.data, "start")
        self._snapshot: Snapshot | None = None
        self._scored: ScoredSnapshot | None = None
        self._seen: Seen | None = None
        self.target = ""
        self.caution = ""
        """What to know of where the event lies; empty = nothing."""
        self.problem = ""
        self._lost: datetime | None = None
        self.titles: dict[str, str] = {}
        """What pages are called, by their names."""
        self.last = LastRecorded()
        self.task: int | None = None
        """The task that the whole window shows; None = all of them."""
        self.pool = Pool()
        self._keep = Keep()
        self.shelf = Shelf(self)
        self.scorer = Jobs(self, "score")
        self.looker = Jobs(self, "ahead")
        self._reader = ThreadPoolExecutor(max_workers=1, thread_name_prefix="look")
        self._stop = threading.Event()
        self._watcher: threading.Thread | None = None
        self._reading = False
        self._read_again = False
        self._listing = False
        self._stale = False
        self._scored_ledger: Ledger | None = None
        self._newest: ScoredSnapshot | None = None
        self.known_logs: KnownLogs = {}
        """Rows of logs that were worked out before."""
        self._unseen: tuple[Draft, ...] = ()
        self._timer = QTimer(self, interval=SCORE_AFTER_MS, singleShot=True)
        self._timer.timeout.connect(self.score_now)
        self._looked.connect(self._on_looked)
        self._scores_seen.connect(self._on_scores_seen)
        self._listed.connect(self._on_listed)
        self._minute = QTimer(self, interval=MINUTE_S * 1000)
        self._minute.timeout.connect(lambda: self.matters)
        self._minute.start()
        self._news.connect(self._on_news)
        self.scorer.finished.connect(self._on_scored)
        for jobs in (self.scorer, self.looker):
            jobs.refused.connect(self.refused)
            jobs.crashed.connect(self.crashed)
        self.shelf.crashed.connect(self.crashed)
        self.scorer.ended.connect(self._on_score_ended)

    @property
    def matters(self) -> MatterList:
        """All that is open or doubtful, as every page lists and counts it.

        Listed once for each change, and anew each minute in a worker: some of it hangs
        on the time.
        """
        seen = self._look_blindly()
        if seen is None or self.ledger is None:
            return MatterList()
        if not seen.is_new(self.ledger.clock()) and not self._listing:
            self._listing = True
            self._reader.submit(self._list, self.ledger, seen)
        return seen.listed

    def _list(self, ledger: Ledger, seen: Seen) -> None:
        try:
            found: object = self._see(ledger, seen.snapshot, seen.scored)
        except Exception as error:  # shown as a crash, in the window's thread
            log.exception("listing what is open crashed")
            found = error
        self._listed.emit(found)

    @Slot(object)
    def _on_listed(self, found: object) -> None:
        self._listing = False
        before, now = self._seen, self._snapshot
        if not isinstance(found, Seen):
            self.crashed.emit(found)
        elif before and now and found.is_of(now, self._scored, self.who):
            self._seen = found
            if found.listed != before.listed:
                self.changed.emit()

    @property
    def snapshot(self) -> Snapshot | None:
        """The event as entered, as far as the official at this desk may see it."""
        seen = self._look_blindly()
        return None if seen is None else seen.shown

    @property
    def results(self) -> ScoredSnapshot | None:
        """What was computed of it, as far as the official at this desk may see it."""
        seen = self._look_blindly()
        return None if seen is None else seen.results

    @property
    def up(self) -> StagesUp:
        """Where each task stands on the board."""
        seen = self._look_blindly()
        return None if seen is None else seen.up

    @property
    def publishable(self) -> ScoredSnapshot | None:
        """What was computed, whole: what goes up is no secret of this desk's."""
        return self._scored

    def _look_blindly(self) -> Seen | None:
        """Take out what must not be seen here, once for each change.

        A worker has done it, unless somebody else took over the desk meanwhile.
        """
        snapshot, scored, seen = self._snapshot, self._scored, self._seen
        if snapshot is None or self.ledger is None:
            self._seen = None
        elif seen is None or not seen.is_of(snapshot, scored, self.who):
            now = self.ledger.clock()
            own = self.ledger
            self._seen = see(snapshot, scored, self.who, now, seen, ledger=own)
        return self._seen

    def _see(
        self, ledger: Ledger, snapshot: Snapshot | None, scored: ScoredSnapshot | None
    ) -> Seen | None:
        """Do the same ahead of it, in a worker."""
        if snapshot is None:
            return None
        now, before = ledger.clock(), self._seen
        return see(snapshot, scored, ledger.who, now, before, ledger=ledger)

    # Opening and closing.

    def open(self, opening: Opening) -> None:
        """Show an event."""
        self.close()
        ledger = opening.ledger
        self.ledger, self.target = ledger, opening.target
        self.caution = opening.caution
        root = self._root(opening.snapshot)
        self.unsaved.close()
        self.unsaved = Unsaved(self.home.data, root)
        kept = self.home.data / f"waiting-{root}.jsonl"
        self.outbox = Outbox(self, ledger, kept, opening.target)
        self.outbox.written.connect(self._on_written)
        self.outbox.waiting.connect(self.waiting)
        self.outbox.refused.connect(self._on_refused)
        self._snapshot, self._seen = opening.snapshot, opening.seen
        if ledger.away is not None:
            self._set_problem(ledger.away.why)
        self.task = None
        self._stop = threading.Event()
        self._watcher = threading.Thread(
            target=self._watch, args=(ledger, self._stop), name="watch", daemon=True
        )
        self._watcher.start()
        self.home.settings.opened(opening.target)
        self.opened.emit()
        self.changed.emit()
        self.outbox.retry()
        self._timer.start()

    def close(self) -> None:
        """Let go of the event; entries that wait stay on this computer."""
        if self.ledger is None:
            return
        self._stop.set()
        self._timer.stop()
        if self._watcher is not None:
            self._watcher.join()
        if self.outbox is not None:
            self.outbox.close()
            self.outbox.deleteLater()
        ledger, self.ledger, self.outbox = self.ledger, None, None
        self.last.forget()
        self.scorer.cancel()
        self._reader.submit(_close, ledger).result()
        self.shelf.empty()
        self.unsaved.close()
        self.unsaved = Unsaved(self.home.data, "start")
        self._snapshot = self._scored = self._newest = None
        self._seen = None
        self.known_logs = {}
        self.target = self.problem = ""
        self._unseen = ()
        self.closed.emit()

    def shutdown(self) -> None:
        """Stop all workers.  Call from closeEvent."""
        self.close()
        self.scorer.shutdown()
        self.looker.shutdown()
        self.shelf.shutdown()
        self._reader.shutdown(wait=True)
        self.pool.close()

    @staticmethod
    def _root(snapshot: Snapshot) -> str:
        """Name the event by its first entry, so that copies of a file share drafts."""
        roots = [e.hash for e in snapshot.state.entries if e.prev == NO_ENTRY]
        return roots[0][:16] if roots else "event"

    # Recording.

    @property
    def who(self) -> str:
        """The official at this desk."""
        return self.ledger.who if self.ledger else ""

    def set_who(self, name: str) -> None:
        """Let another official take over this desk."""
        if self.ledger is not None and name.strip():
            self.ledger.who = name.strip()
            self.last.forget()
            self._fill_shelf()
            self.changed.emit()
            if self._scored is not None:
                self.scored.emit()

    def choose_task(self, number: int | None) -> None:
        """Choose the task that the whole window shows; None = all of them."""
        if number != self.task:
            self.task = number
            self.task_chosen.emit()

    @property
    def writable(self) -> bool:
        """Tell whether entries can be made."""
        return self.ledger is not None and self.ledger.store.writing

    def record(
        self, act: Act, *, why: str = "", replaces: Sequence[EntryId] = ()
    ) -> Draft:
        """Record one act."""
        draft = Draft(act=act, why=why, replaces=tuple(replaces))
        self.record_all([draft])
        return draft

    def record_all(self, drafts: Sequence[Draft]) -> None:
        """Record several acts, all or none."""
        if self.outbox is None:
            raise ScorerError("no event is open; open one first")
        self.outbox.put(drafts, who=self.who)
        self.last.keep(drafts)
        self.changed.emit()

    def recorded_by_job(
        self, ledger: Ledger, page: str, drafts: Sequence[Draft]
    ) -> None:
        """Take note of what a job of a page recorded, so that it can be reverted there."""
        if drafts and ledger is self.ledger:
            # without the files: they are in the event
            self.last.keep([replace(draft, files={}) for draft in drafts], page)
        self.look_again()

    def revert_last(self) -> Fact:
        """Revert what the page in front recorded last; return what became of it."""
        told, drafts = self.last.taken_back(self._snapshot, self.who)
        if drafts:
            self.record_all(drafts)
            self.last.forget_here()
        return told

    def undo(self, entry: EntryId, *, why: str) -> None:
        """Make an entry count as not made."""
        self.record(Undone(entry=entry), why=why)

    def withdraw(self, entries: Sequence[EntryId], *, why: str) -> None:
        """Say that what entries set down no longer holds."""
        self.record(Withdrawn(entry=entries[0]), why=why, replaces=entries[1:])

    @property
    def pending(self) -> tuple[Draft, ...]:
        """What was recorded and the snapshot does not show yet."""
        return (*self._unseen, *(self.outbox.drafts if self.outbox else ()))

    @Slot(object, object)
    def _on_written(self, batches: tuple[Batch, ...], entries: object) -> None:
        fresh = (draft for batch in batches for draft in batch.drafts)
        self._unseen = (*self._unseen, *fresh)
        self.recorded.emit(entries)
        self.look_again()

    @Slot(object, str)
    def _on_refused(self, _: object, why: str) -> None:
        self.refused.emit(f"An entry was not taken: {why}")
        self.look_again()

    # Looking.

    def look_again(self) -> None:
        """Read the ledger in the background; requests that meet are put together."""
        if self.ledger is None:
            return
        if self._reading:
            self._read_again = True
            return
        self._reading = True
        self._reader.submit(self._look, self.ledger)

    def _look(self, ledger: Ledger, known: Snapshot | None = None) -> None:
        found: object
        try:
            snapshot = known or look(ledger, self._keep)
            found = snapshot, self._see(ledger, snapshot, self._scored)
        except ScorerError as error:
            found = str(error)
        except Exception as error:  # shown as a crash, in the window's thread
            log.exception("looking at the ledger crashed")
            found = error
        self._looked.emit((ledger, found))

    @Slot(object)
    def _on_looked(self, looked: tuple[Ledger, object]) -> None:
        self._reading = False
        ledger, found = looked
        if ledger is self.ledger:
            if isinstance(found, tuple):
                self._take(*found)
            elif isinstance(found, str):
                self._set_problem(found)
            else:
                self.crashed.emit(found)
        if self._read_again:
            self._read_again = False
            self.look_again()

    def _take(self, snapshot: Snapshot, seen: Seen) -> None:
        if self.ledger and not seen.is_of(snapshot, self._scored, self.who):
            self._reading = True  # results came meanwhile: made anew, by the worker
            self._reader.submit(self._look, self.ledger, snapshot)
            return
        before = self._snapshot
        self._snapshot, self._seen = snapshot, seen
        if self._unseen:
            arrived = {entry.token for entry in snapshot.state.entries}
            self._unseen = tuple(d for d in self._unseen if d.token not in arrived)
        self.changed.emit()
        if before is None or _matters(before.state, snapshot.state):
            self._timer.start()

    def _watch(self, ledger: Ledger, stop: threading.Event) -> None:
        """Wait for news, in a thread of its own."""
        for news in ledger.watch(stop):
            self._news.emit(news)

    @Slot(object)
    def _on_news(self, news: News) -> None:
        back = bool(self.problem) and not news.problem
        self._set_problem(news.problem)
        if not news.problem:
            if self.outbox is not None:
                self.outbox.retry()
            self.look_again()
        if back:
            self._timer.start()  # with what could not be read without the database
        if news.told is not None and self._snapshot is not None:
            self.told.emit(Voice.of(self._snapshot.event).say(news.told))

    def _set_problem(self, problem: str) -> None:
        if problem and not self.problem and self.ledger is not None:
            self._lost = self.ledger.clock()
        self.problem = problem
        self.connection.emit(problem)

    @property
    def away(self) -> Away | None:
        """Since when the database does not answer, and why; None = it does."""
        ledger = self.ledger
        if ledger is None or not self.problem or self._lost is None:
            return None
        return ledger.away or Away(as_of=self._lost, why=self.problem)

    # Scoring.

    @Slot()
    def score_now(self) -> None:
        """Compute results of what stands now."""
        if self.ledger is None:
            return
        if self.scorer.busy:
            self._stale = True
            return
        ledger, pool = self.ledger, self.pool
        self._scored_ledger = ledger

        def work(control: Control) -> tuple[ScoredSnapshot, Seen | None]:
            snapshot = self._snapshot
            scored = compute(ledger, pool, control, snapshot)
            if snapshot is not None:
                log_rows(snapshot, scored, self.known_logs)
            return scored, self._see(ledger, snapshot, scored)

        self.scorer.start(work, text="Scoring")
        self.scoring.emit(True)

    @Slot(object)
    def _on_scored(self, found: object) -> None:
        if self.ledger is None or self._scored_ledger is not self.ledger:
            return  # the score of an event that was closed meanwhile
        if not isinstance(found, tuple):
            return
        self._newest, seen = found
        self._show_scores(self.ledger, self._newest, seen)

    def _show_scores(
        self, ledger: Ledger, scored: ScoredSnapshot, seen: Seen | None
    ) -> None:
        """Show results, unless entries came meanwhile: then both are looked at anew."""
        snapshot = self._snapshot
        if snapshot and not (seen and seen.is_of(snapshot, scored, self.who)):
            self._reader.submit(self._see_scores, ledger, scored)
            return
        self._scored, self._seen = scored, seen
        self._fill_shelf()
        self.scored.emit()

    def _see_scores(self, ledger: Ledger, scored: ScoredSnapshot) -> None:
        seen: object
        try:
            seen = self._see(ledger, self._snapshot, scored)
        except Exception as error:  # shown as a crash, in the window's thread
            log.exception("listing what is open crashed")
            seen = error
        self._scores_seen.emit((ledger, scored, seen))

    @Slot(object)
    def _on_scores_seen(self, found: tuple[Ledger, ScoredSnapshot, object]) -> None:
        ledger, scored, seen = found
        if isinstance(seen, Exception):
            self.crashed.emit(seen)
        elif ledger is self.ledger and scored is self._newest:
            self._show_scores(ledger, scored, seen if isinstance(seen, Seen) else None)

    def _fill_shelf(self) -> None:
        """Have pictures made of what this official may see."""
        shown = self.results
        if shown is not None and shown.results is not None:
            self.shelf.fill(shown.event, shown.results, self.pool.keep)

    @Slot()
    def _on_score_ended(self) -> None:
        self.scoring.emit(False)
        if self._stale:
            self._stale = False
            self.score_now()

    @property
    def up_to_date(self) -> bool:
        """Tell whether the results are those of what is shown, nothing on its way."""
        snapshot, scored = self.snapshot, self.results
        if snapshot is None or scored is None or self._reading or self.pending:
            return False
        return not _matters(scored.state, snapshot.state)


def _matters(before: State, after: State) -> bool:
    """Tell whether something came that results depend on."""
    known = {entry.hash for entry in before.entries}
    fresh = (e for e in after.entries if e.hash not in known)
    return any(entry.kind not in SILENT for entry in fresh)


def _close(ledger: Ledger) -> None:
    try:
        ledger.close()
    except ScorerError:
        return  # entries are safe; the database was not there to be told
