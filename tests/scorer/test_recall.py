"""What outlasts the program is checked, bounded, and never in the way."""

import os
import platform
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import numpy as np
import pytest

from scorer import recall
from scorer.recall import VARIABLE, Recall, cache_folder
from scorer.scoring.coded import decode, encode
from scorer.scoring.keep import Keep

KEY, VALUE = "k" * 64, ("kept", 1.5, (2, 3))


@pytest.fixture
def path(tmp_path):
    return tmp_path / "deep" / "logs.sqlite"


def filled(path, many=1):
    own = Recall(path)
    own.save({f"{KEY}{n}": (*VALUE, n) for n in range(many)})
    own.close()


def found(path, many=1):
    own = Recall(path)
    answers = [own.load(f"{KEY}{n}") for n in range(many)]
    own.close()
    return answers


def test_what_was_saved_is_there_at_the_next_start(path):
    filled(path, 3)
    assert found(path, 3) == [(*VALUE, n) for n in range(3)]
    assert Recall(path).load("another") is None


def test_an_altered_byte_is_an_answer_less_and_never_another_answer(path):
    filled(path)
    whole = path.read_bytes()
    lost = 0
    for at in range(0, len(whole), 37):
        path.write_bytes(whole[:at] + bytes([whole[at] ^ 0x41]) + whole[at + 1 :])
        (answer,) = found(path)
        assert answer in {None, (*VALUE, 0)}
        lost += answer is None
    assert lost


@pytest.mark.parametrize("junk", [b"", b"no file of ours" * 500, b"SQLite format 3\0"])
def test_another_file_in_its_place_is_made_anew(path, junk):
    path.parent.mkdir()
    path.write_bytes(junk)
    assert found(path) == [None]
    filled(path)
    assert found(path) == [(*VALUE, 0)]


def test_a_file_cut_short_is_made_anew(path):
    filled(path, 200)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    assert set(found(path, 200)) <= {None, *((*VALUE, n) for n in range(200))}
    filled(path)
    filled(path)
    assert found(path) == [(*VALUE, 0)]


def test_a_table_of_another_form_is_left_alone(path):
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE kept (something TEXT)")
    filled(path)
    assert found(path) == [None]


def test_answers_of_another_program_version_library_or_computer_are_not_used(
    path, monkeypatch
):
    filled(path)
    monkeypatch.setattr(recall, "fingerprint", lambda: "another")
    assert found(path) == [None]


@pytest.mark.parametrize("what", ["libraries", "get_data_dir", "is_network_enabled"])
def test_the_fingerprint_knows_libraries_and_tables(monkeypatch, tmp_path, what):
    before = recall.fingerprint.__wrapped__()
    (tmp_path / "proj.db").write_bytes(b"x")
    other = {
        "libraries": lambda: "numpy 0",
        "get_data_dir": lambda: str(tmp_path),
        "is_network_enabled": lambda: "?",
    }
    monkeypatch.setattr(recall, what, other[what])
    assert recall.fingerprint.__wrapped__() != before


def test_the_fingerprint_knows_the_processor_and_starts_no_program(monkeypatch):
    def started(*_, **__):
        raise AssertionError("a program was started")

    monkeypatch.setattr(subprocess, "Popen", started)
    monkeypatch.setattr(platform, "_uname_cache", None)
    before = recall.fingerprint.__wrapped__()
    monkeypatch.setenv("PROCESSOR_IDENTIFIER", "another")
    assert recall.fingerprint.__wrapped__() != before


def test_nothing_lasts_while_other_packages_check_logs(path, monkeypatch):
    filled(path)
    monkeypatch.setattr(recall, "foreign", lambda: True)
    assert found(path) == [None]


def test_own_checks_alone_are_not_foreign():
    assert not recall.foreign()


def test_it_grows_no_larger_than_allowed_and_drops_what_was_not_asked_for(path):
    own = Recall(path, most_bytes=100_000)
    own.save({"asked": (b"x" * 10_000,)})
    for n in range(40):
        assert own.load("asked") is not None
        own.save({f"{n}": (bytes([n]) * 10_000,)})
    assert own.load("asked") is not None
    assert own.load("0") is None
    assert own.load("39") is not None
    own.close()
    assert path.stat().st_size < 200_000


def test_an_answer_too_large_is_not_written(path):
    own = Recall(path, most_bytes=100_000)
    own.save({"large": (b"x" * 60_000,), "small": VALUE})
    assert (own.load("large"), own.load("small")) == (None, VALUE)


