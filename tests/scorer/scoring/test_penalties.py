"""Rulings on findings: what counts, what waits, what is stray."""

import pytest

from scorer.event import matters
from scorer.event.finding import Amount, Finding, FindingKind, Verdict
from scorer.event.model import Decision, PenaltyUnit, Ruling
from scorer.scoring.penalties import first, rule_on, total
from scorer.scoring.results import RulingState
from tests.helpers import said

POINTS, METRES = PenaltyUnit.TASK_POINTS, PenaltyUnit.METRES
PROPOSED = Amount(amount=15, unit=POINTS)


def finding(verdict=Verdict.CERTAIN, *, penalty=PROPOSED, at=1_000_000.0, also=()):
    return Finding(
        kind=FindingKind.FLOOR,
        flight="f1",
        task=1,
        pilot=7,
        verdict=verdict,
        probability=0.99,
        from_s=at,
        to_s=at + 31,
        measured=18.4,
        limit=22.86,
        unit="m",
        excess=4.46,
        duration_s=31,
        sigma=0.7,
        penalty=penalty,
        also=also,
    )


def ruling(decision, *, on="floor", amount=None, unit=None):
    return Ruling(
        task=1,
        pilot=7,
        finding=on,
        decision=decision,
        amount=amount,
        unit=unit,
        by="Eva",
    )


def counted(findings, rulings=()):
    ruled, imposed, warnings = rule_on(findings, rulings, "f1")
    charges = [c for r in ruled for c in r.charges] + list(imposed)
    return total(charges, POINTS), ruled, charges, warnings


def test_a_certain_finding_is_charged_provisionally_and_waits_for_a_ruling():
    points, ruled, _, warnings = counted([finding()])

    assert points == 15
    assert ruled[0].state is RulingState.UNRULED
    assert [(w.kind, w.holds_up) for w in warnings] == [(matters.UNRULED, True)]


def test_a_possible_finding_counts_only_when_ruled():
    possible = finding(Verdict.POSSIBLE)

    assert counted([possible])[0] == 0
    assert counted([possible])[3]
    assert counted([possible], [ruling(Decision.APPLY)])[0] == 15


def test_a_clear_finding_costs_nothing_and_needs_no_ruling():
    assert counted([finding(Verdict.CLEAR, penalty=None)])[3] == ()


@pytest.mark.parametrize(
    ("decision", "points"), [(Decision.APPLY, 15), (Decision.WAIVE, 0)]
)
def test_apply_takes_the_proposal_and_waive_drops_it(decision, points):
    found, _, charges, warnings = counted([finding()], [ruling(decision)])

    assert (found, warnings) == (points, ())
    assert charges[0].by == "Eva"


def test_set_takes_another_amount():
    rulings = [ruling(Decision.SET, amount=40, unit=POINTS)]

    assert counted([finding()], rulings)[0] == 40


def test_impose_needs_no_finding():
    rulings = [ruling(Decision.IMPOSE, on="", amount=50, unit=METRES)]

    _, _, charges, warnings = counted([], rulings)

    assert (total(charges, METRES), warnings) == (50, ())


def test_the_last_of_several_rulings_counts():
    rulings = [ruling(Decision.APPLY), ruling(Decision.WAIVE)]

    points, _, _, warnings = counted([finding()], rulings)

    assert points == 0
    assert [(w.kind, w.holds_up) for w in warnings] == [
        (matters.RULING_REPLACED, False)
    ]
    assert "the ruling apply by Eva no longer counts" in warnings[0].text


def test_two_rulings_that_say_the_same_are_one():
    assert counted([finding()], [ruling(Decision.APPLY)] * 2)[3] == ()


def test_a_ruling_by_kind_means_all_findings_of_the_kind():
    both = [finding(at=1_000_000.0), finding(at=1_000_900.0)]

    assert counted(both, [ruling(Decision.APPLY)])[0] == 30


def test_a_ruling_by_identifier_means_one_finding():
    both = [finding(at=1_000_000.0), finding(at=1_000_900.0)]

    points, _, _, warnings = counted(both, [ruling(Decision.WAIVE, on=both[0].id)])

    assert points == 15
    assert len(warnings) == 1


def test_a_ruling_that_meets_no_finding_blocks():
    warnings = counted([], [ruling(Decision.APPLY)])[3]

    assert [(w.kind, w.holds_up) for w in warnings] == [(matters.RULING, True)]


def test_applying_where_the_book_sets_no_penalty_takes_the_rulings_amount():
    bare = finding(penalty=None)

    assert counted([bare])[0] == 0
    rulings = [ruling(Decision.APPLY, amount=20, unit=POINTS)]
    assert counted([bare], rulings)[0] == 20


def test_several_penalties_on_one_act_all_count():
    both = finding(also=(Amount(amount=50, unit=METRES),))

    points, _, charges, _ = counted([both])

    assert (points, total(charges, METRES)) == (15, 50)


def test_no_result_is_found_among_the_charges():
    struck = finding(penalty=Amount(amount=0, unit=PenaltyUnit.NO_RESULT))

    _, _, charges, _ = counted([struck])

    assert first(charges, PenaltyUnit.NO_RESULT) is not None
    assert said(charges[0].amount) == "no result"
