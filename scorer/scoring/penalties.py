"""What officials made of findings, and what it costs."""

from collections.abc import Iterable, Sequence

from scorer.event.finding import Amount, Finding, Verdict, Warning_, WarningKind
from scorer.event.model import Decision, PenaltyUnit, Ruling
from scorer.scoring.results import Charge, RuledFinding, RulingState


def rule_on(
    findings: Sequence[Finding], rulings: Sequence[Ruling], flight: str
) -> tuple[tuple[RuledFinding, ...], tuple[Charge, ...], tuple[Warning_, ...]]:
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
        _charge("", _set(ruling), ruling, ruling.rule)
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


def _replaced(finding: Finding, rulings: Sequence[Ruling]) -> list[Warning_]:
    """Tell of earlier rulings on a finding that decide otherwise than the last."""
    if not rulings:
        return []
    last = rulings[-1]
    same = (last.decision, last.amount, last.unit)
    others = [r for r in rulings if (r.decision, r.amount, r.unit) != same]
    return [
        Warning_(
            kind=WarningKind.RULING_REPLACED,
            flight=finding.flight,
            task=finding.task,
            pilot=finding.pilot,
            text=(
                f"{finding.id}: {_said(other)} no longer counts; {_said(last)} was set "
                "down after it and does."
            ),
        )
        for other in others
    ]


def _said(ruling: Ruling) -> str:
    amount = "" if ruling.amount is None else f" {ruling.amount:g}"
    unit = f" {ruling.unit}" if ruling.unit else ""
    by = f" by {ruling.by}" if ruling.by else ""
    return f"the ruling {ruling.decision}{amount}{unit}{by}"


def _needs_ruling(ruled: RuledFinding) -> bool:
    return ruled.state is RulingState.UNRULED and (
        ruled.finding.verdict is not Verdict.CLEAR
    )


def _ruled(finding: Finding, ruling: Ruling | None) -> RuledFinding:
    state = RulingState.UNRULED if ruling is None else RulingState(ruling.decision)
    charges = tuple(
        Charge(
            finding=finding.id,
            amount=amount,
            counts=_counts(finding, ruling),
            ruling=state,
            rule=(ruling.rule if ruling else "") or finding.rule,
            sum=figures,
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


def _amounts(finding: Finding, ruling: Ruling | None) -> tuple[tuple[Amount, str], ...]:
    """Return the amounts that a finding costs, each with its sum in figures."""
    amounts = () if finding.penalty is None else (finding.penalty, *finding.also)
    figures = (*finding.sums, *("" for _ in amounts))
    proposed = tuple(zip(amounts, figures, strict=False))
    if ruling is None or ruling.decision is Decision.WAIVE:
        return proposed
    if ruling.decision is Decision.SET or (ruling.unit and not proposed):
        return ((_set(ruling), ""),)
    return proposed


def _set(ruling: Ruling) -> Amount:
    if ruling.unit is None:
        raise AssertionError(
            "the reader lets no `set` or `impose` through without unit"
        )
    return Amount(amount=ruling.amount or 0.0, unit=ruling.unit)


def _charge(finding: str, amount: Amount, ruling: Ruling, rule: str) -> Charge:
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


def _unruled(finding: Finding) -> Warning_:
    costs = ", ".join(show(a) for a, _ in _amounts(finding, None))
    if finding.verdict is Verdict.CERTAIN:
        now = f"charged provisionally: {costs}" if costs else "the book sets no penalty"
    else:
        now = "not charged unless ruled"
    return Warning_(
        kind=WarningKind.UNRULED,
        flight=finding.flight,
        task=finding.task,
        pilot=finding.pilot,
        text=f"{finding.id} ({finding.verdict}) has no ruling; {now}. {finding.text}",
    )


def _stray(ruling: Ruling, flight: str) -> Warning_:
    return Warning_(
        kind=WarningKind.RULING,
        flight=flight,
        task=ruling.task,
        pilot=ruling.pilot,
        text=(
            f'The ruling {ruling.decision} on "{ruling.finding}" meets no finding of '
            "this pilot in this task. Name the finding by its kind or identifier, or "
            "use impose for a penalty without a finding."
        ),
    )


def show(amount: Amount) -> str:
    """Print a penalty for people: `40 task points`, `50 metres`, `no result`."""
    if amount.unit in {PenaltyUnit.NO_RESULT, PenaltyUnit.DISQUALIFIED}:
        return str(amount.unit)
    return f"{amount.amount:g} {amount.unit}"


def total(charges: Iterable[Charge], unit: PenaltyUnit) -> float:
    """Add up the charges that count, in one unit."""
    return sum(c.amount.amount for c in charges if c.counts and c.amount.unit is unit)


def first(charges: Iterable[Charge], unit: PenaltyUnit) -> Charge | None:
    """Return the first counting charge of a unit without an amount."""
    return next((c for c in charges if c.counts and c.amount.unit is unit), None)
