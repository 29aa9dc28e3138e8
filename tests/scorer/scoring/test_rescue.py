"""A process that the system kills costs the log that did it, and nothing else."""

import os
import signal
import time
from concurrent.futures import (
    Executor,
    Future,
    ProcessPoolExecutor,
    ThreadPoolExecutor,
)
from dataclasses import replace
from multiprocessing import get_context

import pytest

from gui.pool import Pool
from scorer.errors import ScorerError
from scorer.event.model import Blob, LogFile
from scorer.scoring import helpers, workers
from scorer.scoring.document import to_json
from scorer.scoring.helpers import Helpers
from scorer.scoring.packed import Packed
from scorer.scoring.rescue import Rescue
from scorer.scoring.score import score
from tests.scorer.tiny import FIN, tiny, tiny_flight

MARKS = """task,pilot,method,distance,by
1,1,tape,1.50,ann
1,2,tape,2.50,ann
"""


class Deadly(bytes):
    """Bytes that kill the process in which they arrive."""

    def __reduce__(self):
        return os.kill, (_Own(), signal.SIGKILL)


class _Own:
    """The number of the process that unpickles it."""

    def __reduce__(self):
        return os.getpid, ()


def log(name, data=b"no log"):
    return LogFile(blob=Blob(name=name, sha256="0" * 64, content=data))


def event_of(*logs):
    whole = tiny(tiny_flight(marks=MARKS))
    flight = replace(whole.flights[0], logs=tuple(logs))
    return replace(whole, flights=(flight,))


def many(deadly=()):
    return [
        log(f"{n:03}.igc", Deadly(b"x") if n in deadly else b"no log")
        for n in range(20)
    ]


@pytest.fixture
def pool():
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as made:
        yield made


def test_a_log_that_kills_its_process_is_left_out_with_its_matter(pool):
    results = score(event_of(*many(deadly={3})), pool)

    found = [m for m in results.matters if m.says.kind == "log-ends-its-process"]
    assert [(m.says.get("log"), m.kind.name) for m in found] == [
        ("003.igc", "log-broken")
    ]
    names = [summary.name for summary in results.flights[0].logs]
    assert names == [f"{n:03}.igc" for n in range(20)]
    assert [s.result for s in results.tasks[0].scores][:2] == [1.5, 2.5]
    others = [m for m in results.matters if m.kind.name == "log-broken"]
    assert len(others) == 20  # what is no log is told as before, each for itself


def test_a_pool_that_was_broken_before_costs_nothing(pool):
    pool.submit(os._exit, 9).exception()
    event = event_of(*many())

    assert to_json(score(event, pool)) == to_json(score(event))


def test_where_no_process_starts_the_work_is_done_here(pool, monkeypatch):
    pool.submit(os._exit, 9).exception()
    event = event_of(*many())
    monkeypatch.setattr(Rescue, "_open", lambda _: False)

    assert to_json(score(event, pool)) == to_json(score(event))


def test_the_window_starts_new_processes_after_one_was_killed(monkeypatch):
    monkeypatch.setattr("gui.pool.FEW_LOGS", 0)
    pool = Pool(1)
    first = pool.for_logs(1)
    assert pool.for_logs(1) is first
    first.submit(os._exit, 9).exception()

    second = pool.for_logs(1)

    assert second is not first
    assert second.submit(int).result() == 0
    pool.close()


class Deserted(Executor):
    """A cluster: what nobody takes waits, and what is wanted no more is given up."""

    def __init__(self, takes):
        self.takes, self.sent = takes, []

    def submit(self, work, /, *given):
        self.sent.append(Future())
        if len(self.sent) <= self.takes:
            self.sent[-1].set_result(work(*given))
        return self.sent[-1]


