"""A label of as many lines as its text takes, whole in any layout.

A page writes `Wrapped(look="told")` where a sentence may take two lines in a narrow window.
"""

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel


class Wrapped(QLabel):
    """A label that asks for the height of its text in the width it has."""

    def __init__(self, text: str = "", look: str = "") -> None:
        super().__init__(text)
        self.setObjectName(look)
        self.setWordWrap(True)

    def setText(self, text: str) -> None:
        """Show a text, whole."""
        super().setText(text)
        self._fit()

    def _fit(self) -> None:
        self.setMinimumHeight(max(self.heightForWidth(self.width()), 0))

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for the height anew."""
        super().resizeEvent(event)
        self._fit()
