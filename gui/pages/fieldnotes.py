"""What officials saw in the field, goals that pilots declared, and the target log."""

from collections.abc import Mapping

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.fieldnotes import (
    COLUMNS,
    DEGREES,
    GRID,
    KINDS,
    NoteKind,
    NoteRow,
    faults_of,
    note_rows,
    place_cells,
    place_text,
    title_of,
)
from gui.pages.page import Form, ListPage
from gui.parts.echo import Echo, as_typed
from gui.parts.formcard import FormCard, two_columns
from gui.parts.kept import Kept
from gui.refusal import plainly
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.task_form import with_colons
from gui.theme import BETWEEN
from gui.view import TableView
from gui.widgets import choice, choose, label, refill, say, say_or_hide
from scorer.errors import ScorerError
from scorer.facts import fact, number, words
from scorer.ledger.acts import EntryId
from scorer.units import with_unit
from scorer.words.voice import Voice

READY = needs(Condition.EVENT, Condition.WRITABLE, Condition.TASKS)
FORM = "field note"
TIME_LETTERS, NUMBER_LETTERS, VALUE_LETTERS = 14, 10, 16


class FieldNotesPage(ListPage):
    """The reports on the left, one to enter or to change on the right."""

    name = "fieldnotes"
    title = "Observer reports"
    hint = Voice().word("note-page-hint")
    hints = ((Key.NEW, "new"), (Key.REMOVE, "revert"))
    foot_keys = (
        (Key.GO_ON, "record, or change the row"),
        (Key.CORRECT, "change the row"),
        (Key.PILOT, "pilot"),
        (Key.FIND, "find"),
    )
    shows_heights = True
    specs = (
        Spec("to_entry", "&New report", Key.NEW, "Go to the line", READY),
        Spec("correct", "&Change row", Key.CORRECT, "Change the chosen report", READY),
        Spec("withdraw", "&Revert…", Key.REMOVE, "Revert the chosen report", READY),
        Spec(
            "to_pilot", "&Pilot", Key.PILOT, "Page of the pilot", needs(Condition.EVENT)
        ),
        Spec(
            "to_search", "&Find", Key.FIND, "Find in the list", needs(Condition.EVENT)
        ),
        Spec("clear", "Clear line", Key.OUT, "Empty the line", needs(Condition.EVENT)),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.search = self.find_in_head(self._find)
        self.table = TableView(COLUMNS, "Reports and declarations", key=lambda r: r.ids)
        self.table.entered.connect(lambda _: self.correct())
        self.table.chosen.connect(lambda _: self.choice.emit())
        self.form_card = self._form()
        both = QHBoxLayout()
        both.setSpacing(BETWEEN)
        both.addWidget(self.table, 3)
        both.addWidget(self.form_card, 1)
        self.body.addLayout(both, 1)
        self._replaces: tuple[EntryId, ...] = ()
        self._row: NoteRow | None = None
        """What is being changed: its other columns stay."""
        boxes = {name: echo.field for name, echo in self.echoes.items()}
        self.kept = Kept(
            self.session, FORM, {"what": self.what, "task": self.task, **boxes}
        )
        self._on_what()

    def _form(self) -> FormCard:
        voice = Voice()
        self.task = choice("Task")
        self.what = choice("What", *[(title_of(kind), kind) for kind in KINDS])
        self.what.currentIndexChanged.connect(lambda _: self._on_what())
        self.echoes = {
            "pilot": Echo("Pilot's number", read=self._named, width=NUMBER_LETTERS),
            "time": Echo("Time", "hh:mm:ss", width=TIME_LETTERS),
            "value": Echo("Value", read=self._valued, width=VALUE_LETTERS),
            "at": Echo("Stands at", voice.word("note-hint-at")),
            "note": Echo("Note", "what was seen, in words"),
        }
        self.pilot, self.time, self.value, self.place, self.remark = (
            echo.field for echo in self.echoes.values()
        )
        for echo in self.echoes.values():
            echo.field.returnPressed.connect(self.submit)
        self.value_title = label(look="strong")
        self.pilot_title = label("Pilot's number", "strong")
        self.place_title = label("Stands at", "strong")
        card = FormCard(voice.word("note-new"), voice.word("note-record"))
        card.submitted.connect(self.submit)
        self.told = card.told
        rows: tuple[tuple[QWidget, QWidget], ...] = (
            (label("What", "strong"), self.what),
            (label("Task", "strong"), self.task),
            (self.pilot_title, self.echoes["pilot"]),
            (label("Time", "strong"), self.echoes["time"]),
            (self.value_title, self.echoes["value"]),
            (self.place_title, self.echoes["at"]),
            (label("Note", "strong"), self.echoes["note"]),
        )
        card.lay_out(two_columns(rows))
        card.body.addStretch(1)
        return card

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """Reports, and the form."""
        return self.table, self.form_card

    @property
    def panes(self) -> tuple[QWidget, QWidget]:
        """Reports, and where the form begins."""
        return self.table, self._first

    def arrange(self) -> None:
        """In a small window the form comes first, for work begins there."""
        if self.form is Form.SMALL:
            self._turn_to(self.form_card)

    def enter(self) -> None:
        """Go to the form; while nothing is typed it is about the task of the window."""
        if not self.pilot.text():
            self.task_chosen()
        self._to_line()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the notes as they stand."""
        tasks = snapshot.event.tasks if snapshot else ()
        refill(self.task, [(f"task {t.number}", t.number) for t in tasks])
        rows = note_rows(snapshot) if snapshot else []
        self.table.set_rows(rows)
        self.say_hint(self.hint if rows else Voice().word("note-none"))
        self.echoes["pilot"].check()
        if snapshot is not None and self.kept.restore():
            own = self.kept.changed_of(rows)
            if own is not None:
                self._replace(own)

    def task_chosen(self) -> None:
        """A report is about the task of the whole window, unless it says another."""
        if self._row is None and self.session.task is not None:
            choose(self.task, self.session.task)

    def lead_to(self, what: object) -> None:
        """Begin a report about whom a matter or a row is about."""
        task, pilot = getattr(what, "task", None), getattr(what, "pilot", None)
        number = what if isinstance(what, int) else pilot
        if task is not None:
            choose(self.task, task)
        if isinstance(number, int) and not self.pilot.text():
            self.pilot.setText(str(number))

    def forget(self) -> None:
        """The event is closed: a half typed report stays with its own."""
        super().forget()
        self.clear()
        self.kept.forget()

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    @property
    def kind(self) -> NoteKind:
        """What is being noted down."""
        return KINDS[str(self.what.currentData())]

    @property
    def _first(self) -> QLineEdit:
        return self.pilot if self.kind.of_pilot else self.time

    def _on_what(self) -> None:
        voice, kind = Voice(), self.kind
        ending = "" if kind.value == "value" else f"-{kind.value}"
        self.value_title.setText(voice.word(f"note-value{ending}"))
        self.value.setPlaceholderText(voice.word(f"note-hint-{kind.value}"))
        self.pilot.setEnabled(kind.of_pilot)
        for shown in (self.pilot_title, self.echoes["pilot"]):
            shown.setVisible(kind.of_pilot)
        for shown in (self.place_title, self.echoes["at"]):
            shown.setVisible(kind.moves)

    def _valued(self, text: str) -> str:
        """Read a height in the event's own unit; a goal or a target as it is typed."""
        if self.snapshot is None or self.kind.value != "value":
            return as_typed(text)
        read = with_unit(text, self.snapshot.bare)
        return read if read != text else ""

    def _named(self, text: str) -> str:
        """Read a number as the name of its pilot."""
        plain = text.isascii() and text.isdigit()
        name = self.snapshot.pilot_name(int(text)) if self.snapshot and plain else ""
        if not name:
            raise ScorerError(Voice().word("note-no-pilot"))
        return name

    # Recording.

    def submit(self) -> None:
        """Record the form."""
        snapshot = self.snapshot
        task = snapshot.task(self.task.currentData()) if snapshot else None
        flight = snapshot.flight(task.flight) if snapshot and task else None
        if snapshot is None or task is None or flight is None:
            say_or_hide(self.told, Voice().word("note-no-task"), "bad")
            return
        what, kind = str(self.what.currentData()), self.kind
        pilot = self.pilot.text().strip() if kind.of_pilot else ""
        texts = {
            "task": str(task.number),
            "pilot": pilot,
            kind.told: kind.is_,
            kind.value: self.value.text().strip(),
            "time": with_colons(self.time.text().strip()),
            "by": self.session.who,
            "note": self.remark.text().strip(),
        }
        place = self.place.text().strip() if kind.moves else ""
        try:
            texts |= dict.fromkeys(GRID + DEGREES, "") if kind.moves else {}
            texts |= place_cells(place) if place else {}
        except ScorerError as error:
            self._refuse({"at": plainly(error)})
            return
        fields = self._others(what, texts) | {n: t for n, t in texts.items() if n and t}
        if self._refuse(faults_of(snapshot, flight, fields, what)):
            return
        act = kind.act(flight=task.flight, fields=fields)
        self.session.record(act, replaces=self._replaces)
        self._tell_recorded(what, pilot)
        self.clear()

    def _refuse(self, faults: Mapping[str, str]) -> bool:
        """Tell faults under their fields, and go to the first; tell whether any is."""
        fields = {name: name for name in self.echoes} | {"value": self.kind.value}
        own = next((c for c in GRID + DEGREES if c in faults), "")
        fields["at"] = own or "at"
        for name, echo in self.echoes.items():
            echo.refuse(faults.get(fields[name], ""))
        rest = [t for name, t in faults.items() if name not in fields.values()]
        say_or_hide(self.told, "\n".join(rest), "bad")
        wrong = next((echo for echo in self.echoes.values() if echo.fault), None)
        if wrong is not None:
            self.to_pane(wrong.field)
            wrong.field.selectAll()
        return bool(faults)

    def _tell_recorded(self, what: str, pilot: str) -> None:
        said = fact("note-recorded", what=words(title_of(what)))
        if pilot:
            told = {"what": words(title_of(what)), "pilot": number(int(pilot))}
            said = fact("note-recorded-pilot", **told)
        self.note.emit(Voice().say(said))

    def _others(self, what: str, texts: Mapping[str, str]) -> dict[str, str]:
        """Return what the row being changed says beyond the form: a height, a place."""
        row = self._row
        if row is None or row.kind != what:
            return {}
        taken = {*texts, "unit"}  # a unit stands with its value
        return {name: text for name, text in row.fields.items() if name not in taken}

    def clear(self) -> None:
        """Empty the form."""
        self._replaces, self._row, self.kept.about = (), None, ""
        self.form_card.name_it(Voice().word("note-new"))
        for echo in self.echoes.values():
            echo.field.clear()
            echo.refuse("")
        say(self.told, "")
        self.told.hide()
        self.kept.keep()
        self._to_line()

    def _to_line(self) -> None:
        self.to_pane(self._first)

    def to_entry(self) -> None:
        """Go to the form."""
        self.clear()

    def to_pilot(self) -> None:
        """Go to the page of the chosen row's pilot."""
        row: NoteRow | None = self.table.row
        if row is not None and row.pilot:
            self.go.emit("pilot", row.pilot)

    def to_search(self) -> None:
        """Go to the finder."""
        self.search.setFocus()

    def correct(self) -> None:
        """Put the chosen note into the form."""
        row: NoteRow | None = self.table.row
        if row is None:
            return
        self.clear()
        self._replace(row)
        choose(self.task, row.task)
        choose(self.what, row.kind)
        self.pilot.setText(row.fields.get("pilot", ""))
        self.time.setText(row.fields.get("time", ""))
        self.value.setText(row.value)
        self.place.setText(place_text(row.fields))
        self.remark.setText(row.fields.get("note", ""))
        self._to_line()

    def _replace(self, row: NoteRow) -> None:
        self._replaces, self._row = row.ids, row
        self.kept.changes(row)
        self.form_card.name_it(Voice().word("note-change"))

    def withdraw(self) -> None:
        """Take the chosen note back, with a reason."""
        row: NoteRow | None = self.table.row
        if row is None:
            return
        whose = row.fields.get("pilot", "").strip()
        named = (row.title, self.voice.pilot(int(whose)) if whose.isdigit() else whose)
        what = words(", ".join(filter(None, named)))
        self.ask_why(
            self.voice.say(fact("note-revert-why", what=what)),
            f"revert {row.ids}",
            lambda why: self.session.withdraw(row.ids, why=why),
            fact("entry-taken-back", what=what),
        )
