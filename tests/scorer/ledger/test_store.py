import shutil
import sqlite3
import threading
from dataclasses import replace
from datetime import timedelta

import pytest
from sqlalchemy import event

from scorer.ledger.acts import LogAdded, MarkKeyed, NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.convert import to_drafts
from scorer.ledger.entry import Draft, sha256_of
from scorer.ledger.faults import (
    DamagedError,
    LedgerError,
    MissingBlobError,
    NotALedgerError,
)
from scorer.ledger.store import START
from tests.scorer.ledger.ledger_desks import (
    FIELD,
    HALL,
    MORNING,
    TENT,
    Watch,
    blob,
    create,
    open_at,
    small_event,
    tape,
)


def note(text="n"):
    return Draft(act=NoteMade(text=text))


def test_entries_of_a_desk_are_numbered_and_chained(tmp_path):
    with create(tmp_path / "e") as ledger:
        one, two = ledger.record_all([note(), note()])
        three = ledger.record(NoteMade(text="x"))

    assert [e.number for e in (one, two, three)] == [2, 3, 4]
    assert (two.prev, three.prev) == (one.hash, two.hash)
    assert [e.tick for e in (one, two, three)] == [2, 3, 4]


def test_a_second_desk_starts_at_the_root_and_after_all_it_saw(tmp_path):
    with create(tmp_path / "e") as hall:
        root = hall.state().entries[0]
        last = hall.record(NoteMade(text="x"))
    with open_at(tmp_path / "e", FIELD) as field:
        first = field.record(NoteMade(text="y"))

    assert (first.number, first.prev) == (1, root.hash)
    assert first.order > last.order


def test_no_entry_is_counted_so_that_writing_takes_no_longer_as_an_event_grows(
    tmp_path,
):
    asked = []
    with create(tmp_path / "e") as ledger:
        event.listen(
            ledger.store.engine,
            "before_cursor_execute",
            lambda *given: asked.append(given[2].casefold()),
        )
        ledger.record(NoteMade(text="x"))

    assert not [sql for sql in asked if "count(" in sql]


def test_a_clock_that_goes_back_reorders_nothing(tmp_path):
    clock = Watch(step_s=-3600)
    with create(tmp_path / "e", clock=clock) as ledger:
        written = [ledger.record(NoteMade(text=str(i))) for i in range(5)]
        state = ledger.state()

    assert state.entries[1:] == tuple(written)
    assert written[-1].when == MORNING - timedelta(hours=6)
    assert verify_file(tmp_path / "e").sound


def test_all_drafts_of_one_write_are_there_or_none(tmp_path):
    missing = LogAdded(flight="1", name="logs/1.igc", sha256="0" * 64, size=1)
    with create(tmp_path / "e") as ledger:
        with pytest.raises(MissingBlobError, match="add the file again"):
            ledger.record_all([note(), Draft(act=missing)])

        assert len(ledger.state().entries) == 1


def test_writing_the_same_draft_again_changes_nothing(tmp_path):
    draft = note("once")
    with create(tmp_path / "e") as ledger:
        first = ledger.record_all([draft, draft])
        again = ledger.record_all([draft, note("more")])

        assert first[0] == first[1] == again[0]
        assert len(ledger.state().entries) == 3


def test_files_are_stored_once_by_content(tmp_path):
    data = b"B0612345\r\n" * 5000
    sha = sha256_of(data)
    with create(tmp_path / "e") as ledger:
        for name in ("logs/1.igc", "logs/2.igc"):
            act = LogAdded(flight="1", name=name, sha256=sha, size=len(data))
            ledger.record(act, files={sha: data})

        assert ledger.store.file_hashes() == (sha,)
        assert ledger.file(sha) == data
        assert len(ledger.store.stored_file(sha).data) < len(data) / 20


