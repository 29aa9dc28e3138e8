"""The home: what keeps results from going up, and where each of it is closed."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
)

from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.home import (
    HomeRows,
    next_step,
    open_matters,
    open_rows,
    task_cards,
)
from gui.pages.page import Form, Page
from gui.parts.capbutton import CapButton
from gui.parts.kept import Kept
from gui.parts.line import Line
from gui.parts.rows import RowList
from gui.parts.scrolled import show_whole
from gui.parts.signs import RowSign, SignLabel
from gui.parts.taskcards import TaskCards
from gui.places_of import page_of
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, COLUMNS
from gui.widgets import label, say, say_or_hide
from scorer.errors import ScorerError
from scorer.event.matter import Matter
from scorer.facts import count, fact
from scorer.ledger.acts import NoteMade
from scorer.ledger.matters import acceptance, check_acceptance
from scorer.words.voice import Voice

CHOSEN = needs(Condition.EVENT, Condition.WRITABLE, Condition.CHOSEN)


class MattersPage(Page):
    """Open matters in three groups; a card for each task."""

    name = "matters"
    title = "Open matters"
    key = Key.PAGE_1
    hints = ((Key.ACCEPT, "accept as it is"), (Key.NOTE, "note"))
    foot_keys = ((Key.GO_ON, "go there"), (Key.BACK, "back here"))
    specs = (
        Spec("accept", "&Accept as it is", Key.ACCEPT, "With a reason", CHOSEN),
        Spec("write_note", "&Note", Key.NOTE, "Write something down about it", CHOSEN),
        Spec("drop", "&Drop", Key.OUT, "Leave the line", needs(Condition.EVENT)),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.listed = HomeRows()
        self.rows = RowList("Open matters", says=True)
        self.rows.entered.connect(self._lead)
        self.rows.chosen.connect(lambda _: self._on_chosen())
        self.cards = TaskCards()
        self.cards.asked.connect(self._on_card)
        self.stack = QStackedWidget()
        self.stack.addWidget(self.rows)
        self.stack.addWidget(self._nothing_open())
        left = QVBoxLayout()
        left.setSpacing(BETWEEN)
        left.addWidget(self.stack, 1)
        left.addWidget(self._line())
        both = QHBoxLayout()
        both.setSpacing(COLUMNS)
        both.addLayout(left, 1)
        both.addWidget(self.cards)
        self.body.addLayout(both, 1)
        self._accepting = True

    def _nothing_open(self) -> QFrame:
        made = QFrame()
        made.setObjectName("card")
        self.nothing = label("", "name")
        self.ready = label("", "muted", wrap=True)
        self._next = "publish"
        self.onward = CapButton("Publish", Key.GO_ON, look="main")
        self.onward.clicked.connect(lambda: self.go.emit(self._next, None))
        column = QVBoxLayout(made)
        column.setSpacing(BETWEEN)
        column.addStretch(2)
        middle = Qt.AlignmentFlag.AlignHCenter
        column.addWidget(SignLabel(RowSign.DONE), 0, middle)
        column.addWidget(self.nothing, 0, middle)
        column.addWidget(self.ready)
        self.ready.setAlignment(middle)
        column.addWidget(self.onward, 0, middle)
        column.addStretch(3)
        return made

    def _line(self) -> QFrame:
        self.bar = QFrame()
        self.bar.setObjectName("actBar")
        self.asked = label("", "strong", wrap=True)
        self.why = Line()
        self.why.setAccessibleName("Why it is accepted, or the note")
        self.why.returnPressed.connect(self.record)
        self.kept = Kept(self.session, "matter", {"why": self.why})
        self.fault = label("", "bad", wrap=True)
        self.fault.hide()
        column = QVBoxLayout(self.bar)
        for widget in (self.asked, self.why, self.fault):
            column.addWidget(widget)
        self.bar.hide()
        return self.bar

    # What is shown.

    @property
    def matter(self) -> Matter | None:
        """The matter chosen."""
        row: Matter | None = self.rows.row
        return row

    @property
    def chosen(self) -> bool:
        """Tell whether a matter is chosen."""
        return self.matter is not None

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what is open now."""
        if snapshot is None:
            self.rows.show_rows(())
            self.cards.show_cards(())
            return
        voice = Voice.of(snapshot.event)
        listed = self.session.matters
        rows = open_rows(listed, snapshot.task(self.session.task))
        found = [row.matter for row in rows]
        self.rows.show_rows(self.listed.of(rows, self.session.titles))
        self.cards.show_cards(
            task_cards(
                snapshot,
                self.session.results,
                open_matters(listed, None),
                self.session.up,
            )
        )
        holding = sum(matter.holds_up for matter in found)
        told = fact("home-open", open=count(len(found)), holding=count(holding))
        known = self.session.results is not None
        self.say_hint(voice.say(told) if known or found else voice.word("home-scoring"))
        nothing = not found and known
        self._next, says = next_step(snapshot.event)
        self.nothing.setText(voice.word(f"home-{says}"))
        self.ready.setText(listed.ready if self._next == "publish" else "")
        self.onward.say(self.session.titles[self._next])
        self.stack.setCurrentIndex(int(nothing))
        self.rows.choose_first()

    def rescored(self) -> None:
        """Show what the results left open."""
        self.refresh(self.snapshot)

    def task_chosen(self) -> None:
        """Show what concerns the task."""
        self.refresh(self.snapshot)

    def enter(self) -> None:
        """Go to the list, or to what can be done where nothing is open."""
        (self.onward if self.stack.currentIndex() else self.rows).setFocus()
        self.rows.choose_first()

    def arrange(self) -> None:
        """Rows say where they lead where there is room; cards give way last."""
        self.rows.wide_at = self.form is Form.WIDE
        self.cards.narrow = self.form is not Form.WIDE
        self.cards.fit()
        self.cards.setVisible(self.form is not Form.SMALL)

    def forget(self) -> None:
        """The event is closed: no half typed reason stays."""
        super().forget()
        self._close()

    def _on_chosen(self) -> None:
        self._close()
        self.choice.emit()

    def _lead(self, matter: Matter) -> None:
        self.go.emit(page_of(matter), matter)

    def _on_card(self, page: str, task: int) -> None:
        self.session.choose_task(task)
        self.go.emit(page, None)

    # Commands.

    def accept(self) -> None:
        """Ask why the chosen matter is accepted as it is."""
        self._ask("home-accept", accepting=True)

    def write_note(self) -> None:
        """Ask for a note about the chosen matter."""
        self._ask("home-note", accepting=False)

    def _ask(self, words: str, *, accepting: bool) -> None:
        matter, snapshot = self.matter, self.snapshot
        if matter is None or snapshot is None:
            return
        self._accepting = accepting
        voice = Voice.of(snapshot.event)
        self.asked.setText(f"{voice.word(words)} {voice.sentence(matter.placed)}")
        self.kept.begin(self.asked.text())
        self.bar.show()
        self.why.setFocus()
        show_whole(self.bar)
        say_or_hide(self.fault, "")
        if accepting:
            try:
                check_acceptance(matter, "a reason")
            except ScorerError as error:
                say_or_hide(self.fault, str(error), "bad")

    def record(self) -> None:
        """Record the acceptance or the note."""
        matter, snapshot, text = self.matter, self.snapshot, self.why.text().strip()
        if matter is None or snapshot is None:
            return
        if not self._accepting and text:
            about = Voice.of(snapshot.event).sentence(matter.placed)
            self.session.record(NoteMade(text=f"{text} ({about})"))
            self.drop()
            return
        if self._accepting:
            try:
                drafts = acceptance(matter, why=text, by=self.session.who)
            except ScorerError as error:
                say_or_hide(self.fault, str(error), "bad")
                return
            self.session.record_all(drafts)
            self.drop()

    def drop(self) -> None:
        """Leave the line; what stood in it is dropped."""
        self._close()
        self.rows.setFocus()

    def _close(self) -> None:
        self.why.clear()
        self.kept.done()
        say(self.asked, "", "strong")
        self.bar.hide()
