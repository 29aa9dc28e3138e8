"""What is half typed on any page comes back: no field is forgotten over a crash."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QSpinBox, QWidget
from shiboken6 import delete

from gui.costs_form import CostsForm
from gui.pages.entry_line import EntryLine
from gui.pages.task_editor import TaskEditor
from gui.parts.kept import Kept
from gui.sentence import Sentence
from gui.widgets import choose
from scorer.event.answering import Cost
from tests.gui.helpers import CTRL, enter, page, press, settled, type_text

OWN = (EntryLine, TaskEditor, Sentence, CostsForm)
"""Forms that keep their texts themselves; tests of their pages hold it."""
SETTINGS = {"Address of the pages", "Paragraph of your own rules"}
"""A setting of this computer; kept with the answer that it belongs to."""


def kept_fields(shown):
    """Yield the fields that something of a page keeps."""
    for holder in (shown, *shown.findChildren(QWidget)):
        for one in vars(holder).values():
            if isinstance(one, Kept):
                yield from one._fields.values()


def lines_of(shown):
    """Yield the fields of a page in which something is entered."""
    for line in shown.findChildren(QLineEdit):
        within = line.parentWidget()
        if isinstance(within, QComboBox):
            line = within  # noqa: PLW2901 - the box is the field
        while within is not None and not isinstance(within, (*OWN, QSpinBox)):
            within = within.parentWidget()
        name = line.accessibleName()
        if within is None and not name.startswith("Find") and name not in SETTINGS:
            yield line


def test_every_field_of_every_page_is_kept(desk):
    lost = [
        f"{shown.name}: {line.accessibleName()}"
        for shown in desk.pages
        for line in lines_of(shown)
        if line not in set(kept_fields(shown))
    ]
    assert not lost, "\n".join(lost)


@pytest.fixture
def again(qtbot, desk):
    """Leave the event as it stands, half typed, and come back to a page of it."""

    def come_back(name):
        target = desk.session.target
        desk.session.close()
        for line in kept_fields(desk):
            if isinstance(line, QLineEdit) and not desk.pages[0].isAncestorOf(line):
                assert not line.text(), line.accessibleName()
        with qtbot.waitSignals([desk.session.opened, desk.session.scored]):
            desk.open_target(target, "Yrsa")
        return page(desk, name)

    return come_back


def test_a_half_typed_prize_comes_back_with_what_was_chosen(desk, again):
    prizes = page(desk, "prizes")
    prizes.new_prize()
    type_text("First over the hill")
    choose(prizes.ties, "shared")
    at = prizes.given_for.findText("day", Qt.MatchFlag.MatchContains)
    prizes.given_for.setCurrentIndex(max(at, 1))
    wanted = prizes.typed
    prizes.places.setFocus()
    type_text("2")
    back = again("prizes")
    assert back.called.text() == "First over the hill"
    assert back.places.text() == "2"
    assert back.given_for.currentData() == wanted.given_for


def test_what_is_half_typed_of_the_event_itself_comes_back(desk, again):
    rules = page(desk, "rules")
    rules.change_event()
    QTest.keyClicks(rules.event_form.venue, " annex")
    typed = rules.event_form.venue.text()
    back = again("rules")
    assert not back.event_form.isVisible()
    back.change_event()
    assert back.event_form.venue.text() == typed
    back.event_form.reject()
    back.change_event()
    assert typed == f"{back.event_form.venue.text()} annex", "dropped is gone"
    back.event_form.reject()


def test_a_half_typed_complaint_comes_back_whole(desk, again):
    shown = page(desk, "complaints")
    shown.begin()
    type_text("4")
    enter()
    type_text("The mark was moved")
    back = again("complaints")
    assert (back.pilot.text(), back.dispute.text()) == ("4", "The mark was moved")


def test_a_half_typed_change_still_changes_what_it_changed(qtbot, desk, again):
    """Not a second place, pilot, report of the same name, which would be refused."""
    roster = page(desk, "roster")
    roster.table.setFocus()
    roster.table.choose_first()
    ids = roster.table.row.ids
    roster.correct()
    type_text("x")
    back = again("roster")
    assert back._replaces == ids
    back.submit()
    assert back.told.isHidden()
    qtbot.waitUntil(lambda: not desk.session.pending)


@pytest.mark.parametrize("decision", ["waive", "set_amount"])
def test_a_reason_comes_back_once_the_same_is_decided_on_the_same_row(
    desk, again, decision
):
    shown = page(desk, "findings")
    key = shown.rows.row.key
    getattr(shown, decision)()
    if decision == "set_amount":
        type_text("17")
        enter()
    shown.take(4)
    type_text("seen by two ob")
    back = again("findings")
    assert back.bar.why == ""
    assert back.bar.words.text() == ""
    back.rows.choose(key)
    back.hold()
    assert back.bar.why == ""
    back.out()
    getattr(back, decision)()
    assert back.bar.why == "seen by two ob"
    assert back.bar.much.text() == ("17" if decision == "set_amount" else "")
    back.out()
    getattr(back, decision)()
    assert back.bar.why == ""  # Esc drops it, here too


def test_a_half_typed_penalty_comes_back_when_one_is_added(desk, again):
    shown = page(desk, "findings")
    shown.impose()
    type_text("4")
    enter()
    type_text("50")
    enter()
    type_text("cut in fr")
    back = again("findings")
    assert back.imposing.why.text() == ""
    back.impose()
    assert [back.imposing.pilot.text(), back.imposing.much.text()] == ["4", "50"]
    assert back.imposing.why.text() == "cut in fr"
    press(Qt.Key.Key_Escape)
    back.impose()
    assert back.imposing.why.text() == ""


def test_a_half_typed_bonus_comes_back_on_the_page_of_the_same_pilot(desk, again):
    def bonus(number):
        desk.lead("pilot", number)
        desk.page.add_penalty()
        return desk.page.bar

    bar = bonus(4)
    type_text("12")
    enter()
    type_text("late for br")
    again("results")
    assert bonus(5).why.text() == ""
    bar = bonus(4)
    assert (bar.amount.text(), bar.why.text()) == ("12", "late for br")
    bar.drop()


def test_a_reason_for_accepting_comes_back_with_its_matter(desk, again):
    shown = page(desk, "matters")
    shown.accept()
    asked = shown.asked.text()
    type_text("the director has s")
    back = again("matters")
    assert not back.bar.isVisible()
    back.accept()
    assert back.asked.text() == asked
    assert back.why.text() == "the director has s"
    back.drop()


def test_what_is_said_with_a_publication_comes_back(desk, again):
    shown = page(desk, "publish")
    shown.say_more()
    type_text("a mark was re")
    back = again("publish")
    assert back.more.why.text() == "a mark was re"
    assert back.more.isVisible()


def test_an_answer_that_costs_something_comes_back(desk, again):
    rules = page(desk, "rules")
    row = next(r for r in rules.table.shown if r.data.question.penalty)
    rules.table.choose(row.key)
    rules.take(2)
    line = rules.costs.base
    line.setFocus()
    press(Qt.Key.Key_A, CTRL)
    QTest.keyClicks(line, "33")
    rules.paragraph.setFocus()
    QTest.keyClicks(rules.paragraph, "9.1")
    back = again("rules")
    assert back.table.row.question == row.data.question
    assert back.costs.base.text() == "33"
    assert back.costs.costs.way is Cost.BY_AMOUNT
    assert back.paragraph.text().endswith("9.1")
    back.put_back()


def test_an_answer_to_a_complaint_stays_with_its_complaint(qtbot, desk, again):
    shown = page(desk, "complaints")
    for pilot in ("4", "5"):
        shown.begin()
        press(Qt.Key.Key_A, CTRL)
        type_text(pilot)
        enter()
        type_text(f"disputed by {pilot}")
        enter()
        qtbot.waitUntil(lambda: not desk.session.pending)
    first, second = [row.key for row in shown.list.shown]
    shown.list.choose(first)
    shown.take(1)
    type_text("it was not measured ag")
    shown.list.choose(second)
    assert shown.reason.text() == ""
    assert shown.verdict.value is None
    shown.list.choose(first)
    assert shown.reason.text() == "it was not measured ag"
    back = again("complaints")
    back.list.choose(second)
    assert back.reason.text() == ""
    back.list.choose(first)
    assert back.reason.text() == "it was not measured ag"
    back.out()
    assert back.reason.text() == ""


ASKS = (("roster", "withdraw"), ("tasks", "cancel_task"), ("desks", "undo"))
"""Commands of pages that ask why."""


def ask_why(desk, name, command):
    """Give the command about the first row, and return the bar that asks."""
    shown = page(desk, name)
    shown.table.setFocus()
    shown.table.choose_first()
    shown.actions_[command].trigger()
    assert QApplication.focusWidget() is shown.why_bar.why
    return shown.why_bar


def test_a_reason_half_typed_comes_back_when_the_same_is_asked_again(desk, again):
    for name, command in ASKS:
        ask_why(desk, name, command)
        type_text(f"because of {name}")
    again("roster")
    for name, command in ASKS:
        assert not desk.page_named(name).why_bar.isVisibleTo(desk.page_named(name))
        assert ask_why(desk, name, command).why.text() == f"because of {name}"
        press(Qt.Key.Key_Escape)
        assert not desk.page.why_bar.isVisible()
        assert ask_why(desk, name, command).why.text() == ""


def test_a_reason_stays_with_the_thing_it_was_typed_for(desk):
    bar = ask_why(desk, "roster", "withdraw")
    type_text("entered twice")
    roster = desk.page
    roster.withdraw()  # the same is asked again: what stands there stays
    assert bar.why.text() == "entered twice"
    roster.table.selectRow(1)
    roster.withdraw()
    assert bar.why.text() == ""
    assert roster.table.row.fields["name"] in bar.question.text()
    assert bar.accessibleName() == bar.question.text()


def test_recording_one_reason_leaves_what_is_half_typed_about_another(qtbot, desk):
    bar = ask_why(desk, "roster", "withdraw")
    type_text("moved away")
    roster = desk.page
    roster.table.selectRow(1)
    roster.withdraw()
    type_text("entered twice")
    enter()
    settled(qtbot, desk)
    assert not bar.isVisible()
    roster.table.setFocus()
    roster.table.selectRow(0)
    roster.withdraw()
    assert bar.why.text() == "moved away"
    bar.drop()


def test_a_number_half_typed_for_a_log_waits_while_another_is_given(qtbot, desk):
    logs = page(desk, "logs")
    logs.table.selectRow(0)
    logs.assign()
    logs.number.clear()
    type_text("25")
    logs.table.selectRow(1)
    logs.assign()
    logs.number.setText("2")
    enter()
    settled(qtbot, desk)
    first = logs.table.model().index(0, 0)
    logs.table.setCurrentIndex(first)
    logs.assign()
    assert logs.number.text() == "25"
    logs.to_list()


def test_a_bar_survives_the_widget_it_would_give_the_keyboard_back_to(qtbot, desk):
    roster = page(desk, "roster")
    gone = QLineEdit(roster)
    gone.show()
    gone.setFocus()
    asked = []
    roster.ask_why("Why?", "a thing", asked.append)
    delete(gone)
    type_text("its page was built anew")
    enter()
    assert asked == ["its page was built anew"]
    assert not roster.why_bar.isVisible()
