"""What is done to an event as a whole: one call each for the command line."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, replace
from os.path import lexists
from pathlib import Path
from typing import TYPE_CHECKING

from scorer.event.build import build, build_event
from scorer.event.folder import read_folder, write_folder
from scorer.event.model import Event, Pilot
from scorer.event.raw import RawEvent
from scorer.event.strangers import without_strangers
from scorer.facts import Fact, count, fact, inner
from scorer.files import part_beside, put_in_place, writing
from scorer.fresh import FEW_LOGS, processes
from scorer.ledger.acts import DeskId, Sha256
from scorer.ledger.again import read_again
from scorer.ledger.against import (
    beside,
    of_file,
    of_head,
    of_path,
    of_store,
    publication_of,
)
from scorer.ledger.archive import (
    addressed,
    is_archive,
    open_archive,
    write_archive,
)
from scorer.ledger.archived import folder_problems
from scorer.ledger.audit import (
    Audit,
    Problem,
    RawThen,
    Rescore,
    Severity,
    verify,
)
from scorer.ledger.convert import to_drafts
from scorer.ledger.engine import is_sqlite_file, is_url
from scorer.ledger.entry import Draft
from scorer.ledger.faults import (
    FullError,
    LedgerError,
    MissingBlobError,
    NotALedgerError,
)
from scorer.ledger.files import Content
from scorer.ledger.head import read_head
from scorer.ledger.ledger import Clock, Ledger, system_clock
from scorer.ledger.merge import Merged, merge_into
from scorer.ledger.opening import empty_store, memory_store, open_store
from scorer.ledger.publish import Computed
from scorer.ledger.replay import Publication, State, replay, with_talk
from scorer.ledger.snapshot import grown
from scorer.ledger.sound import sound
from scorer.ledger.store import Store
from scorer.ledger.tried import try_out
from scorer.ledger.up import covers
from scorer.progress import Control

if TYPE_CHECKING:
    from scorer.scoring.keep import Keep
    from scorer.scoring.results import Results

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
    def notes(self) -> tuple[Fact, ...]:
        """What is set aside, and what desks disagree on, for printing before results."""
        return () if self.state is None else notes_of(self.state)


def results_json(event: Event) -> bytes:
    """Compute an event's results.json, as publications keep it."""
    # A desk that only keys marks need not wait for the scoring modules to load.
    from scorer.scoring.document import to_json  # noqa: PLC0415
    from scorer.scoring.score import score  # noqa: PLC0415

    return to_json(score(event)).encode()


@contextmanager
def scoring_each_once() -> Iterator[Score]:
    """Give a way to score many states of one event: what they share is found once.

    Everything is read anew in here, by all cores where there are many logs.
    """
    from scorer.scoring.document import to_json  # noqa: PLC0415 - as above
    from scorer.scoring.keep import Keep  # noqa: PLC0415
    from scorer.scoring.score import score  # noqa: PLC0415

    keep = Keep()
    with ExitStack() as stack:
        pools: list[Executor] = []

        def again(event: Event) -> bytes:
            logs = sum(len(flight.logs) for flight in event.flights)
            if logs > FEW_LOGS and not pools:
                pools.append(stack.enter_context(processes()))
            return to_json(score(event, *pools, keep=keep)).encode()

        yield again


def load(target: Target, *, clock: Clock = system_clock) -> Loaded:
    """Read an event from a folder, event file, archive or database; write nothing."""
    if not is_url(target) and Path(target).is_dir():
        return Loaded(raw=read_folder(Path(target)), state=None, where=str(target))
    with open_any(target, clock=clock) as store:
        state = sound(grown(store)).state
        read = store.reader(state.log_files)
        return Loaded(raw=state.raw(read), state=state, where=store.where)


def pilots_of(target: Target) -> tuple[Pilot, ...]:
    """Read an event's pilots from an event file, archive or database, and no log."""
    with open_any(target) as store:
        state = sound(grown(store)).state
    return build(state.roster())[0].pilots


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
    try:
        with open_archive(path) as book:
            store.take(book.entries, book.files())
    except BaseException:
        store.close()
        raise
    store.where = str(path)
    return store


def import_folder(
    folder: Path,
    target: Target,
    *,
    desk: DeskId,
    who: str,
    clock: Clock = system_clock,
    into: bool = False,
    leave_out: bool = False,
    withdraw: bool = False,
    dry_run: bool = False,
    tell: Callable[[Fact], None] = lambda _: None,
) -> int:
    """Take an event folder into a ledger; return how many entries it became.

    `into` adds to an event that exists: what it holds already is passed over, and what
    the folder set down before gives way to what it says now.  `withdraw` also takes back
    what the folder holds no longer.  `tell` hears each difference; with `dry_run` also
    what it changes in ranks and points, and then nothing else is done.  Without `into`
    the target must be new.  A folder with faults is refused whole, with all of them;
    `leave_out` leaves out the rows that name a pilot or task it does not have.
    """
    raw = read_folder(folder)
    if leave_out:
        raw, _ = without_strangers(raw)
    build_event(raw)
    why = f"imported from {folder.name}"
    if into:
        with Ledger.open(target, desk=desk, who=who, clock=clock) as ledger:
            known = ledger.state()
            found = read_again(to_drafts(raw, why, known), known)
            drafts = (*found.drafts, *(found.withdrawals(why) if withdraw else ()))
            for difference in found.told:
                tell(difference)
            if not dry_run:
                ledger.record_all(drafts)
            elif drafts:
                for change in try_out(ledger, drafts).changes:
                    tell(change.says)
        return len(drafts)
    drafts = to_drafts(raw, why)
    if not dry_run:
        make_event(target, drafts, desk=desk, who=who, clock=clock)
    return len(drafts)


