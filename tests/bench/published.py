"""What one publication costs a user: `sandtail publish` in a process of its own.

First of the whole event, again after one mark was measured anew, and of one task after
another one.  Processor time in seconds (of the processes it starts too), seconds by the
clock, the most memory that any of its processes held, and by how much the event file grew,
both in megabytes.
"""

import os
import subprocess
import sys
import time
from dataclasses import replace

from scorer.ledger.acts import MarkKeyed
from scorer.ledger.api import Ledger, import_folder, new_desk
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.recall import VARIABLE

RUN = "import sys; from scorer.cli.main import main; sys.exit(main())"
KIB = 1024


FIXES, SAMPLE_S = 600, 4
"""Of each log: forty minutes."""


def of_publishing(flights, room, pilots):
    """Return what three publications of a meet of so many flights cost."""
    spec = crowd(pilots=pilots, fixes=FIXES, flights=flights, sample_s=SAMPLE_S)
    write_meet(make_meet(spec, 3), room / "meet")
    event = room / "event"
    import_folder(room / "meet", event, desk=new_desk("one"), who="Ann")
    first = _published(event, room, "first")
    _measured_again(event)
    again = _published(event, room, "again")
    _measured_again(event)
    return first | again | _published(event, room, "task", "--task", "1")


def _published(event, room, name, *more):
    command = [sys.executable, "-c", RUN, "publish", str(event), "provisional"]
    size, start = event.stat().st_size, time.perf_counter()
    process = subprocess.Popen(
        [*command, "--by", "Ann", "--out", str(room / "out"), *more],
        env={**os.environ, VARIABLE: str(room / "cache")},
        stdout=subprocess.DEVNULL,
    )
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise subprocess.CalledProcessError(process.returncode, command)
    return {
        name: used.ru_utime + used.ru_stime,
        f"{name} clock": time.perf_counter() - start,
        f"{name} peak MB": used.ru_maxrss * KIB / 1e6,
        f"{name} grows MB": (event.stat().st_size - size) / 1e6,
    }


def _measured_again(event):
    """Correct the first distance of the event by two metres."""
    with Ledger.open(event, desk=new_desk("two"), who="Ann") as ledger:
        held, act = next(
            (held, act)
            for held, act in ledger.state().all_of(MarkKeyed)
            if act.fields.get("distance", "").replace(".", "").isdigit()
        )
        distance = f"{float(act.fields['distance']) + 2:.2f}"
        fields = {**act.fields, "distance": distance}
        ledger.record(
            replace(act, fields=fields), replaces=held.ids, why="measured again"
        )
