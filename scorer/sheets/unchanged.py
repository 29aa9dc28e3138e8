"""Which pages and slips stay as they went up before, because nothing on them changed.

A pilot's page and slip say of which version they are: the last that changed something on
them.  Whether a later one does is told by hashes of all that they are made of beside
version, moment and head: whoever publishes next finds them in `newest.json` (pages),
`slips.json` and `board.json`, which go up as well.  What is the same is neither made nor
stored again.  So it is with the parts of the notice board, of which the first is always
made: it says what is new.
"""

import json
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, partial
from importlib.resources import files
from typing import Any

from scorer.errors import ScorerError
from scorer.facts import Fact, count, fact, inner, words
from scorer.ledger.acts import Sha256
from scorer.ledger.files import Filed
from scorer.ledger.ledger import Ledger
from scorer.ledger.publish import file_hashes
from scorer.ledger.replay import Publication
from scorer.scoring.coded import Digests, digest
from scorer.scoring.results import TaskResult
from scorer.sheets.board import around_board, board_parts, formula_line
from scorer.sheets.breakdown import Breakdown, Found, TaskPart, findings_by_place
from scorer.sheets.drawn import entries_of, without_entries
from scorer.sheets.flights import Tracks, keep_of, key_of
from scorer.sheets.parts import kept
from scorer.sheets.sheet import Sheet
from scorer.sheets.stamp import Stamp
from scorer.sheets.typeset import PrintWish
from scorer.version import VERSION

NEWEST, SLIPS, BOARD = "newest.json", "slips.json", "board.json"
SITE = "site/"
PAPERS = {
    SLIPS: re.compile(r"slips[\w-]*\.pdf"),
    BOARD: re.compile(r"board[\w-]*\.pdf"),
}
SOME_MOMENT = "2000-01-01T00:00:00Z"


@dataclass(frozen=True, slots=True, kw_only=True)
class WentUp:
    """A page or slip that is up."""

    version: int
    """Of the publication that it went up with, and that it says."""
    content: str
    """Hash of all that it is made of beside version, moment and head."""
    edition: str = ""
    """Of a page: as it says it to its script."""

    @property
    def tree(self) -> dict[str, Any]:
        """As it stands in a file."""
        known = {"version": self.version, "content": self.content}
        return known | ({"edition": self.edition} if self.edition else {})


@dataclass(frozen=True, kw_only=True)
class Before:
    """What went up before and stands still."""

    pages: Mapping[str, WentUp] = field(default_factory=dict)
    slips: Mapping[str, WentUp] = field(default_factory=dict)
    board: Mapping[str, WentUp] = field(default_factory=dict)
    file: Callable[[str], Filed | None] = lambda _: None
    """Finds a file of the pages by its name."""


def before(ledger: Ledger, tasks: Iterable[int]) -> Before:
    """Return what of a ledger's publications stands.

    Pages are those of the last one, slips and board those of the last one of the same
    tasks.
    """
    up = [one for one in ledger.state().publications if not one.withdrawn]
    versions = {one.act.version for one in up}
    scope = tuple(tasks)
    hashes, pages = _listed(ledger, up, SITE + NEWEST)
    same = [one for one in up if one.act.tasks == scope]
    (_, slips), (_, board) = (_listed(ledger, same, name) for name in (SLIPS, BOARD))
    held = ledger.store.all_held(hashes.values())
    return Before(
        pages=_standing(pages.get("pages"), versions),
        slips=_standing(slips, versions),
        board=_standing(board, versions),
        file=lambda name: held.get(hashes.get(SITE + name, Sha256(""))),
    )


def _listed(
    ledger: Ledger, up: Iterable[Publication], name: str
) -> tuple[dict[str, Sha256], dict[str, Any]]:
    """Return the files of the last publication that has one of this name, and that one."""
    listed: dict[str, Sha256] = {}
    for one in up:
        own = file_hashes(one.act)
        listed = own if name in own else listed
    return listed, _read(ledger, listed.get(name))


def _read(ledger: Ledger, sha256: Sha256 | None) -> dict[str, Any]:
    """Return a list that went up; nothing where there is none, whoever put it up."""
    if sha256 is None:
        return {}
    try:
        tree = json.loads(ledger.file(sha256))
    except (ScorerError, ValueError, RecursionError):
        return {}
    return tree if isinstance(tree, dict) else {}


def told_then(ledger: Ledger, publication: Publication) -> tuple[str, ...] | None:
    """Return what a publication said that it changed; None where it says nothing of it."""
    tree = _read(ledger, file_hashes(publication.act).get(SITE + NEWEST))
    told = tree.get("changes")
    if not isinstance(told, list) or not all(isinstance(one, str) for one in told):
        return None
    return tuple(told)


def _standing(tree: Any, versions: set[int]) -> dict[str, WentUp]:
    """Return what a file lists of versions that stand; what is no such list is none."""
    if not isinstance(tree, dict):
        return {}
    found = {}
    for name, own in tree.items():
        told = own if isinstance(own, dict) else {}
        version, content = told.get("version"), told.get("content")
        if version in versions and isinstance(content, str) and content:
            edition = str(told.get("edition", ""))
            found[name] = WentUp(version=version, content=content, edition=edition)
    return found


def stayed_told(made: Mapping[str, Filed], version: int) -> Fact | None:
    """State what of board and slips changed with a version; None where all of it did."""
    board = _changed_told("board-changed", BOARD, made, version)
    slips = _changed_told("slips-changed", SLIPS, made, version)
    if board is None or slips is None:
        return board or slips
    return fact("board-and-slips-changed", board=inner(board), slips=inner(slips))


