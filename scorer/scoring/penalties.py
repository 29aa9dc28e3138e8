"""What officials made of findings, and what it costs."""

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from fractions import Fraction

from scorer.event import matters
from scorer.event.entries import folded
from scorer.event.finding import Amount, Finding, Verdict, finding_kinds, read_id
from scorer.event.matter import Matter, MatterKind
from scorer.event.model import Decision, PenaltyUnit, Ruling
from scorer.event.rulebook import SECTIONS, RuleBook, rules_of
from scorer.facts import (
    Fact,
    Measure,
    Value,
    count,
    fact,
    inner,
    listed,
    moment,
    several,
    term,
    words,
)
from scorer.rounding import Exact, exact
from scorer.scoring.amounts import beside_proposal
from scorer.scoring.joins import apart, joined
from scorer.scoring.results import Charge, RuledFinding, RulingState

UNNAMED = RuleBook(name="")
"""A rule book without values and paragraphs."""
ADDED = frozenset({Decision.IMPOSE, Decision.BONUS})
"""Decisions that take off or give without a finding."""
ALIKE = 0.5
"""Metres or seconds by which a finding may move before a ruling on it is asked again,
where its own uncertainty is smaller (our choice: what rounding in feet hides)."""


def rule_on(
    findings: Sequence[Finding],
    rulings: Sequence[Ruling],
    flight: str,
    book: RuleBook = UNNAMED,
) -> tuple[tuple[RuledFinding, ...], tuple[Charge, ...], tuple[Matter, ...]]:
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
        if ruling.decision.on_finding
    ]
    fitting = [[r for r, own in meant if any(f is o for o in own)] for f in findings]
    both = tuple(zip(findings, fitting, strict=True))
    ruled = tuple(_ruled(f, own[-1] if own else None, book) for f, own in both)
    warnings = [w for f, own in both for w in _replaced(f, own)]
    warnings += [_unruled(r) for r in ruled if _needs_ruling(r)]
    warnings += [_stray(ruling, flight) for ruling, own in meant if not own]
    warnings += [w for r in ruled for w in _overtaken(r)]
    warnings += [w for r in ruled for w in beside_proposal(r)]
    warnings += _imposed_twice(rulings, flight)
    imposed = tuple(
        _charge("", _set(ruling), ruling, _cited(ruling, book))
        for ruling in rulings
        if ruling.decision in ADDED
    )
    return ruled, imposed, tuple(warnings)


def _imposed_twice(rulings: Sequence[Ruling], flight: str) -> list[Matter]:
    """Ask whether a penalty that was added twice is meant twice.

    Twice is with one reason, or by two people, who may say it in words of their own.
    """
    same: dict[object, list[Ruling]] = {}
    for ruling in rulings:
        if ruling.decision in ADDED:
            what = (
                ruling.decision,
                ruling.task,
                ruling.pilot,
                ruling.amount,
                ruling.unit,
            )
            same.setdefault(what, []).append(ruling)
    return [
        Matter(
            kind=matters.RULING,
            flight=flight,
            task=own[0].task,
            pilots=(own[0].pilot,),
            says=fact(
                "penalty-added-again",
                amount=inner(_set(own[0]).says),
                times=count(len(own)),
                who=several(words(name or "?") for name in _people(own)),
            ),
        )
        for own in same.values()
        if len({r.reason for r in own}) < len(own) or len(_people(own)) > 1
    ]


def _people(rulings: Sequence[Ruling]) -> list[str]:
    """Return who decided, each once."""
    return list({folded(r.by): r.by for r in rulings}.values())


def _replaced(finding: Finding, rulings: Sequence[Ruling]) -> list[Matter]:
    """Tell of earlier rulings on a finding that decide otherwise than the last."""
    if not rulings:
        return []
    last = rulings[-1]
    same = (last.decision, last.amount, last.unit)
    told = []
    for other in (r for r in rulings[:-1] if r.decision is not Decision.HOLD):
        differs = (other.decision, other.amount, other.unit) != same
        both = {"earlier": inner(decided(other)), "last": inner(decided(last))}
        if apart(other, last, finding.from_s) and (
            differs or last.decision is Decision.SET
        ):
            told.append(
                _about(finding, matters.RULING, fact("rulings-now-on-one", **both))
            )
        elif differs:
            told.append(
                _about(
                    finding, matters.RULING_REPLACED, fact("ruling-replaced", **both)
                )
            )
    return told


def _overtaken(ruled: RuledFinding) -> list[Matter]:
    """Tell of a ruling that costs nothing any more, or was made on another value."""
    finding, ruling = ruled.finding, ruled.ruling
    if ruling is None:
        return []
    told, seen = [], inner(finding.says)
    if ruling.decision is Decision.APPLY and not ruled.charges:
        told.append(
            fact("ruling-costs-nothing", ruling=inner(decided(ruling)), seen=seen)
        )
    if _moved(ruling, finding):
        measure = MEASURES[finding.unit]
        told.append(
            fact(
                "ruling-on-another-value",
                ruling=inner(decided(ruling)),
                was=Value(measure, ruling.measured or 0.0),
                now=Value(measure, finding.measured or 0.0),
                seen=seen,
            )
        )
    return [_about(finding, matters.RULING, says) for says in told]


