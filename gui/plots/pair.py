"""Map and profile beside each other, with one cursor on both."""

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QEvent, QObject, QPointF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from gui.plots.map import MapPlot
from gui.plots.picture import Picture, alike
from gui.plots.profile import PacePlot, ProfilePlot
from gui.theme import BETWEEN, NOON, Theme
from gui.widgets import label, say_or_hide
from scorer.facts import fact, height, moment

ZOOM = 0.7
NEXT_MS = 30
"""From the map to the heights: with less between, Qt draws both in one turn."""
FAR = 20
"""Fixes that Page Up and Page Down go."""
BOTH_PX = 200
"""Lower than this there is room for one curve only."""


class Pair(QWidget):
    """Keys, when one of the two has the keyboard: arrows move and zoom, F shows all."""

    def __init__(self, *, side_by_side: bool = False) -> None:
        super().__init__()
        self.setAccessibleName("Map and height profile")
        self.map = MapPlot()
        self.profile = ProfilePlot()
        self.pace = PacePlot(self.profile)
        self.theme: Theme = NOON
        self.picture: Picture | None = None
        self.index: int | None = None
        self.whole = False
        self._pace_wanted = True
        way = Qt.Orientation.Horizontal if side_by_side else Qt.Orientation.Vertical
        self.right = QSplitter(Qt.Orientation.Vertical)
        self.right.addWidget(self.profile.widget)
        self.right.addWidget(self.pace.widget)
        self.right.setSizes([200, 110])
        self.split = QSplitter(way)
        self.split.addWidget(self.map.widget)
        self.split.addWidget(self.right)
        self.split.setSizes([300, 300] if side_by_side else [300, 200])
        for split in (self.split, self.right):
            split.setChildrenCollapsible(False)
            split.setHandleWidth(1)
            split.setStretchFactor(0, 1)
            split.setStretchFactor(1, 1)
        self.readout = label(look="muted")
        self.readout.setContentsMargins(BETWEEN, 0, BETWEEN, 0)
        self.readout.setAccessibleName("What was there")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.split, 1)
        layout.addWidget(self.readout)
        self.map.widget.scene().sigMouseMoved.connect(self._on_map)
        self.profile.widget.scene().sigMouseMoved.connect(self._on_profile)
        for plot in (self.map.widget, self.profile.widget):
            plot.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            plot.setMinimumSize(120, 90)
            plot.installEventFilter(self)
        self.pace.widget.setMinimumHeight(70)
        for empty in (self.map, self.profile, self.pace):
            empty.show(None, self.theme)
        say_or_hide(self.readout, "", "muted")

    def show_picture(self, picture: Picture | None, theme: Theme) -> None:
        """Draw a picture in the colours of a look; None empties both.

        One that shows what stands there stays as it is, with what was looked at in it.
        """
        if theme is self.theme and alike(picture, self.picture):
            return
        drawn = self.profile.picture is not None or theme is not self.theme
        self.picture, self.theme = picture, theme
        self.index, self.whole = None, False
        if drawn:
            self.profile.show(None, theme)
            self.pace.empty(theme)
        self.map.show(picture, theme)
        bare = picture is not None and picture.heights is None
        self.right.setVisible(not bare)
        if picture is not None:
            # Once the map is drawn: neither keeps the window from hearing keys.
            QTimer.singleShot(NEXT_MS, self, lambda: self._show_heights(picture))
        say_or_hide(self.readout, picture.missing if picture else "", "muted")

    def show_pace(self, *, wanted: bool) -> None:
        """Show drift and vertical speed beneath the heights, or leave them out."""
        self._pace_wanted = wanted
        self._fit_pace()

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the second curve out where the first needs the height."""
        super().resizeEvent(event)
        self._fit_pace()

    def _fit_pace(self) -> None:
        wanted = self._pace_wanted and self.height() >= BOTH_PX
        if wanted != self.pace.wanted:
            self.pace.wanted = wanted
            self.pace.show(self.picture, self.theme)

    def _show_heights(self, picture: Picture) -> None:
        if picture is self.picture:
            self.profile.show(picture, self.theme)
            self.pace.show(picture, self.theme)

    def toggle_whole(self) -> None:
        """Show the whole flight, or what matters again."""
        self.whole = not self.whole
        self._both("fit" if self.whole else "focus")

    def _first_index(self, picture: Picture) -> int:
        """Return the fix of the worst moment, else the launch."""
        way = picture.way
        if way is None:
            return 0
        if picture.heights is not None and picture.heights.worst is not None:
            return way.nearest(picture.heights.worst[0])
        if picture.span_s is not None:
            return way.nearest(picture.span_s[0])
        return way.launch or 0

    def point_at(self, index: int) -> None:
        """Put the cursor of both on a fix, and say what was there."""
        picture = self.picture
        if picture is None or picture.way is None:
            return
        self.index = min(max(index, 0), len(picture.way.time_s) - 1)
        self.map.point_at(self.index)
        self.profile.point_at(self.index)
        say_or_hide(self.readout, words_at(picture, self.index), "muted")

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
        if self.picture is not None:
            start = (
                self._first_index(self.picture) if self.index is None else self.index
            )
            self.point_at(start + (by if self.index is not None else 0))

    def _key(self, key: int) -> Callable[[], None] | None:
        return {
            int(Qt.Key.Key_Left): lambda: self._move(-1),
            int(Qt.Key.Key_Right): lambda: self._move(1),
            int(Qt.Key.Key_PageUp): lambda: self._move(-FAR),
            int(Qt.Key.Key_PageDown): lambda: self._move(FAR),
            int(Qt.Key.Key_Up): lambda: self._both("zoom", ZOOM),
            int(Qt.Key.Key_Down): lambda: self._both("zoom", 1 / ZOOM),
            int(Qt.Key.Key_F): self.toggle_whole,
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


def words_at(picture: Picture, index: int) -> str:
    """Say when a fix was and how high the basket was there."""
    heights, way = picture.heights, picture.way
    if way is None:
        return ""
    when = moment(float(way.time_s[index]))
    level = np.nan if heights is None else heights.level_m[index]
    if heights is None or not np.isfinite(level):
        return picture.voice.say(fact("readout-unknown", when=when))
    values = {
        "when": when,
        "height": height(float(level)),
        "give_or_take": height(float(heights.sigma_m[index])),
    }
    if heights.estimate:
        return picture.voice.say(fact("readout-estimate", **values))
    return picture.voice.say(fact("readout-height", **values))
