"""How sure places are near a target, against draws and a closed form of their own.

The law of Rice: S. O. Rice, "Mathematical analysis of random noise", Bell System
Technical Journal 24 (1945), as `scipy.stats.rice` has it; here by an integral of its own.
"""

import math

import numpy as np
import pytest

from scorer.scoring.confidence import DRAWS, SEED, _noise, sureness
from scorer.scoring.score import score
from scorer.tasks.base import Apart, Quantity, Together
from tests.scorer.tiny import FIN, tiny, tiny_flight


def rice_below(limit, away, sigma):
    """Chance that a point measured `away` from the target, ± sigma each axis, is nearer."""
    radius = np.linspace(0, limit, 4001)
    turn = radius * away / sigma**2
    density = radius / sigma**2 * np.exp(-((radius - away) ** 2) / (2 * sigma**2))
    density *= np.i0(turn) * np.exp(-turn)
    return float(np.sum((density[1:] + density[:-1]) / 2 * np.diff(radius)))


def wrong_order(a, b, *, greatest=False):
    """Chance that two neighbours swap; each is (value, sigma, apart or None)."""
    values, sigmas = (np.array([x[i] for x in (a, b)], float) for i in (0, 1))
    apart = {i: (x[2], x[0]) for i, x in enumerate((a, b)) if x[2] is not None}
    found = sureness(values, sigmas, greatest=greatest, apart=apart)
    return found.swaps[0][2] if found.swaps else 0.0


def by_receiver(away, sigma):
    return away, sigma, Apart((0.0, away), ((sigma**2, 0.0), (0.0, sigma**2)))


@pytest.mark.parametrize(
    ("away", "tape"), [(0.8, 1.1), (2.0, 3.5), (0.2, 4.0), (9.0, 12)]
)
def test_a_receiver_against_a_tape_swaps_as_rice_says(away, tape):
    found = wrong_order(by_receiver(away, 3.0), (tape, 0.001, None))

    assert found == pytest.approx(1 - rice_below(tape, away, 3.0), abs=0.03)


@pytest.mark.parametrize("count", [1, 64, 65, 5])
def test_any_number_of_results_draws_as_if_it_were_the_only_one(count):
    """Against the generator of numpy, asked for just as many."""
    generator = np.random.Generator(np.random.PCG64(SEED))
    along = generator.standard_normal((DRAWS, count))
    beside = generator.standard_normal((DRAWS, count, 2))

    found = _noise(count, plane=True)

    assert np.array_equal(found[:, 0], along.T)
    assert np.array_equal(found[:, 1:], np.moveaxis(beside, 0, 2))
    assert np.array_equal(_noise(count, plane=False)[:, 0], along.T)


def test_a_long_thin_error_is_drawn_along_its_own_axes():
    """Against draws of (east, north) themselves: 4 m along north-east, 0.5 m across."""
    s = math.sqrt(0.5)
    turn = np.array([[s, s], [s, -s]])
    covariance = turn @ np.diag([16.0, 0.25]) @ turn.T
    apart = Apart((1.0, 1.0), tuple(map(tuple, covariance)))
    rng = np.random.default_rng(3)
    drawn = np.hypot(*rng.multivariate_normal([1.0, 1.0], covariance, 200_000).T)

    found = wrong_order((math.sqrt(2), 4.0, apart), (2.0, 0.0, None))
    assert found == pytest.approx((drawn > 2.0).mean(), abs=0.03)


def test_in_space_the_third_axis_counts():
    apart = Apart((0.0, 0.0, 1.0), ((4.0, 0, 0), (0, 4.0, 0), (0, 0, 4.0)))
    rng = np.random.default_rng(4)
    drawn = np.linalg.norm(rng.normal([0, 0, 1.0], 2.0, (200_000, 3)), axis=1)

    found = wrong_order((1.0, 2.0, apart), (2.5, 0.0, None))
    assert found == pytest.approx((drawn > 2.5).mean(), abs=0.03)


def test_no_distance_is_drawn_below_nothing():
    """A tape of 2 cm ± 1 cm never passes behind a mark that lies in the target."""
    found = wrong_order((0.0, 0.0, None), (0.02, 0.01, None))
    assert found < 0.01


def test_far_from_the_target_both_laws_agree():
    found = wrong_order(by_receiver(200.0, 3.0), (203.0, 0.0, None))
    plain = wrong_order((200.0, 3.0, None), (203.0, 0.0, None))
    assert found == pytest.approx(plain, abs=0.02)


def test_a_whole_task_asks_to_measure_again_what_is_unsure():
    marks = (
        "task,pilot,method,distance,easting,northing\n"
        "1,1,tape,0.40,,\n1,2,grid,,500000.6,4500000.4\n1,3,tape,1.00,,\n"
    )
    task = score(tiny(tiny_flight(tasks=FIN, marks=marks))).tasks[0]
    chance = {(a, b): p for a, b, p in task.remeasure}

    assert (1, 2) not in chance
    assert chance[2, 3] == pytest.approx(
        1 - rice_below(1.0, math.hypot(0.6, 0.4), 3), abs=0.02
    )


@pytest.mark.parametrize(("share", "limit"), [(1.0, 5.0), (0.5, 3.0)])
def test_several_drops_near_the_target_are_each_drawn_in_the_plane(share, limit):
    """Against draws of three markers: two by a receiver, ± 3 m and ± 2 m, one by tape."""
    rng = np.random.default_rng(5)
    drawn = np.hypot(*rng.normal([[0.4], [0.3]], 3.0, (2, 200_000)))
    drawn += np.hypot(*rng.normal([[1.0], [0.0]], 2.0, (2, 200_000)))
    drawn = share * (drawn + np.abs(rng.normal(1.5, 0.5, 200_000)))

    apart = [
        Apart((0.4, 0.3), ((9.0, 0), (0, 9.0))),
        Apart((1.0, 0.0), ((4.0, 0), (0, 4.0))),
    ]
    rows = ((0.5, 3.0, apart[0]), (1.0, 2.0, apart[1]), (1.5, 0.5, None))
    each = tuple(Quantity(*row) for row in rows)
    own = share * 3.0
    found = wrong_order((own, 3.6, Together(share, each)), (limit, 0.0, None))
    assert found == pytest.approx((drawn > limit).mean(), abs=0.03)


def test_a_sum_of_drops_by_receiver_is_drawn_so_in_a_whole_task():
    marks = (
        "task,pilot,method,mark,distance,easting,northing\n"
        "1,1,grid,A,,500000.3,4500000.0\n1,1,grid,B,,500000.0,4500000.4\n"
        "1,2,tape,A,0.40,,\n1,2,tape,B,0.40,,\n"
    )
    tasks = FIN + 'several_marks = "sum"\n'
    task = score(tiny(tiny_flight(tasks=tasks, marks=marks))).tasks[0]
    chance = {(a, b): p for a, b, p in task.remeasure}
    # 0.7 m by a receiver of ± 3 m each is nearly always more than 0.8 m in truth
    assert chance[1, 2] > 0.97
