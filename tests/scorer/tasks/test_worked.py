"""The manual's worked example of each kind, scored as a whole event on a flat grid.

Each sum is done by hand in the declaration; nothing of it comes from the program.
"""

from dataclasses import replace
from datetime import datetime

import pytest

from scorer.event.build import build_event
from scorer.event.model import Blob
from scorer.event.raw import RawLog
from scorer.event.task_kinds import TASK_KINDS
from scorer.manual.topics import written
from scorer.scoring.document import to_json
from scorer.scoring.score import score
from scorer.tasks.worked import WORKED
from scorer.verify import read_results, verify
from scorer.words.voice import Voice
from tests.scorer.tiny import EAST, NORTH, RULES, place, tiny_flight, tiny_raw, wgs84

SHIPPED = [
    code
    for code in TASK_KINDS
    if TASK_KINDS[code].measure.__module__.startswith("scorer.")
]


def features(own):
    for name, corners in own.places.items():
        if own.degrees:
            made = place(name, "target", (0, 0))
            ((lat, lon),) = corners
            made["geometry"]["coordinates"] = [lon, lat]
            yield made
        else:
            kind = "scoring-area" if len(corners) > 1 else "goal"
            yield place(name, kind, *corners)


def marks(own):
    head = "task,pilot,mark,method,easting,northing,lat,lon,time\n"
    for role, (a, b) in own.marks.items():
        at = own.times.get(role, "")
        where = f"latlon,,,{a},{b}" if own.degrees else f"grid,{EAST + a},{NORTH + b},,"
        head += f"1,1,{role},{where},{at}\n"
    return head


def log(own):
    """Make a log of a straight flight at one speed, a fix each five seconds."""
    begun, start, ended, end = own.log
    day = "2026-06-01 "
    first, last = (datetime.fromisoformat(f"{day}{t}+00:00") for t in (begun, ended))
    seconds = int((last - first).total_seconds())
    rows = ["time,lat,lon,alt"]
    for after in range(0, seconds + 1, 5):
        share = after / seconds
        east, north = (a + share * (b - a) for a, b in zip(start, end, strict=True))
        lon, lat = wgs84(east, north)
        stamp = datetime.fromtimestamp(first.timestamp() + after, first.tzinfo)
        rows.append(f"{stamp:%Y-%m-%dT%H:%M:%SZ},{lat:.8f},{lon:.8f},300")
    data = "\n".join(rows).encode()
    return RawLog(blob=Blob(name="logs/001.csv", sha256="", content=data), pilot=1)


@pytest.mark.parametrize("code", SHIPPED)
def test_the_worked_example_of_a_kind_comes_out_as_by_hand(code):
    own, kind = WORKED[code], TASK_KINDS[code]
    tasks = f'[[task]]\nnumber = 1\nkind = "{code}"\nstate = "flown"\n{own.task}\n'
    said = f"task,pilot,goal,time\n1,1,{own.declared},06:40\n"
    tables = {"declarations": said} if own.declared else {}
    flight = tiny_flight(tasks=tasks, marks=marks(own), **tables)
    if own.log:
        flight = replace(flight, logs=(log(own),))
    raw = replace(tiny_raw(flight, rules=RULES), places=tuple(features(own)))

    results = score(build_event(raw))
    first = results.tasks[0].score_of(1)

    assert verify(read_results(to_json(results), "results.json")) == []
    slack = 0.006 if kind.unit != "s" else 0.6
    slack = 0.6 if own.log else slack
    assert first.why is None
    assert first.result == pytest.approx(own.result, abs=slack)
    assert (
        own.sum.replace(" ", "")
        .rstrip("°")
        .endswith(f"{own.result:.2f}".rstrip("0").rstrip("."))
    )


def test_the_manual_has_all_of_them_in_one_table():
    text = written("tasks", Voice())
    for code in SHIPPED:
        (row,) = [r for r in text.splitlines() if r.startswith(f"| {code} |")]
        assert WORKED[code].sum in row
