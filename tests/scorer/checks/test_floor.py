"""The minimum height: what counts, from when to when, and how sure it is."""

from dataclasses import replace
from functools import partial
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import norm

from scorer.checks.episode_chance import held_under
from scorer.checks.floor import (
    CLIMB_OUT_S,
    LAST_DESCENT_S,
    _leg,
    _near,
    _open,
    _with_neighbours,
    check_floor,
    counted_span,
)
from scorer.checks.gaps import unknown_heights
from scorer.event import place_kinds
from scorer.event.finding import Verdict
from scorer.event.model import PenaltyUnit, Units
from scorer.event.rulebook import FloorRule, PenaltyRule, RuleBook, Until
from scorer.facts import fact, parts
from scorer.tracks import columns
from scorer.words.voice import Voice
from tests.helpers import said
from tests.scorer.checks.invented import (
    PLACES,
    START_S,
    about,
    flight,
    site,
    square,
    track,
)

FLOOR_M = 22.86  # 75 ft


def book(**changes):
    rule = {
        "height_m": FLOOR_M,
        "within": "field",
        "least_time_s": 3.0,
        "penalty": (PenaltyRule(unit="task points", per=1.0, of="ft", of_si=0.3048),),
        **changes,
    }
    return RuleBook(name="test", floor=FloorRule(**rule))


def findings(flown, **changes):
    return check_floor(flown, about(book(**changes))).findings


HIGH = [(0, 0), (60, 150), (1500, 150), (1600, 0)]
"""Due east from 5000 m before the centre, 5 m/s: in the scoring area from 970 s on."""


def dip(at_s, low_m, half_s=10.0, side_s=20.0):
    """A flight that sinks to `low_m` around a time and rises again."""
    return [
        (0, 0),
        (60, 150),
        (at_s - half_s - side_s, 150),
        (at_s - half_s, low_m),
        (at_s + half_s, low_m),
        (at_s + half_s + side_s, 150),
        (1500, 150),
        (1600, 0),
    ]


def test_a_flight_above_the_floor_has_no_finding():
    assert findings(flight(HIGH)) == ()


def test_a_log_that_never_leaves_the_ground_has_no_finding():
    still = track(np.arange(100.0), 0.0, 0.0, launch=50, landing=50)

    assert findings(still) == ()


def test_a_breach_tells_how_low_how_long_where_and_what_it_costs():
    (found,) = findings(flight(dip(600, 18.4)))

    # Sinks from 150 m to 18.4 m in 20 s: passes 22.86 m 0.678 s before the bottom.
    aside = 20.0 * (FLOOR_M - 18.4) / (150.0 - 18.4)
    assert found.verdict is Verdict.CERTAIN
    assert found.measured == pytest.approx(18.4)
    assert found.excess == pytest.approx(4.46)
    assert found.from_s == pytest.approx(START_S + 60 + 590 - aside, abs=1e-6)
    assert found.to_s == pytest.approx(START_S + 60 + 610 + aside, abs=1e-6)
    assert found.duration_s == pytest.approx(20 + 2 * aside, abs=1e-6)
    assert found.penalty.amount == 15  # 4.46 m = 14.63 ft
    assert found.penalty.unit is PenaltyUnit.TASK_POINTS
    assert found.lat_deg == pytest.approx(41.54, abs=0.05)
    assert (found.evidence, found.sha256) == ("logs/007.igc", "ab" * 32)
    assert found.says.kind == "seen-low"
    assert found.says.get("lowest") == pytest.approx(18.4)
    assert found.says.get("limit") == FLOOR_M
    assert found.says.get("depth") == pytest.approx(4.46)
    assert found.says.get("duration") == found.duration_s
    assert said(found, Voice(units=Units.IMPERIAL)) == (
        "60 ft where 75 ft is the minimum height. "
        "15 ft too low for 21 s, over 99 % sure."
    )
    assert "4.5 m too low" in said(found)


