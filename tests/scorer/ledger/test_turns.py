"""Desks take turns at an event file on a share, even where its locks are worth nothing."""

import os
import sqlite3
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from scorer.ledger import drives, engine, turns
from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.faults import BusyError, LedgerError, UnreachableError
from scorer.ledger.opening import open_store
from scorer.ledger.turns import SharedTurn
from tests.scorer.ledger.ledger_desks import FIELD, HALL, MORNING, create, open_at

ROOT = Path(__file__).parents[3]
EACH = 15
WRITER = f"""
import sys
from pathlib import Path
from scorer.ledger import drives, engine
from scorer.ledger.acts import NoteMade
from scorer.ledger.desk import checked_desk
from scorer.ledger.ledger import Ledger
drives._MOUNTS = Path(sys.argv[2])
engine._mode = lambda path, *, writing: "mode=rw&nolock=1"
with Ledger.open(sys.argv[1], desk=checked_desk(sys.argv[3]), who="a") as ledger:
    print("open", flush=True)
    for number in range({EACH}):
        print(ledger.record(NoteMade(text="x")).hash, flush=True)
"""


@pytest.fixture
def share(tmp_path, monkeypatch):
    """A folder that is a share of another computer, and locks nothing."""
    create(tmp_path / "e").close()
    listed = tmp_path / "mounts"
    listed.write_text(f"box:/x {tmp_path} nfs rw 0 0\n", encoding="utf-8")
    monkeypatch.setattr(drives, "_MOUNTS", listed)
    monkeypatch.setattr(engine, "_mode", lambda *_, **__: "mode=rw&nolock=1")
    monkeypatch.setattr(turns, "_TURNS", {})
    return tmp_path


