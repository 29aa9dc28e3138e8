"""How commands end where the output cannot be written, or nobody reads on."""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from scorer.ledger import api
from scorer.ledger.acts import LogAdded
from scorer.ledger.entry import sha256_of
from scorer.ledger.ledger import Ledger

resource = pytest.importorskip("resource") if sys.platform != "win32" else None
ROOT = Path(__file__).parents[3]
SCORE = (sys.executable, "-m", "scorer", "score", "sample_events/vashkorim")


def run(*more, **streams):
    command = [*SCORE, *more]
    streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE} | streams
    return subprocess.run(command, cwd=ROOT, check=False, text=True, **streams)


@pytest.mark.parametrize("where", ["/" + "n" * 300, "README.md/x.json"])
def test_results_that_cannot_be_written_end_with_2_and_a_sentence(where):
    done = run("--json", where)

    assert done.returncode == 2
    assert "cannot be written" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_folder_that_cannot_be_made_ends_with_2_and_a_sentence():
    done = run("--out", "README.md/out")

    assert done.returncode == 2
    assert "cannot be written" in done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is full")
@pytest.mark.parametrize("more", [(), ("--json", "-")])
def test_a_full_disk_ends_with_2_and_a_sentence(more):
    with Path("/dev/full").open("w") as full:
        done = run(*more, stdout=full)

    assert done.returncode == 2
    assert done.stderr.startswith("stopped: ")
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="no limit to the size of files")
@pytest.mark.parametrize("command", ["copy", "export"])
def test_a_full_disk_is_told_with_the_remedy_and_nothing_is_left(command, tmp_path):
    """A file may grow no larger than a limit, as if the disk had no more room."""
    event, out = tmp_path / "event", tmp_path / "out"
    program = (sys.executable, "-m", "scorer")
    begin = (*program, "import", "sample_events/quillowen", event, "--by", "Ann")
    subprocess.run(begin, cwd=ROOT, check=True, capture_output=True)
    with Ledger.open(event, desk=api.this_desk(), who="Ann") as ledger:
        for seed in range(20):
            data = random.Random(seed).randbytes(100_000)
            act = LogAdded(
                flight="saturday",
                name=f"{seed}.igc",
                sha256=sha256_of(data),
                size=len(data),
            )
            ledger.record(act, files={act.sha256: data})

    done = subprocess.run(
        (*program, command, event, out),
        cwd=ROOT,
        check=False,
        text=True,
        capture_output=True,
        preexec_fn=_small_files,
    )

    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert str(out) in done.stderr
    assert "disk" in done.stderr
    assert list(tmp_path.iterdir()) == [event]


def _small_files():
    """Let no file grow beyond 400 kB."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (400_000, resource.RLIM_INFINITY))


@pytest.mark.parametrize("more", [(), ("--json", "-")])
def test_nobody_reading_on_ends_quietly(more):
    reader, writer = os.pipe()
    os.close(reader)
    try:
        done = run(*more, stdout=writer)
    finally:
        os.close(writer)

    assert done.returncode != 0
    assert done.stderr == ""
