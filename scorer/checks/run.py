"""The list of all checks, in the order in which their findings are told."""

from collections.abc import Iterable
from dataclasses import replace

from scorer.checks.airspace import check_airspace
from scorer.checks.base import Check, Circumstances, Scope
from scorer.checks.boundary import check_boundary
from scorer.checks.clock import check_clock
from scorer.checks.contact import check_contact
from scorer.checks.floor import check_floor
from scorer.checks.gaps import check_gaps
from scorer.checks.launch import (
    check_launch_area,
    check_launch_distance,
    check_launch_period,
)
from scorer.checks.night import check_night
from scorer.checks.retry import check_retry
from scorer.checks.scoring_period import check_scoring_period
from scorer.event.finding import Finding, Verdict
from scorer.event.matter import Matter
from scorer.event.rulebook import RuleBook
from scorer.facts import chance, fact, inner
from scorer.tracks.flown import Flown

CHECKS: tuple[Check, ...] = (
    Check("launch distance", Scope.TASK, check_launch_distance),
    Check("launch area", Scope.TASK, check_launch_area),
    Check("launch period", Scope.TASK, check_launch_period),
    Check("night", Scope.FLIGHT, check_night),
    Check("floor", Scope.TASK, check_floor),
    Check("ground contact", Scope.TASK, check_contact),
    Check("scoring period", Scope.TASK, check_scoring_period),
    Check("airspace", Scope.FLIGHT, check_airspace),
    Check("boundary", Scope.FLIGHT, check_boundary),
    Check("retry", Scope.FLIGHT, check_retry),
    Check("log gaps", Scope.FLIGHT, check_gaps),
    Check("log clock", Scope.FLIGHT, check_clock),
)


def run_checks(
    flown: Flown, about: Circumstances, checks: Iterable[Check] = CHECKS
) -> tuple[tuple[Finding, ...], tuple[Matter, ...]]:
    """Run all checks of a task on one log; those of a whole flight with its first task.

    The order is that of the list, then of time; the same input gives the same order.
    No two findings have the same identifier: of two that begin in the same second the
    one farther beyond its limit stays, and tells of the other.
    """
    findings: dict[str, Finding] = {}
    told: list[Matter] = []
    for check in checks:
        if check.scope is Scope.FLIGHT and not about.leads:
            continue
        seen = check.run(flown, about)
        told += seen.matters
        for found in seen.findings:
            other = findings.get(found.id)
            findings[found.id] = found if other is None else _worse(other, found)
    return tuple(_weighed(f, about.book) for f in findings.values()), tuple(told)


def _weighed(finding: Finding, book: RuleBook) -> Finding:
    """Let a finding pass that is less likely than the book wants brought up."""
    least = book.findings.least_probability
    if finding.verdict is not Verdict.POSSIBLE or finding.probability >= least:
        return finding
    return replace(
        finding,
        verdict=Verdict.CLEAR,
        penalty=None,
        also=(),
        sums=(),
        says=fact("not-brought-up", seen=inner(finding.says), least=chance(least)),
    )


def _worse(one: Finding, other: Finding) -> Finding:
    first, second = sorted((one, other), key=lambda f: f.excess, reverse=True)
    both = fact("at-once", worse=inner(first.says), other=inner(second.says))
    return replace(first, says=both)
