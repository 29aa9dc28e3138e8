"""Match the columns of a roster file and look at it before it is taken in."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from gui.models.table import Column
from gui.roster_file import (
    LEAVE_OUT,
    RosterFile,
    doubts_of,
    faults_of,
    matched,
    proposed,
)
from gui.view import Table
from gui.widgets import choice, choose, held, label, say, section
from scorer.event.columns import PILOTS
from scorer.event.model import Event
from scorer.event.raw import Row
from scorer.words.voice import Voice

SHOWN_FAULTS = 6


class RosterImport(QDialog):
    """Columns on top, the first rows as they would be taken in beneath."""

    taken = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Import a list of pilots")
        self.resize(1000, 680)
        self.file: RosterFile | None = None
        self.meet: Event | None = None
        self.rows: tuple[Row, ...] = ()
        self._boxes: dict[str, QComboBox] = {}
        self.told = label(wrap=True)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setMaximumHeight(230)
        self.preview = Table((), "Pilots as they will be imported")
        buttons = QDialogButtonBox.StandardButton
        self.buttons = QDialogButtonBox(buttons.Ok | buttons.Cancel)
        self.ok = self.buttons.button(buttons.Ok)
        self.ok.setText("Import")
        self.buttons.accepted.connect(self._accept)
        self.buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(section("What each column of the file is"))
        layout.addWidget(self.area)
        layout.addWidget(section("As it will be imported"))
        layout.addWidget(self.preview, 1)
        layout.addWidget(self.told)
        layout.addWidget(self.buttons)

    def show_file(self, file: RosterFile, event: Event) -> None:
        """Show a file with the columns matched as well as can be told."""
        self.file, self.meet = file, event
        grid = QGridLayout()
        self._boxes = {}
        guess = proposed(file.headers)
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
            grid.addWidget(label(f"{header}  (as “{example}”)"), row, column * 2)
            grid.addWidget(box, row, column * 2 + 1)
        self.area.setWidget(held(grid))
        self._match()
        self.open()
        self.ok.setFocus()

    def _match(self) -> None:
        if self.file is None:
            return
        matching = {
            header: str(box.currentData()) for header, box in self._boxes.items()
        }
        self.rows = matched(self.file, matching)
        names = dict.fromkeys(name for name in matching.values() if name)
        self.preview.rows_model.set_columns([_column(name) for name in names])
        self.preview.set_rows(self.rows)
        self.preview.fit()
        self._tell(matching)

    def _tell(self, matching: dict[str, str]) -> None:
        faults = [str(fault) for fault in faults_of(self.rows)]
        given = [name for name in matching.values() if name]
        doubles = {name for name in given if given.count(name) > 1}
        faults = [f"two columns are matched to {name}" for name in doubles] + faults
        self.ok.setEnabled(not faults)
        lines = faults or [f"{len(self.rows)} pilots, no faults."]
        if not faults and self.meet is not None:
            voice = Voice.of(self.meet)
            lines += map(voice.say, doubts_of(self.rows, self.meet.pilots))
        more = len(lines) - SHOWN_FAULTS
        shown = [*lines[:SHOWN_FAULTS], *([f"… and {more} more"] if more > 0 else [])]
        say(self.told, "\n".join(shown), "bad" if faults or len(lines) > 1 else "good")

    def _accept(self) -> None:
        self.accept()
        self.taken.emit()


def _column(name: str) -> Column:
    return Column(name, lambda row: row.fields.get(name, ""), width=34)
