"""A log of nobody is given to its pilot with one digit; the board tells who has one."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from gui.models.board import CellState
from gui.models.logs import log_rows
from gui.pages.page import Form
from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import fact, log
from scorer.ledger.acts import LogAssigned, PilotSet
from tests.gui.helpers import page, press, settled


def test_a_digit_gives_a_log_to_whom_it_is_proposed(qtbot, desk):
    logs = page(desk, "logs")
    row = replace(logs.table.rows_model.rows[-1], proposals=(4, 2), proposed="[1] 4")
    logs.table.set_rows([row])
    logs.table.setFocus()
    logs.table.selectRow(0)
    press(Qt.Key.Key_2)
    settled(qtbot, desk)
    ((_, act),) = desk.session.snapshot.state.all_of(LogAssigned)
    assert (act.pilot, act.name) == (2, row.held.name)
    assert desk.session.snapshot.pilot_name(2) in desk.note.text()


def test_a_digit_without_a_proposal_does_nothing(desk):
    logs = page(desk, "logs")
    logs.table.setFocus()
    logs.table.choose_first()
    press(Qt.Key.Key_3)
    assert not desk.session.pending


def test_proposals_come_from_the_matters_of_the_score(desk):
    snapshot, scored = desk.session.snapshot, desk.session.results
    held = snapshot.state.logs[0]
    matter = Matter(
        kind=matters.LOG_UNMATCHED,
        flight=held.flight,
        pilots=(3, 5),
        says=fact("log-unmatched", log=log(held.name)),
        evidence=(held.name,),
    )
    results = replace(scored.results, matters=(matter,))
    rows = log_rows(snapshot, replace(scored, results=results))
    own = next(row for row in rows if row.held.name == held.name)
    assert own.proposals == (3, 5)
    assert own.proposed.startswith(f"[1] 3 {snapshot.pilot_name(3)}")


def test_the_board_of_logs_tells_who_is_accounted_for(desk):
    logs = page(desk, "logs")
    board = logs.board.board.board
    assert len(board.cells) == 6
    assert len(board.of(CellState.DONE)) >= 5
    assert "log counts" in board.legends[-1][1]


def test_no_caption_of_the_pilots_form_is_cut_in_a_small_window(qtbot, desk):
    desk.resize(1024, 640)
    desk.screens.set_step(4)
    desk._dress()
    roster = page(desk, "roster")
    qtbot.waitUntil(lambda: roster.form is Form.SMALL)
    desk.next_pane()  # list and line take turns here
    QApplication.processEvents()
    assert roster.line.isVisible()
    for caption in roster._captions.values():
        room = caption.width()
        assert caption.fontMetrics().horizontalAdvance(caption.text()) <= room + 1
    desk.screens.set_step(0)
    desk._dress()
    desk.resize(1280, 800)
    assert desk.session.snapshot.state.all_of(PilotSet)


def test_the_list_comes_first_where_the_event_before_left_the_form_in_front(
    qtbot, desk
):
    """In a small window one side is seen at a time; closing an event emptied the form."""
    desk.resize(1024, 640)
    desk.screens.set_step(4)
    desk._dress()
    roster = page(desk, "roster")
    qtbot.waitUntil(lambda: roster.form is Form.SMALL)
    roster.to_pane(roster.fields["number"])
    page(desk, "matters")
    page(desk, "roster")
    assert roster.table.isVisible()
    assert QApplication.focusWidget() is roster.table
    desk.screens.set_step(0)
    desk._dress()
    desk.resize(1280, 800)
