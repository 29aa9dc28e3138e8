"""What officials saw in the field, goals that pilots declared, and the target log."""

from collections.abc import Mapping

from PySide6.QtWidgets import QHBoxLayout, QLineEdit

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.fieldnotes import (
    COLUMNS,
    DECLARED,
    KINDS,
    NoteKind,
    NoteRow,
    faults_of,
    note_rows,
)
from gui.pages.page import ListPage
from gui.snapshot import Snapshot
from gui.state import Fact
from gui.view import Table
from gui.widgets import (
    choice,
    choose,
    field,
    held,
    label,
    refill,
    say,
    say_or_hide,
    section,
)
from scorer.ledger.acts import EntryId

READY = needs(Fact.EVENT, Fact.WRITABLE, Fact.TASKS)
FORM = "field note"


class FieldNotesPage(ListPage):
    """A list, and the line to enter in."""

    name = "fieldnotes"
    title = "Observer reports"
    hint = (
        "Reports of officials, declared goals, and what happened to targets. Enter in the "
        "line records."
    )
    shows_heights = True
    specs = (
        Spec("to_entry", "&New report", Key.NEW, "Go to the line", READY),
        Spec("correct", "&Change row", Key.CORRECT, "Change the chosen report", READY),
        Spec("withdraw", "&Revert…", Key.REMOVE, "Revert the chosen report", READY),
        Spec("to_search", "&Find", Key.FIND, "Find in the list", needs(Fact.EVENT)),
        Spec("clear", "Clear line", Key.OUT, "Empty the line", needs(Fact.EVENT)),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.search = field("Find in the list", "find …", changed=self._find)
        row = self.buttons("to_entry", "correct", "withdraw", before=(self.search,))
        self.body.addWidget(row)
        self.table = Table(COLUMNS, "Reports and declarations", key=lambda r: r.ids)
        self.table.entered.connect(lambda _: self.correct())
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.body.addWidget(self.table, 1)
        self.body.addWidget(section("Enter or change a report"))
        self.task = choice("Task")
        self.what = choice("What", *[(kind, kind) for kind in KINDS])
        self.what.currentIndexChanged.connect(lambda _: self._on_what())
        self.pilot = field("Pilot's number", "pilot's number")
        self.time = field("Time", "HH:MM:SS")
        self.value = field("Value", "height or value")
        self.remark = field("Note", "note")
        self.owner = label(look="name")
        line = QHBoxLayout()
        for widget, share in (
            (self.task, 0),
            (self.what, 0),
            (self.pilot, 1),
            (self.time, 1),
            (self.value, 2),
            (self.remark, 3),
        ):
            line.addWidget(widget, share)
        for box in (self.pilot, self.time, self.value, self.remark):
            box.returnPressed.connect(self.submit)
            box.textEdited.connect(lambda _: self._keep())
        self.pilot.textChanged.connect(lambda _: self._tell_name())
        self.body.addWidget(held(line))
        self.told = label(wrap=True)
        self.told.hide()
        self.body.addWidget(self.owner)
        self.body.addWidget(self.told)
        self._replaces: tuple[EntryId, ...] = ()
        self._row: NoteRow | None = None
        """What is being changed: its other columns stay."""
        self._restored = ""

    def enter(self) -> None:
        """Go to the line."""
        self._to_line()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the notes as they stand."""
        tasks = snapshot.event.tasks if snapshot else ()
        refill(self.task, [(f"task {t.number}", t.number) for t in tasks])
        self.table.set_rows(note_rows(snapshot) if snapshot else [])
        self._tell_name()
        if snapshot is not None and self._restored != self.session.target:
            self._restored = self.session.target
            texts = self.session.unsaved.of(FORM)
            for name, box in self._boxes().items():
                box.setText(texts.get(name, ""))

    def _boxes(self) -> dict[str, QLineEdit]:
        return {
            "pilot": self.pilot,
            "time": self.time,
            "value": self.value,
            "note": self.remark,
        }

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    def _keep(self) -> None:
        texts = {name: box.text() for name, box in self._boxes().items()}
        self.session.unsaved.keep(FORM, texts)

    @property
    def kind(self) -> NoteKind:
        """What is being noted down."""
        return KINDS[str(self.what.currentData())]

    def _on_what(self) -> None:
        self.value.setPlaceholderText(self.kind.hint)
        self.pilot.setEnabled(self.kind.of_pilot)

    def _tell_name(self) -> None:
        text, snapshot = self.pilot.text().strip(), self.snapshot
        number = int(text) if text.isascii() and text.isdigit() else 0
        name = snapshot.pilot_name(number) if snapshot else ""
        unknown = bool(text) and not name
        say(
            self.owner,
            "no pilot has this number" if unknown else name,
            "bad" if unknown else "name",
        )

    # Recording.

    def submit(self) -> None:
        """Record the line."""
        snapshot = self.snapshot
        task = snapshot.task(self.task.currentData()) if snapshot else None
        if snapshot is None or task is None:
            self.note.emit("make a task first, on the page Places & tasks")
            return
        what, kind = str(self.what.currentData()), self.kind
        pilot = self.pilot.text().strip() if kind.of_pilot else ""
        texts = {
            "task": str(task.number),
            "pilot": pilot,
            kind.told: kind.is_,
            kind.value: self.value.text().strip(),
            "time": self.time.text().strip(),
            "by": self.session.who,
            "note": self.remark.text().strip(),
        }
        fields = self._others(what, texts) | {n: t for n, t in texts.items() if n and t}
        faults = faults_of(snapshot, task.flight, fields, what)
        if what == DECLARED and "goal" not in fields:
            faults = [*faults, "goal: a place, or coordinates as declared"]
        say_or_hide(self.told, "\n".join(faults), "bad")
        if faults:
            return
        act = kind.act(flight=task.flight, fields=fields)
        self.session.record(act, replaces=self._replaces)
        self.note.emit(f"recorded: {what}{f', pilot {pilot}' if pilot else ''}")
        self.clear()

    def _others(self, what: str, texts: Mapping[str, str]) -> dict[str, str]:
        """Return what the row being changed says beyond the form: a height, a place."""
        row = self._row
        if row is None or row.kind != what:
            return {}
        taken = {*texts, "unit"}  # a unit stands with its value
        return {name: text for name, text in row.fields.items() if name not in taken}

    def clear(self) -> None:
        """Empty the line."""
        self._replaces, self._row = (), None
        for box in self._boxes().values():
            box.clear()
        say_or_hide(self.told, "")
        self._keep()
        self._to_line()

    def _to_line(self) -> None:
        (self.pilot if self.kind.of_pilot else self.time).setFocus()

    def to_entry(self) -> None:
        """Go to the line."""
        self._to_line()

    def to_search(self) -> None:
        """Go to the finder."""
        self.search.setFocus()

    def correct(self) -> None:
        """Put the chosen note into the line."""
        row: NoteRow | None = self.table.row
        if row is None:
            return
        self.clear()
        self._replaces, self._row = row.ids, row
        choose(self.task, row.task)
        choose(self.what, row.kind)
        self.pilot.setText(row.fields.get("pilot", ""))
        self.time.setText(row.fields.get("time", ""))
        self.value.setText(row.value)
        self.remark.setText(row.fields.get("note", ""))

    def withdraw(self) -> None:
        """Take the chosen note back, with a reason."""
        row: NoteRow | None = self.table.row
        if row is None:
            return
        why = ask.text(self, "Revert a report", f"Why is {row.kind} reverted?")
        if why and why.strip():
            self.session.withdraw(row.ids, why=why.strip())
