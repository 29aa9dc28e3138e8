"""The work behind the Publish page, for a worker."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from gui.blind import (
    Pairs,
    hidden_pairs,
    ranks_hidden,
    seen_changes,
    seen_matter,
    seen_matters,
)
from gui.pool import Pool
from gui.snapshot import ScoredSnapshot
from scorer.errors import ScorerError
from scorer.event.matter import Blocks, Matter
from scorer.event.moments import EventTime
from scorer.facts import Fact
from scorer.files import write_below
from scorer.ledger import event_commands
from scorer.ledger.acts import Sha256, Stage
from scorer.ledger.api import Change, Computed, Entry, Ledger, sound
from scorer.ledger.clocks import desk_off, must_confirm
from scorer.ledger.publish import (
    Refusal,
    changes_since_last,
    open_matters,
    publications_of,
)
from scorer.progress import Control
from scorer.scoring.analysis import Tracks
from scorer.scoring.keep import NOTHING_KEPT
from scorer.sheets.edition import Prepared, board_ahead, documents, prepare, put_up
from scorer.sheets.typeset import PrintWish, signs_not_printed
from scorer.sheets.unchanged import stayed_told
from scorer.words.voice import Voice

BOARD_DOTS = 110.0
"""How finely pages are drawn that are only looked at, dots an inch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What is to be published, as chosen on the page."""

    stage: Stage
    tasks: tuple[int, ...] = ()
    """Empty = the whole event with its standings."""
    complaint_s: float | None = None
    why: str = ""
    site_url: str = ""
    clock_confirmed_by: str = ""
    """Who looked at this computer's clock, where it differs by minutes."""
    printed: PrintWish = PrintWish()
    """Paper and language of the sheets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WouldChange:
    """What publishing now would change."""

    changes: tuple[Change, ...]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """Whether a wish can be fulfilled, what is open, what would change."""

    wish: Wish
    prepared: Prepared
    open: tuple[Matter, ...]
    """What is open or was accepted as it stands, and would be listed with it."""
    lacking: tuple[Fact, ...] = ()
    """Signs of names that paper cannot show."""
    hidden: Pairs = frozenset()
    """Tasks and pilots whose results the official who looks must not know yet."""
    clock: Fact | None = None
    """By how much this computer's clock is off, where somebody has to confirm it."""

    @property
    def refused(self) -> tuple[Refusal, ...]:
        """What keeps it from being published."""
        return self.prepared.refusals

    @property
    def waiting(self) -> tuple[Matter, ...]:
        """What is open still."""
        return tuple(matter for matter in self.open if matter.is_open)

    @property
    def accepted(self) -> tuple[Matter, ...]:
        """What was accepted as it stands."""
        return tuple(matter for matter in self.open if matter.accepted)

    def sentence(self, stated: Fact) -> str:
        """Say what is so, as this event does."""
        return self.prepared.computed.voice.sentence(stated)


@dataclass(frozen=True, slots=True, kw_only=True)
class PutUp:
    """Results that went up, and where their files are."""

    entry: Entry
    headline: str
    folder: Path
    files: int
    stayed: Fact | None = None
    """What of board and slips changed; None where all of it did."""


def computed_of(scored: ScoredSnapshot) -> Computed:
    """Return results as publications keep them; refuse faults, and results not whole."""
    if scored.hidden:
        raise ScorerError("these results leave out what this desk must not see yet")
    if scored.results is None:
        raise ScorerError(
            f"{len(scored.faults)} faults keep this event from being scored; see Results"
        )
    return event_commands.computed_of(
        scored.state, scored.event, scored.results, scored.document
    )


def compare(ledger: Ledger, scored: ScoredSnapshot) -> WouldChange:
    """Compare the whole event with its last publication, as the desk may see it."""
    earlier = publications_of(ledger.state(), ())
    if not earlier:
        return WouldChange(changes=(), words="The whole event was not published yet.")
    last = earlier[-1]
    found = changes_since_last(ledger, computed_of(scored))
    hidden = hidden_pairs(scored, ledger.who)
    changes = seen_changes(found, hidden)
    when = EventTime.of(last.entry.when, ledger.state().zone).dated(seconds=False)
    name = f"version {last.act.version}, {last.act.stage}, of {when}"
    many = f"{len(changes)} changes" if changes else "No change"
    told = f"{many} since {name}."
    if hidden:
        told = f"{told} {Voice().sentence(ranks_hidden(hidden))}"
    return WouldChange(changes=changes, words=told)