def test_below_the_floor_inside_the_scoring_area_is_no_breach():
    assert findings(flight(dip(1010, 5.0, side_s=5.0))) == ()


def test_the_floor_stops_to_hold_at_the_first_entry_even_if_the_pilot_leaves_again():
    assert findings(flight(dip(1200, 5.0))) == ()


def test_below_the_floor_outside_the_boundary_is_no_breach():
    assert findings(flight(dip(600, 5.0), east_m=-9000.0)) == ()


def test_without_a_boundary_the_floor_holds_everywhere():
    flown = flight(dip(600, 5.0), east_m=-9000.0)

    (found,) = findings(flown, within=None)

    assert found.measured == pytest.approx(5.0)


def test_until_exit_the_floor_holds_in_the_scoring_area_too():
    (found,) = findings(flight(dip(1010, 5.0, side_s=5.0)), until=Until.EXIT)

    assert found.verdict is Verdict.CERTAIN


def test_until_drop_a_low_pass_before_it_counts_and_one_after_it_does_not():
    flown = flight(dip(1010, 5.0, side_s=5.0))
    late, early = START_S + 60 + 1100, START_S + 60 + 900

    for drop_s, count in ((late, 1), (early, 0)):
        seen = check_floor(flown, about(book(until=Until.DROP), drop_s=drop_s))
        assert len(seen.findings) == count


def test_without_the_time_of_the_drop_nothing_after_it_is_certain():
    (found,) = findings(flight(dip(1010, 5.0, side_s=5.0)), until=Until.DROP)

    assert found.verdict is Verdict.POSSIBLE
    assert found.says.get("doubt").kind == "doubt-end-unknown"


def test_the_ground_before_launch_and_the_climb_out_inside_the_boundary_do_not_count():
    assert findings(flight(HIGH, east_m=-3500.0, speed_m_s=3.0)) == ()


def test_a_slow_climb_out_counts_from_its_longest_time_on():
    knots = [(0, 0), (20, 15), (400, 15), (420, 150), (1500, 150), (1600, 0)]

    (found,) = findings(flight(knots, east_m=-3500.0, speed_m_s=2.0))

    assert found.from_s == pytest.approx(START_S + 61 + CLIMB_OUT_S, abs=1.5)


def test_a_dip_after_the_climb_out_counts():
    knots = [(0, 0), (20, 40), (40, 40), (60, 10), (90, 10), (110, 60), (700, 60)]
    knots += [(760, 0)]

    (found,) = findings(flight(knots, east_m=-3500.0, speed_m_s=2.0))

    assert found.measured == pytest.approx(10.0)


def test_the_last_descent_to_a_landing_short_of_the_area_does_not_count():
    knots = [(0, 0), (60, 150), (400, 150), (500, 10), (520, 10), (530, 0)]

    assert findings(flight(knots)) == ()


def test_long_low_flight_before_landing_counts_but_for_its_end():
    knots = [(0, 0), (60, 150), (250, 150), (300, 10), (800, 10), (810, 0)]

    (found,) = findings(flight(knots))

    assert found.to_s == pytest.approx(START_S + 60 + 810 - LAST_DESCENT_S, abs=2.0)


def test_a_height_that_flickers_about_the_floor_is_one_finding():
    time = np.arange(0.0, 400.0)
    height = 20.0 + 3.5 * np.sin(time / 3.0)

    found = findings(track(time, -3000.0 + 2 * time, height, launch=0))

    assert len(found) == 1


def test_two_dips_with_a_climb_between_are_two_findings():
    knots = dip(400, 15.0)[:-2] + dip(700, 12.0)[2:]

    assert [round(f.measured) for f in findings(flight(knots))] == [15, 12]


def test_shorter_than_the_least_time_is_clear_and_costs_nothing():
    (found,) = findings(flight(dip(600, 20.0, half_s=1.0)), least_time_s=10.0)

    assert found.verdict is Verdict.CLEAR
    assert found.penalty is None
    assert found.says.kind == "seen-low-let-pass"
    assert found.says.get("least_time") == 10.0
    assert "let pass" in said(found)


