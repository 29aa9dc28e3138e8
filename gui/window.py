"""The main window: a rail of pages, a line above for the event, one below for work.

It only assembles; pages show, the session computes.
"""

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QMainWindow,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui import ask
from gui.actions import Actions, Spec, needs
from gui.finder import Finder
from gui.home import Home
from gui.jobs import Jobs
from gui.pages.page import Page
from gui.pages.registry import PAGES
from gui.pages.start import StartPage
from gui.session import Session
from gui.state import Fact, facts_of
from gui.theme import NOON, SIZES, THEMES, apply
from gui.widgets import label, named, say
from scorer.event.moments import zone_told

NOTE_MS = 12_000
RAIL_MARGIN = 14
SPECS = (
    Spec("find_command", "Find a &command…", "F1", "All commands and their keys"),
    Spec("next_theme", "&Light or dark", "F11", "Change between Noon and Dusk"),
    Spec("larger", "Lar&ger text", "Ctrl++", "Make all text larger"),
    Spec("smaller", "&Smaller text", "Ctrl+-", "Make all text smaller"),
    Spec(
        "change_official",
        "Change &official…",
        "F3",
        "Let somebody else take over this desk, as for the second person who enters marks",
        needs(Fact.EVENT),
    ),
    Spec("score_now", "Sco&re again", "F5", "Compute results anew", needs(Fact.EVENT)),
    Spec("send_again", "Send &waiting entries", "F6", "Try the database again"),
    Spec("cancel_job", "&Cancel job", "F8", "Stop the job below", needs(Fact.BUSY)),
    Spec("close_event", "Cl&ose event", "Ctrl+W", "Close the event", needs(Fact.EVENT)),
    Spec("close", "&Quit", "Ctrl+Q", "Close the window"),
)


