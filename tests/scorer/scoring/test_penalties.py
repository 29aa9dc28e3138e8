"""Rulings on findings: what counts, what waits, what is stray."""

from dataclasses import replace
from datetime import date
from types import SimpleNamespace
from zoneinfo import ZoneInfo

import pytest

from scorer.checks.contact import GROUND_CONTACT
from scorer.checks.floor import FLOOR
from scorer.event import matters
from scorer.event.finding import Amount, Finding, Verdict, read_id
from scorer.event.model import Decision, PenaltyUnit, Ruling, Units
from scorer.event.moments import Clock
from scorer.event.raw import RawRow
from scorer.event.reading import Faults
from scorer.event.rows import Known, read_ruling
from scorer.facts import fact
from scorer.scoring.penalties import first, rule_on, total
from scorer.scoring.results import RulingState
from tests.helpers import said

POINTS, METRES = PenaltyUnit.TASK_POINTS, PenaltyUnit.METRES
KNOWN = Known(
    pilots={7: object()},
    places={},
    tasks={1: SimpleNamespace(flight="f1", periods=())},
    flight="f1",
    own=frozenset({1}),
    clock=Clock(date(1970, 1, 12), ZoneInfo("Europe/Madrid")),
    units=Units.IMPERIAL,
)
PROPOSED = Amount(amount=15, unit=POINTS)


def finding(verdict=Verdict.CERTAIN, *, penalty=PROPOSED, at=1_000_000.0, also=()):
    return Finding(
        kind=FLOOR,
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
        says=fact("doubt-unseen"),
    )


def ruling(decision, *, on="floor", amount=None, unit=None, **more):
    return Ruling(
        task=1,
        pilot=7,
        finding=on,
        decision=decision,
        amount=amount,
        unit=unit,
        by="Eva",
        **more,
    )


def made_on(found, decision=Decision.APPLY, *, kind=False, **more):
    """Return a ruling that keeps what it was made on, as the desk records it."""
    row = RawRow(fields={"task": "1", "pilot": "7", "decision": str(decision), **more})
    on = {"finding": "floor" if kind else found.id, **found.ruled_on}
    return read_ruling(replace(row, fields={**row.fields, **on}), KNOWN, Faults())


def old_id(found):
    return f"floor:1:7:{int(found.from_s) % 86400:05d}"


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
    assert "confirmed, by Eva no longer counts" in said(warnings[0])


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


AT = 1_000_000.0
"""1970-01-12, 13:46:40 UTC: `date -u -d @1000000`."""


def test_an_identifier_carries_the_date():
    found = finding(at=AT)

    assert found.id == "floor:1:7:19700112T134640Z"
    assert finding(at=AT + 86_400).id == "floor:1:7:19700113T134640Z"
    assert read_id(found.id).dateless == old_id(found) == "floor:1:7:49600"
    assert read_id(old_id(found)).dateless == old_id(found)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "floor",
        "floor:1:7",
        "floor:1:7:19701312T134640Z",
        "floor:1:7:4960",
        "a:b:c:d",
    ],
)
def test_what_is_no_identifier_names_nothing(text):
    assert read_id(text) is None
    on = text or "nothing"
    if on != "floor":
        (warning,) = [
            w
            for w in counted([finding()], [ruling(Decision.WAIVE, on=on)])[3]
            if w.kind is matters.RULING
        ]
        assert warning.holds_up


def test_a_ruling_keeps_when_and_what_it_was_made_on():
    made = made_on(finding(at=AT))

    assert (made.from_s, made.to_s, made.measured) == (AT, AT + 31, 18.4)
    below = replace(finding(at=AT), measured=-0.3)
    assert made_on(below).measured == pytest.approx(-0.3)
    late = replace(finding(at=AT), measured=75.0, unit="s")
    assert made_on(late).measured == 75.0


@pytest.mark.parametrize("moved_s", [0, 1, -25, 30, 45])
@pytest.mark.parametrize("kind", [False, True], ids=["identifier", "kind"])
def test_a_ruling_stays_with_its_finding_when_the_ends_move(moved_s, kind):
    """The finding lasts 31 s; up to 30 s may lie between the two intervals."""
    was, now = finding(at=AT), finding(at=AT + moved_s)
    other = finding(at=AT + 900)

    points, ruled, _, warnings = counted(
        [now, other], [made_on(was, Decision.WAIVE, kind=kind)]
    )
    assert [r.state for r in ruled] == [RulingState.WAIVE, RulingState.UNRULED]
    assert points == 15
    assert {w.kind for w in warnings} == {matters.UNRULED}


def test_a_ruling_whose_finding_is_gone_takes_no_other_one_and_blocks():
    gone, far = finding(at=AT), finding(at=AT + 62)

    _, ruled, _, warnings = counted([far], [made_on(gone, Decision.WAIVE)])
    assert ruled[0].state is RulingState.UNRULED
    stray = [w for w in warnings if w.kind is matters.RULING]
    assert [w.holds_up for w in stray] == [True]
    assert stray[0].says.kind == "ruling-meets-nothing"
    assert " on flying under the minimum height at " in said(stray[0])
    assert gone.id not in said(stray[0])


