"""A field for one line of text, whatever is pasted into it.

What comes from a table or a letter holds tabs and ends of lines.  Qt shows them as blanks
and keeps them, so that a name would take two lines in lists, and two rows in files.
"""

import re

from PySide6.QtGui import QValidator
from PySide6.QtWidgets import QLineEdit

_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]+")


class InOneLine(QValidator):
    """Takes everything, and makes one blank of what ends lines or moves on."""

    def validate(self, text: str, at: int) -> tuple[QValidator.State, str, int]:
        """Return the text in one line, and where the cursor is then."""
        plain = _CONTROL.sub(" ", text)
        return QValidator.State.Acceptable, plain, at - (len(text) - len(plain))


class Line(QLineEdit):
    """A field for one line."""

    def __init__(self, text: str = "", *, hint: str = "") -> None:
        super().__init__(text)
        self.setPlaceholderText(hint)
        self.setValidator(InOneLine(self))
