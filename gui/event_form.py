"""What an event is called, where it is and by which clock: changed once it is made."""

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from gui.models.rules import new_faults
from gui.parts.kept import Kept
from gui.parts.wrapped import Wrapped
from gui.session import Session
from gui.snapshot import Snapshot
from gui.style import LOOK
from gui.widgets import field, form, say
from gui.zones import clock_there, zone_box
from scorer.ledger.corrections import settings_with
from scorer.ledger.entry import Draft
from scorer.words.voice import Voice

WIDTH = 620
NAMES = ("name", "venue", "time_zone", "ground_elevation")


class EventForm(QDialog):
    """A field for each; what it would break is told before anything is recorded."""

    given = Signal(object)  # the entry to record

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("The event")
        self._snapshot: Snapshot | None = None
        self.event_name = field("Name of the event")
        self.venue = field("Venue", "place, for the sheets")
        self.zone = zone_box("")
        self.zone.setAccessibleName("Time zone")
        self.elevation = field("Elevation of the ground", "as 640 m or 2100 ft")
        self.zone.currentTextChanged.connect(lambda _: self._tell())
        self.kept = Kept(session, "the-event", self._boxes)
        self.finished.connect(lambda _: self.kept.done())  # recorded or dropped
        self.told = Wrapped()
        buttons = QDialogButtonBox.StandardButton
        self.buttons = QDialogButtonBox(buttons.Ok | buttons.Cancel)
        self.buttons.button(buttons.Ok).setText("Record")
        for button in self.buttons.buttons():
            button.setIcon(QIcon())
        self.buttons.accepted.connect(self.give)
        self.buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addLayout(
            form(
                ("Name", self.event_name),
                ("Venue", self.venue),
                ("Time zone", self.zone),
                ("Elevation", self.elevation),
            )
        )
        layout.addWidget(self.told)
        layout.addWidget(self.buttons)

    def show_event(self, snapshot: Snapshot) -> None:
        """Show what the event says of itself."""
        self._snapshot = snapshot
        for name, text in self._before().items():
            box = self._boxes[name]
            if box is self.zone:
                self.zone.setCurrentText(text)
            else:
                box.setText(text)
        self.kept.begin("asked")
        self._tell()
        self.resize(LOOK.px(WIDTH), self.sizeHint().height())
        self.open()
        self.event_name.setFocus()

    def forget(self) -> None:
        """The event is closed: what is half typed stays with it."""
        self.kept.forget()
        self.hide()
        for box in (self.event_name, self.venue, self.elevation):
            box.clear()

    def give(self) -> None:
        """Hand over what records it, if the event can be built with it."""
        snapshot = self._snapshot
        if snapshot is None:
            return
        before = self._before()
        other = {n: text for n, text in self._typed().items() if text != before[n]}
        if not other:
            self.reject()
            return
        own: dict[str, Any] = {**snapshot.state.settings.get("event", {}), **other}
        own = {name: value for name, value in own.items() if value != ""}
        faults = new_faults(snapshot, {**snapshot.state.settings, "event": own})
        if faults:
            say(self.told, "\n".join(faults[:3]), "bad")
            return
        draft: Draft = settings_with(snapshot.state, "event", own)
        self.accept()
        self.given.emit(draft)

    @property
    def _boxes(self) -> Mapping[str, Any]:
        boxes = (self.event_name, self.venue, self.zone, self.elevation)
        return dict(zip(NAMES, boxes, strict=True))

    def _typed(self) -> dict[str, str]:
        return {
            name: (box.currentText() if box is self.zone else box.text()).strip()
            for name, box in self._boxes.items()
        }

    def _before(self) -> dict[str, str]:
        held = self._snapshot.state.settings.get("event", {}) if self._snapshot else {}
        return {name: str(held.get(name, "")) for name in NAMES}

    def _tell(self) -> None:
        """Say what time it is in the zone: a wrong one shows at once."""
        told, well = clock_there(self.zone.currentText().strip(), None)
        say(self.told, Voice().say(told), "muted" if well else "bad")
