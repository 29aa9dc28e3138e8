"""What the checks say of many invented flights, against what those flights really did.

The flights pass through invented loggers, the height estimate and the checks as real ones
would.  Wind, levels, sensors, days and terrain errors differ from flight to flight.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from scorer.checks.contact import check_contact
from scorer.checks.floor import check_floor
from scorer.event.finding import Finding, Verdict
from scorer.event.rulebook import ContactRule, FloorRule, RuleBook
from tests.scorer.checks.invented import about
from tests.scorer.checks.practised import LOW_PASS, PASS, TOUCH, practised

FLOOR_M = 22.86
EACH = 40
RULES = about(
    RuleBook(
        name="test",
        floor=FloorRule(height_m=FLOOR_M, within="field", least_time_s=3.0),
        contact=ContactRule(within="scoring-area"),
    )
)


@pytest.fixture(scope="module")
def flights():
    """A third touches the ground near the target, a third passes 3 m over it."""
    return [
        practised(700 + s, kind)
        for kind in (TOUCH, LOW_PASS, PASS)
        for s in range(EACH)
    ]


@dataclass(frozen=True)
class Told:
    """What the floor check said of one flight, and the true breaches."""

    said: tuple[Finding, ...]
    true: tuple[Finding, ...]
    deep: tuple[Finding, ...]
    """Those of the true ones that are over 6 m deep for 10 s or more."""


@pytest.fixture(scope="module")
def floor(flights):
    told = []
    for flight in flights:
        true = tuple(
            f
            for f in check_floor(flight.real, RULES).findings
            if f.verdict is Verdict.CERTAIN
        )
        deep = tuple(f for f in true if _deep_s(flight, f) >= 10.0)
        told.append(Told(check_floor(flight.flown, RULES).findings, true, deep))
    return told


def _deep_s(flight, found):
    time, height = flight.truth.time_s, flight.truth.height_m
    within = (time >= found.from_s) & (time <= found.to_s)
    return np.count_nonzero(within & (height < FLOOR_M - 6.0))


def _meet(one, other, slack_s=5.0):
    return one.from_s - slack_s < other.to_s and other.from_s < one.to_s + slack_s


def test_a_flight_that_kept_the_floor_is_never_called_a_certain_breach(floor):
    """Goal: under 1 %.  One of 683 in a run over 1,200 flights."""
    clean = [t for t in floor if not t.true]
    wrong = [t for t in clean if any(f.verdict is Verdict.CERTAIN for f in t.said)]

    assert len(clean) > 40
    assert not wrong


def test_a_breach_over_6_m_deep_for_10_s_is_always_found(floor):
    deep = [(t, breach) for t in floor for breach in t.deep]

    assert len(deep) > 8
    for told, breach in deep:
        assert any(
            _meet(found, breach) and found.verdict is not Verdict.CLEAR
            for found in told.said
        )


def test_probabilities_of_breaches_mean_what_they_say(floor):
    """In each band the share of true breaches must be what the band says.

    Allowed: three standard errors of that share, and 0.1 for the shape of the band.
    """
    said = [
        (f.probability, any(_meet(f, b) for b in t.true)) for t in floor for f in t.said
    ]
    chance, true = np.array(said, dtype=float).T

    assert len(chance) > 45
    for low, high in ((0.0, 0.2), (0.2, 0.5), (0.5, 0.8), (0.8, 0.99), (0.99, 1.01)):
        band = (chance >= low) & (chance < high)
        if band.sum() < 5:
            continue
        mean = chance[band].mean()
        error = np.sqrt(max(mean * (1.0 - mean), 0.01) / band.sum())
        assert true[band].mean() == pytest.approx(mean, abs=0.1 + 3.0 * error)


def test_the_measured_depth_is_that_of_the_true_breach(floor):
    """Within 1.5 m in 19 of 20: two sigma of heights that are good to some 0.7 m."""
    off = [
        found.measured - breach.measured
        for t in floor
        for breach in t.true
        for found in t.said
        if _meet(found, breach)
    ]

    assert len(off) > 20
    assert np.quantile(np.abs(off), 0.95) < 1.5


def touches(flights, kind):
    return [
        [
            f
            for f in check_contact(flight.flown, RULES).findings
            if "landing" not in f.details
        ]
        for flight in flights
        if flight.kind == kind
    ]


def test_nine_of_ten_ground_contacts_are_found(flights):
    said = touches(flights, TOUCH)

    assert np.mean([len(found) > 0 for found in said]) >= 0.9


def test_the_time_of_a_contact_is_good_to_some_seconds(flights):
    off = [
        found.from_s - flight.truth.contact_s
        for flight in flights
        if flight.kind == TOUCH
        for found in check_contact(flight.flown, RULES).findings
    ]

    assert np.median(np.abs(off)) < 4.0
    assert np.quantile(np.abs(off), 0.9) < 12.0


def test_a_clean_pass_3_m_over_the_ground_is_hardly_ever_called_a_contact(flights):
    """Goal: under 2 %, of which 40 flights allow none."""
    said = touches(flights, LOW_PASS)

    assert sum(len(found) > 0 for found in said) == 0
    assert not any(f.verdict is Verdict.CERTAIN for found in said for f in found)


def test_a_clean_pass_at_any_height_is_never_called_a_certain_contact(flights):
    said = touches(flights, PASS)

    assert not any(f.verdict is Verdict.CERTAIN for found in said for f in found)
