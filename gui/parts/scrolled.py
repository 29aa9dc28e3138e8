"""Something that scrolls down where it is too high for its room, never sideways.

A page writes `Scrolled(widget)`, or `area = Scrolled(); area.setWidget(widget)`.
"""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QScrollArea, QWidget


class Scrolled(QScrollArea):
    """Room for a widget that takes the room's width."""

    def __init__(
        self, inside: QWidget | None = None, *, least: QSize | None = None
    ) -> None:
        super().__init__()
        self._least = least
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        if inside is not None:
            self.setWidget(inside)

    # Qt's interface: Qt's names.

    def minimumSizeHint(self) -> QSize:
        """Return the least size given, such as never forces the window over the screen."""
        return self._least or super().minimumSizeHint()
