"""Keying marks, by keyboard alone: number, distance, Enter, next."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
)

from gui.actions import Spec, needs
from gui.keys import Key
from gui.livecheck import Notice, Typed, Weight, check
from gui.models.marks import COLUMNS, MarkRow, MarkState, mark_rows, roles_of
from gui.pages.entry_line import EntryLine
from gui.pages.page import ListPage
from gui.shelf import Near
from gui.snapshot import Snapshot
from gui.state import Fact
from gui.theme import Theme
from gui.view import Table
from gui.widgets import held, label, say
from scorer.event import matters
from scorer.event.model import Task
from scorer.facts import Fact as Said
from scorer.ledger.acts import EntryId, MarkKeyed, RowAct
from scorer.units import Unreadable, length_m, show_length
from scorer.words.voice import Voice

FORM = "keying"
READY = needs(Fact.EVENT, Fact.WRITABLE, Fact.TASKS, Fact.ROSTER)
VIEWS = (
    ("everything", None),
    ("still to enter by me", {MarkState.MISSING, MarkState.SECOND}),
    ("differing", {MarkState.DIFFERS}),
    ("entered once", {MarkState.ONCE, MarkState.SECOND}),
    ("done", {MarkState.AGREE, MarkState.SETTLED}),
)
"""What the list can be narrowed to."""


class KeyingPage(ListPage):
    """The entry line above, the marks of the task below."""

    name = "keying"
    title = "Enter marks"
    key = Key.PAGE_4
    hint = (
        "Number, Enter, distance, Enter; a bare Enter takes the next pilot. "
        "“none” = no mark found. Tab goes on to bearing and time."
    )
    specs = (
        Spec("to_entry", "&Entry line", Key.NEW, "Back to the entry line", READY),
        Spec("correct", "&Correct row", Key.CORRECT, "Correct your own entry", READY),
        Spec("take_back", "&Revert", Key.REVERT, "Revert your last entry", READY),
        Spec("to_filter", "&Find", Key.FIND, "Find in the list", needs(Fact.EVENT)),
        Spec("to_task", "&Task", Key.NONE, "Choose the task", needs(Fact.TASKS)),
        Spec(
            "next_view", "Narrow &list", Key.NONE, "Show all, to enter, differing, done"
        ),
        Spec("clear", "Clear line", Key.OUT, "Empty the entry line", needs(Fact.EVENT)),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.task = QComboBox()
        self.task.setAccessibleName("Task")
        self.task.currentIndexChanged.connect(self._on_task)
        self.role = QLabel()
        self.counts = label(look="muted")
        top = QHBoxLayout()
        top.addWidget(QLabel("Task"))
        top.addWidget(self.task)
        top.addWidget(self.role)
        top.addStretch(1)
        top.addWidget(self.counts)
        self.body.addLayout(top)
        self.line = EntryLine()
        self.line.changed.connect(self._on_typed)
        self.line.number_done.connect(self._on_number)
        self.line.submitted.connect(self.submit)
        self.body.addWidget(self.line)
        self.notices = QLabel()
        self.notices.setWordWrap(True)
        self.notices.setAccessibleName("Checks of the entry line")
        self.notices.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.notices.setMinimumHeight(self.notices.fontMetrics().height() * 3)
        self.body.addWidget(self.notices)
        self.body.addLayout(self._finder())
        self.table = Table(
            COLUMNS, "Marks of the task", key=lambda r: (r.pilot, r.mark)
        )
        self.table.sortByColumn(0, Qt.SortOrder.AscendingOrder)
        self.table.entered.connect(lambda _: self.correct())
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.body.addWidget(self.table, 1)
        self._asked: tuple[Said, ...] = ()
        self._replaces: tuple[EntryId, ...] = ()
        self._restored = ""
        self.session.shelf.neared.connect(self._on_near)
        self.session.recorded.connect(lambda _: self._on_typed())

    def _finder(self) -> QHBoxLayout:
        self.search = QLineEdit(placeholderText="find number, name, value …")
        self.search.setAccessibleName("Find in the list")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._find)
        self.view = QComboBox()
        self.view.setAccessibleName("Narrow the list")
        self.view.addItems([name for name, _ in VIEWS])
        self.view.currentIndexChanged.connect(self._on_view)
        row = QHBoxLayout()
        row.addWidget(QLabel("List"))
        row.addWidget(self.view)
        row.addWidget(self.search, 1)
        row.addWidget(held(self.buttons("correct", "take_back")))
        return row

    # What the event says.

    @property
    def chosen_task(self) -> Task | None:
        """The task that is being keyed."""
        number = self.task.currentData()
        return self.snapshot.task(number) if self.snapshot else None

    def enter(self) -> None:
        """Put the keyboard into the entry line."""
        self.line.to_start()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the marks as they stand."""
        self._fill_tasks(snapshot)
        self._fill_rows()
        self._restore(snapshot)
        self._on_typed()

    def rescored(self) -> None:
        """Show warnings of the score beside the marks."""
        self._fill_rows()

    def set_theme(self, theme: Theme) -> None:
        """Take over colours and the size of text."""
        super().set_theme(theme)
        self.line.fit()

    def _fill_tasks(self, snapshot: Snapshot | None) -> None:
        tasks = snapshot.event.tasks if snapshot else ()
        items = [(f"{t.number} · {t.kind} · {t.flight}", t.number) for t in tasks]
        shown = [
            (self.task.itemText(i), self.task.itemData(i))
            for i in range(self.task.count())
        ]
        if items == shown:
            return
        before = self.task.currentData()
        self.task.blockSignals(True)
        self.task.clear()
        for text, number in items:
            self.task.addItem(text, number)
        numbers = [number for _, number in items]
        self.task.setCurrentIndex(numbers.index(before) if before in numbers else 0)
        self.task.blockSignals(False)
        self._set_up_line()

    def _fill_rows(self) -> None:
        task, snapshot = self.chosen_task, self.snapshot
        if task is None or snapshot is None:
            self.table.set_rows([])
            self.counts.setText("")
            self.role.setText("")
            return
        rows = mark_rows(
            snapshot,
            task,
            self.session.who,
            pending=self.session.pending,
            warnings=self._warnings(task),
        )
        self.table.set_rows(rows)
        self._tell_counts(rows)
        self.line.set_next(self._next_pilot(rows))

    def _warnings(self, task: Task) -> list[tuple[int, str]]:
        scored = self.session.results
        if scored is None or scored.results is None:
            return []
        own = [w for w in scored.results.matters if w.task == task.number]
        return [
            (w.pilot, scored.results.voice.say(w.says))
            for w in own
            if w.pilot is not None
            and w.kind in {matters.MARK_FAR_FROM_TRACK, matters.KEYING}
        ]

    def _tell_counts(self, rows: list[MarkRow]) -> None:
        counts = {state: sum(r.state is state for r in rows) for state in MarkState}
        first, second = counts[MarkState.MISSING], counts[MarkState.SECOND]
        done = counts[MarkState.AGREE] + counts[MarkState.SETTLED]
        self.role.setText(f"entered by <b>{self.session.who}</b>")
        parts = [
            f"{first} to enter",
            f"{second} to enter a second time by you",
            f"{counts[MarkState.ONCE]} wait for somebody else",
            f"{done} done",
        ]
        if counts[MarkState.DIFFERS]:
            parts.append(f"{counts[MarkState.DIFFERS]} differ (page Compare entries)")
        self.counts.setText(" · ".join(parts))

    @staticmethod
    def _next_pilot(rows: list[MarkRow]) -> str:
        """Return whose mark comes next: first those nobody keyed, then second keyings."""
        for state in (MarkState.MISSING, MarkState.SECOND):
            for row in rows:
                if row.state is state:
                    return str(row.pilot)
        return ""

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
        near_m = self.session.shelf.near.get((typed.task, pilot or 0))
        return check(snapshot, typed, near_m=near_m, pending=self.session.pending)

    def submit(self) -> None:
        """Record the entry line, if nothing stops it; ask once where something might."""
        typed = self.typed()
        if typed is None:
            self.note.emit("make a task first, on the page Places & tasks")
            return
        found = self.checked()
        stops = [n for n in found if n.weight is Weight.STOP]
        asks = tuple(n.says for n in found if n.weight is Weight.ASK)
        if stops:
            self._show(found)
            self.line.go_to_fault(stops[0].field)
            return
        if asks and self._asked != asks:
            self._asked = asks
            self._show(found)
            return
        self.session.record(
            MarkKeyed(flight=typed.flight, fields=typed.fields),
            why="corrected" if self._replaces else "",
            replaces=self._replaces,
        )
        self.note.emit(f"recorded: pilot {typed.fields.get('pilot', '')}")
        self.clear()

    def clear(self) -> None:
        """Empty the entry line and go to its start."""
        self._replaces, self._asked = (), ()
        self.line.clear()
        self.line.to_start()
        self._show(())

    def _on_number(self) -> None:
        task, pilot = self.chosen_task, self.line.pilot()
        if task is not None and pilot is not None:
            self.session.shelf.ask_near(task.number, pilot)

    def _on_near(self, near: Near) -> None:
        if self.line.pilot() == near.pilot:
            self._on_typed()

    def _on_typed(self) -> None:
        self._asked = ()
        if self._restored == self.session.target:  # else a crash's text waits there
            self.session.unsaved.keep(FORM, self._unsaved())
        self._tell_name()
        self._tell_length()
        found = self.checked()
        typing = self.line.typing_number or not self.line.complete
        early = [n for n in found if n.field == "pilot"] if typing else found
        self._show(tuple(early) if self.line.begun else ())

    def _tell_name(self) -> None:
        pilot, snapshot = self.line.pilot(), self.snapshot
        known = snapshot.event.pilot(pilot) if snapshot and pilot is not None else None
        self.line.tell_name(known.name if known else "", known=known is not None)

    def _tell_length(self) -> None:
        text, snapshot = self.line.distance.text().strip(), self.snapshot
        if not text or snapshot is None:
            self.line.read_as.setText("")
            return
        try:
            metres = float(length_m(text, snapshot.bare))
        except Unreadable:
            self.line.read_as.setText("")
            return
        shown = show_length(metres, snapshot.event.units)
        both = f"{shown} = {metres:.2f} m" if snapshot.imperial else shown
        self.line.read_as.setText(
            f"= {both}" if self.line.method_text() != "none" else ""
        )

    def _show(self, found: tuple[Notice, ...]) -> None:
        worst = found[0].weight if found else Weight.TELL
        kind = {Weight.STOP: "bad", Weight.ASK: "warn", Weight.TELL: "muted"}[worst]
        voice = Voice.of(self.snapshot.event) if self.snapshot else Voice()
        lines = [voice.sentence(n.says) for n in found]
        if worst is Weight.ASK and self._asked:
            lines.append(
                "Enter once more records it all the same; Esc empties the line."
            )
        say(self.notices, "\n".join(lines), kind)
        self.line.mark_wrong([n.field for n in found if n.weight is Weight.STOP])

    # Unsaved text.

    def _unsaved(self) -> dict[str, str]:
        texts = self.line.texts()
        if not any(texts.values()):
            return {}
        return {**texts, "on task": str(self.task.currentData() or "")}

    def _restore(self, snapshot: Snapshot | None) -> None:
        """Put back, once for each event, what stood in the line when it was left."""
        target = self.session.target if snapshot else ""
        if target == self._restored:
            return
        self._restored = target
        texts = self.session.unsaved.of(FORM)
        if not texts or self.line.begun:
            return
        for i in range(self.task.count()):
            if str(self.task.itemData(i)) == texts.get("on task"):
                self.task.setCurrentIndex(i)
        self.line.put(texts)
        self.note.emit("what stood in the entry line when you left is back")

    # Commands.

    def to_entry(self) -> None:
        """Go to the entry line."""
        self.line.to_start()

    def to_filter(self) -> None:
        """Go to the finder."""
        self.search.setFocus()
        self.search.selectAll()

    def to_task(self) -> None:
        """Go to the choice of task."""
        self.task.setFocus()

    def next_view(self) -> None:
        """Narrow the list to the next view."""
        self.view.setCurrentIndex((self.view.currentIndex() + 1) % len(VIEWS))

    def correct(self) -> None:
        """Put the official's own entry of the chosen row into the line."""
        row: MarkRow | None = self.table.row
        if row is None or not row.own:
            self.note.emit(
                "only your own entry can be corrected; choose a row you entered"
            )
            return
        act = self._act_of(row.own[0])
        if act is None:
            return
        self.clear()
        self._replaces = row.own
        self.line.put(dict(act.fields))
        self.line.distance.setFocus()
        self.line.distance.selectAll()
        self._on_typed()

    def _act_of(self, entry_id: EntryId) -> RowAct | None:
        for slot in self.snapshot.slots if self.snapshot else ():
            for current in slot.keyings:
                if entry_id in current.ids and isinstance(current.act, RowAct):
                    return current.act
        return None

    def take_back(self) -> None:
        """Take back the last mark that this official keyed in this task."""
        ledger, task, snapshot = self.session.ledger, self.chosen_task, self.snapshot
        if ledger is None or task is None or snapshot is None:
            return
        own = [
            (current.entry.order, current)
            for slot in snapshot.slots
            if (slot.slot.flight, slot.slot.task) == (task.flight, str(task.number))
            for current in slot.keyings
            if current.entry.who == self.session.who
        ]
        if not own:
            self.note.emit("there is nothing of yours to revert in this task")
            return
        current = max(own, key=lambda item: item[0])[1]
        self.session.undo(current.entry.hash, why=f"reverted by {self.session.who}")
        fields = current.act.fields if isinstance(current.act, RowAct) else {}
        self.clear()
        self.line.put(dict(fields))
        self._on_typed()
        self.note.emit(
            f"reverted: pilot {fields.get('pilot', '')}; it stands in the line again"
        )

    def _on_task(self) -> None:
        self._set_up_line()
        self._fill_rows()
        self._on_typed()

    def _set_up_line(self) -> None:
        task, snapshot = self.chosen_task, self.snapshot
        if task is None or snapshot is None:
            return
        points = [p.name for p in snapshot.event.places if p.is_point]
        self.line.set_up(bare=snapshot.bare, roles=roles_of(task), points=points)
        self.table.setColumnHidden(2, not roles_of(task))

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    def _on_view(self, index: int) -> None:
        wanted = VIEWS[index][1]
        self.table.proxy.set_wanted(
            None if wanted is None else lambda row: row.state in wanted
        )