MEASURES = {"m": Measure.HEIGHT, "s": Measure.SPAN}


def _moved(ruling: Ruling, finding: Finding) -> bool:
    """Tell whether a finding showed another value when it was ruled on."""
    if ruling.measured is None or finding.measured is None:
        return False
    return abs(ruling.measured - finding.measured) > max(ALIKE, 3 * finding.sigma)


def _about(finding: Finding, kind: MatterKind, says: Fact) -> Matter:
    return Matter(
        kind=kind,
        flight=finding.flight,
        task=finding.task,
        pilots=(finding.pilot,),
        says=says,
        evidence=(finding.id,),
    )


def _needs_ruling(ruled: RuledFinding) -> bool:
    return ruled.state.is_open and (ruled.finding.verdict is not Verdict.CLEAR)


def _ruled(finding: Finding, ruling: Ruling | None, book: RuleBook) -> RuledFinding:
    state = RulingState.UNRULED if ruling is None else RulingState(ruling.decision)
    charges = tuple(
        Charge(
            finding=finding.id,
            kind=str(finding.kind),
            amount=amount,
            counts=_counts(finding, ruling),
            ruling=state,
            rule=_cited(ruling, book) or finding.rule,
            figures=figures,
            reason=ruling.reason if ruling else "",
            by=ruling.by if ruling else "",
            at=ruling.at if ruling else "",
        )
        for amount, figures in _amounts(finding, ruling)
    )
    return RuledFinding(finding=finding, state=state, ruling=ruling, charges=charges)


def _counts(finding: Finding, ruling: Ruling | None) -> bool:
    if ruling is None or ruling.decision is Decision.HOLD:
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
    amount = ruling.amount or 0.0
    given = ruling.decision is Decision.BONUS
    return Amount(amount=-amount if given else amount, unit=ruling.unit)


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


def cited(text: str, book: RuleBook) -> Fact:
    """State the rule that somebody wrote: a paragraph, or a rule of the event by name."""
    section, _, key = text.strip().partition(".")
    if section in SECTIONS and key in rules_of(section):
        return fact("rule-named", rule=book.named(text.strip()))
    return fact("rule-in-words", text=words(text))


def _cited(ruling: Ruling | None, book: RuleBook) -> Fact | None:
    """State the rule that an official named; None where nobody did."""
    if ruling is None or not ruling.rule:
        return None
    return cited(ruling.rule, book)


def _unruled(ruled: RuledFinding) -> Matter:
    finding, held = ruled.finding, ruled.ruling
    costs = [inner(amount.says) for amount, _ in _amounts(finding, None)]
    now = fact("not-charged-yet")
    if finding.verdict is Verdict.CERTAIN:
        now = fact("no-penalty-set")
        if costs:
            now = fact("charged-for-now", costs=several(costs))
    what = term(f"finding-{finding.kind}")
    told = {"what": what, "seen": inner(finding.says), "now": inner(now)}
    if held is None:
        return _about(finding, matters.UNRULED, fact("undecided", **told))
    says = fact("undecided-held", ruling=inner(decided(held)), **told)
    return _about(finding, matters.UNRULED, says)


def _stray(ruling: Ruling, flight: str) -> Matter:
    return Matter(
        kind=matters.RULING,
        flight=flight,
        task=ruling.task,
        pilots=(ruling.pilot,),
        says=_meets_nothing(ruling),
    )


def _meets_nothing(ruling: Ruling) -> Fact:
    """State it; where no kind of finding has that name, with the one nearest to it."""
    decision, name = inner(decided(ruling)), ruling.finding.partition(":")[0]
    kinds = [kind.name for kind in finding_kinds()]
    if name in kinds:
        return fact(
            "ruling-meets-nothing",
            decision=decision,
            what=_ruled_on(ruling, name),
            finding=words(ruling.finding),
        )
    meant = get_close_matches(name, kinds, n=1)
    return fact(
        "ruling-on-no-kind",
        decision=decision,
        finding=words(ruling.finding),
        kinds=several(inner(_written(kind)) for kind in meant or kinds),
    )


def _written(kind: str) -> Fact:
    """State what a kind of finding is called, and how a file has it."""
    return fact("kind-written", what=term(f"finding-{kind}"), key=words(kind))


def _ruled_on(ruling: Ruling, kind: str) -> Value:
    """Say what a decision is about: the kind, with its time where one was named."""
    what, named = term(f"finding-{kind}"), read_id(ruling.finding)
    if named is None or not (named.dated and named.start_s):
        return what
    return inner(fact("infringement-at", what=what, at=moment(named.start_s)))


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
    """Add up the charges that count, in one unit, as the decimals they were set in."""
    counting = (c for c in charges if c.counts and c.amount.unit is unit)
    return Exact(sum((exact(c.amount.amount) for c in counting), Fraction(0)))


def first(charges: Iterable[Charge], unit: PenaltyUnit) -> Charge | None:
    """Return the first counting charge of a unit without an amount."""
    return next((c for c in charges if c.counts and c.amount.unit is unit), None)
