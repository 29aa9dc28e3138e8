"""Many decisions at once: what is beside what would be, one reason, one recording."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from gui.blind import UNTOLD, blinded_results, ranks_hidden
from gui.jobs import Jobs
from gui.keys import Key
from gui.models.decision import REASONS, reasons
from gui.models.many import Many, ManyRow, Preview, preview_of, try_many
from gui.models.table import RIGHT, TableColumn
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.kept import Kept
from gui.parts.keycap import hint_row
from gui.parts.wholerow import WholeRow
from gui.session import Session
from gui.theme import COLUMNS, INSIDE, Tone
from gui.view import TableView
from gui.widgets import field, label, say, say_or_hide
from scorer.event.model import Decision
from scorer.facts import count, fact, pilot, several, term
from scorer.ledger.api import Draft
from scorer.progress import Control
from scorer.scoring import told
from scorer.scoring.results import Results, RuledFinding
from scorer.words.voice import Voice

IN, OUT = "☑", "☐"
TITLES = {
    Decision.APPLY: ("many-apply", "many-applied"),
    Decision.WAIVE: ("many-waive", "many-waived"),
    Decision.HOLD: ("many-hold", "many-held"),
}


def _change(both: tuple[object, object] | None) -> str:
    if both is None:
        return "…"
    was, then = ("–" if one is None else str(one) for one in both)
    return was if was == then else f"{was} → {then}"


def _tone(row: ManyRow) -> Tone:
    return Tone.PLAIN if row.taken else Tone.MUTED


COLUMNS_OF_MANY = (
    TableColumn(
        "", lambda r: r.taken, text=lambda r: IN if r.taken else OUT, tone=_tone
    ),
    TableColumn("No.", lambda r: r.number, align=RIGHT, tone=_tone),
    TableColumn("Pilot", lambda r: r.name, width=24, tone=_tone),
    TableColumn("What was seen", lambda r: r.what, width=30, tone=_tone),
    TableColumn("Penalty", lambda r: r.penalty, text=lambda r: _change(r.penalty)),
    TableColumn(
        "Score", lambda r: r.score, text=lambda r: _change(r.score), align=RIGHT
    ),
    TableColumn("Rank", lambda r: r.rank, text=lambda r: _change(r.rank), align=RIGHT),
)
FIRST_COLUMNS = (
    TableColumn("", lambda r: r.rank, align=RIGHT),
    TableColumn("First then", lambda r: f"{r.number}  {r.name}"),
    TableColumn("was", lambda r: r.was, align=RIGHT),
    TableColumn("Score", lambda r: r.score, align=RIGHT),
)


class ManyView(QWidget):
    """Rows in and out, sums, one reason for all, the button."""

    recorded = Signal(object)  # drafts
    dropped = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.many: Many | None = None
        self._voice = Voice()
        self._reasons: tuple[str, ...] = ()
        self._known: tuple[object, ...] = ()
        self._stale = False
        self.jobs = Jobs(self, "preview")
        self.jobs.refused.connect(self._on_refused)
        self.jobs.ended.connect(self._on_ended)
        self.table = TableView(
            COLUMNS_OF_MANY, "What is and what would be", key=lambda r: r.key
        )
        left = Card()
        left.setAccessibleName("What is and what would be")
        left.body.addWidget(self.table, 1)
        left.body.addWidget(WholeRow(self.table))
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(COLUMNS)
        whole.addWidget(left, 7)
        whole.addWidget(self._panel(), 4)
        self.kept = Kept(session, "many", {"why": self.why})

    def _panel(self) -> QWidget:
        self.title = label(look="section")
        self.about = label(look="second", wrap=True)
        self.sums = [label(look="name") for _ in range(4)]
        self.named = [label(look="caption", wrap=True) for _ in range(4)]
        grid = QGridLayout()
        for i, (much, what) in enumerate(zip(self.sums, self.named, strict=True)):
            grid.addWidget(much, 0, i)
            grid.addWidget(what, 1, i, Qt.AlignmentFlag.AlignTop)
        self.why = field("Why, for all", "one reason for all: each pilot will read it")
        self.why.textChanged.connect(self._on_why)
        self.why.returnPressed.connect(self.table.setFocus)
        self.usual = label(look="second", wrap=True)
        self.stands = label(look="second", wrap=True)
        self.first = TableView(FIRST_COLUMNS, "First then")
        self.first.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.out = label(look="second", wrap=True)
        self.told = label(look="bad", wrap=True)
        self.button = CapButton("", Key.BIG_ACT, look="main")
        self.button.clicked.connect(self.submit)
        self.reverts = label(look="second")
        panel = Card()
        panel.setObjectName("actBar")
        low = QHBoxLayout()
        low.addWidget(self.button)
        low.addWidget(hint_row((Key.OUT, "drop")))
        low.addStretch(1)
        for widget in (self.title, self.about):
            panel.body.addWidget(widget)
        panel.body.addLayout(grid)
        why = QHBoxLayout()
        why.setSpacing(INSIDE)
        why.addWidget(label("Why", "strong"))
        why.addWidget(hint_row((Key.TAKE_1, "…"), (Key.TAKE_3, "reasons used before")))
        why.addStretch(1)
        panel.body.addLayout(why)
        panel.body.addWidget(self.usual)
        panel.body.addWidget(self.why)
        panel.body.addWidget(self.stands)
        panel.body.addWidget(self.first, 1)
        for widget in (self.out, self.told):
            panel.body.addWidget(widget)
        panel.body.addLayout(low)
        panel.body.addWidget(self.reverts)
        return panel

    @property
    def panes(self) -> list[QWidget]:
        """The rows, the reason."""
        return [self.table, self.why]

    @property
    def hint(self) -> str:
        """Say that nothing is recorded yet."""
        if self.many is None:
            return ""
        decided = term(f"ruling-{self.many.decision}")
        number = count(len(self.many.taken))
        return self._voice.say(fact("many-hint", count=number, decision=decided))

    def begin(
        self, decision: Decision, chosen: list[RuledFinding], voice: Voice
    ) -> None:
        """Show what a decision on several would come to."""
        own = _of_one_task(chosen)
        self._voice = voice
        self.many = Many.of(decision, own, voice)
        snapshot = self.session.snapshot
        self._reasons = (
            reasons(snapshot, voice, own[0].finding, decision) if snapshot else ()
        )
        title, done = TITLES[decision]
        self.title.setText(voice.word(title))
        kinds = dict.fromkeys(told.finding_title(voice, r.finding) for r in own)
        self.about.setText(f"{', '.join(kinds)}, task {own[0].finding.task}")
        usual = "   ".join(f"{i + 1}  {why}" for i, why in enumerate(self._reasons))
        self.usual.setText(usual)
        for label_, name in zip(
            self.named, (done, "many-left", "many-moved", "many-winner"), strict=True
        ):
            label_.setText(voice.word(name))
        apart = [pilot(r.finding.pilot) for r in chosen if r not in own]
        others = fact("many-one-task", pilots=several(apart))
        say(self.told, voice.say(others) if apart else "", "warn")
        self.why.clear()
        self.kept.begin(f"{decision} {own[0].finding.task}")
        self._known = ()
        self._show(None)
        self._try()

    def drop(self) -> None:
        """Forget all of it."""
        self.jobs.cancel()
        self.many, self._known = None, ()
        self.why.clear()
        self.kept.done()
        self.table.set_rows([])
        self.first.set_rows([])

    # Changing.

    def toggle(self) -> None:
        """Take the chosen row in or out."""
        if self.many is not None and self.table.row is not None:
            self._take(self.many.toggled(self.table.row.key))

    def toggle_all(self) -> None:
        """Take all rows in or out."""
        if self.many is not None:
            self._take(self.many.every())

    def _take(self, many: Many) -> None:
        self.many = many
        self._show(None)
        self._try()

    def take(self, number: int) -> None:
        """Take a reason by its number; the next one is for words."""
        if 1 <= number <= len(self._reasons):
            self.why.setText(self._reasons[number - 1])
        elif number == REASONS + 1:
            self.why.setFocus()

    def _on_why(self, text: str) -> None:
        if self.many is not None:
            self.many = self.many.because(text)

    # What it comes to.

    def _try(self) -> None:
        """Have it worked out beside the window; the last wish counts."""
        ledger, snapshot, many = self.session.ledger, self.session.snapshot, self.many
        if ledger is None or snapshot is None or many is None:
            return
        if self.jobs.busy:
            self._stale = True
            self.jobs.cancel()
            return
        drafts, pool = (
            many.drafts(snapshot, ledger, self.session.who),
            self.session.pool,
        )
        keys = tuple(row.key for row in many.taken)

        def work(control: Control) -> object:
            return keys, try_many(ledger, drafts, pool, control)

        self.jobs.start(work, text="Preview", done=self._on_tried)

    def _on_ended(self) -> None:
        if self._stale:
            self._stale = False
            self._try()

    def _on_tried(self, found: object) -> None:
        scored, many = self.session.results, self.many
        if many is None or scored is None or scored.results is None:
            return
        if not isinstance(found, tuple):
            return
        keys, after = found
        if keys == tuple(row.key for row in many.taken) and isinstance(after, Results):
            self._known = keys
            seen = blinded_results(after, scored.hidden, self.session.who)
            self._show(preview := preview_of(many, scored.results, seen))
            if preview.moved is None:
                hidden = ranks_hidden(scored.hidden)
                say(self.told, self._voice.sentence(hidden), "second")

    def _on_refused(self, why: str) -> None:
        say(self.told, why, "bad")

    def _show(self, preview: Preview | None) -> None:
        many, voice = self.many, self._voice
        if many is None:
            return
        self.table.set_rows(preview.rows if preview else many.rows)
        self.table.fit()
        self.table.choose_first()
        self.first.set_rows(preview.first if preview else ())
        self.first.fit()
        taken, out = len(many.taken), len(many.left_out)
        known = preview is not None and preview.moved is not None
        moved = str(preview.moved) if preview and known else UNTOLD
        winner = str(int(preview.new_winner or 0)) if preview and known else UNTOLD
        for much, text in zip(
            self.sums, (str(taken), str(out), moved, winner), strict=True
        ):
            much.setText(text)
        number = count(taken)
        self.stands.setText(voice.say(fact("many-stands", count=number)))
        self.reverts.setText(voice.say(fact("many-reverts", count=number)))
        self.button.say(voice.say(fact("many-decisions", count=number)))
        self.button.setEnabled(taken > 0)
        told_out = [voice.say(one) for one in many.out_told()[:4]]
        say_or_hide(self.out, "\n".join(told_out), "second")

    def submit(self) -> None:
        """Record all that is in, together."""
        snapshot, ledger, many = self.session.snapshot, self.session.ledger, self.many
        if snapshot is None or ledger is None or many is None:
            return
        if not many.why:
            say(self.told, self._voice.word("say-why-first"), "bad")
            self.why.setFocus()
            return
        if not many.taken:
            say(self.told, self._voice.word("many-none"), "bad")
            return
        drafts: tuple[Draft, ...] = many.drafts(snapshot, ledger, self.session.who)
        self.recorded.emit(drafts)


def _of_one_task(chosen: list[RuledFinding]) -> list[RuledFinding]:
    """Keep those of the first one's task: that is what the preview shows."""
    task = chosen[0].finding.task
    return [ruled for ruled in chosen if ruled.finding.task == task]
