"""Keying by keyboard alone, blind the second time, checked while typing."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from gui.models.board import Board
from gui.models.marks import HIDDEN, MarkState
from gui.pages.entry_line import EntryLine
from gui.style import LOOK
from gui.theme import contrast
from scorer.event.model import Event
from scorer.ledger.acts import MarkKeyed, NoteMade, ReportMade, Undone
from scorer.ledger.faults import UnreachableError
from scorer.words.voice import Voice
from tests.gui.helpers import CTRL, enter, key_mark, page, press, settled, type_text


@pytest.fixture
def keying(desk):
    shown = page(desk, "keying")
    desk.session.choose_task(2)  # of this one nothing was keyed twice
    shown.line.to_start()
    return shown


def row_of(keying, pilot):
    return next(r for r in keying.rows if r.pilot == pilot)


def test_number_shows_the_name_and_enter_leads_to_the_next_row(qtbot, desk, keying):
    type_text("3")
    name = desk.session.snapshot.pilot_name(3)
    assert keying.line.name.text() == f"3  {name}"
    assert keying.board.board.model_.pointed == 3
    enter()
    assert QApplication.focusWidget() is keying.line.distance
    type_text("12.34")
    assert keying.line.read_as.text() == "12.34 m"


@pytest.mark.parametrize(
    ("spelling", "read"),
    [
        ("12,5", "12.50 m"),
        ("12.5 m", "12.50 m"),
        ("41 ft 1 in", "12.5222 m"),
        ("41' 1\"", "12.5222 m"),
        ("0", "0.00 m"),
    ],
)  # 41 ft 1 in = 41.08333 × 0.3048 m, by hand
def test_distance_is_read_in_any_spelling(keying, spelling, read):
    keying.line.distance.setFocus()
    type_text(spelling)
    assert keying.line.read_as.text() == read


def test_unknown_number_stops_and_names_near_ones(desk, keying):
    key_mark(61, "10")
    told = keying.notices.text()
    assert told == "No pilot has number 61. Near it: 6 and 1. The last number is 6."
    assert not desk.session.pending
    assert QApplication.focusWidget() is keying.line.number


def test_unreadable_distance_stops_and_says_what_is_allowed(desk, keying):
    key_mark(1, "12 bananas")
    told = keying.notices.text()
    assert told.startswith("“12 bananas” cannot be read as distance. Write a length")
    assert keying.line.distance.text() == "12 bananas"
    assert not desk.session.pending


@pytest.fixture
def fresh(qtbot, desk, keying):
    """The keying page as an official sees it who has keyed nothing yet."""
    desk.session.set_who("Ingrid")
    keying.refresh(desk.session.snapshot)
    keying.line.to_start()
    return keying


def test_values_of_others_stay_hidden_until_keyed_twice(qtbot, desk, fresh):
    first = next(r for r in fresh.rows if r.state is MarkState.SECOND)
    assert first.value == HIDDEN
    assert first.metres is None
    everything = " ".join(
        f"{value}" for row in fresh.rows for value in (row.value, row.metres, row.note)
    )
    keyed = next(
        s.keyings[0].act.fields["distance"]
        for s in desk.session._snapshot.slots
        if (s.slot.task, s.slot.pilot) == ("2", str(first.pilot))
    )
    assert keyed not in everything


def test_second_keying_that_differs_is_shown_as_such(qtbot, desk, fresh):
    first = next(r for r in fresh.rows if r.state is MarkState.SECOND)
    key_mark(first.pilot, "999 m")
    enter()  # outside the measuring radius: asked once, taken the second time
    settled(qtbot, desk)
    assert row_of(fresh, first.pilot).state is MarkState.DIFFERS


def test_own_mark_cannot_be_keyed_twice_by_the_same_person(qtbot, desk, fresh):
    pilot = next(r for r in fresh.rows if r.state is MarkState.SECOND).pilot
    for text in ("20 m", "21 m"):
        key_mark(pilot, text)
        settled(qtbot, desk)
    keyed = [
        s
        for s in desk.session.snapshot.slots
        if s.slot.pilot == str(pilot) and s.slot.task == "2"
    ]
    assert len(keyed[0].keyings) == 2  # the other official's and the first of these
    assert "already" in fresh.notices.text()


def marks_when_not_flown(qtbot, desk):
    """Report pilot 4 as not flown; return how many entries of marks there are."""
    desk.session.record(
        ReportMade(
            flight="second-morning",
            fields={"task": "2", "pilot": "4", "kind": "not-flown", "by": "Tendai"},
        )
    )
    settled(qtbot, desk)
    return len(desk.session._snapshot.state.all_of(MarkKeyed))


def test_not_flown_is_asked_and_taken_only_with_a_second_enter(qtbot, desk, fresh):
    before = marks_when_not_flown(qtbot, desk)
    key_mark(4, "30 m")
    assert "did not fly" in fresh.notices.text()
    assert not desk.session.pending
    enter()
    settled(qtbot, desk)
    assert len(desk.session._snapshot.state.all_of(MarkKeyed)) == before + 1


def test_no_mark_found_is_keyed_as_none(qtbot, desk, fresh):
    key_mark(5, "none")
    settled(qtbot, desk)
    acts = [
        a
        for _, a in desk.session.snapshot.state.all_of(MarkKeyed)
        if a.fields["by"] == "Ingrid"
    ]
    assert [dict(a.fields) for a in acts] == [
        {"task": "2", "pilot": "5", "method": "none", "by": "Ingrid"}
    ]


def test_taking_back_is_a_new_entry_and_puts_the_text_into_the_line(qtbot, desk, fresh):
    key_mark(5, "31 m")
    settled(qtbot, desk)
    before = len(desk.session.snapshot.state.entries)
    press(Qt.Key.Key_Z, CTRL)
    settled(qtbot, desk)
    entries = desk.session.snapshot.state.entries
    assert len(entries) == before + 1
    assert isinstance(entries[-1].act, Undone)
    assert fresh.line.distance.text() == "31 m"


def test_correcting_replaces_the_own_entry(qtbot, desk, fresh):
    others = next(
        s
        for s in desk.session._snapshot.slots
        if (s.slot.task, s.slot.pilot) == ("2", "5")
    )
    desk.session.withdraw(others.keyings[0].ids, why="wrong sheet")
    settled(qtbot, desk)
    key_mark(5, "31 m")
    settled(qtbot, desk)
    type_text("5")
    press(Qt.Key.Key_F7)
    assert QApplication.focusWidget() is fresh.line.distance
    type_text("13 m")
    enter()
    settled(qtbot, desk)
    mine = [
        a.fields["distance"]
        for _, a in desk.session.snapshot.state.all_of(MarkKeyed)
        if a.fields["by"] == "Ingrid"
    ]
    assert mine == ["13 m"]


def tried(qtbot, keying):
    """Press F4 and return what is said then."""
    press(Qt.Key.Key_F4)
    waits = Voice().word("try-waits")
    qtbot.waitUntil(lambda: keying.notices.text() not in {"", waits})
    return keying.notices.text()


def of_pilot(desk, number):
    """Return result, points and place in task 2, and the place in the standings."""
    results = desk.session.results.results
    score = next(s for s in results.task(2).scores if s.pilot == number)
    place = next(row.rank for row in results.standings.rows if row.pilot == number)
    return f"{score.result:.2f} m", f"{score.score:,}", score.rank, place


def test_what_a_correction_would_change_is_said_before_it_is_recorded(
    qtbot, desk, keying
):
    desk.session.set_who("Merel")  # who entered the marks of the second morning
    before, known = of_pilot(desk, 5), desk.session.snapshot.state.entries
    type_text("5")
    press(Qt.Key.Key_F7)
    type_text("0.5 m")
    told = tried(qtbot, keying)
    assert desk.session.snapshot.state.entries == known
    assert not desk.session.pending
    enter()
    settled(qtbot, desk)
    after = of_pilot(desk, 5)
    assert before[0] != after[0] == "0.50 m"
    assert f"Result {before[0]} → {after[0]}, score {before[1]} → {after[1]}" in told
    assert f"place {before[2]} → {after[2]} in the task" in told
    if before[3] != after[3]:
        assert f"place {before[3]} → {after[3]} in the standings" in told
    assert not keying.notices.text(), "the line is free for the next mark"


def test_what_an_entry_would_change_goes_with_the_next_key(qtbot, desk, keying):
    press(Qt.Key.Key_F4)
    assert not keying.trial.asked
    key_mark(3, "bananas")
    press(Qt.Key.Key_F4)
    assert "cannot be read" in keying.notices.text()
    keying.clear()
    type_text("3")
    enter()
    type_text("12.5 m")
    assert "12.50 m" in tried(qtbot, keying)
    press(Qt.Key.Key_Backspace)
    assert not keying.notices.text()
    assert not keying.trial.asked


def test_bare_enter_takes_the_next_pilot_to_key(desk, fresh):
    enter()
    expected = next(
        r.pilot for r in fresh.rows if r.state in (MarkState.MISSING, MarkState.SECOND)
    )
    assert fresh.line.number.text() == str(expected)


def test_far_from_the_track_is_asked_before_it_is_recorded(qtbot, desk):
    keying = page(desk, "keying")
    desk.session.set_who("Ingrid")
    desk.session.choose_task(1)
    keying.line.to_start()
    with qtbot.waitSignal(desk.session.shelf.neared):
        type_text("1")
    near = desk.session.shelf.near
    own = near[1, 1]
    elsewhere = replace(own.course, east_m=own.course.east_m + 20_000.0)
    near[1, 1] = replace(own, course=elsewhere)
    enter()
    type_text("12 m")
    enter()
    assert "farther than a throw carries" in keying.notices.text()
    assert "Is it this pilot’s marker? Enter records it." in keying.notices.text()
    assert not desk.session.pending


def test_the_nearest_approach_is_fetched_when_a_number_is_typed(qtbot, desk):
    page(desk, "keying")
    with qtbot.waitSignal(desk.session.shelf.neared):
        type_text("1")
    assert (1, 1) in desk.session.shelf.near


def test_last_entries_stand_newest_first_and_are_found(qtbot, desk, fresh):
    for pilot in (2, 5):
        key_mark(pilot, "31 m")
        settled(qtbot, desk)
    assert [r.pilot for r in fresh.table.shown] == [5, 2]
    press(Qt.Key.Key_F3)
    type_text(desk.session.snapshot.pilot_name(2).split()[0])
    assert [r.pilot for r in fresh.table.shown] == [2]


def test_once_entries_differ_correcting_leads_to_comparing(qtbot, desk, fresh):
    first = next(r for r in fresh.rows if r.state is MarkState.SECOND)
    key_mark(first.pilot, "999 m")
    enter()
    settled(qtbot, desk)
    type_text(str(first.pilot))
    press(Qt.Key.Key_F7)
    assert desk.page.name == "settle"


def test_the_panel_keeps_its_height_whatever_is_asked(qtbot, desk, fresh):
    before = fresh.line.height()
    key_mark(61, "10")
    assert fresh.notices.isVisible()
    assert fresh.line.height() == before
    press(Qt.Key.Key_Escape)
    assert not fresh.notices.isVisible()
    assert fresh.line.height() == before


def test_the_blue_line_tells_the_second_person_and_whoever_was_first(
    desk, fresh, monkeypatch
):
    assert "Once is enough in this event" in fresh.blind.text()
    assert "hidden" not in fresh.blind.text(), "for Results shows what was entered"
    book = desk.session.snapshot.event.book
    twice = replace(book, keying=replace(book.keying, twice=True))
    with monkeypatch.context() as patched:
        patched.setattr(Event, "book_of", lambda *_: twice)
        fresh._tell_blind(Board())
    assert "You are the second person" in fresh.blind.text()
    assert "hidden until your own entry" in fresh.blind.text()
    fresh.rows = [replace(row, state=MarkState.ONCE) for row in fresh.rows]
    fresh._tell_blind(Board())
    assert "Somebody else must enter them again" in fresh.blind.text()
    assert "F9" in fresh.blind.text()


def test_a_number_of_the_board_comes_into_the_line(desk, fresh):
    board = fresh.board.board
    board.setFocus()
    board.setCurrentIndex(board.model_.index(0, 3))
    enter()
    assert fresh.line.number.text() == "4"
    assert QApplication.focusWidget() is fresh.line.distance


def test_a_number_with_a_letter_is_refused_with_what_is_near(desk, fresh):
    key_mark("5a", "31 m")
    assert "No pilot has number 5a. Near it: 5." in fresh.notices.text()
    assert not desk.session.pending


def test_without_the_database_entering_goes_on(qtbot, desk, fresh, monkeypatch):
    def away(*_, **__):
        raise UnreachableError("gone")

    monkeypatch.setattr(desk.session.ledger, "record_all", away)
    key_mark(5, "31 m")
    qtbot.waitUntil(lambda: bool(desk.session.outbox.problem))
    key_mark(6, "32 m")
    assert desk.note.text() == "Kept on this computer: pilot 6, 32.00 m"
    assert [r.pilot for r in fresh.table.shown] == [6, 5]
    assert {str(r.beside) for r in fresh.table.shown} == {"on its way"}
    monkeypatch.undo()


def test_unsaved_text_comes_back_after_a_crash(qtbot, desk, home, small):
    """The program dies: a second window finds what stood in the line."""
    from gui.window import Window

    page(desk, "keying")
    type_text("4")
    enter()
    type_text("17.0")
    target = desk.session.target
    desk.session.close()
    other = Window(home)
    qtbot.addWidget(other)
    with qtbot.waitSignal(other.session.opened):
        other.open_target(target, "Yrsa")
    back = other.page_named("keying")
    back.refresh(other.session.snapshot)
    assert back.line.number.text() == "4"
    assert back.line.distance.text() == "17.0"
    other.close()


def test_what_a_crash_left_survives_what_another_page_records(qtbot, desk, home, small):
    """The next window opens on another page, and records there before keying goes on."""
    from gui.window import Window

    page(desk, "keying")
    type_text("4")
    enter()
    type_text("17.0")
    target = desk.session.target
    desk.session.close()
    other = Window(home)
    qtbot.addWidget(other)
    with qtbot.waitSignal(other.session.opened):
        other.open_target(target, "Yrsa")
    with qtbot.waitSignal(other.session.recorded):
        other.session.record(NoteMade(text="wind turns"))
    back = other.page_named("keying")
    back.refresh(other.session.snapshot)
    assert back.line.number.text() == "4"
    assert back.line.distance.text() == "17.0"
    other.close()


def test_what_is_typed_stays_while_another_page_records(qtbot, desk, fresh):
    type_text("4")
    enter()
    type_text("17.0")
    with qtbot.waitSignal(desk.session.recorded):
        desk.session.record(NoteMade(text="wind turns"))
    qtbot.waitUntil(lambda: not desk.session.pending)
    type_text("5")
    assert fresh.line.distance.text() == "17.05"
    assert desk.session.unsaved.of("keying ingrid")["distance"] == "17.05"


def test_the_words_of_the_record_button_are_legible(desk, fresh):
    words = fresh.line.record.words
    ink = words.palette().color(words.foregroundRole()).name()
    assert contrast(ink, LOOK.theme.accent) >= 7


def test_enter_leads_to_what_the_rules_want_noted_before_it_records(qtbot):
    line, recorded = EntryLine(), []
    qtbot.addWidget(line)
    with qtbot.waitActive(line):
        line.show()
        line.activateWindow()
    line.set_up(bare="m", roles=(), points=(), wanted=("time", "measurer"))
    line.submitted.connect(lambda: recorded.append(line.fields()))
    line.to_start()

    key_mark(3, "12.34")
    assert QApplication.focusWidget() is line.time
    type_text("07:41:20")
    enter()
    assert QApplication.focusWidget() is line.measurer
    type_text("team 2")
    enter()
    line.clear()
    line.to_start()
    key_mark(4, "none")

    assert recorded[0]["time"] == "07:41:20"
    assert [own["measurer"] for own in recorded] == ["team 2", "team 2"]


def test_doubts_are_asked_about_one_after_the_other(qtbot, desk, fresh):
    before = marks_when_not_flown(qtbot, desk)
    key_mark(4, "999 m")  # outside the measuring radius, and did not fly
    asked = [fresh.notices.text()]
    enter()
    asked.append(fresh.notices.text())
    assert not desk.session.pending
    assert "did not fly" in asked[0]
    assert "did not fly" not in asked[1]
    assert "999" in asked[1]
    for _ in range(4):
        if fresh.line.begun:
            enter()  # what the track says, where it says something
    settled(qtbot, desk)
    assert len(desk.session._snapshot.state.all_of(MarkKeyed)) == before + 1


@pytest.mark.parametrize("step", range(5))
def test_nothing_moves_on_the_page_when_something_is_typed(qtbot, desk, step):
    desk.screens.set_step(step)
    desk._dress()
    keying = page(desk, "keying")
    around = (keying.line, keying.line.number, keying.line.distance, keying.table)

    def places():
        QTest.qWait(30)
        return [widget.geometry() for widget in around]

    empty = places()
    keying.line.number.setText("7")
    keying.line.distance.setText("12.3")
    typed = places()
    desk.screens.set_step(0)
    desk._dress()
    assert typed == empty