def test_a_full_disk_costs_nothing_but_time(path):
    filled(path)
    own = Recall(path)
    own._file().execute("PRAGMA max_page_count = 8")
    own.save({"much": (b"x" * 200_000,)})
    assert own.load("much") is None
    assert Recall(path).load(f"{KEY}0") == (*VALUE, 0)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write all")
def test_a_folder_that_may_not_be_written_is_no_fault(tmp_path):
    tmp_path.chmod(0o500)
    filled(tmp_path / "no" / "logs.sqlite")
    assert found(tmp_path / "no" / "logs.sqlite") == [None]


def test_a_folder_that_is_a_file_is_no_fault(tmp_path):
    (tmp_path / "no").write_text("")
    filled(tmp_path / "no" / "logs.sqlite")
    assert found(tmp_path / "no" / "logs.sqlite") == [None]


def test_while_another_program_writes_answers_are_found_anew(path, monkeypatch):
    monkeypatch.setattr(recall, "WAIT_S", 0.05)
    filled(path)
    busy = sqlite3.connect(path, isolation_level=None)
    busy.execute("BEGIN EXCLUSIVE")
    own = Recall(path)
    assert own.load(f"{KEY}0") is None
    own.save({"new": VALUE})
    busy.execute("ROLLBACK")
    busy.close()
    own.save({"new": VALUE})
    assert own.load("new") == VALUE
    assert own.load(f"{KEY}0") == (*VALUE, 0)


WRITE = """
import sys
from contextlib import closing
from pathlib import Path
from pathlib import Path
from scorer.recall import Recall
own = Recall(Path(sys.argv[1]))
for n in range(30):
    own.save({f"{sys.argv[2]}{n}": ("x" * 2000, n), "both": ("same", 1)})
    assert own.load("both") in {None, ("same", 1)}
"""


def test_two_programs_at_once_lose_at_most_answers(path):
    path.parent.mkdir()
    both = [subprocess.Popen([sys.executable, "-c", WRITE, str(path), k]) for k in "ab"]
    assert [one.wait(60) for one in both] == [0, 0]
    own = Recall(path)
    answers = [own.load(f"{k}{n}") for k in "ab" for n in range(30)]
    assert {one[0] for one in answers if one} == {"x" * 2000}
    assert own.load("both") == ("same", 1)


def test_a_value_that_cannot_be_written_costs_itself_alone(path):
    keep = Keep(Recall(path))
    keep.put("no", (object(),))
    keep.put("yes", VALUE)
    keep.settle()
    assert (Recall(path).load("no"), Recall(path).load("yes")) == (None, VALUE)


def test_the_folder_is_the_users_own_cache_or_the_one_named(monkeypatch, tmp_path):
    monkeypatch.delenv(VARIABLE, raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    if sys.platform == "linux":
        assert cache_folder() == tmp_path / "sandtail"
    monkeypatch.setenv(VARIABLE, str(tmp_path / "own"))
    assert cache_folder() == tmp_path / "own"
    monkeypatch.setenv(VARIABLE, "none")
    assert cache_folder() is None


def test_another_start_asks_for_the_same_answers(tmp_path):
    """Whatever order Python gives to sets, which changes from start to start."""
    sample = Path(__file__).parents[2] / "sample_events/vashkorim"
    held = []
    for order in ("1", "2"):
        own = {**os.environ, VARIABLE: str(tmp_path), "PYTHONHASHSEED": order}
        asked = [sys.executable, "-m", "scorer", "score", str(sample)]
        subprocess.run(asked, env=own, check=True, capture_output=True)
        (file,) = tmp_path.glob("*.sqlite")
        with closing(sqlite3.connect(file)) as opened:
            held.append(set(opened.execute("SELECT key FROM kept")))
    assert held[0]
    assert held[0] == held[1]


def test_of_what_changes_often_only_the_newest_is_written_at_the_end(path):
    keep = Keep(Recall(path))
    for n in range(3):
        keep.put(f"state {n}", (n, *VALUE), newest_of="flight")
    keep.settle()
    assert Recall(path).load("state 2") is None
    keep.close()
    found = [Recall(path).load(f"state {n}") for n in range(3)]
    assert found == [None, None, (2, *VALUE)]
    assert keep.recent("state 0") == (0, *VALUE)


def test_what_came_from_the_file_counts_as_what_was_just_found():
    fresh = np.arange(5.0)
    read = decode(encode((fresh,)))[0]
    assert read.flags.writeable != fresh.flags.writeable
    keep, asked = Keep(), []
    for parts in (fresh, read):
        keep.once("sum", (parts, 1.0), lambda: asked.append(1))
    assert asked == [1]
