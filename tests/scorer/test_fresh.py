"""Programs of ours that work for others end with them."""

import os
import signal
import subprocess
import sys
import time

import pytest

from scorer.fresh import processes, surroundings

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
