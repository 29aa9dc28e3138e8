"""Killed programs, full disks, read-only files, two programs on one file."""

import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from sqlalchemy import event

from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.convert import to_drafts
from scorer.ledger.faults import BusyError, FullError, ReadOnlyError
from tests.scorer.ledger.ledger_desks import FIELD, HALL, create, open_at, small_event

HERE = Path(__file__).parent
ROOT = HERE.parents[2]
pytestmark = pytest.mark.skipif(
    sys.platform == "win32", reason="forks, signals and permissions of POSIX"
)
KILLS = 3000 if os.environ.get("SANDTAIL_LONG_TESTS") else 40


def run(*arguments, **more):
    return subprocess.run(
        [*map(str, arguments)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
        **more,
    )


@pytest.mark.timeout(3600)
def test_what_was_confirmed_survives_any_kill(tmp_path):
    """SIGKILL between and within writes: confirmed entries are there, chains whole."""
    loop = HERE / "crash_loop.py"
    done = run(sys.executable, loop, tmp_path / "e", KILLS, 7)

    assert done.returncode == 0, done.stderr
    sys.stdout.write(done.stdout)
    assert f"{KILLS} kills" in done.stdout


def full(tmp_path, limit, *wrap):
    done = run(*wrap, sys.executable, HERE / "disk_loop.py", tmp_path / "e", limit)
    assert done.returncode == 0, done.stderr
    count, message = done.stdout.split(maxsplit=1)
    assert int(count) > 5
    return message


def test_a_file_that_may_not_grow_loses_nothing_confirmed(tmp_path):
    message = full(tmp_path, 600_000)

    assert "Everything confirmed before is safe" in message
    assert "Free some space" in message


def test_a_full_disk_loses_nothing_confirmed(tmp_path):
    """On a small file system of its own, where the machine lets tests make one."""
    script = (
        f"mount -t tmpfs -o size=2m none '{tmp_path}' && "
        f"head -c 300000 /dev/zero > '{tmp_path}/ballast' && exec \"$@\""
    )
    if (
        not shutil.which("unshare")
        or run("unshare", "-m", "sh", "-c", script, "sh", "true").returncode
    ):
        pytest.skip("needs the right to mount a small file system (root, unshare)")

    message = full(tmp_path, 0, "unshare", "-m", "sh", "-c", script, "sh")
    assert "Everything confirmed before is safe" in message


def test_a_database_at_its_largest_says_what_to_do(tmp_path):
    with create(tmp_path / "e") as ledger:
        raw = ledger.store.engine.raw_connection()
        pages = raw.cursor().execute("PRAGMA page_count").fetchone()[0]
        raw.close()

        @event.listens_for(ledger.store.engine, "connect")
        def _limit(connection, _):
            connection.execute(f"PRAGMA max_page_count = {pages + 3}")

        with pytest.raises(FullError, match="this last act was not written"):
            ledger.record(NoteMade(text="x" * 50_000))

        assert verify(ledger.store).sound


@pytest.fixture
def read_only_event():
    """An event in a folder that the tests' user may not write."""
    folder = Path(tempfile.mkdtemp())
    with create(folder / "e") as ledger:
        ledger.record_all(to_drafts(small_event()))
    (folder / "e").chmod(0o444)
    folder.chmod(0o555)
    yield folder / "e"
    folder.chmod(0o755)
    shutil.rmtree(folder)


READER = """
import os
import sys
import sqlalchemy.dialects.sqlite  # loaded while we still may read it
from scorer.errors import ScorerError
from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.desk import checked_desk
from scorer.ledger.ledger import Ledger
if os.geteuid() == 0:  # whom permissions do not bind
    os.setgroups([])
    os.setgid(65534)
    os.setuid(65534)
with Ledger.open(sys.argv[1], desk=checked_desk("hall-00000a"), who="ann") as ledger:
    print(len(ledger.raw().pilots), verify(ledger.store).sound)
    try:
        ledger.record(NoteMade(text="x"))
    except ScorerError as error:
        print(type(error).__name__, error)
"""


def test_a_read_only_event_can_be_read_and_says_so_when_written(read_only_event):
    done = run(sys.executable, "-c", READER, read_only_event)

    assert done.stdout.startswith("2 True\nReadOnlyError"), done.stderr
    assert "Copy the event file to a folder you may write in" in done.stdout
    assert [path.name for path in read_only_event.parent.iterdir()] == ["e"]


def test_a_read_only_event_with_its_log_beside_it_is_read_whole():
    """Older versions kept a log; a computer failed, and nobody may write the copy."""
    folder, medium = Path(tempfile.mkdtemp()), Path(tempfile.mkdtemp())
    create(folder / "full").close()
    with open_at(folder / "full", HALL) as ledger:
        ledger.record_all(to_drafts(small_event()))
    older = sqlite3.connect(folder / "e", isolation_level=None)
    older.execute("PRAGMA journal_mode = WAL")
    full = sqlite3.connect(folder / "full")
    full.backup(older)
    full.close()
    for name in ("e", "e-wal"):
        shutil.copy(folder / name, medium / name)
        (medium / name).chmod(0o444)
    medium.chmod(0o555)
    assert (medium / "e-wal").stat().st_size > 10_000

    done = run(sys.executable, "-c", READER, medium / "e")

    assert done.stdout.startswith("2 True\nReadOnlyError"), done.stderr
    assert sorted(path.name for path in medium.iterdir()) == ["e", "e-wal"]
    medium.chmod(0o755)
    older.close()
    for used in (folder, medium):
        shutil.rmtree(used)


def test_reading_leaves_nothing_beside_the_file(tmp_path):
    create(tmp_path / "e").close()
    with open_at(tmp_path / "e", read_only=True) as ledger:
        assert len(ledger.state().entries) == 1

    assert [path.name for path in tmp_path.iterdir()] == ["e"]


def test_opening_read_only_writes_nothing(tmp_path):
    create(tmp_path / "e").close()
    before = (tmp_path / "e").read_bytes()

    with open_at(tmp_path / "e", read_only=True) as ledger:
        assert len(ledger.state().entries) == 1
        with pytest.raises(ReadOnlyError, match="merge it back later"):
            ledger.record(NoteMade(text="x"))
    assert (tmp_path / "e").read_bytes() == before


WRITER = """
import sys
from scorer.ledger.acts import NoteMade
from scorer.ledger.desk import checked_desk
from scorer.ledger.ledger import Ledger
with Ledger.open(sys.argv[1], desk=checked_desk(sys.argv[2]), who="ann") as ledger:
    for number in range(100):
        print(ledger.record(NoteMade(text=str(number))).hash)
"""


@pytest.mark.parametrize("desks", [(HALL, FIELD), (HALL, HALL)])
def test_two_programs_on_one_file_take_turns(tmp_path, desks):
    create(tmp_path / "e").close()
    command = [sys.executable, "-c", WRITER, str(tmp_path / "e")]
    writers = [
        subprocess.Popen(
            [*command, desk],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.PIPE,
            text=True,
        )
        for desk in desks
    ]
    told = [writer.communicate()[0].split() for writer in writers]

    assert [writer.returncode for writer in writers] == [0, 0]
    assert [len(hashes) for hashes in told] == [100, 100]
    with open_at(tmp_path / "e") as ledger:
        held = [entry.hash for entry in ledger.state().entries]
        assert len(held) == 201
        assert set(told[0] + told[1]) < set(held)
        audit = verify(ledger.store)
        assert audit.sound, str(audit)
        assert not audit.problems


def test_a_file_held_by_another_program_says_what_to_do(tmp_path, monkeypatch):
    monkeypatch.setattr("scorer.ledger.engine.WAIT_S", 0.1)
    with create(tmp_path / "e") as one, open_at(tmp_path / "e") as other:
        with one.store.turn(), pytest.raises(BusyError, match="Close other windows"):
            other.record(NoteMade(text="x"))

        other.record(NoteMade(text="y"))


def test_a_file_s_permissions_stay_as_they_were(tmp_path):
    create(tmp_path / "e").close()
    (tmp_path / "e").chmod(0o640)
    with open_at(tmp_path / "e") as ledger:
        ledger.record(NoteMade(text="x"))

    assert stat.S_IMODE((tmp_path / "e").stat().st_mode) == 0o640
