"""All checks on one log.

A check is declared by `@check` in a module of its own; this module loads them all.
"""

from collections.abc import Iterable
from dataclasses import replace

from scorer.checks import (
    airspace,
    boundary,
    clock,
    contact,
    floor,
    gaps,
    launch,
    night,
    retry,
    scoring_period,
)
from scorer.checks.base import Check, Circumstances, Scope, declared_checks
from scorer.event.finding import Finding, Verdict
from scorer.event.matter import Matter
from scorer.event.rulebook import RuleBook
from scorer.facts import chance, fact, inner
from scorer.tracks.flown import Flown

DECLARING = (
    airspace,
    boundary,
    clock,
    contact,
    floor,
    gaps,
    launch,
    night,
    retry,
    scoring_period,
)
"""The modules that declare checks: adding one here adds its checks."""


def run_checks(
    flown: Flown, about: Circumstances, checks: Iterable[Check] | None = None
) -> tuple[tuple[Finding, ...], tuple[Matter, ...]]:
    """Run all checks of a task on one log; those of a whole flight with its first task.

    The order is that of the checks' names, then of time: the same input gives the same
    order.  `checks` None = all that are declared.
    No two findings have the same identifier: of two that begin in the same second the
    one farther beyond its limit stays, and tells of the other.
    """
    findings: dict[str, Finding] = {}
    told: list[Matter] = []
    for check in declared_checks() if checks is None else checks:
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
