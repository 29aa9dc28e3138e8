"""Desks that write at once while their server ends their connections; then merges.

    python -m tests.bench.load [DESKS] [ENTRIES] [SECONDS BETWEEN ENDED CONNECTIONS]

Each desk tries again what was not confirmed, as the window does.  Afterwards every
confirmed entry must be there, none twice, the chains whole.  Rates are printed as a ratio
to one writer of a plain table (psycopg alone), measured in the same run.  In the end
copies of three desks are merged in every order, which must give one and the same ledger.
"""

import itertools
import os
import random
import shutil
import sys
import tempfile
import threading
import time
from pathlib import Path

import psycopg

from scorer.errors import ScorerError
from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.desk import checked_desk
from scorer.ledger.entry import Draft, heads_of
from scorer.ledger.ledger import Ledger
from scorer.ledger.merge import merge_into
from scorer.ledger.opening import empty_store, open_store
from tests.scorer.ledger.ledger_desks import FIELD, HALL, MORNING, TENT, create, open_at
from tests.scorer.ledger.postgres_server import Server, programs


def write(url: str, desk: str, count: int, pipe: int) -> None:
    """Record notes; what failed goes again with its token, so it cannot be there twice."""
    done, draft = 0, None
    while done < count:
        try:
            with Ledger.open(url, desk=checked_desk(desk), who=desk) as ledger:
                while done < count:
                    draft = draft or Draft(act=NoteMade(text=str(done)))
                    (entry,) = ledger.record_all([draft])
                    os.write(pipe, f"{entry.hash}\n".encode())
                    done, draft = done + 1, None
        except ScorerError:
            continue


def end_connections(address: str, every_s: float, stop: threading.Event) -> list[int]:
    """End one connection after another, at random, until told to stop."""
    dice, ended = random.Random(3), []
    query = """SELECT pid FROM pg_stat_activity
        WHERE backend_type = 'client backend' AND pid <> pg_backend_pid()"""
    with psycopg.connect(address, autocommit=True) as chief:
        while not stop.wait(every_s):
            found = [row[0] for row in chief.execute(query)]
            if found:
                ended.append(dice.choice(found))
                chief.execute("SELECT pg_terminate_backend(%s)", (ended[-1],))
    return ended


def under_fire(server: Server, desks: int, count: int, every_s: float) -> None:
    """Let desks write while connections end, and look at what is left."""
    url = server.url()
    create(url).close()
    reader, writer = os.pipe()
    began = time.monotonic()
    children = []
    for number in range(desks):
        child = os.fork()
        if child == 0:
            os.close(reader)
            try:
                write(url, f"d-00000{number:x}", count, writer)
            finally:
                os._exit(0)
        children.append(child)
    os.close(writer)
    stop, ended = threading.Event(), []
    address = f"host={server.folder} user=owner dbname=postgres"
    thread = threading.Thread(
        target=lambda: ended.extend(end_connections(address, every_s, stop))
    )
    thread.start()
    with os.fdopen(reader) as pipe:
        told = pipe.read().split()
    took = time.monotonic() - began
    stop.set()
    thread.join()
    for child in children:
        os.waitpid(child, 0)
    with open_store(url, when=MORNING, read_only=True) as store:
        entries = store.entries()
        held = [entry.hash for entry in entries if entry.kind == "note"]
        audit = verify(store)
    rate, plain = len(told) / took, plain_rate(address)
    say = sys.stdout.write
    say(
        f"{desks} desks, {len(told)} entries confirmed, {len(ended)} connections ended\n"
    )
    say(f"lost {len(set(told) - set(held))}, twice {len(held) - len(set(told))}, ")
    say(f"chains {'whole' if audit.sound else str(audit)}\n")
    say(
        f"{rate:.0f} entries a second: {rate / plain:.2f} of a plain table's {plain:.0f}\n"
    )


def plain_rate(address: str) -> float:
    """Rows a second that one writer commits into a plain table."""
    with psycopg.connect(address) as connection:
        connection.execute("CREATE TABLE plain (number bigserial primary key, t text)")
        connection.commit()
        began, rows = time.monotonic(), 0
        while time.monotonic() - began < 2:
            connection.execute("INSERT INTO plain (t) VALUES (%s)", ("x" * 300,))
            connection.commit()
            rows += 1
        return rows / (time.monotonic() - began)


def merges(folder: Path, count: int) -> None:
    """Merge three desks' copies in every order."""
    create(folder / "root").close()
    for desk in (HALL, FIELD, TENT):
        shutil.copy(folder / "root", folder / desk)
        with open_at(folder / desk, desk) as ledger:
            for number in range(count):
                ledger.record(NoteMade(text=str(number)))
    seen = set()
    for number, order in enumerate(itertools.permutations((HALL, FIELD, TENT))):
        with empty_store(folder / f"m{number}", when=MORNING) as store:
            for desk in (*order, order[0]):
                with open_store(folder / desk, when=MORNING, read_only=True) as own:
                    merge_into(store, [own])
            entries = store.entries()
            seen.add((len(entries), heads_of(entries), verify(store).sound))
    sys.stdout.write(f"6 orders of merging: {len(seen)} outcome, {seen}\n")


def main() -> None:
    """Measure and print."""
    given = sys.argv[1:]
    desks, count, every_s = (*given, *("8", "250", "0.1")[len(given) :])
    server = Server(programs())
    server.start()
    try:
        under_fire(server, int(desks), int(count), float(every_s))
    finally:
        server.end()
    with tempfile.TemporaryDirectory() as room:
        merges(Path(room), int(count))


if __name__ == "__main__":
    main()
