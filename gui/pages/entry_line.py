"""The line in which a measurement is typed, and beneath it how it is understood."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QHBoxLayout,
    QLineEdit,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui.keys import Key
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.line import Line
from gui.parts.oneline import OneLine
from gui.style import LOOK, follow
from gui.task_form import with_colons
from gui.theme import COLUMNS, INSIDE, Type
from gui.widgets import held, label, named, say
from scorer.event.model import Method

AUTO = ""
"""Method found from what is filled in."""
METHODS = (
    (AUTO, "Tape from target"),
    (Method.POLAR, "Distance and bearing"),
    (Method.ARCS, "Two distances"),
    (Method.GRID, "Grid coordinates"),
    (Method.LATLON, "Latitude, longitude"),
    (Method.LOG, "Mark of the logger"),
    (Method.NONE, "No mark found"),
)
NO_MARK = frozenset({"none", "no mark", "no", "-", "–", "x"})
"""What may be typed as distance where no marker was found."""
EXTRA: Mapping[str, tuple[tuple[str, str], ...]] = {
    Method.POLAR: (("from", "From place"),),
    Method.ARCS: (
        ("from", "From place"),
        ("distance2", "Second distance"),
        ("from2", "Second place"),
        ("side", "Side, L or R"),
    ),
    Method.GRID: (("easting", "Easting"), ("northing", "Northing")),
    Method.LATLON: (("lat", "Latitude"), ("lon", "Longitude")),
}
"""Fields that only some methods need."""


WIDE = (1, 1, 3, 2, 2, 2, 5, 3)
"""Shares of the row: number, mark, distance, bearing, time, measurer, note, how."""


class Understood(QStackedWidget):
    """What was typed, in words; a question takes its place.  Its height never changes."""

    def __init__(self) -> None:
        super().__init__()
        self.read_as = label(look="name")
        self.read_as.setAccessibleName("Distance as read")
        self.other = label(look="second")
        self.other.setAccessibleName("Distance in metres")
        self.name = OneLine(look="name")
        self.name.setAccessibleName("Pilot")
        self.about = OneLine(look="second")
        self.about.setAccessibleName("About the pilot")
        self.question = label(wrap=True)
        self.question.setAccessibleName("Checks of the entry line")
        middle = Qt.AlignmentFlag.AlignVCenter
        self.question.setAlignment(middle | Qt.AlignmentFlag.AlignLeft)
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(INSIDE)
        row.addWidget(self.read_as)
        row.addWidget(self.other)
        row.addSpacing(COLUMNS)
        row.addWidget(self.name)
        row.addWidget(self.about, 1)
        self.addWidget(line)
        self.addWidget(self.question)
        follow(self._fit)

    def _fit(self) -> None:
        two = 2 * LOOK.metrics(Type.TEXT, bold=True).lineSpacing()
        one = LOOK.metrics(Type.TITLE, bold=True).height()
        self.setFixedHeight(max(two, one) + INSIDE)

    def ask(self, text: str, look: str) -> None:
        """Ask or refuse; nothing = show what was understood."""
        say(self.question, text, look)
        self.question.setToolTip(text)
        self.setCurrentIndex(1 if text else 0)


class EntryLine(Card):
    """Number and distance in large type; all else behind them in the order of Tab."""

    changed = Signal()
    number_done = Signal()
    submitted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Entry line")
        self.number = self._field("Pilot's number", "entry")
        self.mark = self._field("Which mark", "entry")
        self.distance = self._field("Distance", "entry")
        self.bearing = self._field("Bearing", "")
        self.time = self._field("Time", "")
        self.measurer = self._field("Measured by", "")
        self.note = self._field("Note", "")
        self.method = QComboBox()
        self.method.setAccessibleName("How measured")
        for method, text in METHODS:
            self.method.addItem(text, str(method))
        self.method.installEventFilter(self)
        self.more = {
            name: self._field(text, "")
            for fields in EXTRA.values()
            for name, text in fields
        }
        self.told = Understood()
        self.name, self.read_as = self.told.name, self.told.read_as
        self.record = CapButton("Record", Key.GO_ON, look="main")
        self.record.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.record.clicked.connect(self.submitted)
        self._next, self._small = "", False
        self._wanted: tuple[QLineEdit, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._lay_out()
        self.method.currentIndexChanged.connect(self._on_method)
        self.number.textEdited.connect(lambda _: self.number_done.emit())
        self._on_method()
        follow(self._fit)

    def _field(self, name: str, look: str) -> QLineEdit:
        field = named(Line(), look)
        field.setAccessibleName(name)
        field.textChanged.connect(lambda _: self.changed.emit())
        field.installEventFilter(self)
        if look:
            field.textChanged.connect(lambda text: _hint_plainly(field, text))
            _hint_plainly(field, "")
        return field

    def _lay_out(self) -> None:
        self._rows = [QHBoxLayout() for _ in range(3)]
        for row in self._rows:
            row.setSpacing(INSIDE + 2)
            self.body.addLayout(row)
        self._parts: tuple[tuple[str, QWidget], ...] = (
            ("Number", self.number),
            ("Mark", self.mark),
            ("Distance", self.distance),
            ("Bearing", self.bearing),
            ("Time", self.time),
            ("Measured by", self.measurer),
            ("Note", self.note),
            ("How measured", self.method),
            *((field.accessibleName(), field) for field in self.more.values()),
        )
        self._cells: dict[QWidget, QWidget] = {}
        for text, field in self._parts:
            tag = label(text, "second")
            tag.setBuddy(field)
            column = QVBoxLayout()
            column.setSpacing(2)
            column.addWidget(tag)
            column.addWidget(field)
            self._cells[field] = held(column)
        self._place()
        self._show_measurer()
        for one, other in zip(self._parts, self._parts[1:], strict=False):
            QWidget.setTabOrder(one[1], other[1])
        below = QHBoxLayout()
        below.setSpacing(COLUMNS)
        below.addWidget(self.told, 1)
        below.addWidget(self.record)
        self.body.addLayout(below)

    def _place(self) -> None:
        """Put the fields into one row, or into two where there is less room."""
        first = (self.number, self.mark, self.distance)
        shares = dict(zip((f for _, f in self._parts), WIDE, strict=False))
        for _, field in self._parts:
            extra = field in self.more.values()
            row = 2 if extra else int(self._small and field not in first)
            for other in self._rows:
                other.removeWidget(self._cells[field])
            self._rows[row].addWidget(self._cells[field], shares.get(field, 3))

    def arrange(self, *, small: bool) -> None:
        """Take one row or two."""
        if small != self._small:
            self._small = small
            self._place()

    def _fit(self) -> None:
        """Make fields high enough for their type, and wide enough for what they take."""
        letter = LOOK.metrics(Type.ENTRY, bold=True).horizontalAdvance("0")
        plain = LOOK.metrics().averageCharWidth()
        pad = 2 * LOOK.px(INSIDE) + 6
        around = self.number.sizeHint().height() - self.number.fontMetrics().height()
        high = LOOK.metrics(Type.ENTRY, bold=True).height() + around
        least = {self.number: 4 * letter, self.mark: 2 * letter}
        least |= {self.distance: 7 * letter, self.bearing: 8 * plain}
        for _, field in self._parts:
            if field not in self.more.values():
                field.setFixedHeight(high)
            wide = (QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
            if isinstance(field, QLineEdit):
                field.setMinimumWidth(least.get(field, 10 * plain) + pad)
                field.setSizePolicy(*wide)
        widest = max(LOOK.metrics().horizontalAdvance(text) for _, text in METHODS)
        self.method.setMinimumWidth(widest + LOOK.px(44))

    def set_up(
        self,
        *,
        bare: str,
        roles: Sequence[str],
        points: Sequence[str],
        wanted: Sequence[str] = (),
    ) -> None:
        """Get ready for a task: unit of bare numbers, names of its marks, points.

        `wanted`: columns that the rules want beside the distance; Enter leads to them.
        """
        beside = {"time": self.time, "measurer": self.measurer}
        self._wanted = tuple(f for name, f in beside.items() if name in wanted)
        self._show_measurer()
        self.distance.setPlaceholderText("40 3.5 ft in" if bare == "ft" else "12.34 m")
        self.bearing.setPlaceholderText("degrees")
        self.time.setPlaceholderText("hh:mm:ss")
        self.note.setPlaceholderText("only if the sheet says something")
        self.mark.setPlaceholderText("/".join(roles))
        self._cells[self.mark].setVisible(bool(roles))
        for name in ("from", "from2"):
            completer = QCompleter(list(points), self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            self.more[name].setCompleter(completer)

    def _show_measurer(self) -> None:
        """Show who measured where the rules want it, or where somebody said it."""
        told = self.measurer in self._wanted or bool(self.measurer.text())
        self._cells[self.measurer].setVisible(told)

    def set_next(self, number: str) -> None:
        """Propose the pilot that a bare Enter takes."""
        self._next = number
        self.number.setPlaceholderText(number)

    # What stands in it.

    @property
    def begun(self) -> bool:
        """Tell whether something was typed."""
        return any(text for name, text in self.texts().items() if name != "measurer")

    @property
    def complete(self) -> bool:
        """Tell whether enough stands there to be checked as a whole."""
        alone = {Method.LOG, Method.NONE, Method.GRID, Method.LATLON}
        return bool(self.distance.text().strip()) or self.method_text() in alone

    @property
    def typing_number(self) -> bool:
        """Tell whether the number is still being typed."""
        return self.number.hasFocus()

    def pilot(self) -> int | None:
        """Return the number typed, if it is one."""
        text = self.number.text().strip()
        return int(text) if text.isascii() and text.isdigit() else None

    def method_text(self) -> str:
        """Return the method: as chosen, or as what is filled in says."""
        chosen = str(self.method.currentData())
        if chosen != AUTO:
            return chosen
        if self.distance.text().strip().casefold() in NO_MARK:
            return str(Method.NONE)
        taped = Method.POLAR if self.bearing.text().strip() else Method.TAPE
        return str(taped)

    def texts(self) -> dict[str, str]:
        """Return everything typed, field by field."""
        texts = {
            "pilot": self.number.text(),
            "mark": self.mark.text(),
            "distance": self.distance.text(),
            "bearing": self.bearing.text(),
            "time": self.time.text(),
            "measurer": self.measurer.text(),
            "note": self.note.text(),
            "method": str(self.method.currentData()),
        }
        return texts | {name: field.text() for name, field in self.more.items()}

    def fields(self) -> dict[str, str]:
        """Return the columns of a row of marks, empty ones left out."""
        fields = {name: text.strip() for name, text in self.texts().items()}
        fields["time"] = with_colons(fields["time"])
        fields["method"] = self.method_text()
        fields["mark"] = fields["mark"].upper()
        shown = {name for name, _ in EXTRA.get(fields["method"], ())}
        for name in self.more:
            if name not in shown:
                fields[name] = ""
        if fields["method"] == Method.NONE:
            fields["distance"] = ""
        return {name: text for name, text in fields.items() if text}

    def put(self, texts: Mapping[str, str]) -> None:
        """Fill the line, as from an entry or from what was left unsaved."""
        self.number.setText(texts.get("pilot", ""))
        self.mark.setText(texts.get("mark", ""))
        self.distance.setText(texts.get("distance", ""))
        self.bearing.setText(texts.get("bearing", ""))
        self.time.setText(texts.get("time", ""))
        self.measurer.setText(texts.get("measurer", ""))
        self._show_measurer()
        self.note.setText(texts.get("note", ""))
        plain = texts.get("method", "") == Method.TAPE
        at = self.method.findData("" if plain else texts.get("method", ""))
        self.method.setCurrentIndex(max(at, 0))
        for name, field in self.more.items():
            field.setText(texts.get(name, ""))

    def clear(self) -> None:
        """Empty the line; who measured and how stay, for so is the next marker."""
        kept = self.method.currentIndex()
        stays = self.measurer in self._wanted
        self.put({"measurer": self.measurer.text()} if stays else {})
        if self.method.itemData(kept) in {Method.POLAR, Method.ARCS, Method.GRID}:
            self.method.setCurrentIndex(kept)

    # Where the keyboard is.

    def to_start(self) -> None:
        """Go to the number."""
        self.number.setFocus()
        self.number.selectAll()

    def _by_column(self) -> dict[str, QLineEdit]:
        return {
            "pilot": self.number,
            "mark": self.mark,
            "distance": self.distance,
            "bearing": self.bearing,
            "time": self.time,
            "measurer": self.measurer,
            **self.more,
        }

    def go_to_fault(self, column: str) -> None:
        """Go to the field a notice is about."""
        field = self._by_column().get(column, self.number)
        field.setFocus()
        field.selectAll()

    def mark_wrong(self, names: Sequence[str]) -> None:
        """Put a border round the fields that faults are about."""
        for name, field in self._by_column().items():
            wrong = name in names
            if bool(field.property("wrong")) != wrong:
                field.setProperty("wrong", wrong)
                field.style().unpolish(field)
                field.style().polish(field)

    def _on_method(self) -> None:
        shown = {name for name, _ in EXTRA.get(str(self.method.currentData()), ())}
        for name, field in self.more.items():
            self._cells[field].setVisible(name in shown)
        self.changed.emit()

    def _enter(self, field: QObject) -> None:
        """Take Enter: from number on to what is wanted, from all else record."""
        if field is self.number:
            if not self.number.text().strip() and self._next:
                self.number.setText(self._next)
            self.number_done.emit()
            target = self.mark if self.mark.isVisibleTo(self) else self.distance
            target.setFocus()
        elif field is self.mark:
            self.distance.setFocus()
        elif (empty := self._next_wanted(field)) is not None:
            empty.setFocus()
        else:
            self.submitted.emit()

    def _next_wanted(self, field: QObject) -> QLineEdit | None:
        """Return the empty field that the rules want next, of a measured mark."""
        chain = (self.distance, *self._wanted)
        measured = self.method_text() not in {Method.NONE, Method.LOG}
        if not measured or not isinstance(field, QLineEdit) or field not in chain:
            return None
        left = chain[chain.index(field) + 1 :]
        return next((one for one in left if not one.text().strip()), None)

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take Enter in the fields; in an empty line Ctrl+Z is no undoing of text."""
        if not isinstance(event, QKeyEvent):
            return super().eventFilter(watched, event)
        if event.type() == QEvent.Type.ShortcutOverride:
            if event.matches(QKeySequence.StandardKey.Undo) and not self.begun:
                event.ignore()
                return True
        elif event.type() == QEvent.Type.KeyPress and event.key() in (
            Qt.Key.Key_Return,
            Qt.Key.Key_Enter,
        ):
            self._enter(watched)
            return True
        return super().eventFilter(watched, event)


def _hint_plainly(field: QLineEdit, text: str) -> None:
    """Show what may be typed in plain type: large and bold it would look typed."""
    if field.property("empty") is not (not text):
        field.setProperty("empty", not text)
        field.style().unpolish(field)
        field.style().polish(field)
