"""Small widgets that all pages are put together from."""

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QLabel,
    QLayout,
    QLineEdit,
    QWidget,
)

from gui.parts.line import Line
from gui.parts.wrapped import Wrapped
from gui.style import LOOK, follow
from gui.theme import INSIDE

W = TypeVar("W", bound=QWidget)


def named(widget: W, look: str) -> W:
    """Give a widget the name by which the style sheet knows it."""
    widget.setObjectName(look)
    return widget


def label(text: str = "", look: str = "", *, wrap: bool = False) -> QLabel:
    """Return a label in one of the looks of the style sheet."""
    return Wrapped(text, look) if wrap else named(QLabel(text), look)


class ShortField(Line):
    """A field as wide as so many letters, which grows with the size of text."""

    def __init__(self, letters: int) -> None:
        super().__init__()
        self._letters = letters
        follow(self._fit)

    def _fit(self) -> None:
        letter = LOOK.metrics().averageCharWidth()
        self.setFixedWidth(letter * self._letters + 3 * LOOK.px(INSIDE))


def field(
    name: str,
    hint: str = "",
    *,
    changed: Callable[[str], object] | None = None,
    letters: int = 0,
) -> QLineEdit:
    """Return a field for a line of text; `changed` gets what stands in it.

    `letters`: as wide as so many; without it layouts give the width.
    """
    made = ShortField(letters) if letters else Line()
    made.setAccessibleName(name)
    made.setPlaceholderText(hint)
    if changed is not None:
        made.textChanged.connect(changed)
    return made


def choice(
    name: str, *options: tuple[str, object], changed: Callable[[], object] | None = None
) -> QComboBox:
    """Return a box to choose from: texts, and the value behind each."""
    made = QComboBox()
    made.setAccessibleName(name)
    for text, value in options:
        made.addItem(text, value)
    if changed is not None:
        made.currentIndexChanged.connect(lambda _: changed())
    return made


def choose(box: QComboBox, value: object) -> bool:
    """Choose a value in a box; tell whether it is there."""
    for i in range(box.count()):
        if box.itemData(i) == value:
            box.setCurrentIndex(i)
            return True
    return False


def refill(box: QComboBox, options: list[tuple[str, object]]) -> bool:
    """Put other options into a box, keeping the choice; tell whether they changed."""
    shown = [(box.itemText(i), box.itemData(i)) for i in range(box.count())]
    if shown == options:
        return False
    before = box.currentData()
    box.blockSignals(True)
    box.clear()
    for text, value in options:
        box.addItem(text, value)
    if not choose(box, before) and options:
        box.setCurrentIndex(0)
    box.blockSignals(False)
    return True


def caution(text: str) -> QLabel:
    """Return the caution that stands wherever heights are shown."""
    made = label(text, "caution", wrap=True)
    made.setAccessibleName("Caution")
    return made


def section(text: str) -> QLabel:
    """Return a heading inside a page."""
    return label(text, "section")


def say(told: QLabel, text: str, look: str = "") -> None:
    """Put a text into a label in one of the looks of the style sheet."""
    told.setText(text)
    if told.objectName() != look:
        told.setObjectName(look)
        told.style().unpolish(told)
        told.style().polish(told)


def say_or_hide(told: QLabel, text: str, look: str = "") -> None:
    """Put a text into a label that takes no room while it is empty."""
    say(told, text, look)
    told.setVisible(bool(text))


def form(*rows: tuple[str, QWidget]) -> QFormLayout:
    """Return a form; each field bears its label as accessible name."""
    layout = QFormLayout()
    layout.setLabelAlignment(Qt.AlignmentFlag.AlignRight)
    layout.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
    for text, widget in rows:
        if not widget.accessibleName():
            widget.setAccessibleName(text)
        tag = QLabel(text)
        tag.setBuddy(widget)
        layout.addRow(tag, widget)
    return layout


def held(layout: QLayout) -> QWidget:
    """Return a widget around a layout."""
    widget = QWidget()
    layout.setContentsMargins(0, 0, 0, 0)
    widget.setLayout(layout)
    return widget
