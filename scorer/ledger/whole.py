"""What is done to an event as a whole: one call each for the command line."""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from scorer.event.build import build_event
from scorer.event.folder import read_folder, write_folder
from scorer.event.model import Event
from scorer.event.raw import RawEvent
from scorer.ledger.acts import ComplaintDecided, ComplaintFiled, DeskId
from scorer.ledger.archive import (
    addressed,
    is_archive,
    open_archive,
    write_archive,
)
from scorer.ledger.audit import Audit, Rescore, verify
from scorer.ledger.convert import to_drafts
from scorer.ledger.engine import is_url
from scorer.ledger.entry import Draft
from scorer.ledger.faults import NotALedgerError
from scorer.ledger.files import Content
from scorer.ledger.ledger import Clock, Ledger, system_clock
from scorer.ledger.merge import Merged, merge_into
from scorer.ledger.opening import empty_store, memory_store, open_store
from scorer.ledger.publish import Computed
from scorer.ledger.replay import State, replay
from scorer.ledger.resolve import content_key
from scorer.ledger.store import Store
from scorer.progress import Control

Score = Callable[[Event], bytes]
"""Computes results.json."""
Target = str | Path
"""Folder, event file, archive, or URL of a database."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """An event read from wherever it lies."""

    raw: RawEvent
    state: State | None
    """None where it came from a folder."""
    where: str

    @property
    def notes(self) -> tuple[str, ...]:
        """What desks disagree on, for printing before results."""
        if self.state is None:
            return ()
        return tuple(conflict.what for conflict in self.state.conflicts)


def results_json(event: Event) -> bytes:
    """Compute an event's results.json, as publications keep it."""
    # A desk that only keys marks need not wait for the scoring modules to load.
    from scorer.scoring.document import to_json  # noqa: PLC0415
    from scorer.scoring.score import score  # noqa: PLC0415

    return to_json(score(event)).encode()


def load(target: Target, *, clock: Clock = system_clock) -> Loaded:
    """Read an event from a folder, event file, archive or database; write nothing."""
    if not is_url(target) and Path(target).is_dir():
        return Loaded(raw=read_folder(Path(target)), state=None, where=str(target))
    with open_any(target, clock=clock) as store:
        state = replay(store.entries())
        return Loaded(raw=state.raw(store.file), state=state, where=store.where)


def open_event(target: Target) -> RawEvent:
    """Read an event as entered from a folder, event file, archive or database."""
    return load(target).raw


def open_any(target: Target, *, clock: Clock = system_clock) -> Store:
    """Open an event file, archive or database for reading only."""
    path = Path(target)
    if is_url(target) or not path.is_file() or not is_archive(path):
        if not is_url(target) and not path.exists():
            raise NotALedgerError(
                f"there is no {target}; give an event folder, an event file, an archive "
                "or a postgresql:// address"
            )
        return open_store(target, when=clock(), read_only=True)
    store = memory_store(when=clock())
    with open_archive(path) as book:
        store.take(book.entries, book.files())
    store.where = str(path)
    return store


def create(
    target: Target, *, desk: DeskId, who: str, clock: Clock = system_clock
) -> Ledger:
    """Make a new, empty event."""
    return Ledger.create(target, desk=desk, who=who, clock=clock)


def import_folder(
    folder: Path,
    target: Target,
    *,
    desk: DeskId,
    who: str,
    clock: Clock = system_clock,
    into: bool = False,
) -> int:
    """Take an event folder into a ledger; return how many entries it became.

    `into` adds to an event that exists: rows it holds already are passed over, and what
    differs is listed as a conflict or a disagreement afterwards.  Without it the target
    must be new.  A folder with faults is refused whole, with all of them.
    """
    raw = read_folder(folder)
    build_event(raw)
    opened = Ledger.open if into else Ledger.create
    with (
        _or_nothing(target),
        opened(target, desk=desk, who=who, clock=clock) as ledger,
    ):
        known = ledger.state() if into else None
        drafts = to_drafts(raw, f"imported from {folder.name}", known)
        if known:
            drafts = _without_known(drafts, known)
        ledger.record_all(drafts)
    return len(drafts)


def export_folder(target: Target, folder: Path) -> State | None:
    """Write an event as a folder; return the state for its list of conflicts."""
    loaded = load(target)
    write_folder(_with_talk(loaded.raw, loaded.state), folder)
    return loaded.state


