"""A desk of an event on a server, while that server is away and when it is back."""

import sqlite3
import threading
from contextlib import closing

import pytest

from scorer import recall
from scorer.ledger import entry, snapshot
from scorer.ledger.acts import MarkKeyed, NoteMade, TerrainSet
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Draft, sha256_of
from scorer.ledger.event_commands import archive, merge_files, restore, verify_target
from scorer.ledger.faults import OtherEventError, UnreachableError
from scorer.ledger.replay import replay
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    MORNING,
    create,
    open_at,
    small_event,
    tape,
    without_origins,
)
from tests.scorer.ledger.test_growing import told
from tests.scorer.ledger.test_postgres import psql

LOG = next(iter(small_event().flights[0].logs)).blob


@pytest.fixture
def cache(tmp_path, monkeypatch):
    monkeypatch.setenv(recall.VARIABLE, str(tmp_path / "cache"))
    return tmp_path / "cache"


@pytest.fixture
def url(server, cache):
    """An event that a desk of this computer has read, with its log."""
    made = server.url()
    with create(made) as hall:
        hall.record_all(to_drafts(small_event()))
        hall.raw()
    return made


@pytest.fixture
def away(server):
    """The way to the server, taken away and given back; it is there when the test ends."""

    class Way:
        def __init__(self):
            self.there = server.folder / ".s.PGSQL.5432"
            self.gone = server.folder / "gone"

        def off(self):
            self.there.rename(self.gone)

        def on(self):
            self.gone.rename(self.there)

    way = Way()
    yield way
    if way.gone.exists():
        way.on()


def test_a_connection_that_somebody_reads_with_is_closed_when_it_is_given_back(url):
    ledger = open_at(url)
    with ledger.store.engine.connect() as reading:
        held = reading.connection.dbapi_connection
        ledger.close()
        assert not held.closed
    assert held.closed


def copies(cache):
    return sorted((cache / "served-1").glob("*.sqlite"))


def by_hand(path, *statements):
    with closing(sqlite3.connect(path)) as file:
        for (name,) in file.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall():
            file.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            file.execute(statement)
        file.commit()


def at_desk(url, **more):
    return open_at(url, or_copy=True, **more)


def test_a_desk_opens_with_what_it_read_and_the_moment_of_it(url, away):
    with open_at(url) as before:
        known = told(before.state())
    away.off()

    with at_desk(url) as desk:
        assert told(desk.state()) == known
        assert without_origins(desk.raw()) == without_origins(small_event())
        assert desk.file(LOG.sha256) == LOG.data
        assert desk.away.as_of > MORNING
        assert "cannot be reached" in desk.away.why
        assert desk.away.says.kind == "database-away"
        with pytest.raises(UnreachableError):
            desk.record(NoteMade(text="x"))
        with pytest.raises(UnreachableError):
            desk.rejoin()


def test_who_does_not_ask_for_the_copy_is_told_that_the_server_is_away(url, away):
    away.off()
    with pytest.raises(UnreachableError):
        open_at(url)


def test_a_desk_goes_on_when_the_server_is_back(url, away):
    away.off()
    with at_desk(url) as desk:
        before = desk.state()
        away.on()
        with open_at(url, HALL, who="ann") as hall:
            hall.record(NoteMade(text="meanwhile"))

        assert desk.rejoin() is None
        assert desk.away is None
        desk.record(NoteMade(text="here"))
        state = desk.state()
        assert len(state.entries) == len(before.entries) + 2
        assert told(state) == told(replay(desk.store.entries()))


def test_a_watcher_tells_that_it_is_away_and_all_that_came_since(url, server):
    server.stop()
    news, heard, stop = [], threading.Condition(), threading.Event()

    def listen(desk):
        for item in desk.watch(stop, every_s=0.05):
            with heard:
                news.append(item)
                heard.notify_all()

    with at_desk(url) as desk:
        thread = threading.Thread(target=listen, args=(desk,))
        thread.start()
        with heard:
            assert heard.wait_for(lambda: news and news[0].problem, 20)
        server.run_again()
        with open_at(url, HALL, who="ann") as hall:
            hall.record(NoteMade(text="meanwhile"))
        with heard:
            assert heard.wait_for(
                lambda: any(e.kind == "note" for n in news for e in n.entries), 20
            )
        stop.set()
        thread.join()
        assert not news[-1].problem
        assert not any(item.told for item in news)


