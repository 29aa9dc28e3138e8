"""The registry of sheets: what can be written of an event, each in one declaration.

`sandtail sheets`, `publish` and the window write what is declared here.  In the catalogue
stand a sheet's title, `sheet-NAME`, and what it is for, `sheet-NAME-about`.
"""

import json
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from concurrent.futures import Executor, Future, wait
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby
from operator import attrgetter
from pathlib import Path
from typing import Any, TypeVar

from scorer.event.model import Event
from scorer.files import name_key, safe_name
from scorer.fresh import Threads
from scorer.ledger.acts import Sha256
from scorer.ledger.files import Filed, spool
from scorer.registry import Registry
from scorer.scoring import analysis
from scorer.scoring.results import Results
from scorer.sheets.awards import awards_setting
from scorer.sheets.board import board_setting
from scorer.sheets.flights import Tracks, keep_of
from scorer.sheets.forms import write_field_form
from scorer.sheets.sheet import Sheet
from scorer.sheets.site import write_site
from scorer.sheets.slips import slips_setting, slips_up
from scorer.sheets.stamp import Stamp
from scorer.sheets.tables import write_tables
from scorer.sheets.task_sheet import write_task_sheet
from scorer.sheets.traced import Pass
from scorer.sheets.typeset import PrintWish, ReadySheet
from scorer.sheets.unchanged import (
    BOARD,
    SLIPS,
    Before,
    Contents,
    WentUp,
    board_up,
)
from scorer.sheets.ways import TrackFile, keyed_files
from scorer.sheets.workbook import workbook_setting

T = TypeVar("T")
Files = Iterator[tuple[str, Filed | ReadySheet | Callable[[], bytes]]]
"""Names, relative to where sheets are written, and what goes there, or what makes it."""


@dataclass(frozen=True, kw_only=True)
class Material:
    """What sheets are made of."""

    event: Event
    results: Results
    stamp: Stamp
    tracks: Tracks
    room: Path
    """Folder for what is too large to be held; it lasts until all is written."""
    wish: PrintWish = PrintWish()
    tasks: tuple[int, ...] = ()
    """Tasks that papers, workbook and tracks are of; empty = all, with standings.  Pages
    and data are always of all."""
    pilots: tuple[int, ...] = ()
    """Pilots who get slips; empty = all."""
    stored: Callable[[Sha256], Filed | None] = lambda _: None
    """Finds a file by its content where it will be published; None = it is not there."""
    before: Before = Before()
    """What went up before and stands."""
    document: bytes = b""
    """results.json, where it was made already."""
    executor: Executor | None = None
    """Who makes tracks, and what is drawn of them; None = it is done here."""

    @cached_property
    def own(self) -> Results:
        """What papers and workbook are of."""
        return self.results.of_tasks(self.tasks) if self.tasks else self.results

    @cached_property
    def tables(self) -> Mapping[str, bytes]:
        """The data for programs, which stand beside the pages too."""
        keep = keep_of(self.tracks)
        return write_tables(
            self.results, self.event, self.stamp, self.document, keep=keep
        )

    @cached_property
    def contents(self) -> Contents:
        """What pages say of each pilot, as hashes."""
        return Contents(self.whole, self.tracks)

    @cached_property
    def whole(self) -> Sheet:
        """What pages are of."""
        return Sheet(
            results=self.results,
            event=self.event,
            stamp=self.stamp,
            language=self.wish.language,
            keep=keep_of(self.tracks),
        )


