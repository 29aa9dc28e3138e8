"""How cost grows with what there is: pilots, tasks, logs, entries, desks, publications.

For each size one line: what it costs from nothing, again with all kept, and after one mark
more; of standings, what a mark or a decision costs from its entry on, by flights; of desks, what an entry costs who makes it and who hears of it; of publications, the
first, the last and one of a task.  Beneath, the exponent that fits best (1 = twice as much
costs twice as much).  Without a word all, in small sizes; a whole meet is

    python -m tests.bench.growth logs 60 275 2750
    python -m tests.bench.growth pilots 100 300 1000
    python -m tests.bench.growth tasks 1 3 10 30
    python -m tests.bench.growth standings 1 4 10 --pilots 275
    python -m tests.bench.growth entries 1000 10000 100000
    python -m tests.bench.growth things 1000 10000 100000
    python -m tests.bench.growth desks 2 8 30
    python -m tests.bench.growth publications 2 8 30
    python -m tests.bench.growth publishing 10 --pilots 275

Seconds are processor time, of processes it starts too; `--pilots N` makes tasks,
standings, desks, publications and publishing ones of so many pilots.  `publishing` is the
command as a user gives it, by flights (`published.py`).
"""

# ruff: noqa: T201

import argparse
import math
import os
import random
import statistics
import tempfile
import time
from contextlib import ExitStack
from dataclasses import replace
from functools import partial
from pathlib import Path

from gui.snapshot import look
from scorer.cli.publish import score_ledger
from scorer.cli.target import checked, load
from scorer.ledger.acts import MarkKeyed, RulingMade, Stage
from scorer.ledger.api import Ledger, import_folder, new_desk, sound, verify_target
from scorer.ledger.entry import Draft
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import crowd
from scorer.recall import VARIABLE, Recall
from scorer.scoring.analysis import Tracks
from scorer.scoring.keep import Keep
from scorer.scoring.score import score
from scorer.sheets.edition import documents, prepare, put_up
from tests.bench.published import of_publishing

FIXES = 2400
SIZES = {
    "logs": (30, 60, 120),
    "pilots": (50, 100, 200),
    "tasks": (1, 2, 4),
    "standings": (1, 2, 4),
    "entries": (1000, 10_000),
    "things": (1000, 10_000),
    "desks": (2, 4, 8),
    "publications": (1, 2, 4),
    "publishing": (1, 2),
}
TASK_PILOTS = 20
EACH = 5
"""So many entries each desk makes."""


def spent(work):
    """Return the processor time of some work, in seconds, its processes' included."""
    start = time.process_time() + sum(os.times()[2:4])
    work()
    return time.process_time() + sum(os.times()[2:4]) - start


def meet(folder, pilots, flights=1):
    """Make a meet and read it."""
    write_meet(make_meet(crowd(pilots=pilots, fixes=FIXES, flights=flights), 3), folder)
    return load(folder)


def with_one_more(event):
    """Return the event with one distance corrected."""
    first, *rest = event.flights
    keyings = list(first.keyings)
    n = next(n for n, keying in enumerate(keyings) if keying.distance_m)
    keyings[n] = replace(keyings[n], distance_m=keyings[n].distance_m + 2.0)
    return replace(event, flights=(replace(first, keyings=tuple(keyings)), *rest))


def of_scores(event, room):
    """Return what scoring costs: from nothing, again, after a start, after a mark."""
    path = room / "kept.sqlite"
    warm = Keep(Recall(path))
    return {
        "first": spent(lambda: (score(event, keep=warm), warm.close())),
        "again": spent(lambda: score(event, keep=warm)),
        "after a start": spent(lambda: score(event, keep=Keep(Recall(path)))),
        "one mark": spent(lambda: score(with_one_more(event), keep=warm)),
        "a start, a mark": spent(
            lambda: score(with_one_more(event), keep=Keep(Recall(path)))
        ),
        "MB kept": path.stat().st_size / 1e6,
    }


def of_size(what, size, room):
    """Measure one size."""
    if what == "publishing":
        return of_publishing(size, room, TASK_PILOTS)
    if what in LEDGERS:
        return LEDGERS[what](size, room)
    event = meet(room / "meet", *((TASK_PILOTS, size) if what == "tasks" else (size,)))
    if what == "pilots":  # what people enter alone
        flights = tuple(replace(flight, logs=()) for flight in event.flights)
        event = replace(event, flights=flights)
    return of_scores(event, room)