def _changed_told(
    kind: str, name: str, made: Mapping[str, Filed], version: int
) -> Fact | None:
    listed = made.get(name, b"{}")
    up = json.loads(listed) if isinstance(listed, bytes) else {}
    changed = sum(own["version"] == version for own in up.values())
    if changed == len(up):
        return None
    papers = (one for one in made if PAPERS[name].fullmatch(one))
    return fact(
        kind,
        changed=count(changed),
        all=count(len(up)),
        paper=words(next(papers, "")),
    )


def board_up(
    sheet: Sheet, wish: PrintWish, before: Mapping[str, WentUp], *, standings: bool
) -> dict[str, WentUp]:
    """Return of which version each part of the board is: the last that changed it.

    A part is told apart by all that it shows, made for a stamp that says nothing of its
    publication but stages and deadlines.
    """
    plain = replace(sheet, stamp=_plain_stamp(sheet.stamp))
    around = digest(VERSION, _looks("typst/base.typ", "typst/board.typ"))
    around = digest(around, around_board(plain, wish))
    found: dict[str, WentUp] = {}
    for name, part in board_parts(plain, standings=standings):
        own = WentUp(version=sheet.stamp.version, content=digest(around, part))
        up = before.get(name)
        stays = bool(found) and up is not None and up.content == own.content
        found[name] = up if stays and up is not None else own
    return found


def _plain_stamp(stamp: Stamp) -> Stamp:
    return Stamp(
        state=stamp.state,
        published_at=SOME_MOMENT if stamp.published_at else "",
        complaint_end=stamp.complaint_end,
        results_sha256="",
        scope=stamp.scope,
        tasks=tuple(
            replace(own, version=own.version and 1, published_at=SOME_MOMENT)
            if own.published_at
            else own
            for own in stamp.tasks
        ),
        site_url=stamp.site_url,
    )


class Contents:
    """Hashes of what is said of each pilot; empty where tracks cannot be told apart."""

    def __init__(self, sheet: Sheet, tracks: Tracks) -> None:
        self._sheet, self._tracks = sheet, tracks
        keep = keep_of(tracks)
        self._known = keep.digests if keep.holds else Digests()
        self._tells = keep_of(tracks).holds or not tracks
        self._entries = entries_of(sheet.event)
        self._own: dict[int, str] = {}
        found = findings_by_place(sheet)
        self._said = {
            (task.task, pilot): said
            for task in sheet.results.tasks
            for pilot, said in kept(
                sheet, "said of pilots", task, partial(self._said_in, task, found)
            ).items()
        }
        table = replace(sheet.results.standings, rows=(), teams={}, members={})
        self._about = self._hash(
            VERSION,
            _looks(*OF_PILOTS),
            sheet.voice,
            replace(without_entries(sheet.event), pilots=(), extra={}),
            _stage(sheet.stamp),
            (table, len(sheet.results.standings.rows)),
        )
        self._tasks = {
            (part.task, part.field): self._hash(
                (part.task, part.field, part.kind, part.state, part.unit, part.best),
                (part.decimals, part.step, part.step_unit, part.pointed, part.flight),
                formula_line(sheet, part),
            )
            for task in sheet.results.tasks
            for part in task.parts
        }

    def of(self, own: Breakdown, *more: object) -> str:
        """Return the hash of a pilot's page or slip, and of what else stands on it."""
        if not self._tells:
            return ""
        if own.pilot not in self._own:
            self._own[own.pilot] = self._of_pilot(own)
        return self._hash(self._own[own.pilot], more)

    def _of_pilot(self, own: Breakdown) -> str:
        pilot = self._sheet.pilot(own.pilot)
        flights = [flight.id for flight in self._sheet.event.flights]
        return self._hash(
            self._about,
            (
                own.pilot,
                pilot.name,
                pilot.registration,
                pilot.class_name,
                pilot.country,
            ),
            [self._entries.get((flight, own.pilot), ()) for flight in flights],
            own.standing,
            own.event_charges,
            list(map(self.part, own.parts)),
            [(task.task, guest) for task, guest in own.guest],
            [task.task for task in own.withdrawn],
            [key_of(self._tracks, (flight, own.pilot)) for flight in flights],
        )

    def part(self, part: TaskPart) -> tuple[str, str]:
        """Return the hashes of a task, and of what a pilot came to in it."""
        task = part.task
        about = self._tasks[task.task, task.field]
        return about, self._said[task.task, part.score.pilot]

    def _said_in(self, task: TaskResult, found: Found) -> dict[int, str]:
        """Return the hash of what each pilot came to in a task."""
        return {
            own.pilot: self._hash(own, found.get((task.task, own.pilot), ()))
            for own in task.scores
        }

    def _hash(self, *values: object) -> str:
        return digest(*values, known=self._known)


def _stage(stamp: Stamp) -> tuple[object, ...]:
    """Return what a pilot reads of a publication beside its version and moment."""
    return (
        bool(stamp.published_at),
        stamp.state,
        stamp.complaint_end,
        stamp.weakest,
        [(own.task, own.state, own.complaint_end) for own in stamp.tasks],
        stamp.site_url,
    )


OF_PILOTS = (
    *(
        f"templates/{name}.html"
        for name in ("base", "macros", "pilot", "pilot_flight", "pilot_task")
    ),
    *(f"typst/{name}.typ" for name in ("base", "slips")),
)


@cache
def _looks(*names: str) -> str:
    """Return the hash of the templates that something is made with."""
    here = files("scorer.sheets")
    return digest([(here / name).read_bytes() for name in names])
