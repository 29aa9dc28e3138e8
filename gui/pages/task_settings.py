"""What a kind of task asks beyond target, areas and times: a field for each, by its words.

The fields are generated from the declarations of the kinds; what no field can show (tables
of circles and of valid times, rules of this task alone) stands below them as it is written
in files, and only where there is any.
"""

import tomllib
from collections.abc import Mapping
from typing import Any

import tomli_w
from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from gui.flow import clear
from gui.theme import INSIDE
from gui.widgets import choice, choose, field, label, say_or_hide
from scorer.event.task_kinds import TaskSetting
from scorer.tasks.kinds import KINDS, WRITTEN
from scorer.words.voice import Voice

LISTS = frozenset({"places", "areas"})
ROLES = frozenset({"by-role", "area-by-role"})
AS_WRITTEN = frozenset({"windows", "circles"})
"""Kinds of values that no single field can show."""


class TaskSettings(QWidget):
    """Fields of one kind of task."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("What this kind of task asks")
        self.about = label(look="second", wrap=True)
        self.rest = QPlainTextEdit()
        self.rest.setAccessibleName("Written as in the files of an event")
        self.rest.setTabChangesFocus(True)
        self.rest.setMaximumHeight(90)
        self.rest.textChanged.connect(self._on_edited)
        self.grid = QGridLayout()
        self.grid.setColumnStretch(1, 1)
        self.grid.setVerticalSpacing(INSIDE)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.about)
        column.addLayout(self.grid)
        column.addWidget(self.rest)
        column.addStretch(1)
        self.boxes: dict[str, QWidget] = {}
        self._faults: dict[str, QLabel] = {}
        self._kind = ""
        self._filling = False

    def show_kind(self, code: str) -> None:
        """Ask what a kind of task asks; what both kinds ask stays as it is."""
        if code == self._kind:
            return
        before = self.values()
        self._kind = code
        clear(self.grid)
        self.boxes, self._faults = {}, {}
        voice, kind = Voice(), KINDS[code]
        self.about.setText(f"{voice.sentence(kind.about)}.")
        asked = [s for s in kind.settings if s.kind not in AS_WRITTEN]
        for row, setting in enumerate(asked):
            self._add(row, setting, voice)
        self._put(before)

    def _add(self, row: int, setting: TaskSetting, voice: Voice) -> None:
        title = voice.word(f"setting-{setting.key.replace('_', '-')}")
        box = _box(setting, title, voice)
        if isinstance(box, QComboBox):
            box.activated.connect(lambda _: self._on_edited())
        elif isinstance(box, QLineEdit):
            box.textEdited.connect(lambda _: self._on_edited())
        told = label(look="bad", wrap=True)
        told.hide()
        self.grid.addWidget(label(title, wrap=True), 2 * row, 0)
        self.grid.addWidget(box, 2 * row, 1)
        self.grid.addWidget(told, 2 * row + 1, 0, 1, 2)
        self.boxes[setting.key], self._faults[setting.key] = box, told

    # From a task's table and back.

    @property
    def text(self) -> str:
        """All that is set, as a table of flight.toml."""
        rest = self.rest.toPlainText()
        try:
            return tomli_w.dumps({**self.values(), **tomllib.loads(rest)})
        except tomllib.TOMLDecodeError:  # told when it is recorded, kept until then
            return f"{rest}\n{tomli_w.dumps(self.values())}"

    def values(self) -> dict[str, Any]:
        """Return what stands in the fields, by key."""
        found = {}
        for setting in KINDS[self._kind].settings if self._kind else ():
            if (box := self.boxes.get(setting.key)) is not None and (typed := _of(box)):
                found[setting.key] = _read(setting, typed)
        return found

    def put(self, text: str) -> None:
        """Fill the fields from a table of flight.toml."""
        try:
            values: dict[str, Any] = tomllib.loads(text)
        except tomllib.TOMLDecodeError:  # kept as it was typed before a crash
            values, rest = {}, text
        else:
            known = {key: v for key, v in values.items() if key not in self.boxes}
            rest = tomli_w.dumps(known) if known else ""
        self._put(values)
        self._filling = True
        self.rest.setPlainText(rest)
        self._filling = False
        asks = {s.kind for s in KINDS[self._kind].settings} if self._kind else set()
        self.rest.setVisible(bool(rest or asks & AS_WRITTEN))

    def _put(self, values: Mapping[str, Any]) -> None:
        self._filling = True
        for key, box in self.boxes.items():
            said = _said(values.get(key))
            if isinstance(box, QComboBox):
                if not choose(box, said):
                    box.setCurrentIndex(0)
                    if box.isEditable():
                        box.setEditText(said)
            elif isinstance(box, QLineEdit):
                box.setText(said)
        self._filling = False

    def refuse(self, faults: Mapping[str, str]) -> None:
        """Tell faults under their fields."""
        for key, told in self._faults.items():
            say_or_hide(told, faults.get(key, ""), "bad")

    def _on_edited(self) -> None:
        if not self._filling:
            self.edited.emit()


def _box(setting: TaskSetting, title: str, voice: Voice) -> QWidget:
    usual = voice.word("setting-usual")
    if setting.default is not None:
        usual = f"{usual}: {_plain(str(setting.default))}"
    if setting.choices:
        options = [(_plain(one), one) for one in setting.choices]
        box = choice(title, (usual, ""), *options)
        if setting.kind == "start":
            box.setEditable(True)
            line = box.lineEdit()
            if line is not None:
                line.setPlaceholderText(usual)
        made: QWidget = box
    else:
        made = field(title, WRITTEN.get(setting.kind, "").replace('"', ""))
    made.setToolTip(setting.doc)
    return made


def _plain(choice_: str) -> str:
    return choice_.replace("-", " ")


def _of(box: QWidget) -> str:
    """Return what stands in a box, as it is written in files."""
    if isinstance(box, QLineEdit):
        return box.text().strip()
    if not isinstance(box, QComboBox):
        return ""
    at = box.findText(box.currentText())
    return str(box.itemData(at)) if at >= 0 else box.currentText().strip()


def _read(setting: TaskSetting, text: str) -> Any:
    """Return a value as the table has it; what fits no form stays text, to be refused."""
    if setting.kind in LISTS:
        return [part.strip() for part in text.split(",") if part.strip()]
    if setting.kind in ROLES and "=" in text:
        pairs = (part.partition("=") for part in text.split(","))
        return {role.strip(): name.strip() for role, _, name in pairs}
    if setting.kind in {"count", "bearing"} and text.isascii() and text.isdigit():
        return int(text)
    return text


def _said(value: Any) -> str:
    match value:
        case None:
            return ""
        case Mapping():
            return ", ".join(f"{role} = {name}" for role, name in value.items())
        case list() | tuple():
            return ", ".join(map(str, value))
    return str(value)
