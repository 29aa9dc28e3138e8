"""Pages take the look, and are filled, before somebody goes there: while nobody waits."""

import threading

import pytest
from PySide6.QtCore import QEvent, QObject

from gui.style import LOOK


@pytest.fixture
def done(qtbot, desk):
    """The window, when no page lacks anything any more."""
    assert desk.ahead.filled
    desk.ahead.fill()
    qtbot.waitUntil(lambda: not desk.ahead.busy)
    return desk


def looks(window):
    return {page.name: window.frame.room_of(page).styleSheet() for page in window.pages}


def test_every_page_has_the_look_and_the_event_before_it_is_seen(done):
    assert set(looks(done).values()) == {LOOK.sheet}
    assert {page.theme for page in done.pages} == {LOOK.theme}
    assert {page.form for page in done.pages} == {done.frame.form}
    behind = [done.page_named(name) for name in ("roster", "logs", "places")]
    assert all(page.table.shown for page in behind if page is not done.page)


class Whole(QObject):
    """Counts how often widgets are drawn from edge to edge."""

    def __init__(self, widgets):
        super().__init__()
        self.drawn = dict.fromkeys(widgets, 0)
        for widget in widgets:
            widget.installEventFilter(self)

    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and event.rect() == watched.rect():
            self.drawn[watched] += 1
        return False


def test_a_page_that_comes_to_the_front_is_drawn_once(qtbot, done):
    behind = [page for page in done.pages if page.name != "start"]
    whole = Whole(behind)
    for page in behind:
        done.go("start")
        qtbot.wait(30)
        done.go(page.name)
        qtbot.wait(100)
    assert {page.name: n for page, n in whole.drawn.items() if n != 1} == {}


def test_another_look_is_taken_at_once_in_front_and_behind_when_nobody_waits(
    qtbot, done
):
    before = LOOK.sheet
    done.next_theme()
    found = looks(done)
    assert found.pop(done.page.name) == LOOK.sheet != before
    assert set(found.values()) == {before}
    done.go("places")
    assert looks(done)["places"] == LOOK.sheet
    qtbot.waitUntil(lambda: set(looks(done).values()) == {LOOK.sheet})
    done.next_theme()


def test_nothing_is_made_ready_while_somebody_types(qtbot, done, monkeypatch):
    monkeypatch.setattr("gui.ahead.QUIET_S", 1e9)
    done.next_theme()
    before = looks(done)
    qtbot.wait(200)
    assert looks(done) == before
    assert done.ahead.busy
    monkeypatch.undo()
    done.next_theme()
    qtbot.waitUntil(lambda: not done.ahead.busy)


def test_an_event_that_is_closed_fills_no_page(qtbot, done, monkeypatch):
    filled = []
    for page in done.pages:
        monkeypatch.setattr(page, "refresh", lambda _, page=page: filled.append(page))
    done.ahead.fill()
    done.close_event()
    filled.clear()
    done.next_theme()
    qtbot.waitUntil(lambda: not done.ahead.busy)
    assert filled == []
    done.next_theme()


def test_a_page_made_ready_takes_no_picture_from_the_one_in_front(qtbot, done):
    """It asked for its own while the other's was being made, which then never came."""
    shelf, told, go_on = done.session.shelf, [], threading.Event()
    shelf.pictured.connect(lambda asked, _: told.append(asked[1]))
    shelf._executor.submit(go_on.wait, 60)
    shelf.ask_picture("results", "first-morning", 1, 1)
    shelf.ask_picture("findings", "first-morning", 2, 1)
    shelf.ask_picture("findings", "first-morning", 3, 1)
    go_on.set()
    qtbot.waitUntil(lambda: 3 in told)
    assert [pilot for pilot in told if pilot in {1, 2, 3}] == [1, 3]
