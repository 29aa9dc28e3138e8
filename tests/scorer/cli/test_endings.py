"""How commands end where the output cannot be written, or nobody reads on."""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from scorer.cli.main import main
from scorer.ledger import api
from scorer.ledger.acts import LogAdded
from scorer.ledger.entry import sha256_of
from scorer.ledger.ledger import Ledger

resource = pytest.importorskip("resource") if sys.platform != "win32" else None
ROOT = Path(__file__).parents[3]
PROGRAM = (sys.executable, "-m", "scorer")
SCORE = (*PROGRAM, "score", "sample_events/vashkorim")


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
    assert "what it prints could not be written" in done.stderr
    assert "No space left" in done.stderr
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


@pytest.fixture
def nobody_reads():
    reader, writer = os.pipe()
    os.close(reader)
    yield writer
    os.close(writer)


@pytest.mark.parametrize("more", [(), ("--json", "-")])
@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_nobody_reading_on_ends_quietly(more, stream, nobody_reads):
    done = run(*more, **{stream: nobody_reads})

    assert done.returncode == 0
    assert not done.stderr


@pytest.fixture
def event(tmp_path):
    path = tmp_path / "event"
    begin = ("import", "sample_events/quillowen", path, "--by", "Ann")
    subprocess.run((*PROGRAM, *begin), cwd=ROOT, check=True, capture_output=True)
    return path


FULL = Path("/dev/full")


DOING = {
    "publish {event} provisional --by Ann --out {out}": ("out/results.json", 0),
    "score {event} --out {out} --json {out}.json": ("out.json", 0),
    "export {event} {out}": ("out/event.toml", 0),
    "archive {event} {out}": ("out", 0),
    "merge {event} {event} --to {out}": ("out", 1),  # entries that differ
    "import sample_events/quillowen {out} --by Ann": ("out", 0),
    "season {event} {event} --json {out}": ("out", 1),  # given twice
}


@pytest.mark.parametrize("command", DOING)
def test_work_that_was_asked_for_is_done_though_nobody_reads_on(
    command, event, nobody_reads, tmp_path
):
    """`publish … | head -1` put a version up and wrote none of its files."""
    done = doing(command, event, tmp_path, nobody_reads)

    made, status = DOING[command]
    assert not done.stderr
    assert (tmp_path / made).exists()
    assert done.returncode == status


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is full")
def test_work_that_was_asked_for_is_done_though_what_it_says_finds_no_room(
    event, tmp_path
):
    command = next(iter(DOING))
    with Path("/dev/full").open("w") as full:
        done = doing(command, event, tmp_path, full)

    assert (tmp_path / DOING[command][0]).exists()
    assert done.returncode == 2
    assert "could not be written" in done.stderr


def doing(command, event, folder, output):
    given = command.format(event=event, out=folder / "out").split()
    return subprocess.run(
        (*PROGRAM, *given),
        cwd=ROOT,
        check=False,
        text=True,
        stdout=output,
        stderr=subprocess.PIPE,
    )


def test_what_the_system_refuses_is_told_and_no_end_of_the_output(monkeypatch, capsys):
    """A pipe of our own that breaks is no output that was closed."""

    def broken(given):
        raise BrokenPipeError(32, "Broken pipe")

    monkeypatch.setattr("scorer.cli.score.run", broken)

    assert main(["score", "sample_events/quillowen"]) == 2
    assert "Broken pipe" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("target", "told"),
    [
        ("meet.sandtail", "meet.sandtail is no database, and only one has users"),
        ("postgresql://nobody@localhost/none", "no password was typed; type it, or"),
    ],
)
def test_a_user_without_database_or_password_is_refused_in_words(
    target, told, monkeypatch, capsys
):
    """It ended with a traceback where nobody could type, and asked in vain for a file."""

    def nobody(_):
        raise EOFError

    monkeypatch.setattr("getpass.getpass", nobody)
    monkeypatch.delenv("SANDTAIL_DESK_PASSWORD", raising=False)
    assert main(["desk-user", target, "tent"]) == 2
    assert told in capsys.readouterr().err
