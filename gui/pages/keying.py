"""Entering marks, by keyboard alone: number, distance, Enter, next."""

from collections.abc import Sequence
from html import escape

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gui.actions import Spec, needs
from gui.keys import Key
from gui.livecheck import Notice, Typed, Weight, check
from gui.models.board import Board, CellState, mark_board
from gui.models.marks import (
    OWN_COLUMNS,
    MarkRow,
    MarkState,
    OwnRow,
    WithFirst,
    mark_rows,
    own_rows,
    roles_of,
    understood,
)
from gui.pages.entry_line import EntryLine
from gui.pages.page import Form, ListPage
from gui.parts.board import BoardCard
from gui.parts.keycap import hint_row
from gui.parts.line import Line
from gui.parts.trial import Trial
from gui.parts.wrapped import Wrapped
from gui.shelf import TrackReady
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, INSIDE
from gui.view import TableView
from gui.widgets import held, say_or_hide, section
from scorer.event.entries import folded
from scorer.event.model import Pilot, Task
from scorer.facts import Fact as Said
from scorer.facts import count, fact, number, words
from scorer.facts import pilot as pilot_value
from scorer.ledger.acts import EntryId, MarkKeyed
from scorer.ledger.cells import whole_number
from scorer.ledger.entry import Draft
from scorer.units import Unreadable, length_m
from scorer.words.voice import Voice

FORM = "keying"
REPLACES = "replaces"
READY = needs(Condition.EVENT, Condition.WRITABLE, Condition.TASKS, Condition.ROSTER)
LOOKS = {Weight.STOP: "bad", Weight.ASK: "warn", Weight.TELL: "second"}


