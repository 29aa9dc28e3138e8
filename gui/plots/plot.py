"""A plot that takes another size once, when it is drawn.

Layouts give a plot several sizes, one after the other, where the texts beside it change;
each would lay out axes and curves anew.
"""

import pyqtgraph as pg
from PySide6.QtGui import QPaintEvent, QResizeEvent


class Plot(pg.PlotWidget):  # type: ignore[misc]  # it states no types
    """Axes and curves, without menu and buttons."""

    _outgrown = False

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setMenuEnabled(False)
        self.hideButtons()

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Take the size when it is drawn, or at once where nobody sees it."""
        self._outgrown = self.isVisible()
        if not self._outgrown:
            super().resizeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Take the newest size, then draw."""
        if self._outgrown:
            self._outgrown = False
            super().resizeEvent(None)
        super().paintEvent(event)
