"""The form of one task and its flight: each field says how it reads what is typed."""

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QGridLayout,
    QHBoxLayout,
    QWidget,
)

from gui.pages.task_settings import TaskSettings
from gui.parts.echo import Echo, as_typed
from gui.style import LOOK
from gui.task_form import TaskForm, period_text, read_period
from gui.theme import UNIT
from gui.widgets import choice, choose, label
from scorer.errors import ScorerError
from scorer.event.model import TaskState, Units
from scorer.tasks.kinds import KINDS
from scorer.units import length_m
from scorer.words.voice import Voice

_BARE = re.compile(r"[\d.,]+", re.ASCII)
FIELDS = (
    ("number", "Task", "number", 5),
    ("flight", "Flight", "short name, as saturday", 0),
    ("date", "Date", "2026-09-12", 12),
    ("qnh", "QNH", "in hPa", 8),
    ("temperature", "Temperature", "in °C", 8),
    ("targets", "Targets", "names with commas; A = name where marks have names", 0),
    ("areas", "Scoring areas", "names with commas", 0),
    ("radius", "Measured within", "", 0),
    ("launch", "Launch", "645-730", 16),
    ("scoring", "Marks count", "7-930", 16),
    ("marker", "Marker", "colour", 12),
)
KIND_LETTERS = 18
DIFFERS = "launch"
"""The first field that differs from one task to the next, always."""


def _day(text: str) -> str:
    try:
        return f"{date.fromisoformat(text):%A}"
    except ValueError:
        allowed = "a date such as 2026-09-12"
        raise ScorerError(f"“{text[:20]}” is no date. Write {allowed}.") from None


