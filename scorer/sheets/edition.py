"""Put results up with all their sheets: one way for the command line and the window."""

from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from pathlib import Path

from scorer.event.model import Event
from scorer.facts import Fact
from scorer.ledger.acts import Stage
from scorer.ledger.changes import Change
from scorer.ledger.entry import Entry, sha256_of, utc_text
from scorer.ledger.files import Filed
from scorer.ledger.head import Head
from scorer.ledger.ledger import Ledger
from scorer.ledger.publish import (
    Computed,
    Read,
    Refusal,
    changes_of,
    changes_since_last,
    complaints_until,
    next_version,
    publish,
    read_once,
    refusals,
    what_is_up,
    whole_second,
)
from scorer.ledger.replay import Publication
from scorer.ledger.up import Put, Up, moment_of, raised, taken_back, where_tasks_stand
from scorer.scoring.analysis import Tracks as TracksOfResults
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.results import Results
from scorer.sheets.flights import Tracks, keep_of
from scorer.sheets.kinds import SHEET_KINDS, Material, board_of, go_on, made
from scorer.sheets.stamp import Binding, Edition, Stamp, TaskStage, utc
from scorer.sheets.typeset import PrintWish, ReadySheet
from scorer.sheets.unchanged import Before, before, told_then
from scorer.words.voice import Voice


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """Results that could go up now, and what stands in the way."""

    computed: Computed
    stamp: Stamp
    refusals: tuple[Refusal, ...]
    """Why not, each with what to do; empty = it can be published."""
    changes: tuple[Change, ...]
    """Against the last version that is up."""
    taken_back: tuple[Fact, ...]
    """Which tasks it takes back from the stage they stand at."""
    raised: tuple[Fact, ...] = ()
    """Which tasks go up for the first time, and which to a higher stage."""


def prepare(
    ledger: Ledger,
    computed: Computed,
    stage: Stage,
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
    site_url: str = "",
    clock_confirmed_by: str = "",
) -> Prepared:
    """Look what publishing would do, and make the stamp of its sheets."""
    wanted = tuple(sorted(set(tasks)))
    reasons = refusals(
        ledger,
        computed,
        stage,
        tasks=wanted,
        complaint_s=complaint_s,
        why=why,
        clock_confirmed_by=clock_confirmed_by,
    )
    read = read_once(ledger)
    changed = changes_since_last(ledger, computed, tasks=wanted, read=read)
    state, now = ledger.state(), whole_second(ledger.clock())
    put = Put(
        stage=stage,
        version=next_version(state),
        tasks=wanted,
        at=utc_text(now),
        complaints_until=complaints_until(computed, stage, complaint_s, now),
        read=lambda: computed.tree,
    )
    voice, up = computed.voice, what_is_up(state, read)
    back = taken_back(up, put)
    results_sha256 = sha256_of(computed.document)
    stamp = Stamp(
        state=Binding(stage.value),
        version=put.version,
        published_at=put.at,
        by=ledger.who,
        why=why.strip(),
        complaint_end=put.complaints_until,
        results_sha256=results_sha256,
        head=str(Head.of(computed.state.entries, results_sha256)),
        changes=tuple(map(voice.say, (*back, *(c.says for c in changed)))),
        scope=wanted,
        tasks=tuple(
            map(
                stage_of_task,
                where_tasks_stand((*up, put), put.tree),
            )
        ),
        earlier=tuple(
            _edition(p, _changed(ledger, p, read, voice))
            for p in reversed(state.publications)
            if not p.withdrawn
        ),
        site_url=site_url,
    )
    return Prepared(
        computed=computed,
        stamp=stamp,
        refusals=reasons,
        changes=changed,
        taken_back=back,
        raised=raised(up, put),
    )


def stage_of_task(up: Up) -> TaskStage:
    """Return where a task stands, as sheets say it."""
    if up.put is None:
        return TaskStage(task=up.task)
    return TaskStage(
        task=up.task,
        state=Binding(up.put.stage.value),
        version=up.put.version,
        published_at=up.put.at,
        complaint_end=up.put.complaints_until,
    )


def _changed(
    ledger: Ledger, publication: Publication, read: Read, voice: Voice
) -> tuple[str, ...]:
    """Say what a publication changed: as it said itself, or else by its results."""
    told = told_then(ledger, publication)
    if told is None:
        found = changes_of(ledger, publication, read=read)
        told = tuple(voice.say(change.says) for change in found)
    return told


def _edition(publication: Publication, changed: tuple[str, ...]) -> Edition:
    return Edition(
        version=publication.act.version,
        state=Binding(publication.act.stage.value),
        published_at=moment_of(publication),
        by=publication.entry.who,
        why=publication.entry.why,
        scope=publication.act.tasks,
        results_sha256=publication.act.results,
        changes=changed,
    )


def documents(
    event: Event,
    results: Results,
    stamp: Stamp,
    tracks: Tracks,
    room: Path,
    *,
    wish: PrintWish | None = None,
    ledger: Ledger | None = None,
    document: bytes = b"",
    check: Callable[[], None] = go_on,
    executor: Executor | None = None,
) -> dict[str, Filed]:
    """Make all sheets and pages of a publication, by file name.

    Papers, workbook and tracks are of the tasks that it is of; pages and data show the
    event as it stands then, for they are what is read next.
    Tracks are packed flight by flight into the folder `room`, which must last until they
    are published and written.  Those that the `ledger` holds already are named only, and
    so are pages on which nothing changed; slips are made of pilots whose slip changed.
    `document` is results.json where it was made already.
    What `check` raises stops the making.  `executor` works on tracks.
    """
    material = Material(
        event=event,
        results=results,
        stamp=stamp,
        tracks=tracks,
        room=room,
        wish=wish or PrintWish(),
        tasks=stamp.scope,
        stored=ledger.store.held if ledger is not None else lambda _: None,
        before=before(ledger, stamp.scope) if ledger is not None else Before(),
        document=document,
        executor=executor,
    )
    found = made((k for k in SHEET_KINDS.values() if k.published), material, check)
    keep_of(tracks).settle()
    return found


def board_ahead(
    event: Event,
    results: Results,
    stamp: Stamp,
    ledger: Ledger,
    *,
    wish: PrintWish | None = None,
    keep: Keep = NOTHING_KEPT,
) -> ReadySheet:
    """Return the notice board that `documents` would put up: what a publication changes."""
    material = Material(
        event=event,
        results=results,
        stamp=stamp,
        tracks=TracksOfResults(event, results, keep),
        room=Path(),  # no track is written for it
        wish=wish or PrintWish(),
        tasks=stamp.scope,
        before=before(ledger, stamp.scope),
    )
    return board_of(material)[0]


def put_up(
    ledger: Ledger,
    prepared: Prepared,
    files: Mapping[str, Filed],
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
    clock_confirmed_by: str = "",
) -> Entry:
    """Publish what was prepared, with its sheets; raise RefusedError where it cannot."""
    computed = replace(prepared.computed, documents=dict(files))
    return publish(
        ledger,
        computed,
        Stage(prepared.stamp.state.value),
        tasks=tasks,
        complaint_s=complaint_s,
        why=why,
        at=utc(prepared.stamp.published_at),
        clock_confirmed_by=clock_confirmed_by,
        version=prepared.stamp.version,
    )