class Window(QMainWindow):
    """Rail, pages, the two lines."""

    def __init__(self, home: Home) -> None:
        super().__init__()
        self.setWindowTitle("Sandtail")
        self.resize(QSize(1280, 800))
        self.home = home
        self.session = Session(self, home)
        self.jobs = Jobs(self)
        self.commands = Actions(self, SPECS, "everywhere")
        self.pages: list[Page] = [page(self.session, self.jobs) for page in PAGES]
        self.finder = Finder(self)
        self._closing = False
        self._build()
        self._wire()
        self._dress()
        self.show_page(0)

    # Assembling.

    def _build(self) -> None:
        self.rail = named(QListWidget(), "rail")
        self.rail.setAccessibleName("Pages")
        self.rail.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        off = Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.rail.setHorizontalScrollBarPolicy(off)
        self.stack = QStackedWidget()
        for page in self.pages:
            item = QListWidgetItem(f"{page.title}")
            item.setToolTip(f"{page.title} (Ctrl+{page.key})")
            self.rail.addItem(item)
            self.stack.addWidget(_scrolled(page))
        self.page_actions = Actions(self, self._page_specs(), "everywhere")
        middle = QHBoxLayout()
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addWidget(self.rail)
        middle.addWidget(self.stack, 1)
        whole = QVBoxLayout()
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._top())
        whole.addLayout(middle, 1)
        whole.addWidget(self._bottom())
        centre = QWidget()
        centre.setLayout(whole)
        self.setCentralWidget(centre)

    def _page_specs(self) -> list[Spec]:
        specs = []
        for i, page in enumerate(self.pages):
            name, title = f"go_{page.name}", page.title.replace("&", "&&")
            setattr(self, name, lambda i=i: self.show_page(i))
            specs.append(Spec(name, f"Page {title}", f"Ctrl+{page.key}", page.hint))
        return specs

    def _top(self) -> QWidget:
        self.event_name = label("No event open", "eventName")
        self.desk = label(look="muted")
        self.score_state = label(look="muted")
        self.link = QLabel()
        for told, name in (
            (self.event_name, "Event"),
            (self.desk, "Official and desk"),
            (self.score_state, "State of the score"),
            (self.link, "Connection"),
        ):
            told.setAccessibleName(name)
        self.search = QPushButton("Commands  [F1]")
        self.search.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.search.clicked.connect(self.find_command)
        row = QHBoxLayout()
        row.setContentsMargins(14, 6, 14, 6)
        row.setSpacing(18)
        row.addWidget(self.event_name)
        row.addWidget(self.desk)
        row.addStretch(1)
        row.addWidget(self.link)
        row.addWidget(self.score_state)
        row.addWidget(self.search)
        top = named(QWidget(), "top")
        top.setLayout(row)
        return top

    def _bottom(self) -> QWidget:
        self.note = label(look="note")
        self.note.setAccessibleName("Last message")
        self.note.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.note.setWordWrap(True)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress of the job")
        self.bar.setMaximumWidth(380)
        self.bar.setMinimumWidth(240)
        self.stop = QPushButton("Cancel  [F8]")
        self.stop.clicked.connect(self.cancel_job)
        row = QHBoxLayout()
        row.setContentsMargins(14, 3, 14, 3)
        row.addWidget(self.note, 1)
        row.addWidget(self.bar)
        row.addWidget(self.stop)
        bottom = named(QWidget(), "bottom")
        bottom.setLayout(row)
        self.bar.hide()
        self.stop.hide()
        self._note_timer = QTimer(self, interval=NOTE_MS, singleShot=True)
        self._note_timer.timeout.connect(lambda: say(self.note, "", "note"))
        return bottom

    def _wire(self) -> None:
        self.rail.currentRowChanged.connect(self.show_page)
        session, jobs = self.session, self.jobs
        session.opened.connect(self._on_opened)
        session.closed.connect(self._on_closed)
        session.changed.connect(self._on_changed)
        session.scored.connect(self._on_scored)
        session.scoring.connect(lambda _: self._tell())
        session.waiting.connect(lambda *_: self._tell())
        session.connection.connect(lambda _: self._tell())
        session.refused.connect(lambda text: self.tell(text, "bad"))
        session.shelf.problem.connect(lambda text: self.tell(text, "bad"))
        session.crashed.connect(self._on_crash)
        jobs.started.connect(self._on_started)
        jobs.progress.connect(self._on_progress)
        jobs.refused.connect(lambda text: self.tell(text, "bad"))
        jobs.crashed.connect(self._on_crash)
        jobs.stopped.connect(lambda: self.tell("stopped; nothing half done was kept"))
        jobs.ended.connect(self._on_ended)
        for page in self.pages:
            page.note.connect(self.tell)
            page.choice.connect(self._enable)

    # What is shown.

    @property
    def page(self) -> Page:
        """The page in front."""
        return self.pages[self.stack.currentIndex()]

    def show_page(self, index: int) -> None:
        """Bring a page to the front."""
        if index < 0:
            return
        self.stack.setCurrentIndex(index)
        if self.rail.currentRow() != index:
            self.rail.setCurrentRow(index)
        page = self.pages[index]
        page.refresh(self.session.snapshot)
        page.rescored()
        page.enter()
        self._enable()

    def page_named(self, name: str) -> Page:
        """Return a page by its name."""
        return next(page for page in self.pages if page.name == name)

    def tell(self, text: str, kind: str = "note") -> None:
        """Show a line at the foot of the window."""
        say(self.note, text, kind)
        self._note_timer.stop()
        if kind != "bad":
            self._note_timer.start()

    def _on_opened(self) -> None:
        self.tell("")
        self.show_page(self.pages.index(self.page_named("roster")))

    def _on_closed(self) -> None:
        if not self._closing:
            self._on_changed()
            self.show_page(0)

    def _on_changed(self) -> None:
        self.page.refresh(self.session.snapshot)
        self._tell()
        self._enable()

    def _on_scored(self) -> None:
        self.page.rescored()
        self._tell()
        self._enable()

    def _on_started(self, text: str) -> None:
        self.bar.setRange(0, 0)
        self.bar.setFormat(text)
        self.bar.show()
        self.stop.show()
        self._enable()

    def _on_progress(self, done: int, total: int, text: str) -> None:
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.bar.setFormat(f"{text}: {done} of {total}")

    def _on_ended(self) -> None:
        self.bar.hide()
        self.stop.hide()
        self._enable()

    def _on_crash(self, error: object) -> None:
        ask.crashed(
            self, error if isinstance(error, BaseException) else Exception(error)
        )

    def _tell(self) -> None:
        """Say in the line above what is open, who is here, and how things stand."""
        session, snapshot = self.session, self.session.snapshot
        if snapshot is None or session.ledger is None:
            self.setWindowTitle("Sandtail")
            self.event_name.setText("No event open")
            for told in (self.desk, self.score_state, self.link):
                told.setText("")
            return
        days = (flight.date for flight in snapshot.event.flights)
        zone = zone_told(snapshot.event.time_zone, days)
        self.setWindowTitle(f"{snapshot.event.name} – Sandtail – times of {zone}")
        self.event_name.setText(snapshot.event.name)
        self.desk.setText(f"{session.who} at {session.ledger.desk}")
        self.score_state.setText(self._score_words())
        problem = session.problem
        waiting = len(session.outbox.drafts) if session.outbox else 0
        why = session.outbox.problem if session.outbox else ""
        if waiting and why:
            say(self.link, f"{waiting} entries wait for the database [F6]", "bad")
        elif problem:
            say(self.link, "no connection; type on, nothing is lost", "bad")
        elif not session.writable:
            say(self.link, "read only", "warn")
        else:
            say(self.link, "connected" if not waiting else "writing …", "good")
        self.link.setToolTip(why or problem)

    def _score_words(self) -> str:
        scored = self.session.results
        if self.session.scorer.busy:
            return "scoring …"
        if scored is None:
            return "not scored yet"
        if scored.faults:
            return f"{len(scored.faults)} faults: not scored"
        return "results up to date" if self.session.up_to_date else "results older"

    def _enable(self) -> None:
        facts = facts_of(self.session, busy=self.jobs.busy, chosen=self.page.chosen)
        for actions in (self.commands, self.page_actions, self.page.actions_):
            actions.enable(facts)

    # Commands.

    def open_target(self, target: str, official: str = "") -> None:
        """Open an event by file, folder or address, as the command line names it."""
        start = self.page_named("start")
        if isinstance(start, StartPage):
            start.open_as(target, official)

    def find_command(self) -> None:
        """Show all commands with their keys, to search in and to give."""
        self._enable()
        groups = [self.page.actions_, self.commands, self.page_actions]
        self.finder.show_commands(groups)

    def next_theme(self) -> None:
        """Change between the light and the dark look."""
        names = list(THEMES)
        now = self.home.settings.text("theme", NOON.name)
        at = names.index(now) if now in names else 0
        self.home.settings.set_text("theme", names[(at + 1) % len(names)])
        self._dress()

    def larger(self) -> None:
        """Make all text one step larger."""
        self._set_size(1)

    def smaller(self) -> None:
        """Make all text one step smaller."""
        self._set_size(-1)

    def _set_size(self, step: int) -> None:
        at = min(max(self._size_step() + step, 0), len(SIZES) - 1)
        self.home.settings.set_text("size", str(at))
        self._dress()

    def _size_step(self) -> int:
        text = self.home.settings.text("size", "0")
        return int(text) if text in {str(i) for i in range(len(SIZES))} else 0

    def _dress(self) -> None:
        theme = THEMES.get(self.home.settings.text("theme", NOON.name), NOON)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            apply(app, theme, SIZES[self._size_step()])
        self.rail.setFixedWidth(self.rail.sizeHintForColumn(0) + RAIL_MARGIN)
        for page in self.pages:
            page.set_theme(theme)

    def change_official(self) -> None:
        """Let somebody else take over this desk."""
        name = ask.text(self, "Who is at this desk now?", "Name:", "")
        if name and name.strip():
            self.session.set_who(name)
            self.home.settings.set_text("official", name.strip())
            self.tell(f"from here on entries are {name.strip()}'s")
            self.page.enter()

    def score_now(self) -> None:
        """Compute results anew."""
        self.session.score_now()

    def send_again(self) -> None:
        """Try at once to send what waits."""
        if self.session.outbox is not None:
            self.session.outbox.retry()
            self.session.look_again()

    def cancel_job(self) -> None:
        """Ask the running job to stop."""
        self.jobs.cancel()

    def close_event(self) -> None:
        """Close the event; unsaved text and waiting entries are kept."""
        self.session.close()

    # Qt's interface: Qt's names.

    def closeEvent(self, event: QCloseEvent) -> None:
        """Stop all workers before anything is destroyed."""
        self._closing = True
        self.jobs.shutdown()
        self.session.shutdown()
        super().closeEvent(event)


def _scrolled(page: Page) -> QScrollArea:
    """Return a page that scrolls where the screen is too small for its text."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(page)
    return area
