"""The bar under a page's heading that asks why something is reverted or taken out.

It stands in the page, not in a box before it: the row that it is about stays in sight, and
a reason half typed comes back after a crash when the same thing is asked about again.
"""

from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QWidget
from shiboken6 import isValid

from gui.flow import FirmColumn
from gui.keys import Key
from gui.parts.capbutton import CapButton
from gui.parts.kept import Kept
from gui.parts.keycap import hint_row
from gui.parts.scrolled import show_whole
from gui.session import Session
from gui.theme import COLUMNS, INSIDE
from gui.widgets import field, label, say_or_hide
from scorer.words.voice import Voice


class WhyBar(QFrame):
    """The question, the reason, one button; Esc drops what was typed."""

    def __init__(self, session: Session, page: str) -> None:
        super().__init__()
        self.setObjectName("actBar")
        self.question = label(look="strong", wrap=True)
        self.why = field("Why, in words", changed=lambda _: self._say_nothing())
        self.fault = label(look="bad", wrap=True)
        self.button = CapButton("Record", Key.GO_ON, look="main")
        self._done: Callable[[str], object] | None = None
        self._about = ""
        self._before: QWidget | None = None
        self._kept = Kept(session, f"why {page}", {"why": self.why})
        session.closed.connect(self.leave)
        self.why.returnPressed.connect(self.submit)
        self.button.clicked.connect(self.submit)
        whole, line = FirmColumn(self), QHBoxLayout()
        whole.setContentsMargins(COLUMNS, INSIDE + 4, COLUMNS, INSIDE + 4)
        whole.setSpacing(INSIDE)
        line.setSpacing(COLUMNS)
        line.addWidget(self.why, 1)
        line.addWidget(hint_row((Key.OUT, "drop")))
        line.addWidget(self.button)
        whole.addWidget(self.question)
        whole.addLayout(line)
        whole.addWidget(self.fault)
        self.fault.hide()
        self.hide()

    def ask(self, question: str, about: str, done: Callable[[str], object]) -> None:
        """Ask; `done` gets the reason, which is never empty.

        `about` names the thing in what is kept of a reason half typed.
        """
        if self._done is None:
            self._before = QApplication.focusWidget()
        if about != self._about:
            self.why.clear()
            self._kept.turn_to(about)
        self._done, self._about = done, about
        self.setAccessibleName(question)
        self.question.setText(question)
        self.show()
        show_whole(self)
        self.why.setFocus()

    def submit(self) -> None:
        """Hand over the reason, or say that there is none."""
        why, done = self.why.text().strip(), self._done
        if not why:
            say_or_hide(self.fault, Voice().word("why-wanted"), "bad")
        elif done is not None:
            done(why)
            self.drop()

    def drop(self) -> None:
        """Forget question and reason together."""
        self._kept.done()
        self.leave()

    def leave(self) -> None:
        """Ask no more; what was typed is kept."""
        self._done, self._about = None, ""
        self._kept.forget()
        self.why.clear()
        before, self._before = self._before, None
        if before is not None and isValid(before) and self.isVisible():
            before.setFocus()
        self.hide()

    def _say_nothing(self) -> None:
        say_or_hide(self.fault, "", "bad")

    # Qt's interface: Qt's names.

    def event(self, event: QEvent) -> bool:
        """Take Esc before the page's own command does."""
        asked = event.type() == QEvent.Type.ShortcutOverride
        if asked and isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Drop by Esc, wherever in the bar the keyboard is."""
        if event.key() == Qt.Key.Key_Escape:
            self.drop()
            return
        super().keyPressEvent(event)