class TaskEditor(QWidget):
    """Fields one below the other; `touched` until it is recorded or filled anew."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.touched = False
        self.unit = "m"
        """In which a bare length counts."""
        readers: Mapping[str, Callable[[str], str]] = {
            "date": _day,
            "radius": self._radius,
            "launch": lambda text: period_text(read_period(text, "Launch")),
            "scoring": lambda text: period_text(
                read_period(text, "The time for marks")
            ),
        }
        self.echoes = {
            name: Echo(title, hint, read=readers.get(name, as_typed), width=width)
            for name, title, hint, width in FIELDS
        }
        self.fields = {name: echo.field for name, echo in self.echoes.items()}
        for box in self.fields.values():
            box.textEdited.connect(lambda _: self._touch())
        self.kind = choice(
            "Kind of task",
            *[
                (f"{kind.code} · {Voice().say(kind.title)}", kind.code)
                for kind in KINDS.values()
            ],
            changed=self._on_kind,
        )
        choose(self.kind, "FIN")
        short = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        self.kind.setSizeAdjustPolicy(short)
        self.kind.setMinimumContentsLength(KIND_LETTERS)
        unsaid = ("planned until something is in", "")
        self.state = choice("State", unsaid, *[(str(s), str(s)) for s in TaskState])
        self.settings = TaskSettings()
        self.settings.edited.connect(self._touch)
        self.state.activated.connect(lambda _: self._touch())
        self.kind.activated.connect(lambda _: self._touch())
        self._lay_out()
        self._on_kind()

    def _lay_out(self) -> None:
        """Put the fields below each other, in the order in which they are filled in."""
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        titles = {name: title for name, title, _, _ in FIELDS}
        rows: Sequence[tuple[str, Sequence[QWidget]]] = (
            (titles["number"], (self.echoes["number"], self.kind)),
            (titles["flight"], (self.echoes["flight"], self.echoes["date"])),
            ("QNH, temperature", (self.echoes["qnh"], self.echoes["temperature"])),
            *(
                (titles[name], (self.echoes[name],))
                for name in (
                    "targets",
                    "areas",
                    "radius",
                    "launch",
                    "scoring",
                    "marker",
                )
            ),
            ("State", (self.state,)),
        )
        wide: set[QWidget] = {self.kind}  # some kinds have long names
        wide |= {self.echoes[name] for name, _, _, letters in FIELDS if not letters}
        for at, (title, boxes) in enumerate(rows):
            tag = label(title, "strong")
            tag.setBuddy(boxes[0])
            tag.setContentsMargins(0, LOOK.px(UNIT + 2), 0, 0)  # beside its field
            grid.addWidget(tag, at, 0, Qt.AlignmentFlag.AlignTop)
            row = QHBoxLayout()
            for box in boxes:
                free = box in wide
                row.addWidget(box, int(free), Qt.AlignmentFlag.AlignTop)
            if not wide.intersection(boxes):
                row.addStretch(1)
            grid.addLayout(row, at, 1)
        grid.addWidget(self.settings, len(rows), 0, 1, 2)
        grid.setRowStretch(len(rows), 1)
        grid.setColumnStretch(1, 1)

    def _radius(self, text: str) -> str:
        length_m(text, self.unit)
        return f"{text} {self.unit}" if _BARE.fullmatch(text) else ""

    def set_names(self, names: Sequence[str]) -> None:
        """Offer the names of places."""
        for name in ("targets", "areas"):
            completer = QCompleter(list(names), self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            self.fields[name].setCompleter(completer)

    def set_units(self, units: Units) -> None:
        """Read bare lengths as people measure them here."""
        self.unit = units.bare
        self.fields["radius"].setPlaceholderText(Voice().word(f"task-radius-{units}"))

    def form(self) -> TaskForm:
        """Return what stands in the fields."""
        text = {name: box.text().strip() for name, box in self.fields.items()}
        radius = text["radius"]
        return TaskForm(
            flight=text["flight"],
            date=text["date"],
            qnh=text["qnh"],
            temperature=text["temperature"],
            number=text["number"],
            kind=str(self.kind.currentData()),
            targets=text["targets"],
            areas=text["areas"],
            launch=_period(text["launch"], "Launch"),
            scoring=_period(text["scoring"], "The time for marks"),
            radius=f"{radius} {self.unit}" if _BARE.fullmatch(radius) else radius,
            marker=text["marker"],
            state=str(self.state.currentData()),
            more=self.settings.text,
        )

    def put(self, form: TaskForm) -> None:
        """Fill the fields."""
        texts = {
            "flight": form.flight,
            "date": form.date,
            "qnh": form.qnh,
            "temperature": form.temperature,
            "number": form.number,
            "targets": form.targets,
            "areas": form.areas,
            "launch": period_text(form.launch),
            "scoring": period_text(form.scoring),
            "radius": form.radius,
            "marker": form.marker,
        }
        for name, text in texts.items():
            self.fields[name].setText(text)
            self.fields[name].setCursorPosition(0)  # its beginning is what is seen
        choose(self.kind, form.kind)
        choose(self.state, form.state)
        self.settings.put(form.more)
        self.touched = False

    def copy(self, form: TaskForm) -> None:
        """Fill in from another task, and go to what differs first, always."""
        self.put(form)
        self.touched = True
        self.fields[DIFFERS].setFocus()
        self.fields[DIFFERS].selectAll()
        self.edited.emit()

    def refuse(self, faults: Mapping[str, str]) -> None:
        """Tell faults under their fields; those the field finds itself stay."""
        for name, echo in self.echoes.items():
            if echo.check():
                echo.refuse(faults.get(name, ""))
        self.settings.refuse(faults)

    def to_fault(self) -> bool:
        """Go to the first field with a fault; tell whether there is one."""
        wrong = next((e for e in self.echoes.values() if e.fault), None)
        if wrong is not None:
            wrong.field.setFocus()
            wrong.field.selectAll()
        return wrong is not None

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
        first = self.fields["number" if same else "flight"]
        first.setFocus()
        first.selectAll()

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
            "more": self.settings.text,
        }

    def restore(self, texts: Mapping[str, str]) -> None:
        """Put back what was kept."""
        if not texts:
            return
        for name, box in self.fields.items():
            box.setText(texts.get(name, ""))
        choose(self.kind, texts.get("kind", "FIN"))
        choose(self.state, texts.get("state", "planned"))
        self.settings.put(texts.get("more", ""))
        self.touched = True

    def _on_kind(self) -> None:
        if hasattr(self, "settings"):
            self.settings.show_kind(str(self.kind.currentData()))

    def _touch(self) -> None:
        self.touched = True
        self.edited.emit()


def _period(text: str, what: str) -> tuple[str, str]:
    """Return a period as it stands in an event; what cannot be read, as it is typed."""
    try:
        return read_period(text, what) if text else ("", "")
    except ScorerError:
        return text, ""
