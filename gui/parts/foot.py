"""The foot of the window: one line, the last thing that happened and the keys of the page.

Pages do not make one; they set `foot_keys` (pairs of keys and words) and emit `note`.  The
line never grows: what is too long for it is shortened, with all of it as a tooltip, and
keys give way from the left where the window is narrow.
"""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QWidget

from gui.flow import drop
from gui.parts.keycap import hint_row
from gui.parts.oneline import OneLine
from gui.theme import COLUMNS

Hints = Sequence[tuple[str | Sequence[str], str]]


class Foot(QWidget):
    """Note, progress of a job, keys."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("bottom")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.note = OneLine(look="note")
        self.note.setAccessibleName("Last message")
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of the job")
        self.bar.setMaximumWidth(380)
        self.bar.setMinimumWidth(200)
        self.stop = QPushButton("Stop  [F8]")
        self.keys = QWidget()
        self._hints: list[QWidget] = []
        self._row = QHBoxLayout(self.keys)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(COLUMNS)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(COLUMNS + 4, 4, COLUMNS, 4)
        whole.setSpacing(COLUMNS)
        whole.addWidget(self.note, 1)
        whole.addWidget(self.bar)
        whole.addWidget(self.stop)
        whole.addWidget(self.keys)
        self.bar.hide()
        self.stop.hide()

    def show_keys(self, hints: Hints) -> None:
        """Show the keys of a page."""
        drop(*self._hints)
        self._hints = [hint_row(hint) for hint in hints]
        for made in self._hints:
            self._row.addWidget(made)
        self._fit()

    def _fit(self) -> None:
        """Let keys give way from the left, the last ones stay."""
        room = int(self.width() * 0.58)
        for made in reversed(self._hints):
            room -= made.sizeHint().width() + COLUMNS
            made.setVisible(room >= 0)

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep to one line."""
        super().resizeEvent(event)
        self._fit()
