"""Key caps: which key does what, beside the thing it does.

A page writes `hint_row((Key.ACCEPT, "accept as it is"), (Key.NOTE, "note"))` at the right
of its heading.  Caps are painted, not labels: assistive tools read the key from the
accessible description of the button or list that it works on.
"""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from gui.keys import cap
from gui.style import LOOK, follow
from gui.theme import BETWEEN, COLUMNS, INSIDE, Type
from gui.widgets import label


class KeyCap(QWidget):
    """One key, or several in one cap."""

    def __init__(self, *keys: str, filled: bool = False) -> None:
        super().__init__()
        self.text = " ".join(cap(key) for key in keys)
        self.filled = filled
        """On a button in the accent colour."""
        self.on = False
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        follow(self._fit)

    def set_on(self, *, on: bool) -> None:
        """Show it as the one that was pressed."""
        self.on = on
        self.update()

    def _fit(self) -> None:
        metrics = LOOK.metrics(Type.CAPTION, bold=True)
        wide = metrics.horizontalAdvance(self.text) + LOOK.px(BETWEEN)
        self.setFixedSize(QSize(max(wide, LOOK.px(20)), metrics.height() + 3))

    # Qt's interface: Qt's names.

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it: a box whose lower edge is thicker."""
        del event
        theme, painter = LOOK.theme, QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = theme.accent_text if self.filled else theme.edge
        ground = theme.accent if self.filled or self.on else theme.panel
        ink = theme.accent_text if self.filled or self.on else theme.text
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(QPen(QColor(theme.accent if self.on else edge), 1))
        painter.setBrush(QColor(ground))
        painter.drawRoundedRect(box, 3, 3)
        if not self.filled and not self.on:
            low = box.bottom() - 0.5
            painter.drawLine(
                int(box.left()) + 2, int(low), int(box.right()) - 1, int(low)
            )
        painter.setPen(QColor(ink))
        painter.setFont(LOOK.font(Type.CAPTION, bold=True))
        painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), self.text)


def hint_row(*hints: tuple[str | Sequence[str], str]) -> QWidget:
    """Return keys with what they do, in a row."""
    row = QHBoxLayout()
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(INSIDE)
    for i, (keys, words) in enumerate(hints):
        if i:
            row.addSpacing(COLUMNS - INSIDE)
        row.addWidget(KeyCap(*((keys,) if isinstance(keys, str) else keys)))
        row.addWidget(label(words, "second"))
    made = QWidget()
    made.setLayout(row)
    return made