@pytest.mark.parametrize("data", [b"", b"\x00", bytes(range(256)) * 3])
def test_any_bytes_come_back(tmp_path, data):
    sha = sha256_of(data)
    act = LogAdded(flight="1", name="l", sha256=sha, size=len(data))
    with create(tmp_path / "e") as ledger:
        ledger.record(act, files={sha: data})

        assert ledger.file(sha) == data


def test_a_file_whose_hash_is_wrong_is_refused(tmp_path):
    act = LogAdded(flight="1", name="l", sha256="1" * 64, size=1)
    with create(tmp_path / "e") as ledger, pytest.raises(LedgerError, match="read it"):
        ledger.record(act, files={"1" * 64: b"x"})


def test_a_copy_of_the_one_file_holds_all_that_was_confirmed(tmp_path):
    """Copied while the ledger stays open, without the log beside it."""
    with create(tmp_path / "e") as ledger:
        for count in range(2, 12):
            ledger.record(NoteMade(text="x" * 3000))
            shutil.copy(tmp_path / "e", tmp_path / "copy")
            with open_at(tmp_path / "copy") as copy:
                assert len(copy.state().entries) == count


def test_a_closed_event_is_one_file(tmp_path):
    create(tmp_path / "e").close()
    with open_at(tmp_path / "e") as ledger:
        ledger.record(NoteMade(text="x"))

    assert [path.name for path in tmp_path.iterdir()] == ["e"]


STATEMENTS = (
    "UPDATE entry SET who = 'eve'",
    "UPDATE entry SET payload = '{}' WHERE number = 2",
    "DELETE FROM entry",
    "DELETE FROM blob",
    "UPDATE blob SET data = x'00'",
    "DELETE FROM schema_step",
    "UPDATE schema_step SET name = 'x'",
    "INSERT OR REPLACE INTO entry SELECT * FROM entry",
    "REPLACE INTO blob SELECT sha256, 0, 'plain', x'00' FROM blob",
    (
        "REPLACE INTO entry (seq, hash, desk, number, tick, kind, payload, who, at, why, "
        "replaces, token, prev) SELECT seq, 'x', desk, number, tick, kind, payload, 'eve', "
        "at, why, replaces, 'x', prev FROM entry WHERE number = 2"
    ),
    (
        "REPLACE INTO entry (hash, desk, number, tick, kind, payload, who, at, why, "
        "replaces, token, prev) SELECT 'x', desk, number, tick, kind, payload, 'eve', "
        "at, why, replaces, token, prev FROM entry WHERE number = 2"
    ),
)


@pytest.mark.parametrize("statement", STATEMENTS)
def test_the_file_refuses_changes_made_by_hand(tmp_path, statement):
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
    connection = sqlite3.connect(tmp_path / "e")

    with pytest.raises(sqlite3.IntegrityError, match="write an entry that replaces it"):
        connection.execute(statement)
    connection.close()

    assert verify_file(tmp_path / "e").sound


def test_new_entries_arrive_after_a_cursor_in_order(tmp_path):
    with create(tmp_path / "e") as hall, open_at(tmp_path / "e") as field:
        _, cursor = field.store.new_since(START)
        written = [hall.record(NoteMade(text=str(i))) for i in range(3)]
        fresh, cursor = field.store.new_since(cursor)

        assert fresh == tuple(written)
        assert field.store.new_since(cursor) == ((), cursor)


def test_a_watcher_hears_of_another_desk(tmp_path):
    stop, heard = threading.Event(), []
    with create(tmp_path / "e") as hall, open_at(tmp_path / "e") as field:
        watching = threading.Event()

        def listen():
            for news in field.watch(stop, since=START, every_s=0.02):
                heard.extend(news.entries)
                watching.set()
                if len(heard) == 3:
                    return

        thread = threading.Thread(target=listen)
        thread.start()
        assert watching.wait(10)
        hall.record(NoteMade(text="one"))
        hall.record(NoteMade(text="two"))
        thread.join(10)
        stop.set()

    assert [entry.number for entry in heard] == [1, 2, 3]


