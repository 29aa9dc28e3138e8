"""Something that scrolls down where it is too high for its room, never sideways.

A page writes `Scrolled(widget)`, or `area = Scrolled(); area.setWidget(widget)`.
"""

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
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
        self.viewport().setAutoFillBackground(False)
        if inside is not None:
            self.setWidget(inside)

    # Qt's interface: Qt's names.

    def setWidget(self, widget: QWidget) -> None:
        """Take what is inside, on the ground of what is around.

        With a ground of its own it would, each time it comes to the front, be drawn for
        itself, and then again what is in it.
        """
        super().setWidget(widget)
        widget.setAutoFillBackground(False)

    def minimumSizeHint(self) -> QSize:
        """Return the least size given, such as never forces the window over the screen.

        Without a width it is what the widget inside and a bar beside it take.
        """
        least, inside = self._least, self.widget()
        if least is None:
            return super().minimumSizeHint()
        if least.width() or inside is None:
            return least
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(inside.minimumSizeHint().width() + bar, least.height())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Ask for other room when what is inside does."""
        if event.type() == QEvent.Type.LayoutRequest and watched is self.widget():
            self.updateGeometry()
        return super().eventFilter(watched, event)


def show_whole(widget: QWidget) -> None:
    """Scroll the page until all of a bar that came up stands in it, not its field alone."""
    QTimer.singleShot(0, widget, lambda: _scroll_to(widget))


def _scroll_to(widget: QWidget) -> None:
    around = widget.parentWidget()
    while around is not None and not isinstance(around, QScrollArea):
        around = around.parentWidget()
    if around is not None and widget.isVisible():
        around.ensureWidgetVisible(widget, 0, 0)