def look_ahead(
    ledger: Ledger, scored: ScoredSnapshot, wish: Wish, who: str | None = None
) -> Outlook:
    """Find out what stands in the way of a publication, and what it would change.

    Told to an official (`who`), it leaves out what must not be seen at the desk yet.
    """
    computed = computed_of(scored)
    prepared = prepare(
        ledger,
        computed,
        wish.stage,
        tasks=wish.tasks,
        complaint_s=wish.complaint_s,
        why=wish.why,
        site_url=wish.site_url,
        clock_confirmed_by=wish.clock_confirmed_by,
    )
    off = desk_off(ledger)
    state = sound(ledger.state()).state
    found = open_matters(
        computed,
        wish.tasks,
        state=state,
        now=ledger.clock(),
        complaint_s=wish.complaint_s,
    )
    shown = tuple(m for m in found if m.blocks is not Blocks.NOTHING or m.accepted)
    if who is not None:
        prepared, shown = _seen(scored, prepared, shown, who)
    lacking = signs_not_printed(scored.event)
    return Outlook(
        wish=wish,
        prepared=prepared,
        open=shown,
        lacking=lacking,
        hidden=frozenset() if who is None else hidden_pairs(scored, who),
        clock=off.says if off is not None and must_confirm(off) else None,
    )


def _seen(
    scored: ScoredSnapshot, prepared: Prepared, found: Sequence[Matter], who: str
) -> tuple[Prepared, tuple[Matter, ...]]:
    hidden = hidden_pairs(scored, who)

    def refused() -> Iterator[Refusal]:
        for one in prepared.refusals:
            told = seen_matter(one.matter, hidden, who) if one.matter else None
            if one.matter is None or told == one.matter:
                yield one
            elif told is not None:
                yield Refusal(says=told.placed, matter=told)

    return replace(
        prepared,
        refusals=tuple(refused()),
        changes=seen_changes(prepared.changes, hidden),
    ), seen_matters(found, hidden, who)


def board_pages(ledger: Ledger, outlook: Outlook) -> tuple[bytes, ...]:
    """Set the notice board as it would go up; return its pages as pictures (PNG).

    Where a version before it stands, those are the pages that change.
    """
    computed = outlook.prepared.computed
    setting = board_ahead(
        computed.event,
        computed.results,
        outlook.prepared.stamp,
        ledger,
        wish=outlook.wish.printed,
    )
    return tuple(setting.pictures(BOARD_DOTS))


def publish_now(  # noqa: PLR0917 - what a job is given
    ledger: Ledger,
    scored: ScoredSnapshot,
    wish: Wish,
    folder: Path,
    control: Control,
    pool: Pool | None = None,
) -> PutUp:
    """Make all sheets, publish, and write the files; cancel leaves nothing published.

    What the `pool` keeps of them is not made again.
    """
    control.step(0, 4, "checking")
    outlook = look_ahead(ledger, scored, wish)
    if outlook.prepared.refusals:
        raise ScorerError("; ".join(outlook.sentence(r.says) for r in outlook.refused))
    if scored.results is None:
        raise ScorerError("there are no results to publish")
    control.step(1, 4, "making sheets and pages")
    keep = NOTHING_KEPT if pool is None else pool.keep
    tracks = Tracks(scored.event, scored.results, keep)
    stamp = outlook.prepared.stamp
    with TemporaryDirectory() as room:
        files = documents(
            scored.event,
            scored.results,
            stamp,
            tracks,
            Path(room),
            wish=wish.printed,
            ledger=ledger,
            document=scored.document,
            check=partial(control.step, 1, 4, "making sheets and pages"),
            executor=None if pool is None else pool.for_logs(len(tracks)),
        )
        control.step(2, 4, "publishing")
        entry = put_up(
            ledger,
            outlook.prepared,
            files,
            tasks=wish.tasks,
            complaint_s=wish.complaint_s,
            why=wish.why,
            clock_confirmed_by=wish.clock_confirmed_by,
        )
        # From here on it is up: nothing may stop the files from being written.
        whole = {**files, "results.json": scored.document}
        place = _place(folder, wish, stamp.version)
        write(whole, place)
    return PutUp(
        entry=entry,
        headline=Voice().say(stamp.says),
        folder=place,
        files=len(whole),
        stayed=stayed_told(files, stamp.version),
    )


def write(files: Mapping[str, bytes | Iterable[bytes]], folder: Path) -> None:
    """Write files by relative name below a folder."""
    try:
        for name, data in files.items():
            write_below(folder, name, data)
    except OSError as error:
        raise ScorerError(
            f"published, and kept in the event; but the files could not be written to "
            f"{folder} ({error.strerror}). Choose another folder and write them again."
        ) from error


def write_again(
    ledger: Ledger, names: Sequence[tuple[str, Sha256]], folder: Path, control: Control
) -> Path:
    """Write the files of an earlier publication again, as they went up."""
    for name, sha256 in control.steps(names, "writing files"):
        file = ledger.store.stored_file(sha256)
        write({name: file.pieces(ledger.store.where)}, folder)
    return folder


def _place(folder: Path, wish: Wish, version: int) -> Path:
    tasks = "-".join(map(str, wish.tasks))
    scope = f"task-{tasks}" if tasks else "event"
    return folder / f"{scope}-version-{version}-{wish.stage}"
