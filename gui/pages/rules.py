"""The event's rules as questions: all at the left, one with its answer at the right.

Questions, gaps, worked cases and warnings come from the declarations of the rules; the
page adds nothing of its own.
"""

from collections.abc import Sequence
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from gui import ask
from gui.actions import Spec, needs, takes
from gui.blind import hidden_in, ranks_hidden
from gui.costs_form import CostsForm
from gui.event_form import EventForm
from gui.flow import clear
from gui.jobs import Jobs
from gui.keys import Key
from gui.models.matters import MatterRow
from gui.models.rule_rows import case_rows, open_here, rows_of, stands
from gui.models.rules import (
    Answer,
    book_with,
    draft_of,
    paragraph_of,
    read_answer,
    shown,
)
from gui.models.terrain import naming, take_terrain
from gui.pages.page import Page
from gui.parts.card import Card
from gui.parts.rows import RowList
from gui.parts.scrolled import Scrolled
from gui.places_of import rule_of
from gui.sentence import Sentence, gaps_of
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.widgets import field, held, label, say_or_hide, section
from scorer.event.answering import Cost, costs_of
from scorer.event.matter import Matter
from scorer.event.moments import EventTime
from scorer.event.questions import Question, question_of
from scorer.facts import Fact as Stated
from scorer.facts import count, fact, words
from scorer.ledger.acts import TerrainSet
from scorer.ledger.answers import answered_by, foreseen
from scorer.ledger.api import Ledger
from scorer.ledger.entry import Draft
from scorer.progress import Control
from scorer.scoring.asked import (
    Asked,
    Case,
    answer_of,
    asked,
    penalties_of,
    warnings,
    worked,
)
from scorer.scoring.score import unanswered
from scorer.words.voice import Voice

READY = needs(Condition.EVENT, Condition.WRITABLE)
FORM = "rule"
PARAGRAPH = "paragraph"
GRIDS = "Elevation grids (*.tif *.tiff *.hgt *.asc);;All files (*)"
LOOK_AFTER_MS = 500
"""Keys in quick succession are looked over once."""
COSTS = tuple(Cost)


