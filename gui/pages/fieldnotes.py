"""What officials saw in the field, and the goals that pilots declared."""

from PySide6.QtWidgets import QHBoxLayout, QLineEdit

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.fieldnotes import COLUMNS, DECLARED, NoteRow, faults_of, note_rows
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
from scorer.event.model import ReportKind
from scorer.ledger.acts import DeclarationMade, EntryId, ReportMade

READY = needs(Fact.EVENT, Fact.WRITABLE, Fact.TASKS)
FORM = "field note"


class FieldNotesPage(ListPage):
    """A list, and the line to enter in."""

    name = "fieldnotes"
    title = "Observer reports"
    hint = "Reports of officials and declared goals. Enter in the line records."
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
        row = self.buttons("to_entry", "correct", "withdraw")
        row.insertWidget(0, self.search, 1)
        self.body.addLayout(row)
        self.table = Table(COLUMNS, "Reports and declarations", key=lambda r: r.ids)
        self.table.entered.connect(lambda _: self.correct())
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.body.addWidget(self.table, 1)
        self.body.addWidget(section("Enter or change a report"))
        self.task = choice("Task")
        self.what = choice(
            "What", *[(str(k), str(k)) for k in ReportKind], (DECLARED, DECLARED)
        )
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
        self._restored = ""

    def enter(self) -> None:
        """Go to the line."""
        self.pilot.setFocus()

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

    def _on_what(self) -> None:
        declared = self.what.currentData() == DECLARED
        hint = "goal: a place, or coordinates" if declared else "height or value"
        self.value.setPlaceholderText(hint)

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
        declared = self.what.currentData() == DECLARED
        texts = {
            "task": str(task.number),
            "pilot": self.pilot.text().strip(),
            "kind": "" if declared else str(self.what.currentData()),
            "goal" if declared else "value": self.value.text().strip(),
            "time": self.time.text().strip(),
            "by": self.session.who,
            "note": self.remark.text().strip(),
        }
        fields = {name: text for name, text in texts.items() if text}
        faults = faults_of(snapshot, task.flight, fields, declared=declared)
        if declared and "goal" not in fields:
            faults = [*faults, "goal: a place, or coordinates as declared"]
        say_or_hide(self.told, "\n".join(faults), "bad")
        if faults:
            return
        form = DeclarationMade if declared else ReportMade
        self.session.record(
            form(flight=task.flight, fields=fields), replaces=self._replaces
        )
        self.note.emit(f"recorded: {self.what.currentText()}, pilot {texts['pilot']}")
        self.clear()

    def clear(self) -> None:
        """Empty the line."""
        self._replaces = ()
        for box in self._boxes().values():
            box.clear()
        say_or_hide(self.told, "")
        self._keep()
        self.pilot.setFocus()

    def to_entry(self) -> None:
        """Go to the line."""
        self.pilot.setFocus()

    def to_search(self) -> None:
        """Go to the finder."""
        self.search.setFocus()

    def correct(self) -> None:
        """Put the chosen note into the line."""
        row: NoteRow | None = self.table.row
        if row is None:
            return
        self.clear()
        self._replaces = row.ids
        choose(self.task, row.task)
        choose(self.what, row.kind)
        self.pilot.setText(row.fields.get("pilot", ""))
        self.time.setText(row.fields.get("time", ""))
        self.value.setText(row.fields.get("goal", "") or row.fields.get("value", ""))
        self.remark.setText(row.fields.get("note", ""))

    def withdraw(self) -> None:
        """Take the chosen note back, with a reason."""
        row: NoteRow | None = self.table.row
        if row is None:
            return
        why = ask.text(self, "Revert a report", f"Why is {row.kind} reverted?")
        if why and why.strip():
            self.session.withdraw(row.ids, why=why.strip())
