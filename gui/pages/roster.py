"""Who flies: take a roster in, or enter pilots one by one."""

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QWidget

from gui import ask
from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.roster import COLUMNS, PilotRow, extra_columns, pilot_rows, turned
from gui.pages.page import Form, ListPage
from gui.pages.roster_import import RosterImport
from gui.parts.formcard import FormCard
from gui.parts.kept import Kept
from gui.roster_file import RosterFile, drafts_of, ordered, read_roster
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN, INSIDE
from gui.view import TableView
from gui.widgets import field, label, say_or_hide
from scorer.event.columns import PILOTS
from scorer.event.matter import Matter
from scorer.facts import count, fact, words
from scorer.ledger.acts import EntryId, PilotSet
from scorer.ledger.api import Draft
from scorer.words.voice import Voice

READY = needs(Condition.EVENT, Condition.WRITABLE)
CHOSEN = READY | {Condition.CHOSEN}
CHECK_IN = (
    ("competes", Key.TAKE_1, "competes"),
    ("papers", Key.TAKE_2, "papers seen"),
    ("waiver", Key.TAKE_3, "waiver signed"),
)
"""What check-in asks: the column, the key that turns it, its words."""
FORM = "pilot"
HEADS = {
    "enters": "First task",
    "leaves": "Not from task",
    "competes": "Competes (yes, no)",
    "papers": "Papers (yes, until)",
    "waiver": "Waiver (yes, no)",
}
"""Captions of columns whose names are no words of their own."""


