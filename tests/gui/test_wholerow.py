"""What a table has no room for is read under it, of the row that is chosen."""

from PySide6.QtCore import Qt

from gui.parts.wholerow import WholeRow
from scorer.ledger.acts import NoteMade
from tests.gui.helpers import page, press, settled

LONG = "the wind turned at the second target, " * 5 + "and three crews saw it"


def test_a_long_entry_of_the_journal_is_read_whole_with_the_arrows(qtbot, desk):
    desk.session.record(NoteMade(text=LONG))
    settled(qtbot, desk)
    journal = page(desk, "desks")
    (whole,) = journal.findChildren(WholeRow)
    journal.table.setFocus()
    press(Qt.Key.Key_Home)
    qtbot.waitUntil(whole.isVisible)
    assert LONG in whole.text()
    assert whole.height() >= whole.heightForWidth(whole.width())
    assert LONG in whole.accessibleDescription()
    press(Qt.Key.Key_Down)
    assert LONG not in whole.text()


def test_where_all_is_read_in_its_cells_nothing_stands_beneath(qtbot, desk):
    journal = page(desk, "desks")
    (whole,) = journal.findChildren(WholeRow)
    short = next(r for r in journal.table.shown if len(f"{r.kind}{r.about}") < 40)
    journal.table.choose(short.entry.hash)
    assert journal.table.cut() == []
    assert not whole.isVisible()
