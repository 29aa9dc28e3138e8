"""No connection stays open once an event is closed, or could not be opened."""

import shutil
import sqlite3
from pathlib import Path

import pytest

from scorer.errors import ScorerError
from scorer.ledger import engine
from scorer.ledger.convert import to_drafts
from scorer.ledger.event_commands import (
    archive,
    load,
    merge_files,
    open_any,
    verify_target,
)
from scorer.ledger.opening import open_store
from tests.scorer.ledger.ledger_desks import MORNING, create, open_at, small_event

FORMATS = Path(__file__).parent / "formats"


@pytest.fixture
def opened(monkeypatch):
    """All connections made from here on."""
    made, connect = [], sqlite3.connect

    def recorded(*args, **more):
        made.append(connect(*args, **more))
        return made[-1]

    monkeypatch.setattr(engine.sqlite3, "connect", recorded)
    return made


def all_closed(connections):
    assert connections
    for connection in connections:
        with pytest.raises(sqlite3.ProgrammingError, match="closed database"):
            connection.execute("SELECT 1")
    return True


@pytest.fixture
def file(tmp_path):
    with create(tmp_path / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
    return tmp_path / "e"


def test_a_damaged_file_is_let_go_of(tmp_path, opened):
    (tmp_path / "e").write_bytes(b"SQLite format 3\0" + b"x" * 4096)

    with pytest.raises(ScorerError):
        open_at(tmp_path / "e")
    with pytest.raises(ScorerError):
        open_at(tmp_path / "e", read_only=True)

    assert all_closed(opened)


def test_a_truncated_file_is_let_go_of(file, opened):
    whole = file.read_bytes()
    for size in range(100, len(whole), len(whole) // 12):
        file.write_bytes(whole[:size])
        for read_only in (False, True):
            try:
                with open_at(file, read_only=read_only) as ledger:
                    ledger.state()
            except ScorerError:
                pass

    assert all_closed(opened)


def test_an_older_format_read_only_is_let_go_of(tmp_path, opened):
    oldest = shutil.copy(FORMATS / "v1.sqlite", tmp_path / "e")

    with open_store(oldest, when=MORNING, read_only=True) as store:
        assert store.in_memory

    assert all_closed(opened)


def test_a_log_beside_a_file_that_may_not_be_written_is_let_go_of(
    file, tmp_path, opened, monkeypatch
):
    """As on a read-only medium; root may write everywhere, so this says it may not."""
    older = sqlite3.connect(file)
    older.execute("PRAGMA journal_mode = WAL")
    older.execute("PRAGMA user_version = 0")
    (tmp_path / "medium").mkdir()
    for name in ("e", "e-wal"):
        shutil.copy(tmp_path / name, tmp_path / "medium" / name)
    older.close()
    for module in ("engine", "opening"):
        monkeypatch.setattr(f"scorer.ledger.{module}.may_write", lambda _: False)

    with open_store(tmp_path / "medium" / "e", when=MORNING, read_only=True) as store:
        assert store.entries()

    assert all_closed(opened)


def test_whole_events_are_let_go_of(file, tmp_path, opened):
    archive(file, tmp_path / "a")
    load(tmp_path / "a")
    verify_target(file, scoring=None)
    merge_files([file, tmp_path / "a"], tmp_path / "m")

    assert all_closed(opened)


def test_an_archive_that_cannot_be_taken_in_is_let_go_of(
    file, tmp_path, opened, monkeypatch
):
    def fails(*_):
        raise ScorerError("no")

    archive(file, tmp_path / "a")
    monkeypatch.setattr("scorer.ledger.store.Store.take", fails)

    with pytest.raises(ScorerError):
        open_any(tmp_path / "a")

    assert all_closed(opened)
