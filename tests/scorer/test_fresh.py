"""Programs of ours that work for others end with them."""

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from scorer.fresh import Threads, free_threads, processes, surroundings

SMALL = Path(__file__).parents[2] / "sample_events/vashkorim"
HANDS = """
from scorer.cli.compute import hands
HANDS = hands()
def started():
    return HANDS.__enter__()
"""
WINDOW = """
from gui.pool import FEW_LOGS, Pool
POOL = Pool(1)
def started():
    return POOL.for_logs(FEW_LOGS + 1)
"""
WORKING = """
import os, sys, time
if __name__ == "__main__":
    print(started().submit(os.getpid).result(), flush=True)
    time.sleep(600)
"""
PATIENCE_S = 60.0


@pytest.mark.skipif(sys.platform == "win32", reason="there a child is no zombie")
@pytest.mark.parametrize("program", [HANDS, WINDOW], ids=["command", "window"])
def test_who_works_for_a_program_that_is_killed_ends_too(program, tmp_path):
    """A window that was killed left processes of hundreds of megabytes behind."""
    file = tmp_path / "program.py"
    file.write_text(program + WORKING)
    with subprocess.Popen(
        [sys.executable, file],
        stdout=subprocess.PIPE,
        env={**surroundings(), "SANDTAIL_CACHE": str(tmp_path)},
    ) as one:
        worker = int(one.stdout.readline())
        assert runs(worker)
        one.send_signal(signal.SIGKILL)
    until = time.monotonic() + PATIENCE_S
    while runs(worker) and time.monotonic() < until:
        time.sleep(0.05)
    assert not runs(worker)


DYING = """
import os
from scorer.fresh import processes
def die(blob):
    os._exit(3)
if __name__ == "__main__":
    try:
        with processes(1) as pool:
            list(pool.map(die, [bytes(1 << 26)] * 4))
    except Exception as error:
        print(type(error).__name__)
"""


def test_who_works_may_die_while_more_is_on_its_way(tmp_path):
    """What was sent and not read yet kept a Python before 3.11.7 waiting for good."""
    file = tmp_path / "program.py"
    file.write_text(DYING)
    done = subprocess.run(
        [sys.executable, file],
        capture_output=True,
        text=True,
        env=surroundings(),
        timeout=PATIENCE_S,
        check=True,
    )
    assert done.stdout.strip() == "BrokenProcessPool"
    assert not done.stderr


def runs(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.skipif(
    sys.platform == "win32", reason="keys reach processes otherwise there"
)
def test_who_works_for_a_program_hears_nothing_of_keys_that_stop_it():
    """A terminal tells all of them of Ctrl+C: each printed where it stood."""
    with processes(1) as pool:
        worker = pool.submit(os.getpid).result()
        os.kill(worker, signal.SIGINT)
        assert pool.submit(os.getpid).result() == worker


REFUSING = """
import os, sys, threading
from concurrent.futures import BrokenExecutor
import _posixsubprocess, subprocess
from multiprocessing import set_executable
from scorer.fresh import processes
calls = []
def no_more(*given):
    raise BlockingIOError(11, "Resource temporarily unavailable")
def second(*given, one=os.fork):
    calls.append(1)
    return one() if len(calls) == 1 else no_more()
def thread(*given, **more):
    raise RuntimeError("can't start new thread")
def second_thread(*given, one=threading.Thread.start):
    calls.append(1)
    return one(*given) if len(calls) == 1 else thread()
if __name__ == "__main__":
    {how}
    with processes(2, {method!r}) as pool:
        for _ in range(3):
            try:
                pool.submit(int).result()
            except BrokenExecutor:
                print("refused")
"""
NO_THREAD = "threading._start_new_thread = threading._start_joinable_thread = thread"
"""Until Python 3.12, and from 3.13 on."""


@pytest.mark.skipif(sys.platform == "win32", reason="processes start otherwise there")
@pytest.mark.parametrize(
    ("method", "how"),
    [
        ("spawn", "set_executable('/nowhere/python')"),
        ("spawn", "_posixsubprocess.fork_exec = subprocess._fork_exec = no_more"),
        ("spawn", NO_THREAD),
        ("spawn", "threading.Thread.start = second_thread"),
        ("fork", "threading.Thread.start = second_thread"),
        ("fork", "os.fork = no_more"),
        ("fork", "os.fork = second"),
        ("fork", NO_THREAD),
    ],
)
def test_where_no_process_starts_work_is_refused_and_nothing_printed(
    method, how, tmp_path
):
    """A broken pipe to a process that never was ended all, as if nobody read on."""
    file = tmp_path / "program.py"
    file.write_text(REFUSING.format(how=how, method=method))
    done = subprocess.run(
        [sys.executable, file],
        capture_output=True,
        text=True,
        env=surroundings(),
        timeout=PATIENCE_S,
        check=False,
    )
    assert done.stdout.split() == ["refused"] * 3
    assert not done.stderr


@pytest.fixture
def allow(monkeypatch):
    """Give what lets only so many threads start from then on."""

    def only(count, real=threading.Thread.start):
        left = iter(range(count))

        def start(thread):
            if next(left, None) is None:
                raise RuntimeError("can't start new thread")
            real(thread)

        monkeypatch.setattr(threading.Thread, "start", start)

    return only


@pytest.mark.parametrize("start", [0, 1, 9])
def test_what_no_thread_takes_is_done_here(start, allow):
    """A publication ended with pages of Python's where no thread could start."""
    allow(start)
    with Threads() as beside:
        done = [beside.submit(threading.get_ident) for _ in range(3)]
        found = {one.result() for one in done}
        with pytest.raises(ZeroDivisionError):
            beside.submit(lambda: 1 / 0).result()
    assert (found == {threading.get_ident()}) is (start == 0)


def test_free_threads_are_counted_by_starting_them(allow):
    assert free_threads(2) == 2
    allow(3)
    assert free_threads(5) == 3
    assert free_threads(5) == 0


@pytest.fixture
def trapped(tmp_path):
    """A folder whose files have the names of modules."""
    for name in ("threading", "pickle", "numpy", "signal"):
        text = f"raise SystemExit('{name} of the folder was run')"
        (tmp_path / f"{name}.py").write_text(text)
    return tmp_path


FINDING = """
import os
from scorer.fresh import processes
if __name__ == "__main__":
    with processes(1) as pool:
        assert pool.submit(os.getpid).result() != os.getpid()
    print(os.environ.get("PYTHONSAFEPATH"))
"""


def test_who_works_runs_nothing_of_the_folder_in_which_somebody_stands(
    trapped, tmp_path_factory
):
    """An event folder may come from anybody."""
    file = tmp_path_factory.mktemp("own") / "program.py"
    file.write_text(FINDING)
    own = {k: v for k, v in surroundings().items() if k != "PYTHONSAFEPATH"}
    for command in ([file], ["-m", "scorer", "score", SMALL, "--task", "1"]):
        done = subprocess.run(
            [sys.executable, *command],
            cwd=trapped,
            capture_output=True,
            text=True,
            env={**own, "SANDTAIL_CACHE": "none"},
            timeout=PATIENCE_S,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        assert done.stdout.strip() == "None" or "Task 1" in done.stdout
