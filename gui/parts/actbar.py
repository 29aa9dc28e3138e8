"""The bar in which something is decided: what, why, one sentence, one button.

A page writes `bar = ActBar("Decide the infringement")`, fills `bar.choices` (a
`ChoiceRow`), asks with `bar.ask_why(reasons, "In words…")`, says with `bar.say(sentence)`
what will be recorded, and hears `bar.recorded` and `bar.dropped`.  More fields stand in
`bar.reasons` before the reasons, or in `bar.low` before the sentence.  The bar keeps its
height whatever stands in it; `drop()` forgets decision and reason together.
"""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QWidget

from gui.flow import FirmColumn
from gui.keys import Key, numbered
from gui.models.decision import REASONS
from gui.parts.capbutton import CapButton
from gui.parts.choices import Choice, ChoiceRow
from gui.parts.keycap import hint_row
from gui.parts.line import Line
from gui.style import LOOK, follow
from gui.theme import COLUMNS, INSIDE
from gui.widgets import label, say

WORDS = "words"
"""The reason that is typed."""
ROW_EM = 80
"""Width of the bar, in widths of text, from which all reasons stand in one row."""
FOLDED = 2
"""Columns, and rows, of the reasons in a narrower bar."""


class ActBar(QFrame):
    """Choices, why, what will be recorded."""

    recorded = Signal()
    dropped = Signal()

    def __init__(self, name: str, record: str = "Record", key: str = Key.GO_ON) -> None:
        super().__init__()
        self.setObjectName("actBar")
        self.setAccessibleName(name)
        self.choices = ChoiceRow(name, even=True)
        self.whys = ChoiceRow("Why", caption="Why")
        self.words = Line()
        self.words.setAccessibleName("Why, in words")
        self.words.setPlaceholderText("say why: the pilot will read it")
        self.words.returnPressed.connect(self.recorded)
        self.sentence = label(look="strong", wrap=True)
        self.sentence.setAccessibleName("What will be recorded")
        self.button = CapButton(record, key, look="main")
        self.button.clicked.connect(self.recorded)
        self.esc = hint_row((Key.OUT, "drop"))
        whole = FirmColumn(self)
        whole.setContentsMargins(COLUMNS, INSIDE + 4, COLUMNS, INSIDE + 4)
        whole.setSpacing(INSIDE)
        whole.addWidget(self.choices)
        self.reasons, self.low = QHBoxLayout(), QHBoxLayout()
        self.reasons.setSpacing(INSIDE)
        self.reasons.addWidget(_keeps_room(self.whys), 0, Qt.AlignmentFlag.AlignTop)
        self.reasons.addWidget(self.words, 1)
        self.reasons.addStretch(0)
        whole.addLayout(self.reasons)
        self.low.setSpacing(COLUMNS)
        self.low.addWidget(self.sentence, 1)
        self.low.addWidget(self.esc)
        self.low.addWidget(self.button)
        whole.addLayout(self.low)
        self.whys.taken.connect(self._on_why)
        self.ask_why(("",) * REASONS, "")  # their room is kept from the start
        self.whys.hide()
        self.words.hide()
        follow(self._keep_height)

    def _keep_height(self) -> None:
        """Keep room for two lines of the sentence, which a field beside it makes of one."""
        two = 2 * LOOK.metrics(bold=True).lineSpacing()
        self.sentence.setMinimumHeight(two)

    @property
    def why(self) -> str:
        """The reason taken or typed; empty = none yet."""
        taken = self.whys.value
        return self.words.text().strip() if taken == WORDS else str(taken or "")

    def say(self, sentence: str, look: str = "strong") -> None:
        """Say what will be recorded, or what is missing."""
        say(self.sentence, sentence, look)

    def ask_why(self, reasons: Sequence[str], in_words: str) -> None:
        """Show reasons with their numbers; the next one is for words."""
        shown = [(why, why[:1].upper() + why[1:]) for why in reasons]
        self.whys.show_choices(
            [
                Choice(value, key, text)
                for key, (value, text) in numbered((*shown, (WORDS, in_words)))
            ]
        )
        self.whys.show()

    def go_on(self) -> None:
        """Show the reason that was being typed when the window was left."""
        if self.words.text():
            self.whys.take(WORDS)

    def drop(self) -> None:
        """Forget decision and reason together."""
        self.choices.drop()
        self.whys.drop()
        self.whys.hide()
        self.words.clear()
        self.words.hide()
        self.say("")
        self.dropped.emit()

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the reasons where one row has no room for them, shown or not."""
        super().resizeEvent(event)
        wide = LOOK.ems(self.width()) >= ROW_EM
        self.whys.fold(None if wide else FOLDED)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Record by Enter from any button of the bar."""
        typing = isinstance(self.focusWidget(), QLineEdit)
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and not typing:
            self.recorded.emit()
            return
        super().keyPressEvent(event)

    def _on_why(self, value: object) -> None:
        self.words.setVisible(value == WORDS)
        if value == WORDS:
            self.words.setFocus()


def _keeps_room(widget: QWidget) -> QWidget:
    """Return a widget whose room stays while it is hidden."""
    policy = widget.sizePolicy()
    policy.setRetainSizeWhenHidden(True)
    widget.setSizePolicy(policy)
    return widget
