"""Stacks of sheets that slipped: rows entered one line off, one stack entered twice.

Both leave every single row well-formed; only all of them together show it.
"""

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from scorer.checks.mark_doubts import Weighing
from scorer.event.entries import folded
from scorer.event.matter import Blocks, Closes, Matter, matter_kind
from scorer.event.model import Event, Flight, Method
from scorer.facts import Fact, count, fact, pilot, task, term
from scorer.scoring.comparing import numbers_of
from scorer.tracks.flown import Array

ROWS_SHIFTED = matter_kind(
    "rows-shifted", blocks=Blocks.OFFICIAL, closes=Closes.COMPARE
)
STACK_TWICE = matter_kind("stack-twice", blocks=Blocks.OFFICIAL, closes=Closes.COMPARE)
LEAST_ROWS = 3
"""Fewer rows one line off are marks exchanged, which are told as such."""
ASKED_FALSELY = 0.01
"""Of sheets without a slip, so many are asked about at most (our choice): of right rows,
sums of what speaks for another row than the own reach g beginning at any one row no
oftener than exp(-g) (Lundberg's inequality), and a stretch may begin at any row and go
either way."""
MOST_GAIN = 6.0
"""What one row counts for at most, so that no single wild mark makes a stretch."""
LEAST_SAME = 3
"""So many pilots with the same numbers in two tasks are no chance."""
SHARE_SAME = 0.3
"""Of the pilots with a mark in both tasks."""


def shifted(weighing: Weighing, flight: Flight) -> Iterator[Matter]:
    """Ask about stretches of rows that fit the pilots one row up or down."""
    places = {(m.task, m.pilot, m.mark): k for k, m in enumerate(weighing.flight.marks)}
    for number, rows in _sheets(flight).items():
        own = [places[slot] for slot in rows if slot in places]
        if len(own) < LEAST_ROWS:
            continue
        found = [
            (gain, first, last, step)
            for step in (1, -1)
            for gain, first, last in (_stretch(_gains(weighing, own, step)),)
        ]
        gain, first, last, step = max(found)
        least = math.log(2 * len(own) / ASKED_FALSELY)
        if gain >= least and last - first >= LEAST_ROWS:
            numbers = [weighing.flight.marks[k].pilot for k in own[first:last]]
            yield _told(flight, number[0], numbers, step)


def _sheets(flight: Flight) -> dict[tuple[int, str], list[tuple[int, int, str]]]:
    """Return the marks of each task in the order in which one person entered them."""
    sheets: dict[tuple[int, str], list[tuple[int, int, str]]] = defaultdict(list)
    seen: set[tuple[int, int, str]] = set()
    for keying in flight.keyings:
        slot = keying.task, keying.pilot, keying.mark
        if slot not in seen and not keying.settles:
            seen.add(slot)
            sheets[keying.task, folded(keying.by)].append(slot)
    return sheets


def _gains(weighing: Weighing, own: Sequence[int], step: int) -> Array:
    """Return how much likelier each row's mark is of the pilot one row on."""
    gains = np.full(len(own), -MOST_GAIN)
    rows, marks, columns = [], [], []
    for row, k in enumerate(own):
        if 0 <= row + step < len(own):
            other = weighing.flight.marks[own[row + step]].pilot
            mine = weighing.flight.marks[k].pilot
            gains[row] = 0.0  # without a log nothing speaks for or against it
            if other in weighing.column and mine in weighing.column:
                rows.append(row)
                marks.append(k)
                columns.append(weighing.column[other])
    if rows:
        here = np.array(marks)
        gains[rows] = weighing.fits(here, np.array(columns)) - weighing.right[here]
    return np.asarray(np.clip(np.nan_to_num(gains), -MOST_GAIN, MOST_GAIN))


def _stretch(gains: Array) -> tuple[float, int, int]:
    """Return the stretch with the greatest sum (Kadane): sum, first row, row after."""
    best, here, start = (0.0, 0, 0), 0.0, 0
    for row, gain in enumerate(gains.tolist()):
        if here <= 0.0:
            here, start = 0.0, row
        here += gain
        best = max(best, (here, start, row + 1))
    return best


def _told(flight: Flight, number: int, numbers: Sequence[int], step: int) -> Matter:
    way = "row-after" if step > 0 else "row-before"
    return Matter(
        kind=ROWS_SHIFTED,
        flight=flight.id,
        task=number,
        pilots=tuple(sorted(set(numbers))),
        says=fact(
            "rows-shifted",
            rows=count(len(numbers)),
            first=pilot(numbers[0]),
            last=pilot(numbers[-1]),
            way=term(way),
        ),
    )


def stacked(event: Event) -> Iterator[Matter]:
    """Ask where two tasks have the same numbers for the same pilots."""
    measured: dict[int, dict[int, set[object]]] = defaultdict(lambda: defaultdict(set))
    flights = {t.number: flight.id for flight in event.flights for t in flight.tasks}
    for keying in (k for flight in event.flights for k in flight.keyings):
        if keying.method not in {Method.NONE, Method.LOG}:
            measured[keying.task][keying.pilot].add((keying.method, numbers_of(keying)))
    for one, other in combinations(sorted(measured), 2):
        both = measured[one].keys() & measured[other].keys()
        same = sorted(p for p in both if measured[one][p] & measured[other][p])
        if len(same) >= max(LEAST_SAME, SHARE_SAME * len(both)):
            yield Matter(
                kind=STACK_TWICE,
                flight=flights.get(other, ""),
                task=other,
                pilots=tuple(same),
                says=_twice(len(same), len(both), one, other),
            )


def _twice(same: int, both: int, one: int, other: int) -> Fact:
    return fact(
        "stack-twice",
        same=count(same),
        both=count(both),
        one=task(one),
        other=task(other),
    )
