"""Many decisions at once: what they would come to, beside what is.

Nothing is recorded before everybody sees it; whoever is left out is told, and why.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from gui.blind import is_ranked, ranked
from gui.models.decision import Deciding, draft_of
from gui.models.findings import short_of
from gui.pool import Pool
from gui.snapshot import Snapshot
from scorer.event.build import build_event
from scorer.event.model import Decision
from scorer.facts import Fact, fact, inner, pilot
from scorer.ledger.api import Draft, Ledger
from scorer.ledger.sound import sound
from scorer.ledger.tried import with_drafts
from scorer.progress import Control
from scorer.scoring import told
from scorer.scoring.results import Results, RuledFinding
from scorer.words.voice import Voice

FIRST = 5
"""So many of the first are shown as they would stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ManyRow:
    """One infringement of many: in or out, what is and what would be."""

    ruled: RuledFinding
    number: int
    name: str
    what: str
    taken: bool
    out_because: str = ""
    """Why it cannot be taken in; empty = it can."""
    penalty: tuple[str, str] | None = None
    score: tuple[int | None, int | None] | None = None
    """None = not worked out yet."""
    rank: tuple[int | None, int | None] | None = None

    @property
    def key(self) -> str:
        """What names it."""
        return self.ruled.finding.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Many:
    """A decision on several infringements of one task, while it is being made."""

    decision: Decision
    rows: tuple[ManyRow, ...]
    why: str = ""

    @classmethod
    def of(
        cls, decision: Decision, chosen: Sequence[RuledFinding], voice: Voice
    ) -> "Many":
        """Take in all that such a decision can be made on."""
        rows = (_row(ruled, decision, voice) for ruled in chosen)
        return cls(decision=decision, rows=tuple(sorted(rows, key=lambda r: r.number)))

    @property
    def taken(self) -> tuple[ManyRow, ...]:
        """The rows that are in."""
        return tuple(row for row in self.rows if row.taken)

    @property
    def left_out(self) -> tuple[ManyRow, ...]:
        """The rows that are out."""
        return tuple(row for row in self.rows if not row.taken)

    def toggled(self, key: str) -> "Many":
        """Take a row in or out; one that cannot be decided so stays out."""
        rows = tuple(
            replace(row, taken=not row.taken)
            if row.key == key and not row.out_because
            else row
            for row in self.rows
        )
        return replace(self, rows=rows)

    def every(self) -> "Many":
        """Take all in, or all out where all are in."""
        able = [row for row in self.rows if not row.out_because]
        taken = not all(row.taken for row in able)
        rows = (r if r.out_because else replace(r, taken=taken) for r in self.rows)
        return replace(self, rows=tuple(rows))

    def because(self, why: str) -> "Many":
        """Take one reason for all."""
        return replace(self, why=why.strip())

    def drafts(self, snapshot: Snapshot, ledger: Ledger, who: str) -> tuple[Draft, ...]:
        """Make an entry for each that is in."""
        each = (
            Deciding(ruled=row.ruled, decision=self.decision, why=self.why or "…")
            for row in self.taken
        )
        return tuple(draft_of(one, snapshot, ledger, who) for one in each)

    def out_told(self) -> tuple[Fact, ...]:
        """State who is left out, and why where it could not be otherwise."""
        return tuple(
            fact("many-out", pilot=pilot(row.number), why=inner(fact(row.out_because)))
            if row.out_because
            else fact("many-left-out", pilot=pilot(row.number))
            for row in self.left_out
        )


def _row(ruled: RuledFinding, decision: Decision, voice: Voice) -> ManyRow:
    own = ruled.finding
    out = "many-decided" if not ruled.state.is_open else ""
    if decision is Decision.APPLY and own.penalty is None:
        out = "many-no-penalty"
    return ManyRow(
        ruled=ruled,
        number=own.pilot,
        name=voice.pilots.get(own.pilot, ""),
        what=voice.say(short_of(own)),
        taken=not out,
        out_because=out,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class First:
    """One of the first as they would stand."""

    rank: int
    number: int
    name: str
    was: int | None
    score: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What several decisions would come to in their task."""

    rows: tuple[ManyRow, ...]
    moved: int | None
    """How many ranks of the task would change; None = the official must not know yet."""
    new_winner: bool | None
    first: tuple[First, ...]


def try_many(
    ledger: Ledger, drafts: Sequence[Draft], pool: Pool, control: Control
) -> Results:
    """Score the event as it would be with some entries; nothing is recorded."""
    state = sound(with_drafts(ledger, drafts)).state
    return pool.score(build_event(ledger.raw(state)), control)


def preview_of(many: Many, before: Results, after: Results) -> Preview:
    """Put what is beside what would be."""
    number = many.rows[0].ruled.finding.task if many.rows else None
    was, then = (
        r.task(number) if number is not None else None for r in (before, after)
    )
    if was is None or then is None:
        return Preview(rows=many.rows, moved=0, new_winner=False, first=())
    ranks = {score.pilot: score.rank for score in was.scores}
    known = all(is_ranked(score) for score in (*was.scores, *then.scores))
    voice = after.voice
    new = {ruled.finding.id: ruled for ruled in after.findings}
    rows = []
    for row in many.rows:
        one, other = was.score_of(row.number), then.score_of(row.number)
        decided = new.get(row.key)
        rows.append(
            replace(
                row,
                penalty=(
                    told.counted_words(voice, row.ruled.charges),
                    told.counted_words(voice, decided.charges if decided else ()),
                ),
                score=(ranked(one, "score"), ranked(other, "score")),
                rank=(ranked(one, "rank"), ranked(other, "rank")),
            )
        )
    if not known:
        return Preview(rows=tuple(rows), moved=None, new_winner=None, first=())
    first = tuple(
        First(
            rank=score.rank,
            number=score.pilot,
            name=voice.pilots.get(score.pilot, ""),
            was=ranks.get(score.pilot),
            score=score.score,
        )
        for score in then.scores[:FIRST]
    )
    winners = [{s.pilot for s in t.scores if s.rank == 1} for t in (was, then)]
    return Preview(
        rows=tuple(rows),
        moved=sum(ranks.get(s.pilot) != s.rank for s in then.scores),
        new_winner=winners[0] != winners[1],
        first=first,
    )
