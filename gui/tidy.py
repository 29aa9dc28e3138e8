"""Garbage is collected in the window's thread alone, and so that nobody waits for it.

Python collects cycles in whatever thread happens to allocate; a widget that is freed in a
worker's thread ends the program.  While this runs, only its timer collects, by Python's own
thresholds.

An event of 275 pilots is a million objects, and going through all of them takes the window
half a second.  What has come of age, and what a worker hands over by the ten thousand, is
therefore set aside.  Most of it is freed without the collector once nothing names it; all
of it is gone through, when nobody has touched the desk for a while, only where twice as
much is set aside as an event took that was opened.
"""

import gc
import time

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtGui import QWindow

EVERY_MS = 250
IDLE_S = 20.0
"""So long nobody touches the desk before all of it is gone through."""
MANY = 20_000
"""So many new objects are an event that a worker handed over, not what a page made."""
GROWN = 2
"""So many times as much set aside as before is worth going through all of it."""
USUAL = 300_000
"""Objects of a window without an event, rounded up."""
TOUCHES = {
    QEvent.Type.KeyPress,
    QEvent.Type.MouseButtonPress,
    QEvent.Type.MouseMove,
    QEvent.Type.Wheel,
}


class Tidy(QObject):
    """Collects from the event loop, until it is stopped."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.idle_s = IDLE_S
        self._touched_s = time.monotonic()
        self._set_aside = False
        self._usual, self._learns = USUAL, False
        self._timer = QTimer(self, interval=EVERY_MS)
        self._timer.timeout.connect(self.collect)

    def start(self) -> None:
        """Keep Python from collecting by itself."""
        gc.disable()
        self._usual = USUAL
        self._timer.start()

    def stop(self) -> None:
        """Let Python collect by itself again."""
        self._timer.stop()
        gc.unfreeze()
        gc.enable()

    def watch(self, window: QWindow) -> None:
        """Know from now on when somebody touches a window."""
        window.installEventFilter(self)

    @property
    def untouched_s(self) -> float:
        """For how long nobody has touched a key or the mouse."""
        return time.monotonic() - self._touched_s

    def learn(self) -> None:
        """Take what there is for usual: an event was opened, all of it is used.

        It is counted in a turn of its own: that goes through all of it.
        """
        self._put_aside()
        self._learns = True

    def collect(self) -> None:
        """Collect what is young, little by little; all of it where nobody waits."""
        young, *_ = count = gc.get_count()
        due = [n > most for n, most in zip(count, gc.get_threshold(), strict=True)]
        if self._learns:
            self._usual, self._learns = max(USUAL, gc.get_freeze_count()), False
        if self._set_aside and self.untouched_s >= self.idle_s:
            held = gc.get_freeze_count()
            grown = held > GROWN * self._usual
            if grown:
                gc.unfreeze()
            gc.collect()
            self._put_aside()
            if grown:  # at once: what is set aside next is not usual
                self._usual = max(USUAL, gc.get_freeze_count())
            self._set_aside = False
        elif young > MANY:
            self._put_aside()
        elif due[1] or due[2]:
            many = len(gc.get_objects(generation=1)) > MANY
            if not many:
                gc.collect(1)
            if many or due[2]:
                self._put_aside()
        elif due[0]:
            gc.collect(0)

    def _put_aside(self) -> None:
        gc.freeze()
        self._set_aside = True

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Notice that somebody is at the desk."""
        del watched
        if event.type() in TOUCHES:
            self._touched_s = time.monotonic()
        return False
