"""What officials saw, as findings that outrank the logs.

A report of a touch or of low flight makes a certain finding.  A finding of the same kind
that a log shows within `SAME_S` of it, or, where the report has no time, any of that
kind, is the same act seen by a worse witness: it gives the report its place and numbers
and is not told a second time.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from scorer.checks.base import Circumstances
from scorer.checks.charge import charge, sums
from scorer.checks.report_log import WITHIN_S as SAME_S
from scorer.checks.report_log import Beside
from scorer.event.finding import Finding, FindingKind, Verdict, finding_kinds
from scorer.event.model import Report
from scorer.event.rulebook import Penalties, RuleBook
from scorer.facts import Fact, fact, height, inner, term, words

EITHER = 0.5
"""Probability where a report and the log contradict each other: nobody knows yet."""


def from_reports(
    reports: Sequence[Report],
    findings: Sequence[Finding],
    about: Circumstances,
    *,
    pilot: int,
    beside: Callable[[Report], Beside | None] = lambda _: None,
) -> tuple[Finding, ...]:
    """Return a pilot's findings in a task with those of officials put in.

    `beside` says where the pilot was at a report.  What his log contradicts is possible
    only, unless the log shows such an act itself.  Reports of other pilots or tasks, and
    of other kinds, are passed over.  Two reports of one act are one finding that names
    both officials; the lower height counts.
    """
    merged = list(findings)
    kinds = {kind.reported: kind for kind in finding_kinds() if kind.reported}
    own = [r for r in reports if r.pilot == pilot and r.task == about.task.number]
    for report in sorted(own, key=lambda r: (r.kind, r.time_s or 0.0, r.by)):
        kind = kinds.get(report.kind)
        if kind is None:
            continue
        new = _with_log(_reported(report, kind, about), beside(report))
        same = [f for f in merged if f.kind is kind and _same(f, report)]
        if same:
            chosen = max(same, key=lambda f: (f.verdict is Verdict.CERTAIN, f.excess))
            new = _joined(new, chosen, report, about)
        merged = [f for f in merged if not any(f is s for s in same)]
        merged.append(new)
    order = {kind: i for i, kind in enumerate(finding_kinds())}
    return tuple(sorted(merged, key=lambda f: (order[f.kind], f.from_s)))


def _with_log(new: Finding, seen: Beside | None) -> Finding:
    """State where the pilot was beside a report."""
    if seen is None:
        return new
    says = fact("report-beside-log", report=inner(new.says), beside=inner(seen.says))
    if not seen.contradicts:
        return replace(new, says=says)
    return replace(new, says=says, verdict=Verdict.POSSIBLE, probability=EITHER)


def _same(found: Finding, report: Report) -> bool:
    if report.time_s is None:
        return True
    return found.from_s - SAME_S <= report.time_s <= found.to_s + SAME_S


def _reported(report: Report, kind: FindingKind, about: Circumstances) -> Finding:
    least = _least_m(kind, about.book)
    measured = report.value if least else None
    limit = least[0] if least else 0.0
    excess = 0.0
    if measured is not None and limit is not None:
        excess = max(limit - measured, 0.0)
    time = _time_s(report, about)
    amounts = charge(_penalties(kind, about), excess)
    return Finding(
        kind=kind,
        flight=about.task.flight,
        task=about.task.number,
        pilot=report.pilot,
        verdict=Verdict.CERTAIN,
        probability=1.0,
        from_s=time,
        to_s=time,
        measured=measured,
        limit=limit,
        unit=kind.unit,
        excess=excess,
        duration_s=0.0,
        sigma=0.0,
        evidence=report.named,
        penalty=amounts[0] if amounts else None,
        also=amounts[1:],
        sums=sums(_penalties(kind, about), excess),
        rule=about.book.cite(kind.rule),
        says=_says(report, measured, remarks=about.remarks),
    )


def _joined(
    new: Finding, seen: Finding, report: Report, about: Circumstances
) -> Finding:
    """Let a report take place, time and, where it has none, height from another finding."""
    heights = [m for m in (new.measured, seen.measured) if m is not None]
    reported = new.measured is not None and not seen.sha256
    measured = min(heights) if reported else new.measured
    if new.measured is None:
        measured = seen.measured
    excess = seen.excess
    if measured is not None and new.limit is not None:
        excess = max(new.limit - measured, 0.0)
    amounts = charge(_penalties(new.kind, about), excess)
    return replace(
        new,
        **_sure(seen),
        from_s=new.from_s if report.time_s is not None else seen.from_s,
        to_s=new.to_s if report.time_s is not None else seen.to_s,
        measured=measured,
        excess=excess,
        duration_s=seen.duration_s,
        sigma=seen.sigma if new.measured is None else new.sigma,
        lat_deg=seen.lat_deg,
        lon_deg=seen.lon_deg,
        evidence=f"{new.evidence}; {seen.evidence}" if seen.evidence else new.evidence,
        sha256=seen.sha256,
        penalty=amounts[0] if amounts else None,
        also=amounts[1:],
        sums=sums(_penalties(new.kind, about), excess),
        says=_both(new, seen),
        details=seen.details,
    )


def _sure(seen: Finding) -> dict[str, Any]:
    """Return how sure a report is that the log bears out, whatever it showed beside."""
    if not seen.sha256 or seen.verdict is Verdict.CLEAR:
        return {}
    return {"verdict": Verdict.CERTAIN, "probability": 1.0}


def _both(new: Finding, seen: Finding) -> Fact:
    """State one breach that two witnesses saw, with the one figure that is charged."""
    if seen.sha256 and new.measured is not None:
        return fact("report-borne-out", report=inner(new.says))
    kind = "report-and-log" if seen.sha256 else "report-and-report"
    return fact(kind, report=inner(new.says), other=inner(seen.says))


def _penalties(kind: FindingKind, about: Circumstances) -> Penalties:
    penalties: Penalties = getattr(about.book, kind.section).penalty
    return penalties


def _least_m(kind: FindingKind, book: RuleBook) -> tuple[float | None] | None:
    """Return the least height a kind's rule sets; None where it sets no height at all."""
    held, how = book.held(kind.rule)
    return (held,) if how.kind == "length" else None


def _time_s(report: Report, about: Circumstances) -> float:
    """Return the report's time; else the drop, else the opening of the task."""
    if report.time_s is not None:
        return report.time_s
    if about.drop_s is not None:
        return about.drop_s
    for period in (about.task.scoring_period, about.task.launch_period):
        if period is not None:
            return period.start_s
    return 0.0


def _says(report: Report, measured: float | None, *, remarks: bool) -> Fact:
    what = fact("reported-what", what=term(f"report-{report.kind}"))
    if measured is not None:
        what = fact(
            "reported-at", what=term(f"report-{report.kind}"), height=height(measured)
        )
    by = words(report.by) if report.by else term("an-official")
    if report.note and remarks:
        return fact(
            "reported-with-note", by=by, what=inner(what), note=words(report.note)
        )
    return fact("reported", by=by, what=inner(what))
