"""The height profile: the basket with its uncertainty, the limit, when it was broken."""

from collections.abc import Iterator

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor

from gui.plots.heights import HeightCurve, Limit, Pace, Shade
from gui.plots.labels import Labels, PointMark, Tag
from gui.plots.map import round_pen
from gui.plots.picture import Picture
from gui.plots.plot import Plot
from gui.theme import NOON, Theme
from scorer.sheets.scene import PAUSE_S, nice_step

TIME_STEPS_S = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200)
MOST_TICKS = 4
TITLE_PX = 28
Array = NDArray[np.float64]


class ProfilePlot:
    """Draws heights over time; times are seconds from the first fix inside."""

    def __init__(self) -> None:
        self.widget = Plot("Height profile")
        self.widget.getPlotItem().setContentsMargins(4, TITLE_PX, 8, 2)
        self.labels = Labels(self.widget)
        self.cursor = pg.InfiniteLine(angle=90, movable=False)
        self.picture: Picture | None = None
        self.theme: Theme = NOON
        self._start_s = 0.0
        self.widget.getPlotItem().vb.sigXRangeChanged.connect(lambda *_: self._ticks())

    @property
    def heights(self) -> HeightCurve | None:
        """What is drawn, if anything."""
        return self.picture.heights if self.picture else None

    def show(self, picture: Picture | None, theme: Theme) -> None:
        """Draw a picture, or nothing."""
        self.picture, self.theme = picture, theme
        plot = self.widget.getPlotItem()
        plot.clear()
        self.widget.setBackground(theme.panel)
        told = f"{picture.title}. {picture.profile_says}" if picture else ""
        self.widget.setAccessibleDescription(told.strip())
        heights = self.heights
        for side in ("left", "bottom"):
            plot.showAxis(side, show=heights is not None)
        if picture is None or heights is None:
            self.labels.show_tags("", (), theme)
            self.widget.settle()
            return
        self._start_s = float(heights.time_s[0])
        self.widget.dress(theme)
        self._shades(heights.shades)
        self._curve(heights, picture.unit_m)
        for limit in heights.limits:
            self._limit(limit, heights, picture.unit_m)
        self._worst(heights, picture.unit_m)
        self.cursor.setPen(pg.mkPen(theme.accent, width=1.5))
        self.cursor.hide()
        plot.addItem(self.cursor, ignoreBounds=True)
        caption = f"{heights.caption}, {picture.unit}"
        tags, lines = self._tags(heights, picture), self._lines(heights, picture.unit_m)
        self.labels.show_tags(caption, tags, theme, lines)
        self.focus()
        self.widget.settle()

    def point_at(self, index: int) -> None:
        """Put the cursor on a fix."""
        if self.heights is not None:
            self.cursor.setPos(float(self.heights.time_s[index]) - self._start_s)
            self.cursor.show()

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
        """Show the minutes around the infringement, else the flight."""
        if self.heights is not None:
            low, high = self.heights.bottom_m, self.heights.top_m
            self._show(self.heights.window_s, low, high)

    def fit(self) -> None:
        """Show the whole flight."""
        heights = self.heights
        if heights is None:
            return
        start, end = heights.whole_s
        seen = (heights.time_s >= start) & (heights.time_s <= end)
        level = heights.level_m[seen & np.isfinite(heights.level_m)]
        top = max(float(level.max()), heights.top_m) if level.size else heights.top_m
        self._show(heights.whole_s, min(heights.bottom_m, -0.04 * top), 1.06 * top)

    def zoom(self, factor: float) -> None:
        """Zoom in time; under 1 brings things nearer."""
        self.widget.getPlotItem().vb.scaleBy((factor, 1.0))

    # Drawing.

    def _curve(self, heights: HeightCurve, unit_m: float) -> None:
        x = heights.time_s - self._start_s
        level, sigma = heights.level_m / unit_m, heights.sigma_m / unit_m
        link = linked(heights.time_s, np.isfinite(level))
        colour = QColor(self.theme.accent)
        colour.setAlpha(60)
        for part in _stretches(link):
            band = pg.PlotCurveItem(
                np.r_[x[part], x[part][::-1]],
                np.r_[(level - sigma)[part], (level + sigma)[part][::-1]],
                pen=pg.mkPen(None),
                fillLevel="enclosed",
                brush=colour,
            )
            band.setZValue(-5)
            self.widget.addItem(band)
        pen = pg.mkPen(self.theme.text, width=2)
        self.widget.addItem(
            pg.PlotCurveItem(x, level, pen=pen, connect=link, antialias=True)
        )
        ground = pg.InfiniteLine(0.0, angle=0, pen=pg.mkPen(self.theme.muted, width=1))
        self.widget.addItem(ground, ignoreBounds=True)

    def _limit(self, limit: Limit, heights: HeightCurve, unit_m: float) -> None:
        """Draw a limit where it holds, and nowhere else."""
        x = heights.time_s - self._start_s
        pen = pg.mkPen(self.theme.text, width=2, style=Qt.PenStyle.DashLine)
        line = pg.PlotCurveItem(
            x,
            np.full(len(x), limit.level_m / unit_m),
            pen=pen,
            connect=linked(heights.time_s, limit.holds),
        )
        self.widget.addItem(line)

    def _worst(self, heights: HeightCurve, unit_m: float) -> None:
        if len(heights.breach_s) > 1:
            breach = pg.PlotCurveItem(
                heights.breach_s - self._start_s,
                heights.breach_m / unit_m,
                pen=round_pen(self.theme.bad, 5),
                connect="finite",
            )
            breach.setZValue(10)
            self.widget.addItem(breach)

    def _shades(self, shades: tuple[Shade, ...]) -> None:
        for shade in shades:
            colour = QColor(self.theme.good)
            colour.setAlpha(26)
            region = pg.LinearRegionItem(
                (shade.start_s - self._start_s, shade.end_s - self._start_s),
                movable=False,
                brush=colour,
                pen=pg.mkPen(None),
            )
            region.setZValue(-10)
            self.widget.addItem(region, ignoreBounds=True)

    def _lines(
        self, heights: HeightCurve, unit_m: float
    ) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
        """Yield where limits run, end to end."""
        for limit in heights.limits:
            held = heights.time_s[limit.holds] - self._start_s
            if held.size:
                y = limit.level_m / unit_m
                yield (float(held[0]), y), (float(held[-1]), y)

    def _tags(self, heights: HeightCurve, picture: Picture) -> Iterator[Tag]:
        """Name the lowest point, the limits and the areas, in that order."""
        if heights.worst is not None and heights.worst_text:
            at, level = heights.worst
            x, y = at - self._start_s, level / picture.unit_m
            own = self.theme.bad
            text, mark = heights.worst_text, PointMark.RING
            yield Tag(text, ((x, y),), own, bold=True, mark=mark, below=True)
        for limit in heights.limits:
            held = heights.time_s[limit.holds] - self._start_s
            start = heights.window_s[0] - self._start_s
            seen = held[held >= start] if held.size else held
            y = limit.level_m / picture.unit_m
            some = seen[:: max(len(seen) // 60, 1)].tolist()
            places = tuple((float(x), y) for x in some)
            yield Tag(limit.text, places, self.theme.text, bold=True)
        top = heights.top_m / picture.unit_m
        for shade in heights.shades:
            xs = np.linspace(shade.start_s, shade.end_s, 12) - self._start_s
            places = tuple((float(x), top * f) for f in (0.97, 0.9, 0.8) for x in xs)
            yield Tag(shade.text, places, self.theme.good)

    def _show(self, span_s: tuple[float, float], low_m: float, high_m: float) -> None:
        unit = self.picture.unit_m if self.picture else 1.0
        start, end = (moment - self._start_s for moment in span_s)
        box = self.widget.getPlotItem().vb
        box.setRange(
            xRange=(start, end), yRange=(low_m / unit, high_m / unit), padding=0
        )
        axis = self.widget.getPlotItem().getAxis("left")
        axis.setTickSpacing(*_spacing((high_m - low_m) / unit))
        self._ticks()

    def _ticks(self) -> None:
        """Write clock times beneath, at round moments."""
        picture = self.picture
        if picture is None or picture.heights is None:
            return
        low, high = self.widget.getPlotItem().vb.viewRange()[0]
        ticks = [
            (moment - self._start_s, picture.clock(moment))
            for moment in round_moments(low + self._start_s, high + self._start_s)
        ]
        self.widget.getPlotItem().getAxis("bottom").setTicks([ticks])


class PacePlot:
    """Drift and vertical speed around a touch of the ground."""

    def __init__(self, profile: ProfilePlot) -> None:
        self.widget = Plot("Drift and vertical speed")
        self.widget.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.widget.getPlotItem().setContentsMargins(4, TITLE_PX, 8, 2)
        self.widget.getPlotItem().hideAxis("bottom")
        self.widget.setXLink(profile.widget)
        self.labels = Labels(self.widget)
        self.profile = profile
        self.wanted = True
        """Left out where there is little room."""

    def empty(self, theme: Theme) -> None:
        """Draw nothing, and keep the place: what comes next may want it."""
        self.widget.getPlotItem().clear()
        self.widget.setBackground(theme.panel)
        self.labels.show_tags("", (), theme)
        self.widget.settle()

    def show(self, picture: Picture | None, theme: Theme) -> None:
        """Draw the speeds of a touch; other pictures have none."""
        self.empty(theme)
        pace = picture.heights.pace if picture and picture.heights else None
        self.widget.setVisible(pace is not None and self.wanted)
        if picture is None or pace is None:
            return
        self.widget.dress(theme)
        self._draw(pace, picture, theme)

    def _draw(self, pace: Pace, picture: Picture, theme: Theme) -> None:
        voice, start = picture.voice, self.profile.heights
        x = pace.time_s - (float(start.time_s[0]) if start else 0.0)
        tags = []
        for values, name, colour, style in (
            (pace.drift_m_s, "profile-drift", theme.accent, Qt.PenStyle.SolidLine),
            (pace.climb_m_s, "profile-climb", theme.text, Qt.PenStyle.DashLine),
        ):
            y = values / picture.unit_m
            pen = pg.mkPen(colour, width=2, style=style)
            self.widget.addItem(pg.PlotCurveItem(x, y, pen=pen))
            some = range(2, len(x), max(len(x) // 16, 1))
            places = tuple((float(x[i]), float(y[i])) for i in some)
            tags.append(Tag(voice.word(name), places, colour))
        zero = pg.InfiniteLine(0.0, angle=0, pen=pg.mkPen(theme.muted, width=1))
        self.widget.addItem(zero, ignoreBounds=True)
        title = f"{voice.word('profile-pace')}, {picture.unit}/s"
        self.labels.show_tags(title, tags, theme)
        both = np.r_[pace.drift_m_s, pace.climb_m_s] / picture.unit_m
        low, high = float(np.nanmin(both)), float(np.nanmax(both))
        self.widget.setYRange(min(low, 0.0) - 1.0, max(high, 0.0) + 1.0, padding=0)
        self.widget.settle()


def linked(time_s: Array, known: NDArray[np.bool_]) -> NDArray[np.int32]:
    """Tell after which fixes, (N,), a line goes on: not across pauses or the unknown."""
    link = np.zeros(len(time_s), dtype=np.int32)
    link[:-1] = known[:-1] & known[1:] & (np.diff(time_s) <= PAUSE_S)
    return link


def _stretches(link: NDArray[np.int32]) -> Iterator[slice]:
    """Yield the stretches over which a line goes on."""
    edges = np.flatnonzero(np.diff(np.r_[0, link]))
    for start, end in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=False):
        yield slice(start, end + 1)


def _spacing(room: float) -> tuple[float, float]:
    step = float(nice_step(max(room, 1e-6), 4))
    return step, step


def round_moments(start_s: float, end_s: float) -> list[float]:
    """Return round moments for ticks, POSIX seconds."""
    span = end_s - start_s
    step = next((s for s in TIME_STEPS_S if span / s <= MOST_TICKS), 14_400)
    first = -(-start_s // step) * step
    count = int((end_s - first) // step) + 1
    return [first + i * step for i in range(max(count, 0))]