def test_a_ruling_on_a_kind_that_was_not_found_says_it_in_words():
    _, _, _, (stray,) = counted([], [ruling(Decision.WAIVE, on=GROUND_CONTACT.name)])
    assert " on ground contact fits nothing" in said(stray)


@pytest.mark.parametrize("moved_s", [0, 3, -12])
def test_an_identifier_of_the_first_version_still_resolves(moved_s):
    was, now = finding(at=AT), finding(at=AT + moved_s)
    other = finding(at=AT + 900)

    _, ruled, _, _ = counted([now, other], [ruling(Decision.WAIVE, on=old_id(was))])
    assert [r.state for r in ruled] == [RulingState.WAIVE, RulingState.UNRULED]


def test_an_old_identifier_resolves_across_midnight():
    was, now = finding(at=86_400.0 * 12 - 2), finding(at=86_400.0 * 12 + 1)

    assert old_id(was).endswith("86398")
    _, ruled, _, _ = counted([now], [ruling(Decision.WAIVE, on=old_id(was))])
    assert ruled[0].state is RulingState.WAIVE


def test_findings_a_day_apart_are_ruled_apart():
    """One waiver cleared both when identifiers had no date."""
    both = [finding(at=AT), finding(at=AT + 86_400)]

    points, ruled, _, _ = counted(both, [made_on(both[0], Decision.WAIVE)])
    assert [r.state for r in ruled] == [RulingState.WAIVE, RulingState.UNRULED]
    assert points == 15


def test_an_old_identifier_that_fits_two_days_joins_neither_and_blocks():
    both = [finding(at=AT), finding(at=AT + 86_400)]

    _, ruled, _, warnings = counted(both, [ruling(Decision.WAIVE, on=old_id(both[0]))])
    assert {r.state for r in ruled} == {RulingState.UNRULED}
    assert [w.kind for w in warnings if w.holds_up].count(matters.RULING) == 1


def test_an_identifier_of_another_pilot_or_task_joins_nothing():
    found = finding(at=AT)
    on = found.id.replace(":7:", ":8:")

    assert counted([found], [ruling(Decision.WAIVE, on=on)])[1][0].ruling is None


def test_one_finding_that_was_two_is_asked_again_where_the_rulings_differ():
    first, second = finding(at=AT), finding(at=AT + 120)
    one = replace(finding(at=AT), to_s=second.to_s)

    def told(*rulings):
        warnings = counted([one], rulings)[3]
        return [w.kind for w in warnings if w.holds_up]

    waived, applied = Decision.WAIVE, Decision.APPLY
    differ = [made_on(first, applied), made_on(second, waived)]
    assert told(*differ) == [matters.RULING]
    assert told(made_on(first, applied), made_on(second, applied)) == []
    amounts = {"amount": "20", "unit": "task points"}
    both = [made_on(f, Decision.SET, **amounts) for f in (first, second)]
    assert told(*both) == [matters.RULING]


def test_two_findings_that_were_one_leave_one_to_rule_on():
    one = replace(finding(at=AT), to_s=AT + 200)
    longer, shorter = replace(finding(at=AT + 2), to_s=AT + 90), finding(at=AT + 150)
    amounts = {"amount": "20", "unit": "task points"}

    _, ruled, _, warnings = counted(
        [longer, shorter], [made_on(one, Decision.SET, **amounts)]
    )
    assert [r.state for r in ruled] == [RulingState.SET, RulingState.UNRULED]
    assert [w.kind for w in warnings if w.holds_up] == [matters.UNRULED]


@pytest.mark.parametrize("decision", [Decision.APPLY, Decision.WAIVE])
def test_a_ruling_made_on_another_value_is_asked_again(decision):
    """Three sigma are 2.1 m here."""
    made = made_on(finding(at=AT), decision)
    near, far = (replace(finding(at=AT), measured=value) for value in (16.4, 16.2))

    assert counted([near], [made])[3] == ()
    (warning,) = counted([far], [made])[3]
    assert (warning.kind, warning.holds_up) == (matters.RULING, True)
    assert "when the log showed 18.4 m; it shows 16.2 m now" in said(warning)


def test_an_applied_ruling_that_costs_nothing_any_more_blocks():
    """A tolerance set later makes the finding clear: the ruling must not vanish."""
    passed = finding(Verdict.CLEAR, penalty=None, at=AT)

    points, _, _, warnings = counted([passed], [ruling(Decision.APPLY)])
    assert points == 0
    assert [(w.kind, w.holds_up) for w in warnings] == [(matters.RULING, True)]
    assert warnings[0].says.kind == "ruling-costs-nothing"
    assert counted([passed], [ruling(Decision.WAIVE)])[3] == ()


@pytest.mark.parametrize(("amount", "kinds"), [(150, ["amount-unusual"]), (20, [])])
def test_an_amount_set_ten_times_the_proposed_one_is_asked_about(amount, kinds):
    own = ruling(Decision.SET, amount=amount, unit=POINTS)

    (ruled,), _, asked = rule_on([finding()], [own], "f1")

    assert [m.says.kind for m in asked] == kinds
    assert ruled.charges[0].amount.amount == amount