LOOK_UP_S = 0.2
"""So often it is asked whether to stop while paper is being set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetKind:
    """One kind of sheet, or set of files."""

    name: str
    """As in commands."""
    make: Callable[[Material], Files]
    published: bool = True
    """Whether it goes up with a publication."""
    working: bool = True
    """Whether `sandtail sheets` writes it without being asked for it by name."""


SHEET_KINDS: Registry[SheetKind] = Registry("sheet")
"""Every kind by name, in the order of a publication."""


def go_on() -> None:
    """Let the making go on: nobody stops it."""


def made(
    kinds: Iterable[SheetKind], material: Material, check: Callable[[], None] = go_on
) -> dict[str, Filed]:
    """Make sheets, by file name; paper is set, and a workbook packed, beside what is next.

    `check` is called between two files and while paper is being set; what it raises
    stops the making at once: paper half set is let go.
    """
    press = Threads()
    try:
        begun: dict[str, Filed | Future[bytes]] = {}
        for kind in kinds:
            for name, data in kind.make(material):
                check()
                work = data.pdf if isinstance(data, ReadySheet) else data
                begun[name] = press.submit(work) if callable(work) else work
        papers = {data for data in begun.values() if isinstance(data, Future)}
        while papers:
            check()
            _, papers = wait(papers, timeout=LOOK_UP_S)
    finally:
        press.shutdown(wait=False, cancel_futures=True)
    return {
        name: data.result() if isinstance(data, Future) else data
        for name, data in begun.items()
    }


def _named(of: Material, stem: str, ending: str, *, changed: bool = False) -> str:
    """Return the name of a paper that goes up: what holds less never takes a whole one's.

    In a folder that has an earlier version the paper of some tasks, and that of the slips
    that `changed`, stand beside the one of all.
    """
    up = of.stamp.published_at
    tasks = [f"task-{'-'.join(map(str, of.tasks))}"] if of.tasks and up else []
    version = [f"version-{of.stamp.version}"] if changed else []
    return f"{'-'.join((stem, *tasks, *version))}.{ending}"


def _workbook(of: Material) -> Files:
    language = of.wish.language
    whole = not of.tasks
    event = of.event if whole else of.event.of_tasks(of.tasks)
    book = workbook_setting(
        of.own, event, of.stamp, language, standings=whole, keep=keep_of(of.tracks)
    )
    yield _named(of, "results", "xlsx"), book


def _board(of: Material) -> Files:
    """Yield the board; of a publication what changed, and which version all is of."""
    board, up = board_of(of)
    if up:
        yield BOARD, _listed(up)
    some = len(_of_now(of, up)) < len(up)
    yield _named(of, "board", "pdf", changed=some), board


def board_of(of: Material) -> tuple[ReadySheet, Mapping[str, WentUp]]:
    """Return the board; of a publication what changed, and which version all is of."""
    standings, up = not of.tasks, {}
    if of.stamp.published_at:
        own = replace(of.whole, results=of.own)
        up = board_up(own, of.wish, of.before.board, standings=standings)
    board = board_setting(
        of.own,
        of.event,
        of.stamp,
        standings=standings,
        parts=_of_now(of, up) if up else None,
        wish=of.wish,
        keep=keep_of(of.tracks),
    )
    return board, up


def _listed(up: Mapping[Any, WentUp]) -> bytes:
    return json.dumps({key: own.tree for key, own in up.items()}).encode()


def _of_now(of: Material, up: Mapping[T, WentUp]) -> set[T]:
    """Return what went up with this version."""
    return {key for key, own in up.items() if own.version == of.stamp.version}


def _slips(of: Material) -> Files:
    """Yield slips; of a publication those that changed, and which version each is of."""
    pilots: Collection[int] | None = of.pilots or None
    some = False
    if of.stamp.published_at:
        up = slips_up(
            of.own,
            of.event,
            of.stamp,
            of.tracks,
            of.wish,
            of.before.slips,
            contents=None if of.tasks else of.contents,
        )
        yield SLIPS, _listed(up)
        pilots = _of_now(of, up)
        some = len(pilots) < len(up)
    if pilots is None or pilots:
        yield (
            _named(of, "slips", "pdf", changed=some),
            slips_setting(
                of.own, of.event, of.stamp, of.tracks, pilots=pilots, wish=of.wish
            ),
        )


def _awards(of: Material) -> Files:
    if not of.tasks:  # prizes are given by standings
        yield (
            "awards.pdf",
            awards_setting(of.results, of.event, of.stamp, wish=of.wish),
        )


def _data(of: Material) -> Files:
    for name, data in of.tables.items():
        yield f"data/{name}", data


def _tracks(of: Material) -> Files:
    """Yield files of tracks; those that were published before are not made again.

    Pages and slips, which are made later, find what they draw of these tracks.
    """
    flights = {flight.id for flight in of.own.flights}
    up = bool(of.stamp.published_at)
    write = (
        Pass(of.whole, of.tracks, of.executor, draws=up)
        if isinstance(of.tracks, analysis.Tracks)
        else None
    )
    files = keyed_files(of.event, of.tracks, write)
    for flight, own in groupby(files, key=attrgetter("flight")):
        if flight in flights:
            yield from _of_flight(of, own)


def _of_flight(of: Material, files: Iterable[TrackFile]) -> Files:
    """Yield the files of a flight's tracks; what is lacking is made side by side."""
    keep = keep_of(of.tracks)
    named = [(own.name, _stored(of, own) or own) for own in files]
    lacking = [own for _, own in named if isinstance(own, TrackFile)]
    paths = [of.room / own.name for own in lacking]
    made = spool([own.pieces for own in lacking], paths)
    fresh = dict(zip((own.name for own in lacking), made, strict=True))
    for own in lacking:
        if own.key:
            keep.put(own.key, fresh[own.name].sha256)
    for name, file in named:
        yield f"data/{name}", fresh[name] if isinstance(file, TrackFile) else file


def _stored(of: Material, own: TrackFile) -> Filed | None:
    """Return a file of tracks that was published before."""
    known: Sha256 | None = keep_of(of.tracks).get(own.key) if own.key else None
    return None if known is None else of.stored(known)


def _site(of: Material) -> Files:
    pages = write_site(
        of.results,
        of.event,
        of.stamp,
        of.tracks,
        language=of.wish.language,
        data=of.tables,
        before=of.before,
        contents=of.contents,
    )
    for name, data in pages.items():
        yield f"site/{name}", data


def _forms(of: Material) -> Files:
    for task in (t for t in of.event.tasks if not of.tasks or t.number in of.tasks):
        for name, blank in (("field-form", False), ("field-form-blank", True)):
            yield (
                f"{name}-{task.number}.pdf",
                write_field_form(of.event, task.number, blank=blank, wish=of.wish),
            )


def _task_sheets(of: Material) -> Files:
    taken: set[str] = set()
    for flight in of.event.flights:
        own = {task.number for task in flight.tasks}
        if of.tasks and not own & set(of.tasks):
            continue
        name = safe_name(f"task-sheet-{flight.id}.pdf", taken)
        taken.add(name_key(name))
        yield name, write_task_sheet(of.event, flight.id, wish=of.wish)


# Tracks come first: what other sheets draw of them is drawn with them, in processes that
# had better begin before paper is set in threads.  The board is set while slips are made;
# these take longest to be set, and all else is made meanwhile.
for _kind in (
    SheetKind(name="tracks", make=_tracks),
    SheetKind(name="board", make=_board),
    SheetKind(name="slips", make=_slips, working=False),
    SheetKind(name="workbook", make=_workbook),
    SheetKind(name="awards", make=_awards),
    SheetKind(name="data", make=_data),
    SheetKind(name="site", make=_site, working=False),
    SheetKind(name="field-forms", make=_forms, published=False),
    SheetKind(name="task-sheets", make=_task_sheets, published=False),
):
    SHEET_KINDS.declare(_kind.name, _kind)
