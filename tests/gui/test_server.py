"""Two desks on one server, and a server that goes away for real."""

from datetime import UTC, datetime

import pytest

from scorer.ledger.acts import MarkKeyed
from scorer.ledger.api import Ledger, load, new_desk
from scorer.ledger.opening import empty_store
from tests.gui.helpers import key_mark, page, settled


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
