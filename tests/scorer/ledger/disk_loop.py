"""Write into an event file until the disk is full, then once more with room.

    python disk_loop.py FILE BYTES    (BYTES: largest file allowed, 0 = the disk's limit)

Prints how many entries were confirmed before the first refusal, and the refusal.
"""

import resource
import signal
import sys
from pathlib import Path

from scorer.ledger.acts import LogAdded
from scorer.ledger.audit import verify
from scorer.ledger.desk import checked_desk
from scorer.ledger.entry import sha256_of
from scorer.ledger.faults import FullError
from scorer.ledger.ledger import Ledger


def fill(ledger):
    confirmed = []
    for number in range(10_000):
        data = number.to_bytes(4, "big") * 5 + sha256_of(str(number).encode()).encode()
        data = b"".join(sha256_of(data + bytes([i])).encode() for i in range(200))
        sha256 = sha256_of(data)
        act = LogAdded(flight="1", name="l", sha256=sha256, size=len(data))
        try:
            confirmed.append(ledger.record(act, files={sha256: data}).hash)
        except FullError as error:
            return confirmed, error
    raise AssertionError("the disk was never full")


def main(path, limit):
    ledger = Ledger.create(path, desk=checked_desk("hall-00000a"), who="ann")
    if limit:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
    confirmed, error = fill(ledger)
    assert {e.hash for e in ledger.store.entries()} > set(confirmed)
    if limit:
        resource.setrlimit(
            resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY)
        )
    else:
        (Path(path).parent / "ballast").unlink()
    data = b"room again"
    act = LogAdded(flight="1", name="l", sha256=sha256_of(data), size=len(data))
    after = ledger.record(act, files={act.sha256: data})
    ledger.close()
    with Ledger.open(path, desk=checked_desk("hall-00000a"), who="ann") as again:
        held = [entry.hash for entry in again.store.entries()]
        assert held[1:] == [*confirmed, after.hash]
        audit = verify(again.store)
        assert audit.sound, str(audit)
    sys.stdout.write(f"{len(confirmed)} {error}\n")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