class RosterPage(ListPage):
    """The list, a line to enter in, and taking in of files."""

    name = "roster"
    title = "Pilots"
    key = Key.PAGE_2
    hint = "Ctrl+O reads a CSV or XLSX list, Ctrl+N enters one pilot."
    hints = tuple((key, words) for _, key, words in CHECK_IN)
    foot_keys = (
        (Key.READ_IN, "import a list"),
        (Key.NEW, "new"),
        (Key.CORRECT, "change"),
        (Key.REMOVE, "remove"),
        (Key.PILOT, "pilot page"),
    )
    specs = (
        Spec(
            "take_in",
            "Import &pilots…",
            Key.READ_IN,
            "Read a CSV or XLSX file, match its columns, look at it, import it",
            READY | {Condition.IDLE},
        ),
        Spec("to_entry", "&New pilot", Key.NEW, "Go to the line to enter in", READY),
        Spec("correct", "&Change row", Key.CORRECT, "Change the chosen pilot", READY),
        Spec("withdraw", "&Remove…", Key.REMOVE, "Remove the chosen pilot", READY),
        *(
            Spec(
                "turn",
                f"{words.capitalize()}, or not",
                key,
                f"Check-in of the chosen pilot: {words}, or not",
                CHOSEN,
                column,
            )
            for column, key, words in CHECK_IN
        ),
        Spec(
            "to_search", "&Find", Key.FIND, "Find in the list", needs(Condition.EVENT)
        ),
        Spec("clear", "Empty form", Key.OUT, "Empty the form", needs(Condition.EVENT)),
        Spec("to_pilot", "&Pilot page", Key.PILOT, "Page of the chosen pilot", CHOSEN),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.search = self.find_in_head(self._find)
        self.table = TableView(COLUMNS, "Pilots", key=lambda r: r.key)
        self.table.sortByColumn(0, Qt.SortOrder.AscendingOrder)
        self.table.entered.connect(lambda _: self.correct())
        self.table.chosen.connect(lambda _: self.choice.emit())
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(INSIDE)
        self._grid.setVerticalSpacing(2)
        self.fields: dict[str, QLineEdit] = {}
        self._captions: dict[str, QLabel] = {}
        for name in PILOTS.names:
            box = field(f"Pilot's {name}")
            box.returnPressed.connect(self.submit)
            self.fields[name] = box
            self._captions[name] = label(HEADS.get(name, name.capitalize()), "second")
        self.line = self._card()
        both = QHBoxLayout()
        both.setSpacing(BETWEEN)
        both.addWidget(self.table, 6)
        both.addWidget(self.line, 4)
        self.body.addLayout(both, 1)
        self._place()
        self._replaces: tuple[EntryId, ...] = ()
        self._extra: dict[str, str] = {}
        self._shown_extra: tuple[str, ...] = ()
        self.kept = Kept(self.session, FORM, self.fields)
        self.dialog = RosterImport(self)
        self.dialog.taken.connect(self._take)

    def _card(self) -> FormCard:
        voice = Voice()
        card = FormCard(voice.word("pilot-new"), voice.word("pilot-record"))
        card.submitted.connect(self.submit)
        self.told = card.told
        card.lay_out(self._grid)
        card.body.addStretch(1)
        return card

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """List, and the form."""
        return self.table, self.line

    @property
    def panes(self) -> tuple[QWidget, QWidget]:
        """List, and the line to enter in."""
        return self.table, self.fields["number"]

    def arrange(self) -> None:
        """Take other columns for the fields: no caption is cut."""
        self._place()

    def _place(self) -> None:
        """Put the fields under their captions, as many in a row as there is room for."""
        many = 3 if self.form is Form.SMALL else 2
        for at, (name, box) in enumerate(self.fields.items()):
            row, column = divmod(at, many)
            self._grid.removeWidget(box)
            self._grid.removeWidget(self._captions[name])
            self._grid.addWidget(self._captions[name], 2 * row, column)
            self._grid.addWidget(box, 2 * row + 1, column)
        for column in range(3):
            self._grid.setColumnStretch(column, int(column < many))

    def is_about(self, row: PilotRow, what: Any) -> bool:
        """Know a pilot by number."""
        return row.number in (what.pilots if isinstance(what, Matter) else (what,))

    def enter(self) -> None:
        """Go to the list, or to the line where there is no pilot yet."""
        if self.table.rows_model.rows:
            super().enter()
        else:
            self.to_pane(self.fields["number"])

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the roster as it stands."""
        rows = pilot_rows(snapshot) if snapshot else []
        extra = extra_columns(rows)
        titles = tuple(column.title for column in extra)
        if titles != self._shown_extra:
            self._shown_extra = titles
            self.table.rows_model.set_columns((*COLUMNS[:-1], *extra, COLUMNS[-1]))
        self.table.set_rows(rows)
        many = fact("roster-count", pilots=count(len(rows)))
        self.say_hint(f"{Voice().say(many)} {self.hint}" if rows else self.hint)
        self._restore(rows)

    def forget(self) -> None:
        """The event is closed: a half typed pilot stays with its own."""
        super().forget()
        self.clear()
        self.kept.forget()

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    # The line.

    def submit(self) -> None:
        """Record the line: a new pilot, or the changed one."""
        snapshot = self.snapshot
        if snapshot is None:
            return
        fields = {name: box.text().strip() for name, box in self.fields.items()}
        number, name = fields["number"], ""
        own = [row for row in pilot_rows(snapshot) if str(row.number) == number]
        if not (number.isascii() and number.isdigit() and int(number) > 0):
            wrong, name = fact("pilot-needs-number"), "number"
        elif not fields["name"]:
            wrong, name = fact("pilot-needs-name"), "name"
        elif own and own[0].ids != self._replaces:
            has = words(own[0].fields.get("name", ""))
            wrong, name = (
                fact("pilot-number-taken", number=words(number), name=has),
                "number",
            )
        if name:
            say_or_hide(self.told, Voice().sentence(wrong), "bad")
            self.to_pane(self.fields[name])
            return
        act = PilotSet(fields=ordered(fields | self._extra))
        self.session.record(act, replaces=self._replaces)
        said = fact("pilot-recorded", number=words(number), name=words(fields["name"]))
        self.tell(said)
        self.clear()

    def clear(self) -> None:
        """Empty the line."""
        self._replaces, self._extra, self.kept.about = (), {}, ""
        for box in self.fields.values():
            box.clear()
        self.line.name_it(Voice().word("pilot-new"))
        say_or_hide(self.told, "")
        self.kept.keep()
        self.to_pane(self.fields["number"])

    def _restore(self, rows: list[PilotRow]) -> None:
        if self.snapshot is not None and self.kept.restore():
            own = self.kept.changed_of(rows)
            if own is not None:
                self._replace(own)

    def _replace(self, row: PilotRow) -> None:
        self._replaces = row.ids
        self.kept.changes(row)
        self._extra = {n: t for n, t in row.fields.items() if n not in self.fields}
        change = fact("place-change", name=words(row.fields.get("name", "")))
        self.line.name_it(Voice().say(change))

    # Commands.

    def to_entry(self) -> None:
        """Go to the line."""
        self.to_pane(self.fields["number"])

    def to_search(self) -> None:
        """Go to the finder."""
        self.to_pane(self.search)

    def correct(self) -> None:
        """Put the chosen pilot into the line."""
        row: PilotRow | None = self.table.row
        if row is None:
            return
        self.clear()
        self._replace(row)
        for name, box in self.fields.items():
            box.setText(row.fields.get(name, ""))
        self.to_pane(self.fields["name"])

    def to_pilot(self) -> None:
        """Go to the page of the chosen pilot."""
        row: PilotRow | None = self.table.row
        if row is not None:
            self.go.emit("pilot", row.number)

    def turn(self, column: str) -> None:
        """Turn what check-in asks of the chosen pilot: competes, papers, waiver."""
        row: PilotRow | None = self.table.row
        if row is None:
            return
        act = PilotSet(fields=turned(row, column))
        self.session.record(act, replaces=row.ids)
        said = {c: text for c, _, text in CHECK_IN}[column]
        who = f"{row.number} {row.fields.get('name', '')}"
        both = {"who": words(who), "what": words(said)}
        if act.fields[column] == "no":
            self.tell(fact("pilot-is-not", **both))
        else:
            self.tell(fact("pilot-is", **both))

    def withdraw(self) -> None:
        """Remove the chosen pilot, with a reason."""
        row: PilotRow | None = self.table.row
        if row is None:
            return
        name = f"{row.number} {row.fields.get('name', '')}"
        self.ask_why(
            self.voice.say(fact("pilot-remove-why", who=words(name))),
            f"remove {row.ids}",
            lambda why: self.session.withdraw(row.ids, why=why),
            fact("entry-taken-out", what=words(name)),
        )

    def take_in(self) -> None:
        """Choose a roster file and read it."""
        path = ask.open_file(self, "Import a list of pilots", ask.ROSTERS)
        if path is not None:
            self.read_file(path)

    def read_file(self, path: Path) -> None:
        """Read a roster file and show its columns for matching."""
        self.jobs.start(
            lambda _: read_roster(path),
            text="Reading the list of pilots",
            done=self._on_read,
            refused=lambda text: say_or_hide(self.told, text, "bad"),
        )

    def _on_read(self, file: object) -> None:
        say_or_hide(self.told, "")
        if isinstance(file, RosterFile) and self.snapshot is not None:
            self.dialog.show_file(file, self.snapshot.event, self.snapshot.state)

    def _take(self) -> None:
        """Record what the dialog holds."""
        snapshot, file = self.snapshot, self.dialog.file
        if snapshot is None or file is None:
            return
        drafts: list[Draft] = drafts_of(self.dialog.rows, file.name, snapshot.state)
        if not drafts:
            self.tell(fact("roster-alike"))
            return
        self.session.record_all(drafts)
        self.tell(fact("roster-read", pilots=count(len(drafts)), file=words(file.name)))
        self.to_pane(self.table)
