"""What the logs show, with its picture, and what officials decide on it."""

from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QSplitter, QVBoxLayout

from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.findings import COLUMNS, FindingRow, finding_rows
from gui.pages.page import ListPage
from gui.pages.ruling_line import RulingLine, Wanted
from gui.plots.pair import Pair
from gui.plots.picture import Picture
from gui.snapshot import Snapshot
from gui.state import Fact
from gui.theme import Theme
from gui.view import Table
from gui.widgets import choice, field, held, label, say
from scorer.event.model import Decision
from scorer.event.moments import EventTime
from scorer.ledger.acts import RulingMade
from scorer.ledger.api import Current, Draft
from scorer.scoring.joins import means_all
from scorer.scoring.results import RulingState
from scorer.sheets.breakdown import finding_facts
from scorer.sheets.sheet import Sheet
from scorer.sheets.stamp import Stamp
from scorer.words.voice import Voice

CHOSEN = needs(Fact.EVENT, Fact.WRITABLE, Fact.CHOSEN)
FORM = "ruling"
VIEWS = (("open first, all", False), ("open only", True))


class FindingsPage(ListPage):
    """The list, the facts, the picture, the ruling."""

    name = "findings"
    title = "Infringements"
    key = Key.PAGE_7
    hint = "Up and down choose; A confirms, W waives, S another amount; say why; Enter."
    shows_heights = True
    specs = (
        Spec(
            "apply",
            "&Confirm",
            Key.CONFIRM,
            "The penalty that the rules ask for counts",
            CHOSEN,
        ),
        Spec("waive", "&Waive", Key.WAIVE, "No penalty", CHOSEN),
        Spec("set_amount", "&Set", Key.SET_AMOUNT, "Another penalty counts", CHOSEN),
        Spec(
            "impose",
            "A&dd a penalty…",
            Key.ADD_PENALTY,
            "A penalty for something that no log shows",
            needs(Fact.EVENT, Fact.WRITABLE, Fact.TASKS),
        ),
        Spec("take_back", "&Revert", Key.REMOVE, "Revert the decision", CHOSEN),
        Spec(
            "to_picture", "To the &picture", Key.NONE, "Arrows, + and −, F, R", CHOSEN
        ),
        Spec("to_search", "&Find", Key.FIND, "Find in the list", needs(Fact.EVENT)),
        Spec("to_list", "Back to the &list", Key.OUT, "Leave the line or the picture"),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.told = label()
        self.view = choice("Narrow the list", *VIEWS, changed=self._narrow)
        self.search = field("Find in the list", "find …", changed=self._find)
        row = self.buttons("apply", "waive", "set_amount", "impose", "take_back")
        row.insertWidget(0, self.told)
        row.addWidget(self.view)
        row.addWidget(self.search)
        self.body.addLayout(row)
        self.table = Table(COLUMNS, "Infringements", key=lambda r: r.ruled.finding.id)
        self.table.chosen.connect(self._on_chosen)
        self.table.entered.connect(lambda _: self.to_picture())
        self.facts = label(wrap=True)
        self.facts.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.facts.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.facts.setAccessibleName("What was seen")
        self.line = RulingLine()
        self.line.submitted.connect(self.submit)
        self.line.changed.connect(self._keep)
        self.line.hide()
        self.pair = Pair(side_by_side=True)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidget(self.facts)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        upper = QVBoxLayout()
        upper.addWidget(self.table, 1)
        upper.addWidget(self.line)
        below = QSplitter(Qt.Orientation.Horizontal)
        below.addWidget(area)
        below.addWidget(self.pair)
        below.setSizes([330, 830])
        below.setStretchFactor(0, 0)
        below.setStretchFactor(1, 1)
        split = QSplitter(Qt.Orientation.Vertical)
        split.addWidget(held(upper))
        split.addWidget(below)
        split.setSizes([200, 400])
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 2)
        for part in (below, split):
            part.setChildrenCollapsible(False)
        self.body.addWidget(split, 1)
        self._row: FindingRow | None = None
        self._asked: tuple[object, ...] = ()
        self.session.shelf.pictured.connect(self._on_picture)

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show findings; they change with the score."""
        if snapshot is None:
            self.rescored()

    def rescored(self) -> None:
        """Show the findings of the score."""
        rows = finding_rows(self.session.results)
        self.table.set_rows(rows)
        unruled = sum(row.open for row in rows)
        if not rows:
            say(
                self.told,
                "No infringements." if self.session.results else "Not scored yet.",
                "muted",
            )
        else:
            say(self.told, f"{unruled} to decide", "bad" if unruled else "good")
        self.table.choose_first()
        self._on_chosen(self.table.row)

    def set_theme(self, theme: Theme) -> None:
        """Take over colours, in the picture too."""
        super().set_theme(theme)
        self.pair.show_picture(self.pair.picture, theme)

    def _find(self, text: str) -> None:
        self.table.proxy.set_words(text)

    def _narrow(self) -> None:
        only_open = bool(self.view.currentData())
        self.table.proxy.set_wanted((lambda row: bool(row.open)) if only_open else None)

    def _on_chosen(self, row: FindingRow | None) -> None:
        before = self._row.ruled.finding.id if self._row else ""
        self._row = row
        if row is None:
            self.facts.setText("")
            self.pair.show_picture(None, self.theme)
            self._asked = ()
        else:
            self._tell_facts(row)
            self._ask_picture(row)
            if row.ruled.finding.id != before:
                self.line.hide()
        self.choice.emit()

    def _tell_facts(self, row: FindingRow) -> None:
        scored = self.session.results
        if scored is None or scored.results is None:
            return
        sheet = Sheet(
            results=scored.results, event=scored.event, stamp=Stamp(results_sha256="")
        )
        finding = row.ruled.finding
        lines = [
            f"<b>{row.what}: {finding.pilot} {row.name}</b>",
            _safe(sheet.say(finding.says)),
        ]
        lines += [
            f"<b>{name}</b> {_safe(value)}"
            for name, value in finding_facts(sheet, row.ruled)
        ]
        self.facts.setText("<br>".join(lines))

    def _ask_picture(self, row: FindingRow) -> None:
        finding = row.ruled.finding
        asked = (finding.flight, finding.pilot, finding.task, finding.id)
        edition = (*asked, id(self.session.results))
        if edition != self._asked:
            self._asked = edition
            self.session.shelf.ask_picture(
                finding.flight, finding.pilot, finding.task, finding
            )

    def _on_picture(self, asked: tuple[object, ...], picture: Picture | None) -> None:
        if asked == self._asked[:4]:
            self.pair.show_picture(picture, self.theme)

    # Ruling.

    def apply(self) -> None:
        """Let the penalty of the rule book count."""
        self._begin(Decision.APPLY)

    def waive(self) -> None:
        """Let no penalty count."""
        self._begin(Decision.WAIVE)

    def set_amount(self) -> None:
        """Let another penalty count."""
        self._begin(Decision.SET)

    def impose(self) -> None:
        """Add a penalty for something that no log shows."""
        snapshot = self.snapshot
        if snapshot is not None:
            task = self._row.ruled.finding.task if self._row else None
            tasks = [t.number for t in snapshot.event.tasks]
            self.line.begin_impose(tasks, task)

    def _begin(self, decision: Decision) -> None:
        if self._row is None:
            return
        finding = self._row.ruled.finding
        texts = self.session.unsaved.of(FORM)
        kept = texts.get("reason", "") if texts.get("finding") == finding.id else ""
        self.line.begin(decision, finding, reason=kept)

    def submit(self, wanted: Wanted) -> None:
        """Record the ruling."""
        snapshot, scored = self.snapshot, self.session.results
        if snapshot is None or scored is None:
            return
        if not wanted.reason:
            self.note.emit("reason: say why; the pilot will read it")
            self.line.reason.setFocus()
            return
        if wanted.pilot is not None and snapshot.event.pilot(wanted.pilot) is None:
            self.note.emit("pilot: the number of a pilot")
            self.line.pilot.setFocus()
            return
        fields = wanted.fields() | {"by": self.session.who, "at": self._now()}
        flight = self._flight(wanted)
        if flight is None:
            return
        replaces = self._earlier(wanted.finding)
        self.session.record_all(
            [
                Draft(
                    act=RulingMade(flight=flight, fields=fields),
                    why=wanted.reason,
                    replaces=replaces.ids if replaces else (),
                )
            ]
        )
        self.session.unsaved.keep(FORM, {})
        decided = Voice.of(snapshot.event).term(f"ruling-{wanted.decision}")
        self.note.emit(f"pilot {fields['pilot']}: {decided}")
        self.to_list()
        self._next()

    def _next(self) -> None:
        """Go to the next finding that is open."""
        rows = self.table.shown
        keys = [row.ruled.finding.id for row in rows]
        now = self._row.ruled.finding.id if self._row else None
        at = keys.index(now) if now in keys else -1
        for row in (*rows[at + 1 :], *rows[: at + 1]):
            if row.open and row.ruled.finding.id != now:
                self.table.choose(row.ruled.finding.id)
                return

    def _flight(self, wanted: Wanted) -> str | None:
        task = self.snapshot.task(wanted.task) if self.snapshot else None
        if task is not None:
            return task.flight
        flights = self.snapshot.event.flights if self.snapshot else ()
        return flights[-1].id if flights else None

    def _earlier(self, finding: str) -> Current | None:
        """Return the ruling on one finding, which may know it by another identifier."""
        if not finding or self.snapshot is None:
            return None
        ruled = self._row.ruled if self._row else None
        ruling = ruled.ruling if ruled and ruled.finding.id == finding else None
        if ruling is not None and means_all(ruling):
            ruling = None
        for current, act in self.snapshot.state.all_of(RulingMade):
            given = {name: text for name, text in act.fields.items() if text.strip()}
            if given.get("finding") == finding or (
                ruling is not None and given == ruling.entered
            ):
                return current
        return None

    def _now(self) -> str:
        ledger, snapshot = self.session.ledger, self.snapshot
        if ledger is None or snapshot is None:
            return ""
        zone = ZoneInfo(snapshot.event.time_zone)
        return EventTime.of(ledger.clock(), zone).written()

    def take_back(self) -> None:
        """Take the ruling on the chosen finding back."""
        row = self._row
        if row is None or row.ruled.state is RulingState.UNRULED:
            self.note.emit("this infringement is not decided yet")
            return
        earlier = self._earlier(row.ruled.finding.id)
        if earlier is None:
            self.note.emit(
                "this decision names the kind of infringement: decide anew instead"
            )
            return
        self.session.withdraw(
            earlier.ids, why=f"decision reverted by {self.session.who}"
        )

    def _keep(self) -> None:
        if self._row is not None and self.line.reason.text().strip():
            texts = {
                "finding": self._row.ruled.finding.id,
                "reason": self.line.reason.text(),
            }
            self.session.unsaved.keep(FORM, texts)

    # Where the keyboard is.

    def to_picture(self) -> None:
        """Go to the picture."""
        self.pair.profile.widget.setFocus()

    def to_search(self) -> None:
        """Go to the finder."""
        self.search.setFocus()

    def to_list(self) -> None:
        """Leave the line or the picture."""
        self.line.hide()
        self.table.setFocus()


def _safe(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")
