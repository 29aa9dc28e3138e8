"""A watchdog on the window's own thread: how long it works from one turn to the next.

Counted is the processor's time of that one thread, so that waiting for a worker, for the
disk or for another program on a busy machine is not held against the window.  What other
programs do to the speed of the processor itself is measured with a piece of plain work,
done right after a turn that took long.
"""

import time
from dataclasses import dataclass, field

from PySide6.QtCore import QAbstractEventDispatcher
from PySide6.QtTest import QTest

LIMIT_S = 0.050
"""No turn takes longer, but where the look of everything changes."""
PLAIN_WORK_S = 0.003
"""What the plain work takes on the computer on which the limits were set, at rest."""
SLACK = 2.5
"""By how much a single turn on a busy machine is off at most, its pace known: drawing waits
for memory that other programs use, which the plain work does not."""


def plain_work_s():
    """Return what a fixed piece of work takes now: the least of three."""
    taken = []
    for _ in range(3):
        begun = time.thread_time()
        len(str([(n, str(n), {n: n}) for n in range(3000)]))
        taken.append(time.thread_time() - begun)
    return min(taken)


@dataclass
class Watchdog:
    """Turns that took too long, each with what was done last."""

    limit_s: float = LIMIT_S
    doing: str = "start"
    late: list = field(default_factory=list)
    longest_s: float = 0.0
    turns: int = 0
    _since: float = 0.0

    def watch(self, monkeypatch):
        """Begin; keys that a test gives are turns of their own."""
        dispatcher = QAbstractEventDispatcher.instance()
        dispatcher.awake.connect(self.tick)
        dispatcher.aboutToBlock.connect(self.tick)
        press = QTest.keyClick

        def one_turn(widget, key, *more):
            self.tick()
            self.doing = f"{key!r} in {widget.accessibleName() or widget.objectName()}"
            press(widget, key, *more)
            self.tick()

        def several(widget, text, *more):
            for letter in text:
                one_turn(widget, letter, *more)

        monkeypatch.setattr(QTest, "keyClick", one_turn)
        monkeypatch.setattr(QTest, "keyClicks", several)
        self._since = time.thread_time()

    def stop(self):
        """End, before the dispatcher serves other tests."""
        dispatcher = QAbstractEventDispatcher.instance()
        dispatcher.awake.disconnect(self.tick)
        dispatcher.aboutToBlock.disconnect(self.tick)

    def tick(self):
        """A turn ends here, and the next one begins."""
        took = time.thread_time() - self._since
        self.turns += 1
        if took > self.limit_s:
            pace = max(plain_work_s() / PLAIN_WORK_S, 1.0)
            if took > self.limit_s * pace * SLACK:
                self.late.append((self.doing, round(took * 1000), round(pace, 1)))
            took /= pace
        self.longest_s = max(self.longest_s, took)
        self._since = time.thread_time()
