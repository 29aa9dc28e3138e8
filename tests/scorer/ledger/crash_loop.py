"""Kill writers of one event file at random moments and see what is left.

    python crash_loop.py FILE CYCLES SEED

A writer tells every confirmed entry down a pipe.  It is killed with SIGKILL; then all
that it confirmed must be in the file, in one whole chain.  Prints what was seen.
"""

import os
import random
import select
import signal
import sys
import time
from pathlib import Path

from scorer.ledger.acts import LogAdded, NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.desk import checked_desk
from scorer.ledger.entry import Draft, hash_of, sha256_of
from scorer.ledger.ledger import Ledger, system_clock
from scorer.ledger.opening import open_store
from scorer.ledger.store import START

DESK = checked_desk("hall-00000a")


def drafts(dice):
    """One act, often small, sometimes several with files of many pages."""
    if dice.random() < 0.5:
        return [Draft(act=NoteMade(text="x" * dice.randrange(200)))]
    made = []
    for _ in range(dice.randrange(1, 4)):
        data = dice.randbytes(dice.randrange(1, 60_000))
        sha256 = sha256_of(data)
        act = LogAdded(flight="1", name="l", sha256=sha256, size=len(data))
        made.append(Draft(act=act, files={sha256: data}))
    return made


def write_until_killed(path, pipe, seed):
    dice = random.Random(seed)
    ledger = Ledger.open(path, desk=DESK, who="ann")
    while True:
        entries = ledger.record_all(drafts(dice))
        os.write(pipe, b"".join(entry.hash.encode() for entry in entries))


def one_cycle(path, dice):
    """Return the hashes that a killed writer had confirmed."""
    reader, writer = os.pipe()
    seed = dice.random()
    child = os.fork()
    if child == 0:
        try:
            os.close(reader)
            write_until_killed(path, writer, seed)
        finally:
            os._exit(9)  # only reached when something went wrong
    os.close(writer)
    if dice.random() < 0.8:  # else also while it opens the file
        select.select([reader], [], [], 10)
    time.sleep(dice.random() * dice.choice((0.003, 0.01, 0.03)))
    os.kill(child, signal.SIGKILL)
    with os.fdopen(reader, "rb") as pipe:
        told = pipe.read().decode()
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the writer ended by itself"
    return [told[i : i + 64] for i in range(0, len(told), 64)]


def main(path, cycles, seed):
    dice = random.Random(seed)
    Ledger.create(path, desk=DESK, who="ann").close()
    cursor, last, confirmed, unconfirmed, idle = START, None, 0, 0, 0
    for cycle in range(cycles):
        told = one_cycle(path, dice)
        with open_store(path, when=system_clock()) as store:
            entries, cursor = store.new_since(cursor)
            held = set(store.file_hashes())
        for entry in entries:
            assert hash_of(entry) == entry.hash, f"cycle {cycle}: {entry.label} broken"
            assert last is None or entry.prev == last.hash, f"cycle {cycle}: chain"
            assert set(entry.act.files) <= held, f"cycle {cycle}: file lost"
            last = entry
        found = {entry.hash for entry in entries}
        lost = [name for name in told if name not in found]
        assert not lost, f"cycle {cycle}: {len(lost)} confirmed entries lost"
        confirmed += len(told)
        unconfirmed += len(found) - len(told) - (cycle == 0)
        idle += not told
        if Path(path).stat().st_size > 40_000_000 or cycle == cycles - 1:
            with open_store(path, when=system_clock()) as store:
                audit = verify(store)
            assert audit.sound, str(audit)
            if cycle < cycles - 1:
                Path(path).unlink()
                Ledger.create(path, desk=DESK, who="ann").close()
                cursor, last = START, None
                unconfirmed -= 1
    sys.stdout.write(
        f"{cycles} kills, {confirmed} entries confirmed and all there, {unconfirmed} "
        f"written but not yet confirmed, {idle} kills before any\n"
    )


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]))
