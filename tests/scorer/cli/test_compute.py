"""Scoring with several processes, and when one of them dies."""

import os
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from scorer.cli import compute
from scorer.cli.target import load
from scorer.scoring.document import to_json
from scorer.scoring.score import score

SAMPLE = Path(__file__).parents[3] / "sample_events/vashkorim"


class Dying(ProcessPoolExecutor):
    """A pool whose processes are killed at their first piece of work."""

    def __init__(self, workers, _):
        super().__init__(workers, mp_context=get_context("spawn"))

    def submit(self, work, *arguments):
        return super().submit(os._exit, 9)


def test_a_process_that_dies_costs_time_and_no_result(monkeypatch):
    event = load(str(SAMPLE))
    monkeypatch.setattr("scorer.fresh._Processes", Dying)
    monkeypatch.setattr(compute, "FEW_FOR_HANDS", 0)
    monkeypatch.setattr(os, "sched_getaffinity", lambda _: {0, 1}, raising=False)

    results = compute.compute(event)

    assert to_json(results) == to_json(score(event))
