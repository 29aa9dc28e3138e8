"""What officials made of findings, and what it costs."""

from collections.abc import Iterable, Sequence

from scorer.event.finding import Amount, Finding, Verdict, Warning_, WarningKind
from scorer.event.model import Decision, PenaltyUnit, Ruling
from scorer.scoring.joins import apart, joined
from scorer.scoring.results import Charge, RuledFinding, RulingState

ALIKE = 0.5
"""Metres or seconds by which a finding may move before a ruling on it is asked again,
where its own uncertainty is smaller (our choice: what rounding in feet hides)."""


def rule_on(
    findings: Sequence[Finding], rulings: Sequence[Ruling], flight: str
) -> tuple[tuple[RuledFinding, ...], tuple[Charge, ...], tuple[Warning_, ...]]:
    """Join the findings and rulings of one pilot in one task.

    `joins.joined` says which findings a ruling is about.  Of several rulings on one
    finding the last counts.  Without a ruling a certain finding is charged provisionally
    and a possible one is not; a clear one needs none.

    Returns
    -------
    The ruled findings, the penalties imposed without a finding, and warnings: findings
    without a ruling, rulings that meet no finding, that no longer do what they say, or
    that a later one replaces.
    """
    meant = [
        (ruling, joined(ruling, findings))
        for ruling in rulings
        if ruling.decision is not Decision.IMPOSE
    ]
    fitting = [[r for r, own in meant if any(f is o for o in own)] for f in findings]
    both = tuple(zip(findings, fitting, strict=True))
    ruled = tuple(_ruled(f, own[-1] if own else None) for f, own in both)
    warnings = [w for f, own in both for w in _replaced(f, own)]
    warnings += [_unruled(r.finding) for r in ruled if _needs_ruling(r)]
    warnings += [_stray(ruling, flight) for ruling, own in meant if not own]
    warnings += [w for r in ruled for w in _overtaken(r)]
    imposed = tuple(
        _charge("", _set(ruling), ruling, ruling.rule)
        for ruling in rulings
        if ruling.decision is Decision.IMPOSE
    )
    return ruled, imposed, tuple(warnings)


def _replaced(finding: Finding, rulings: Sequence[Ruling]) -> list[Warning_]:
    """Tell of earlier rulings on a finding that decide otherwise than the last."""
    if not rulings:
        return []
    last = rulings[-1]
    same = (last.decision, last.amount, last.unit)
    warnings = []
    for other in rulings[:-1]:
        differs = (other.decision, other.amount, other.unit) != same
        text = (
            f"{finding.id}: {_said(other)} no longer counts; {_said(last)} was set down "
            "after it and does."
        )
        if apart(other, last, finding.from_s) and (
            differs or last.decision is Decision.SET
        ):
            text += (
                " They were made on two findings that are one now: rule on it again."
            )
            warnings.append(_about(finding, WarningKind.RULING, text))
        elif differs:
            warnings.append(_about(finding, WarningKind.RULING_REPLACED, text))
    return warnings


def _overtaken(ruled: RuledFinding) -> list[Warning_]:
    """Tell of a ruling that costs nothing any more, or was made on another value."""
    finding, ruling = ruled.finding, ruled.ruling
    if ruling is None:
        return []
    told = []
    if ruling.decision is Decision.APPLY and not ruled.charges:
        told.append(
            f"{finding.id}: {_said(ruling)} costs nothing, for there is no penalty to "
            f"apply to this {finding.verdict} finding. Set an amount, waive it, or take "
            f"the ruling back. {finding.text}"
        )
    moved = _moved(ruling, finding)
    if moved:
        told.append(
            f"{finding.id}: {_said(ruling)} was made {moved}. Rule on it again. "
            f"{finding.text}"
        )
    return [_about(finding, WarningKind.RULING, text) for text in told]


def _moved(ruling: Ruling, finding: Finding) -> str:
    """Say what a finding showed when it was ruled on, where that was another value."""
    if ruling.measured is None or finding.measured is None:
        return ""
    if abs(ruling.measured - finding.measured) <= max(ALIKE, 3 * finding.sigma):
        return ""
    was, now = (f"{v:.1f} {finding.unit}" for v in (ruling.measured, finding.measured))
    return f"when it showed {was}; it shows {now} now"


def _about(finding: Finding, kind: WarningKind, text: str) -> Warning_:
    return Warning_(
        kind=kind,
        flight=finding.flight,
        task=finding.task,
        pilot=finding.pilot,
        text=text,
    )


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
    text = f"{finding.id} ({finding.verdict}) has no ruling; {now}. {finding.text}"
    return _about(finding, WarningKind.UNRULED, text)


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