def test_within_the_tolerance_is_clear():
    (found,) = findings(flight(dip(600, 20.0), sigma_m=0.3), tolerance_m=4.0)

    assert found.verdict is Verdict.CLEAR


def test_just_above_the_floor_is_possible_with_no_excess():
    (found,) = findings(flight(dip(600, FLOOR_M + 0.5)))

    assert found.verdict is Verdict.POSSIBLE
    assert found.excess == 0.0
    assert 0.2 < found.probability < 0.25  # Φ(−0.5 / 0.7) = 0.2375, the bottom held
    seen = next(p for p in parts(found.says) if p.kind == "seen-near-minimum")
    assert seen.get("sure") == found.probability


def test_without_a_stand_on_the_ground_nothing_is_certain():
    (found,) = findings(flight(dip(600, 2.0), anchored=False, sigma_m=3.0))

    assert found.probability > 0.99
    assert found.verdict is Verdict.POSSIBLE
    assert found.says.get("seen").kind == "seen-low"
    assert found.says.get("doubt").kind == "doubt-estimates"
    assert found.says.get("doubt").get("give_or_take") == 3.0


def test_a_log_that_starts_low_may_have_left_out_a_climb_out():
    time = np.arange(0.0, 600.0)
    height = np.interp(time, [0, 30, 60], [5, 12, 150])

    (found,) = findings(track(time, -3000.0 + 2 * time, height))

    assert found.verdict is Verdict.POSSIBLE
    assert found.says.get("doubt").kind == "doubt-unseen"


def test_a_slow_log_finds_the_way_through_the_floor_between_its_fixes():
    """Fixes every 5 s: of 20 s under the floor only four or five are seen."""
    fast, slow = (findings(flight(dip(600, 15.0), step_s=s)) for s in (1.0, 5.0))

    assert slow[0].from_s == pytest.approx(fast[0].from_s, abs=0.2)
    assert slow[0].to_s == pytest.approx(fast[0].to_s, abs=0.2)


def test_heights_are_told_of_the_basket_not_of_the_logger_above_it():
    flown = flight(dip(600, 18.4))

    (found,) = findings(flown)

    assert flown.height_m[600:700].min() == pytest.approx(19.4)
    assert found.measured == pytest.approx(18.4)


def two_tasks():
    """A second scoring area 1500 m beyond the first, entered 1500 s after launch at 3 m/s."""
    second = square("second area", place_kinds.SCORING_AREA, 150.0, at=(1500.0, 0.0))
    first = about().task
    return site((*PLACES, second)), (
        first,
        replace(first, number=2, scoring_areas=("second area",)),
    )


def legs(knots, **more):
    """The findings of each of two tasks, by the time of the lowest point."""
    place, tasks = two_tasks()
    flown = flight(knots, east_m=-3000.0, speed_m_s=3.0)
    told = []
    for task in tasks:
        rules = about(
            book(**more), site=place, task=task, tasks=tasks, leads=task is tasks[0]
        )
        seen = check_floor(flown, rules).findings
        told.append([round(f.details["lowest_at_s"] - START_S - 60.0) for f in seen])
    return told


def low_at(*times):
    """A flight due east with a dip at each of some times, landing after 1800 s."""
    knots = [(0, 0), (30, 100)]
    for at in times:
        knots += [(at - 20, 100), (at, 5), (at + 20, 100)]
    return [*knots, (1760, 100), (1800, 0)]


def test_each_task_of_a_flight_has_its_own_leg():
    """The areas are entered after 950 s and 1450 s and left after 1050 s and 1550 s."""
    assert legs(low_at(500, 1000, 1250, 1500)) == [[500], [1250]]


