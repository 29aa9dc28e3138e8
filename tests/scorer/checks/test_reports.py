"""What officials saw outranks what logs show."""

import pytest

from scorer.checks.contact import GROUND_CONTACT
from scorer.checks.floor import check_floor
from scorer.checks.reports import from_reports
from scorer.event.finding import Verdict
from scorer.event.model import (
    Origin,
    PenaltyUnit,
    Period,
    Report,
    ReportKind,
    Task,
)
from scorer.event.rulebook import ContactRule, FloorRule, PenaltyRule, RuleBook
from tests.helpers import said
from tests.scorer.checks.invented import START_S, about, flight

A_FOOT = (PenaltyRule(unit="task points", per=1.0, of="ft", of_si=0.3048),)
BOOK = RuleBook(
    name="test",
    floor=FloorRule(height_m=22.86, within="field", penalty=A_FOOT),
    contact=ContactRule(
        within="scoring-area", penalty=(PenaltyRule(unit="no result"),)
    ),
)
RULES = about(BOOK)
DIP = [(0, 0), (60, 150), (580, 150), (590, 23.0), (610, 23.0), (620, 150), (1500, 150)]
DIP += [(1600, 0)]


def report(kind, time_s=None, value=None, **more):
    fields = {"task": 1, "pilot": 7, "by": "Official A", **more}
    time = None if time_s is None else START_S + time_s
    return Report(kind=kind, time_s=time, value=value, **fields)


def ruled(*reports, findings=(), rules=RULES):
    return from_reports(reports, findings, rules, pilot=7)


def test_a_reported_touch_is_a_certain_finding_with_its_penalty():
    note = report(
        ReportKind.GROUND_CONTACT,
        1000.0,
        note="dragged",
        origin=Origin(where="flights/1/reports.csv", line=3),
        entered={"by": "Official A", "time": "06:16"},
    )

    (found,) = ruled(note)

    assert found.kind is GROUND_CONTACT
    assert (found.verdict, found.probability) == (Verdict.CERTAIN, 1.0)
    assert found.penalty.unit is PenaltyUnit.NO_RESULT
    assert found.evidence == "reports.csv (Official A, 06:16)"
    assert said(found) == "Official A reported a ground contact."  # remarks are private
    assert found.from_s == START_S + 1000.0


def test_a_reported_height_is_charged_by_its_depth():
    (found,) = ruled(report(ReportKind.LOW, 600.0, 15.0))

    assert found.measured == 15.0
    assert found.excess == pytest.approx(7.86)
    assert found.penalty.amount == 26  # 25.8 ft


def test_a_report_takes_the_place_of_the_logs_finding_of_the_same_act():
    seen = check_floor(flight(DIP), RULES).findings
    assert seen[0].verdict is Verdict.POSSIBLE

    (found,) = ruled(report(ReportKind.LOW, 700.0, 12.0), findings=seen)

    assert found.verdict is Verdict.CERTAIN
    assert found.measured == 12.0
    assert found.sha256 == seen[0].sha256
    assert (found.lat_deg, found.lon_deg) == (seen[0].lat_deg, seen[0].lon_deg)
    # one figure, that of the report, which is charged
    assert found.says.kind == "report-borne-out"
    assert said(found).endswith("The log shows it too.")
    assert "23.0 m" not in said(found)


def test_a_report_without_height_takes_it_from_the_log():
    seen = check_floor(flight(DIP), RULES).findings

    (found,) = ruled(report(ReportKind.LOW), findings=seen)

    assert found.measured == pytest.approx(23.0)
    assert found.from_s == seen[0].from_s
    assert found.excess == 0.0


def test_a_report_of_another_time_stands_beside_the_logs_finding():
    seen = check_floor(flight(DIP), RULES).findings

    found = ruled(report(ReportKind.LOW, 1200.0, 12.0), findings=seen)

    assert [f.verdict for f in found] == [Verdict.POSSIBLE, Verdict.CERTAIN]


def test_two_officials_who_saw_one_act_make_one_finding_and_the_lower_height_counts():
    first = report(ReportKind.LOW, 600.0, 12.0)
    second = report(ReportKind.LOW, 640.0, 9.0, by="Official B")

    (found,) = ruled(first, second)

    assert found.measured == 9.0
    assert "Official A" in said(found)
    assert "Official B" in said(found)


def test_two_reports_of_one_touch_are_one_finding():
    both = (
        report(ReportKind.GROUND_CONTACT, 600.0),
        report(ReportKind.GROUND_CONTACT, 610.0, by="Official B"),
    )

    (found,) = ruled(*both)

    assert found.measured is None
    assert "Also: Official A" in said(found)


def test_reports_of_others_and_of_other_kinds_are_passed_over():
    others = (
        report(ReportKind.LOW, 600.0, 12.0, pilot=8),
        report(ReportKind.LOW, 600.0, 12.0, task=2),
        report(ReportKind.OTHER, 600.0),
        report(ReportKind.NOT_FLOWN),
    )

    assert ruled(*others) == ()


def test_a_report_without_time_counts_from_the_drop_or_the_opening_of_the_task():
    note = report(ReportKind.GROUND_CONTACT)
    task = Task(
        number=1,
        flight="1",
        kind="FIN",
        launch_period=Period(start_s=START_S, end_s=START_S + 900.0),
    )

    times = [
        ruled(note, rules=rules)[0].from_s
        for rules in (
            about(BOOK, drop_s=START_S + 500.0),
            about(BOOK, task=task),
            RULES,
        )
    ]

    assert times == [START_S + 500.0, START_S, 0.0]


def test_without_a_floor_in_the_book_a_low_report_is_told_and_costs_nothing():
    (found,) = ruled(report(ReportKind.LOW, 600.0, 12.0, by=""), rules=about())

    assert (found.limit, found.excess, found.penalty) == (None, 0.0, None)
    assert said(found) == (
        "An official reported flying under the minimum height at 12.0 m."
    )
