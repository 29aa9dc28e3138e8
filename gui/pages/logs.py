"""Flight logs: drop them, see whose they are, say so where nothing else does."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QHBoxLayout

from gui import ask
from gui.actions import Spec, needs, takes
from gui.keys import Key
from gui.log_files import DroppedLogs, choosable, take_in
from gui.models.board import Board, log_board
from gui.models.logs import (
    COLUMNS,
    LogRow,
    LogState,
    about,
    counted,
    log_rows,
    without_log,
)
from gui.pages.page import Form, ListPage
from gui.parts.board import BoardCard
from gui.parts.kept import Kept
from gui.snapshot import Snapshot, flight_said
from gui.state import Condition
from gui.theme import BETWEEN
from gui.view import TableView
from gui.widgets import choice, field, held, label, refill, say, say_or_hide
from scorer.event.matter import Matter
from scorer.facts import fact, words
from scorer.facts import pilot as pilot_value
from scorer.ledger.api import Ledger

READY = needs(Condition.EVENT, Condition.WRITABLE)
TAKING = READY | {Condition.IDLE, Condition.TASKS}
SHOWN = 12


class LogsPage(ListPage):
    """All logs in a list; files dropped anywhere on the page are taken in."""

    name = "logs"
    title = "Flight logs"
    key = Key.PAGE_6
    hint = "Drop files, folders or zips here. Enter on a log says whose it is."
    shows_heights = True
    foot_keys = (
        (Key.GO_ON, "whose is it?"),
        (Key.READ_IN, "import files"),
        (Key.FIND, "find"),
    )
    specs = (
        Spec("add_files", "Import &files…", Key.READ_IN, "Choose logs or zips", TAKING),
        Spec(
            "add_folder", "Import a fol&der…", Key.NONE, "All logs beneath it", TAKING
        ),
        Spec(
            "assign",
            "&Whose is it?",
            Key.CORRECT,
            "Say whose the chosen log is",
            READY | {Condition.CHOSEN},
        ),
        *takes(
            READY | {Condition.CHOSEN},
            *(
                (
                    f"Give it to proposal {n}",
                    "Give the chosen log to whom it is proposed",
                )
                for n in (1, 2, 3)
            ),
        ),
        Spec(
            "to_search", "&Find", Key.FIND, "Find in the list", needs(Condition.EVENT)
        ),
        Spec(
            "to_list",
            "Back to the list",
            Key.OUT,
            "Leave the line",
            needs(Condition.EVENT),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.setAcceptDrops(True)
        self.flight = choice("Flight the logs belong to", changed=self._fill)
        self.search = self.find_in_head(self._find)
        row = self.buttons(
            "add_files", "add_folder", before=(label("Flight"), self.flight)
        )
        self.body.addWidget(row)
        self.told = label(wrap=True)
        self.missing = label(look="muted", wrap=True)
        self.body.addWidget(self.told)
        self.body.addWidget(self.missing)
        self.table = TableView(COLUMNS, "Logs", key=lambda r: r.held.current.ids)
        self.table.entered.connect(lambda _: self.assign())
        self.table.chosen.connect(self._on_chosen)
        self.board = BoardCard("Numbers of all pilots: logs")
        self.board.board.entered.connect(self._take_number)
        middle = QHBoxLayout()
        middle.setSpacing(BETWEEN)
        middle.addWidget(self.table, 3)
        middle.addWidget(self.board, 1)
        self.body.addLayout(middle, 1)
        self.about = label(look="second", wrap=True)
        self.about.setAccessibleName("About the chosen log")
        self.body.addWidget(self.about)
        self.number = field("Number of the pilot whose log it is", "pilot's number")
        self.number.textChanged.connect(self._tell_name)
        self.number.returnPressed.connect(self.submit)
        self.kept = Kept(self.session, "log", {"number": self.number})
        self.whose = label(look="section")
        line = QHBoxLayout()
        line.addWidget(self.whose)
        line.addWidget(self.number, 1)
        self.owner = label(look="name")
        line.addWidget(self.owner, 2)
        self.line = held(line)
        self.body.addWidget(self.line)
        self.line.hide()
        self._row: LogRow | None = None

    def is_about(self, row: LogRow, what: Any) -> bool:
        """Know a log by its name, or by whose it is in a flight."""
        if not isinstance(what, Matter) or row.held.flight != what.flight:
            return isinstance(what, int) and row.pilot == what
        if what.evidence:
            return row.name in what.evidence
        return row.pilot in what.pilots or row.likely in what.pilots

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the logs as they stand."""
        flights = snapshot.event.flights if snapshot else ()
        refill(self.flight, [(f"{f.id} · {f.date}", f.id) for f in flights])
        self._fill()

    def _on_chosen(self, row: LogRow | None) -> None:
        say_or_hide(self.about, about(row) if row is not None else "", "second")
        self.choice.emit()

    def rescored(self) -> None:
        """Show what the logs showed."""
        self._fill()

    def _fill(self) -> None:
        snapshot = self.snapshot
        session = self.session
        rows: list[LogRow] = []
        if snapshot is not None:
            rows = log_rows(snapshot, session.results, session.known_logs)
        self.table.set_rows(rows)
        counts = {state: sum(r.state is state for r in rows) for state in LogState}
        lost = counts[LogState.UNMATCHED] + counts[LogState.BROKEN]
        say(
            self.told,
            counted(rows) if rows else "No logs yet: drop them anywhere on this page.",
            "bad" if lost else "section",
        )
        flight = str(self.flight.currentData() or "")
        without = without_log(snapshot, rows, flight) if snapshot and flight else []
        shown = ", ".join(map(str, without[:SHOWN]))
        if len(without) > SHOWN:
            shown = f"{shown} … ({len(without)} in all)"
        say_or_hide(
            self.missing,
            f"Without a log in {flight_said(flight)}: {shown}" if without else "",
            "muted",
        )

        self._show_board(rows)

    def _show_board(self, rows: list[LogRow]) -> None:
        """Show who is accounted for in the task of the whole window, or the flight's."""
        snapshot = self.snapshot
        task = snapshot.task(self.session.task) if snapshot else None
        flight = snapshot.flight(str(self.flight.currentData())) if snapshot else None
        if task is None and flight is not None and flight.tasks:
            task = flight.tasks[0]
        if snapshot is None or task is None:
            self.board.show_board(Board())
            return
        self.board.show_board(log_board(snapshot, self.session.results, task, rows))

    def task_chosen(self) -> None:
        """Show who is accounted for in another task."""
        self._fill()

    def arrange(self) -> None:
        """With little room the list alone is shown."""
        self.board.setVisible(self.form is Form.WIDE)

    def _take_number(self, pilot: int) -> None:
        """Choose the log of a number of the board, or give it the chosen one."""
        own = (r for r in self.table.shown if pilot in (r.pilot, *r.proposals))
        found = next(own, None)
        if found is not None:
            self.table.choose(found.held.current.ids)
            self.table.setFocus()

    def forget(self) -> None:
        """The event is closed: no log of it is being assigned any more."""
        super().forget()
        self._row = None
        self.number.clear()
        self.to_list()

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    # Taking in.

    def add_files(self) -> None:
        """Choose logs or zips."""
        self.take_in(ask.open_files(self, "Import logs", choosable()))

    def add_folder(self) -> None:
        """Choose a folder of logs."""
        path = ask.folder(self, "Import all logs of a folder")
        if path is not None:
            self.take_in([path])

    def take_in(self, paths: Sequence[Path]) -> None:
        """Read logs in the background and record them for the chosen flight."""
        ledger, flight = self.session.ledger, self.flight.currentData()
        if not paths or ledger is None:
            return
        if flight is None:
            self.tell(fact("logs-no-flight"))
            return
        if self.jobs.busy:
            self.tell(fact("logs-wait"))
            return
        self.jobs.start(
            lambda control: take_in(ledger, str(flight), paths, control),
            text="Importing logs",
            done=partial(self._on_taken, ledger),
        )

    def _on_taken(self, ledger: Ledger, taken: object) -> None:
        if isinstance(taken, DroppedLogs):
            self.note.emit(str(taken))
            self.session.recorded_by_job(ledger, self.name, taken.drafts)

    # Assigning.

    def assign(self) -> None:
        """Go to the line that says whose the chosen log is."""
        row: LogRow | None = self.table.row
        if row is None:
            return
        self._row = row
        self.whose.setText(f"{row.name} is the log of number")
        self.number.setText(str(row.pilot or row.likely or ""))
        self.kept.turn_to(row.name)
        self.line.show()
        self.number.setFocus()
        self.number.selectAll()

    def take(self, number: int) -> None:
        """Give the chosen log to a proposal by its number."""
        row: LogRow | None = self.table.row
        if row is not None and number <= len(row.proposals):
            self._give(row, row.proposals[number - 1])

    def to_list(self) -> None:
        """Leave the line."""
        self.kept.done()
        self.line.hide()
        self.table.setFocus()

    def submit(self) -> None:
        """Record whose log it is; nothing typed takes an assignment back."""
        row, snapshot = self._row, self.snapshot
        if row is None or snapshot is None:
            return
        text = self.number.text().strip()
        pilot = int(text) if text.isascii() and text.isdigit() else None
        if text and (pilot is None or snapshot.event.pilot(pilot) is None):
            say(self.owner, self.voice.word("logs-no-such-pilot"), "bad")
            return
        self._give(row, pilot)
        self.to_list()

    def _give(self, row: LogRow, pilot: int | None) -> None:
        """Record whose a log is; nobody takes an assignment back."""
        self.session.record_all([row.held.given_to(pilot, "assigned by hand")])
        log = words(row.name)
        if pilot is None:
            self.tell(fact("log-given-to-nobody", log=log))
        else:
            self.tell(fact("log-given-to", log=log, pilot=pilot_value(pilot)))

    def _tell_name(self, text: str) -> None:
        plain = text.strip()
        number = int(plain) if plain.isascii() and plain.isdigit() else 0
        name = self.snapshot.pilot_name(number) if self.snapshot else ""
        unknown = bool(plain) and not name
        say(
            self.owner,
            self.voice.word("logs-no-such-pilot") if unknown else name,
            "bad" if unknown else "name",
        )

    def to_search(self) -> None:
        """Go to the finder."""
        self.search.setFocus()

    # Qt's interface: Qt's names.

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take files in."""
        urls = event.mimeData().urls()
        self.take_in([Path(url.toLocalFile()) for url in urls if url.isLocalFile()])
        event.acceptProposedAction()
