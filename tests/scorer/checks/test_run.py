"""All checks together: order, scope, one identifier each, fit for another process."""

import pickle
from dataclasses import replace

from scorer.checks.airspace import AIRSPACE
from scorer.checks.base import (
    Check,
    PlacedMark,
    Scope,
    Seen,
    declared_checks,
    dropped_s,
    in_air,
    verdict_of,
)
from scorer.checks.boundary import BOUNDARY
from scorer.checks.floor import FLOOR
from scorer.checks.night import NIGHT
from scorer.checks.run import run_checks
from scorer.event import place_kinds
from scorer.event.finding import Verdict, finding_kinds
from scorer.event.model import Period, Task
from scorer.event.rulebook import (
    AirspaceRule,
    BoundaryRule,
    ContactRule,
    FindingsRule,
    FloorRule,
    LaunchRule,
    NightRule,
    RuleBook,
)
from scorer.facts import fact
from tests.helpers import said
from tests.scorer.checks.invented import PLACES, START_S, about, flight, track
from tests.scorer.checks.practised import LOW_PASS, practised

HIGH = [(0, 0), (60, 150), (1500, 150), (1600, 0)]
STRICT = RuleBook(
    name="strict",
    floor=FloorRule(height_m=200.0, within="field"),
    contact=ContactRule(within="field"),
    launch=LaunchRule(least_distance_m=6000.0, area="meadow"),
    airspace=AirspaceRule(),
    boundary=BoundaryRule(within="field"),
    night=NightRule(before_sunrise_s=0.0),
)
TASK = Task(
    number=1,
    flight="1",
    kind="FIN",
    targets=("centre",),
    scoring_areas=("scoring area",),
    launch_period=Period(start_s=START_S - 900.0, end_s=START_S),
    scoring_period=Period(start_s=START_S, end_s=START_S + 600.0),
)
STRICT_RULES = about(
    STRICT,
    task=TASK,
    drop_s=START_S + 1060.0,
    prohibited=tuple(p for p in PLACES if p.kind is place_kinds.PROHIBITED),
)


def test_one_flight_that_breaks_every_rule_has_a_finding_of_each_kind():
    """Sunrise at the centre of our world is 05:50 UTC; the flight starts at 04:01."""
    early = flight(HIGH)
    early = replace(early, time_s=early.time_s - 7200.0)
    task = replace(TASK, launch_period=Period(start_s=0.0, end_s=START_S - 9000.0))
    rules = replace(STRICT_RULES, task=task, drop_s=START_S + 1000.0)

    findings, _ = run_checks(early, rules)

    declared = {kind.name for kind in finding_kinds()}
    assert {f.kind.name for f in findings} == declared - {"late-declaration"}
    assert len(findings) >= 9
    assert len({f.id for f in findings}) == len(findings)
    for found in findings:
        assert found.evidence == early.log
        assert found.sha256 == early.sha256
        assert found.rule
        assert said(found).endswith(".")
        assert 0.0 <= found.probability <= 1.0
        assert found.excess >= 0.0


def test_the_same_flight_gives_the_same_findings_in_the_same_order():
    first = run_checks(flight(HIGH), STRICT_RULES)
    second = run_checks(flight(HIGH), STRICT_RULES)

    assert first == second


def test_checks_of_the_flight_as_a_whole_run_with_its_first_task_only():
    findings, warnings = run_checks(flight(HIGH), replace(STRICT_RULES, leads=False))

    whole = {check.name for check in declared_checks() if check.scope is Scope.FLIGHT}
    assert whole == {
        "night",
        "airspace",
        "boundary",
        "retry",
        "log gaps",
        "log clock",
    }
    kinds = {f.kind for f in findings}
    assert not kinds & {NIGHT, AIRSPACE, BOUNDARY}
    assert FLOOR in kinds
    assert warnings == ()


def test_a_book_without_rules_finds_nothing():
    assert run_checks(flight(HIGH), about()) == ((), ())


def test_circumstances_and_findings_travel_between_processes():
    rules = pickle.loads(pickle.dumps(STRICT_RULES))

    there = pickle.loads(pickle.dumps(run_checks(flight(HIGH), rules)))

    assert there == run_checks(flight(HIGH), STRICT_RULES)


