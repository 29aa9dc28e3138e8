"""The form of one task and its flight."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCompleter,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)

from gui.task_form import TaskForm, keys_help
from gui.widgets import choice, choose, field
from scorer.event.model import TaskState
from scorer.tasks.kinds import KINDS
from scorer.words.voice import Voice

FIELDS = (
    ("flight", "Flight", "short name, as saturday"),
    ("date", "Date", "2026-09-12"),
    ("qnh", "QNH, hPa", "if known"),
    ("temperature", "Temperature, °C", "on the ground, if known"),
    ("number", "Task", "number"),
    ("targets", "Targets", "names with commas; A = name where marks have names"),
    ("areas", "Scoring areas", "names with commas"),
    ("launch_from", "Launch from", "HH:MM"),
    ("launch_to", "to", "HH:MM"),
    ("scoring_from", "Scoring from", "HH:MM"),
    ("scoring_to", "to", "HH:MM"),
    ("radius", "Measuring radius", "as 100 m; outside it nothing is taped"),
    ("marker", "Marker", "colour"),
)
PLACES: Mapping[str, tuple[int, int, int]] = {
    "flight": (0, 0, 1),
    "date": (0, 2, 1),
    "qnh": (1, 0, 1),
    "temperature": (1, 2, 1),
    "number": (2, 0, 1),
    "targets": (3, 0, 3),
    "areas": (4, 0, 3),
    "launch_from": (5, 0, 1),
    "launch_to": (5, 2, 1),
    "scoring_from": (6, 0, 1),
    "scoring_to": (6, 2, 1),
    "radius": (7, 0, 1),
    "marker": (7, 2, 1),
}
"""Row, column of the label, columns that the field takes."""


class TaskEditor(QWidget):
    """Fields in two columns; `touched` until it is recorded or filled anew."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.touched = False
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        self.fields: dict[str, QLineEdit] = {}
        self.kind = choice(
            "Kind of task",
            *[
                (f"{kind.code} · {Voice().say(kind.title)}", kind.code)
                for kind in KINDS.values()
            ],
            changed=self._on_kind,
        )
        choose(self.kind, "FIN")
        self.state = choice("State", *[(str(s), str(s)) for s in TaskState])
        self.more = QPlainTextEdit()
        self.more.setAccessibleName("Further keys of the task")
        self.more.setTabChangesFocus(True)
        self.more.setPlaceholderText("further keys, one a line: key = value")
        self.help = QPlainTextEdit(readOnly=True)
        self.help.setAccessibleName("Keys this kind of task knows")
        self.help.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        for name, title, hint in FIELDS:
            box = field(title, hint)
            box.textEdited.connect(lambda _: self._touch())
            self.fields[name] = box
            row, column, span = PLACES[name]
            self._put(grid, title, box, row, column, span)
            if name == "number":
                self._put(grid, "Kind", self.kind, 2, 2, 1)
        self._put(grid, "State", self.state, 8, 0, 1)
        self.state.activated.connect(lambda _: self._touch())
        self.kind.activated.connect(lambda _: self._touch())
        self.more.textChanged.connect(self._on_more)
        grid.addWidget(self.more, 9, 0, 1, 2)
        grid.addWidget(self.help, 9, 2, 1, 2)
        grid.setRowStretch(9, 1)
        for column in (1, 3):
            grid.setColumnStretch(column, 1)
        self._filling = False
        self._on_kind()

    @staticmethod
    def _put(grid: QGridLayout, title: str, box: QWidget, *place: int) -> None:
        row, column, span = place
        tag = QLabel(title)
        tag.setBuddy(box)
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        grid.addWidget(tag, row, column, right)
        grid.addWidget(box, row, column + 1, 1, span)

    def set_names(self, names: Sequence[str]) -> None:
        """Offer the names of places."""
        for name in ("targets", "areas"):
            completer = QCompleter(list(names), self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            self.fields[name].setCompleter(completer)

    def form(self) -> TaskForm:
        """Return what stands in the fields."""
        text = {name: box.text() for name, box in self.fields.items()}
        return TaskForm(
            flight=text["flight"],
            date=text["date"],
            qnh=text["qnh"],
            temperature=text["temperature"],
            number=text["number"],
            kind=str(self.kind.currentData()),
            targets=text["targets"],
            areas=text["areas"],
            launch=(text["launch_from"], text["launch_to"]),
            scoring=(text["scoring_from"], text["scoring_to"]),
            radius=text["radius"],
            marker=text["marker"],
            state=str(self.state.currentData()),
            more=self.more.toPlainText(),
        )

    def put(self, form: TaskForm) -> None:
        """Fill the fields."""
        self._filling = True
        texts = {
            "flight": form.flight,
            "date": form.date,
            "qnh": form.qnh,
            "temperature": form.temperature,
            "number": form.number,
            "targets": form.targets,
            "areas": form.areas,
            "launch_from": form.launch[0],
            "launch_to": form.launch[1],
            "scoring_from": form.scoring[0],
            "scoring_to": form.scoring[1],
            "radius": form.radius,
            "marker": form.marker,
        }
        for name, text in texts.items():
            self.fields[name].setText(text)
        choose(self.kind, form.kind)
        choose(self.state, form.state)
        self.more.setPlainText(form.more)
        self._filling = False
        self.touched = False

    def begin(self, *, number: int, flight: str, day: str) -> None:
        """Empty the form for a new task."""
        kept = self.form()
        same = bool(day)
        self.put(
            TaskForm(
                flight=flight,
                date=day,
                qnh=kept.qnh if same else "",
                temperature=kept.temperature if same else "",
                number=str(number),
            )
        )
        self.touched = True
        (self.fields["number"] if same else self.fields["flight"]).setFocus()

    def to_start(self) -> None:
        """Go to the first field."""
        self.fields["flight"].setFocus()

    def done(self) -> None:
        """What stands here is recorded."""
        self.touched = False

    def texts(self) -> dict[str, str]:
        """Return everything typed, to be kept."""
        if not self.touched:
            return {}
        texts = {name: box.text() for name, box in self.fields.items()}
        return texts | {
            "kind": str(self.kind.currentData()),
            "state": str(self.state.currentData()),
            "more": self.more.toPlainText(),
        }

    def restore(self, texts: Mapping[str, str]) -> None:
        """Put back what was kept."""
        if not texts:
            return
        for name, box in self.fields.items():
            box.setText(texts.get(name, ""))
        choose(self.kind, texts.get("kind", "FIN"))
        choose(self.state, texts.get("state", "flown"))
        self.more.setPlainText(texts.get("more", ""))
        self.touched = True

    def _on_kind(self) -> None:
        if hasattr(self, "help"):
            self.help.setPlainText(keys_help(str(self.kind.currentData())))

    def _on_more(self) -> None:
        if not self._filling:
            self._touch()

    def _touch(self) -> None:
        self.touched = True
        self.edited.emit()