def test_a_task_not_reached_holds_the_floor_from_the_last_area_on():
    place, (first, second) = two_tasks()
    flown = flight(low_at(1000, 1250), east_m=-3000.0, speed_m_s=3.0)
    gone = replace(second, scoring_areas=("meadow",))
    third = replace(gone, number=3)
    tasks = (first, gone, third)

    counts = [
        len(check_floor(flown, about(book(), site=place, task=t, tasks=tasks)).findings)
        for t in tasks
    ]

    assert counts == [0, 1, 0]


def test_two_tasks_in_one_area_share_the_leg_of_the_first():
    place, (first, _) = two_tasks()
    flown = flight(low_at(500), east_m=-3000.0, speed_m_s=3.0)
    tasks = (first, replace(first, number=2))

    counts = [
        len(check_floor(flown, about(book(), site=place, task=t, tasks=tasks)).findings)
        for t in tasks
    ]

    assert counts == [1, 0]


def test_a_floor_that_holds_to_the_exit_is_found_with_the_first_task_alone():
    assert legs(low_at(500), until=Until.EXIT) == [[500], []]


def naive_margin(time, height, sigma, limit, least):
    """Every window on a fine grid, one after another."""
    fine = np.arange(time[0], time[-1] + 1e-9, 0.05)
    margin = np.interp(fine, time, (limit - height) / sigma)
    steps = round(least / 0.05)
    return max(
        (margin[i : i + steps + 1].min() for i in range(len(fine) - steps)),
        default=-np.inf,
    )


@pytest.mark.parametrize("seed", range(12))
def test_the_decisive_depth_is_the_deepest_that_was_kept_up(seed):
    rng = np.random.default_rng(seed)
    time = np.cumsum(rng.uniform(0.5, 3.0, 40))
    height = 20.0 + np.cumsum(rng.normal(0.0, 1.0, 40))
    sigma = rng.uniform(0.5, 1.5, 40)
    least = float(rng.choice([0.0, 1.0, 3.0, 10.0]))

    held = held_under(time, height, sigma, 20.0, least)

    assert held.margin == pytest.approx(
        naive_margin(time, height, sigma, 20.0, least), abs=0.4
    )
    assert held.probability == pytest.approx(norm.cdf(held.margin))


def test_a_stretch_shorter_than_the_least_time_cannot_break_the_floor():
    held = held_under(np.array([0.0, 1.0]), np.zeros(2), np.ones(2), 20.0, 3.0)

    assert held.probability == 0.0


@pytest.mark.parametrize(
    ("left_s", "landing", "excused"),
    [
        (LAST_DESCENT_S - 1, None, True),
        (LAST_DESCENT_S + 1, None, False),
        (1.0, 2, False),
    ],
)
def test_a_low_end_of_a_log_without_landing_may_be_the_last_descent(
    left_s, landing, excused
):
    flown = replace(
        flight(HIGH),
        time_s=np.array([0.0, 1000.0, 1000.0 + left_s]),
        launch=0,
        landing=landing,
    )
    floor = SimpleNamespace(flown=flown)

    assert _open(floor, 1, 1) is excused


@pytest.mark.parametrize(("above", "lowest"), [(None, None), ("centre", 10.0)])
def test_the_height_may_count_above_a_named_place(above, lowest):
    """By hand: 50 m above ground at 600 m are 10 m above a target that lies at 640 m."""
    found = findings(flight(dip(600, 50.0), ground_m=600.0), above=above)

    assert [f.measured for f in found] == [pytest.approx(lowest, abs=0.01)] * len(found)
    assert bool(found) is (lowest is not None)


def low_twice(between_s, *, every=None, keep=None):
    """Two low stretches of 20 s, 10 m too low, and so many seconds high between."""
    first = 600.0
    second = first + 20 + between_s
    points = [(0, 0), (60, 150)]
    for at_s in (first, second):
        points += [(at_s - 4, 150), (at_s, 12.86), (at_s + 20, 12.86), (at_s + 24, 150)]
    flown = flight([*points, (1500, 150), (1600, 0)])
    return flown if keep is None else at_fixes(flown, keep)