def test_of_two_findings_that_begin_in_one_second_the_worse_stays_and_tells_of_both():
    (found, *_), _ = run_checks(flight(HIGH), STRICT_RULES)
    lesser = replace(found, excess=found.excess / 2, says=fact("mark-fits-nobody"))
    both = Check("both", Scope.TASK, lambda *_: Seen(findings=(lesser, found)))

    (kept,), _ = run_checks(flight(HIGH), STRICT_RULES, [both])

    assert kept.excess == found.excess
    assert kept.says.kind == "at-once"
    assert kept.says.get("worse") == found.says
    assert kept.says.get("other") == lesser.says
    assert said(kept) == f"{said(found)} At the same time: {said(lesser)}"


def test_findings_less_likely_than_the_book_wants_are_let_pass_and_say_so():
    (found, *_), _ = run_checks(flight(HIGH), STRICT_RULES)
    doubtful = replace(found, verdict=Verdict.POSSIBLE, probability=0.1)
    certain = replace(doubtful, verdict=Verdict.CERTAIN, from_s=found.from_s + 60.0)
    seen = Check("seen", Scope.TASK, lambda *_: Seen(findings=(doubtful, certain)))
    wanted = replace(STRICT, findings=FindingsRule(least_probability=0.2))

    (passed, kept), _ = run_checks(flight(HIGH), about(wanted, task=TASK), [seen])
    (brought_up, _), _ = run_checks(flight(HIGH), about(STRICT, task=TASK), [seen])

    assert (passed.verdict, passed.penalty) == (Verdict.CLEAR, None)
    assert passed.says.kind == "not-brought-up"
    assert passed.says.get("least") == 0.2
    assert passed.says.get("seen") == found.says
    assert "less likely than 20 %" in said(passed)
    assert kept.verdict is Verdict.CERTAIN
    assert brought_up == doubtful


def test_an_invented_flight_that_keeps_the_rules_has_no_certain_finding():
    """The way in is never under 30 m in this one."""
    book = RuleBook(
        name="festival",
        floor=FloorRule(height_m=12.0, within="field", least_time_s=3.0),
        contact=ContactRule(within="scoring-area"),
    )

    findings, _ = run_checks(practised(700, LOW_PASS).flown, about(book))

    assert not [f for f in findings if f.verdict is Verdict.CERTAIN]


def mark(east_m=0.0, time_s=None):
    return PlacedMark(
        task=1, pilot=7, east_m=400_000.0 + east_m, north_m=4_600_000.0, time_s=time_s
    )


def test_the_time_of_the_drop_is_the_stated_then_the_noted_then_the_nearest_pass():
    flown = flight(HIGH)

    assert dropped_s(flown, about(drop_s=5.0, marks=(mark(time_s=9.0),))) == 5.0
    assert dropped_s(flown, about(marks=(mark(), mark(time_s=9.0)))) == 9.0
    assert dropped_s(flown, about(marks=(mark(),))) == START_S + 1060.0
    assert dropped_s(flown, about()) is None
    far = mark(9000.0)
    assert dropped_s(flown, about(marks=(far,))) is None


def test_a_log_without_a_flight_has_no_nearest_pass():
    still = track([0.0, 1.0], [0.0, 0.0], [0.0, 0.0], launch=0, landing=0)

    assert dropped_s(still, about(marks=(mark(),))) is None


def test_without_launch_or_landing_the_whole_log_is_taken_as_flown():
    flown = track([0.0, 1.0, 2.0], [0.0, 0.0, 0.0], [9.0, 9.0, 9.0])

    assert in_air(flown) == slice(0, 3)
    assert in_air(replace(flown, launch=1, landing=2)) == slice(1, 2)


def test_verdicts_turn_at_the_named_thresholds():
    assert verdict_of(0.029) is Verdict.CLEAR
    assert verdict_of(0.03) is Verdict.POSSIBLE
    assert verdict_of(0.99) is Verdict.CERTAIN
    assert verdict_of(1.0, sure=False) is Verdict.POSSIBLE
