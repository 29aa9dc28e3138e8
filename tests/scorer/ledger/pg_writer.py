"""Write entries as one or more desks at once, a process each.

    python pg_writer.py URL COUNT DESK [DESK ...]

Prints the hash of each entry when it is confirmed.
"""

import os
import sys

from scorer.ledger.acts import NoteMade
from scorer.ledger.desk import checked_desk
from scorer.ledger.ledger import Ledger


def write(url, desk, count):
    with Ledger.open(url, desk=checked_desk(desk), who=desk) as ledger:
        for number in range(count):
            entry = ledger.record(NoteMade(text=str(number)))
            os.write(1, f"{entry.hash}\n".encode())  # a line at once, never parts


def main(url, count, *desks):
    children = []
    for desk in desks[1:]:
        child = os.fork()
        if child == 0:
            children, desks = [], (desk,)
            break
        children.append(child)
    write(url, desks[0], int(count))
    statuses = [os.waitpid(child, 0)[1] for child in children]
    sys.exit(any(statuses))


if __name__ == "__main__":
    main(*sys.argv[1:])
