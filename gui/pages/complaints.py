"""Complaints: filed by pilots, decided by officials, both kept."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gui.models.publications import COMPLAINT_COLUMNS, ComplaintRow, complaint_rows
from gui.session import Session
from gui.snapshot import Snapshot
from gui.view import Table
from gui.widgets import choice, field, refill, section
from scorer.event.model import Level, Outcome
from scorer.ledger.acts import ComplaintDecided, ComplaintFiled, EntryId

FORM = "complaint"
EVENT = 0


class Complaints(QWidget):
    """The list, a line to file one, a line to decide on one."""

    note = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.table = Table(
            COMPLAINT_COLUMNS, "Complaints", key=lambda r: r.complaint.entry.hash
        )
        self.pilot = field("Number of the pilot who complains", "No.")
        self.pilot.setMaximumWidth(90)
        self.task = choice("Task the complaint is about")
        self.level = choice("Complaint or protest", *[(str(v), v) for v in Level])
        self.text = field("Complaint", "file a complaint: what is disputed, and why")
        self.verdict = choice("Decision", *[(str(v), v) for v in Outcome])
        self.reason = field("Reason of the decision", "decide on the chosen one: why")
        self.pilot.returnPressed.connect(self.text.setFocus)
        self.text.returnPressed.connect(self.submit)
        self.text.textEdited.connect(lambda _: self._keep())
        self.reason.returnPressed.connect(self.decide)
        filing, deciding = QHBoxLayout(), QHBoxLayout()
        filing.addWidget(self.pilot)
        filing.addWidget(self.task)
        filing.addWidget(self.level)
        filing.addWidget(self.text, 1)
        deciding.addWidget(self.verdict)
        deciding.addWidget(self.reason, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(section("Complaints (Enter records)"))
        layout.addWidget(self.table, 1)
        layout.addLayout(filing)
        layout.addLayout(deciding)
        self._restored = ""

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show complaints as they stand."""
        tasks = snapshot.event.tasks if snapshot else ()
        options: list[tuple[str, object]] = [("event", EVENT)]
        options += [(f"task {t.number}", t.number) for t in tasks]
        refill(self.task, options)
        self.table.set_rows(complaint_rows(snapshot) if snapshot else [])
        if snapshot is not None and self._restored != self.session.target:
            self._restored = self.session.target
            self.text.setText(self.session.unsaved.of(FORM).get("text", ""))

    def begin(self) -> None:
        """Go to the line that files one."""
        self.pilot.setFocus()

    def submit(self) -> None:
        """File a complaint."""
        snapshot, number = self.session.snapshot, self.pilot.text().strip()
        known = number.isascii() and number.isdigit()
        if snapshot is None or not known or snapshot.event.pilot(int(number)) is None:
            self.note.emit("complaint: give a pilot's number")
            self.pilot.setFocus()
            return
        if not self.text.text().strip():
            self.note.emit("complaint: say what is disputed")
            return
        level = Level(self.level.currentData())
        against: ComplaintRow | None = self.table.row
        if level is Level.PROTEST and (against is None or against.complaint.is_open):
            self.note.emit("protest: choose the decided complaint it is about")
            return
        up = [p for p in snapshot.state.publications if not p.withdrawn]
        act = ComplaintFiled(
            pilot=int(number),
            text=self.text.text().strip(),
            task=self.task.currentData() or None,
            publication=up[-1].entry.hash if up else EntryId(""),
            level=level,
            against=against.complaint.entry.hash
            if level is Level.PROTEST and against is not None
            else EntryId(""),
        )
        self.session.record(act)
        self.pilot.clear()
        self.text.clear()
        self._keep()
        self.note.emit(f"{level} of pilot {number} filed")

    def decide(self) -> None:
        """Decide on the chosen complaint."""
        row: ComplaintRow | None = self.table.row
        reason = self.reason.text().strip()
        if row is None or not row.complaint.is_open:
            self.note.emit("choose an open complaint")
            return
        if not reason:
            self.note.emit("decision: say why; the pilot will read it")
            return
        act = ComplaintDecided(
            complaint=row.complaint.entry.hash,
            verdict=Outcome(self.verdict.currentData()),
        )
        self.session.record(act, why=reason)
        self.reason.clear()
        self.note.emit(f"complaint of pilot {row.complaint.act.pilot}: {act.verdict}")

    def _keep(self) -> None:
        self.session.unsaved.keep(FORM, {"text": self.text.text()})
