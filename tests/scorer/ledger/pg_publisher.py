"""Put results up from several desks at once, a process each, round by round.

    python pg_publisher.py URL ROUNDS DESK [DESK ...]

Prints the version that went up, or `-` where another desk was first.
"""

import multiprocessing
import sys

from scorer.ledger.acts import Stage
from scorer.ledger.desk import checked_desk
from scorer.ledger.event_commands import compute
from scorer.ledger.faults import RefusedError
from scorer.ledger.ledger import Ledger
from scorer.sheets.edition import prepare, put_up


def publish(url, rounds, desk, together):
    with Ledger.open(url, desk=checked_desk(desk), who=desk) as ledger:
        for _ in range(rounds):
            prepared = prepare(ledger, compute(ledger), Stage.PROVISIONAL)
            together.wait()
            try:
                up = put_up(ledger, prepared, {}).act.version
            except RefusedError:
                up = "-"
            sys.stdout.write(
                f"{up}\n"
            )  # at once: `print` without a buffer writes twice
            sys.stdout.flush()
            together.wait()


def main(url, rounds, *desks):
    forked = multiprocessing.get_context("fork")
    together = forked.Barrier(len(desks), timeout=120)
    own = [
        forked.Process(target=publish, args=(url, int(rounds), desk, together))
        for desk in desks
    ]
    for one in own:
        one.start()
    for one in own:
        one.join()
    sys.exit(any(one.exitcode for one in own))


if __name__ == "__main__":
    main(*sys.argv[1:])
