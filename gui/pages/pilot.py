"""The pilot at the desk: tasks, how each adds up, what is in hand, all that happened."""

from collections import Counter
from typing import Any

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QHBoxLayout,
    QSizePolicy,
    QStackedWidget,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from gui.actions import Spec, needs, takes
from gui.blind import veiled
from gui.desk_paper import published_page, slip_file
from gui.jobs import Jobs
from gui.keys import Key
from gui.models.bill import Bill, BillLine, bill_of, hidden_bill, rows_of
from gui.models.decision import Deciding
from gui.models.giving import GIVEN, Giving
from gui.models.pilot import (
    PilotTask,
    PublishedScores,
    hand_of,
    head_line,
    held_words,
    pilot_tasks,
    standing_words,
    story,
)
from gui.models.results import sheet_of
from gui.models.table import RIGHT, TableColumn
from gui.pages.leading import lead_from
from gui.pages.page import Form, Page
from gui.pages.pilot_bar import PilotBar
from gui.parts.capbutton import CapButton
from gui.parts.card import Card
from gui.parts.cells import TWO
from gui.parts.factrow import FactRow, Told
from gui.parts.keycap import hint_row
from gui.parts.oneline import OneLine
from gui.parts.rows import ListRow, RowList
from gui.plots.picture import Picture
from gui.plots.profile import ProfilePlot
from gui.snapshot import ScoredSnapshot, Snapshot
from gui.state import Condition
from gui.style import LOOK
from gui.theme import BETWEEN, COLUMNS, Theme
from gui.view import TableView
from gui.widgets import held, label
from scorer.event.finding import Finding
from scorer.event.matter import Matter
from scorer.event.model import Decision
from scorer.facts import count, fact, words
from scorer.facts import pilot as pilot_value
from scorer.ledger.publish import Read, read_once
from scorer.remembered import one_and_same
from scorer.scoring.document import document
from scorer.scoring.results import RuledFinding
from scorer.sheets.stamp import working_stamp
from scorer.words.voice import Voice

OPEN = needs(Condition.EVENT)
DECIDING = needs(Condition.EVENT, Condition.WRITABLE, Condition.RESULTS)
TASK_COLUMNS = (
    TableColumn("", lambda row: row.task.task, align=RIGHT),
    TableColumn(
        "Task", lambda row: row.title, text=lambda r: f"{r.title}\n{r.stage}", rest=True
    ),
    TableColumn("Result", lambda row: row.result, align=RIGHT),
    TableColumn("Rank", lambda row: row.rank, align=RIGHT),
    TableColumn("Points", lambda row: row.points, align=RIGHT),
    TableColumn("Penalty", lambda row: row.penalty, align=RIGHT, tone=lambda r: r.tone),
    TableColumn("Score", lambda row: row.total, align=RIGHT),
)


NARROW_AWAY = (4, 5)
"""Columns that give way where there is little room."""
MOST_TASKS = 4
"""Tasks that are seen without scrolling."""


