"""What publishing would change, pilot by pilot, the largest change of rank first."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from gui.models.table import RIGHT, TableColumn
from gui.theme import Tone
from scorer.ledger.changes import Change
from scorer.scoring.told import DASH
from scorer.words.voice import Voice

FIRST = 10
"""The places that everybody looks at first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One pilot: what is up, and what would be."""

    pilot: int
    name: str
    ranks: tuple[int | None, int | None]
    """None = in no rank, or just as it was."""
    scores: tuple[int | None, int | None]
    why: str

    @property
    def size(self) -> float:
        """How far the rank moves; coming in or going out is farthest."""
        before, after = self.ranks
        if before == after:
            return 0.0
        if before is None or after is None:
            return float("inf")
        return float(abs(before - after))

    @property
    def scored(self) -> bool:
        """Tell whether the score changes."""
        return self.scores[0] != self.scores[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Moves:
    """All of them, and what they come to."""

    rows: tuple[Move, ...] = ()

    @property
    def scores(self) -> int:
        """How many scores change."""
        return sum(row.scored for row in self.rows)

    @property
    def of_the_first(self) -> int:
        """How many of the changed ranks are among the first ten, before or after."""
        return sum(
            row.size > 0 and any(r is not None and r <= FIRST for r in row.ranks)
            for row in self.rows
        )

    @property
    def new_winners(self) -> int:
        """How many come to the first place."""
        return sum(row.ranks[1] == 1 and row.size > 0 for row in self.rows)


def moves_of(
    voice: Voice,
    changes: Sequence[Change],
    tasks: Sequence[int],
) -> Moves:
    """Return what changes of one task, or of the standings."""
    wanted = tasks[0] if len(tasks) == 1 else None
    reasons: dict[int, list[str]] = {}
    for change in changes:
        for reason in change.reasons:
            if change.task is not None or wanted is not None:
                reasons.setdefault(change.pilot, []).append(voice.say(reason))
    rows = [
        _move(voice, change, reasons.get(change.pilot, []))
        for change in changes
        if change.task == wanted
    ]
    return Moves(rows=tuple(sorted(rows, key=lambda row: (-row.size, row.pilot))))


def _move(voice: Voice, change: Change, reasons: list[str]) -> Move:
    values = {value.name: value for value in change.values}

    def pair(*names: str) -> tuple[int | None, int | None]:
        found = next((values[n] for n in names if n in values), None)
        if found is None:
            return None, None
        return _whole(found.before), _whole(found.after)

    return Move(
        pilot=change.pilot,
        name=voice.pilots.get(change.pilot, ""),
        ranks=pair("rank"),
        scores=pair("score", "total"),
        why="; ".join(dict.fromkeys(reasons)) or voice.word("totals-changed"),
    )


def _whole(value: object) -> int | None:
    return value if isinstance(value, int) else None


def _after(pair: tuple[int | None, int | None]) -> str:
    if pair[0] == pair[1]:
        return ""
    return f"→ {DASH if pair[1] is None else pair[1]}"


def _before(pair: tuple[int | None, int | None]) -> str:
    return "" if pair[0] == pair[1] else DASH if pair[0] is None else str(pair[0])


def columns(voice: Voice) -> tuple[TableColumn, ...]:
    """Return the columns of the list."""

    def both(name: str, title: str) -> tuple[TableColumn, TableColumn]:
        def before(row: Any) -> str:
            return _before(getattr(row, name))

        def after(row: Any) -> str:
            return _after(getattr(row, name))

        first = TableColumn(
            title,
            lambda row: getattr(row, name)[0],
            text=before,
            align=RIGHT,
            tone=lambda _: Tone.MUTED,
        )
        return first, TableColumn("", lambda row: getattr(row, name)[1], text=after)

    return (
        TableColumn(voice.word("head-number"), lambda row: row.pilot, align=RIGHT),
        TableColumn(
            voice.word("head-pilot"), lambda row: row.name, width=24, firm=True
        ),
        *both("ranks", voice.word("head-rank")),
        *both("scores", voice.word("head-score")),
        TableColumn(
            voice.word("moves-why"), lambda row: row.why, tone=lambda _: Tone.MUTED
        ),
    )


def summary(voice: Voice, moves: Moves) -> tuple[tuple[str, str], ...]:
    """Return the figures above the list, each with its words."""
    counted = (
        ("moves-scores", moves.scores),
        ("moves-first", moves.of_the_first),
        ("moves-winners", moves.new_winners),
    )
    return tuple((str(many), voice.word(name)) for name, many in counted)
