"""The prizes: what each is for, a form for one, and who would get it now."""

from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QWidget

from gui.actions import Spec, needs
from gui.keys import Key
from gui.models.prizes import (
    AMONG,
    PrizeForm,
    draft_of,
    for_word,
    says,
    taken_out,
    ties_word,
    winners,
)
from gui.pages.page import Page
from gui.parts.formcard import FormCard, two_columns
from gui.parts.kept import Kept
from gui.parts.rows import ListRow, RowList
from gui.refusal import plainly
from gui.snapshot import Snapshot
from gui.state import Condition
from gui.theme import BETWEEN
from gui.widgets import choice, choose, field, label, refill, say_or_hide
from scorer.errors import ScorerError
from scorer.event.model import Award, AwardFor, AwardTies
from scorer.facts import fact, words
from scorer.words.voice import Voice

READY = needs(Condition.EVENT, Condition.WRITABLE)
CHOSEN = READY | needs(Condition.CHOSEN)


class PrizesPage(Page):
    """Prizes in the order they are given, and the form of one."""

    name = "prizes"
    title = "Prizes"
    hints = ((Key.NEW, "new"), (Key.REMOVE, "remove"))
    foot_keys = ((Key.GO_ON, "change"),)
    specs = (
        Spec("new_prize", "&New prize", Key.NEW, "Go to an empty form", READY),
        Spec("correct", "&Change", Key.CORRECT, "Change the chosen prize", CHOSEN),
        Spec("take_out", "&Remove…", Key.REMOVE, "Remove the chosen prize", CHOSEN),
        Spec("clear", "&Empty the form", Key.OUT, "Drop what is not recorded", READY),
    )

    def build(self) -> None:
        """Make the widgets."""
        self._before = ""
        self.table = RowList("Prizes")
        self.table.chosen.connect(self._on_chosen)
        self.table.entered.connect(lambda _: self.correct())
        self.card = self._form()
        both = QHBoxLayout()
        both.setSpacing(BETWEEN)
        both.addWidget(self.table, 6)
        both.addWidget(self.card, 5)
        self.body.addLayout(both, 1)
        self.kept = Kept(
            self.session,
            "prize",
            {
                "for": self.given_for,
                "task": self.task,
                "day": self.day,
                "class": self.among,
                "ties": self.ties,
                "name": self.called,
                "places": self.places,
            },
        )
        self._on_kind()

    def _form(self) -> FormCard:
        voice = Voice()
        self.called = field("Name of the prize", voice.word("prize-name-hint"))
        self.given_for = choice(
            "What it is for",
            *[(voice.word(for_word(one)), one) for one in AwardFor],
            changed=self._on_kind,
        )
        self.task, self.day = choice("Task"), choice("Day")
        self.among = choice("Class")
        self.places = field("Places", "3")
        self.ties = choice(
            "Equal places", *[(voice.word(ties_word(one)), one) for one in AwardTies]
        )
        for typed in (self.called, self.places):
            typed.returnPressed.connect(self.submit)
        card = FormCard(voice.word("prize-new"), voice.word("prize-record"))
        card.submitted.connect(self.submit)
        self.told = card.told
        boxes: tuple[QWidget, ...] = (
            self.called,
            self.given_for,
            self.task,
            self.day,
            self.among,
            self.places,
            self.ties,
        )
        self._tags = {box: label(box.accessibleName(), "strong") for box in boxes}
        card.lay_out(two_columns((self._tags[box], box) for box in boxes))
        self.would = label(look="second", wrap=True)
        self.would.setAccessibleName("Who would get it")
        card.body.addWidget(self.would)
        card.body.addStretch(1)
        return card

    @property
    def sides(self) -> tuple[QWidget, QWidget]:
        """Prizes, and the form."""
        return self.table, self.card

    @property
    def chosen(self) -> bool:
        """Tell whether a prize is chosen."""
        return self.table.row is not None

    @property
    def panes(self) -> tuple[QWidget, QWidget]:
        """Prizes, and where the form begins."""
        return self.table, self.called

    def enter(self) -> None:
        """Go to the list, or to the form where there is no prize yet."""
        if self.table.shown:
            self.to_pane(self.table)
            self.table.choose_first()
        elif self._begun:
            self.to_pane(self.called)
        else:
            self.new_prize()

    def refresh(self, snapshot: Snapshot | None) -> None:
        """Show the prizes as they stand."""
        if snapshot is None:
            self.table.show_rows([])
            return
        event, voice = snapshot.event, Voice.of(snapshot.event)
        rows = [
            ListRow(key=one.name, name=one.name, second=says(one, voice), data=one)
            for one in event.awards
        ]
        self.table.show_rows(rows)
        self.say_hint(voice.word("prizes-hint" if rows else "prizes-none"))
        any_ = voice.word("prize-each")
        tasks = [(f"task {t.number}", str(t.number)) for t in event.tasks]
        days = sorted({flight.date.isoformat() for flight in event.flights})
        classes = sorted({p.class_name for p in event.pilots if p.class_name})
        refill(self.task, [(any_, ""), *tasks])
        refill(self.day, [(any_, ""), *((text, text) for text in days)])
        refill(self.among, [(any_, ""), *((name, name) for name in classes)])
        if self.kept.restore() and self.kept.about:
            self._change(self.kept.about)
        self._tell_winners()

    def rescored(self) -> None:
        """Who would get them is known anew."""
        self._tell_winners()

    def forget(self) -> None:
        """The event is closed: a half typed prize stays with its own."""
        super().forget()
        self._empty()
        self.kept.forget()

    def _on_chosen(self, row: Any) -> None:
        self._tell_winners()
        if isinstance(row, Award) and not self._begun:
            self._empty()
        self.choice.emit()

    @property
    def _begun(self) -> bool:
        return bool(self.called.text() or self.places.text())

    def _tell_winners(self) -> None:
        row: Award | None = self.table.row
        lines = winners(self.session.results, row) if row is not None else []
        self.would.setText("\n".join(lines))

    def _on_kind(self) -> None:
        kind = self.given_for.currentData()
        shown = {
            self.task: kind == AwardFor.TASK,
            self.day: kind == AwardFor.DAY,
            self.among: kind in AMONG,
        }
        for box, so in shown.items():
            box.setVisible(so)
            self._tags[box].setVisible(so)

    @property
    def typed(self) -> PrizeForm:
        """The prize as it stands in the form."""
        return PrizeForm(
            name=self.called.text().strip(),
            given_for=AwardFor(self.given_for.currentData()),
            task=self.task.currentData() or "",
            day=self.day.currentData() or "",
            class_name=self.among.currentData() or "",
            places=self.places.text(),
            ties=AwardTies(self.ties.currentData()),
        )

    def _put(self, form: PrizeForm) -> None:
        self.called.setText(form.name)
        self.places.setText(form.places)
        for box, value in (
            (self.given_for, form.given_for),
            (self.task, form.task),
            (self.day, form.day),
            (self.among, form.class_name),
            (self.ties, form.ties),
        ):
            choose(box, value)
        say_or_hide(self.told, "")

    def _empty(self) -> None:
        self._before = self.kept.about = ""
        self._put(PrizeForm())
        self.card.name_it(Voice().word("prize-new"))

    def _change(self, name: str) -> None:
        self._before = self.kept.about = name
        self.card.name_it(Voice().say(fact("place-change", name=words(name))))

    # Commands.

    def new_prize(self) -> None:
        """Go to an empty form."""
        self._empty()
        self.kept.keep()
        self.to_pane(self.card)
        self.to_pane(self.called)

    def correct(self) -> None:
        """Put the chosen prize into the form."""
        row: Award | None = self.table.row
        if row is not None:
            self._change(row.name)
            self._put(PrizeForm.of(row))
            self.to_pane(self.card)
            self.to_pane(self.called)

    def clear(self) -> None:
        """Drop what is not recorded, and go back to the list."""
        self._empty()
        self.kept.keep()
        self.to_pane(self.table)

    def submit(self) -> None:
        """Record the form; what is wrong stands beneath it."""
        snapshot = self.snapshot
        if snapshot is None:
            return
        voice, form = Voice.of(snapshot.event), self.typed
        try:
            drafts, faults = draft_of(snapshot, form, self._before, voice)
        except ScorerError as error:
            faults, drafts = [plainly(error)], ()
        say_or_hide(self.told, "\n".join(faults[:3]), "bad")
        if faults:
            return
        self.session.record_all(drafts)
        self.tell(fact("prize-recorded", name=words(form.name)))
        self.clear()

    def take_out(self) -> None:
        """Take the chosen prize out, with a reason."""
        row = self.table.row
        if row is None:
            return
        name = row.name
        self.ask_why(
            self.voice.say(fact("prize-why-removed", what=words(name))),
            f"remove {name}",
            lambda why: self._take_out(name, why),
            fact("entry-taken-out", what=words(name)),
        )

    def _take_out(self, name: str, why: str) -> None:
        if self.snapshot is not None:
            self.session.record_all(taken_out(self.snapshot, name, why))
