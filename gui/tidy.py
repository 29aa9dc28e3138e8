"""Garbage is collected in the window's thread alone.

Python collects cycles in whatever thread happens to allocate; a widget that is freed in a
worker's thread ends the program.  While this runs, only its timer collects, by Python's own
thresholds.
"""

import gc

from PySide6.QtCore import QObject, QTimer

EVERY_MS = 250


class Tidy(QObject):
    """Collects from the event loop, until it is stopped."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._timer = QTimer(self, interval=EVERY_MS)
        self._timer.timeout.connect(self.collect)

    def start(self) -> None:
        """Keep Python from collecting by itself."""
        gc.disable()
        self._timer.start()

    def stop(self) -> None:
        """Let Python collect by itself again."""
        self._timer.stop()
        gc.enable()

    def collect(self) -> None:
        """Collect as many generations as have come of age."""
        due = [
            n > most for n, most in zip(gc.get_count(), gc.get_threshold(), strict=True)
        ]
        if any(due):
            gc.collect(max(age for age, ripe in enumerate(due) if ripe))
