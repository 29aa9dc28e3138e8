"""The hall board, as the desk rules it: open it on the second screen, light or dark."""

from collections.abc import Callable
from typing import cast

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QGuiApplication, QScreen
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gui.actions import Spec, needs
from gui.blind import hidden_in
from gui.hall_view import HallWindow
from gui.jobs import Jobs
from gui.keys import Key
from gui.models.hall import HallBoard, hall_board
from gui.pages.page import Page
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import DUSK, INSIDE, NOON, Theme
from gui.widgets import choice, field, held, label
from scorer.facts import fact
from scorer.ledger.publish import Read, read_once
from scorer.words.voice import Voice

OPEN = needs(Condition.EVENT)
MOVED_MS = 500
LOOKS = {theme.name: theme for theme in (DUSK, NOON)}


LEAST = (320, 180)
"""Size of the picture of the board, pixels: what shows it stays in sight beneath."""


class BoardPage(Page):
    """What the hall sees, small, and where it is shown."""

    name = "board"
    title = "Hall board"
    hint = "Shows what was published last, never a live score."
    foot_keys = ((Key.BOARD, "show on the second screen"),)
    specs = (
        Spec("show_hall", "Show the &board", Key.BOARD, "On the second screen", OPEN),
        Spec("close_hall", "&Close the board", Key.REMOVE, "Close its window", OPEN),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.hall = HallWindow()
        self.jobs_ = Jobs(self, "hall")
        self.jobs_.ended.connect(self._maybe)
        self._read: Read | None = None
        self._shown: tuple[object, ...] = ()
        self.small = HallWindow(self)
        self.small.setWindowFlags(Qt.WindowType.Widget)
        self.small.setMinimumSize(*LEAST)
        card = Card("What the hall sees")
        card.body.addWidget(self.small, 1)
        self.told = label(look="second", wrap=True)
        self.look = choice(
            "Look of the board",
            ("Dusk, for screens", DUSK.name),
            ("Noon, for projectors", NOON.name),
            changed=self._dress,
        )
        self.address = field(
            "Address of the pages",
            "address of the pages on the web: the code leads there",
        )
        self.address.editingFinished.connect(self._keep_address)
        self.open_ = CapButton("Show on the second screen", Key.BOARD, look="main")
        self.open_.clicked.connect(self.show_hall)
        row = QHBoxLayout()
        row.setSpacing(INSIDE)
        row.addWidget(self.look)
        row.addWidget(self.address, 1)
        row.addWidget(self.open_)
        column = QVBoxLayout()
        column.addWidget(card, 1)
        column.addWidget(self.told)
        column.addLayout(row)
        self.body.addWidget(held(column), 1)
        self.session.changed.connect(self._maybe)
        self.session.connection.connect(self._on_connection)
        self._each(lambda hall: hall.set_theme(LOOKS[DUSK.name]))
        self._waits = False
        """The board is to be shown again once there is a second screen."""
        app = cast("QGuiApplication", QGuiApplication.instance())
        for changed in (app.screenRemoved, app.screenAdded):
            # once Qt has moved the windows of a screen that went
            changed.connect(lambda _: QTimer.singleShot(MOVED_MS, self, self._moved))

    @property
    def panes(self) -> tuple[QWidget, ...]:
        """Look, address, button."""
        return self.look, self.address, self.open_

    def enter(self) -> None:
        """Go to the button."""
        self.open_.setFocus()
        self._maybe()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what was published last."""
        if snapshot is not None:
            self.address.setText(self._kept())
            self._each(lambda hall: hall.set_address(self.address.text()))
        self._maybe()

    def set_theme(self, theme: Theme) -> None:
        """Leave the board as it is: it has a look of its own."""
        self.theme = theme

    def _each(self, do: Callable[[HallWindow], object]) -> None:
        for hall in (self.hall, self.small):
            do(hall)

    def forget(self) -> None:
        """The event is closed: nothing is shown to the hall."""
        super().forget()
        self._read, self._shown = None, ()
        self.close_hall()

    # What is published, read in a worker.

    def _maybe(self) -> None:
        snapshot, ledger = self.session.snapshot, self.session.ledger
        if snapshot is None or ledger is None or self.jobs_.busy:
            return
        state = snapshot.state
        hidden = hidden_in(snapshot)
        key = tuple((p.entry.hash, p.withdrawn) for p in state.publications)
        if (self.session.target, key, hidden) == self._shown:
            return
        self._shown = self.session.target, key, hidden
        if self._read is None:
            self._read = read_once(ledger)
        read = self._read
        voice, event = Voice.of(snapshot.event), snapshot.event.name
        self.jobs_.start(
            lambda _: hall_board(state, read, voice, event, hidden), done=self._on_board
        )

    def _on_board(self, board: object) -> None:
        if isinstance(board, HallBoard) and self.session.ledger is not None:
            self._each(lambda hall: hall.show_board(board))
            said = f"{board.title}. {board.stage_word} {board.when}".strip()
            self.told.setText(said)

    def _on_connection(self, problem: str) -> None:
        ledger, snapshot = self.session.ledger, self.session.snapshot
        if not problem or ledger is None or snapshot is None:
            self._each(lambda hall: hall.set_away(""))
        elif not self.hall.away and (away := self.session.away) is not None:
            since = away.as_of.astimezone(snapshot.state.zone)
            self._each(lambda hall: hall.set_away(f"{since:%H:%M}"))

    # Commands.

    def show_hall(self) -> None:
        """Open the board, on a second screen where there is one."""
        self._waits = False
        other = self._other
        if other is not None:
            self.hall.setGeometry(other.geometry())
            self.hall.showFullScreen()
        else:
            self.hall.showNormal()
            self.hall.resize(1280, 720)
        self.window().activateWindow()
        self.tell(fact("hall-shown"))

    def close_hall(self) -> None:
        """Close the board's window."""
        self._waits = False
        self.hall.close()

    @property
    def _other(self) -> QScreen | None:
        """Return a screen on which the desk is not; None = there is none."""
        own = self.screen()
        return next((s for s in QGuiApplication.screens() if s is not own), None)

    @property
    def _covers(self) -> bool:
        """Tell whether the board lies over the desk."""
        hall = self.hall
        over = hall.screen() is self.screen()
        return over and hall.isVisible() and hall.isFullScreen()

    def _moved(self) -> None:
        """Where screens came or went, keep the board off the desk's own."""
        if self._waits and self._other is not None:
            self.show_hall()
        elif self._covers:
            self.hall.hide()
            self._waits = True
            self.tell(fact("hall-screen-gone"))
            self._moved()  # the desk may have come to the board's

    def _dress(self) -> None:
        theme = LOOKS[str(self.look.currentData())]
        self._each(lambda hall: hall.set_theme(theme))

    def _kept(self) -> str:
        return self.session.home.settings.text("pages", "")

    def _keep_address(self) -> None:
        text = self.address.text().strip()
        self.session.home.settings.set_text("pages", text)
        self._each(lambda hall: hall.set_address(text))