def at_fixes(flown, keep):
    """A track with some of its fixes alone; `keep` takes seconds after the launch."""
    chosen = np.flatnonzero(keep(flown.time_s - START_S - 60))
    ends = np.searchsorted(chosen, [flown.launch, flown.landing]).tolist()
    return replace(columns.rows(flown, chosen), launch=ends[0], landing=ends[1])


def test_a_breach_in_a_pause_of_the_log_is_only_possible_one_beside_it_certain():
    """Only fixes before 605 s and after 700 s: 5 s low, then nothing, then high."""
    paused = at_fixes(low_twice(300), lambda s: (s < 605) | (s > 700))
    (first, second) = findings(paused)
    assert (
        first.verdict is Verdict.CERTAIN
    )  # five fixes of the dip show it by themselves
    assert second.verdict is Verdict.CERTAIN

    hidden = at_fixes(low_twice(300), lambda s: (s < 601) | (s > 700))
    (first, second) = findings(hidden)
    assert first.verdict is Verdict.POSSIBLE
    assert first.says.get("doubt").kind == "doubt-pause"
    assert second.verdict is Verdict.CERTAIN


@pytest.mark.parametrize(
    ("fixes", "verdict"), [(2, Verdict.POSSIBLE), (3, Verdict.CERTAIN)]
)
def test_three_fixes_on_end_are_the_fewest_that_make_a_breach_certain(fixes, verdict):
    """A fix every second, but 40 s of pause on both sides of the low ones."""
    low = at_fixes(
        flight(dip(600, 10.0, half_s=60.0, side_s=4.0)),
        lambda s: (
            (np.abs(s - 600) < 60) & (np.abs(s - 600.0) <= (fixes - 1) / 2)
            | (np.abs(s - 600) > 64)
        ),
    )
    (found,) = findings(low, least_time_s=0.0)
    assert found.verdict is verdict


def test_how_deep_it_was_in_sigmas_is_told_as_a_number():
    (found,) = findings(flight(dip(600, 18.4)))
    told = found.details["decisive_depth_sigmas"]
    assert told == pytest.approx((FLOOR_M - 18.4) / 0.7)  # sigma of the track
    assert found.details["tolerance_m"] == 0.0
    assert found.details["least_time_s"] == 3.0
    assert found.details["lowest_at_s"] == pytest.approx(START_S + 60 + 590, abs=21)


@pytest.mark.parametrize(
    ("above", "counted"),
    [
        ((50, 350), (50, 350)),  # climb-out and last descent end where it is high
        ((200, 350), (131, 350)),  # 120 s after the launch at 10, at the latest
        ((50, 150), (50, 209)),  # 180 s before the last fix in the air, at the earliest
        ((300, 300), (131, 209)),  # never high
        ((50, 51), (50, 209)),
    ],
)
def test_between_climb_out_and_last_descent_counts(above, counted):
    """A fix a second, in the air from 10 to 389."""
    flown = track(np.arange(400.0), 0.0, 0.0, launch=10, landing=390)
    near = np.ones(400, dtype=bool)
    near[slice(*above)] = False
    wanted = np.zeros(400, dtype=bool)
    wanted[slice(*counted)] = True
    assert (counted_span(flown, near) == wanted).all()


@pytest.mark.parametrize(
    ("above_m", "sigma_m", "tolerance_m", "near"),
    [
        (0.9, 0.1, 0.0, True),  # within a metre
        (1.1, 0.1, 0.0, False),
        (9.0, 5.0, 0.0, True),  # within two sigmas
        (11.0, 5.0, 0.0, False),
        (5.0, 5.0, 4.0, True),  # two sigmas count from the limit, the metre does not
        (7.0, 5.0, 4.0, False),
        (0.9, 0.1, 4.0, True),
    ],
)
def test_near_the_minimum_is_within_a_metre_of_it_or_two_sigmas_of_the_limit(
    above_m, sigma_m, tolerance_m, near
):
    flown = track([0.0], 0.0, FLOOR_M + above_m, sigma_m=sigma_m)
    rule = FloorRule(height_m=FLOOR_M, tolerance_m=tolerance_m)
    height = np.array([FLOOR_M + above_m])
    assert _near(flown, height, FLOOR_M, rule).tolist() == [near]


