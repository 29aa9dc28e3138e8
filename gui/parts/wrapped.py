"""A label of as many lines as its text takes, whole in any layout.

A page writes `Wrapped(look="told")` where a sentence may take two lines in a narrow window.
"""

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel


class Wrapped(QLabel):
    """A label that asks for the height of its text in the width it has."""

    def __init__(self, text: str = "", look: str = "") -> None:
        super().__init__(text)
        self.setObjectName(look)
        self.setWordWrap(True)

    # Qt's interface: Qt's names.

    def minimumSizeHint(self) -> QSize:
        """Ask for the height of the text in the width that there is."""
        least = super().minimumSizeHint()
        return QSize(least.width(), max(self.heightForWidth(self.width()), 0))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for the height anew."""
        super().resizeEvent(event)
        self.updateGeometry()
