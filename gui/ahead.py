"""Pages are made ready before somebody goes there: one after the other, while nobody waits.

What a page costs for the first time is its widgets taking the look, being filled and being
laid out.  Each is a turn of its own, and no turn is taken while somebody types.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QTimer
from PySide6.QtGui import QImage, QRegion
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from gui.window import Window

EVERY_MS = 30
QUIET_S = 0.4
"""So long nobody must have touched a key or the mouse."""


class Ahead(QObject):
    """Goes through the pages behind, step by step."""

    def __init__(self, window: "Window") -> None:
        super().__init__(window)
        self._window = window
        self._steps: Iterator[None] = iter(())
        self._unfilled: set[str] = set()
        self.filled = False
        """Whether pages were shown an event before: what they are made of is there."""
        self._timer = QTimer(self, interval=EVERY_MS)
        self._timer.timeout.connect(self._step)

    def start(self) -> None:
        """Go through all pages: another look or form holds."""
        self._steps = self._all()
        self._timer.start()

    def fill(self) -> None:
        """Go through all pages, and show them the event that was opened."""
        self._unfilled = {page.name for page in self._window.pages}
        self.filled = True
        self.start()

    def stop(self) -> None:
        """Stop: there is no event, or no window, any more."""
        self._unfilled.clear()
        self._timer.stop()

    @property
    def busy(self) -> bool:
        """Tell whether a page may still lack something."""
        return self._timer.isActive()

    def _step(self) -> None:
        if self._window.tidy.untouched_s < QUIET_S:
            return
        try:
            next(self._steps)
        except StopIteration:
            self._timer.stop()

    def _all(self) -> Iterator[None]:
        window = self._window
        for page in window.pages:
            if window.make_ready(page):
                yield
            if page.name in self._unfilled and page is not window.page:
                page.refresh(window.session.snapshot)
                yield
                _lay_out(window.frame.room_of(page))
                yield
            self._unfilled.discard(page.name)


def _lay_out(widget: QWidget) -> None:
    """Have a widget laid out that is not seen: drawing a single dot of it needs that."""
    parent = widget.parentWidget()
    if parent is not None:
        widget.resize(parent.size())
    dot = QImage(1, 1, QImage.Format.Format_RGB32)
    widget.render(dot, QPoint(), QRegion(0, 0, 1, 1))
