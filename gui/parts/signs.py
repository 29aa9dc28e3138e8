"""The five signs beside a row: shape and word come first, colour third.

A page paints one with `paint(painter, Sign.DONE, rect)`, or puts `SignLabel(Sign.DONE)`
into a layout; the word that goes with it stands in the row.
"""

from enum import StrEnum

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from gui.style import LOOK, follow

SIDE = 14


class RowSign(StrEnum):
    """What a row is, before any word."""

    NONE = ""
    DONE = "done"
    """A tick."""
    WAITS = "waits"
    """A half disc: waits for somebody."""
    BLOCKS = "blocks"
    """A square."""
    NOTE = "note"
    """A ring."""
    LATER = "later"
    """A dash."""

    @property
    def colour(self) -> str:
        """Its colour in the look that holds now."""
        theme = LOOK.theme
        return {
            RowSign.DONE: theme.good,
            RowSign.WAITS: theme.warn,
            RowSign.BLOCKS: theme.bad,
        }.get(self, theme.muted)


def paint(painter: QPainter, sign: RowSign, box: QRectF) -> None:
    """Draw a sign in the middle of a box."""
    if sign is RowSign.NONE:
        return
    side = LOOK.px(SIDE) * 0.82
    at = QRectF(0, 0, side, side)
    at.moveCenter(box.center())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = QPen(QColor(sign.colour), max(1.6, side / 6.5))
    painter.setPen(pen)
    if sign is RowSign.DONE:
        ends = ((0.06, 0.55), (0.38, 0.85), (0.94, 0.14))
        painter.drawPolyline([at.topLeft() + QPointF(x, y) * side for x, y in ends])
    elif sign is RowSign.WAITS:
        _half_disc(painter, at, QColor(sign.colour))
    elif sign is RowSign.BLOCKS:
        painter.fillRect(at.adjusted(1, 1, -1, -1), QColor(sign.colour))
    elif sign is RowSign.NOTE:
        painter.drawEllipse(at.adjusted(2, 2, -2, -2))
    else:
        middle = at.center().y()
        painter.drawLine(QPointF(at.left(), middle), QPointF(at.right(), middle))
    painter.restore()


def _half_disc(painter: QPainter, at: QRectF, colour: QColor) -> None:
    ring = at.adjusted(1, 1, -1, -1)
    painter.setPen(QPen(colour, 1.6))
    painter.drawEllipse(ring)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPie(ring, 90 * 16, 180 * 16)


class SignLabel(QWidget):
    """A sign in a layout; its word is its accessible name."""

    def __init__(self, sign: RowSign = RowSign.NONE) -> None:
        super().__init__()
        self._sign = sign
        follow(self._fit)

    def show_sign(self, sign: RowSign) -> None:
        """Show another sign."""
        self._sign = sign
        self.update()

    def _fit(self) -> None:
        self.setFixedSize(QSize(LOOK.px(SIDE), LOOK.px(SIDE)))

    # Qt's interface: Qt's names.

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it."""
        del event
        paint(QPainter(self), self._sign, QRectF(self.rect()))
