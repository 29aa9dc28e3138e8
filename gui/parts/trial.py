"""What entries would change before anybody records them, in one sentence.

A page writes `trial = Trial(session, self)`, hears `trial.told`, and asks with
`trial.ask(drafts, task, pilot)` each time that what is typed changes.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from PySide6.QtCore import QObject, QTimer, Signal

from gui.blind import Pairs, hidden_slots, ranks_hidden, secret_pairs, seen_changes
from gui.jobs import Jobs
from gui.session import Session
from scorer.facts import Fact, Value, count, fact, number, words
from scorer.ledger.api import Ledger
from scorer.ledger.changes import ChangedNumber
from scorer.ledger.entry import Draft
from scorer.ledger.tried import Tried, try_out
from scorer.progress import Control
from scorer.scoring.told import DASH
from scorer.words.voice import Voice

TRY_AFTER_MS = 250
"""So long nothing is typed before something is tried that nobody asked for by a key."""


class _Asked(NamedTuple):
    drafts: Callable[[], Sequence[Draft]]
    task: int | None
    pilot: int | None


class Trial(QObject):
    """Tries entries out in a worker, one after the other; what was asked last is told."""

    told = Signal(str)

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self.session, self.jobs = session, Jobs(self, "try")
        self._asked: _Asked | None = None
        self._timer = QTimer(self, singleShot=True)
        self._timer.timeout.connect(self._begin)

    def ask(
        self,
        drafts: Callable[[], Sequence[Draft]],
        task: int | None,
        pilot: int | None,
        *,
        after_ms: int = TRY_AFTER_MS,
    ) -> None:
        """Have `drafts` tried; told is what changes for a pilot in a task, and for others.

        Nothing is told where there are none.
        """
        self._asked = _Asked(drafts, task, pilot)
        self.told.emit(Voice().word("try-waits"))
        self._timer.start(after_ms)

    @property
    def asked(self) -> bool:
        """Tell whether something is asked, told already or not."""
        return self._asked is not None

    def drop(self) -> None:
        """Tell nothing more of what was asked."""
        self._asked = None
        self._timer.stop()

    def _begin(self) -> None:
        asked, ledger, pool = self._asked, self.session.ledger, self.session.pool
        if asked is None or ledger is None:
            return
        if self.jobs.busy:
            self._timer.start(TRY_AFTER_MS)
            return
        drafts = asked.drafts()
        if not drafts:
            self.told.emit("")
            return

        who = self.session.who

        def work(_: Control) -> str:
            tried = try_out(ledger, drafts, scoring=pool.score)
            hidden = self._hidden(ledger, who)
            return preview_words(tried, asked.task, asked.pilot, hidden)

        def tell(text: object) -> None:
            same = self.session.ledger is ledger and self.session.who == who
            if same and self._asked is asked:
                self.told.emit(str(text))

        self.jobs.start(work, done=tell, refused=tell)

    def _hidden(self, ledger: Ledger, who: str) -> Pairs:
        """Return what is hidden from the official, of what has come to the ledger by now.

        What another desk entered a moment ago is in what was tried, and perhaps not yet
        in what the window shows.
        """
        event = self.session.snapshot.event if self.session.snapshot else None
        if event is None:
            return frozenset()
        return secret_pairs(event, hidden_slots(event, ledger.state(), who))


def preview_words(
    tried: Tried, task: int | None, pilot: int | None, hidden: Pairs = frozenset()
) -> str:
    """Say what entries would change, the pilot's own first.

    Of tasks with `hidden` results, and of the standings they are in, nothing is said.
    """
    seen = seen_changes(tried.changes, hidden)
    own = [c for c in seen if (c.task, c.pilot) == (task, pilot)]
    values = {v.name: v for c in own for v in c.values}
    said = [values[n].says for n in ("result", "total") if n in values]
    if task is not None:
        said += [_from_to(n, values[n]) for n in ("score", "rank") if n in values]
    if not hidden:
        said += _standings(tried, pilot)
    told = ", ".join(map(tried.voice.say, said)) + "." if said else ""
    told = told[:1].upper() + told[1:]
    if hidden:
        return f"{told} {tried.voice.sentence(ranks_hidden(hidden))}".strip()
    return told or tried.voice.word("preview-none")


def _from_to(name: str, value: ChangedNumber) -> Fact:
    return fact(f"preview-{name}", **_both(value.before, value.after))


def _both(before: object, after: object) -> dict[str, Value]:
    def told(amount: object) -> Value:
        return number(amount) if isinstance(amount, int | float) else words(DASH)

    return {"before": told(before), "after": told(after)}


def _standings(tried: Tried, own: int | None) -> Iterator[Fact]:
    """Say where a pilot would stand, and how many would stand elsewhere."""
    moved = [place for place in tried.places if place.ranks[0] != place.ranks[1]]
    for place in moved:
        if place.pilot == own:
            yield fact("preview-place", **_both(*place.ranks))
    if moved:
        yield fact("preview-ranks", ranks=count(len(moved)))
