"""A snapshot saves time and nothing else: what it does not fit is worked out anew."""

import os
import shutil
import sqlite3
from contextlib import closing

import pytest

from scorer import recall
from scorer.ledger import entry, snapshot
from scorer.ledger.acts import MarkKeyed
from scorer.ledger.convert import to_drafts
from scorer.ledger.event_commands import load
from scorer.ledger.faults import BusyError, DamagedError, MovedError
from scorer.ledger.replay import replay
from scorer.ledger.sound import sound
from scorer.ledger.store import Store
from tests.scorer.ledger.ledger_desks import create, open_at, small_event, tape
from tests.scorer.ledger.test_growing import told


@pytest.fixture
def path(tmp_path, monkeypatch):
    """An event whose snapshot was written as it was closed."""
    monkeypatch.setenv(recall.VARIABLE, str(tmp_path / "cache"))
    monkeypatch.setattr(snapshot, "MANY", 5)
    monkeypatch.setattr(snapshot, "GROWN", 5)
    with create(tmp_path / "e") as hall:
        hall.record_all(to_drafts(small_event()))
        hall.state()
    return tmp_path / "e"


@pytest.fixture
def read(monkeypatch):
    """Kinds of acts that were read."""
    seen = []

    def spied(kind, payload, real=entry.read_act):
        seen.append(kind)
        return real(kind, payload)

    monkeypatch.setattr(entry, "read_act", spied)
    return seen


def opened(path):
    """Open an event, and hold its state against that of nothing but its entries."""
    with open_at(path) as hall:
        state = hall.state()
        assert told(state) == told(replay(hall.store.entries(), hall.store.known_files))
    return state


def by_hand(path, *statements):
    with closing(sqlite3.connect(path)) as file:
        for trigger in ("entry_no_update", "entry_no_delete", "blob_no_delete"):
            file.execute(f"DROP TRIGGER {trigger}")
        for statement in statements:
            file.execute(statement)
        file.commit()


def test_opened_again_no_mark_is_read_before_it_is_asked_for(path, read):
    with open_at(path) as hall:
        hall.state()
        assert "mark" not in read
        assert hall.state().all_of(MarkKeyed)
        assert read.count("mark") == len(hall.state().all_of(MarkKeyed))
    opened(path)


def test_what_came_since_is_worked_in(path, read):
    with open_at(path) as hall:
        hall.record(MarkKeyed(flight="1", fields=tape(1, "4.5")))
        read.clear()
        hall.state()
        assert read.count("mark") == 1
    opened(path)


def test_what_another_program_reads_is_the_same_event(path):
    known = load(path).state
    with open_at(path) as hall:
        assert told(known) == told(sound(replay(hall.store.entries())).state)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET payload = replace(payload, '1', '2') WHERE kind = 'mark'",
        "UPDATE entry SET who = 'Somebody' WHERE seq = 4",
        "UPDATE entry SET at = '2031-01-01T00:00:00.000000Z' WHERE seq = 4",
        "UPDATE entry SET replaces = hash WHERE seq = 5",
        "DELETE FROM entry WHERE seq = (SELECT max(seq) FROM entry)",
        "DELETE FROM entry WHERE seq = 5",
        "DELETE FROM blob",
    ],
)
def test_an_altered_event_is_worked_out_from_what_it_holds_now(path, statement):
    by_hand(path, statement)
    opened(path)


@pytest.mark.parametrize("column", ["desk", "prev", "token", "payload"])
def test_a_flipped_bit_before_a_snapshot_is_read_as_without_one(path, column):
    flipped = f"CAST(CAST(substr({column}, 1, 3) AS BLOB) || x'ff' AS TEXT)"
    by_hand(path, f"UPDATE entry SET {column} = {flipped} WHERE seq = 4")
    for _ in range(2):  # from nothing, then from its snapshot
        with open_at(path) as hall:
            hall.state()
            hall.record(MarkKeyed(flight="1", fields=tape(1, "4.5")))
        opened(path)


def test_a_flipped_bit_in_a_hash_is_read_as_without_a_snapshot(path):
    by_hand(path, "UPDATE entry SET hash = CAST(x'61ff' AS TEXT) WHERE seq = 4")
    opened(path)


def test_an_act_that_names_two_flights_is_of_the_one_that_counts(path):
    """JSON says nothing of a name that stands twice; Python takes the last."""
    twice = """replace(payload, '{"flight":', '{"flight":"none","flight":')"""
    by_hand(path, f"UPDATE entry SET payload = {twice} WHERE kind = 'mark'")
    for _ in range(2):
        assert not opened(path).conflicts


def test_text_that_was_made_bytes_is_damage_as_without_a_snapshot(path):
    by_hand(path, "UPDATE entry SET payload = CAST(payload AS BLOB) WHERE seq = 4")
    with pytest.raises(DamagedError), open_at(path) as hall:
        hall.state()


def test_another_version_of_the_program_reads_everything(path, read, monkeypatch):
    monkeypatch.setattr(recall, "fingerprint", lambda: "another")
    opened(path)
    assert "mark" in read


@pytest.mark.parametrize("damage", [b"", b"no database at all" * 400])
def test_a_damaged_cache_costs_time_alone(path, read, damage):
    recall.recall_of_user().path.write_bytes(damage)
    opened(path)
    assert "mark" in read


def test_a_snapshot_of_another_event_at_the_same_place_is_not_believed(path, tmp_path):
    path.unlink()
    with create(path) as hall:
        hall.record_all(to_drafts(small_event())[::-1])
    opened(path)


@pytest.mark.skipif(not hasattr(os, "O_PATH"), reason="it is reached in Linux only")
def test_a_snapshot_that_cannot_be_taken_leaves_a_lost_file_to_be_told(path):
    """Where an older copy was put over an open event, closing tells where it is safe."""
    older = shutil.copy(path, path.with_name("older"))
    hall = open_at(path)
    for _ in range(5):
        hall.record(MarkKeyed(flight="1", fields=tape(1, "4.5")))
    hall.state()
    older.replace(path)
    with pytest.raises(MovedError, match="e-recovered"):
        hall.close()


def test_a_busy_file_is_read_without_a_snapshot(path, monkeypatch):
    recall.recall_of_user().path.unlink()

    def busy(*_):
        raise BusyError("busy")

    monkeypatch.setattr(Store, "raw_rows", busy)
    opened(path)
