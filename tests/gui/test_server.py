"""Two desks on one server, and a server that goes away for real."""

from datetime import UTC, datetime

import pytest

from scorer import recall
from scorer.ledger.acts import MarkKeyed
from scorer.ledger.api import Ledger, load, new_desk
from scorer.ledger.event_commands import archive
from scorer.ledger.opening import empty_store
from tests.gui.helpers import key_mark, page, settled
from tests.scorer.ledger.test_served import put_back


@pytest.fixture(autouse=True)
def cache(tmp_path, monkeypatch):
    """What this computer keeps of the server's event, of one test alone."""
    monkeypatch.setenv(recall.VARIABLE, str(tmp_path / "cache"))


@pytest.fixture
def shared(server, small):
    """The small event on the server."""
    entries = load(small).state.entries
    url = server.url()
    with Ledger.open(small, desk=new_desk("copy"), who="Merel") as source:
        files = [source.store.stored_file(h) for h in source.store.file_hashes()]
    store = empty_store(url, when=datetime.now(UTC))
    store.take(entries, files)
    store.close()
    return url


def test_keying_goes_on_while_the_server_restarts(qtbot, window, server, shared):
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(shared, "Ingrid")
    keying = page(window, "keying")
    window.session.choose_task(2)
    keying.line.to_start()
    server.stop()
    for pilot in (4, 5, 6):
        key_mark(pilot, "12 m")
    qtbot.waitUntil(lambda: "wait for the database" in window.link.text())
    on_the_way = {row.pilot for row in keying.table.rows_model.rows if not row.ids}
    assert on_the_way == {4, 5, 6}
    server.run_again()
    window.again()
    settled(qtbot, window)
    keyed = window.session.snapshot.state.all_of(MarkKeyed)
    mine = [a.fields["pilot"] for _, a in keyed if a.fields["by"] == "Ingrid"]
    assert mine == ["4", "5", "6"]


def test_an_event_opens_by_itself_once_its_database_answers(
    qtbot, window, server, shared, monkeypatch
):
    server.stop()
    start = window.page_named("start")
    monkeypatch.setattr(start._again, "start", lambda: start._again.setInterval(50))
    window.open_target(shared, "Ingrid")
    qtbot.waitUntil(lambda: bool(start.away.text()))
    assert "does not answer" in start.away.text()
    assert "postgresql" not in start.away.text() + window.note.text()
    assert start.isVisible()
    server.run_again()
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        start._try_again()
    assert window.session.snapshot is not None
    assert not start.away.text()


def closed(qtbot, window):
    """Close the event when nothing reads from the server any more."""
    settled(qtbot, window)
    qtbot.waitUntil(lambda: window.link.text() != "Scoring…")
    readers = window.page_named("board").jobs_, window.session.looker
    qtbot.waitUntil(lambda: not any(jobs.busy for jobs in readers))
    window.close_event()


def who_keyed(window):
    """Return who entered the marks that the window has read."""
    keyed = window.session.snapshot.state.all_of(MarkKeyed)
    return [act.fields["by"] for _, act in keyed]


@pytest.fixture
def read_before(qtbot, window, server, shared):
    """The address of an event that was read at this desk, and whose server is away now."""
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(shared, "Ingrid")
    closed(qtbot, window)
    server.stop()
    yield shared
    if not (server.folder / ".s.PGSQL.5432").exists():
        server.run_again()


def opened(qtbot, window, url):
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(url, "Ingrid")
    return window


def test_an_event_whose_database_is_away_opens_as_it_was_last_read(
    qtbot, window, read_before
):
    desk = opened(qtbot, window, read_before)
    assert desk.link.text().startswith("Database away, as of ")
    assert "does not answer" in desk.note.text()
    assert desk.session.results.results is not None
    for shown in desk.pages[1:]:
        desk.go(shown.name)
    assert page(desk, "roster").table.shown
    assert page(desk, "logs").table.shown
    publish = page(desk, "publish")
    publish.stages.taken.emit(None)
    assert not publish.actions_["publish"].isEnabled()
    assert not publish.bar.button.isEnabled()
    assert "does not answer" in publish.bar.sentence.text()


def test_marks_entered_while_it_is_away_outlive_a_crash_and_go_by_themselves(
    qtbot, window, server, read_before
):
    desk = opened(qtbot, window, read_before)
    desk.session.choose_task(2)
    keying = page(desk, "keying")
    keying.line.to_start()
    for pilot in (4, 5, 6):
        key_mark(pilot, "12 m")
        assert "Kept on this computer" in desk.note.text()
    qtbot.waitUntil(lambda: desk.link.text().startswith("3 entries wait"))
    assert "as of" in desk.link.text()
    desk.close_event()
    opened(qtbot, desk, read_before)
    assert {draft.act.fields["pilot"] for draft in desk.session.pending} == {
        "4",
        "5",
        "6",
    }
    server.run_again()
    qtbot.waitUntil(lambda: desk.session.away is None)
    settled(qtbot, desk)
    keyed = desk.session.snapshot.state.all_of(MarkKeyed)
    mine = [a.fields["pilot"] for _, a in keyed if a.fields["by"] == "Ingrid"]
    assert mine == ["4", "5", "6"]
    qtbot.waitUntil(lambda: desk.link.text() == "All up to date")
    assert page(desk, "publish").actions_["publish"].isEnabled()


def test_a_database_restored_from_before_is_told_until_somebody_has_read_it(
    qtbot, window, shared, tmp_path, monkeypatch
):
    """The server is right: what this computer had read of it beyond that is put aside."""
    told = []
    monkeypatch.setattr("gui.ask.told", lambda _, text: told.append(text))
    archive(shared, tmp_path / "older.zip")
    desk = opened(qtbot, window, shared)
    desk.session.choose_task(2)
    page(desk, "keying").line.to_start()
    key_mark(4, "12 m")
    qtbot.waitUntil(lambda: "Ingrid" in who_keyed(desk))  # read back, so in the copy
    closed(qtbot, desk)
    assert told == []
    put_back(shared, tmp_path / "older.zip")
    opened(qtbot, desk, shared)
    qtbot.waitUntil(lambda: bool(told))
    assert "sandtail merge" in told[0]
    settled(qtbot, desk)
    assert "Ingrid" not in who_keyed(desk)
    closed(qtbot, desk)