def make_event(
    target: Target,
    drafts: Sequence[Draft],
    *,
    desk: DeskId,
    who: str,
    clock: Clock = system_clock,
) -> None:
    """Make a new event with its first entries, all or nothing."""
    with (
        _whole(target) as place,
        Ledger.create(place, desk=desk, who=who, clock=clock) as ledger,
    ):
        ledger.record_all(drafts)


@contextmanager
def _whole(target: Target) -> Iterator[Target]:
    """Give a place to make a new event file at: it gets its name once it is whole.

    A database is filled where it is.
    """
    if is_url(target):
        yield target
        return
    path = Path(target)
    if lexists(path):
        raise LedgerError(f"{path} exists already; choose another name")
    if not path.absolute().parent.is_dir():
        raise LedgerError(f"there is no folder {path.parent}; make it first")
    try:
        with part_beside(path) as part:
            part.unlink()
            try:
                yield part
                put_in_place(part, path)
            except FullError as error:
                raise FullError(
                    f"{path}: the disk is full or failing; nothing was written. Free "
                    "some space, or choose another disk, and try again."
                ) from error
            except LedgerError as error:
                text = str(error).replace(str(part), str(path))
                raise type(error)(text) from error
            finally:
                for helper in ("-journal", "-wal", "-shm"):
                    with suppress(OSError):
                        part.with_name(part.name + helper).unlink(missing_ok=True)
    except FileExistsError:
        raise LedgerError(f"{path} exists already; choose another name") from None
    except OSError as error:
        raise LedgerError(
            f"{path} cannot be written ({error.strerror}); choose another folder"
        ) from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """What became of an event written as a folder."""

    state: State | None
    """For its list of conflicts; None where it was a folder before."""
    renamed: tuple[str, ...]
    """A sentence for each name that could not be that of a file."""


def as_published(
    target: Target, version: int, task: int | None = None
) -> tuple[RawEvent, Publication, bytes]:
    """Return an event as a publication was computed from it, and its results.json.

    With a task, a publication of that task comes before one of the whole event; without,
    one of the whole event before the only one of some tasks.
    """
    with open_any(target) as store:
        entries = store.entries()
        state = replay(entries, stored=store.known_files)
        published = _version(state, version, task)
        raw = RawThen(store, entries)(published.act.heads)
        return raw, published, store.file(published.act.results)


def _version(state: State, version: int, task: int | None) -> Publication:
    """Find a publication by its version."""
    wanted = () if task is None else (task,)
    found = [
        publication
        for publication in state.publications
        if publication.act.version == version
        and (task is None or covers(publication.act, wanted))
    ]
    found.sort(key=lambda publication: publication.act.tasks != wanted)
    # Older events counted versions of each task by themselves: there a task is needed.
    if found and (task is not None or len(found) == 1 or not found[0].act.tasks):
        return found[0]
    known = ", ".join(
        f"{p.act.version} ({p.act.stage}, "
        f"{'task ' + ' '.join(map(str, p.act.tasks)) if p.act.tasks else 'whole event'})"
        for p in state.publications
    )
    raise LedgerError(
        f"there is no version {version}; published so far: {known or 'nothing'}"
    )


def export_folder(target: Target, folder: Path) -> Exported:
    """Write an event as a folder."""
    loaded = load(target)
    state = loaded.state
    whole = loaded.raw if state is None else with_talk(loaded.raw, state)
    with writing(folder):
        renamed = write_folder(whole, folder)
    return Exported(state=loaded.state, renamed=renamed)


def notes_of(state: State) -> tuple[Fact, ...]:
    """State what is set aside, and what desks disagree on."""
    clashes = (fact("desks-disagree", on=inner(c.says)) for c in state.conflicts)
    return (*(one.says for one in state.set_aside), *clashes)


def left_behind(state: State) -> Fact:
    """State what a folder of an event does not hold, for people to keep it elsewhere."""
    every = len(state.entries)
    return fact(
        "left-behind",
        publications=count(len(state.publications)),
        entries=count(every),
        old=count(every - sum(len(current.entries) for current in state.current)),
    )


def merge_files(
    sources: Sequence[Target],
    target: Target,
    *,
    new: bool = False,
    clock: Clock = system_clock,
    control: Control | None = None,
) -> Merged:
    """Unite ledgers into one that may be new, or must be; sources stay as they are."""
    new = new or (not is_url(target) and not Path(target).exists())
    make = empty_store if new else open_store
    with ExitStack() as stack:
        opened = [
            stack.enter_context(open_any(source, clock=clock)) for source in sources
        ]
        if new:
            target = stack.enter_context(_whole(target))
        with make(target, when=clock()) as store:
            return merge_into(store, opened, control=control)


