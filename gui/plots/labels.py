"""Names over a plot: placed so that none covers another, with a halo to stay legible."""

from collections.abc import Iterable, Sequence
from enum import StrEnum
from math import cos, radians, sin
from typing import Any, NamedTuple

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QWidget

from gui.theme import NOON, Theme
from scorer.sheets.scene import nice_step

GAP, HALO, EDGE = 6.0, 4.0, 4.0
AROUND = tuple(
    (far * cos(radians(turn)), far * sin(radians(turn)))
    for far, step in ((HALO / 2, 30), (HALO / 4, 90))
    for turn in range(0, 360, step)
)
"""Where a text is written once more for its halo: a stroke around it takes ten times as
long."""
POINT = 5.0
"""From the middle of a point to where its sign ends, pixels."""
SIDE = 12.0
"""Left of the title, and right of it, pixels."""
MOST_KEPT = 200
"""Texts kept as they are drawn."""
LEFT_TO_RIGHT = "\u200e"
"""A number before a name that is read from right to left stays before it."""
BAR_SHARE = 3.0
"""The scale is some third of the map's width, or less."""
Point = tuple[float, float]


class PointMark(StrEnum):
    """How the point that a name belongs to is drawn."""

    NONE = ""
    CROSS = "cross"
    RING = "ring"
    DISC = "disc"
    SQUARE = "square"
    TRIANGLE = "triangle"


class Tag(NamedTuple):
    """A name and where it may stand, in the plot's own coordinates, best first."""

    text: str
    places: tuple[Point, ...]
    colour: str
    bold: bool = False
    mark: PointMark = PointMark.NONE
    """Drawn at the first place."""
    below: bool = False
    """Stands beneath its place where there is room."""