def of_entries(size, room):
    """Return what a ledger of so many entries costs to open, and one entry more."""
    os.environ[VARIABLE] = str(room / "cache")
    target, desk = imported(room)
    with Ledger.open(target, desk=desk, who="Ann") as ledger:
        _fill(ledger, size)
    found = of_opening(target, desk)
    with Ledger.open(target, desk=desk, who="Ann") as ledger:
        keep = Keep()
        found["look"] = spent(lambda: look(ledger, keep))
        found["record"] = spent(partial(correct, ledger))
        found["look again"] = spent(lambda: look(ledger, keep))
    return found


def of_things(size, room):
    """Return the same of entries half of which begin a thing of their own."""
    os.environ[VARIABLE] = str(room / "cache")
    target, desk = imported(room)
    with Ledger.open(target, desk=desk, who="Ann") as ledger:
        _fill(ledger, size // 2)
        _, act = ledger.state().all_of(MarkKeyed)[0]
        for start in range(size // 2, size, 500):
            fields = ({**act.fields, "note": str(start + n)} for n in range(500))
            ledger.record_all([Draft(act=replace(act, fields=own)) for own in fields])
    return of_opening(target, desk)


def of_opening(target, desk):
    """Return what it costs to open a ledger, and to hear of one entry more."""
    desks = partial(Ledger.open, target, desk=desk, who="Ann")
    with desks() as ledger:  # nothing is known of it, as on a new computer
        found = {"from nothing": spent(ledger.state)}
    with desks() as ledger:
        found["open"] = spent(ledger.state)
        costs = []
        for n in range(EACH):
            correct(ledger, str(n))
            costs.append(spent(ledger.state))
        found["one entry"] = statistics.median(costs)
    return found


def of_standings(size, room):
    """Return what a mark and a decision of the first flight cost, to their standings."""
    target, desk = imported(room, size)
    path = room / "kept.sqlite"
    keep = Keep(Recall(path))
    with Ledger.open(target, desk=desk, who="Ann") as ledger:
        found = {"first": spent(lambda: standings(ledger, keep))}
        keep.close()
        for name, make in (("mark", measured), ("decision", decided)):
            costs = []
            for n in range(EACH):
                make(ledger, n)
                costs.append(spent(lambda: standings(ledger, keep)))
            found[name] = statistics.median(costs)
        after = Keep(Recall(path))
        found["a start, a mark"] = spent(lambda: standings(ledger, after))
    found["MB kept"] = keep.held_bytes / 1e6
    return found


def standings(ledger, keep):
    """Score what stands in a ledger now."""
    state = sound(ledger.state()).state
    return score(checked(ledger.raw(state), []), keep=keep)


def measured(ledger, n):
    """Record another distance of a mark that was taped."""
    held, act = next(
        (held, act)
        for held, act in ledger.state().all_of(MarkKeyed)
        if act.fields["method"] == "tape"
    )
    fields = {**act.fields, "distance": f"{20 + n} m", "unit": ""}
    ledger.record(replace(act, fields=fields), replaces=held.ids)


def decided(ledger, n):
    """Record a penalty that nobody found."""
    _, act = ledger.state().all_of(MarkKeyed)[n]
    own = {name: act.fields[name] for name in ("task", "pilot")}
    own |= {"decision": "impose", "amount": "10", "unit": "task points"}
    fields = {**own, "reason": "for the bench", "by": "Ann"}
    ledger.record(RulingMade(flight=act.flight, fields=fields))


def imported(room, flights=1):
    """Make a meet and take it into an event file; return it and its desk."""
    meet(room / "meet", TASK_PILOTS, flights)
    target, desk = room / "event", new_desk("bench")
    import_folder(room / "meet", target, desk=desk, who="Ann")
    return target, desk


def correct(ledger, note="x"):
    """Record another remark beside the first mark."""
    held, act = ledger.state().all_of(MarkKeyed)[0]
    fields = {**act.fields, "note": note}
    ledger.record(replace(act, fields=fields), replaces=held.ids)


def of_desks(size, room):
    """Return what an entry costs its own desk, and all others together."""
    target, _ = imported(room)
    made = heard = 0.0
    with ExitStack() as stack:
        desks = [
            stack.enter_context(Ledger.open(target, desk=new_desk(f"d{n}"), who="Ann"))
            for n in range(size)
        ]
        opened = spent(lambda: [desk.state() for desk in desks])
        for turn in range(EACH * size):
            desk = desks[turn % size]
            made += spent(partial(correct, desk, str(turn)))
            heard += spent(lambda: [other.state() for other in desks])
    entries = EACH * size
    return {"open": opened, "one entry": made / entries, "all hear": heard / entries}


def of_publications(size, room):
    """Return what so many publications of an event cost, with a mark between two."""
    target, desk = imported(room)
    keep = Keep(Recall(room / "kept.sqlite"))
    found, sizes = {}, []
    with Ledger.open(target, desk=desk, who="Ann") as ledger:
        for number in range(size):
            cost = spent(lambda: put_all_up(ledger, keep, ()))
            found["first" if number == 0 else "last"] = cost
            sizes.append(target.stat().st_size / 1e6)
            correct(ledger, str(number))
        found.setdefault("last", found["first"])
        found["one task"] = spent(lambda: put_all_up(ledger, keep, (1,)))
        found["a state"] = spent(lambda: ledger.state().publications)
    found["verify"] = spent(lambda: verify_target(target))
    found["MB a version"] = (sizes[-1] - sizes[0]) / max(size - 1, 1)
    return found


def put_all_up(ledger, keep, tasks):
    """Publish results with all their sheets, as the command does."""
    event, results, computed = score_ledger(ledger, keep)
    ready = prepare(ledger, computed, Stage.PROVISIONAL, tasks=tasks)
    with tempfile.TemporaryDirectory() as room:
        tracks = Tracks(event, results, keep)
        files = documents(
            event,
            results,
            ready.stamp,
            tracks,
            Path(room),
            ledger=ledger,
            document=computed.document,
        )
        put_up(ledger, ready, files, tasks=tasks)


LEDGERS = {
    "standings": of_standings,
    "entries": of_entries,
    "things": of_things,
    "desks": of_desks,
    "publications": of_publications,
}


def _fill(ledger, size):
    """Correct marks until there are so many entries."""
    chance = random.Random(3)
    own = {c.entry.hash: a for c, a in ledger.state().all_of(MarkKeyed)}
    last = {name: name for name in own}
    have = len(ledger.state().entries)
    while have < size:
        some = chance.sample(sorted(own), min(len(own), size - have))
        drafts = [
            Draft(
                act=replace(own[k], fields={**own[k].fields, "note": str(have + n)}),
                replaces=(last[k],),
            )
            for n, k in enumerate(some)
        ]
        for k, entry in zip(some, ledger.record_all(drafts), strict=True):
            last[k] = entry.hash
        have += len(drafts)


def exponent(sizes, costs):
    """Return the slope of cost over size, both in logarithms; NaN for one size."""
    pairs = [
        (math.log(s), math.log(max(c, 1e-4))) for s, c in zip(sizes, costs, strict=True)
    ]
    x, y = (sum(v) / len(pairs) for v in zip(*pairs, strict=True))
    across = sum((a - x) ** 2 for a, _ in pairs)
    return sum((a - x) * (b - y) for a, b in pairs) / across if across else math.nan


def report(what, sizes):
    """Print one line for each size, and the exponents."""
    rows = []
    for size in sizes:
        with tempfile.TemporaryDirectory() as room:
            rows.append(of_size(what, size, Path(room)))
        if len(rows) == 1:
            print(f"{what:>10}" + "".join(f"{name:>16}" for name in rows[0]))
        print(f"{size:10}" + "".join(f"{cost:16.3f}" for cost in rows[-1].values()))
    found = [exponent(sizes, [row[name] for row in rows]) for name in rows[0]]
    print(f"{'exponent':>10}" + "".join(f"{one:16.2f}" for one in found))


if __name__ == "__main__":
    own = argparse.ArgumentParser()
    own.add_argument("what", nargs="?", choices=SIZES, help="what grows; unset: all")
    own.add_argument("sizes", nargs="*", type=int)
    own.add_argument("--pilots", type=int, default=TASK_PILOTS)
    given = own.parse_args()
    TASK_PILOTS = given.pilots
    for each in [given.what] if given.what else SIZES:
        report(each, given.sizes or SIZES[each])