def test_threads_of_one_desk_take_turns(tmp_path):
    with create(tmp_path / "e") as ledger:

        def write(name):
            for count in range(20):
                ledger.record(MarkKeyed(flight="1", fields=tape(count, "1", by=name)))

        threads = [threading.Thread(target=write, args=(n,)) for n in "abcd"]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()

        assert [e.number for e in ledger.state().entries] == list(range(1, 82))
    assert verify_file(tmp_path / "e").sound


def test_an_existing_file_is_never_created_over(tmp_path):
    create(tmp_path / "e").close()
    before = (tmp_path / "e").read_bytes()

    with pytest.raises(LedgerError, match="choose another name"):
        create(tmp_path / "e")
    assert (tmp_path / "e").read_bytes() == before


@pytest.mark.parametrize("content", [b"", b"hello", b"SQLite format 3\0" + b"x" * 4096])
def test_a_file_that_is_no_event_is_named_as_such(tmp_path, content):
    (tmp_path / "e").write_bytes(content)

    with pytest.raises(NotALedgerError, match="sandtail new"):
        open_at(tmp_path / "e")


def test_another_program_s_database_is_no_event(tmp_path):
    connection = sqlite3.connect(tmp_path / "e")
    connection.execute("CREATE TABLE t (a)")
    connection.commit()
    connection.close()

    with pytest.raises(NotALedgerError, match="holds no ledger"):
        open_at(tmp_path / "e")
    with pytest.raises(NotALedgerError, match="no event file"):
        open_at(tmp_path / "nowhere")
    with pytest.raises(LedgerError, match="make it first"):
        create(tmp_path / "no folder" / "e")


def test_taking_back_needs_a_reason(tmp_path):
    with create(tmp_path / "e") as ledger:
        entry = ledger.record(NoteMade(text="x"))
        with pytest.raises(LedgerError, match="say why"):
            ledger.undo(entry.id, why=" ")


def test_a_stored_file_is_found_damaged_when_read(tmp_path):
    log = blob("logs/1.igc", b"abc" * 100)
    act = LogAdded(flight="1", name=log.name, sha256=log.sha256, size=300)
    with create(tmp_path / "e") as ledger:
        ledger.record(act, files={log.sha256: log.data})
        stored = ledger.store.stored_file(log.sha256)

    for data in (stored.data[:-1], b"", stored.data[::-1]):
        with pytest.raises(LedgerError, match="was altered"):
            replace(stored, data=data).content("e")


def verify_file(path):
    with open_at(path, TENT, read_only=True) as ledger:
        return verify(ledger.store)


def test_desks_are_told_apart():
    assert len({HALL, FIELD, TENT}) == 3


def test_files_wanted_are_fetched_together_and_each_is_checked(tmp_path, monkeypatch):
    """A transaction a file took three quarters of the time; damage costs its file alone."""
    data = [bytes([n]) * 50 for n in range(3)]
    names = [sha256_of(one) for one in data]
    with create(tmp_path / "e") as ledger:
        drafts = [
            Draft(
                act=LogAdded(flight="1", name=f"{n}.igc", sha256=name, size=50),
                files={name: one},
            )
            for n, (name, one) in enumerate(zip(names, data, strict=True))
        ]
        ledger.record_all(drafts)
        store, asked = ledger.store, []
        fetch = store._stored_files

        def counted(hashes):
            asked.append(len(hashes))
            if len(hashes) in damaged:
                raise DamagedError("a page of one of them")
            return fetch(hashes)

        monkeypatch.setattr(store, "_stored_files", counted)
        damaged = []
        for calls in ([3], [3, 1, 1, 1]):
            asked.clear()
            read = store.reader(names)
            assert [read(name).content("e") for name in names] == data
            assert asked == calls
            damaged.append(3)
        with pytest.raises(MissingBlobError):
            store.reader(["0" * 64])("0" * 64)
