"""A plot that is drawn once, when all beside it has its place.

Layouts give a plot several sizes, one after the other, where the texts beside it change;
each would lay out axes and curves anew: it takes the last of them when it is drawn.  An
axis that finds only while it is drawn how wide its figures are would have everything drawn
once more: the room for them is set before.
"""

import pyqtgraph as pg
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtGui import QFontMetrics, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QGraphicsView

from gui.theme import Theme

BESIDE_PX, BENEATH_PX = 6, 5
"""Between figures and plot."""


class Patient(QObject):
    """Has what changed in a plot drawn with the window, in its turn.

    A scene that tells its view what changed has its window draw all it has still to draw:
    layouts that have not come to their end have it drawn once more.
    """

    def __init__(self, plot: QGraphicsView) -> None:
        super().__init__(plot)
        self._plot, self._held = plot, False
        plot.scene().installEventFilter(self)

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Hold what the window has to draw while the scene tells, then send it again."""
        if event.type() == QEvent.Type.UpdateRequest:
            self._held = True
            return True
        if event.type() != QEvent.Type.MetaCall:
            return False
        window = self._plot.window()
        window.installEventFilter(self)
        watched.event(event)
        window.removeEventFilter(self)
        if self._held:
            self._held = False
            again, last = QEvent(QEvent.Type.UpdateRequest), Qt.EventPriority
            QCoreApplication.postEvent(window, again, last.LowEventPriority.value)
        return True


class Plot(pg.PlotWidget):  # type: ignore[misc]  # it states no types
    """Axes and curves, without menu and buttons."""

    _outgrown = False
    _dressed: tuple[str, str] | None = None

    def __init__(self, name: str) -> None:
        super().__init__()
        self._patient = Patient(self)
        self.setAccessibleName(name)
        self.setMenuEnabled(False)
        self.hideButtons()
        self.getPlotItem().vb.sigYRangeChanged.connect(lambda *_: self._fit_figures())

    def dress(self, theme: Theme) -> None:
        """Give the axes the colours of a look, where they have others."""
        dressed = theme.name, self.font().key()
        if dressed == self._dressed:
            return
        self._dressed = dressed
        plot = self.getPlotItem()
        for side in ("bottom", "left"):
            axis = plot.getAxis(side)
            axis.enableAutoSIPrefix(False)
            axis.setPen(pg.mkPen(theme.line))
            axis.setTextPen(pg.mkPen(theme.muted))
            axis.setTickFont(self.font())
            axis.setStyle(tickLength=0, tickTextOffset=BENEATH_PX)
        plot.getAxis("bottom").setHeight(
            QFontMetrics(self.font()).height() + BENEATH_PX
        )
        plot.showGrid(x=False, y=True, alpha=0.6)
        self._fit_figures()

    def settle(self) -> None:
        """Lay out what was put in; what is laid out while it is drawn is drawn again."""
        self.getPlotItem().layout.activate()
        self.scene().prepareForPaint()
        for item in self.scene().items():
            item.boundingRect()

    def _fit_figures(self) -> None:
        """Make room for the figures at the left."""
        plot = self.getPlotItem()
        axis, box = plot.getAxis("left"), plot.vb
        if self._dressed is None:
            return
        across = QFontMetrics(self.font()).horizontalAdvance
        drawn = axis.tickValues(*box.viewRange()[1], max(box.height(), 1.0))
        figures = (
            text
            for spacing, values in drawn
            for text in axis.tickStrings(values, axis.autoSIPrefixScale, spacing)
        )
        wide = max(map(across, figures), default=0) + BESIDE_PX
        if wide != axis.fixedWidth:
            axis.setWidth(wide)

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
