"""The number board: what each number stands for, and that everybody can read it."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester

from gui.models.board import Board, Cell, CellState, log_board, mark_board
from gui.models.logs import log_rows
from gui.models.marks import MarkState, mark_rows
from gui.parts.board import BoardCard
from gui.theme import THEMES, contrast
from scorer.event.rulebook import KeyingRule


def board_of(desk, who, states=None, *, twice=True, number=2):
    """Make a board as somebody sees it, with the states of some pilots put in."""
    snapshot = desk.session.snapshot
    task = snapshot.task(number)
    book = replace(snapshot.event.book_of(task), keying=KeyingRule(twice=twice))
    task = replace(task, book=book)
    rows = [
        replace(row, state=(states or {}).get(row.pilot, row.state))
        for row in mark_rows(snapshot, task, who)
    ]
    return mark_board(snapshot, desk.session.results, task, rows)


def state(board, pilot):
    return next(cell.state for cell in board.cells if cell.pilot == pilot)


def test_a_number_says_what_is_left_for_who_is_at_the_desk(desk):
    for row, cell in (
        (MarkState.SECOND, CellState.YOURS),
        (MarkState.ONCE, CellState.OTHERS),
        (MarkState.WAITING, CellState.OTHERS),
        (MarkState.DIFFERS, CellState.OTHERS),
        (MarkState.AGREE, CellState.DONE),
        (MarkState.SETTLED, CellState.DONE),
        (MarkState.NOT_FLOWN, CellState.DONE),
    ):
        board = board_of(desk, "Ingrid", {3: row})
        assert state(board, 3) is cell
        told = next(c.says for c in board.cells if c.pilot == 3)
        assert desk.session.snapshot.pilot_name(3) in told
    board = board_of(desk, "Ingrid", {3: MarkState.ONCE}, twice=False)
    assert state(board, 3) is CellState.DONE, "one entry suffices"
    counts = [int(text.rsplit(" ", 1)[1]) for _, text in board.legends]
    assert sum(counts) == len(board.cells) == 6


def test_who_is_quite_unknown_is_boxed_once_few_are(desk, monkeypatch):
    monkeypatch.setattr("gui.models.board.known_pilots", lambda *_: iter(()))
    done = dict.fromkeys((1, 2, 3, 5, 6), MarkState.AGREE)
    late = board_of(desk, "Ingrid", {**done, 4: MarkState.MISSING})
    assert state(late, 4) is CellState.UNKNOWN
    early = board_of(desk, "Ingrid", dict.fromkeys(range(1, 7), MarkState.MISSING))
    assert set(early.of(CellState.YOURS)) == {1, 2, 3, 4, 5, 6}
    assert late.next_after(0) == 4


def test_the_next_number_follows_the_last_one(desk):
    states = dict.fromkeys(range(1, 7), MarkState.AGREE)
    states |= {2: MarkState.SECOND, 5: MarkState.SECOND}
    board = board_of(desk, "Ingrid", states)
    assert [board.next_after(n) for n in (0, 2, 5)] == [2, 5, 2]
    assert Board().next_after(0) is None


def test_logs_account_for_pilots_too(desk):
    snapshot, scored = desk.session.snapshot, desk.session.results
    board = log_board(snapshot, scored, snapshot.task(1), log_rows(snapshot, scored))
    assert len(board.of(CellState.DONE)) >= 5
    assert len(board.cells) == 6


def big(many):
    cells = tuple(
        Cell(pilot=n, state=list(CellState)[n % 4], says=f"{n} Bo: done")
        for n in range(1, many + 1)
    )
    return Board(cells=cells, title=f"All {many}", legends=((CellState.DONE, "x"),))


def test_every_number_of_275_is_in_one_sight_and_read_to_the_blind(qtbot, window):
    card = BoardCard("Numbers of all pilots")
    qtbot.addWidget(card)
    card.resize(480, 430)
    card.show_board(big(275))
    card.show()
    qtbot.waitExposed(card)
    view, model = card.board, card.board.model_
    tester = QAbstractItemModelTester(
        model, QAbstractItemModelTester.FailureReportingMode.Warning
    )
    rows, high = model.rowCount(), view.verticalHeader().defaultSectionSize()
    assert rows * high <= view.viewport().height() + 1
    wide = view.horizontalHeader().defaultSectionSize()
    assert wide * model.columnCount() <= view.viewport().width() + 1
    texts = {
        model.index(i, j).data(Qt.ItemDataRole.AccessibleTextRole)
        for i in range(rows)
        for j in range(model.columnCount())
    }
    assert len(texts - {None}) == 275
    del tester


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda theme: theme.name)
def test_numbers_are_legible_on_their_grounds(theme):
    assert contrast(theme.text, theme.filled) >= 7
    assert contrast(theme.muted, theme.stripe) >= 7
    assert contrast(theme.bad, theme.panel) >= 7
    assert contrast(theme.accent_text, theme.accent) >= 7
