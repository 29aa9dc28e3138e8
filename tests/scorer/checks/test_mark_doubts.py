"""What fits a mark better than its entry: named, told in words, and not guessed at."""

from dataclasses import replace

import numpy as np
import pytest

from scorer.checks.mark_doubts import Weighing
from scorer.checks.mark_told import check_marks
from scorer.checks.throws import ODD, learnt, own_signs
from scorer.event.matters import MARK_FAR_FROM_TRACK
from scorer.facts import parts
from scorer.scoring.meant import SHOWING
from tests.bench.marks import look_at, meet, spoilt
from tests.helpers import said

SEED = 41


@pytest.fixture(scope="module")
def timed():
    return meet(24, SEED, timed=True)


@pytest.mark.parametrize(
    ("kind", "fact"),
    [
        ("pilots swapped", "marks-swapped"),
        ("another number", "mark-fits"),
        ("tasks swapped", "meant-task"),
        ("wrong task", "meant-task"),
        ("polar turned", "meant-turned"),
        ("wrong reference", "meant-reference"),
    ],
)
def test_what_fits_better_is_named(timed, kind, fact):
    rows, wrong = spoilt(timed, kind, SEED)
    slots = {(int(rows[k]["task"]), int(rows[k]["pilot"])) for k in wrong}
    marks, _, doubts = look_at(timed, rows)

    told = [
        m
        for m in check_marks(marks, list(doubts.values()))
        if m.kind is MARK_FAR_FROM_TRACK
    ]

    named = {(m.task, m.pilot): m.says.get("others").kind for m in told}
    here = {slot: kind for slot, kind in named.items() if slot in slots}
    assert here
    assert set(here.values()) == {fact}
    assert set(named) <= slots
    assert all("{" not in said(m) and "None" not in said(m) for m in told)


def test_right_marks_are_left_alone(timed):
    _, hard, doubts = look_at(timed, timed.rows)

    assert (hard, doubts) == (set(), {})


def test_too_few_marks_teach_nothing():
    own = meet(3, SEED, timed=True)
    marks, _, doubts = look_at(own, own.rows)

    assert learnt(own_signs(marks.marks, marks.tracks)) is None
    assert doubts == {}


def test_a_throw_is_learnt_from_the_meet_itself():
    """The same tracks, with markers that scatter four times as far, teach a wider throw."""
    own = meet(24, SEED, timed=False)
    marks, _, _ = look_at(own, own.rows)
    wide = replace(
        marks,
        tracks={
            n: replace(
                track,
                passes=track.passes._replace(nearest_m=4.0 * track.passes.nearest_m),
            )
            for n, track in marks.tracks.items()
        },
    )

    beside = own_signs(marks.marks, marks.tracks)
    far = beside._replace(away=np.full(len(marks.marks), 30.0))
    narrow, scattered = (
        learnt(own_signs(m.marks, m.tracks)).chances(far)[0].mean()
        for m in (marks, wide)
    )

    assert scattered > 2.0 * narrow


def test_a_few_wild_marks_do_not_widen_the_throw():
    own = meet(24, SEED, timed=False)
    marks, _, _ = look_at(own, own.rows)
    wild = [0, 1]
    moved = replace(
        marks,
        marks=[
            replace(m, aimed_m=(m.aimed_m or 0.0) + 900.0) if k in wild else m
            for k, m in enumerate(marks.marks)
        ],
    )

    beside = own_signs(moved.marks, moved.tracks)
    chances = learnt(own_signs(moved.marks, moved.tracks)).chances(beside)[1]

    assert set(np.flatnonzero(chances < ODD)) == set(wild)


def test_chances_fall_off_from_the_middle_and_nothing_known_speaks_for_nobody(timed):
    marks, _, _ = look_at(timed, timed.rows)
    tail = learnt(own_signs(marks.marks, marks.tracks)).away

    chances = tail.chance(np.array([0.0, 5.0, 20.0, 80.0, np.nan]))
    assert list(chances[:4]) == sorted(chances[:4], reverse=True)
    assert chances[4] == 1.0
    density = tail.log_density(np.array([0.0, np.nan]))
    assert density[0] == pytest.approx(density[1], abs=0.6)


def test_who_is_entered_as_no_mark_is_less_likely_than_who_has_nothing_entered(timed):
    number, task = timed.numbers[0], 1
    slot = (str(task), str(number))
    rows = [r for r in timed.rows if (r["task"], r["pilot"]) != slot]
    marks, _, _ = look_at(timed, rows)
    mark = next(m for m in marks.marks if m.task == task)

    absent = dict(Weighing.of(marks)._priors(mark))
    none = frozenset({(task, number)})
    present = dict(Weighing.of(marks, none)._priors(mark))

    assert present[number] <= absent[number]
    assert sum(absent.values()) == pytest.approx(sum(present.values()))


def test_a_doubt_keeps_what_the_entry_shows_from_its_second_reader():
    own = meet(24, SEED, timed=True)
    rows, _ = spoilt(own, "polar turned", SEED)
    marks, _, doubts = look_at(own, rows)
    told, *_ = check_marks(marks, list(doubts.values()))

    assert {p.kind for p in parts(told.says)} & SHOWING
