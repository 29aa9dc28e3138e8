"""The line in which a measurement is keyed."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from gui.widgets import label, named, say
from scorer.event.model import Method

AUTO = ""
"""Method found from what is filled in."""
METHODS = (
    (AUTO, "by what is typed"),
    (Method.TAPE, "tape from the target"),
    (Method.POLAR, "distance and bearing"),
    (Method.ARCS, "two distances"),
    (Method.GRID, "grid coordinates"),
    (Method.LATLON, "latitude, longitude"),
    (Method.LOG, "logger's mark"),
    (Method.NONE, "no mark found"),
)
NO_MARK = frozenset({"none", "no mark", "-", "–", "x"})
"""What may be typed as distance where no marker was found."""
EXTRA: Mapping[str, tuple[tuple[str, str], ...]] = {
    Method.POLAR: (("from", "from place"),),
    Method.ARCS: (
        ("from", "from place"),
        ("distance2", "2nd distance"),
        ("from2", "2nd place"),
        ("side", "side L/R"),
    ),
    Method.GRID: (("easting", "easting"), ("northing", "northing")),
    Method.LATLON: (("lat", "latitude"), ("lon", "longitude")),
}
"""Fields that only some methods need."""


class EntryLine(QWidget):
    """Number and distance in large type; all else behind them in the order of Tab."""

    changed = Signal()
    number_done = Signal()
    submitted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._letters: dict[QLineEdit, int] = {}
        self.number = self._field("Pilot's number", "big", 6)
        self.mark = self._field("Which mark", "big", 4)
        self.distance = self._field("Distance", "big", 17)
        self.bearing = self._field("Bearing", "", 12)
        self.time = self._field("Time", "", 9)
        self.note = self._field("Note", "", 24)
        self.method = QComboBox()
        self.method.setAccessibleName("Method of measuring")
        for method, text in METHODS:
            self.method.addItem(text, str(method))
        self.name = label(look="name")
        self.name.setAccessibleName("Pilot")
        self.read_as = label(look="muted")
        self.read_as.setAccessibleName("Distance as read")
        self.more = {
            name: self._field(label, "", 12)
            for fields in EXTRA.values()
            for name, label in fields
        }
        self._next = ""
        self._lay_out()
        self.method.currentIndexChanged.connect(self._on_method)
        self.number.textEdited.connect(lambda _: self.number_done.emit())
        self._on_method()

    def _field(self, name: str, look: str, letters: int) -> QLineEdit:
        field = named(QLineEdit(), look)
        field.setAccessibleName(name)
        self._letters[field] = letters
        field.textChanged.connect(lambda _: self.changed.emit())
        field.installEventFilter(self)
        return field

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setContentsMargins(0, 0, 0, 0)
        parts: tuple[tuple[str, QWidget], ...] = (
            ("&Number", self.number),
            ("Mar&k", self.mark),
            ("&Distance", self.distance),
            ("Bearing", self.bearing),
            ("Time", self.time),
            ("Note", self.note),
            ("Method", self.method),
        )
        self._labels: dict[QWidget, QLabel] = {}
        for column, (text, field) in enumerate(parts):
            tag = label(text, "muted")
            tag.setBuddy(field)
            self._labels[field] = tag
            grid.addWidget(tag, 0, column)
            grid.addWidget(field, 1, column)
        grid.setColumnStretch(len(parts), 1)
        below = QHBoxLayout()
        below.addWidget(self.name)
        below.addSpacing(16)
        below.addWidget(self.read_as)
        below.addStretch(1)
        self._extra_row = QHBoxLayout()
        self._extra_labels: dict[str, QLabel] = {}
        for name, field in self.more.items():
            tag = label(field.accessibleName(), "muted")
            tag.setBuddy(field)
            self._extra_labels[name] = tag
            self._extra_row.addWidget(tag)
            self._extra_row.addWidget(field)
        self._extra_row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(grid)
        layout.addLayout(self._extra_row)
        layout.addLayout(below)

    def set_up(self, *, bare: str, roles: Sequence[str], points: Sequence[str]) -> None:
        """Get ready for a task: unit of bare numbers, names of its marks, points."""
        example = "40' 3 1/2\"" if bare == "ft" else "12.34"
        self.distance.setPlaceholderText(f"{bare}, as {example}")
        self.bearing.setPlaceholderText("° grid, T, M")
        self.time.setPlaceholderText("HH:MM:SS")
        self.mark.setPlaceholderText("/".join(roles))
        self.mark.setVisible(bool(roles))
        self._labels[self.mark].setVisible(bool(roles))
        for name in ("from", "from2"):
            completer = QCompleter(list(points), self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            self.more[name].setCompleter(completer)

    def fit(self) -> None:
        """Make fields as wide as what is typed in them, in the size of text in force."""
        for field, letters in self._letters.items():
            letter = field.fontMetrics().averageCharWidth()
            field.setFixedWidth(letter * letters + letter * 3)

    def set_next(self, number: str) -> None:
        """Propose the pilot that a bare Enter takes."""
        self._next = number
        self.number.setPlaceholderText(number)

    # What stands in it.

    @property
    def begun(self) -> bool:
        """Tell whether something was typed."""
        return any(self.texts().values())

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
            "note": self.note.text(),
            "method": str(self.method.currentData()),
        }
        return texts | {name: field.text() for name, field in self.more.items()}

    def fields(self) -> dict[str, str]:
        """Return the columns of a row of marks, empty ones left out."""
        fields = {name: text.strip() for name, text in self.texts().items()}
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
        self.note.setText(texts.get("note", ""))
        plain = texts.get("method", "") == Method.TAPE
        at = self.method.findData("" if plain else texts.get("method", ""))
        self.method.setCurrentIndex(max(at, 0))
        for name, field in self.more.items():
            field.setText(texts.get(name, ""))

    def clear(self) -> None:
        """Empty the line; the method stays, for the next marker is measured alike."""
        kept = self.method.currentIndex()
        self.put({})
        if self.method.itemData(kept) in {Method.POLAR, Method.ARCS, Method.GRID}:
            self.method.setCurrentIndex(kept)

    # Where the keyboard is.

    def to_start(self) -> None:
        """Go to the number."""
        self.number.setFocus()
        self.number.selectAll()

    def go_to_fault(self, column: str) -> None:
        """Go to the field a notice is about."""
        fields = {
            "pilot": self.number,
            "mark": self.mark,
            "distance": self.distance,
            "bearing": self.bearing,
            "time": self.time,
            **self.more,
        }
        field = fields.get(column, self.number)
        field.setFocus()
        field.selectAll()

    def mark_wrong(self, names: Sequence[str]) -> None:
        """Put a border round the fields that faults are about."""
        for name, field in (("pilot", self.number), ("distance", self.distance)):
            wrong = name in names
            if bool(field.property("wrong")) != wrong:
                field.setProperty("wrong", wrong)
                field.style().unpolish(field)
                field.style().polish(field)

    def tell_name(self, name: str, *, known: bool) -> None:
        """Show whose number it is."""
        typed = bool(self.number.text().strip())
        text = name if known else ("no pilot has this number" if typed else "")
        say(self.name, text, "name" if known or not typed else "bad")

    def _on_method(self) -> None:
        shown = {name for name, _ in EXTRA.get(str(self.method.currentData()), ())}
        for name, field in self.more.items():
            field.setVisible(name in shown)
            self._extra_labels[name].setVisible(name in shown)
        self.changed.emit()

    def _enter(self, field: QObject) -> None:
        """Take Enter: from number on to mark and distance, from all else record."""
        if field is self.number:
            if not self.number.text().strip() and self._next:
                self.number.setText(self._next)
                self.number_done.emit()
            self.number_done.emit()
            target = self.mark if self.mark.isVisibleTo(self) else self.distance
            target.setFocus()
        elif field is self.mark:
            self.distance.setFocus()
        else:
            self.submitted.emit()

    # Qt's interface: Qt's names.

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take Enter in the fields."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        ):
            self._enter(watched)
            return True
        return super().eventFilter(watched, event)
