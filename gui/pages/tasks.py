"""Tasks with their periods, what was looked over for them, the paper for the field."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QSize, Qt, QTimer, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from gui.actions import Spec, needs
from gui.flow import clear
from gui.jobs import Jobs
from gui.keys import Key
from gui.models.board import log_board
from gui.models.logs import log_rows
from gui.models.tasks import TASK_COLUMNS, TaskRow, task_rows
from gui.pages.page import Form, ListPage
from gui.pages.task_editor import TaskEditor
from gui.paper import print_forms, print_wish
from gui.parts.board import BoardCard
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.keycap import hint_row
from gui.parts.scrolled import Scrolled
from gui.plots.map import MapPlot
from gui.plots.picture import Picture
from gui.refusal import plainly
from gui.snapshot import ScoredSnapshot, Snapshot
from gui.state import Condition
from gui.style import LOOK
from gui.task_form import (
    FIELD_OF,
    LookedOver,
    TaskForm,
    bare,
    built_with,
    by_field,
    field_of,
    form_of,
    held_flight,
    looked_over,
    settings_of,
    without_task,
)
from gui.theme import INSIDE, Theme
from gui.view import TableView
from gui.widgets import held, label, say_or_hide
from scorer.errors import ScorerError
from scorer.event.matter import Matter
from scorer.event.model import Event, Task, TaskState
from scorer.facts import fact, listed, number, words
from scorer.facts import task as task_value
from scorer.ledger.acts import EntryId, FlightSet, TaskSheetIssued
from scorer.ledger.api import Draft, Ledger
from scorer.ledger.cells import whole_number
from scorer.progress import Control
from scorer.remembered import one_and_same
from scorer.scoring.looked_over import Looked
from scorer.sheets.issuing import give_out, last_issued, next_issued
from scorer.sheets.stamp import local
from scorer.words.catalogue import message
from scorer.words.voice import Voice

FIRST_FLIGHT = "1"
"""Proposed: sentences say “flight 1”."""
LOOK_AFTER_MS = 250
LEAST_FORM, LEAST_LIST = 120, 110
"""Least height of the form, pixels at the first size of text."""
WELL, WATCH = "✓", "◐"
READY = needs(Condition.EVENT, Condition.WRITABLE)


class TasksPage(ListPage):
    """Tasks and the form of one on the left, its map and what was seen on the right."""

    name = "tasks"
    title = "Tasks"
    key = Key.PAGE_3
    hint = "Enter changes the chosen task, Ctrl+N copies the last one."
    foot_keys = (
        (Key.NEW, "new"),
        (Key.CORRECT, "change"),
        (Key.PRINT, "field form"),
        (Key.WHOLE, "whole map"),
    )
    specs = (
        Spec(
            "new_task",
            "&New task",
            Key.NEW,
            "Set down a task, or another flight",
            READY,
        ),
        Spec("change", "&Change task", Key.CORRECT, "Change the chosen task", READY),
        Spec("save", "&Record", Key.BIG_ACT, "Record the form", READY),
        Spec("put_back", "&Leave as it was", Key.OUT, "Drop what is typed", READY),
        Spec(
            "cancel_task", "Cancel or &fly", Key.NONE, "The task counts, or not", READY
        ),
        Spec("take_out", "&Remove…", Key.REMOVE, "Remove the task", READY),
        Spec(
            "print_form",
            "&Field form",
            Key.PRINT,
            "Make the field form of the task and the task sheet of its flight",
            needs(Condition.EVENT, Condition.TASKS, Condition.IDLE),
        ),
        Spec(
            "issue_sheet",
            "&Issue the task sheet",
            Key.NONE,
            "The task sheet of the flight gets its version and its time",
            needs(Condition.EVENT, Condition.TASKS, Condition.WRITABLE, Condition.IDLE),
        ),
        Spec(
            "fit_map",
            "Whole &map",
            Key.WHOLE,
            "Show all places of the task",
            needs(Condition.EVENT),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.told = label(wrap=True)
        self.told.hide()
        self.table = TableView(
            TASK_COLUMNS, "Tasks", key=lambda r: (r.flight.id, r.number)
        )
        self.table.chosen.connect(self._on_chosen)
        self.table.entered.connect(lambda _: self.change())
        self.editor = TaskEditor()
        self.editor.edited.connect(self._on_edited)
        self._looker = Jobs(self, "looked")
        self._looker.ended.connect(self._on_looker_ended)
        self._look_again = False
        self._timer = QTimer(self, interval=LOOK_AFTER_MS, singleShot=True)
        self._timer.timeout.connect(self.look_over)
        self.map = MapPlot()
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        self.left, self.right = self._left(), self._right()
        split.addWidget(self.left)
        split.addWidget(self.right)
        split.setSizes([660, 500])
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 1)
        self.body.addWidget(self.told)
        self.body.addWidget(split, 1)
        self._restored = ""
        self._recorded: tuple[str, int | None] | None = None
        """Flight and number of the task to choose once the list shows it."""
        self._looked_at: tuple[str, int | None] = ("", None)
        """Flight and number of the task that was looked over."""
        self._board_of: tuple[object, ...] = ()
        """What the board was made of."""
        self.session.shelf.placed.connect(self._on_placed)

    def _left(self) -> QWidget:
        left = QVBoxLayout()
        left.addWidget(self.buttons("new_task", "issue_sheet", "print_form"))
        left.addWidget(self.table, 2)
        self.form_box = Card()
        self.form_box.body.addWidget(self._scrolled_form(), 1)
        record = CapButton(Voice().word("task-record"), Key.BIG_ACT, look="main")
        record.clicked.connect(self.save)
        low = QHBoxLayout()
        low.addWidget(record)
        low.addWidget(hint_row((Key.OUT, Voice().word("task-leave"))))
        low.addStretch(1)
        self.form_box.body.addLayout(low)
        left.addWidget(self.form_box, 3)
        left.addStretch(0)  # beneath a short list where its form has a side of its own
        return held(left)

    def _fit_table(self) -> None:
        """Leave to the form the room that few tasks do not take."""
        rows, head = self.table.verticalHeader(), self.table.horizontalHeader()
        high = head.sizeHint().height() + rows.length() + LOOK.px(INSIDE)
        least = max(self.table.minimumHeight(), LOOK.px(LEAST_LIST))
        self.table.setMaximumHeight(max(high, least))

    def _scrolled_form(self) -> Scrolled:
        """Let the form scroll where it is too high: the button below it stays."""
        area = Scrolled(self.editor, least=QSize(0, LOOK.px(LEAST_FORM)))
        for ground in (area.viewport(), self.editor):
            ground.setAutoFillBackground(False)  # the card's own shows
        return area

    def _right(self) -> QWidget:
        right = QSplitter(Qt.Orientation.Vertical)
        right.setChildrenCollapsible(False)
        right.addWidget(self.map.widget)
        self.looked = Card(message("looked-over", {}))
        self.looked_rows = QVBoxLayout()
        self.looked.body.addLayout(self.looked_rows)
        self.looked.body.addWidget(
            label(message("looked-defers", {}), "second", wrap=True)
        )
        self.looked.body.addStretch(1)
        right.addWidget(self.looked)
        self.board = BoardCard("Numbers of all pilots: accounted for")
        self.board.board.entered.connect(lambda pilot: self.go.emit("pilot", pilot))
        self.board.hide()
        right.addWidget(self.board)
        right.setSizes([360, 290, 290])
        return right

    @property
    def sides(self) -> tuple[QWidget, ...]:
        """Tasks, their form, and the map."""
        return self.table, self.form_box, self.right

    @property
    def panes(self) -> tuple[QWidget, ...]:
        """Tasks, their form, and who is accounted for."""
        return self.table, next(iter(self.editor.fields.values())), self.board.board

    def _turn_to(self, side: QWidget | None) -> None:
        super()._turn_to(side)
        self.left.setVisible(self.form is not Form.SMALL or side is not self.right)

    def is_about(self, row: TaskRow, what: Any) -> bool:
        """Know a task by its number, or by its flight."""
        if not isinstance(what, Matter):
            return False
        if what.task is None:
            return row.flight.id == what.flight
        return row.number == what.task

    def enter(self) -> None:
        """Go to the list, or to the form where there is no task yet."""
        if self.table.rows_model.rows:
            super().enter()
        elif self.editor.touched:
            self.to_pane(self.form_box)
        elif self.snapshot is not None:
            self.new_task()
        self._show_board()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show tasks as they stand."""
        self.table.set_rows(task_rows(snapshot) if snapshot else [])
        self.table.fit()  # what it needs at the least follows from its rows
        self._fit_table()
        if self.table.choose(self._recorded):
            self._recorded = None
        if snapshot is None:
            self.map.show(None, self.theme)
            return
        self._ask_map(snapshot.event)
        self.editor.set_names([p.name for p in snapshot.event.places])
        self.editor.set_units(snapshot.event.units)
        if self._restored != self.session.target:
            self._restored = self.session.target
            self.editor.restore(self.session.unsaved.of("task"))
        faults = [str(fault) for fault in snapshot.faults]
        say_or_hide(self.told, "\n".join(faults[:3]), "bad")
        self._show_board()

    def set_theme(self, theme: Theme) -> None:
        """Take over colours, on the map too."""
        super().set_theme(theme)
        self.map.show(self.map.picture, theme)

    def _ask_map(self, event: Event) -> None:
        """Ask for the places of the task in the form, as it is typed."""
        self.session.shelf.ask_places(event, self._typed)

    @property
    def _typed(self) -> int | None:
        """The number in the form."""
        return whole_number(self.editor.fields["number"].text().strip())

    def _on_placed(self, picture: Picture) -> None:
        snapshot, typed = self.snapshot, self._typed
        known = typed if snapshot is not None and snapshot.task(typed) else None
        if self.isVisible() and picture.task == known:
            self.map.show(picture, self.theme)

    def forget(self) -> None:
        """The event is closed: a half typed task stays with its own."""
        super().forget()
        self.editor.put(TaskForm(flight="", date=""))
        self.map.show(None, self.theme)
        self._restored = ""
        self._board_of = ()

    def _on_chosen(self, row: TaskRow | None) -> None:
        if row is not None and not self.editor.touched:
            self._fill(row)
            if self._looked_at != (row.flight.id, row.number):
                self._looked_at = (row.flight.id, row.number)
                self._show_looked(())  # never what was seen of another
        self._show_board()
        self.choice.emit()

    def _show_board(self) -> None:
        """Show who of a flown task is accounted for, where it was looked over before."""
        row, snapshot = self.table.row, self.snapshot
        task = row.task if row is not None else None
        flown = task is not None and task.state is TaskState.FLOWN
        flown = flown and not self.editor.touched
        self.looked.setHidden(flown)
        self.board.setHidden(not flown)
        if not flown and self.isVisible():
            self._timer.start()  # what is seen of a task hangs on rules and places, too
        if flown and task is not None and snapshot is not None and self.isVisible():
            self._tell_board(snapshot, self.session.results, task)

    def _tell_board(
        self, snapshot: Snapshot, scored: ScoredSnapshot | None, task: Task
    ) -> None:
        """Show the board, unless it is of these already: several things ask for it."""
        given = snapshot, scored, task
        if not one_and_same(given, self._board_of):
            self._board_of = given
            rows = log_rows(snapshot, scored, self.session.known_logs)
            self.board.show_board(log_board(snapshot, scored, task, rows))

    def rescored(self) -> None:
        """Show who is accounted for now."""
        self._show_board()

    def _fill(self, row: TaskRow) -> None:
        if self.snapshot is not None:
            settings, _ = held_flight(self.snapshot, row.flight.id)
            self.editor.put(form_of(row.flight.id, settings, row.number))
            self._ask_map(self.snapshot.event)

    def _on_edited(self) -> None:
        self._keep()
        self._show_board()

    def look_over(self) -> None:
        """Look the task over in the background, as it stands in the form."""
        snapshot, form = self.snapshot, self.editor.form()
        if self._looker.busy:
            self._look_again = True
            return
        if snapshot is None or not form.flight or not form.number.isdecimal():
            self._show_looked(())
            return
        before, _ = held_flight(snapshot, form.flight)
        try:
            settings = settings_of(form, before)
        except ScorerError:
            return
        self._looker.start(
            lambda _: looked_over(snapshot, form, settings), done=self._on_looked
        )

    def _on_looked(self, found: object) -> None:
        if isinstance(found, LookedOver):
            self._show_looked(found.looked)
            self._ask_map(found.event)
            if self.editor.touched:
                self.editor.refuse(found.by_field)

    def _on_looker_ended(self) -> None:
        if self._look_again:
            self._look_again = False
            self.look_over()

    def _show_looked(self, looked: Sequence[Looked]) -> None:
        """Show what was looked at: what to look at first, what is well after it."""
        clear(self.looked_rows)
        if self.snapshot is None:
            return
        voice = Voice.of(self.snapshot.event)
        told = []
        for one in looked:
            says = voice.sentence(one.says)
            sign, look = (WELL, "") if one.well else (WATCH, "strong")
            self.looked_rows.addWidget(label(f"{sign}  {says}", look, wrap=True))
            told.append(says)
        self.looked.setAccessibleDescription(" ".join(told))

    def _keep(self) -> None:
        self.session.unsaved.keep("task", self.editor.texts())

    # Commands.

    def new_task(self) -> None:
        """Empty the form for another task of the same flight."""
        snapshot = self.snapshot
        if snapshot is None:
            return
        tasks = snapshot.event.tasks
        number = max((t.number for t in tasks), default=0) + 1
        voice = Voice.of(snapshot.event)
        if not tasks:
            row: TaskRow | None = self.table.row
            flight = row.flight if row else None
            self.to_pane(self.form_box)
            self.editor.begin(
                number=number,
                flight=flight.id if flight else FIRST_FLIGHT,
                day=str(flight.date) if flight else "",
            )
            self.say_hint(voice.say(fact("task-begun", task=task_value(number))))
            return
        last = max(tasks, key=lambda t: t.number)
        settings, _ = held_flight(snapshot, last.flight)
        form = form_of(last.flight, settings, last.number)
        planned = str(TaskState.PLANNED)
        self.editor.copy(replace(form, number=str(number), state=planned))
        both = {"task": task_value(number), "last": task_value(last.number)}
        self.say_hint(voice.say(fact("task-copied", **both)))

    def change(self) -> None:
        """Go to the form with the chosen task in it."""
        row: TaskRow | None = self.table.row
        if row is not None:
            self._fill(row)
            self.to_pane(self.form_box)
            self.editor.to_start()

    def put_back(self) -> None:
        """Drop what is typed, and show the chosen task as it is recorded."""
        row: TaskRow | None = self.table.row
        if row is not None:
            self._fill(row)
        self.editor.done()
        self.session.unsaved.keep("task", {})
        say_or_hide(self.told, "")
        self.say_hint(self.hint)
        self._show_board()
        self.to_pane(self.table)

    def save(self) -> None:
        """Record what stands in the form."""
        snapshot = self.snapshot
        if snapshot is None:
            return
        form = self.editor.form()
        if not form.flight.strip():
            say_or_hide(
                self.told, "flight: give it a short name, such as saturday", "bad"
            )
            return
        before, ids = held_flight(snapshot, form.flight.strip())
        try:
            settings = settings_of(form, before)
        except ScorerError as error:
            self._refuse_form(plainly(error))
            return
        self._record(form.flight.strip(), settings, ids, why="")

    def _record(
        self,
        flight: str,
        settings: Mapping[str, Any],
        ids: tuple[EntryId, ...],
        *,
        why: str,
    ) -> None:
        snapshot = self.snapshot
        if snapshot is None:
            return
        _, faults = built_with(snapshot, flight, settings)
        self.editor.refuse(by_field(faults))
        if faults or any(echo.fault for echo in self.editor.echoes.values()):
            others = [bare(fault) for fault in faults if not field_of(fault)]
            say_or_hide(self.told, "\n".join(others[:4]), "bad")
            self.to_pane(self.form_box)
            self.editor.to_fault()
            return
        act = FlightSet(flight=flight, settings=settings)
        self.session.record(act, replaces=ids, why=why)
        number = whole_number(self.editor.fields["number"].text())
        self._recorded = flight, number
        self.editor.done()
        self._show_board()
        self.session.unsaved.keep("task", {})
        say_or_hide(self.told, "")
        told = fact("flight-recorded", flight=words(flight))
        if number is not None:
            told = fact("task-recorded", task=task_value(number))
        self.tell(told)
        self.say_hint(self.hint)
        self.to_pane(self.table)

    def _refuse_form(self, text: str) -> None:
        """Tell what keeps the form from being read, under its field."""
        name = text.partition(":")[0]
        field = FIELD_OF.get(name.removesuffix("_hpa").removesuffix("_c"), "")
        self.editor.refuse({field: text.partition(": ")[2]} if field else {})
        say_or_hide(self.told, "" if field else text, "bad")
        self.to_pane(self.form_box)
        self.editor.to_fault()

    def cancel_task(self) -> None:
        """Cancel the chosen task, or let it count again, with a reason."""
        row = self.table.row
        if row is None or row.task is None:
            return
        off = str(row.task.state) == "cancelled"
        named, now = task_value(row.number), "flown" if off else "cancelled"
        kind = "task-counts-why" if off else "task-cancel-why"
        self.ask_why(
            self.voice.say(fact(kind, task=named)),
            f"{now} {row.number}",
            lambda why: self._set_state(row, now, why),
            fact("task-counts-again" if off else "task-is-cancelled", task=named),
        )

    def _set_state(self, row: TaskRow, state: str, why: str) -> None:
        if self.snapshot is None:
            return
        before, ids = held_flight(self.snapshot, row.flight.id)
        tasks = [dict(task) for task in before.get("task", [])]
        for task in tasks:
            if task.get("number") == row.number:
                task["state"] = state
        self._record(row.flight.id, {**before, "task": tasks}, ids, why=why)

    def take_out(self) -> None:
        """Take the chosen task out, with a reason."""
        row = self.table.row
        if row is None or row.task is None:
            return
        flight, number = row.flight.id, row.task.number
        self.ask_why(
            self.voice.say(fact("task-remove-why", task=task_value(number))),
            f"remove {number}",
            lambda why: self._take_out(flight, number, why),
            fact("entry-taken-out", what=words(f"task {number}")),
        )

    def _take_out(self, flight: str, number: int, why: str) -> None:
        if self.snapshot is None:
            return
        before, ids = held_flight(self.snapshot, flight)
        self._record(flight, without_task(before, number), ids, why=why)

    def fit_map(self) -> None:
        """Show all places."""
        self.map.fit()

    def print_form(self) -> None:
        """Make field form and task sheet, and show them."""
        row, snapshot, ledger = self.table.row, self.snapshot, self.session.ledger
        if row is None or row.task is None or snapshot is None or ledger is None:
            self.tell(fact("choose-task"))
            return
        event, task, target = snapshot.event, row.task, self.session.target
        now, wish = ledger.clock(), print_wish(self.session.home.settings)
        state = snapshot.state
        self.jobs.start(
            lambda _: print_forms(state, event, task, target, now=now, wish=wish),
            text="Making the field form",
            done=self._on_printed,
        )

    def _on_printed(self, paths: object) -> None:
        if isinstance(paths, tuple):
            self.tell(
                fact("papers-written", files=listed([words(str(p)) for p in paths]))
            )
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(paths[0])))

    def issue_sheet(self) -> None:
        """Give the task sheet of the chosen task's flight its version and its time."""
        row, snapshot, ledger = self.table.row, self.snapshot, self.session.ledger
        if row is None or snapshot is None or ledger is None:
            self.tell(fact("choose-task"))
            return
        state, event, flight = snapshot.state, snapshot.event, row.flight.id
        now, last = ledger.clock(), last_issued(state, flight)

        def work(_: Control) -> TaskSheetIssued | Draft | None:
            act = next_issued(state, event, flight, now)
            if act is None or act.version > 1:
                return act
            return _given_out(ledger, Draft(act=act))

        def go_on(found: object) -> None:
            if isinstance(found, Draft):
                self._on_issued(ledger, event, found)
            elif isinstance(found, TaskSheetIssued):
                self._ask_and_issue(ledger, event, found)
            elif last is not None:
                stands = fact("issued-unchanged", version=number(last.version))
                self.note.emit(Voice.of(event).say(stands))

        self.jobs.start(work, text="Making the task sheet", done=go_on)

    def _ask_and_issue(
        self, ledger: Ledger, event: Event, act: TaskSheetIssued
    ) -> None:
        """Record a version, from the second on, with why there is another."""

        def record(why: str) -> None:
            self.jobs.start(
                lambda _: _given_out(ledger, Draft(act=act, why=why)),
                text="Issuing the task sheet",
                done=lambda draft: self._on_issued(ledger, event, draft),
            )

        about = f"issue {act.flight} {act.version}"
        self.ask_why(Voice.of(event).word("issued-why"), about, record)

    def _on_issued(self, ledger: Ledger, event: Event, draft: object) -> None:
        if isinstance(draft, Draft) and isinstance(draft.act, TaskSheetIssued):
            self.session.recorded_by_job(ledger, self.name, [draft])
            at = words(local(draft.act.at, event.time_zone))
            said = fact("issued-prints", version=number(draft.act.version), at=at)
            self.note.emit(Voice.of(event).sentence(said))


def _given_out(ledger: Ledger, draft: Draft) -> Draft:
    """Give a version of a task sheet out, unless another desk was faster."""
    give_out(ledger, draft)
    return draft