class KeyingPage(ListPage):
    """The line above; what was entered last and the number board below."""

    name = "keying"
    title = "Enter marks"
    key = Key.PAGE_4
    hint = (
        "Number, Enter, distance, Enter. A bare Enter takes the next number; none means "
        "no mark was found."
    )
    foot_keys = (
        (Key.GO_ON, "next"),
        ("Tab", "bearing, time, note"),
        (Key.WHAT_IF, "what it would change"),
    )
    specs = (
        Spec("to_entry", "&Entry line", Key.NEW, "Back to the entry line", READY),
        Spec("correct", "&Correct", Key.CORRECT, "Correct your own entry", READY),
        Spec(
            "try_out",
            "&What it would change",
            Key.WHAT_IF,
            "Say what the entry line would change, before it is recorded",
            READY,
        ),
        Spec(
            "to_filter", "&Find", Key.FIND, "Find in the list", needs(Condition.EVENT)
        ),
        Spec(
            "clear",
            "Clear line",
            Key.OUT,
            "Empty the entry line",
            needs(Condition.EVENT),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.blind = Wrapped(look="told")
        self.blind.setAccessibleName("Who enters these marks")
        self.body.addWidget(self.blind)
        self.line = EntryLine()
        self.line.changed.connect(self._on_typed)
        self.line.number_done.connect(self._on_number)
        self.line.submitted.connect(self.submit)
        self.notices = self.line.told.question
        self.body.addWidget(self.line)
        self.table = TableView(OWN_COLUMNS, "Your last entries", key=lambda r: r.ids)
        self.table.entered.connect(lambda _: self.correct())
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.own = held(self._own_list())
        self.board = BoardCard("Numbers of all pilots")
        self.board.board.entered.connect(self._take_number)
        low = QHBoxLayout()
        low.setSpacing(BETWEEN)
        low.addWidget(self.own, 11)
        low.addWidget(self.board, 10)
        self.body.addLayout(low, 1)
        self.rows: list[MarkRow] = []
        self.trial = Trial(self.session, self)
        self.trial.told.connect(lambda text: self.line.told.ask(text, "second"))
        self._tried: Typed | None = None
        self._asked: tuple[Said, ...] = ()
        self._replaces: tuple[EntryId, ...] = ()
        self._restored = ("", "")
        self._last = 0
        self._told_differ: set[tuple[int, int]] = set()
        self._shown_task: int | None = None
        self.session.shelf.neared.connect(self._on_near)
        self.session.recorded.connect(self._on_recorded)

    def _own_list(self) -> QVBoxLayout:
        self.search = Line(hint="find …")
        self.search.setAccessibleName("Find in the list")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self.table.proxy.set_words)
        head = QHBoxLayout()
        head.setSpacing(INSIDE)
        head.addWidget(section("Your last entries"))
        head.addWidget(self.search, 1)
        keys = ((Key.CORRECT, "correct"), (Key.REVERT, "revert the last"))
        self.list_keys = hint_row(*keys)
        head.addWidget(self.list_keys)
        column = QVBoxLayout()
        column.setSpacing(INSIDE)
        column.addLayout(head)
        column.addWidget(self.table, 1)
        return column

    # What the event says.

    @property
    def chosen_task(self) -> Task | None:
        """The task of the whole window; with all of them, the first that has work."""
        if self.snapshot is None or not self.snapshot.event.tasks:
            return None
        chosen = self.snapshot.task(self.session.task)
        return chosen or self._first_with_work(self.snapshot)

    def _first_with_work(self, snapshot: Snapshot) -> Task:
        kept = snapshot.task(self._shown_task)
        if kept is not None:
            return kept
        for task in snapshot.event.tasks:
            if self._board(snapshot, task, self._rows(snapshot, task)).next_after(0):
                return task
        return snapshot.event.tasks[0]

    def _rows(self, snapshot: Snapshot, task: Task) -> list[MarkRow]:
        pending = self.session.pending
        return mark_rows(snapshot, task, self.session.who, pending=pending)

    def _board(self, snapshot: Snapshot, task: Task, rows: list[MarkRow]) -> Board:
        return mark_board(snapshot, self.session.results, task, rows)

    def enter(self) -> None:
        """Put the keyboard into the entry line."""
        self.line.to_start()

    def lead_to(self, what: object) -> None:
        """Go to the number of whoever a matter is about."""
        task = getattr(what, "task", None)
        if isinstance(task, int):
            self.session.choose_task(task)
        pilot = what if isinstance(what, int) else getattr(what, "pilot", None)
        if pilot is not None and not self.line.begun:
            self._take_number(pilot)

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the marks as they stand."""
        self._restore(snapshot)
        self._fill()
        self._on_typed()

    def rescored(self) -> None:
        """Who has a log is known anew."""
        self._fill()

    def task_chosen(self) -> None:
        """Show the marks of another task; what is typed stays."""
        self._fill()
        self._on_typed()

    def forget(self) -> None:
        """The event is closed: a half typed mark stays with its own."""
        super().forget()
        self.line.put({})
        self._replaces, self._asked, self._restored = (), (), ("", "")
        self._last, self._shown_task = 0, None
        self._told_differ.clear()

    def arrange(self) -> None:
        """Take another form: with little room the board alone stands below."""
        small = self.form is Form.SMALL
        self.line.arrange(small=small)
        self.own.setVisible(not small)
        self.board.setVisible(True)
        self.list_keys.setVisible(self.form is Form.WIDE)

    @property
    def panes(self) -> list[QWidget]:
        """Line, last entries, numbers."""
        return [self.line.number, self.table, self.board.board]

    def next_pane(self, step: int = 1) -> None:
        """Go to the next pane; with little room list and board take turns."""
        if self.form is not Form.SMALL:
            super().next_pane(step)
            return
        panes, focus = self.panes, self.window().focusWidget()
        now = next((i for i, pane in enumerate(panes) if pane is focus), 0)
        to = panes[(now + step) % len(panes)]
        if to is not panes[0]:
            self.own.setVisible(to is self.table)
            self.board.setVisible(to is not self.table)
        self.to_pane(to)

    def _fill(self) -> None:
        task, snapshot = self.chosen_task, self.snapshot
        if task is None or snapshot is None:
            self.rows = []
            self.table.set_rows([])
            self.board.show_board(Board())
            say_or_hide(self.blind, "")
            self.say_hint(self._word("entry-no-task") if snapshot else self.hint)
            return
        if task.number != self._shown_task:
            self._shown_task, self._last = task.number, 0
            self._set_up_line(snapshot, task)
        self.rows = self._rows(snapshot, task)
        board = self._board(snapshot, task, self.rows)
        mine = own_rows(snapshot, task, self.session.who, self.session.pending)
        self.table.set_rows(mine)
        self.board.show_board(board)
        self._tell_blind(board)
        self._tell_differing(task, mine)
        self._tell_task(snapshot, task)
        self.line.set_next(self._following(board))

    def _tell_task(self, snapshot: Snapshot, task: Task) -> None:
        """Say into which task marks go where the window shows all of them."""
        unsaid = self.session.task is None and len(snapshot.event.tasks) > 1
        into = fact("keying-into", task=number(task.number))
        hint = self._say(into) if unsaid else self.hint
        none = not snapshot.event.pilots
        self.say_hint(self._word("entry-no-pilots") if none else hint)

    def _following(self, board: Board) -> str:
        """Return whose mark a bare Enter takes; at last those that others entered once."""
        following = board.next_after(self._last)
        if following is not None:
            return str(following)
        seconds = [r.pilot for r in self.rows if r.state is MarkState.SECOND]
        later = [pilot for pilot in seconds if pilot > self._last]
        return str(next(iter(later or seconds), ""))

    def _set_up_line(self, snapshot: Snapshot, task: Task) -> None:
        points = [p.name for p in snapshot.event.places if p.is_point]
        rule = snapshot.event.book_of(task).keying
        wants = {"time": rule.drop_time, "measurer": rule.measurer}
        self.line.set_up(
            bare=snapshot.bare,
            roles=roles_of(task),
            points=points,
            wanted=[name for name, wanted in wants.items() if wanted],
        )
        self.table.setColumnHidden(2, not roles_of(task))

    def _tell_blind(self, board: Board) -> None:
        """Say who is second here, or that somebody else has to be."""
        own = sum(row.state is MarkState.ONCE for row in self.rows)
        told: tuple[str, str] = "", ""
        if any(row.state is MarkState.SECOND for row in self.rows):
            name = self._second_of(self.snapshot, self.chosen_task)
            told = self._word(name), self._word(f"{name}-then")
        elif own and not board.of(CellState.YOURS):
            says = fact("entry-all-yours", marks=count(own))
            told = self._say(says), self._word("entry-all-yours-then")
        first, then = map(escape, told)
        say_or_hide(self.blind, f"<b>{first}</b>&ensp;{then}" if first else "", "told")
        self.blind.setAccessibleDescription(" ".join(told).strip())

    @staticmethod
    def _second_of(snapshot: Snapshot | None, task: Task | None) -> str:
        """Name what to say to who enters second; values are secret where both must."""
        if (
            snapshot is None
            or task is None
            or snapshot.event.book_of(task).keying.twice
        ):
            return "entry-second-person"
        return "entry-once-enough"

    def _tell_differing(self, task: Task, mine: list[OwnRow]) -> None:
        """Tell once that the entry just made differs from the first one."""
        for row in mine:
            key = (task.number, row.pilot)
            fresh = row.pilot == self._last and key not in self._told_differ
            if row.beside is WithFirst.DIFFER and fresh:
                self._told_differ.add(key)
                says = fact("entry-differs", pilot=pilot_value(row.pilot))
                self.note.emit(self._say(says))

    def _say(self, stated: Said) -> str:
        snapshot = self.snapshot
        voice = Voice.of(snapshot.event) if snapshot else Voice()
        return voice.sentence(stated)

    @staticmethod
    def _word(name: str) -> str:
        return Voice().word(name)

    # The entry line.

    def typed(self) -> Typed | None:
        """Return what stands in the entry line."""
        task = self.chosen_task
        if task is None:
            return None
        fields = {"task": str(task.number), **self.line.fields()}
        return Typed(
            flight=task.flight,
            task=task.number,
            who=self.session.who,
            fields={**fields, "by": self.session.who},
            replaces=self._replaces,
        )

    def checked(self) -> tuple[Notice, ...]:
        """Return all notices about the entry line."""
        typed, snapshot = self.typed(), self.snapshot
        if typed is None or snapshot is None or not self.line.begun:
            return ()
        pilot = self.line.pilot()
        beside = self.session.shelf.near.get((typed.task, pilot or 0))
        return check(snapshot, typed, beside=beside, pending=self.session.pending)

    def submit(self) -> None:
        """Record the entry line, if nothing stops it; each doubt is asked about once."""
        typed, snapshot = self.typed(), self.snapshot
        if typed is None or snapshot is None:
            self.note.emit(self._word("entry-no-task"))
            return
        found = self.checked()
        stops = [n for n in found if n.weight is Weight.STOP]
        asks = [n for n in found if n.weight is Weight.ASK]
        left = [n for n in asks if n.says not in self._asked]
        if stops:
            self._show(found)
            self.line.go_to_fault(stops[0].field)
            return
        if left:
            self._asked = (*self._asked, left[0].says)
            self._show(left)
            return
        self._last = self.line.pilot() or 0
        self.session.record(
            MarkKeyed(flight=typed.flight, fields=typed.fields),
            why="corrected" if self._replaces else "",
            replaces=self._replaces,
        )
        self._tell_recorded(snapshot, typed)
        self.clear()

    def _tell_recorded(self, snapshot: Snapshot, typed: Typed) -> None:
        pilot = words(typed.fields.get("pilot", ""))
        value = words(understood(typed.fields, snapshot))
        outbox = self.session.outbox
        away = self.session.problem or (outbox.problem if outbox else "")
        if away:
            self.note.emit(self._say(fact("entry-kept", pilot=pilot, value=value)))
        else:
            self.note.emit(self._say(fact("entry-recorded", pilot=pilot, value=value)))

    def try_out(self) -> None:
        """Say what the entry line would change, in the place of what was understood."""
        typed, found = self.typed(), self.checked()
        stops = [n for n in found if n.weight is Weight.STOP]
        if typed is None or not self.line.complete:
            self.note.emit(self._word("entry-try-what"))
        elif stops:
            self._show(found)
            self.line.go_to_fault(stops[0].field)
        else:
            self._tried = typed
            act = MarkKeyed(flight=typed.flight, fields=typed.fields)
            draft = Draft(act=act, replaces=typed.replaces)
            pilot = self.line.pilot()
            self.trial.ask(lambda: [draft], typed.task, pilot, after_ms=0)

    def clear(self) -> None:
        """Empty the entry line and go to its start."""
        self._replaces, self._asked = (), ()
        self.line.clear()
        self.line.to_start()
        self._show(())

    def _take_number(self, pilot: int) -> None:
        """Put a number of the board into the line."""
        self.line.number.setText(str(pilot))
        self._on_number()
        self.line.distance.setFocus()

    def _on_number(self) -> None:
        task, pilot = self.chosen_task, self.line.pilot()
        if task is not None and pilot is not None:
            self.session.shelf.ask_near(task.number, pilot)

    def _on_near(self, near: TrackReady) -> None:
        if self.line.pilot() == near.pilot:
            self._on_typed()

    def _on_recorded(self) -> None:
        """Say what is so now of what stands in the line; out of sight it waits."""
        if self.isVisible():
            self._on_typed()

    def _on_typed(self) -> None:
        self._asked = ()
        if self._restored == self._here:  # else a crash's text waits there
            self.session.unsaved.keep(self._form, self._unsaved())
        self._tell_name()
        self._tell_length()
        if self._tried is not None and self._tried == self.typed():
            return  # what it would change stays until something else is typed
        self._tried = None
        self.trial.drop()
        found = self.checked()
        typing = self.line.typing_number or not self.line.complete
        early = [n for n in found if n.field == "pilot"] if typing else found
        self._show(tuple(early) if self.line.begun else ())

    def _tell_name(self) -> None:
        pilot, snapshot = self.line.pilot(), self.snapshot
        known = snapshot.event.pilot(pilot) if snapshot and pilot is not None else None
        self.board.point_at(pilot if known else None)
        self.line.name.setText(f"{known.number}  {known.name}" if known else "")
        self.line.told.about.setText(_about(known) if known else "")

    def _tell_length(self) -> None:
        text, snapshot = self.line.distance.text().strip(), self.snapshot
        read, other = "", ""
        if snapshot is not None and self.line.method_text() == "none":
            read = Voice.of(snapshot.event).term("method-none")
        elif text and snapshot is not None:
            try:
                metres = length_m(text, snapshot.bare)
                read = Voice.of(snapshot.event).length(metres)
                other = f"{float(metres):.2f} m" if snapshot.imperial else ""
            except Unreadable:
                read = ""
        self.line.read_as.setText(read)
        self.line.told.other.setText(other)

    def _show(self, found: Sequence[Notice]) -> None:
        """Ask or refuse in the place of what was understood, one thing at a time."""
        loud = [n for n in found if n.weight is not Weight.TELL]
        worst = loud[0].weight if loud else Weight.TELL
        first = next((self._say(n.says) for n in loud if n.weight is worst), "")
        self.line.told.ask(first, LOOKS[worst])
        self.line.mark_wrong([n.field for n in found if n.weight is Weight.STOP])

    # Unsaved text.

    @property
    def _here(self) -> tuple[str, str]:
        """Which event is shown, and who is at the desk."""
        return self.session.target, folded(self.session.who)

    @property
    def _form(self) -> str:
        """What is typed is the official's own: it may be a first value."""
        return f"{FORM} {folded(self.session.who)}"

    def _unsaved(self) -> dict[str, str]:
        texts = self.line.texts()
        if not any(texts.values()):
            return {}
        replaces = " ".join(self._replaces)
        return {**texts, "on task": str(self._shown_task or ""), REPLACES: replaces}

    def _restore(self, snapshot: Snapshot | None) -> None:
        """Put back, once for each event and official, what was left in the line."""
        if snapshot is None or self._here == self._restored:
            return
        texts = self.session.unsaved.of(self._form)
        if self.line.begun or texts:
            replaces = texts.get(REPLACES, "")
            self._replaces, self._asked = tuple(map(EntryId, replaces.split())), ()
            self.line.put(texts)  # in the place of what another official typed
        self._restored = self._here
        if texts:
            self.session.choose_task(whole_number(texts.get("on task", "")))
            self.note.emit(self._word("entry-back"))

    # Commands.

    def to_entry(self) -> None:
        """Go to the entry line."""
        self.line.to_start()

    def to_filter(self) -> None:
        """Go to the finder."""
        self.search.setFocus()
        self.search.selectAll()

    def correct(self) -> None:
        """Put the own entry of the number typed, or of the chosen row, into the line.

        Once it differs from the other one, correcting it could hide that: it leads to
        where somebody chooses.
        """
        row = self._row_to_correct()
        if row is None or not row.ids:
            self.note.emit(self._word("entry-not-yours"))
            return
        if row.beside is WithFirst.DIFFER:
            self.go.emit("settle", row.pilot)
            return
        self.clear()
        self._replaces = row.ids
        self.line.put(dict(row.fields))
        self.line.distance.setFocus()
        self.line.distance.selectAll()
        self._on_typed()

    def _row_to_correct(self) -> OwnRow | None:
        typed, rows = self.line.pilot(), self.table.rows_model.rows
        if typed is not None and not self.table.hasFocus():
            return next((row for row in rows if row.pilot == typed), None)
        row = self.table.row
        return row if isinstance(row, OwnRow) else None

    def revert(self) -> None:
        """Take back the last mark that this official entered in this task."""
        written = [row for row in self.table.rows_model.rows if row.ids]
        if not written:
            self.note.emit(self._word("entry-nothing-of-yours"))
            return
        last = max(written, key=lambda row: row.order)
        self.session.undo(last.ids[0], why=f"reverted by {self.session.who}")
        self.clear()
        self.line.put(dict(last.fields))
        self._on_typed()
        pilot, value = words(str(last.pilot)), words(last.value)
        self.note.emit(self._say(fact("entry-reverted", pilot=pilot, value=value)))


def _about(pilot: Pilot) -> str:
    guest = "" if pilot.competes else Voice().word("out-of-competition")
    parts = (pilot.registration, pilot.class_name, guest)
    return "  ·  ".join(filter(None, parts))