def test_what_a_desk_hears_is_in_the_copy_too(url, away):
    with open_at(url) as desk, open_at(url, HALL, who="ann") as hall:
        desk.state()
        hall.record(NoteMade(text="first"))
        desk.state()
        desk.record(NoteMade(text="second"))
        hall.state()
        desk.state()
    away.off()
    with at_desk(url) as desk:
        texts = [act.text for _, act in desk.state().all_of(NoteMade)]
        assert texts == ["first", "second"]


@pytest.mark.parametrize("address", ["owner:tulip@", "owner@"])
def test_no_password_is_written_down(url, cache, away, address):
    more = "" if "tulip" in address else "&password=tulip"
    secret = url.replace("owner@", address) + more
    with open_at(secret) as desk:
        desk.record(NoteMade(text="x"))
        desk.raw()
        assert "tulip" not in desk.store.where
    away.off()
    with at_desk(secret) as desk:
        assert "tulip" not in str(desk.away)

    files = [path for path in cache.rglob("*") if path.is_file()]
    assert copies(cache)
    assert not any(b"tulip" in path.read_bytes() for path in files)
    assert not any("tulip" in path.name for path in files)


def test_whoever_asks_at_the_same_place_finds_the_same_copy(url, away):
    away.off()
    with at_desk(url.replace("owner@", "somebody:else@")) as desk:
        assert len(desk.state().entries) == 12


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM entry WHERE seq = 5",
        "DELETE FROM entry WHERE seq = 12",
        "UPDATE entry SET seq = 99 WHERE seq = 3",
        "UPDATE entry SET hash = replace(hash, 'a', 'b') WHERE seq = 5",
        "UPDATE copied SET digest = ''",
        "UPDATE schema_step SET number = 99 WHERE number = 3",
        "DROP TABLE copied",
    ],
)
def test_a_copy_that_is_not_whole_is_not_believed(url, cache, away, statement):
    (path,) = copies(cache)
    by_hand(path, statement)
    away.off()
    with pytest.raises(UnreachableError):
        at_desk(url)
    away.on()
    with open_at(url) as desk:
        assert desk.rejoin() is None
        desk.raw()
    away.off()
    with at_desk(url) as desk:
        assert len(desk.state().entries) == 12


@pytest.mark.parametrize("data", [b"", b"no database at all" * 500])
def test_what_lies_in_place_of_a_copy_costs_nothing_else(url, cache, away, data):
    (path,) = copies(cache)
    path.write_bytes(data)
    away.off()
    with pytest.raises(UnreachableError):
        at_desk(url)
    away.on()
    with open_at(url) as desk:
        assert len(desk.state().entries) == 12


def test_an_entry_that_was_altered_in_a_copy_is_not_read(url, cache, away):
    (path,) = copies(cache)
    by_hand(path, "UPDATE entry SET who = 'eve' WHERE seq = 5")
    away.off()
    with (
        at_desk(url) as desk,
        pytest.raises(UnreachableError, match="cannot be reached"),
    ):
        desk.state()
    away.on()
    with open_at(url) as desk:
        desk.state()
    away.off()
    with at_desk(url) as desk:
        assert "eve" not in {entry.who for entry in desk.state().entries}


def test_a_damaged_file_is_taken_from_the_server_again(url, cache, away):
    (path,) = copies(cache)
    by_hand(path, "UPDATE blob SET data = x'00'")
    with open_at(url) as desk:
        assert desk.file(LOG.sha256) == LOG.data
    away.off()
    with at_desk(url) as desk:
        assert desk.file(LOG.sha256) == LOG.data


def test_a_file_that_was_never_read_waits_for_the_server(url, cache, away):
    (path,) = copies(cache)
    by_hand(path, "DELETE FROM blob")
    away.off()
    with at_desk(url) as desk:
        assert desk.state().log_files
        with pytest.raises(UnreachableError, match="never read on this computer"):
            desk.raw()


def test_an_entry_whose_file_is_nowhere_counts_as_little_while_away(url, away):
    act = TerrainSet(name="hills.tif", sha256=sha256_of(b"gone"), size=4)
    with open_at(url) as desk:
        with desk.store.turn() as connection:
            desk.store.insert(connection, [Draft(act=act)], FIELD, "bob", MORNING)
        known = desk.state()
        assert known.set_aside
    away.off()
    with at_desk(url) as desk:
        assert told(desk.state()) == told(known)


