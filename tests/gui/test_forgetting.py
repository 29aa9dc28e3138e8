"""What stood in a page for one event stands in none when the next one is opened."""

import shutil

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit

from scorer.event.model import Decision
from scorer.ledger.api import import_folder, new_desk
from tests.gui.helpers import enter, page, press, type_text

NOT_OF_AN_EVENT = {"start", "board", "rules"}
"""Fields that say where events are and where pages are on the web; answers to a question
are filled in anew with every question shown."""


@pytest.fixture
def other(small_file, tmp_path):
    """Another event with the same flights, tasks and pilots."""
    folder = shutil.copytree(small_file.parent / "vashkorim", tmp_path / "other")
    file = tmp_path / "other.sandtail"
    import_folder(folder, file, desk=new_desk("press"), who="Merel")
    return str(file)


def fields_of(window):
    """Return all fields that text is typed into, by page."""
    return [
        (shown.name, box)
        for shown in window.pages
        if shown.name not in NOT_OF_AN_EVENT
        for box in shown.findChildren(QLineEdit)
        if not isinstance(box.parent(), QComboBox)
    ]


def test_no_field_of_a_closed_event_keeps_what_was_typed(desk):
    typed = fields_of(desk)
    assert {"keying", "roster", "places", "tasks", "complaints"} <= {
        name for name, _ in typed
    }
    for _, box in typed:
        box.setText("7")
    desk.session.close()
    gone = QEvent.Type.DeferredDelete  # fields of another kind of task
    QApplication.sendPostedEvents(None, gone)
    left = [(name, box.accessibleName()) for name, box in fields_of(desk) if box.text()]
    assert left == []


def test_what_was_being_changed_is_changed_in_no_other_event(
    qtbot, desk, other, monkeypatch, tmp_path
):
    roster = page(desk, "roster")
    roster.table.choose_first()
    roster.correct()
    places = page(desk, "places")
    places.table.choose_first()
    places.correct()
    logs = page(desk, "logs")
    logs.table.choose_first()
    logs.assign()
    notes = page(desk, "fieldnotes")
    plain = notes.form_card.title.text()
    notes.table.choose_first()
    notes.correct()
    monkeypatch.setattr("gui.ask.folder", lambda *_: tmp_path / "first")
    publish = page(desk, "publish")
    publish.choose_folder()
    assert roster._replaces
    assert places.line._replaces
    assert logs.line.isVisibleTo(logs)
    assert notes.form_card.title.text() != plain
    with qtbot.waitSignal(desk.session.opened):
        desk.open_target(other, "Yrsa")
    assert (roster._replaces, places.line._replaces, logs._row) == ((), (), None)
    assert not logs.line.isVisibleTo(logs)
    assert notes.form_card.title.text() == plain
    assert publish.place.parent == tmp_path


def test_a_decision_on_many_is_left_with_its_event(desk):
    findings = page(desk, "findings")
    title = findings.heading.text()
    findings.choose_all()
    assert findings._begin_many(Decision.WAIVE)
    assert findings.heading.text() != title
    desk.session.close()
    assert findings.heading.text() == title
    assert findings.many.many is None


def test_a_picture_is_shown_for_its_own_event_only(qtbot, desk):
    desk.lead("pilot", 1)
    pilot = desk.page
    assert pilot._asked
    results = page(desk, "results")
    results.table.choose_first()
    results.to_flight()
    qtbot.waitUntil(lambda: results.pair.picture is not None)
    maps = [page(desk, name).map for name in ("places", "tasks", "settle")]
    for shown, name in zip(maps[:2], ("places", "tasks"), strict=False):
        page(desk, name)
        qtbot.waitUntil(lambda shown=shown: shown.picture is not None)
    pair = page(desk, "findings").pair
    qtbot.waitUntil(lambda: pair.picture is not None)
    desk.session.close()
    assert (results.pair.picture, pair.picture) == (None, None)
    assert [shown.picture for shown in maps] == [None] * 3
    assert results.right.currentWidget() is results.bill_card
    assert pilot._asked == ()


def test_a_half_typed_mark_comes_back_with_its_own_event(qtbot, desk, other):
    first = desk.session.target
    keying = page(desk, "keying")
    type_text("4")
    enter()
    type_text("17.0")
    with qtbot.waitSignal(desk.session.opened):
        desk.open_target(other, "Yrsa")
    assert not page(desk, "keying").line.begun
    press(Qt.Key.Key_Escape)
    with qtbot.waitSignal(desk.session.opened):
        desk.open_target(first, "Yrsa")
    page(desk, "keying")
    assert (keying.line.number.text(), keying.line.distance.text()) == ("4", "17.0")


def test_publish_says_nothing_of_an_event_that_is_closed(qtbot, desk):
    """Nor that nothing would change, before anybody looked."""
    publish = page(desk, "publish")
    qtbot.waitUntil(lambda: publish.outlook is not None)
    assert "first version" in publish.change_card.title.text()
    assert publish.bar.button.isEnabled()
    desk.session.close()
    assert publish.none.text() == "Working out what would go up."
    assert publish.bar.sentence.text() == publish.none.text()
    assert publish.change_card.title.text() == "What would change"
    goes_up = (*publish.goes_up.left, *publish.goes_up.right)
    assert [told.text() for told in goes_up] == [""] * 6
    assert not publish.bar.button.isEnabled()
