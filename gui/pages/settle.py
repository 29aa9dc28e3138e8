"""Settle keyings that differ: both side by side, choose, say why."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout

from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.settling import (
    COLUMNS,
    SettleRow,
    lines_of,
    read_length,
    settle_rows,
    side_columns,
)
from gui.pages.page import ListPage
from gui.snapshot import Snapshot
from gui.state import Fact
from gui.view import Table
from gui.widgets import field, held, label, say, section
from scorer.errors import ScorerError
from scorer.ledger.keyings import settle

READY = needs(Fact.EVENT, Fact.WRITABLE, Fact.CHOSEN)
FORM = "settle"


class SettlePage(ListPage):
    """The list of marks to settle, both keyings, and the decision."""

    name = "settle"
    title = "Compare entries"
    key = Key.PAGE_5
    hint = "Choose a mark; 1, 2 … takes that entry, 0 another value; say why; Enter."
    specs = (
        Spec("take_1", "Entry &1 holds", Key.TAKE_1, "The first entry is right", READY),
        Spec(
            "take_2", "Entry &2 holds", Key.TAKE_2, "The second entry is right", READY
        ),
        Spec("take_3", "Entry &3 holds", Key.TAKE_3, "The third entry is right", READY),
        Spec(
            "take_other",
            "Another &value",
            Key.TAKE_0,
            "None is right: enter the value",
            READY,
        ),
        Spec("to_list", "Back to the &list", Key.OUT, "Change your mind", READY),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.table = Table(
            COLUMNS, "Marks whose entries differ", key=lambda r: r.slot.slot
        )
        self.table.chosen.connect(self._on_chosen)
        self.sides = Table((), "Entries side by side")
        self.sides.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.empty = label("", "good")
        self.value = field("Value that holds", "the value that holds")
        self.value.textChanged.connect(self._tell_value)
        self.value.returnPressed.connect(self._to_reason)
        self.reason = field("Reason", "what shows it: the field form, a photograph …")
        self.reason.returnPressed.connect(self.submit)
        self.reason.textEdited.connect(lambda _: self._keep())
        self.taken = label(look="section")
        upper, lower = QVBoxLayout(), QVBoxLayout()
        upper.addWidget(self.empty)
        upper.addWidget(self.table, 1)
        lower.addWidget(section("Side by side"))
        lower.addWidget(self.sides, 1)
        lower.addLayout(self.buttons("take_1", "take_2", "take_3", "take_other"))
        lower.addWidget(self.taken)
        line = QHBoxLayout()
        line.addWidget(self.value, 1)
        line.addWidget(self.reason, 3)
        lower.addLayout(line)
        split = QSplitter(Qt.Orientation.Vertical)
        split.addWidget(held(upper))
        split.addWidget(held(lower))
        split.setChildrenCollapsible(False)
        self.body.addWidget(split, 1)
        self._take: int | None = None
        self._row: SettleRow | None = None
        self._set_take(None)

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what is to be settled."""
        rows = settle_rows(snapshot) if snapshot else []
        self.table.set_rows(rows)
        many = (
            f"{len(rows)} marks whose entries differ" if rows else "No entries differ."
        )
        say(self.empty, many if snapshot else "", "bad" if rows else "good")
        if self._take is None:
            self.table.choose_first()
        if not rows:
            self._on_chosen(None)

    def _on_chosen(self, row: SettleRow | None) -> None:
        if row is None:
            self.sides.rows_model.set_columns(())
        elif row != self._row:
            self.sides.rows_model.set_columns(side_columns(row))
            self.sides.set_rows(lines_of(row))
            self.sides.fit()
        before = self._row.slot.slot if self._row else None
        self._row = row
        if row is None or row.slot.slot != before:
            self._set_take(None)
        self.choice.emit()

    def _set_take(self, take: int | None) -> None:
        self._take = take
        deciding = take is not None
        self.reason.setVisible(deciding)
        self.value.setVisible(deciding and take == 0)
        self.taken.setVisible(deciding)
        if not deciding or self._row is None:
            self.reason.clear()
            self.value.clear()
            return
        texts = self.session.unsaved.of(FORM)
        if texts.get("mark") == str(self._row.slot.slot):
            self.reason.setText(texts.get("reason", ""))
        if take == 0:
            self.taken.setText("Another value holds:")
            self.value.setFocus()
        elif take is not None:
            side = self._row.sides[take - 1]
            self.taken.setText(f"What {side.by} entered holds. Why?")
            self.reason.setFocus()

    def _keep(self) -> None:
        if self._row is not None:
            texts = {"mark": str(self._row.slot.slot), "reason": self.reason.text()}
            self.session.unsaved.keep(FORM, texts if self.reason.text() else {})

    def _tell_value(self, text: str) -> None:
        if self._take == 0 and self.snapshot is not None:
            shown = read_length(self.snapshot, text)
            self.taken.setText(
                f"Another value holds: {shown}" if shown else "Another value holds:"
            )

    def _to_reason(self) -> None:
        self.reason.setFocus()

    # Commands.

    def take_1(self) -> None:
        """Let the first keying hold."""
        self._begin(1)

    def take_2(self) -> None:
        """Let the second keying hold."""
        self._begin(2)

    def take_3(self) -> None:
        """Let the third keying hold."""
        self._begin(3)

    def _begin(self, take: int) -> None:
        if self._row is not None and take <= len(self._row.sides):
            self._set_take(take)

    def take_other(self) -> None:
        """Key the value that holds instead of both."""
        if self._row is not None:
            self._set_take(0)

    def to_list(self) -> None:
        """Leave the decision and go back to the list."""
        self._set_take(None)
        self.table.setFocus()

    def submit(self) -> None:
        """Record the decision."""
        row, take, snapshot = self._row, self._take, self.snapshot
        if row is None or take is None or snapshot is None:
            return
        fields = dict(row.sides[max(take - 1, 0)].fields)
        if take == 0:
            if not read_length(snapshot, self.value.text()):
                self.note.emit("distance: a length such as 12.34 m or 40 ft 3.5 in")
                self.value.setFocus()
                return
            fields |= {"distance": self.value.text().strip(), "method": "tape"}
            fields.pop("unit", None)
        fields["by"] = self.session.who
        try:
            draft = settle(row.slot, fields, reason=self.reason.text())
        except ScorerError as error:
            self.note.emit(str(error))
            return
        self.session.record_all([draft])
        self.session.unsaved.keep(FORM, {})
        self.note.emit(f"decided: pilot {row.pilot}")
        self._set_take(None)
        self.table.setFocus()
