"""What officials made of findings, and what it costs."""

from collections.abc import Iterable, Sequence

from scorer.event import matters
from scorer.event.finding import Amount, Finding, Verdict
from scorer.event.matter import Matter
from scorer.event.model import Decision, PenaltyUnit, Ruling
from scorer.facts import Fact, fact, inner, listed, several, term, words
from scorer.scoring.results import Charge, RuledFinding, RulingState


def rule_on(
    findings: Sequence[Finding], rulings: Sequence[Ruling], flight: str
) -> tuple[tuple[RuledFinding, ...], tuple[Charge, ...], tuple[Matter, ...]]:
    """Join the findings and rulings of one pilot in one task.

    A ruling names a finding by identifier or by kind; by kind it means all of them.  Of
    several rulings on one finding the last counts.  Without a ruling a certain finding
    is charged provisionally and a possible one is not; a clear one needs none.

    Returns
    -------
    The ruled findings, the penalties imposed without a finding, and warnings: findings
    without a ruling, rulings that meet no finding or that a later one replaces.
    """
    ruled = tuple(_ruled(f, _last(f, rulings)) for f in findings)
    warnings = [w for f in findings for w in _replaced(f, _fitting(f, rulings))]
    warnings += [_unruled(r.finding) for r in ruled if _needs_ruling(r)]
    warnings += [
        _stray(ruling, flight)
        for ruling in rulings
        if ruling.decision is not Decision.IMPOSE
        and not any(_names(ruling, f) for f in findings)
    ]
    imposed = tuple(
        _charge("", _set(ruling), ruling, _cited(ruling))
        for ruling in rulings
        if ruling.decision is Decision.IMPOSE
    )
    return ruled, imposed, tuple(warnings)


def _names(ruling: Ruling, finding: Finding) -> bool:
    return ruling.finding in {finding.id, str(finding.kind)}


def _fitting(finding: Finding, rulings: Iterable[Ruling]) -> list[Ruling]:
    return [
        r for r in rulings if r.decision is not Decision.IMPOSE and _names(r, finding)
    ]


def _last(finding: Finding, rulings: Iterable[Ruling]) -> Ruling | None:
    fitting = _fitting(finding, rulings)
    return fitting[-1] if fitting else None


def _replaced(finding: Finding, rulings: Sequence[Ruling]) -> list[Matter]:
    """Tell of earlier rulings on a finding that decide otherwise than the last."""
    if not rulings:
        return []
    last = rulings[-1]
    same = (last.decision, last.amount, last.unit)
    others = [r for r in rulings if (r.decision, r.amount, r.unit) != same]
    return [
        Matter(
            kind=matters.RULING_REPLACED,
            flight=finding.flight,
            task=finding.task,
            pilots=(finding.pilot,),
            says=fact(
                "ruling-replaced",
                earlier=inner(decided(other)),
                last=inner(decided(last)),
            ),
        )
        for other in others
    ]


def _needs_ruling(ruled: RuledFinding) -> bool:
    return ruled.state is RulingState.UNRULED and (
        ruled.finding.verdict is not Verdict.CLEAR
    )


def _ruled(finding: Finding, ruling: Ruling | None) -> RuledFinding:
    state = RulingState.UNRULED if ruling is None else RulingState(ruling.decision)
    charges = tuple(
        Charge(
            finding=finding.id,
            kind=str(finding.kind),
            amount=amount,
            counts=_counts(finding, ruling),
            ruling=state,
            rule=_cited(ruling) or finding.rule,
            figures=figures,
            reason=ruling.reason if ruling else "",
            by=ruling.by if ruling else "",
            at=ruling.at if ruling else "",
        )
        for amount, figures in _amounts(finding, ruling)
    )
    return RuledFinding(finding=finding, state=state, ruling=ruling, charges=charges)


def _counts(finding: Finding, ruling: Ruling | None) -> bool:
    if ruling is None:
        return finding.verdict is Verdict.CERTAIN
    return ruling.decision is not Decision.WAIVE


def _amounts(
    finding: Finding, ruling: Ruling | None
) -> tuple[tuple[Amount, Fact | None], ...]:
    """Return the amounts that a finding costs, each with its sum in figures."""
    amounts = () if finding.penalty is None else (finding.penalty, *finding.also)
    figures = (*finding.sums, *(None for _ in amounts))
    proposed = tuple(zip(amounts, figures, strict=False))
    if ruling is None or ruling.decision is Decision.WAIVE:
        return proposed
    if ruling.decision is Decision.SET or (ruling.unit and not proposed):
        return ((_set(ruling), None),)
    return proposed


def _set(ruling: Ruling) -> Amount:
    if ruling.unit is None:
        raise AssertionError(
            "the reader lets no `set` or `impose` through without unit"
        )
    return Amount(amount=ruling.amount or 0.0, unit=ruling.unit)


def _charge(finding: str, amount: Amount, ruling: Ruling, rule: Fact | None) -> Charge:
    return Charge(
        finding=finding,
        amount=amount,
        counts=True,
        ruling=RulingState(ruling.decision),
        rule=rule,
        reason=ruling.reason,
        by=ruling.by,
        at=ruling.at,
    )


def _cited(ruling: Ruling | None) -> Fact | None:
    """State the rule that an official named; None where nobody did."""
    if ruling is None or not ruling.rule:
        return None
    return fact("rule-in-words", text=words(ruling.rule))


def _unruled(finding: Finding) -> Matter:
    costs = [inner(amount.says) for amount, _ in _amounts(finding, None)]
    now = fact("not-charged-yet")
    if finding.verdict is Verdict.CERTAIN:
        now = fact("no-penalty-set")
        if costs:
            now = fact("charged-for-now", costs=several(costs))
    return Matter(
        kind=matters.UNRULED,
        flight=finding.flight,
        task=finding.task,
        pilots=(finding.pilot,),
        says=fact(
            f"undecided-{finding.kind}",
            seen=inner(finding.says),
            now=inner(now),
        ),
        evidence=(finding.id,),
    )


def _stray(ruling: Ruling, flight: str) -> Matter:
    return Matter(
        kind=matters.RULING,
        flight=flight,
        task=ruling.task,
        pilots=(ruling.pilot,),
        says=fact(
            "ruling-meets-nothing",
            decision=inner(decided(ruling)),
            finding=words(ruling.finding),
        ),
    )


def decided(ruling: Ruling) -> Fact:
    """State what an official decided, and who."""
    return fact(
        "ruled",
        parts=listed(
            (
                term(f"ruling-{ruling.decision}"),
                _set(ruling).says if ruling.unit else None,
                fact("by-whom", who=words(ruling.by)) if ruling.by else None,
            )
        ),
    )


def total(charges: Iterable[Charge], unit: PenaltyUnit) -> float:
    """Add up the charges that count, in one unit."""
    return sum(c.amount.amount for c in charges if c.counts and c.amount.unit is unit)


def first(charges: Iterable[Charge], unit: PenaltyUnit) -> Charge | None:
    """Return the first counting charge of a unit without an amount."""
    return next((c for c in charges if c.counts and c.amount.unit is unit), None)
