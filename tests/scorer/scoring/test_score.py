"""The whole engine on sample events: pure, repeatable, whoever does the work."""

import json
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path

import pytest

from scorer.errors import Cancelled
from scorer.event import matters
from scorer.event.build import build_event
from scorer.event.folder import read_folder
from scorer.event.model import Blob, Flight, LogFile, TaskState
from scorer.progress import Control
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.verify import read_results, verify

SAMPLES = Path(__file__).parents[3] / "sample_events"


@pytest.fixture(scope="module")
def event():
    return build_event(read_folder(SAMPLES / "vashkorim"))


@pytest.fixture(scope="module")
def alone(event):
    return to_json(score(event))


def test_threads_give_the_same_bytes(event, alone):
    with ThreadPoolExecutor(2) as pool:
        assert to_json(score(event, pool)) == alone


def test_processes_give_the_same_bytes(event, alone):
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        assert to_json(score(event, pool)) == alone


def test_a_cluster_of_dask_gives_the_same_bytes(event, alone):
    distributed = pytest.importorskip("distributed")
    with (
        distributed.LocalCluster(
            n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
        ) as cluster,
        distributed.Client(cluster) as client,
    ):
        assert to_json(score(event, client.get_executor())) == alone


def test_the_order_of_logs_does_not_matter(event, alone):
    flights = tuple(
        replace(flight, logs=tuple(reversed(flight.logs))) for flight in event.flights
    )
    again = json.loads(to_json(score(replace(event, flights=flights))))
    first = json.loads(alone)

    for part in ("tasks", "findings", "standings"):
        assert again[part] == first[part]


@pytest.mark.parametrize("name", ["vashkorim", "quillowen"])
def test_the_second_verifier_agrees_on_the_samples(name):
    folder = SAMPLES / name
    raw = read_folder(folder)
    event = build_event(raw)
    bare = {"bare": "ft" if event.units == "imperial" else "m"}
    marks = [{**bare, **row.fields} for f in raw.flights for row in f.marks]

    tree = read_results(to_json(score(event)), "results.json")

    assert verify(tree, marks) == []


def test_progress_counts_logs_and_cancel_stops(event):
    told = []
    score(event, control=Control(lambda done, total, _: told.append((done, total))))
    assert told[-1][0] == told[-1][1]

    control = Control(lambda *_: control.cancel())
    with pytest.raises(Cancelled):
        score(event, control=control)


def test_a_cancelled_task_counts_for_nothing(event):
    flight = event.flights[0]
    tasks = tuple(replace(t, state=TaskState.CANCELLED) for t in flight.tasks)
    changed = replace(event, flights=(replace(flight, tasks=tasks), *event.flights[1:]))

    results = score(changed)

    numbers = {t.number for t in tasks}
    assert all(s.score == 0 for n in numbers for s in results.task(n).scores)
    assert not any(numbers & row.tasks.keys() for row in results.standings.rows)


def test_an_event_with_nothing_flown_has_empty_results(event):
    results = score(replace(event, flights=()))

    assert results.tasks == ()
    assert [row.total for row in results.standings.rows] == [0] * len(event.pilots)


def test_rubbish_logs_are_told_and_left_out(event):
    flight: Flight = event.flights[0]
    rubbish = LogFile(
        blob=Blob(name="logs/099.igc", sha256="0" * 64, content=b"\xff" * 99)
    )
    refused = LogFile(
        blob=Blob(name="logs/098.igc", sha256="1" * 64, content=b""),
        problem="300 MiB; a log has at most 256 MiB",
    )
    logs = (*flight.logs, rubbish, refused)
    changed = replace(event, flights=(replace(flight, logs=logs), *event.flights[1:]))

    results = score(changed)

    broken = [w for w in results.matters if w.kind is matters.LOG_BROKEN]
    assert len(broken) == 2
    assert results.tasks == score(event).tasks
