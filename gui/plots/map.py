"""The map: places, the track coloured by height, marks, rings round targets."""

from typing import Any

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QColor, QPen

from gui.plots.picture import Outline, Picture, Spot, Way
from gui.theme import NOON, Theme
from scorer.event.place_kinds import PlaceKind, Sign, Tone
from scorer.units import show_length

RING_POINTS = 73
MARGIN = 0.15
LEAST_VIEW_M = 60.0
STYLES = {
    Sign.SOLID: Qt.PenStyle.SolidLine,
    Sign.DASHES: Qt.PenStyle.DashLine,
    Sign.DOTS: Qt.PenStyle.DotLine,
    Sign.DASHES_AND_DOTS: Qt.PenStyle.DashDotLine,
}
SYMBOLS = {Sign.CROSS: "+", Sign.TRIANGLE: "t"}


class MapPlot:
    """Draws a picture; knows which fix is nearest to the mouse."""

    def __init__(self) -> None:
        self.widget = pg.PlotWidget()
        self.widget.setAccessibleName("Map")
        self.widget.setAspectLocked(True)
        self.widget.setMenuEnabled(False)
        self.widget.hideButtons()
        self.cursor = pg.ScatterPlotItem(size=13, symbol="o")
        self.picture: Picture | None = None
        self.theme: Theme = NOON
        self._names: list[Any] = []
        box = self.widget.getPlotItem().vb
        box.sigRangeChanged.connect(lambda *_: self.tidy())
        box.sigResized.connect(lambda *_: self.tidy())

    def show(self, picture: Picture | None, theme: Theme) -> None:
        """Draw a picture, or nothing."""
        self.picture, self.theme = picture, theme
        plot = self.widget.getPlotItem()
        plot.clear()
        self._names = []
        self.widget.setBackground(theme.panel)
        self._axes(picture)
        if picture is None:
            return
        for target in picture.targets:
            self._rings(target, picture)
        for outline in picture.outlines:
            self._outline(outline)
        if picture.way is not None:
            self._track(picture.way, picture)
        for mark in picture.marks:
            self._spot(mark, "x", theme.accent, 15)
        for spot in picture.spots:
            self._spot(spot, "d", theme.bad, 14)
        self.cursor.setPen(pg.mkPen(theme.text, width=2))
        self.cursor.setBrush(pg.mkBrush(theme.chosen))
        self.cursor.setZValue(50)
        self.cursor.clear()
        plot.addItem(self.cursor)
        if picture.way is None and not picture.spots:
            self.fit()
        else:
            self.focus()
        QTimer.singleShot(0, self.widget, self.tidy)  # when sizes are known

    def point_at(self, index: int) -> None:
        """Put the cursor on a fix."""
        if self.picture is not None and self.picture.way is not None:
            way, unit = self.picture.way, self.picture.unit_m
            x, y = way.east_m[index] / unit, way.north_m[index] / unit
            self.cursor.setData([x], [y])

    def index_under(self, position: QPointF) -> int | None:
        """Return the fix nearest to the mouse."""
        box = self.widget.getPlotItem().vb
        if self.picture is None or self.picture.way is None:
            return None
        if not box.sceneBoundingRect().contains(position):
            return None
        point = box.mapSceneToView(position)
        way, unit = self.picture.way, self.picture.unit_m
        away = np.hypot(way.east_m / unit - point.x(), way.north_m / unit - point.y())
        return int(np.nanargmin(away)) if np.isfinite(away).any() else None

    def focus(self) -> None:
        """Show the finding with its surroundings, else everything."""
        self._fit(self._points(near=True))

    def fit(self) -> None:
        """Show everything."""
        self._fit(self._points(near=False))

    def zoom(self, factor: float) -> None:
        """Zoom; under 1 brings things nearer."""
        self.widget.getPlotItem().vb.scaleBy((factor, factor))

    # Drawing.

    def _axes(self, picture: Picture | None) -> None:
        unit = picture.unit if picture else "m"
        plot = self.widget.getPlotItem()
        for side, text in (("bottom", "east"), ("left", "north")):
            axis = plot.getAxis(side)
            axis.enableAutoSIPrefix(False)
            axis.setPen(pg.mkPen(self.theme.line))
            axis.setTextPen(pg.mkPen(self.theme.text))
            axis.setTickFont(self.widget.font())
            axis.label.setFont(self.widget.font())
            axis.setLabel(f"{text}, {unit}", color=self.theme.text)

    def _colour(self, kind: PlaceKind) -> str:
        theme = self.theme
        return {
            Tone.FORBIDDEN: theme.bad,
            Tone.OPEN: theme.good,
            Tone.AIM: theme.accent,
            Tone.PLAIN: theme.muted,
        }[kind.tone]

    def _outline(self, outline: Outline) -> None:
        unit = self.picture.unit_m if self.picture else 1.0
        x, y = (outline.en_m / unit).T
        colour = self._colour(outline.kind)
        if len(x) == 1:
            symbol = SYMBOLS[outline.kind.sign]
            name = Spot(name=outline.name, east_m=x[0] * unit, north_m=y[0] * unit)
            self._spot(name, symbol, colour, 12)
            return
        pen = pg.mkPen(colour, width=1.6, style=STYLES[outline.kind.sign])
        self.widget.addItem(pg.PlotCurveItem(x, y, pen=pen))
        top = int(np.argmax(y))
        self._text(outline.name, x[top], y[top], colour)

    def _rings(self, target: Spot, picture: Picture) -> None:
        angle = np.linspace(0.0, 2 * np.pi, RING_POINTS)
        units = "imperial" if picture.imperial else "metric"
        for radius_m in picture.rings_m:
            radius = radius_m / picture.unit_m
            x = target.east_m / picture.unit_m + radius * np.sin(angle)
            y = target.north_m / picture.unit_m + radius * np.cos(angle)
            pen = pg.mkPen(self.theme.line, width=1)
            self.widget.addItem(pg.PlotCurveItem(x, y, pen=pen))
            self._text(show_length(radius_m, units, 0), x[9], y[9], self.theme.muted)

    def _track(self, way: Way, picture: Picture) -> None:
        x, y = way.east_m / picture.unit_m, way.north_m / picture.unit_m
        known = np.isfinite(x) & np.isfinite(y)
        step = known[:-1] & known[1:]
        for shown, colour in zip(
            self._bins(way, picture), self._colours(), strict=True
        ):
            link = np.zeros(len(x), dtype=np.int32)
            link[:-1] = step & shown[:-1]
            if link.any():
                pen = pg.mkPen(colour, width=3)
                self.widget.addItem(pg.PlotCurveItem(x, y, pen=pen, connect=link))
        self._ends(way)
        if picture.span_s is None:
            return
        start, end = picture.span_s
        inside = (way.time_s >= start) & (way.time_s <= end) & known
        if inside.any():
            pen = _round_pen(self.theme.bad)
            glow = pg.PlotCurveItem(x[inside], y[inside], pen=pen)
            glow.setZValue(-5)
            self.widget.addItem(glow)

    def _ends(self, way: Way) -> None:
        for index, name in ((way.launch, "launch"), (way.landing, "landing")):
            if index is not None:
                spot = Spot(
                    name=name,
                    east_m=float(way.east_m[index]),
                    north_m=float(way.north_m[index]),
                )
                self._spot(spot, "o", self.theme.muted, 9)

    def edges(self, way: Way, picture: Picture) -> NDArray[np.float64]:
        """Return the heights in metres at which the colour changes."""
        known = way.height_m[np.isfinite(way.height_m)]
        top = float(known.max()) if known.size else 1.0
        colours = len(self.theme.heights)
        if picture.limit_m and top > picture.limit_m:
            return np.linspace(picture.limit_m, top, colours)[:-1]
        return np.linspace(0.0, max(top, 1.0), colours + 1)[1:-1]

    def legend(self) -> str:
        """Say which colour is which height."""
        picture = self.picture
        if picture is None or picture.way is None:
            return ""
        edges = self.edges(picture.way, picture) / picture.unit_m
        parts = [f"under {edges[0]:.0f}"]
        parts += [f"{edge:.0f}" for edge in edges]
        words = [
            f'<span style="color:{colour}">&#9632;</span> {text}'
            for colour, text in zip(self.theme.heights, parts, strict=True)
        ]
        return f"{picture.unit} above the ground, from: " + "&nbsp; ".join(words)

    def _colours(self) -> list[str]:
        return [*self.theme.heights, self.theme.muted]

    def _bins(self, way: Way, picture: Picture) -> list[NDArray[np.bool_]]:
        """Return for each colour which fixes have it; the last: height not known."""
        known = np.isfinite(way.height_m)
        number = np.digitize(np.nan_to_num(way.height_m), self.edges(way, picture))
        colours = len(self.theme.heights)
        return [*(known & (number == i) for i in range(colours)), ~known]

    def _spot(self, spot: Spot, symbol: str, colour: str, size: int) -> None:
        unit = self.picture.unit_m if self.picture else 1.0
        x, y = spot.east_m / unit, spot.north_m / unit
        pen = pg.mkPen(colour, width=2)
        hollow = pg.mkBrush(None)
        self.widget.addItem(
            pg.ScatterPlotItem(
                [x], [y], symbol=symbol, size=size, pen=pen, brush=hollow
            )
        )
        self._text(spot.name, x, y, colour)

    def _text(self, text: str, x: float, y: float, colour: str) -> None:
        item = pg.TextItem(text, color=QColor(colour), anchor=(0, 1))
        item.setFont(self.widget.font())
        item.setPos(float(x), float(y))
        item.setZValue(20)
        self.widget.addItem(item, ignoreBounds=True)
        self._names.append(item)

    def tidy(self) -> None:
        """Hide names that would stand over others; the later drawn matter more."""
        box = self.widget.getPlotItem().vb
        taken: list[QRectF] = []
        for item in reversed(self._names):
            at = box.mapFromView(item.pos())
            size = item.boundingRect().size()
            place = QRectF(at.x(), at.y() - size.height(), size.width(), size.height())
            free = not any(place.intersects(other) for other in taken)
            item.setVisible(free)
            if free:
                taken.append(place)

    # What is in view.

    def _points(self, *, near: bool) -> NDArray[np.float64]:
        picture = self.picture
        if picture is None:
            return np.zeros((0, 2))
        spots = (*picture.targets, *picture.marks, *picture.spots)
        parts = [np.array([[s.east_m, s.north_m]]) for s in spots]
        way = picture.way
        if way is not None:
            inside = np.ones(len(way.time_s), dtype=bool)
            if near and picture.span_s is not None:
                start, end = picture.span_s
                inside = (way.time_s >= start) & (way.time_s <= end)
            parts.append(np.column_stack([way.east_m, way.north_m])[inside])
        if not near or not parts:
            parts += [outline.en_m for outline in picture.outlines]
        every = np.concatenate(parts) if parts else np.zeros((0, 2))
        return every[np.isfinite(every).all(axis=1)] / picture.unit_m

    def _fit(self, points: NDArray[np.float64]) -> None:
        if not len(points):
            return
        low, high = points.min(axis=0), points.max(axis=0)
        middle = (low + high) / 2
        half = np.maximum((high - low) / 2 * (1 + MARGIN), LEAST_VIEW_M / 2)
        (left, bottom), (right, top) = middle - half, middle + half
        box = self.widget.getPlotItem().vb
        box.setRange(xRange=(left, right), yRange=(bottom, top), padding=0)


def _round_pen(colour: str) -> QPen:
    glow = QColor(colour)
    glow.setAlpha(110)
    pen = pg.mkPen(glow, width=11)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    made: QPen = pen
    return made