def put_back(url, older):
    """Restore an event's database from an archive."""
    schema = url.rsplit("%3D", 1)[1]
    psql(url, f"DROP SCHEMA {schema} CASCADE")
    psql(url, f"CREATE SCHEMA {schema}")
    restore(older, url)


@pytest.mark.parametrize("opened_while_away", [True, False])
def test_a_server_that_lost_entries_is_believed_and_they_are_kept(
    url, away, tmp_path, opened_while_away
):
    archive(url, tmp_path / "older.zip")
    with open_at(url) as desk:
        lost = desk.record(NoteMade(text="lost"))
        desk.state()
    put_back(url, tmp_path / "older.zip")

    if opened_while_away:
        away.off()
    with at_desk(url) as desk:
        if opened_while_away:
            assert desk.state().find(lost.label)
            away.on()
        says = desk.rejoin()
        assert says.kind == "copy-differs"
        assert desk.rejoin() is None
        state = desk.state()
        assert len(state.entries) == 12
        assert not state.all_of(NoteMade)
        (kept,) = (tmp_path / "cache").rglob("*.sandtail")
        assert str(kept) == says["file"].amount
        merge_files([kept], url)
        assert [act.text for _, act in desk.state().all_of(NoteMade)] == ["lost"]
        assert verify_target(url).sound


def test_another_event_in_its_place_gets_nothing(url, cache, away, tmp_path):
    with create(tmp_path / "other") as other:
        other.record(NoteMade(text="other"))
    archive(tmp_path / "other", tmp_path / "other.zip")
    away.off()
    with at_desk(url) as desk:
        away.on()
        put_back(url, tmp_path / "other.zip")
        with pytest.raises(OtherEventError, match="another event"):
            desk.rejoin()
        with pytest.raises(UnreachableError):
            desk.record(NoteMade(text="x"))
        assert len(desk.state().entries) == 12
    with at_desk(url) as desk:
        assert desk.rejoin() is None
        assert len(desk.state().entries) == 2
    assert len(copies(cache)) == 2


def test_opened_again_no_mark_is_read_before_it_is_asked_for(
    url, cache, away, monkeypatch
):
    monkeypatch.setattr(snapshot, "MANY", 5)
    monkeypatch.setattr(snapshot, "GROWN", 5)
    with open_at(url) as desk:
        known = told(desk.state())
    seen = []

    def spied(kind, payload, real=entry.read_act):
        seen.append(kind)
        return real(kind, payload)

    monkeypatch.setattr(entry, "read_act", spied)
    with open_at(url) as desk:
        state = desk.state()
        assert "mark" not in seen
        assert told(state) == known
    away.off()
    seen.clear()
    with at_desk(url) as desk:
        state = desk.state()
        assert "mark" not in seen
        assert told(state) == known
        assert len(state.all_of(MarkKeyed)) == 2
    away.on()
    with open_at(url) as desk:
        desk.record(MarkKeyed(flight="1", fields=tape(1, "4.5")))
        assert told(desk.state()) == told(replay(desk.store.entries()))


def test_a_snapshot_is_not_made_of_a_copy_that_was_altered(url, cache, monkeypatch):
    monkeypatch.setattr(snapshot, "MANY", 5)
    monkeypatch.setattr(snapshot, "GROWN", 5)
    with open_at(url) as desk:
        desk.state()
        recall.recall_of_user().path.unlink(missing_ok=True)
        by_hand(*copies(cache), "UPDATE entry SET who = 'eve' WHERE seq = 5")
    with open_at(url) as desk:
        assert "eve" not in {entry.who for entry in desk.state().entries}


def test_numbers_of_arrival_with_holes_are_kept_as_they_are(server, cache, away):
    """An older server left holes where a write was broken off."""
    url = server.url()
    with create(url) as hall:
        psql(url, "ALTER TABLE entry DISABLE TRIGGER entry_sealed")
        psql(url, "ALTER TABLE entry ALTER seq RESTART WITH 40")
        hall.record(NoteMade(text="x"))
        hall.state()
    away.off()
    with at_desk(url) as desk:
        assert desk.store.last() == 40
        away.on()
        assert desk.rejoin() is None
        assert len(desk.state().entries) == 2


def test_without_a_cache_nothing_is_kept(url, away, monkeypatch):
    monkeypatch.setenv(recall.VARIABLE, "none")
    with open_at(url) as desk:
        assert len(desk.state().entries) == 12
    away.off()
    with pytest.raises(UnreachableError):
        at_desk(url)
