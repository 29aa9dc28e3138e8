"""Two logs of one basket that contradict each other: nothing is certain by heights."""

import hashlib
from dataclasses import replace

import pytest

from scorer.event import matters
from scorer.event.finding import Verdict
from scorer.scoring.score import score
from tests.bench.hostile import sample

PILOT = 2


@pytest.fixture(scope="module")
def event():
    return sample()


def lower(data, by_m):
    """The same IGC log, lower from 01:15 to 01:20 UTC: there it is 50 m above ground."""
    lines = []
    for line in data.split(b"\r\n"):
        if line[:1] == b"B" and b"011500" <= line[1:7] < b"012000":
            high = (int(line[at : at + 5]) - by_m for at in (25, 30))
            line = line[:25] + b"%05d%05d" % tuple(high) + line[35:]  # noqa: PLW2901
        lines.append(line)
    return b"\r\n".join(lines)


def scored(event, *datas):
    (flight,) = event.flights
    (own,) = (log for log in flight.logs if f"{PILOT:03}.igc" in log.blob.name)
    logs = []
    for at, data in enumerate(datas):
        name, sha256 = f"logs/{PILOT:03}-{at}.igc", hashlib.sha256(data).hexdigest()
        blob = replace(own.blob, name=name, sha256=sha256, content=data)
        logs.append(replace(own, blob=blob, pilot=PILOT))
    return score(replace(event, flights=(replace(flight, logs=tuple(logs)),)))


def test_a_breach_that_another_log_of_the_basket_disputes_is_possible(event):
    (own,) = (
        log.blob.data
        for log in event.flights[0].logs
        if f"{PILOT:03}.igc" in log.blob.name
    )
    low = lower(own, 45)

    def floors(results):
        return [
            (r.finding.verdict, r.finding.says.kind)
            for r in results.findings
            if r.finding.kind.name == "floor"
        ]

    alone, both = scored(event, low), scored(event, low, own)

    assert floors(alone) == [(Verdict.CERTAIN, "seen-low")]
    assert floors(both) == [(Verdict.POSSIBLE, "seen-by-disputed-heights")]
    (told,) = (m for m in both.matters if m.says.kind == "log-heights-other")
    assert told.kind is matters.LOG_DUPLICATE
    assert told.pilots == (PILOT,)
    assert told.says.get("most") == pytest.approx(45.0, abs=3.0)
    other_way = scored(event, own, low)
    assert floors(other_way) == []
    assert [m for m in other_way.matters if m.says.kind == "log-heights-other"]


def test_a_breach_under_the_ground_is_possible_and_the_log_is_doubted(event):
    (own,) = (
        log.blob.data
        for log in event.flights[0].logs
        if f"{PILOT:03}.igc" in log.blob.name
    )

    results = scored(event, lower(own, 90))

    (found,) = (r.finding for r in results.findings if r.finding.kind.name == "floor")
    assert found.verdict is Verdict.POSSIBLE
    assert found.says.kind == "seen-by-impossible-heights"
    (told,) = (m for m in results.matters if m.says.kind == "log-heights-under")
    assert told.kind is matters.LOG_HEIGHTS
    assert told.pilots == (PILOT,)
    assert told.says.get("most") == pytest.approx(40.0, abs=10.0)
