"""A field for one line of text, whatever is pasted into it.

What comes from a table or a letter holds tabs and ends of lines.  Qt shows them as blanks
and keeps them, so that a name would take two lines in lists, and two rows in files.
"""

import re

from PySide6.QtCore import QEvent
from PySide6.QtGui import QResizeEvent, QValidator
from PySide6.QtWidgets import QLineEdit, QStyle, QStyleOptionFrame

EDGE = 4
"""What Qt leaves free beside the text of a field, at both sides."""
_BREAK = re.compile(r"; |: |, as ")
"""Where a hint may end."""
_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]+")


class InOneLine(QValidator):
    """Takes everything, and makes one blank of what ends lines or moves on."""

    def validate(self, text: str, at: int) -> tuple[QValidator.State, str, int]:
        """Return the text in one line, and where the cursor is then."""
        plain = _CONTROL.sub(" ", text)
        return QValidator.State.Acceptable, plain, at - (len(text) - len(plain))


class Line(QLineEdit):
    """A field for one line.

    Its hint is never cut: where there is no room for all of it, the part before a colon
    or the like stands there, else nothing; all of it is read when the mouse rests on it.
    """

    def __init__(self, text: str = "", *, hint: str = "") -> None:
        super().__init__(text)
        self.hint = ""
        """What the field says while it is empty, where there is room."""
        self.setPlaceholderText(hint)
        self.setValidator(InOneLine(self))

    def _fit_hint(self) -> None:
        option = QStyleOptionFrame()
        self.initStyleOption(option)
        part = QStyle.SubElement.SE_LineEditContents
        room = self.style().subElementRect(part, option, self).width() - EDGE
        parts = _BREAK.split(self.hint)
        told = (
            self.hint,
            *(first_of(self.hint, n) for n in range(len(parts) - 1, 0, -1)),
        )
        wide = self.fontMetrics().horizontalAdvance
        fits = next((text for text in told if wide(text) <= room), "")
        if fits != self.placeholderText():
            super().setPlaceholderText(fits)
        if self.toolTip() in {"", self.hint}:
            self.setToolTip("" if fits == self.hint else self.hint)

    # Qt's interface: Qt's names.

    def setPlaceholderText(self, text: str) -> None:
        """Say something else while it is empty."""
        if self.toolTip() == self.hint:
            self.setToolTip("")
        self.hint = text
        super().setPlaceholderText(text)
        self._fit_hint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say as much as there is room for."""
        super().resizeEvent(event)
        self._fit_hint()

    def changeEvent(self, event: QEvent) -> None:
        """Do so with other letters, too."""
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self._fit_hint()


def first_of(hint: str, parts: int) -> str:
    """Return so many parts of a hint, from its beginning."""
    ends = [found.start() for found in _BREAK.finditer(hint)]
    return hint[: ends[parts - 1]]
