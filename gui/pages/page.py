"""What all pages have: a title, a hint, commands, and the event they show."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from gui.actions import Actions, Spec
from gui.jobs import Jobs
from gui.session import Session
from gui.snapshot import Snapshot
from gui.theme import NOON, Theme
from gui.view import Table
from gui.widgets import caution, label
from scorer.words.catalogue import message

FULL_CAUTION = f"{message('caution', {})} {message('caution-low', {})}"
SHORT_CAUTION = (
    "Heights are computed afterwards, with stated uncertainty: evidence for a sport, not "
    "for navigation and no statement that a flight was lawful or safe. Aviation "
    "authority, waiver, director and safety officials come first."
)


class PageLayout(QVBoxLayout):
    """Lets a page shrink to its least height before it scrolls.

    A scroll area asks a layout with wrapped texts for its height at a width, which is
    the wished one and not the least.
    """

    # Qt's interface: Qt's names.

    def hasHeightForWidth(self) -> bool:
        """Say no, whatever is inside."""
        return False


class Page(QWidget):
    """One page of the window."""

    note = Signal(str)  # a line for the foot of the window
    choice = Signal()  # the chosen row changed
    name = ""
    title = ""
    key = ""
    """With Ctrl, brings the page to the front."""
    hint = ""
    specs: Sequence[Spec] = ()
    shows_heights = False

    def __init__(self, session: Session, jobs: Jobs) -> None:
        super().__init__()
        self.session = session
        self.jobs = jobs
        self.theme: Theme = NOON
        self.setObjectName(self.name)
        self.setAccessibleName(self.title)
        self.actions_ = Actions(self, self.specs, self.title)
        self.body = PageLayout(self)
        self.body.setContentsMargins(14, 10, 14, 10)
        self.body.setSpacing(8)
        head = QHBoxLayout()
        title = label(self.title, "title")
        head.addWidget(title)
        hint = label(self.hint, "hint")
        hint.setWordWrap(True)
        head.addWidget(hint, 1)
        self.body.addLayout(head)
        self.build()
        if self.shows_heights:
            self.body.addWidget(caution(SHORT_CAUTION))

    # What pages fill in.

    def build(self) -> None:
        """Make the widgets."""

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what stands in the event now."""

    def rescored(self) -> None:
        """Show new results."""

    def enter(self) -> None:
        """The page came to the front: put the keyboard where work begins."""

    @property
    def chosen(self) -> bool:
        """Tell whether a row is chosen."""
        return False

    # What pages use.

    @property
    def snapshot(self) -> Snapshot | None:
        """What stands in the event now."""
        return self.session.snapshot

    @property
    def tables(self) -> list[Table]:
        """All tables of the page."""
        return self.findChildren(Table)

    def set_theme(self, theme: Theme) -> None:
        """Take over colours."""
        self.theme = theme
        for table in self.tables:
            table.set_theme(theme)

    def button(self, name: str, *, main: bool = False) -> QPushButton:
        """Return a button for a command of this page."""
        action = self.actions_[name]
        spec = self.actions_.specs[name]
        key = f"  [{spec.key}]" if spec.key else ""
        button = QPushButton(f"{spec.text}{key}")
        if main:
            button.setObjectName("main")
        button.setAccessibleName(spec.text.replace("&", ""))
        button.setAutoDefault(False)
        button.clicked.connect(action.trigger)

        def follow() -> None:
            button.setEnabled(action.isEnabled())
            button.setToolTip(action.toolTip())

        action.changed.connect(follow)
        follow()
        return button

    def buttons(self, *names: str, main: str = "") -> QHBoxLayout:
        """Return a row of buttons."""
        row = QHBoxLayout()
        for name in names:
            row.addWidget(self.button(name, main=name == main))
        row.addStretch(1)
        return row


class ListPage(Page):
    """A page about the rows of one table; work begins in it."""

    table: Table

    def enter(self) -> None:
        """Go to the table."""
        self.table.setFocus()
        self.table.choose_first()

    @property
    def chosen(self) -> bool:
        """Tell whether a row is chosen."""
        return self.table.row is not None
