"""Match the columns of a roster file and look at it before it is taken in."""

from collections import Counter
from itertools import pairwise

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QHBoxLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from gui.flow import clear
from gui.models.table import TableColumn
from gui.parts.wrapped import Wrapped
from gui.roster_file import (
    ENCODINGS,
    LEAVE_OUT,
    Happens,
    RosterFile,
    doubts_of,
    faults_of,
    matched,
    outcomes_of,
    proposed,
    roster_of,
)
from gui.theme import INSIDE, MARGIN, Tone
from gui.view import TableView
from gui.widgets import choice, choose, held, label, refill, say, section
from scorer.errors import InputError
from scorer.event.columns import PILOTS
from scorer.event.model import Event
from scorer.event.raw import RawRow
from scorer.ledger.api import State
from scorer.words.voice import Voice

SHOWN_FAULTS = 6
SIZE = QSize(1000, 680)
LETTERS = 24
"""Shown of a header, and of an example of what stands beneath it."""
MOST_HIGH = 230
"""Of the columns to match; more of them scroll."""


class RosterImport(QDialog):
    """Columns on top, the first rows as they would be taken in beneath."""

    taken = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Import a list of pilots")
        self.file: RosterFile | None = None
        self.meet: Event | None = None
        self.state: State | None = None
        self.happens: Counter[Happens] = Counter()
        self.rows: tuple[RawRow, ...] = ()
        self._boxes: dict[str, QComboBox] = {}
        self.told = Wrapped()
        self.letters = choice("Letters of the file", changed=self._read_again)
        self.letters_row = QHBoxLayout()
        self.letters_row.addWidget(label("Written in the letters of"))
        self.letters_row.addWidget(self.letters)
        self.letters_row.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QScrollArea.Shape.NoFrame)
        self._grid = QGridLayout()
        self._columns = held(self._grid)
        self.area.setWidget(self._columns)
        self.preview = TableView((), "Pilots as they will be imported")
        buttons = QDialogButtonBox.StandardButton
        self.buttons = QDialogButtonBox(buttons.Ok | buttons.Cancel)
        self.ok = self.buttons.button(buttons.Ok)
        self.ok.setText("Import")
        for button in self.buttons.buttons():
            button.setIcon(QIcon())
        self.buttons.accepted.connect(self._accept)
        self.buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(held(self.letters_row))
        layout.addWidget(section("What each column of the file is"))
        layout.addWidget(self.area)
        layout.addWidget(section("As it will be imported"))
        layout.addWidget(self.preview, 1)
        layout.addWidget(self.told)
        layout.addWidget(self.buttons)

    def show_file(self, file: RosterFile, event: Event, state: State) -> None:
        """Show a file with the columns matched as well as can be told."""
        self.file, self.meet, self.state = file, event, state
        self.letters.blockSignals(True)
        refill(self.letters, [(text, name) for name, text in ENCODINGS.items()])
        choose(self.letters, file.encoding)
        self.letters.blockSignals(False)
        self.letters.setEnabled(bool(file.encoding))
        self._ask_columns(file)
        if (below := self.parentWidget()) is not None:
            room = below.window().size() - QSize(0, 2 * MARGIN)  # for its title bar
            self.resize(SIZE.boundedTo(room))
        self.open()
        self.ok.setFocus()

    def _read_again(self) -> None:
        """Read the file in the letters that were chosen."""
        if self.file is None or not self.file.encoding:
            return
        chosen = str(self.letters.currentData())
        try:
            self.file = roster_of(self.file.name, self.file.data, chosen)
        except InputError as error:
            say(self.told, str(error), "bad")
            self.ok.setEnabled(False)
            return
        self._ask_columns(self.file)

    def _ask_columns(self, file: RosterFile) -> None:
        clear(self._grid)
        self._boxes = {}
        guess = proposed(file.headers, file.rows)
        for i, header in enumerate(file.headers):
            options: list[tuple[str, object]] = [(n, n) for n in PILOTS.names]
            options.append((f"keep as “{header}”", header))
            options.append(("leave out", LEAVE_OUT))
            box = choice(f"Column {header}", *options, changed=self._match)
            box.blockSignals(True)
            choose(box, guess[header])
            box.blockSignals(False)
            self._boxes[header] = box
            example = next(
                (r.fields[header] for r in file.rows if r.fields.get(header)), ""
            )
            row, column = divmod(i, 2)
            said = f"{header[:LETTERS]}  (as “{example[:LETTERS]}”)"
            self._grid.addWidget(label(said), row, column * 2)
            self._grid.addWidget(box, row, column * 2 + 1)
        high = self._columns.sizeHint().height() + INSIDE
        self.area.setFixedHeight(min(high, MOST_HIGH))
        chain = (self.letters, *self._boxes.values(), self.preview)
        for one, following in pairwise(chain):
            QWidget.setTabOrder(one, following)
        self._match()

    def _match(self) -> None:
        if self.file is None:
            return
        matching = {
            header: str(box.currentData()) for header, box in self._boxes.items()
        }
        self.rows = matched(self.file, matching)
        names = dict.fromkeys(name for name in matching.values() if name)
        outcomes = outcomes_of(self.rows, self.state) if self.state else []
        shown = (*FIRST_COLUMNS, *map(_column, names))
        self.preview.rows_model.set_columns(shown)
        order = list(ORDER)
        self.preview.set_rows(sorted(outcomes, key=lambda o: order.index(o.happens)))
        self.preview.fit()
        self.happens = Counter(outcome.happens for outcome in outcomes)
        self._tell(matching)

    def _tell(self, matching: dict[str, str]) -> None:
        given = [name for name in matching.values() if name]
        faults = [
            f"no column is matched to {name}: choose which one has it"
            for name in ("number", "name")
            if name not in given
        ]
        faults = faults or [str(fault) for fault in faults_of(self.rows)]
        doubles = {n for n in given if given.count(n) > 1 and n != "name"}
        faults = [f"two columns are matched to {name}" for name in doubles] + faults
        self.ok.setEnabled(not faults)
        counts = ", ".join(f"{self.happens[h]} {h}" for h in ORDER if self.happens[h])
        lines = faults or [f"{len(self.rows)} pilots, no faults: {counts}."]
        if not faults and self.meet is not None:
            voice = Voice.of(self.meet)
            lines += map(voice.say, doubts_of(self.rows, self.meet.pilots))
        more = len(lines) - SHOWN_FAULTS
        shown = [*lines[:SHOWN_FAULTS], *([f"… and {more} more"] if more > 0 else [])]
        say(self.told, "\n".join(shown), "bad" if faults or len(lines) > 1 else "good")

    def _accept(self) -> None:
        self.accept()
        self.taken.emit()


def _column(name: str) -> TableColumn:
    return TableColumn(
        name, lambda one: one.fields.get(name, ""), width=34, rest=name == "name"
    )


ORDER = (Happens.OTHER, Happens.CHANGED, Happens.NEW, Happens.SAME)
"""What to look at first."""
_TONES = {Happens.OTHER: Tone.BAD, Happens.CHANGED: Tone.WARN, Happens.SAME: Tone.MUTED}
FIRST_COLUMNS = (
    TableColumn(
        "What happens",
        lambda one: ORDER.index(one.happens),
        text=lambda one: str(one.happens),
        tone=lambda one: _TONES.get(one.happens, Tone.PLAIN),
    ),
    TableColumn("What changes", lambda one: "; ".join(one.changes), width=40),
)
"""Before the columns of the file, as they will stand."""