def left_behind(state: State) -> str:
    """Say what a folder of an event does not hold, for people to keep it elsewhere."""
    count = len(state.entries)
    old = count - sum(len(current.entries) for current in state.current)
    return (
        f"The folder holds what was set down, as it stands now. Left behind: "
        f"{len(state.publications)} publications (and which of them a complaint is "
        f"about, or which entry a note), who entered what when ({count} entries), and "
        f"{old} entries that were replaced, withdrawn or undone, or did so. "
        "`sandtail archive` keeps them."
    )


def merge_files(
    sources: Sequence[Target],
    target: Target,
    *,
    clock: Clock = system_clock,
    control: Control | None = None,
) -> Merged:
    """Unite ledgers into one that may be new; sources stay as they are."""
    new = not is_url(target) and not Path(target).exists()
    make = empty_store if new else open_store
    with ExitStack() as stack:
        opened = [
            stack.enter_context(open_any(source, clock=clock)) for source in sources
        ]
        with _or_nothing(target), make(target, when=clock()) as store:
            return merge_into(store, opened, control=control)


def verify_target(
    target: Target,
    *,
    scoring: Score | None = results_json,
    control: Control | None = None,
    clock: Clock = system_clock,
) -> Audit:
    """Check chains and files, and compute every publication again with `scoring`."""
    with open_any(target, clock=clock) as store:
        return verify(store, rescore=_rescore(scoring), control=control)


def archive(
    target: Target,
    path: Path,
    *,
    control: Control | None = None,
    clock: Clock = system_clock,
) -> str:
    """Write the archive of an event and read it back; return its SHA-256."""
    with open_any(target, clock=clock) as store:
        entries = store.entries()
        state = replay(entries)
        raw = _with_talk(state.raw(addressed), state)
        return write_archive(store, entries, raw, path, control=control)


def restore(path: Path, target: Target, *, clock: Clock = system_clock) -> int:
    """Make an event file, or fill an empty database, from an archive."""
    with (
        open_archive(path) as book,
        _or_nothing(target),
        empty_store(target, when=clock()) as store,
    ):
        return store.take(book.entries, book.files())


def compute(
    ledger: Ledger,
    *,
    scoring: Score = results_json,
    documents: Callable[[bytes], Mapping[str, Content]] | None = None,
) -> Computed:
    """Score the present state, ready to be published.

    `documents` makes the sheets and pages, by file name, of the results' bytes.
    """
    state = ledger.state()
    event = build_event(state.raw(ledger.file))
    results = scoring(event)
    made = documents(results) if documents else None
    return computed_of(state, event, results, documents=made)


def computed_of(
    state: State,
    event: Event,
    results: bytes,
    *,
    documents: Mapping[str, Content] | None = None,
) -> Computed:
    """Put results together with all that publishing asks of the event's rule book."""
    return Computed(
        state=state,
        results=results,
        complaint_s=event.book.publication.complaint_s,
        protest_s=event.book.publication.protest_s,
        unset=event.book.unset,
        documents=documents,
    )


def _rescore(scoring: Score | None) -> Rescore | None:
    return None if scoring is None else lambda raw: scoring(build_event(raw))


def _with_talk(raw: RawEvent, state: State | None) -> RawEvent:
    """Add complaints and notes, which no score depends on."""
    if state is None:
        return raw
    rows = tuple(complaint.row for complaint in state.complaints)
    return replace(raw, complaints=rows, notes=state.note_rows)


def _without_known(drafts: Sequence[Draft], state: State) -> tuple[Draft, ...]:
    """Leave out what the ledger holds already, row by row."""
    known = {content_key(current.act) for current in state.current}
    return tuple(
        draft
        for draft in drafts
        if isinstance(draft.act, ComplaintFiled | ComplaintDecided)  # sorted out before
        or content_key(draft.act) not in known
    )


@contextmanager
def _or_nothing(target: Target) -> Iterator[None]:
    """Leave no half of a new event file behind where filling it fails."""
    new = not is_url(target) and not os.path.lexists(target)
    try:
        yield
    except BaseException:
        if new:
            for end in ("", "-wal", "-shm", "-journal"):
                Path(f"{target}{end}").unlink(missing_ok=True)
        raise
