"""Layouts: a sentence of words and fields on as many lines as needed; a firm column."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QLabel,
    QLayout,
    QLayoutItem,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

GAP, WORDS, LINE = 8, 4, 8
"""Beside a field, between words, and between lines, pixels."""


class Flow(QLayout):
    """Lays its widgets out as text runs, and asks for the height its width makes."""

    def __init__(self, parent: QWidget | None = None, *, squeeze: bool = False) -> None:
        super().__init__(parent)
        self._squeeze = squeeze
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    def _run(self, width: int, *, place: bool, left: int = 0, top: int = 0) -> int:
        """Go through all lines; return the height they take."""
        at, down, line = 0, 0, list[tuple[QLayoutItem, int, QSize]]()
        high = 0
        for item in [*(i for i in self._items if not i.isEmpty()), None]:
            size = item.sizeHint() if item is not None else QSize(0, 0)
            if line and item is not None and _word(item) and _word(line[-1][0]):
                at -= GAP - WORDS
            if self._squeeze and item is not None:
                size = _squeezed(item, size, width - at)
            if item is None or (at and at + size.width() > width):
                if place:
                    for one, x, own in line:
                        y = down + (high - own.height()) // 2
                        one.setGeometry(QRect(QPoint(left + x, top + y), own))
                down += high + LINE
                at, high, line = 0, 0, []
            if item is not None:
                own = QSize(min(size.width(), max(width, 40)), size.height())
                line.append((item, at, own))
                at += own.width() + GAP
                high = max(high, own.height())
        return max(down - LINE, 0)

    # Qt's interface: Qt's names.

    def addItem(self, item: QLayoutItem) -> None:
        """Take an item over."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many items there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return an item; None beyond the last."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Give an item away."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Ask for no more room than needed."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Say yes: narrower is higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height at a width."""
        return self._run(width, place=False)

    def setGeometry(self, rect: QRect) -> None:
        """Put everything into its place."""
        super().setGeometry(rect)
        self._run(rect.width(), place=True, left=rect.x(), top=rect.y())

    def sizeHint(self) -> QSize:
        """Return the least size: the lines take what width there is."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """Return the size of the widest single item."""
        wide = max((i.minimumSize().width() for i in self._items), default=0)
        high = max((i.minimumSize().height() for i in self._items), default=0)
        return QSize(wide, high)


def _word(item: QLayoutItem) -> bool:
    """Tell whether an item is a word of a sentence, not a field."""
    return isinstance(item.widget(), QLabel)


def _squeezed(item: QLayoutItem, size: QSize, room: int) -> QSize:
    """Let a field to type in give up to half of its width before it takes a line.

    One that is as wide as so many letters gives nothing.
    """
    least = max(size.width() // 2, item.minimumSize().width())
    if isinstance(item.widget(), QLineEdit) and least <= room:
        return QSize(min(size.width(), room), size.height())
    return size


class FirmColumn(QVBoxLayout):
    """A column that shrinks to its least height before anything in it is cut.

    A scroll area or another column asks a layout with wrapped texts for its height at a
    width, which is the wished one and not the least; what it then lacks it takes from all,
    buttons too.
    """

    # Qt's interface: Qt's names.

    def hasHeightForWidth(self) -> bool:
        """Say no, whatever is inside."""
        return False


class FlowRow(QWidget):
    """Buttons and fields in a row, on a second line where there is no room for one."""

    def __init__(self, *widgets: QWidget) -> None:
        super().__init__()
        self._flow = Flow(self, squeeze=True)
        for widget in widgets:
            self._flow.addWidget(widget)

    # Qt's interface: Qt's names.

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for the height that the width makes."""
        super().resizeEvent(event)
        self.setMinimumHeight(self._flow.heightForWidth(self.width()))


def drop(*widgets: QWidget) -> None:
    """Take widgets away for good, once what runs in them has come to its end.

    Nothing else deletes a widget: Qt itself would do so at once when another takes the
    place of one in an area or a stack, while a signal of it may still be on its way.
    """
    for widget in widgets:
        widget.hide()
        widget.deleteLater()


def clear(layout: QLayout) -> None:
    """Take everything out of a layout, and away."""
    while (item := layout.takeAt(0)) is not None:
        if (own := item.widget()) is not None:
            drop(own)
        elif (inside := item.layout()) is not None:
            clear(inside)
