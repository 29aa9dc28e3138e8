"""Touching the ground: the landing, the touch in passing, and what is neither."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from scorer.checks.contact import (
    PASS_M,
    SINK_M,
    ContactSigns,
    _height_weight,
    check_contact,
)
from scorer.event.finding import Verdict
from scorer.event.model import PenaltyUnit
from scorer.event.rulebook import ContactRule, PenaltyRule, RuleBook, Until
from scorer.facts import term
from tests.helpers import said
from tests.scorer.checks.invented import START_S, about, flight, track

NO_RESULT = (PenaltyRule(unit="no result"),)


def book(**changes):
    return RuleBook(
        name="test",
        contact=ContactRule(
            **{"within": "scoring-area", "penalty": NO_RESULT, **changes}
        ),
    )


def findings(flown, **changes):
    return check_contact(flown, about(book(**changes))).findings


def passing(low_m, *, keep=1.0, speed_m_s=2.0, **more):
    """Past the centre at 1000 s, sinking to `low_m`; the drift then falls to `keep`."""
    time = np.arange(0.0, 1600.0)
    knots = [0, 60, 950, 994, 1004, 1040, 1500, 1550, 1600]
    height = np.interp(time, knots, [0, 60, 60, low_m, low_m, 60, 60, 0, 0])
    speed = np.full(time.shape, speed_m_s)
    after = np.maximum(time - 994.0, 0.0)
    lost = np.clip(after / 3.0, 0.0, 1.0) * np.exp(-np.maximum(after - 4.0, 0.0) / 12.0)
    speed *= 1.0 - (1.0 - keep) * lost
    speed[time > 1550] = 0.0
    east = np.cumsum(speed) - np.interp(1000.0, time, np.cumsum(speed))
    return track(time, east, height, launch=1, landing=1550, **more)


def test_a_touch_that_takes_half_of_the_drift_is_found():
    (found,) = findings(passing(0.0, keep=0.4))

    assert found.verdict is Verdict.CERTAIN
    assert found.from_s == pytest.approx(START_S + 994, abs=5.0)
    assert found.penalty.unit is PenaltyUnit.NO_RESULT
    height, drift, stop = (v.amount for v in found.says.get("signs"))
    assert found.says.kind == "seen-contact"
    assert found.says.get("sure") == found.probability
    assert (height.kind, drift.kind, stop.kind) == (
        "contact-height",
        "contact-drift",
        "contact-stop",
    )
    assert drift.get("percent") == round(100 * found.details["drift_lost_share"])
    assert stop.get("change") == abs(found.details["vertical_stop_m_s"])
    assert "of the drift lost" in said(found)


def test_nothing_is_measured_below_the_ground():
    """The figure is the one in the sentence, and no penalty by the foot grows by it."""
    (found,) = findings(passing(-0.8, keep=0.4))

    height = found.says.get("signs")[0].amount
    assert found.measured == height.get("height") == 0.0
    assert found.excess == 0.0


def test_a_steady_pass_3_m_above_the_ground_is_no_contact():
    assert findings(passing(3.0)) == ()


def test_a_height_of_nothing_without_any_other_sign_is_not_brought_up():
    """It is likelier that a basket so low did not touch: pilots fly so on purpose."""
    assert findings(passing(0.0, sigma_m=0.35)) == ()


def test_a_height_of_nothing_with_a_small_loss_of_drift_is_possible_only():
    (found,) = findings(passing(0.0, keep=0.75, sigma_m=0.35))

    assert found.verdict is Verdict.POSSIBLE
    assert 0.6 <= found.probability < 0.99


def test_where_the_height_is_not_known_no_loss_of_drift_makes_a_contact_certain():
    (known,) = findings(passing(0.0, keep=0.1, sigma_m=2.9))
    (found,) = findings(passing(0.0, keep=0.1, sigma_m=3.1))

    assert known.verdict is Verdict.CERTAIN
    assert found.verdict is Verdict.POSSIBLE


def test_a_loss_of_drift_well_above_the_ground_is_no_contact():
    assert findings(passing(8.0, keep=0.3)) == ()


def test_outside_the_scoring_area_touching_is_not_against_this_rule():
    flown = passing(0.0, keep=0.4)

    moved = replace(flown, east_m=flown.east_m + 400.0)

    assert findings(moved) == ()


def test_a_named_boundary_or_none_widen_the_rule():
    flown = passing(0.0, keep=0.4)
    moved = replace(flown, east_m=flown.east_m + 400.0)

    touches = [
        [f for f in findings(moved, within=within) if "landing" not in f.details]
        for within in ("field", None)
    ]

    assert [len(t) for t in touches] == [1, 1]


def test_in_a_boundary_for_all_tasks_a_touch_is_found_with_the_first_task_alone():
    later = about(book(within="field"), leads=False)

    assert check_contact(passing(0.0, keep=0.4), later).findings == ()


def test_without_place_and_penalty_the_book_has_no_such_rule():
    assert findings(passing(0.0, keep=0.4), within=None, penalty=()) == ()


def test_after_the_drop_touching_is_free_where_the_book_ends_there():
    flown = passing(0.0, keep=0.4)

    before = check_contact(
        flown, about(book(until=Until.DROP), drop_s=START_S + 1010.0)
    )
    after = check_contact(flown, about(book(until=Until.DROP), drop_s=START_S + 980.0))

    assert len(before.findings) == 1
    assert after.findings == ()


def test_until_the_scoring_area_a_touch_on_the_way_in_counts_and_one_inside_does_not():
    flown = passing(0.0, keep=0.4)
    early = replace(flown, east_m=flown.east_m - 400.0)
    rule = {"within": "field", "until": Until.SCORING_AREA}

    assert findings(flown, **rule) == ()
    assert len(findings(early, **rule)) == 1


def test_landing_in_the_scoring_area_is_a_contact_as_such():
    knots = [(0, 0), (60, 100), (480, 100), (600, 0)]

    (found,) = findings(flight(knots, east_m=-3000.0))

    assert found.verdict is Verdict.CERTAIN
    assert found.details["landing"] == "yes"
    assert found.says.kind == "seen-landing"
    assert found.says["place"] == term("the-scoring-area")
    assert found.from_s == pytest.approx(START_S + 660.0, abs=1.0)


def test_landing_there_after_the_drop_is_free_where_the_book_ends_at_the_drop():
    knots = [(0, 0), (60, 100), (480, 100), (600, 0)]
    rules = about(book(until=Until.DROP), drop_s=START_S + 640.0)

    assert check_contact(flight(knots, east_m=-3000.0), rules).findings == ()


def test_launching_inside_the_area_is_no_contact():
    knots = [(0, 0), (40, 0.5), (100, 100), (480, 100), (600, 0)]

    assert findings(flight(knots, east_m=-100.0, speed_m_s=3.0)) == ()


def test_a_log_without_a_stand_makes_no_contact_certain():
    (found,) = findings(passing(0.0, keep=0.2, anchored=False))

    assert found.verdict is Verdict.POSSIBLE


def test_a_log_that_shows_neither_launch_nor_landing_can_still_show_a_touch():
    flown = passing(0.0, keep=0.4)
    cut = {
        name: getattr(flown, name)[200:1400]
        for name in flown.__slots__
        if isinstance(getattr(flown, name), np.ndarray)
    }

    (found,) = findings(replace(flown, **cut, launch=None, landing=None))

    assert found.from_s == pytest.approx(START_S + 994, abs=5.0)


def test_a_log_that_is_never_low_shows_no_contact():
    assert findings(track(np.arange(100.0), 0.0, 50.0)) == ()


def test_the_way_down_to_a_landing_that_counts_is_told_with_the_landing():
    knots = [(0, 0), (60, 100), (480, 100), (540, 2), (599, 1), (600, 0)]

    (found,) = findings(flight(knots, east_m=-3000.0))

    assert found.details["landing"] == "yes"


def test_a_touch_long_before_a_landing_that_counts_is_told_beside_it():
    knots = [(0, 0), (60, 100), (480, 100), (585, 0), (595, 40), (600, 40), (635, 0)]

    flown = flight(knots, east_m=-3050.0, sigma_m=0.35)
    after = np.maximum(flown.time_s - START_S - 60.0 - 585.0, 0.0)
    lost = 2.5 * np.clip(after / 3.0, 0.0, 1.0) * np.exp(-after / 12.0)
    flown = replace(flown, east_m=flown.east_m - np.cumsum(lost))

    kinds = ["landing" in f.details for f in findings(flown)]

    assert kinds == [False, True]


@pytest.mark.parametrize(("off_m", "told"), [(0.0, ["contact-unknown"]), (800.0, [])])
def test_where_the_ground_is_not_known_the_log_shows_no_contact_and_it_is_told(
    off_m, told
):
    flown = passing(0.0, keep=0.2)
    height = np.where(flown.landing > np.arange(len(flown)), np.nan, flown.height_m)
    unknown = replace(flown, height_m=height, north_m=flown.north_m + off_m)

    seen = check_contact(unknown, about(book(until=Until.EXIT)))

    assert seen.findings == ()
    assert [m.says.kind for m in seen.matters] == told
    assert check_contact(flown, about(book())).matters == ()


def test_where_the_log_pauses_the_drift_says_nothing():
    flown = passing(0.0, keep=0.2)
    keep = np.ones(len(flown), dtype=bool)
    keep[996:1015] = False
    arrays = {
        name: getattr(flown, name)[keep]
        for name in flown.__slots__
        if isinstance(getattr(flown, name), np.ndarray)
    }
    gappy = replace(flown, **arrays, landing=1550 - int((~keep).sum()))

    (found,) = findings(gappy)

    assert "drift_lost_share" not in found.details
    assert found.verdict is Verdict.POSSIBLE


@pytest.mark.parametrize("height", [0.0, 0.8, 2.0, 5.0])
@pytest.mark.parametrize("sigma", [0.3, 0.8, 3.0])
def test_the_weight_of_a_height_is_the_ratio_of_its_two_densities(height, sigma):
    """Second implementation: the law of low passes integrated by quadrature."""
    wide = np.hypot(sigma, SINK_M)
    nothing = np.zeros(1)
    signs = ContactSigns(
        time_s=nothing,
        height_m=np.array([height]),
        sigma_m=np.array([sigma]),
        drift_m_s=nothing,
        loss_m_s=nothing,
        noise_m_s=nothing,
        stop_m_s=nothing,
    )

    (weight,) = _height_weight(signs)

    passing_density, _ = quad(
        lambda u: u / PASS_M**2 * np.exp(-u / PASS_M) * norm.pdf(height, u, wide),
        0.0,
        60.0,
        points=[height],
        limit=200,
    )
    assert weight == pytest.approx(
        norm.logpdf(height, 0.0, wide) - np.log(passing_density), abs=1e-6
    )


def test_landing_breaks_no_rule_where_the_event_names_no_place():
    """An event that forgot `within` must not see every pilot lose the result."""
    flown = passing(30.0)

    assert findings(flown, within=None) == ()