class PilotPage(Page):
    """One pilot; no page of the rail: P on any row, or F2 and the number."""

    name = "pilot"
    title = "Pilot"
    shows_heights = True
    foot_keys = (
        (Key.BACK, "back there"),
        ((Key.PREVIOUS, Key.NEXT), "other pilots"),
        (Key.GO_ON, "decide"),
        (Key.CORRECT, "decide for the pilot"),
    )
    specs = (
        Spec("next_pilot", "&Next pilot", Key.NEXT, "The next number", OPEN),
        Spec("previous_pilot", "Pilot &before", Key.PREVIOUS, "The one before", OPEN),
        Spec("as_published", "As &published", Key.AS_PUBLISHED, "Word for word", OPEN),
        Spec("print_slip", "Print &slip", Key.PRINT, "Of what counts now", OPEN),
        Spec("decide", "&Decide…", Key.CORRECT, "Bonus, score, result", DECIDING),
        Spec("add_penalty", "Add a penalt&y", Key.ADD_PENALTY, "In points", DECIDING),
        Spec("hold", "&Hold", Key.HOLD, "The pilot is asked first", DECIDING),
        *takes(
            DECIDING,
            *((f"Choice {n}", "Take that decision") for n, _ in enumerate(GIVEN, 1)),
        ),
        Spec("complain", "&Complaint", Key.COMPLAINT, "File one", OPEN),
        Spec("out", "O&ut", Key.OUT, "Drop what is not recorded; leave the paper"),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.number: int | None = None
        self.hands = Jobs(self, "hand")
        self.hand = PublishedScores()
        self._hand_of: tuple[object, ...] = ()
        self._read: Read | None = None
        self._asked: tuple[object, ...] = ()
        self._told: tuple[object, ...] = ()
        self.heading.hide()
        self.hint_label.hide()
        self.body.addWidget(self._head_card())
        self.columns = QHBoxLayout()
        self.columns.setSpacing(BETWEEN)
        self.left = self._left()
        self.columns.addWidget(self.left, 55)
        self.right = self._right()
        self.columns.addWidget(self.right, 45)
        for column in (self.left, self.right):
            column.setSizePolicy(
                QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred
            )
        self.body.addLayout(self.columns, 1)
        self.bar = PilotBar(self.session)
        self.bar.recorded.connect(self._on_recorded)
        self.bar.dropped.connect(self._to_lines)
        self.body.addWidget(self.bar)
        self.session.shelf.pictured.connect(self._on_picture)

    def _head_card(self) -> Card:
        voice, card = Voice(), Card()
        self.big = label(look="greatest")
        self.big.setAccessibleName("Number")
        self.who = OneLine(look="name", letters=12)
        self.about = label(look="second", wrap=True)
        self.facts = FactRow("Standing of the pilot")
        self.slip = CapButton(voice.word("slip-print"), Key.PRINT)
        self.slip.clicked.connect(self.print_slip)
        named = QVBoxLayout()
        named.setSpacing(0)
        named.addWidget(self.who)
        named.addWidget(self.about)
        row = QHBoxLayout()
        row.setSpacing(COLUMNS)
        row.addWidget(self.big)
        row.addLayout(named, 1)
        self.facts.setSizePolicy(
            QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred
        )
        row.addWidget(self.facts, 1)
        row.addWidget(self.slip)
        self._head_row, self._head_body = row, card.body
        card.body.addLayout(row)
        return card

    def _left(self) -> QWidget:
        voice = Voice()
        self.tasks = TableView(TASK_COLUMNS, "Tasks", key=lambda row: row.task.task)
        self.tasks.horizontalHeader().setMinimumSectionSize(24)
        self.tasks.chosen.connect(lambda _: self._show_task())
        self.tasks.entered.connect(lambda _: self._to_lines())
        self.bill_card = Card("How it adds up")
        self.bill_card.head.addWidget(hint_row((Key.AS_PUBLISHED, "as published")))
        self.lines = RowList("How it adds up")
        self.lines.entered.connect(self._on_line)
        self.lines.chosen.connect(lambda _: self._ask_picture(self.tasks.row))
        self.paper = QTextBrowser()
        self.paper.setAccessibleName("As published")
        self.paper.setOpenLinks(False)
        self.stack = QStackedWidget()
        self.stack.addWidget(self.lines)
        self.stack.addWidget(self.paper)
        self.total_words, self.total = label(look="section"), label(look="section")
        sum_row = QHBoxLayout()
        sum_row.addWidget(self.total_words, 1)
        sum_row.addWidget(self.total)
        self.holds = label(look="quiet", wrap=True)
        self.holds.setAccessibleName(voice.word("holds-title"))
        self.bill_card.body.addWidget(self.stack, 1)
        self.bill_card.body.addLayout(sum_row)
        self.bill_card.body.addWidget(self.holds)
        column = QVBoxLayout()
        column.setSpacing(BETWEEN)
        column.addWidget(self.tasks)
        column.addWidget(self.bill_card, 1)
        return held(column)

    def _right(self) -> QWidget:
        self.profile = ProfilePlot()
        self.picture_card = Card("Heights")
        self.picture_card.body.addWidget(self.profile.widget, 1)
        self.missing = OneLine(look="muted")
        self.picture_card.body.addWidget(self.missing)
        self.story_card = Card("Everything, newest first")
        self.story_card.head.addWidget(hint_row((Key.COMPLAINT, "complaint")))
        self.told = RowList("Everything, newest first")
        self.told.entered.connect(lambda _: self.go.emit("desks", self.number))
        self.story_card.body.addWidget(self.told, 1)
        column = QVBoxLayout()
        column.setSpacing(BETWEEN)
        column.addWidget(self.picture_card, 4)
        column.addWidget(self.story_card, 5)
        return held(column)

    def arrange(self) -> None:
        """Where there is little room the bill takes it."""
        small = self.form is Form.SMALL
        if small:
            self._head_body.addWidget(self.facts)
        else:
            self._head_row.insertWidget(2, self.facts, 1)
        self.right.setVisible(not small)
        self.picture_card.setVisible(self.form is Form.WIDE)
        for place in NARROW_AWAY:
            self.tasks.setColumnHidden(place, self.form is not Form.WIDE)

    @property
    def panes(self) -> tuple[QWidget, ...]:
        """Tasks, bill, what happened."""
        shown = self.paper if self.stack.currentIndex() else self.lines
        return self.tasks, shown, self.told

    @property
    def chosen(self) -> bool:
        """Tell whether a pilot is shown."""
        return self.number is not None

    def set_theme(self, theme: Theme) -> None:
        """Take over colours, in the picture too."""
        super().set_theme(theme)
        self.profile.show(self.profile.picture, theme)

    def _to_lines(self) -> None:
        self.lines.setFocus()

    # What is shown.

    def lead_to(self, what: Any) -> None:
        """Show a pilot, by number or by a matter about one."""
        number = what.pilot if isinstance(what, Matter) else what
        if isinstance(number, int):
            self._show(number, what.task if isinstance(what, Matter) else None)

    def enter(self) -> None:
        """Go to the bill; the first pilot where none was shown yet."""
        numbers = self._numbers()
        if self.number is None and numbers:
            self._show(numbers[0])
        self.lines.setFocus()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show what stands now."""
        if snapshot is not None and self.number is not None:
            self._fill()

    def rescored(self) -> None:
        """Show new results."""
        self.refresh(self.snapshot)

    def forget(self) -> None:
        """The event is closed: show nobody."""
        super().forget()
        self.number, self.hand = None, PublishedScores()
        self._hand_of, self._read, self._asked = (), None, ()
        self._told = ()
        self.bar.drop()
        self.out()

    def _numbers(self) -> list[int]:
        snapshot = self.snapshot
        return [p.number for p in snapshot.event.pilots] if snapshot else []

    def _show(self, number: int, task: int | None = None) -> None:
        self.number = number
        self._told = ()
        self.bar.drop()
        self.stack.setCurrentWidget(self.lines)
        self.profile.show(None, self.theme)
        self._fill()
        wanted = task if task is not None else self.session.task
        if wanted is None or not self.tasks.choose(wanted):
            self.tasks.choose_first()
        self._show_task()
        self.choice.emit()

    def _fill(self) -> None:
        snapshot, scored, number = self.snapshot, self.session.results, self.number
        if snapshot is None or number is None:
            return
        self.big.setText(str(number))
        self.who.setText(snapshot.pilot_name(number))
        self.about.setText(head_line(snapshot, number))
        self._show_story(snapshot, number)
        if scored is None or scored.results is None:
            return
        self._show_facts(scored, number)
        sheet = sheet_of(scored)
        if sheet is not None:
            by_task = Counter(m.task for m in self._matters() if m.task is not None)
            self.tasks.set_rows(pilot_tasks(sheet, scored, number, self.hand, by_task))
        shown = min(len(self.tasks.shown), MOST_TASKS)
        self.tasks.setFixedHeight(LOOK.px(TWO * max(shown, 1) + 38))
        self._look_in_hand()
        self.tasks.choose_first()
        self._show_task()

    def _matters(self) -> list[Matter]:
        rows = self.session.matters.rows
        every = (m for row in rows for m in row.matter.each)
        return [m for m in every if m.is_open and self.number in m.pilots]

    def _show_facts(self, scored: ScoredSnapshot, number: int) -> None:
        voice = Voice()
        if scored.results is None:
            return
        hidden = bool(scored.hidden)
        place, total = standing_words(scored.results, number, hidden=hidden)
        many = voice.say(fact("pilot-matters", matters=count(len(self._matters()))))
        self.facts.show_facts(
            [
                Told(voice.word("pilot-standing"), place or "–"),
                Told(voice.word("pilot-total"), total or "–"),
                Told(voice.word("pilot-open-matters"), many),
            ]
        )

    def _show_story(self, snapshot: Snapshot, number: int) -> None:
        voice = Voice.of(snapshot.event)
        title = voice.say(fact("story-title", pilot=pilot_value(number)))
        self.told.setAccessibleName(title)
        rows = story(snapshot, self.session.who, number)
        self.told.show_rows(
            [
                ListRow(
                    key=row.entry.hash,
                    name=f"{row.kind}: {row.about}" if row.about else row.kind,
                    second=f"{row.clock}, {row.day}  {row.stands}".strip(),
                    at=row.entry.who,
                    data=row,
                )
                for row in rows
            ]
        )

    # What the pilot holds in hand.

    def _look_in_hand(self) -> None:
        """Compare what is up with what counts, in a worker, once for each change."""
        whole, ledger = self.session.publishable, self.session.ledger
        if whole is None or whole.results is None or ledger is None:
            return
        key = (id(whole), self.snapshot.state.heads if self.snapshot else ())
        if key == self._hand_of or self.hands.busy:
            return
        self._hand_of = key
        if self._read is None:
            self._read = read_once(ledger)
        results, read = whole.results, self._read
        self.hands.start(
            lambda _: hand_of(ledger.state(), document(results), read),
            done=self._on_hand,
        )

    def _on_hand(self, hand: object) -> None:
        if isinstance(hand, PublishedScores) and self.session.ledger is not None:
            self.hand = hand
            self._fill()

    # The chosen task.

    def _bill(self, row: PilotTask) -> Bill | None:
        scored = self.session.results
        if scored is None or scored.results is None:
            return None
        if row.score is None:
            hidden = (row.task.task, self.number) in scored.hidden
            return hidden_bill(scored.results.voice, row.task.task) if hidden else None
        return bill_of(scored.results, row.task, row.score)

    def _show_task(self) -> None:
        row: PilotTask | None = self.tasks.row
        told = row, self.session.results, self.hand
        if one_and_same(told, self._told):
            return  # rows that are set, chosen and filled ask for it in turn
        self._told = told
        bill = None if row is None else self._bill(row)
        self.bill_card.name_it(bill.title if bill else "How it adds up")
        self.lines.show_rows(rows_of(bill) if bill else [])
        self.lines.choose_first()
        self.total_words.setText(bill.total if bill else "")
        self.total.setText(bill.score if bill else "")
        self._say_hand(row)
        self._ask_picture(row)

    def _say_hand(self, row: PilotTask | None) -> None:
        scored = self.session.results
        if row is None or scored is None or self.number is None:
            self.holds.setText("")
            return
        voice, task = Voice(), row.task.task
        if scored.results is not None:
            voice = scored.results.voice
        hidden = task in veiled(scored.hidden)
        holds, changed = held_words(self.hand, voice, task, self.number, hidden=hidden)
        self.holds.setText(f"{voice.word('holds-title')}: {holds}\n{changed}".strip())

    def _ask_picture(self, row: PilotTask | None) -> None:
        if row is None or self.number is None:
            return
        finding = self._pictured()
        asked = (
            row.task.flight,
            self.number,
            row.task.task,
            finding.id if finding else "",
        )
        if asked != self._asked or self.profile.picture is None:
            self._asked = asked
            self.profile.show(None, self.theme)
            self.missing.setText("")
            self.picture_card.name_it(f"{self.number}, task {row.task.task}: heights")
            self.session.shelf.ask_picture(self.name, *asked[:3], finding)

    def _pictured(self) -> Finding | None:
        """Return what the picture is about: the chosen line, else the first seen."""
        shown = [self.lines.row, *(row.data for row in self.lines.shown)]
        names = (line.finding for line in shown if isinstance(line, BillLine))
        ruled = next(filter(None, map(self._ruled, filter(None, names))), None)
        return None if ruled is None else ruled.finding

    def _on_picture(self, asked: tuple[object, ...], picture: Picture | None) -> None:
        if asked == self._asked:
            self.profile.show(picture, self.theme)
            self.missing.setText(picture.missing if picture else "")

    def _on_line(self, line: Any) -> None:
        """Go where a line is decided."""
        row: PilotTask | None = self.tasks.row
        if isinstance(line, BillLine) and row is not None and self.number is not None:
            lead_from(self, line, row.task.task, self.number)

    # Commands.

    def next_pilot(self) -> None:
        """Show the next pilot."""
        self._step(1)

    def previous_pilot(self) -> None:
        """Show the pilot before."""
        self._step(-1)

    def _step(self, step: int) -> None:
        numbers = self._numbers()
        if self.number in numbers:
            at = numbers.index(self.number) + step
            if 0 <= at < len(numbers):
                row = self.tasks.row
                self._show(numbers[at], row.task.task if row else None)

    def as_published(self) -> None:
        """Show the page word for word as it went up, or go back."""
        if self.stack.currentWidget() is self.paper:
            self.out()
            return
        row, ledger, number = self.tasks.row, self.session.ledger, self.number
        put = self.hand.up.get(row.task.task) if row is not None else None
        if put is None or ledger is None or number is None:
            self.note.emit(Voice().word("holds-nothing"))
            return
        if self.session.results and self.session.results.hidden:
            self.note.emit(Voice().word("board-hidden"))
            return
        version = put.version
        self.jobs.start(
            lambda _: published_page(ledger, version, number),
            text="Fetching the page",
            done=self._on_paper,
        )

    def _on_paper(self, page: object) -> None:
        self.paper.setHtml(str(page))
        self.stack.setCurrentWidget(self.paper)
        self.paper.setFocus()

    def out(self) -> None:
        """Drop what is not recorded; leave the paper."""
        if self.bar.isVisible():
            self.bar.drop()
        self.stack.setCurrentWidget(self.lines)
        self.lines.setFocus()

    def print_slip(self) -> None:
        """Set the slip of what counts now, and hand it to the system to print."""
        scored, number = self.session.results, self.number
        if scored is None or number is None:
            return
        if scored.hidden:  # a slip says ranks, which tell what was entered first
            self.note.emit(Voice().word("slip-hidden"))
            return
        stamp = working_stamp("")
        self.jobs.start(
            lambda _: slip_file(scored, stamp, number),
            text="Setting the slip",
            done=self._on_slip,
        )

    def _on_slip(self, file: object) -> None:
        """Hand it to the system, and say where it is: some have nothing that shows it."""
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(file)))
        self.note.emit(Voice().say(fact("slip-made", file=words(str(file)))))

    def decide(self) -> None:
        """Decide for this pilot in the chosen task."""
        self._begin(Decision.AVERAGE, choose=False)

    def add_penalty(self) -> None:
        """Add a penalty in points."""
        self._begin(Decision.IMPOSE)

    def _begin(self, decision: Decision, *, choose: bool = True) -> None:
        row: PilotTask | None = self.tasks.row
        if row is None or self.number is None or row.score is None:
            return
        asked = Giving(pilot=self.number, task=row.task.task, decision=decision)
        self.bar.begin(asked, choose=choose)

    def hold(self) -> None:
        """Hold the infringement of the chosen line: the pilot is asked."""
        line, row = self.lines.row, self.tasks.row
        ruled = self._ruled(line.finding) if isinstance(line, BillLine) else None
        if ruled is None or row is None:
            self.note.emit(Voice().word("no-such-finding"))
            return
        self.bar.begin(Deciding(ruled=ruled, decision=Decision.HOLD))

    def _ruled(self, finding: str) -> RuledFinding | None:
        """Return an infringement of the score, with what was decided on it."""
        scored = self.session.results
        results = scored.results if scored else None
        every = results.findings if results else ()
        return next((ruled for ruled in every if ruled.finding.id == finding), None)

    def take(self, number: int) -> None:
        """Take a decision by its number."""
        self.bar.take(number)

    def _on_recorded(self, drafts: Any) -> None:
        said = self.bar.sentence.text()
        self.session.record_all(drafts)
        self.note.emit(said)

    def complain(self) -> None:
        """File a complaint of this pilot."""
        self.go.emit("complaints", self.number)
