"""Put results up with all their sheets: one way for the command line and the window."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from scorer.event.model import Event
from scorer.ledger.acts import Stage
from scorer.ledger.changes import Change
from scorer.ledger.entry import Entry, sha256_of, utc_text
from scorer.ledger.files import Content
from scorer.ledger.ledger import Ledger
from scorer.ledger.publish import (
    Computed,
    Refusal,
    changes_of,
    changes_since_last,
    complaints_until,
    publications_of,
    publish,
    refusals,
)
from scorer.ledger.replay import Publication
from scorer.scoring.results import Results
from scorer.sheets.kinds import SHEET_KINDS, Material, made
from scorer.sheets.pictures import Tracks
from scorer.sheets.stamp import Edition, Stamp, State
from scorer.sheets.typeset import PrintWish


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """Results that could go up now, and what stands in the way."""

    computed: Computed
    stamp: Stamp
    refusals: tuple[Refusal, ...]
    """Why not, each with what to do; empty = it can be published."""
    changes: tuple[Change, ...]
    """Against the last version that is up."""


def prepare(
    ledger: Ledger,
    computed: Computed,
    stage: Stage,
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
    site_url: str = "",
) -> Prepared:
    """Look what publishing would do, and make the stamp of its sheets."""
    wanted = tuple(sorted(set(tasks)))
    reasons = refusals(
        ledger, computed, stage, tasks=wanted, complaint_s=complaint_s, why=why
    )
    changed = changes_since_last(ledger, computed, tasks=wanted)
    earlier = publications_of(ledger.state(), wanted)
    version = 1 + max((p.act.version for p in earlier), default=0)
    stamp = Stamp(
        state=State(stage.value),
        version=version,
        published_at=utc_text(ledger.clock()),
        by=ledger.who,
        complaint_end=complaints_until(ledger, computed, stage, complaint_s),
        results_sha256=sha256_of(computed.document),
        changes=tuple(str(change) for change in changed),
        earlier=tuple(_edition(ledger, p) for p in reversed(earlier)),
        site_url=site_url,
    )
    return Prepared(computed=computed, stamp=stamp, refusals=reasons, changes=changed)


def _edition(ledger: Ledger, publication: Publication) -> Edition:
    return Edition(
        version=publication.act.version,
        state=State(publication.act.stage.value),
        published_at=utc_text(publication.entry.when),
        by=publication.entry.who,
        results_sha256=publication.act.results,
        changes=tuple(str(c) for c in changes_of(ledger, publication)),
    )


def documents(
    event: Event,
    results: Results,
    stamp: Stamp,
    tracks: Tracks,
    room: Path,
    *,
    wish: PrintWish | None = None,
) -> dict[str, Content]:
    """Make all sheets and pages of a publication, by file name.

    Tracks are packed flight by flight into the folder `room`, which must last until they
    are published and written.
    """
    material = Material(
        event=event,
        results=results,
        stamp=stamp,
        tracks=tracks,
        room=room,
        wish=wish or PrintWish(),
    )
    return made((k for k in SHEET_KINDS.values() if k.published), material)


def put_up(
    ledger: Ledger,
    prepared: Prepared,
    files: Mapping[str, Content],
    *,
    tasks: Iterable[int] = (),
    complaint_s: float | None = None,
    why: str = "",
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
    )


def working_stamp(results_sha256: str) -> Stamp:
    """Return the stamp of a working copy: it says that nothing is published."""
    return Stamp(results_sha256=results_sha256)