def test_nobody_waits_for_ever_where_all_workers_are_gone(monkeypatch):
    """Dask keeps work for workers that may come, and tells nobody that none is there."""
    monkeypatch.setattr(helpers, "MOST_LOOKS", 4)
    monkeypatch.setattr(helpers, "LOOK_S", 0.05)
    cluster = Deserted(takes=1)

    with pytest.raises(ScorerError, match="Start them again and score again"):
        score(event_of(*many()), cluster)

    assert all(future.done() for future in cluster.sent)  # and nothing waits there


def test_what_a_closed_cluster_gave_up_is_done_here(monkeypatch):
    """A Dask client that is closed cancels what it waits for."""
    cluster, event = Deserted(takes=1), event_of(*many())

    def closed(waiting, real=helpers.wait, **more):
        for future in waiting:
            if future.cancel():
                future.set_running_or_notify_cancel()
        return real(waiting, **more)

    monkeypatch.setattr(helpers, "wait", closed)
    monkeypatch.setattr(Rescue, "_open", lambda _: False)

    assert to_json(score(event, cluster)) == to_json(score(event))
    assert any(future.cancelled() for future in cluster.sent)


class Closed(Executor):
    """A cluster whose client was closed; of Dask, no `RuntimeError` says so."""

    def submit(self, work, /, *given):
        raise ConnectionError


def shut_down():
    with ThreadPoolExecutor(1) as made:
        pass
    return made


@pytest.mark.parametrize("closed", [Closed(), shut_down()])
def test_what_takes_no_work_costs_nothing(closed, monkeypatch):
    monkeypatch.setattr(Rescue, "_open", lambda _: False)
    event = event_of(*many())

    assert to_json(score(event, closed)) == to_json(score(event))


class Counting(Executor):
    """One thread, with how many pieces were sent and not done at once."""

    def __init__(self):
        self.pool, self.sent, self.most = ThreadPoolExecutor(1), [], 0
        self.pool.submit(time.sleep, 0.05)  # nothing is done before all are sent

    def submit(self, work, /, *given):
        self.sent.append(self.pool.submit(work, *given))
        self.most = max(self.most, sum(not one.done() for one in self.sent))
        return self.sent[-1]


def test_pieces_are_sent_as_others_end_and_come_back_in_order(monkeypatch):
    """All at once they filled the memory of whoever passes them on."""
    monkeypatch.setattr(workers, "IN_FLIGHT", 3)
    monkeypatch.setattr(workers, "BATCH", 2)
    sent, items, told = Packed("", b""), list(range(41)), []
    rescue = Rescue(sent, lambda _, some: tuple(some), lambda one: one, None)
    executor = Counting()
    with executor.pool:
        batches = workers.Batches(
            Helpers(executor), lambda _: sent, lambda _, some: tuple(some), items
        )
        found = batches.done(rescue, told.append)
    assert found == items
    assert 1 <= executor.most <= 3
    assert len(executor.sent) == 21
    assert told == sorted(told)
    assert told[-1] == len(items)


def test_a_log_that_kills_its_process_costs_no_flight_that_waits_beside_it(pool):
    """Logs of the next flights are looked at meanwhile, by the same processes."""
    second = FIN.replace("number = 1", "number = {}")
    flights = [
        tiny_flight(f"f{n}", tasks=second.format(n), day=f"2026-06-0{n}")
        for n in (1, 2, 3, 4)
    ]
    whole = tiny(*flights)

    def with_logs(deadly):
        own = [
            replace(flight, logs=tuple(many(deadly if flight.id == "f2" else ())))
            for flight in whole.flights
        ]
        return replace(whole, flights=tuple(own))

    results = score(with_logs({3}), pool)
    ended = [m for m in results.matters if m.says.kind == "log-ends-its-process"]
    assert [(m.flight, m.says.get("log")) for m in ended] == [("f2", "003.igc")]
    usual = score(with_logs(()))
    assert results.tasks == usual.tasks
    assert results.standings == usual.standings
    rest = [m for m in usual.matters if m.flight != "f2"]
    assert [m for m in results.matters if m.flight != "f2"] == rest
