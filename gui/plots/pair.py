"""Map and profile beside each other, with one cursor on both."""

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from gui.plots.map import MapPlot
from gui.plots.picture import Picture
from gui.plots.profile import ProfilePlot
from gui.theme import NOON, Theme
from gui.widgets import label
from scorer.units import show_height, show_length

ZOOM = 0.7
FAR = 20
"""Fixes that Page Up and Page Down go."""


class Pair(QWidget):
    """Keys, when one of the two has the keyboard: arrows, + and −, F fits, R returns."""

    def __init__(self, *, side_by_side: bool = False) -> None:
        super().__init__()
        self.setAccessibleName("Map and height profile")
        self.map = MapPlot()
        self.profile = ProfilePlot()
        self.theme: Theme = NOON
        self.picture: Picture | None = None
        self.index: int | None = None
        way = Qt.Orientation.Horizontal if side_by_side else Qt.Orientation.Vertical
        split = QSplitter(way)
        split.setChildrenCollapsible(False)
        split.addWidget(self.map.widget)
        split.addWidget(self.profile.widget)
        split.setSizes([300, 300] if side_by_side else [300, 200])
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 1)
        self.legend = label(look="muted", wrap=True)
        self.readout = label(look="section", wrap=True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.readout)
        layout.addWidget(split, 1)
        layout.addWidget(self.legend)
        self.map.widget.scene().sigMouseMoved.connect(self._on_map)
        self.profile.widget.scene().sigMouseMoved.connect(self._on_profile)
        for plot in (self.map.widget, self.profile.widget):
            plot.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            plot.installEventFilter(self)

    def show_picture(self, picture: Picture | None, theme: Theme) -> None:
        """Draw a picture in the colours of a look; None empties both."""
        self.picture, self.theme = picture, theme
        self.index = None
        self.map.show(picture, theme)
        self.profile.show(picture, theme)
        self.legend.setText(self.map.legend())
        self.readout.setText(picture.missing if picture else "")
        if picture is not None and picture.way is not None:
            self.point_at(self._first_index(picture))

    def _first_index(self, picture: Picture) -> int:
        """Return the lowest fix of the finding, else the launch."""
        way = picture.way
        if way is None:
            return 0
        if picture.span_s is None:
            return way.launch or 0
        start, end = picture.span_s
        inside = np.flatnonzero((way.time_s >= start) & (way.time_s <= end))
        heights = way.height_m[inside]
        if not len(inside) or not np.isfinite(heights).any():
            return way.nearest(start)
        return int(inside[np.nanargmin(heights)])

    def point_at(self, index: int) -> None:
        """Put the cursor of both on a fix, and say what was there."""
        picture = self.picture
        if picture is None or picture.way is None:
            return
        self.index = min(max(index, 0), len(picture.way.time_s) - 1)
        self.map.point_at(self.index)
        self.profile.point_at(self.index)
        self.readout.setText(self._words(picture, self.index))

    @staticmethod
    def _words(picture: Picture, index: int) -> str:
        way = picture.way
        if way is None:
            return ""
        units = "imperial" if picture.imperial else "metric"
        parts = [picture.clock(float(way.time_s[index]))]
        height = float(way.height_m[index])
        if np.isfinite(height):
            sigma = show_height(float(way.sigma_m[index]), units)
            parts.append(
                f"{show_height(height, units)} above the ground ± {sigma} (two in three)"
            )
        else:
            parts.append("height not known")
        for target in picture.targets[:1]:
            away = np.hypot(
                way.east_m[index] - target.east_m, way.north_m[index] - target.north_m
            )
            parts.append(f"{show_length(float(away), units, 0)} from {target.name}")
        if not way.anchored:
            parts.append("the log shows no time on the ground: heights are estimates")
        return " · ".join(parts)

    def _on_map(self, position: QPointF) -> None:
        self._follow(self.map.index_under(position))

    def _on_profile(self, position: QPointF) -> None:
        self._follow(self.profile.index_under(position))

    def _follow(self, index: int | None) -> None:
        if index is not None and index != self.index:
            self.point_at(index)

    def _both(self, name: str, *arguments: float) -> None:
        for plot in (self.map, self.profile):
            getattr(plot, name)(*arguments)

    def _move(self, by: int) -> None:
        self.point_at((self.index or 0) + by)

    def _key(self, key: int) -> Callable[[], None] | None:
        return {
            int(Qt.Key.Key_Left): lambda: self._move(-1),
            int(Qt.Key.Key_Right): lambda: self._move(1),
            int(Qt.Key.Key_PageUp): lambda: self._move(-FAR),
            int(Qt.Key.Key_PageDown): lambda: self._move(FAR),
            int(Qt.Key.Key_Plus): lambda: self._both("zoom", ZOOM),
            int(Qt.Key.Key_Minus): lambda: self._both("zoom", 1 / ZOOM),
            int(Qt.Key.Key_F): lambda: self._both("fit"),
            int(Qt.Key.Key_R): lambda: self._both("focus"),
        }.get(key)

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the keys of the plots."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            act = self._key(event.key())
            if act is not None and not event.modifiers() & (
                Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
            ):
                act()
                return True
        return super().eventFilter(watched, event)
