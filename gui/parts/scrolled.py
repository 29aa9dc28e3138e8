"""Something that scrolls down where it is too high for its room, never sideways.

A page writes `Scrolled(widget)`, or `area = Scrolled(); area.setWidget(widget)`.
"""

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

AFTER_MS = 20
"""So long nothing inside asks for other room before it is tried without a bar."""
LITTLE = 120
"""Pixels that may be too many because of the width that the bar takes."""
PASSES = 3
"""Text in a box in a box: each asks what is around it."""


class Scrolled(QScrollArea):
    """Room for a widget that takes the room's width."""

    def __init__(
        self, inside: QWidget | None = None, *, least: QSize | None = None
    ) -> None:
        super().__init__()
        self._least = least
        self._tried: tuple[QSize, int] | None = None
        self._timer = QTimer(self, singleShot=True)
        self._timer.setInterval(AFTER_MS)
        self._timer.timeout.connect(self._try_without)
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
            self._timer.start()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See whether the bar is still needed."""
        super().resizeEvent(event)
        self._timer.start()

    def _try_without(self) -> None:
        """Take the bar away where what is inside fits without it.

        The bar takes width, so text takes more lines and needs it: where one was shown it
        would stay, and the least thing scrolls away.
        """
        bar, inside = self.verticalScrollBar(), self.widget()
        if inside is None or not bar.isVisible() or bar.maximum() > LITTLE:
            return
        asked = self.size(), inside.minimumSizeHint().height()
        if asked == self._tried:
            return
        self._tried = asked
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for _ in range(PASSES):
            QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)


def show_whole(widget: QWidget) -> None:
    """Scroll the page until all of a bar that came up stands in it, not its field alone."""
    QTimer.singleShot(0, widget, lambda: _scroll_to(widget))


def _scroll_to(widget: QWidget) -> None:
    around = widget.parentWidget()
    while around is not None and not isinstance(around, QScrollArea):
        around = around.parentWidget()
    if around is not None and widget.isVisible():
        around.ensureWidgetVisible(widget, 0, 0)