class Labels(QWidget):
    """Lies over a plot and lets the mouse through."""

    def __init__(self, plot: Any) -> None:
        super().__init__(plot)
        self.plot = plot
        self.box = plot.getPlotItem().vb
        self.theme: Theme = NOON
        self.title = ""
        self.tags: tuple[Tag, ...] = ()
        self.lines: tuple[tuple[Point, Point], ...] = ()
        self.unit: tuple[str, str] | None = None
        """Of the scale: for short ways and long ones; None draws none."""
        self._written: dict[object, QPixmap] = {}
        self.placed: list[tuple[str, QRectF]] = []
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        plot.installEventFilter(self)
        self.box.sigRangeChanged.connect(lambda *_: self.update())
        self.resize(plot.size())

    def show_tags(
        self,
        title: str,
        tags: Iterable[Tag],
        theme: Theme,
        lines: Iterable[tuple[Point, Point]] = (),
    ) -> None:
        """Put other names over the plot; those first in order matter most.

        No name stands on a point or on one of the `lines` where there is room beside it.
        """
        self.title, self.tags, self.theme = title, tuple(tags), theme
        self.lines = tuple(lines)
        if len(self._written) > MOST_KEPT:
            self._written.clear()
        self.update()

    def place(self) -> list[tuple[Tag, QRectF]]:
        """Find room for each name: no two of them meet."""
        taken = [self._title_rect()] if self.title else []
        if self.unit:
            taken += [self._bar()[1], self._north()]
        room, lines = QRectF(self._room()), [*map(self._on, self.lines)]
        lines += [self._drawn(tag) for tag in self.tags if tag.mark]
        found = []
        for tag in self.tags:
            size = self._size(tag.text, bold=tag.bold)
            rect = self._free(tag, size, room, [*taken, *lines])
            rect = rect or self._free(tag, size, room, taken)
            if rect is not None:
                taken.append(rect)
                found.append((tag, rect))
        self.placed = [(tag.text, rect) for tag, rect in found]
        return found

    def _drawn(self, tag: Tag) -> QRectF:
        """Return where the point of a name is drawn."""
        at = self.box.mapViewToScene(QPointF(*tag.places[0]))
        return QRectF(at.x() - POINT, at.y() - POINT, 2 * POINT, 2 * POINT)

    def _on(self, line: tuple[Point, Point]) -> QRectF:
        """Return where a line is drawn."""
        start, end = (self.box.mapViewToScene(QPointF(*point)) for point in line)
        return QRectF(start, end).normalized().adjusted(0.0, -1.0, 0.0, 1.0)

    def _room(self) -> QRectF:
        rect = QRectF(self.box.sceneBoundingRect())
        return rect.adjusted(EDGE, EDGE, -EDGE, -EDGE)

    def _free(
        self,
        tag: Tag,
        size: tuple[float, float],
        room: QRectF,
        taken: Sequence[QRectF],
    ) -> QRectF | None:
        width, height = size
        for place in tag.places:
            at = self.box.mapViewToScene(QPointF(*place))
            if not room.contains(at):
                continue
            around = (
                (GAP, -height - 2),
                (GAP, 2.0),
                (-GAP - width, -height - 2),
                (-GAP - width, 2.0),
                (-width / 2, -height - GAP),
                (-width / 2, 2 * GAP),
            )
            beyond = tuple((x, -2 * height - 2 * GAP) for x in (GAP, -GAP - width))
            near = reversed(around) if tag.below else around
            for x, y in (*near, *beyond):
                rect = QRectF(at.x() + x, at.y() + y, width, height)
                if room.contains(rect) and not any(map(rect.intersects, taken)):
                    return rect
        return None

    def _font(self, *, bold: bool) -> QFont:
        font = QFont(self.font())
        font.setBold(bold)
        return font

    def _size(self, text: str, *, bold: bool) -> tuple[float, float]:
        metrics = QFontMetricsF(self._font(bold=bold))
        return metrics.horizontalAdvance(text) + 2.0, metrics.height()

    @property
    def headed(self) -> str:
        """The title as it has room: its end stays, where unit or task stand."""
        room = self.width() - 2 * SIDE - (self._north().width() if self.unit else 0)
        metrics = QFontMetricsF(self._font(bold=True))
        return metrics.elidedText(self.title, Qt.TextElideMode.ElideMiddle, room)

    def _title_rect(self) -> QRectF:
        width, height = self._size(self.headed, bold=True)
        room = self._room()
        top = room.top() + 4 if self.unit else max(2.0, room.top() - height - 6)
        return QRectF(SIDE, top, width, height)

    # The scale and north, on maps.

    def _bar(self) -> tuple[float, QRectF, str]:
        """Return how long the scale is, where it stands, and its words."""
        across = abs(self.box.viewPixelSize()[0]) * self.width()
        long, text = self._length(across)
        pixels = long / max(abs(self.box.viewPixelSize()[0]), 1e-9)
        width, height = self._size(text, bold=False)
        top = self.height() - height - 12
        return pixels, QRectF(12, top, max(pixels, width) + 8, height + 8), text

    def _length(self, across: float) -> tuple[float, str]:
        short, far = self.unit or ("m", "km")
        per = 1000.0 if short == "m" else 5280.0
        if across > 5 * per:
            long = nice_step(across / per, int(BAR_SHARE) + 1)
            return long * per, f"{long:g} {far}"
        long = nice_step(across, int(BAR_SHARE) + 1)
        return long, f"{long:,g} {short}"

    def _north(self) -> QRectF:
        return QRectF(self.width() - 34, 8, 28, 40)

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the size of the plot."""
        if event.type() == QEvent.Type.Resize:
            self.resize(self.plot.size())
        return super().eventFilter(watched, event)

    def paintEvent(self, _: QPaintEvent) -> None:
        """Write the names."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for tag in reversed(self.tags):
            if tag.mark:
                self._draw_mark(painter, tag)
        for tag, rect in self.place():
            self._write(painter, tag.text, rect, tag.colour, bold=tag.bold)
        if self.title:
            rect = self._title_rect()
            self._write(painter, self.headed, rect, self.theme.text, bold=True)
        if self.unit and self.title:
            self._draw_bar(painter)
            self._draw_north(painter)
        painter.end()

    def _write(
        self, painter: QPainter, text: str, rect: QRectF, colour: str, *, bold: bool
    ) -> None:
        key = (text, colour, bold, self.theme.name, self._font(bold=bold).key())
        if key not in self._written:
            self._written[key] = self._picture(text, rect, colour, bold=bold)
        picture = self._written[key]
        painter.drawPixmap(rect.topLeft() - QPointF(HALO, HALO), picture)

    def _picture(self, text: str, rect: QRectF, colour: str, *, bold: bool) -> QPixmap:
        """Write a text once: it is drawn again with every move of the plot."""
        ratio = self.devicePixelRatioF()
        room = QSizeF(rect.width() + 2 * HALO, rect.height() + 2 * HALO) * ratio
        made = QPixmap(room.toSize())
        made.setDevicePixelRatio(ratio)
        made.fill(Qt.GlobalColor.transparent)
        font = self._font(bold=bold)
        at = QPointF(HALO + 1, HALO + QFontMetricsF(font).ascent())
        read = f"{LEFT_TO_RIGHT}{text}" if text[:1].isdigit() else text
        painter = QPainter(made)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.panel))
        for x, y in AROUND:
            painter.drawText(at + QPointF(x, y), read)
        painter.setPen(QColor(colour))
        painter.drawText(at, read)
        painter.end()
        return made

    def _draw_mark(self, painter: QPainter, tag: Tag) -> None:
        at = self.box.mapViewToScene(QPointF(*tag.places[0]))
        if not self.box.sceneBoundingRect().contains(at):
            return
        painter.setPen(QPen(QColor(tag.colour), 2.5))
        filled = tag.mark is PointMark.DISC
        painter.setBrush(QColor(tag.colour if filled else self.theme.panel))
        r = POINT
        if tag.mark in {PointMark.RING, PointMark.DISC}:
            painter.drawEllipse(at, r, r)
        elif tag.mark is PointMark.SQUARE:
            painter.drawRect(QRectF(at.x() - 4, at.y() - 4, 8, 8))
        elif tag.mark is PointMark.TRIANGLE:
            points = [(0, -r - 1), (r + 1, r), (-r - 1, r)]
            painter.drawPolygon([at + QPointF(*p) for p in points])
        else:
            painter.setPen(QPen(QColor(tag.colour), 3.5))
            for d in (1, -1):
                painter.drawLine(
                    at + QPointF(-r - 1, d * -r - d), at + QPointF(r + 1, d * r + d)
                )

    def _draw_bar(self, painter: QPainter) -> None:
        long, rect, text = self._bar()
        words = QRectF(rect.left() + 2, rect.top(), rect.width(), rect.height() - 8)
        self._write(painter, text, words, self.theme.text, bold=False)
        left, low = rect.left(), rect.bottom() - 2
        painter.setPen(QPen(QColor(self.theme.text), 2))
        painter.drawPolyline(
            [
                QPointF(left, low - 5),
                QPointF(left, low),
                QPointF(left + long, low),
                QPointF(left + long, low - 5),
            ]
        )

    def _draw_north(self, painter: QPainter) -> None:
        middle, top = self.width() - 20.0, 10.0
        painter.setPen(QPen(QColor(self.theme.panel), 2))
        painter.setBrush(QColor(self.theme.text))
        painter.drawPolygon(
            [
                QPointF(middle, top),
                QPointF(middle + 6, top + 14),
                QPointF(middle, top + 10),
                QPointF(middle - 6, top + 14),
            ]
        )
        width, height = self._size("N", bold=True)
        rect = QRectF(middle - width / 2, top + 14, width, height)
        self._write(painter, "N", rect, self.theme.text, bold=True)