def verify_target(
    target: Target,
    *,
    against: Sequence[str] = (),
    scoring: Score | None = results_json,
    control: Control | None = None,
    clock: Clock = system_clock,
) -> Audit:
    """Check chains and files, and compute every publication again with `scoring`.

    `against` are heads as printed, other copies, published files or folders.
    """
    with open_any(target, clock=clock) as store, ExitStack() as stack:
        if scoring is results_json:
            scoring = stack.enter_context(scoring_each_once())
        audit = verify(store, rescore=_rescore(scoring), control=control)
        more = [p for one in against for p in _held_against(store, one, clock)]
        more += _of_archive(store, target)
    problems = (*audit.problems, *dict.fromkeys(more))
    return replace(audit, problems=problems, against=", ".join(against))


def _of_archive(store: Store, target: Target) -> list[Problem]:
    """Hold the folder in an archive against its entries, where the target is one."""
    if is_url(target) or not is_archive(Path(target)):
        return []
    state = sound(replay(store.entries(), stored=store.known_files)).state
    with open_archive(Path(target)) as book:
        return list(folder_problems(book, _by_address(store, state)))


def _held_against(store: Store, what: str, clock: Clock) -> tuple[Problem, ...]:
    """Hold a ledger against a head, a copy of it, or what was published."""
    if head := read_head(what):
        return tuple(of_head(store.entries(), head))
    path = Path(what)
    if not is_url(what) and not path.exists():
        raise LedgerError(
            f"there is no {what}; give what stands on a sheet under “Entries and "
            "results”, another copy of the event, or published files"
        )
    copy = path.is_file() and (is_sqlite_file(path) or is_archive(path))
    if not is_url(what) and not copy:
        return tuple(of_path(store, path))
    with open_any(what, clock=clock) as other:
        return tuple(of_store(store, other))


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparedFiles:
    """What published files come to beside the ledger."""

    problems: tuple[Problem, ...]
    files: int
    """How many are there as they went up."""
    raw: RawEvent | None
    """The event they were computed from; None where they never went up."""

    @property
    def sound(self) -> bool:
        """Tell whether they are what went up."""
        return all(problem.severity is Severity.NOTICE for problem in self.problems)


def compare_published(
    path: Path, target: Target, *, clock: Clock = system_clock
) -> ComparedFiles:
    """Compare a results.json, and what lies beside it, with what an event published."""
    with open_any(target, clock=clock) as store:
        entries = store.entries()
        found = publication_of(entries, path)
        if found is None:
            problems = tuple(of_file(store, path))
            return ComparedFiles(problems=problems, files=0, raw=None)
        _, act = found
        problems, same = beside(path.parent, found)
        raw = RawThen(store, entries)(act.heads)
    return ComparedFiles(problems=problems, files=same, raw=raw)


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
        state = sound(replay(entries, stored=store.known_files)).state
        raw = _by_address(store, state)
        return write_archive(store, entries, raw, path, control=control)


def _by_address(store: Store, state: State) -> RawEvent:
    """Return the event as it stands, each file by its address alone."""
    held = set(store.file_hashes())

    def load(sha256: Sha256) -> bytes:
        if sha256 not in held:
            raise MissingBlobError(f"its file {sha256[:12]}… was never stored")
        return addressed(sha256)

    return with_talk(state.raw(load), state)


def restore(path: Path, target: Target, *, clock: Clock = system_clock) -> int:
    """Make an event file, or fill an empty database, from an archive."""
    with (
        open_archive(path) as book,
        _whole(target) as place,
        empty_store(place, when=clock()) as store,
    ):
        return store.take(book.entries, book.files())


def compute(
    ledger: Ledger,
    *,
    documents: Callable[[bytes], Mapping[str, Content]] | None = None,
) -> Computed:
    """Score the present state, ready to be published.

    `documents` makes the sheets and pages, by file name, of the results' bytes.
    """
    from scorer.scoring.score import score  # noqa: PLC0415 - as above

    state = sound(ledger.state()).state
    event = build_event(ledger.raw(state))
    done = computed_of(state, event, score(event))
    return replace(done, documents=documents(done.document)) if documents else done


def computed_of(
    state: State,
    event: Event,
    results: "Results",
    document: bytes | None = None,
    *,
    keep: "Keep | None" = None,
) -> Computed:
    """Put results together with what they were computed from."""
    from scorer.scoring.document import to_json  # noqa: PLC0415 - as above
    from scorer.scoring.keep import NOTHING_KEPT  # noqa: PLC0415 - as above

    if document is None:
        document = to_json(results, keep or NOTHING_KEPT).encode()
    return Computed(state=state, event=event, results=results, document=document)


def _rescore(scoring: Score | None) -> Rescore | None:
    return None if scoring is None else lambda raw: scoring(build_event(raw))