def test_two_programs_on_a_share_without_locks_lose_nothing(share):
    """SQLite's `nolock=1` is a share that only pretends to lock."""
    other = subprocess.Popen(
        [sys.executable, "-c", WRITER, share / "e", share / "mounts", FIELD],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert other.stdout.readline() == "open\n"
    told = []
    with open_at(share / "e", HALL) as ledger:
        for _ in range(EACH):
            told.append(ledger.record(NoteMade(text="y")).hash)
    told += other.communicate(timeout=120)[0].split()
    assert len(told) == 2 * EACH
    with open_store(share / "e", when=MORNING, read_only=True) as store:
        assert verify(store).sound
        assert set(told) <= {entry.hash for entry in store.entries()}
    assert sorted(path.name for path in share.iterdir()) == ["e", "mounts"]


def test_the_turn_of_a_program_that_ended_is_over(share, monkeypatch):
    monkeypatch.setattr(turns, "DEAD_S", 0.05)
    (share / "e.turn").write_bytes(b"tent 1 0")
    with open_at(share / "e", HALL) as ledger:
        ledger.record(NoteMade(text="x"))
    assert not list(share.glob("e.turn*"))


def test_the_turn_of_a_program_that_ended_is_over_where_nobody_else_may_read_it(
    share, monkeypatch
):
    """A file of another user is his alone where his computer makes them so."""
    read = Path.read_bytes

    def barred(path):
        found = read(path)
        if found == b"tent 1 0":
            raise PermissionError(13, "Permission denied", str(path))
        return found

    monkeypatch.setattr(turns, "DEAD_S", 0.05)
    monkeypatch.setattr(turns, "PATIENCE_S", 2)
    monkeypatch.setattr(Path, "read_bytes", barred)
    (share / "e.turn").write_bytes(b"tent 1 0")
    with open_at(share / "e", HALL) as ledger:
        ledger.record(NoteMade(text="x"))
    assert not list(share.glob("e.turn*"))


def test_who_holds_the_turn_for_long_is_named(share, monkeypatch):
    monkeypatch.setattr(turns, "PATIENCE_S", 0.05)
    with open_at(share / "e", HALL) as ledger:
        (share / "e.turn").write_bytes(b"tent 1 0")
        with pytest.raises(BusyError, match="locked by tent"):
            ledger.record(NoteMade(text="x"))
        (share / "e.turn").unlink()
        ledger.record(NoteMade(text="x"))


def test_a_turn_that_nobody_could_say_is_alive_is_not_taken(share, monkeypatch):
    def none(_):
        raise RuntimeError("can't start new thread")

    with open_at(share / "e", HALL) as ledger:
        with monkeypatch.context() as few:
            few.setattr(threading.Thread, "start", none)
            with pytest.raises(LedgerError, match="starts no more threads"):
                ledger.record(NoteMade(text="x"))
        assert not list(share.glob("e.turn*"))
        ledger.record(NoteMade(text="x"))


def test_who_is_alive_keeps_the_turn(tmp_path, monkeypatch):
    monkeypatch.setattr(turns, "BEAT_S", 0.02)
    monkeypatch.setattr(turns, "DEAD_S", 0.2)
    monkeypatch.setattr(turns, "PATIENCE_S", 0.5)
    first, second = SharedTurn(tmp_path / "e"), SharedTurn(tmp_path / "e")
    first.enter()
    with pytest.raises(sqlite3.OperationalError, match="locked by"):
        second.enter()
    first.leave()
    second.enter()
    second.leave()
    assert not list(tmp_path.iterdir())


def test_who_gave_the_turn_on_says_no_more_that_it_is_alive(tmp_path, monkeypatch):
    """A beat that fell into the end of a turn kept the turn of a dead program alive."""
    in_beat, ended, told = threading.Event(), threading.Event(), []

    def utime(path):
        told.append(path)
        in_beat.set()
        ended.wait(10)

    monkeypatch.setattr(turns, "BEAT_S", 0.02)
    monkeypatch.setattr(turns.os, "utime", utime)
    turn = SharedTurn(tmp_path / "e")
    turn.enter()
    assert in_beat.wait(10)
    beats = [own for own in threading.enumerate() if own.daemon]
    turn.leave()
    ended.set()
    time.sleep(0.2)
    assert len(told) == 1
    assert not any(own.is_alive() for own in beats if own.name.endswith("(_beat)"))


def test_a_turn_that_others_look_at_is_taken_away_all_the_same(tmp_path, monkeypatch):
    """Windows takes no file away that another program just reads."""
    unlink, busy = Path.unlink, [PermissionError, PermissionError]

    def refused(path, *, missing_ok=False):
        if busy:
            raise busy.pop()
        unlink(path, missing_ok=missing_ok)

    turn = SharedTurn(tmp_path / "e")
    turn.enter()
    monkeypatch.setattr(Path, "unlink", refused)
    turn.leave()
    assert not list(tmp_path.iterdir())


def test_a_share_that_lets_no_file_be_made_is_read_without_a_turn(share, monkeypatch):
    """Windows, and servers that give the administrator no rights, tell so only then."""

    def barred(path, flags, mode=0o777):
        if flags & os.O_CREAT:
            raise PermissionError(13, "Permission denied", path)
        return opened(path, flags, mode)

    opened = os.open
    monkeypatch.setattr(turns.os, "open", barred)
    with open_store(share / "e", when=MORNING, read_only=True) as store:
        assert store.entries()
    assert not list(share.glob("e.turn*"))


def test_a_share_on_which_nothing_can_be_made_says_so(share, monkeypatch):
    with open_at(share / "e", HALL) as ledger:

        def gone(path, _flags, _mode=0o777):
            raise OSError(112, "Host is down", path)

        with monkeypatch.context() as off:
            off.setattr(turns.os, "open", gone)
            with pytest.raises(UnreachableError, match="Host is down"):
                ledger.record(NoteMade(text="x"))
        ledger.record(NoteMade(text="x"))


def test_an_interrupted_opening_gives_its_turn_on(share, monkeypatch):
    """Who stops the program while it waits for SQLite must not hold the others up."""

    class Stopped(turns.TurnedConnection):
        def execute(self, *_):
            raise KeyboardInterrupt

    with open_at(share / "e", HALL) as ledger:
        with monkeypatch.context() as stop:
            stop.setattr(engine, "TurnedConnection", Stopped)
            with pytest.raises(KeyboardInterrupt):
                ledger.record(NoteMade(text="x"))
        assert not list(share.glob("e.turn*"))


def test_a_turn_that_somebody_took_over_is_not_taken_away(tmp_path):
    """A program that slept for long must not end the turn of whoever went on."""
    first = SharedTurn(tmp_path / "e")
    first.enter()
    (tmp_path / "e.turn").write_bytes(b"tent 2 1")
    first.leave()
    assert (tmp_path / "e.turn").read_bytes() == b"tent 2 1"


def test_an_event_on_a_drive_of_this_computer_has_nothing_beside_it(share, monkeypatch):
    monkeypatch.setattr(drives, "_MOUNTS", share / "none")
    with open_at(share / "e", HALL) as ledger, ledger.store.turn():
        assert not (share / "e.turn").exists()
