"""A label of one line that never asks for room: its end gives way, the tooltip has it all.

A page writes `OneLine("text", look="second")` where a name or remark may be long.
"""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy

from gui.parts.write import in_order


class OneLine(QLabel):
    """A label that shortens its text to its room, to a few letters at the least.

    With `whole` it says all of it or nothing: some letters of a remark tell nobody more.
    """

    def __init__(
        self, text: str = "", look: str = "", *, letters: int = 4, whole: bool = False
    ) -> None:
        super().__init__()
        self._letters, self._whole = letters, whole
        self.setObjectName(look)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setText(text)

    def setText(self, text: str) -> None:
        """Show a text on one line, and all of it as it stands as a tooltip."""
        super().setText(" ".join(text.split("\n")))
        self.setToolTip(text)

    def drawn(self) -> str:
        """Return what is drawn of the text."""
        wide = self.contentsRect().width()
        fits = self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, wide
        )
        return fits if fits == self.text() or not self._whole else ""

    # Qt's interface: Qt's names.

    def minimumSizeHint(self) -> QSize:
        """Ask for the room of a few letters."""
        letter = self.fontMetrics().averageCharWidth()
        wide = min(letter * self._letters, super().sizeHint().width())
        return QSize(wide, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw as much as there is room for."""
        del event
        painter = QPainter(self)
        box = self.contentsRect()
        text = self.drawn()
        painter.setPen(self.palette().color(self.foregroundRole()))
        # A number before a name that is read from right to left stays before it.
        force = Qt.TextFlag.TextForceLeftToRight if text[:1].isdigit() else 0
        painter.drawText(box, int(self.alignment()) | int(force), in_order(text))