@pytest.mark.parametrize(
    ("first", "last", "out", "part"),
    [
        (2, 4, (), (1, 6)),
        (2, 4, (1,), (2, 6)),
        (2, 4, (5,), (1, 5)),
        (2, 4, (0, 6, 7), (1, 6)),
        (0, 4, (), (0, 6)),
        (2, 7, (), (1, 8)),
        (2, 6, (), (1, 8)),
        (1, 6, (0, 7), (1, 7)),
    ],
)
def test_an_episode_takes_in_the_fix_on_either_side_where_the_minimum_holds(
    first, last, out, part
):
    holds, basket = np.ones(8, dtype=bool), np.zeros(8)
    holds[list(out)] = False
    floor = SimpleNamespace(holds=holds, basket_m=basket)
    assert _with_neighbours(floor, first, last) == slice(*part)
    basket[list(out)] = np.nan
    unknown = SimpleNamespace(holds=np.ones(8, dtype=bool), basket_m=basket)
    assert _with_neighbours(unknown, first, last) == slice(*part)


@pytest.mark.parametrize(
    ("task", "others", "end", "leg"),
    [
        (1, {2: 50.0}, 20.0, (0, 20)),
        (2, {1: 20.0}, 50.0, (20, 50)),
        (3, {1: 20.0, 2: 50.0}, 80.0, (50, 80)),
        (3, {1: 50.0, 2: 20.0}, 80.0, (50, 80)),  # whatever their numbers
        (3, {1: 20.0, 2: 90.0}, 80.0, (20, 80)),
        (3, {1: 20.0, 2: 50.0}, None, (50, 100)),  # what follows the last entry
        (3, {1: None, 2: 50.0}, None, (0, 0)),  # is of the first that got nowhere
        (1, {2: 20.0, 3: None}, None, (20, 100)),
        (2, {1: 50.0}, 50.0, (0, 0)),  # one area: the leg of the first
        (1, {2: 50.0}, 50.0, (0, 50)),
        (1, {}, None, (0, 100)),
    ],
)
def test_a_leg_goes_from_the_area_entered_before_to_its_own(task, others, end, leg):
    flown = track(np.arange(100.0), 0.0, 0.0)
    entered = {n: None if s is None else START_S + s for n, s in others.items()}
    own = None if end is None else START_S + end
    tasks = [SimpleNamespace(number=n) for n in sorted({task, *others})]
    circumstances = SimpleNamespace(
        tasks=tasks, task=next(t for t in tasks if t.number == task)
    )
    found = np.flatnonzero(_leg(flown, circumstances, entered, own))
    assert found.tolist() == list(range(*leg))


def test_heights_unknown_for_ten_seconds_in_all_are_told_from_when_on():
    """Pauses of the log count as half a minute at most."""
    steps = np.array([0.0, 4.0, 8.0, 100.0, 104.0])
    flown = track(steps, 0.0, 100.0, launch=0, landing=4)
    circumstances = about(book())

    def told(*which):
        where = np.zeros(5, dtype=bool)
        where[list(which)] = True
        found = unknown_heights(flown, where, circumstances, partial(fact, "said"))
        return [m.says for m in found]

    assert told(0, 1) == []  # 8 s
    (says,) = told(1, 2)  # 4 + 30 s
    assert says.get("lasts") == 34.0
    assert says.get("start") == START_S + 4
    assert told(4) == []  # the last fix lasts nothing
