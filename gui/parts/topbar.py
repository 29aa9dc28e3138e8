"""The line above: event, task of the whole window, F2, connection, who is at this desk.

The window makes it; pages ask `self.session.task` for the task chosen here.
"""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QWidget

from gui.keys import Key, cap
from gui.parts.capbutton import CapButton
from gui.parts.oneline import OneLine
from gui.parts.signs import RowSign, SignLabel
from gui.style import LOOK, follow
from gui.theme import COLUMNS, INSIDE
from gui.widgets import choice, choose, refill, say


class TopBar(QWidget):
    """One line, the same on every page."""

    task_asked = Signal(object)  # a task's number, or None for all
    page_asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("top")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.event_name = OneLine("No event open", "eventName")
        self.event_name.setAccessibleName("Event")
        self.pages = choice("Page", changed=self._on_page)
        self.task = choice("Task", changed=self._on_task)
        self.task.setObjectName("taskChoice")
        for box in (self.pages, self.task):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.go = QPushButton()
        self.go.setObjectName("goTo")
        self.go.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.sign = SignLabel()
        self.link = OneLine(look="good")
        self.link.setAccessibleName("Connection")
        self.who = CapButton("", Key.OFFICIAL, look="plain")
        row = QHBoxLayout(self)
        row.setContentsMargins(COLUMNS + 4, INSIDE - 1, COLUMNS - 4, INSIDE - 1)
        row.setSpacing(COLUMNS)
        row.addWidget(self.event_name)
        row.addWidget(self.pages)
        row.addWidget(self.task)
        row.addStretch(1)
        row.addWidget(self.go)
        row.addWidget(self.sign)
        row.addSpacing(-INSIDE)
        row.addWidget(self.link)
        row.addWidget(self.who)
        for widget in (self.pages, self.task, self.who):
            widget.hide()
        self.narrow = self.small = False
        follow(self.fit)

    def fit(self) -> None:
        """Fit the words to the room."""
        words = "Go to" if self.narrow else "Pilot, page or command"
        self.go.setText(f"{words}    {cap(Key.GO_TO)}")
        least = LOOK.px(72 if self.narrow else 236)
        self.go.setMinimumWidth(max(least, self.go.sizeHint().width()))
        self.event_name.setVisible(not self.small)  # the window's title has it
        self.task.setMinimumWidth(LOOK.px(72))
        self.pages.setMinimumWidth(self.pages.sizeHint().width())
        most = 120 if self.small else 190 if self.narrow else 300
        self.task.setMaximumWidth(LOOK.px(most))
        quiet = self.narrow and self.link.objectName() == "good"
        for told in (self.sign, self.link):
            told.setVisible(bool(self.link.text()) and not quiet)

    def show_tasks(self, tasks: list[tuple[str, object]], now: object) -> None:
        """Show the tasks of the event, and which one is chosen."""
        self.task.blockSignals(True)
        refill(self.task, [("All tasks", None), *tasks])
        if not choose(self.task, now):
            self.task.setCurrentIndex(0)
        self.task.blockSignals(False)
        self.task.setVisible(bool(tasks))

    def show_pages(self, pages: list[tuple[str, object]], now: str, title: str) -> None:
        """Show the pages, where there is no room for the rail."""
        self.pages.blockSignals(True)
        refill(self.pages, pages)
        self.pages.setPlaceholderText(title)
        if not choose(self.pages, now):  # a page that has no place on the rail
            self.pages.setCurrentIndex(-1)
        self.pages.blockSignals(False)

    def step_task(self, step: int) -> None:
        """Choose the next task, or the one before."""
        at = self.task.currentIndex() + step
        if 0 <= at < self.task.count():
            self.task.setCurrentIndex(at)

    def say_link(self, text: str, look: str, tip: str = "") -> None:
        """Say how things stand with the database and the score."""
        say(self.link, text, look)
        signs = {"good": RowSign.DONE, "warn": RowSign.WAITS, "bad": RowSign.WAITS}
        self.sign.show_sign(signs.get(look, RowSign.NONE) if text else RowSign.NONE)
        self.link.setToolTip(tip or text)
        self.fit()

    def _on_task(self) -> None:
        self.task_asked.emit(self.task.currentData())

    def _on_page(self) -> None:
        if (name := self.pages.currentData()) is not None:
            self.page_asked.emit(str(name))
