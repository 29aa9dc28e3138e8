"""Results and standings as they stand now, and every step to a pilot's points."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QSplitter,
    QStackedWidget,
    QTextBrowser,
    QWidget,
)

from gui.actions import Spec, needs
from gui.blind import Pairs, ranks_hidden
from gui.keys import Key
from gui.models.bill import rows_of_all
from gui.models.results import (
    CHANGE_COLUMNS,
    SCORE_COLUMNS,
    WARNING_COLUMNS,
    WARNINGS,
    WarningRow,
    change_rows,
    score_rows,
    sheet_of,
    standing_columns,
    standing_rows,
    standings_of,
    tables_of,
    task_words,
    warning_rows,
)
from gui.models.table import TableColumn
from gui.pages.leading import lead_from
from gui.pages.page import FIND, ListPage
from gui.parts.card import Card
from gui.parts.rows import RowList
from gui.parts.wholerow import WholeRow
from gui.plots.pair import Pair
from gui.plots.picture import Picture
from gui.publishing import WouldChange, compare
from gui.snapshot import ScoredSnapshot, Snapshot
from gui.state import Condition
from gui.theme import Theme
from gui.view import TableView
from gui.widgets import choice, choose, field, label, refill, say
from scorer.facts import count, fact, words
from scorer.sheets.sheet import Sheet

SEEN = needs(Condition.EVENT, Condition.RESULTS)
SHOWN_FAULTS = 40


class ResultsPage(ListPage):
    """The table on the left, how the chosen pilot's score adds up on the right."""

    name = "results"
    title = "Results"
    key = Key.PAGE_8
    hint = "As they stand now; what is on the board stays until you publish."
    shows_heights = True
    foot_keys = (
        (Key.GO_ON, "how it adds up"),
        (Key.PILOT, "pilot"),
        (Key.ORIGINAL, "flight"),
        (Key.DIFFERENCES, "since the board"),
        (Key.FIND, "find"),
    )
    specs = (
        Spec("next_table", "&Next table", Key.NONE, "Standings, then each task", SEEN),
        Spec("next_pilot", "Next p&ilot", Key.NEXT, "The next row of the table", SEEN),
        Spec("previous_pilot", "Pilot &before", Key.PREVIOUS, "The row before", SEEN),
        Spec("to_bill", "&How it adds up", Key.NONE, "Every step to the points", SEEN),
        Spec(
            "to_flight", "&Flight", Key.ORIGINAL, "Map and heights of the flight", SEEN
        ),
        Spec(
            "compare_now",
            "&Compare",
            Key.DIFFERENCES,
            "What changed since the last publication",
            SEEN | {Condition.IDLE},
        ),
        Spec("to_pilot", "&Pilot", Key.PILOT, "Page of the pilot", SEEN),
        Spec(
            "to_search", "&Find", Key.FIND, "Find in the table", needs(Condition.EVENT)
        ),
        Spec("to_list", "Back to the &table", Key.OUT, "Leave the right side"),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.which = choice("Which table", changed=self._fill)
        find = self._find
        self.search = field("Find in the table", "find …", changed=find, letters=FIND)
        self.head.addWidget(self.which)
        self.head.addWidget(self.search)
        self.told = label(wrap=True)
        self.body.addWidget(self.told)
        self.table = TableView((), "Results", key=_key)
        self.table.chosen.connect(self._on_chosen)
        self.table.entered.connect(lambda _: self.to_bill())
        self.table.crowded.connect(self._tell_crowded)
        self.changes = TableView(CHANGE_COLUMNS, "Changes since the last publication")
        self.change_words = label(wrap=True)
        self.pair = Pair()
        self.faults = QTextBrowser()
        self.faults.setAccessibleName("What must be put right first")
        self.faults.setTabChangesFocus(True)
        since = Card("Since the last publication")
        since.body.addWidget(self.change_words)
        since.body.addWidget(self.changes, 1)
        since.body.addWidget(WholeRow(self.changes))
        self.right = QStackedWidget()
        for widget in (self._bill_card(), since, self.pair, self.faults):
            self.right.addWidget(widget)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(self.table)
        split.addWidget(self.right)
        split.setSizes([660, 460])
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 1)
        split.setChildrenCollapsible(False)
        self.body.addWidget(split, 1)
        self._asked: tuple[object, ...] = ()
        self._columns = ""
        self.session.shelf.pictured.connect(self._on_picture)

    def _bill_card(self) -> Card:
        self.bill_card = Card("How it adds up")
        self.bill = RowList("How the score of the chosen pilot adds up")
        self.bill.entered.connect(self._on_line)
        self.rules = label(look="second", wrap=True)
        self.bill_card.body.addWidget(self.bill, 1)
        self.bill_card.body.addWidget(self.rules)
        return self.bill_card

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """Table, and what it tells of the chosen row."""
        return self.table, self.right

    @property
    def panes(self) -> tuple[QWidget, QWidget]:
        """Table, and what it tells of the chosen row."""
        told = (self.bill, self.changes, self.pair.profile.widget, self.faults)
        return self.table, told[self.right.currentIndex()]

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show results as they stand."""
        del snapshot
        self.rescored()

    def _tell_crowded(self, columns: int) -> None:
        """Say how many columns have no room, and where they are seen."""
        told = self.voice.say(fact("results-crowded", columns=count(columns)))
        self.say_hint(told if columns else self.hint)

    def rescored(self) -> None:
        """Show the results of the score, or the faults that keep it from being made."""
        scored = self.session.results
        if scored is None or scored.results is None:
            refill(self.which, [])
            self.table.set_rows([])
            self._show_bill(None)
            self._tell_faults(scored)
            return
        say(self.told, "")
        options: list[tuple[str, object]] = list(
            tables_of(scored.results, self.session.matters)
        )
        refill(self.which, options)
        self._fill()

    def forget(self) -> None:
        """The event is closed: its flight and what changed in it are not shown."""
        super().forget()
        self._asked = ()
        self.pair.show_picture(None, self.theme)
        self.changes.set_rows([])
        self.right.setCurrentWidget(self.bill_card)

    def set_theme(self, theme: Theme) -> None:
        """Take over colours, in the picture too."""
        super().set_theme(theme)
        self.pair.show_picture(self.pair.picture, theme)

    def _tell_faults(self, scored: ScoredSnapshot | None) -> None:
        if scored is None:
            none = self.voice.word("results-none") if self.snapshot else ""
            say(self.told, none, "muted")
            return
        lines = [str(fault) for fault in scored.faults[:SHOWN_FAULTS]]
        say(self.told, self.voice.word("results-faults"), "bad")
        self.right.setCurrentWidget(self.faults)
        self.faults.setPlainText("\n\n".join(lines))

    def _fill(self) -> None:
        scored = self.session.results
        sheet = sheet_of(scored) if scored else None
        if scored is None or scored.results is None or sheet is None:
            return
        self._fill_table(sheet, str(self.which.currentData()), scored.hidden)
        if scored.hidden:  # why rows, ranks and points are not there
            hidden = self.voice.sentence(ranks_hidden(scored.hidden))
            self.told.setText(f"{self.told.text()} {hidden}".strip())
        self.table.choose_first()
        self._on_chosen(self.table.row)

    def _fill_table(self, sheet: Sheet, key: str, hidden: Pairs) -> None:
        results = sheet.results
        task = next((t for t in results.tasks if f"task {t.task}" == key), None)
        standings = standings_of(results, key)
        columns: tuple[TableColumn, ...] = SCORE_COLUMNS
        if key == WARNINGS:
            columns = WARNING_COLUMNS
        elif task is None:
            columns = standing_columns(results, standings)
        titles = f"{key} {[c.title for c in columns]}"
        if titles != self._columns:
            self._columns = titles
            self.table.rows_model.set_columns(columns)
        if key == WARNINGS:
            self.table.set_rows(warning_rows(sheet, self.session.matters))
            say(self.told, self.voice.word("results-doubts"), "muted")
        elif task is not None:
            self.table.set_rows(score_rows(sheet, task))
            say(self.told, task_words(sheet, task, hidden), "muted")
        elif standings is not None:
            self.table.set_rows(standing_rows(sheet, standings))
            listed = self.session.matters
            more = (
                f" {self.voice.word('results-see-publish')}" if listed.held_up else ""
            )
            look = "warn" if listed.held_up else "good"
            say(self.told, f"{listed.ready}{more}", look)
        self.table.fit()

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    def _on_chosen(self, row: object) -> None:
        scored = self.session.results
        pilot = getattr(row, "pilot", None)
        if isinstance(row, WarningRow):
            say(self.told, row.text, "bad" if row.warning.holds_up else "warn")
        if scored is None or scored.results is None or pilot is None:
            return
        self._show_bill(pilot)
        if self.right.currentWidget() is self.pair:
            self._ask_picture()
        elif self.right.currentWidget() is not self.bill_card:
            self.right.setCurrentWidget(self.bill_card)
        self.choice.emit()

    @property
    def _task(self) -> int | None:
        """The task whose table is shown; None = standings or open matters."""
        key = str(self.which.currentData())
        return int(key.removeprefix("task ")) if key.startswith("task ") else None

    def _show_bill(self, pilot: int | None) -> None:
        scored = self.session.results
        results = scored.results if scored else None
        if scored is None or results is None or pilot is None:
            self.bill_card.name_it("How it adds up")
            self.bill.show_rows([])
            self.rules.clear()
            return
        voice = results.voice
        self.bill_card.name_it(f"{pilot}  {voice.pilots.get(pilot, '')}")
        self.bill.show_rows(rows_of_all(results, pilot, self._task))
        self.bill.choose_first()
        rules = words(voice.book(scored.event.book))
        self.rules.setText(voice.say(fact("rules-of-event", rules=rules)))

    def _on_line(self, chosen: object) -> None:
        """Go where a line is decided."""
        pilot = getattr(self.table.row, "pilot", None)
        if isinstance(chosen, tuple) and pilot is not None:
            task, line = chosen
            lead_from(self, line, task, pilot)

    # Commands.

    def next_table(self) -> None:
        """Show the next table."""
        if self.which.count():
            at = self.which.currentIndex() + 1
            self.which.setCurrentIndex(at % self.which.count())

    def next_pilot(self) -> None:
        """Show the next row of the table, wherever the keyboard is."""
        self._step(1)

    def previous_pilot(self) -> None:
        """Show the row before."""
        self._step(-1)

    def _step(self, step: int) -> None:
        at = self.table.currentIndex().row() + step
        if 0 <= at < self.table.proxy.rowCount():
            self.table.selectRow(at)

    def to_bill(self) -> None:
        """Go to how the chosen pilot's score adds up."""
        self.right.setCurrentWidget(self.bill_card)
        self.to_pane(self.bill)

    def to_flight(self) -> None:
        """Show map and heights of the chosen pilot's flight."""
        self.right.setCurrentWidget(self.pair)
        self._ask_picture()
        self.to_pane(self.pair.profile.widget)

    def _ask_picture(self) -> None:
        scored, row = self.session.results, self.table.row
        if scored is None or scored.results is None:
            return
        if row is None or row.pilot is None:
            return
        tasks = scored.results.tasks
        first = tasks[0] if tasks else None
        task = next((t for t in tasks if t.task == self._task), first)
        if task is not None:
            self._asked = (task.flight, row.pilot, task.task, "")
            self.session.shelf.ask_picture(self.name, task.flight, row.pilot, task.task)

    def _on_picture(self, asked: tuple[object, ...], picture: Picture | None) -> None:
        if asked == self._asked:
            self.pair.show_picture(picture, self.theme)

    def compare_now(self) -> None:
        """Find out what changed since the last publication."""
        ledger, scored = self.session.ledger, self.session.publishable
        if ledger is None or scored is None:
            return
        self.jobs.start(
            lambda _: compare(ledger, scored),
            text="Comparing with the last publication",
            done=self._on_compared,
        )

    def _on_compared(self, compared: object) -> None:
        scored = self.session.results
        sheet = sheet_of(scored) if scored else None
        if not isinstance(compared, WouldChange) or sheet is None:
            return
        self.changes.set_rows(change_rows(sheet, compared.changes))
        self.changes.fit()
        self.change_words.setText(compared.words)
        self.right.setCurrentIndex(1)
        self.to_pane(self.changes)

    def to_pilot(self) -> None:
        """Go to the page of the chosen pilot."""
        number = getattr(self.table.row, "pilot", None)
        if number is not None:
            self.go.emit("pilot", number)

    def task_chosen(self) -> None:
        """Show the task that is chosen for the whole window."""
        task = self.session.task
        choose(self.which, "standings" if task is None else f"task {task}")

    def to_search(self) -> None:
        """Go to the finder."""
        self.to_pane(self.search)

    def to_list(self) -> None:
        """Leave the right side."""
        self.to_pane(self.table)


def _key(row: object) -> object:
    number, pilot = getattr(row, "number", None), getattr(row, "pilot", None)
    if number is not None:
        return "warning", number
    return getattr(row, "name", None) if pilot is None else pilot
