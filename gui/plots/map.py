"""The map: areas and targets of the task, the track, where the infringement was."""

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPen
from shapely import Polygon, contains_xy

from gui.plots.heights import PictureTrack
from gui.plots.labels import Labels, PointMark, Tag
from gui.plots.picture import Outline, Picture, PictureSpot
from gui.plots.plot import Plot
from gui.style import LOOK
from gui.theme import NOON, Theme
from scorer.event.place_kinds import PlaceKind, PlaceSign, PlaceTone

RING_POINTS = 73
MARGIN = 0.3
LEAST_VIEW_M = 60.0
GRID = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where in the view a name within an area may stand."""
STYLES = {
    PlaceSign.SOLID: Qt.PenStyle.SolidLine,
    PlaceSign.DASHES: Qt.PenStyle.DashLine,
    PlaceSign.DOTS: Qt.PenStyle.DotLine,
    PlaceSign.DASHES_AND_DOTS: Qt.PenStyle.DashDotLine,
}
MARKS = {PlaceSign.CROSS: PointMark.CROSS, PlaceSign.TRIANGLE: PointMark.TRIANGLE}


class MapPlot:
    """Draws a picture; knows which fix is nearest to the mouse."""

    def __init__(self) -> None:
        self.widget = Plot("Map")
        self.widget.setAspectLocked(True)
        for side in ("left", "bottom"):
            self.widget.hideAxis(side)
        self.cursor = pg.ScatterPlotItem(size=13, symbol="o")
        self.labels = Labels(self.widget)
        self.picture: Picture | None = None
        self.theme: Theme = NOON
        self._tags: list[Tag] = []
        self._areas: list[tuple[Outline, str]] = []
        box = self.widget.getPlotItem().vb
        box.sigRangeChanged.connect(lambda *_: self._name())

    def show(self, picture: Picture | None, theme: Theme) -> None:
        """Draw a picture, or nothing."""
        self.picture, self.theme = picture, theme
        self.widget.getPlotItem().clear()
        self._tags, self._areas = [], []
        self.widget.setBackground(theme.panel)
        self.widget.setAccessibleDescription(picture.map_says if picture else "")
        self.labels.unit = None
        if picture is None:
            self.labels.show_tags("", (), theme)
            self.widget.settle()
            return
        self.labels.unit = ("ft", "mi") if picture.imperial else ("m", "km")
        aims = {target.name for target in picture.targets}
        for outline in picture.outlines:
            if len(outline.en_m) > 1 or outline.name not in aims:
                self._outline(outline)
        for target in picture.targets[:1]:
            self._rings(target, picture)
        if picture.way is not None:
            self._track(picture.way)
        for target in picture.targets:
            self._spot(target, PointMark.CROSS, theme.text)
        for mark in picture.marks:
            self._spot(mark, PointMark.DISC, theme.warn)
        for spot in reversed(picture.spots):
            self._spot(spot, PointMark.RING, theme.bad, bold=True)
        self._cursor()
        bare = picture.way is None and not picture.spots
        if bare and picture.focus_m is None:
            self.fit()
        else:
            self.focus()
        self.widget.settle()

    def _cursor(self) -> None:
        self.cursor.setPen(pg.mkPen(self.theme.accent, width=2))
        self.cursor.setBrush(pg.mkBrush(None))
        self.cursor.setZValue(50)
        self.cursor.clear()
        self.widget.addItem(self.cursor)

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
        """Show the infringement with its surroundings, else everything."""
        self._fit(self._points(near=True))

    def fit(self) -> None:
        """Show everything."""
        self._fit(self._points(near=False))

    def zoom(self, factor: float) -> None:
        """Zoom; under 1 brings things nearer."""
        self.widget.getPlotItem().vb.scaleBy((factor, factor))

    # Drawing.

    def _colour(self, kind: PlaceKind) -> str:
        theme = self.theme
        return {
            PlaceTone.FORBIDDEN: theme.bad,
            PlaceTone.OPEN: theme.good,
            PlaceTone.AIM: theme.text,
            PlaceTone.PLAIN: theme.muted,
        }[kind.tone]

    def _outline(self, outline: Outline) -> None:
        unit = self.picture.unit_m if self.picture else 1.0
        x, y = (outline.en_m / unit).T
        colour = self._colour(outline.kind)
        if len(x) == 1:
            name = PictureSpot(
                name=outline.name, east_m=x[0] * unit, north_m=y[0] * unit
            )
            self._spot(name, MARKS[outline.kind.sign], colour)
            return
        pen = pg.mkPen(colour, width=1.6, style=STYLES[outline.kind.sign])
        fill = QColor(colour)
        fill.setAlpha(
            22 if outline.kind.tone in {PlaceTone.OPEN, PlaceTone.FORBIDDEN} else 0
        )
        curve = pg.PlotCurveItem(x, y, pen=pen, fillLevel=None)
        if fill.alpha():
            curve = pg.PlotCurveItem(x, y, pen=pen, fillLevel="enclosed", brush=fill)
        curve.setZValue(-20)
        self.widget.addItem(curve)
        self._areas.append((outline, colour))

    def _rings(self, target: PictureSpot, picture: Picture) -> None:
        angle = np.linspace(0.0, 2 * np.pi, RING_POINTS)
        names = picture.ring_names or map(picture.voice.distance, picture.rings_m)
        for radius_m, text in zip(picture.rings_m, names, strict=True):
            x = (target.east_m + radius_m * np.sin(angle)) / picture.unit_m
            y = (target.north_m + radius_m * np.cos(angle)) / picture.unit_m
            pen = pg.mkPen(self.theme.muted, width=1, style=Qt.PenStyle.DotLine)
            self.widget.addItem(pg.PlotCurveItem(x, y, pen=pen))
            places = tuple(zip(x[::9].tolist(), y[::9].tolist(), strict=True))
            self._tags.append(Tag(text, places[5:] + places[:5], self.theme.muted))

    def _track(self, way: PictureTrack) -> None:
        unit = self.picture.unit_m if self.picture else 1.0
        x, y = (way.thin_m / unit).T
        self.widget.addItem(
            pg.PlotCurveItem(x, y, pen=pg.mkPen(self.theme.text, width=2))
        )
        self._ends(way)
        if len(way.breach_m) > 1:
            x, y = (way.breach_m / unit).T
            breach = pg.PlotCurveItem(x, y, pen=round_pen(self.theme.bad, 6))
            breach.setZValue(10)
            self.widget.addItem(breach)

    def _ends(self, way: PictureTrack) -> None:
        voice = self.picture.voice if self.picture else None
        for index, name in ((way.launch, "map-launch"), (way.landing, "map-landing")):
            if index is not None and index < len(way.east_m) and voice is not None:
                spot = PictureSpot(
                    name=voice.word(name),
                    east_m=float(way.east_m[index]),
                    north_m=float(way.north_m[index]),
                )
                self._spot(spot, PointMark.SQUARE, self.theme.muted)

    def _spot(
        self, spot: PictureSpot, mark: PointMark, colour: str, *, bold: bool = False
    ) -> None:
        unit = self.picture.unit_m if self.picture else 1.0
        at = spot.east_m / unit, spot.north_m / unit
        self._tags.insert(0, Tag(spot.name, (at,), colour, bold, mark))

    # Names.

    def _name(self) -> None:
        """Put the names up; where those of areas stand depends on what is seen."""
        if self.picture is None:
            return
        areas = [self._area_tag(outline, colour) for outline, colour in self._areas]
        self.labels.show_tags(self.picture.title, (*self._tags, *areas), self.theme)

    def _area_tag(self, outline: Outline, colour: str) -> Tag:
        """Name an area along its outline, or within it."""
        unit = self.picture.unit_m if self.picture else 1.0
        ring = outline.en_m / unit
        (left, right), (low, high) = self.widget.getPlotItem().vb.viewRange()
        along = _along(ring)
        seen = (along[:, 0] > left) & (along[:, 0] < right)
        seen &= (along[:, 1] > low) & (along[:, 1] < high)
        edge = [tuple(p) for p in along[seen].tolist()]
        x, y = (
            grid.ravel()
            for grid in np.meshgrid(
                left + (right - left) * np.array(GRID),
                low + (high - low) * np.array(GRID),
            )
        )
        held = contains_xy(Polygon(ring), x, y) if len(ring) > 3 else np.zeros(25, bool)
        within = [tuple(p) for p in np.column_stack([x, y])[held].tolist()]
        inner_first = outline.kind.tone is PlaceTone.OPEN
        places = within + edge if inner_first else edge + within
        return Tag(outline.name, tuple(places), colour)

    # What is in view.

    def _points(self, *, near: bool) -> NDArray[np.float64]:
        picture = self.picture
        if picture is None:
            return np.zeros((0, 2))
        if near and picture.focus_m is not None:
            return np.asarray(picture.focus_m / picture.unit_m)
        spots = (*picture.targets, *picture.marks, *picture.spots)
        parts = [np.array([[s.east_m, s.north_m]]) for s in spots]
        way = picture.way
        if way is not None:
            around = near and len(way.breach_m)
            parts.append(way.breach_m if around else way.thin_m)
        if not near or not parts:
            parts += [outline.en_m for outline in picture.outlines]
        every = np.concatenate(parts) if parts else np.zeros((0, 2))
        return every[np.isfinite(every).all(axis=1)] / picture.unit_m

    def _fit(self, points: NDArray[np.float64]) -> None:
        if not len(points):
            self._name()
            return
        low, high = points.min(axis=0), points.max(axis=0)
        middle = (low + high) / 2
        least = (self.picture.least_view_m if self.picture else LEAST_VIEW_M) / 2
        unit = self.picture.unit_m if self.picture else 1.0
        half = np.maximum((high - low) / 2 * (1 + MARGIN), least / unit)
        (left, bottom), (right, top) = middle - half, middle + half
        top += (top - bottom) * self._title_share()
        box = self.widget.getPlotItem().vb
        box.setRange(xRange=(left, right), yRange=(bottom, top), padding=0)
        self._name()

    def _title_share(self) -> float:
        """Return the height of the title as a share of what lies below it."""
        title = 2 * LOOK.metrics(bold=True).height()
        below: int = max(self.widget.height() - title, title)
        return title / below


def _along(ring: NDArray[np.float64], count: int = 48) -> NDArray[np.float64]:
    """Return points spread evenly along an outline, (count, 2)."""
    closed = np.vstack([ring, ring[:1]])
    gone = np.r_[0.0, np.cumsum(np.hypot(*np.diff(closed, axis=0).T))]
    at = np.linspace(0.0, gone[-1], count, endpoint=False)
    return np.column_stack([np.interp(at, gone, xy) for xy in closed.T])


def round_pen(colour: str, width: float) -> QPen:
    """Return a pen with round ends."""
    pen: QPen = pg.mkPen(colour, width=width)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    return pen
