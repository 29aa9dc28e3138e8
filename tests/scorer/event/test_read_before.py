"""Rows that are as they were are not read again, and come to the same as ever."""

from dataclasses import replace

import pytest

from scorer.event import read_before
from scorer.event.build import build
from scorer.event.raw import RawRow
from tests.scorer.ledger.ledger_desks import small_event


def with_mark(raw, index, **cells):
    """Return the event with some cells of one mark written anew."""
    flight, *rest = raw.flights
    marks = list(flight.marks)
    row = marks[index]
    marks[index] = RawRow(fields={**row.fields, **cells}, origin=row.origin)
    return replace(raw, flights=(replace(flight, marks=tuple(marks)), *rest))


def from_nothing(raw):
    read_before._table.cache_clear()
    return build(raw)


def test_one_row_more_leaves_all_others_the_very_same():
    raw = small_event()
    first, _ = from_nothing(raw)
    changed = with_mark(raw, 0, distance="7.5 m")

    event, faults = build(changed)

    assert not faults
    before, now = first.flights[0].keyings, event.flights[0].keyings
    assert now[0].distance_m == 7.5
    assert len(now) > 1
    assert all(a is b for a, b in zip(before[1:], now[1:], strict=True))
    assert all(a is b for a, b in zip(first.pilots, event.pilots, strict=True))
    assert (event, faults) == from_nothing(changed)


def test_a_fault_is_told_each_time():
    wrong = with_mark(small_event(), 0, distance="far")
    faults = from_nothing(wrong)[1]

    assert faults
    assert build(wrong)[1] == faults
    assert build(wrong)[1] == faults


def test_what_a_row_refers_to_is_looked_up_though_the_row_is_as_it_was():
    raw = small_event()
    from_nothing(raw)
    fewer = replace(raw, pilots=raw.pilots[1:])
    elsewhere = replace(
        raw,
        settings={
            **raw.settings,
            "event": {**raw.settings["event"], "units": "imperial"},
        },
    )
    bare = with_mark(raw, 0, distance="12")

    assert build(fewer) == from_nothing(fewer)
    assert build(fewer)[1]
    build(bare)
    assert build(elsewhere) == from_nothing(elsewhere)
    feet = with_mark(elsewhere, 0, distance="12")
    assert build(feet)[0].flights[0].keyings[0].distance_m == pytest.approx(3.6576)


def test_a_fault_hidden_behind_a_broken_file_is_told_once_the_file_is_there():
    raw = replace(small_event(), pilots=())
    read_before._table.cache_clear()

    class Roster:
        where = "pilots.csv"

    build(raw, [Roster()])

    assert build(raw)[1] == from_nothing(raw)[1] != []


def test_the_same_row_twice_is_two_records_however_often_it_is_read():
    raw = small_event()
    flight, *rest = raw.flights
    twice = (*flight.marks, flight.marks[0])
    raw = replace(raw, flights=(replace(flight, marks=twice), *rest))
    from_nothing(raw)

    keyings = build(raw)[0].flights[0].keyings

    assert keyings[0] == keyings[-1]
    assert keyings[0] is not keyings[-1]
