"""Go to a pilot, a page or a command: type words, choose, Enter."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any, NamedTuple

from PySide6.QtCore import QAbstractListModel, QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QListView,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from gui.actions import Actions
from gui.keys import Key, cap
from gui.models.table import ROOT, Index
from gui.parts.line import Line
from gui.style import LOOK
from gui.widgets import label

MOVES = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
WAYS = "Enter goes there; Esc closes the list."
MOST_SHOWN = 60
FIND_WIDTH, HELP_WIDTH = 760, 1100


class Destination(NamedTuple):
    """Something to go to: how it reads, and what going there does."""

    text: str
    give: Callable[[], object]
    tip: str = ""
    ready: bool = True
    number: int | None = None
    """A pilot's: a number typed finds just this one first."""
    name: str = ""
    """What it is called, where more stands in the text: found before what that says."""
    elsewhere: bool = False
    """A command of a page that is not in front: found after all else."""


def goals_of(groups: Sequence[Actions]) -> list[Destination]:
    """Return all commands, those of the page in front first."""
    goals = []
    for group in groups:
        for name, action in group.all.items():
            spec = group.specs[name]
            text = plain_text(spec.text).rstrip("…")
            key = f"   {cap(spec.key)}" if spec.key else ""
            line = f"{text}{key}   {spec.tip}  ({group.where})"
            goals.append(
                Destination(
                    line,
                    action.trigger,
                    action.toolTip(),
                    action.isEnabled(),
                    name=text,
                )
            )
    return goals


def goals_at(
    groups: Mapping[str, Actions], give: Callable[[str, str], object]
) -> list[Destination]:
    """Return the commands of other pages, by name of the page: `give` goes there first.

    Left out is what only means something where one sees it: digits, and Esc.
    """
    return [
        goal._replace(give=partial(give, page, ident), ready=True, elsewhere=True)
        for page, group in groups.items()
        for ident, goal in zip(group.all, goals_of([group]), strict=True)
        if group.specs[ident].gives is None and group.specs[ident].key != Key.OUT
    ]


class Goals(QAbstractListModel):
    """What is found, as Qt asks for it: no item is made and freed with each letter.

    Clearing a list of items while somebody typed has ended the program.
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.found: Sequence[Destination] = ()

    def show(self, found: Sequence[Destination]) -> None:
        """List other ones."""
        self.beginResetModel()
        self.found = tuple(found)
        self.endResetModel()

    # Qt's interface: Qt's names.

    def rowCount(self, parent: Index = ROOT) -> int:
        """Return how many there are."""
        return 0 if parent.isValid() else len(self.found)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return how one reads, or its tip."""
        if not index.isValid():
            return None
        goal = self.found[index.row()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return goal.tip
        return goal.text if role == Qt.ItemDataRole.DisplayRole else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Let what is not ready be read, and not chosen."""
        ready = index.isValid() and self.found[index.row()].ready
        return super().flags(index) if ready else Qt.ItemFlag.NoItemFlags


class Finder(QDialog):
    """Type words, choose, Enter."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._parent = parent
        self.setWindowTitle("Go to")
        self.words = Line(hint="pilot, page or command")
        self.words.setAccessibleName("Pilot, page or command")
        self.words.textChanged.connect(self._narrow)
        self.words.installEventFilter(self)
        self.list, self.goals = QListView(), Goals(self)
        self.list.setModel(self.goals)
        self.list.setObjectName("goals")
        self.list.setWordWrap(True)  # in a small window none is read by its beginning
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.setAccessibleName("Pilots, pages and commands")
        self.list.activated.connect(lambda _: self.give())
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.told = QTextBrowser()
        self.told.setAccessibleName("What the manual says of this page")
        self.told.setTabChangesFocus(True)
        both = QHBoxLayout()
        both.addWidget(self.list, 1)
        both.addWidget(self.told, 1)
        layout = QVBoxLayout(self)
        layout.addWidget(self.words)
        layout.addLayout(both, 1)
        self.ways = label(WAYS, "second", wrap=True)
        layout.addWidget(self.ways)
        self._goals: list[Destination] = []

    def show_goals(self, goals: Sequence[Destination], told: str = "") -> None:
        """List what can be gone to, beside what the manual tells (Markdown)."""
        self._goals = list(goals)
        self.told.setMarkdown(told)
        self.told.setVisible(bool(told))
        self.words.clear()
        self._narrow("")
        room = self._parent.size() * 0.9
        wide = LOOK.px(HELP_WIDTH if told else FIND_WIDTH)
        self.resize(min(wide, room.width()), min(LOOK.px(560), room.height()))
        self.words.setFocus()
        self.open()

    def renew(self, goals: Sequence[Destination]) -> None:
        """List what can be gone to by now, as the words that are typed find it."""
        if self.isVisible() and self.told.isHidden():
            self._goals = list(goals)
            self._narrow(self.words.text())

    def give(self) -> None:
        """Go to the chosen one."""
        goal = self.chosen
        self.accept()
        if goal is not None and goal.ready:
            goal.give()

    @property
    def chosen(self) -> Destination | None:
        """What Enter goes to."""
        row = self.list.currentIndex().row()
        return self.goals.found[row] if row >= 0 else None

    def _narrow(self, text: str) -> None:
        words = text.casefold().split()
        found = [goal for goal in self._goals if _holds(goal.text, words)]

        def far(goal: Destination) -> tuple[bool, bool]:
            return goal.elsewhere, not _holds(goal.name or goal.text, words)

        found.sort(key=far)
        if text.strip().isdigit():
            found.sort(key=lambda goal: goal.number != int(text))
        shown = found[:MOST_SHOWN]
        self.goals.show(shown)
        # What is meant and not ready is no reason to go where only a tip has the words.
        near = [goal for goal in shown if far(goal) == far(shown[0])]
        ready = (i for i, goal in enumerate(near) if goal.ready)
        self.list.setCurrentIndex(self.goals.index(next(ready, -1), 0))
        none = f"Nothing found for “{text.strip()}”. "
        self.ways.setText(WAYS if shown else f"{none}Fewer letters find more.")

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Move in the list and go there from the field."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in MOVES:
                self.list.keyPressEvent(event)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.give()
                return True
        return super().eventFilter(watched, event)


def _holds(text: str, words: Sequence[str]) -> bool:
    """Tell whether all words, without capitals, stand in a text."""
    plain = text.casefold()
    return all(word in plain for word in words)


def plain_text(text: str) -> str:
    """Take the marks of shortcuts out; two of them stand for the sign itself."""
    return "&".join(part.replace("&", "") for part in text.split("&&"))
