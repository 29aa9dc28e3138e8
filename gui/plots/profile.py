"""The height profile: height with its uncertainty, the limit, when it was broken."""

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor

from gui.plots.picture import Picture, Way
from gui.theme import NOON, Theme
from scorer.units import show_height

AROUND_S = 120.0
"""Shown before and after a finding."""
TIME_STEPS_S = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200)
MOST_TICKS = 7


class ProfilePlot:
    """Draws heights over time; times are seconds from the first fix inside."""

    def __init__(self) -> None:
        self.widget = pg.PlotWidget()
        self.widget.setAccessibleName("Height profile")
        self.widget.setMenuEnabled(False)
        self.widget.hideButtons()
        self.cursor = pg.InfiniteLine(angle=90, movable=False)
        self.picture: Picture | None = None
        self.theme: Theme = NOON
        self._start_s = 0.0
        self.widget.getPlotItem().vb.sigXRangeChanged.connect(lambda *_: self._ticks())

    def show(self, picture: Picture | None, theme: Theme) -> None:
        """Draw a picture, or nothing."""
        self.picture, self.theme = picture, theme
        plot = self.widget.getPlotItem()
        plot.clear()
        self.widget.setBackground(theme.panel)
        self._axes(picture)
        if picture is None or picture.way is None:
            return
        way = picture.way
        self._start_s = float(way.time_s[0])
        known = np.isfinite(way.height_m)
        if known.sum() < 2:
            return
        x = way.time_s[known] - self._start_s
        height = way.height_m[known] / picture.unit_m
        sigma = way.sigma_m[known] / picture.unit_m
        self._span(picture)
        self._band(x, height, sigma)
        plot.addItem(pg.PlotCurveItem(x, height, pen=pg.mkPen(theme.text, width=2)))
        plot.addItem(pg.InfiniteLine(0.0, angle=0, pen=pg.mkPen(theme.muted, width=1)))
        self._limit(picture)
        self.cursor.setPen(pg.mkPen(theme.accent, width=2))
        plot.addItem(self.cursor, ignoreBounds=True)
        self.focus()

    def point_at(self, index: int) -> None:
        """Put the cursor on a fix."""
        if self.picture is not None and self.picture.way is not None:
            self.cursor.setPos(float(self.picture.way.time_s[index]) - self._start_s)

    def index_under(self, position: QPointF) -> int | None:
        """Return the fix nearest to the mouse in time."""
        box = self.widget.getPlotItem().vb
        if self.picture is None or self.picture.way is None:
            return None
        if not box.sceneBoundingRect().contains(position):
            return None
        moment = box.mapSceneToView(position).x() + self._start_s
        return self.picture.way.nearest(float(moment))

    def focus(self) -> None:
        """Show the time around the finding, else the flight."""
        picture = self.picture
        if picture is None or picture.way is None:
            return
        if picture.span_s is None:
            self.fit()
        else:
            start, end = picture.span_s
            self._show_span(start - AROUND_S, end + AROUND_S)

    def fit(self) -> None:
        """Show the whole flight."""
        if self.picture is None or self.picture.way is None:
            return
        way = self.picture.way
        first = 0 if way.launch is None else way.launch
        last = len(way.time_s) - 1 if way.landing is None else way.landing
        self._show_span(float(way.time_s[first]) - 60, float(way.time_s[last]) + 60)

    def zoom(self, factor: float) -> None:
        """Zoom; under 1 brings things nearer."""
        self.widget.getPlotItem().vb.scaleBy((factor, factor))

    # Drawing.

    def _axes(self, picture: Picture | None) -> None:
        unit = picture.unit if picture else "m"
        plot = self.widget.getPlotItem()
        for side, text in (("bottom", "time"), ("left", f"above the ground, {unit}")):
            axis = plot.getAxis(side)
            axis.enableAutoSIPrefix(False)
            axis.setPen(pg.mkPen(self.theme.line))
            axis.setTextPen(pg.mkPen(self.theme.text))
            axis.setTickFont(self.widget.font())
            axis.label.setFont(self.widget.font())
            axis.setLabel(text, color=self.theme.text)

    def _span(self, picture: Picture) -> None:
        if picture.span_s is None:
            return
        start, end = (moment - self._start_s for moment in picture.span_s)
        colour = QColor(self.theme.bad)
        colour.setAlpha(60)
        region = pg.LinearRegionItem(
            (start, max(end, start + 1)), movable=False, brush=colour, pen=colour
        )
        region.setZValue(-10)
        self.widget.addItem(region, ignoreBounds=True)

    def _band(
        self,
        x: NDArray[np.float64],
        height: NDArray[np.float64],
        sigma: NDArray[np.float64],
    ) -> None:
        colour = QColor(self.theme.accent)
        colour.setAlpha(70)
        low = pg.PlotCurveItem(x, height - sigma, pen=pg.mkPen(None))
        high = pg.PlotCurveItem(x, height + sigma, pen=pg.mkPen(None))
        band = pg.FillBetweenItem(low, high, brush=colour)
        band.setZValue(-5)
        for item in (low, high, band):
            self.widget.addItem(item)

    def _limit(self, picture: Picture) -> None:
        if picture.limit_m is None:
            return
        units = "imperial" if picture.imperial else "metric"
        line = pg.InfiniteLine(
            picture.limit_m / picture.unit_m,
            angle=0,
            pen=pg.mkPen(self.theme.bad, width=2),
            label=f"limit {show_height(picture.limit_m, units)}",
            labelOpts={
                "position": 0.98,
                "color": self.theme.bad,
                "anchors": [(1, 1)] * 2,
            },
        )
        self.widget.addItem(line)

    def _show_span(self, start_s: float, end_s: float) -> None:
        picture = self.picture
        if picture is None or picture.way is None:
            return
        low, high = heights_between(picture.way, start_s, end_s)
        limit = picture.limit_m or 0.0
        top = max(high, limit * 1.5, 5.0) / picture.unit_m
        low = min(low, 0.0) / picture.unit_m
        box = self.widget.getPlotItem().vb
        box.setRange(
            xRange=(start_s - self._start_s, end_s - self._start_s),
            yRange=(max(low, -0.15 * top), top * 1.06),
            padding=0,
        )
        self._ticks()

    def _ticks(self) -> None:
        """Write clock times beneath, at round moments."""
        picture = self.picture
        if picture is None or picture.way is None:
            return
        low, high = self.widget.getPlotItem().vb.viewRange()[0]
        ticks = [
            (moment - self._start_s, picture.clock(moment))
            for moment in round_moments(low + self._start_s, high + self._start_s)
        ]
        self.widget.getPlotItem().getAxis("bottom").setTicks([ticks])


def heights_between(way: Way, start_s: float, end_s: float) -> tuple[float, float]:
    """Return the lowest and greatest height with their uncertainty in a span."""
    inside = (way.time_s >= start_s) & (way.time_s <= end_s)
    inside &= np.isfinite(way.height_m)
    if not inside.any():
        return 0.0, 0.0
    low = way.height_m[inside] - way.sigma_m[inside]
    high = way.height_m[inside] + way.sigma_m[inside]
    return float(low.min()), float(high.max())


def round_moments(start_s: float, end_s: float) -> list[float]:
    """Return round moments for ticks, POSIX seconds."""
    span = end_s - start_s
    step = next((s for s in TIME_STEPS_S if span / s <= MOST_TICKS), 14_400)
    first = -(-start_s // step) * step
    count = int((end_s - first) // step) + 1
    return [first + i * step for i in range(max(count, 0))]