class RulesPage(Page):
    """Questions at the left, those that wait first; one answer at the right."""

    name = "rules"
    title = "Rules"
    hint = "Enter answers the chosen question; Ctrl+Enter records."
    shows_heights = True
    specs = (
        Spec("save", "&Record this answer", Key.BIG_ACT, "Record the answer", READY),
        Spec(
            "put_back", "Leave as it was", Key.OUT, "Drop what is not recorded", READY
        ),
        Spec("terrain", "&Terrain…", Key.READ_IN, "Import an elevation grid", READY),
        Spec(
            "change_event",
            "The &event…",
            Key.NONE,
            "Its name, venue, time zone and elevation",
            READY,
        ),
        *takes(
            READY,
            *((f"Cost {n}", "Choose what it costs") for n, _ in enumerate(COSTS, 1)),
        ),
    )

    def build(self) -> None:
        """Make the widgets."""
        self.table = RowList("Questions")
        self.table.chosen.connect(self._on_chosen)
        self.table.entered.connect(lambda _: self.to_answer())
        self.grid = label(look="muted", wrap=True)
        left = QVBoxLayout()
        left.addWidget(self.table, 1)
        left.addWidget(self.grid)
        left.addWidget(self.buttons("terrain", "change_event"))
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        self.left, self.detail = held(left), self._detail()
        split.addWidget(self.left)
        split.addWidget(self.detail)
        split.setSizes([360, 660])
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 2)
        self.body.addWidget(split, 1)
        self.event_form = EventForm(self.session, self)
        self.event_form.given.connect(self._on_event)
        self._question: Question | None = None
        self._touched = False
        self._restored = ""
        self._recorded: tuple[Asked, ...] | None = None
        self._stands: object = None
        self._ahead = Jobs(self, "answer")
        self._ahead.ended.connect(self._on_foreseen)
        self._again = False
        self._timer = QTimer(self, interval=LOOK_AFTER_MS, singleShot=True)
        self._timer.timeout.connect(self.foresee)

    def _detail(self) -> QWidget:
        self.question = label(look="title", wrap=True)
        self.paragraph = field("Paragraph of your own rules", "§", letters=9)
        self.paragraph.textEdited.connect(lambda _: self._on_edited())
        self.answered = label(look="muted", wrap=True)
        self.sentence = Sentence()
        self.sentence.edited.connect(self._on_edited)
        self.costs_title = section(Voice().word("cost-question"))
        self.costs = CostsForm()
        self.costs.edited.connect(self._on_edited)
        self.cases = held(QGridLayout())
        self.cases.setAccessibleName("Worked cases")
        self.warning = label(look="warn", wrap=True)
        self.told = label(look="bad", wrap=True)
        self.ahead = label(look="muted", wrap=True)
        self.ahead.setAccessibleName("What recording changes")
        head = QHBoxLayout()
        head.addWidget(self.question, 1)
        head.addWidget(label("in your rules"))
        head.addWidget(self.paragraph)
        form = QVBoxLayout()
        form.addLayout(head)
        for one in (
            self.answered,
            self.sentence,
            self.costs_title,
            self.costs,
            self.cases,
            self.warning,
        ):
            form.addWidget(one)
        form.addStretch(1)
        inside = held(form)
        area = Scrolled(inside)
        for ground in (area.viewport(), inside):
            ground.setAutoFillBackground(False)  # the card's own shows
        foot = QHBoxLayout()
        foot.addWidget(self.button("save", main=True))
        foot.addWidget(self.ahead, 1)
        whole = QVBoxLayout()
        whole.addWidget(area, 1)
        whole.addWidget(self.told)
        whole.addLayout(foot)
        card = Card()
        card.body.addLayout(whole)
        return card

    # What is shown.

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """Questions, and the answer."""
        return self.left, self.detail

    @property
    def panes(self) -> tuple[QWidget, QWidget]:
        """Questions, and the answer."""
        return self.table, self.paragraph

    def enter(self) -> None:
        """Go to the questions."""
        self.to_pane(self.table)
        self.table.choose_first()

    def lead_to(self, what: Any) -> None:
        """Choose the question that asks for the rule a matter is about."""
        key = rule_of(what) if isinstance(what, Matter) else ""
        if key:
            self.table.choose(question_of(key).name)
        elif isinstance(what, Matter):
            self.table.choose(what.key)

    @property
    def chosen(self) -> bool:
        """Tell whether a question is chosen."""
        return self.table.row is not None

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the questions; what is being typed stays."""
        if snapshot is None:
            self.table.show_rows([])
            self.grid.setText("")
            self._show_question(None)
            return
        listed = self._list(snapshot)
        grids = snapshot.state.all_of(TerrainSet)
        self.grid.setText(
            f"Terrain: {grids[0][1].name}"
            if grids
            else "No terrain: heights count from the ground elevation of the event."
        )
        if self._restored != self.session.target:
            self._restored = self.session.target
            self._restore()
        elif not self._touched:
            self._to_next(listed)
            row = self.table.row
            question = row.question if isinstance(row, Asked) else self._question
            if self._stands != stands(question, snapshot):
                self._show_question(question)

    def task_chosen(self) -> None:
        """Show what is to be put right for another task, as the rail counts it."""
        self.rescored()

    def rescored(self) -> None:
        """Show what else is to be put right here, which only a score finds."""
        if self.snapshot is not None:
            self._list(self.snapshot)

    def _list(self, snapshot: Snapshot) -> tuple[Asked, ...]:
        listed = asked(snapshot.event.book, unanswered(snapshot.event))
        task = snapshot.task(self.session.task)
        here = open_here(self.session.matters, task)
        self.table.show_rows(rows_of(listed, self.voice, here))
        self._tell(listed, here)
        return listed

    def _to_next(self, listed: tuple[Asked, ...]) -> None:
        """Go to the next question that waits, once an answer is recorded."""
        if self._recorded not in {None, listed}:
            self._recorded = None
            if listed and listed[0].waits:
                self.table.choose(listed[0].question.name)

    def _tell(self, listed: tuple[Asked, ...], here: Sequence[MatterRow]) -> None:
        waiting = sum(row.matter.holds_up for row in here)
        every = count(len(listed))
        said = fact("rules-all-answered", all=every)
        if left := sum(one.left for one in listed):
            done = count(len(listed) - left)
            said = fact("rules-answered-of", answered=done, all=every)
        text = self.voice.say(said)
        if here:
            many = fact("rules-open-here", matters=count(len(here)))
            text = f"{text.rstrip('.')}; {self.voice.say(many)}"
        if waiting:
            kept = fact("rules-keep-official", waiting=count(waiting))
            text = f"{text}; {self.voice.say(kept)}"
        self.setAccessibleDescription(text)
        self.say_hint(text)

    def _on_chosen(self, row: Asked | Matter | None) -> None:
        if isinstance(row, Matter):
            key = rule_of(row)
            self._show_question(question_of(key) if key else None)
        elif row is not None and row.question != self._question:
            self._touched = False
            self._show_question(row.question)
        self.choice.emit()

    def _show_question(self, question: Question | None) -> None:
        snapshot = self.snapshot
        self._question, self._stands = question, None
        here = question is not None and snapshot is not None
        for one in (self.sentence, self.costs, self.cases, self.paragraph):
            one.setVisible(here)
        if question is None or snapshot is None:
            for told in (self.question, self.answered, self.ahead):
                told.setText("")
            say_or_hide(self.warning, "")
            say_or_hide(self.told, "")
            self.costs_title.hide()
            return
        event = snapshot.event
        self._stands = stands(question, snapshot)
        self.question.setText(self.voice.word(f"question-{question.name}"))
        self.paragraph.setText(paragraph_of(question, event.book))
        self.answered.setText(self._who(question, snapshot))
        gaps = gaps_of(question, event, self.voice)
        self.sentence.show_question(question, gaps, self.voice)
        self.sentence.put(shown(question, event))
        if question.penalty:
            self.costs.show_rule(question.worked, event.units, self.voice)
            self.costs.put(costs_of(penalties_of(question, event.book)))
        self.costs.setVisible(bool(question.penalty))
        self.costs_title.setVisible(bool(question.penalty))
        say_or_hide(self.told, "")
        self.ahead.setText("")
        self._look_over()

    def _who(self, question: Question, snapshot: Snapshot) -> str:
        """Say who answered last, or that the book did."""
        entries = answered_by(snapshot.state)
        own = [entries[key] for key in question.rules if key in entries]
        if question.waits(snapshot.event.book):
            return self.voice.sentence(fact("answer-waits"))
        if not own:
            book = words(self.voice.book(snapshot.event.book))
            return self.voice.say(fact("rule-from-book", book=book))
        last = max(own, key=lambda entry: entry.when)
        zone = ZoneInfo(snapshot.event.time_zone)
        at = EventTime.of(last.when, zone).dated(seconds=False)
        then = fact("rule-answered-then", at=words(at), by=words(last.who))
        return self.voice.say(then)

    # An answer being given.

    def _on_edited(self) -> None:
        self._touched = True
        question = self._question
        if question is not None:
            texts = {**self.sentence.texts, **self.costs.texts}
            texts |= {"question": question.name, PARAGRAPH: self.paragraph.text()}
            self.session.unsaved.keep(FORM, texts)
        self._look_over()
        self._timer.start()

    def _read(self) -> Answer | None:
        snapshot, question = self.snapshot, self._question
        if snapshot is None or question is None:
            return None
        return read_answer(
            question,
            snapshot.event,
            self.sentence.texts,
            self.costs.costs if question.penalty else costs_of(()),
            bare=self.costs.bare,
            paragraph=self.paragraph.text(),
        )

    def _look_over(self) -> None:
        """Show worked cases, warnings and faults of what stands in the form."""
        snapshot, question, answer = self.snapshot, self._question, self._read()
        if snapshot is None or question is None or answer is None:
            return
        shown_faults = answer.faults if self._touched else {}
        gap = next((k for k in self.sentence.fields if k in shown_faults), "")
        self.sentence.refuse(gap, shown_faults.get(gap, ""))
        self.costs.refuse(shown_faults.get(question.penalty, ""))
        book = book_with(answer, snapshot.event.book)
        unsaid = question.penalty in answer.faults  # then no case can be worked
        cases = () if unsaid else worked(question, book, snapshot.event.units)
        self._show_cases(question, cases)
        doubts = [self.voice.sentence(says) for says in warnings(question, book)]
        say_or_hide(self.warning, "\n".join(doubts), "warn")

    def _show_cases(self, question: Question, cases: tuple[Case, ...]) -> None:
        grid = self.cases.layout()
        if not isinstance(grid, QGridLayout):
            return
        clear(grid)
        self.cases.setVisible(bool(cases))
        for row, texts in enumerate(case_rows(question, cases, self.voice)):
            for column, text in enumerate(texts):
                look = "second" if row == 0 or column == 3 else ""
                told = label(text, look if column != 2 or not row else "strong")
                right = (
                    Qt.AlignmentFlag.AlignRight if column < 3 else Qt.AlignmentFlag(0)
                )
                grid.addWidget(told, row, column, right)
        grid.setColumnStretch(3, 1)

    # What recording it would change.

    def foresee(self) -> None:
        """Find out in the background what recording would change."""
        snapshot, ledger, question = self.snapshot, self.session.ledger, self._question
        answer = self._read()
        if snapshot is None or ledger is None or question is None or answer is None:
            return
        if self._ahead.busy:
            self._again = True
            return
        if answer.faults or not answer.changed:
            self.ahead.setText("" if answer.faults else self.voice.word("answer-same"))
            return
        if hidden := hidden_in(snapshot):
            self.ahead.setText(self.voice.sentence(ranks_hidden(hidden)))
            return
        if not any(task.state == "flown" for task in snapshot.event.tasks):
            self.ahead.setText(self.voice.word("answer-changes-unflown"))
            return
        draft, faults = draft_of(question, answer, snapshot)
        if faults:
            say_or_hide(self.told, "\n".join(faults[:3]), "bad")
            return
        say_or_hide(self.told, "")
        pool = self.session.pool

        def work(control: Control) -> object:
            scoring = partial(pool.score, control=control)
            return foreseen(ledger, [draft], scoring=scoring)

        self.ahead.setText("Looking at what it changes…")
        self._ahead.start(work, text="Looking ahead", done=self._on_changes)

    def _on_changes(self, told: object) -> None:
        if isinstance(told, tuple) and all(isinstance(one, Stated) for one in told):
            self.ahead.setText(" ".join(self.voice.sentence(one) for one in told))

    def _on_foreseen(self) -> None:
        if self._again:
            self._again = False
            self.foresee()

    # Commands.

    def to_answer(self) -> None:
        """Go to the first gap of the answer, or to what it costs."""
        question = self._question
        if question is None and isinstance(self.table.row, Matter):
            self.change_event()  # its elevation, the only thing here that is no rule
            return
        if question is None or self.snapshot is None:
            return
        asked_for = self.snapshot.event.book.asked
        waiting = [key for key in self.sentence.fields if key in asked_for]
        gap = self.sentence.first_gap(waiting)
        self.to_pane(gap or self.costs.radios[self.costs.costs.way])

    def save(self) -> None:
        """Record the answer, if the event can be built with it."""
        snapshot, question, answer = self.snapshot, self._question, self._read()
        if snapshot is None or question is None or answer is None:
            return
        self._touched = True
        if answer.faults:
            self._look_over()
            wrong = [key for key in self.sentence.fields if key in answer.faults]
            gap = self.sentence.first_gap(wrong) if wrong else None
            if gap is not None:
                self.to_pane(gap)
            return
        if not answer.changed:
            self.ahead.setText(self.voice.word("answer-same"))
            return
        draft, faults = draft_of(question, answer, snapshot)
        say_or_hide(self.told, "\n".join(faults[:3]), "bad")
        if faults:
            return
        self._touched = False
        self._recorded = asked(snapshot.event.book, unanswered(snapshot.event))
        self.session.record_all([draft])
        self.session.unsaved.keep(FORM, {})
        asked_for = words(self.voice.word(f"question-{question.name}"))
        book = book_with(answer, snapshot.event.book)
        now = words(self.voice.sentence(answer_of(question, book)))
        self.tell(fact("rules-recorded", question=asked_for, answer=now))
        self.to_pane(self.table)

    def put_back(self) -> None:
        """Show what is recorded; what was typed is given up."""
        self._touched = False
        self.session.unsaved.keep(FORM, {})
        self._show_question(self._question)
        self.to_pane(self.table)

    def change_event(self) -> None:
        """Ask for another name, venue, time zone or elevation of the event."""
        if self.snapshot is not None:
            self.event_form.show_event(self.snapshot)

    def _on_event(self, draft: Draft) -> None:
        self.session.record_all([draft])
        self.tell(fact("event-recorded"))
        self.to_pane(self.table)

    def take(self, number: int) -> None:
        """Choose what it costs by its number, unless a digit is typed."""
        typing = isinstance(self.focusWidget(), QLineEdit)
        if self._question is not None and self._question.penalty and not typing:
            self.costs.take(COSTS[number - 1])

    def _restore(self) -> None:
        texts = self.session.unsaved.of(FORM)
        if not self.table.choose(texts.get("question", "")):
            self.table.choose_first()
        row, snapshot = self.table.row, self.snapshot
        question = row.question if isinstance(row, Asked) else None
        if snapshot is None or self._stands != stands(question, snapshot):
            self._show_question(question)
        if texts and self._question is not None:
            self.sentence.put({**self.sentence.texts, **texts})
            self.paragraph.setText(texts.get(PARAGRAPH, self.paragraph.text()))
            if self._question.penalty:
                self.costs.put_texts(texts)
            self._touched = True
            self._look_over()

    def forget(self) -> None:
        """The event is closed: a half given answer stays with its own."""
        super().forget()
        self._touched, self._restored = False, ""
        self.table.show_rows([])  # else the next event opens at this one's question
        self._show_question(None)
        self._ahead.cancel()
        self.event_form.forget()

    def terrain(self) -> None:
        """Take in an elevation grid."""
        path = ask.open_file(self, "Import an elevation grid", GRIDS)
        ledger, snapshot = self.session.ledger, self.snapshot
        if path is None or ledger is None or snapshot is None:
            return
        named, earlier = naming(snapshot.state, path.name)
        self.jobs.start(
            lambda _: take_terrain(ledger, path, earlier, named),
            text="Importing the terrain",
            done=partial(self._on_terrain, ledger),
        )

    def _on_terrain(self, ledger: Ledger, drafts: Any) -> None:
        self.session.recorded_by_job(ledger, self.name, drafts)
