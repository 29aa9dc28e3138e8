"""Results told: the values, titles and short sentences that all outputs share.

Terminal, sheets, pages and window print a result, a group, a decision or a sum by these
alone, in the words of the catalogue and the units of the event.
"""

import re
from collections.abc import Iterable, Iterator

from scorer.event.finding import Finding, Verdict
from scorer.event.model import Keying, Place
from scorer.event.task_kinds import TASK_KINDS, measure_of
from scorer.facts import (
    Fact,
    Measure,
    Value,
    chance,
    count,
    fact,
    height,
    inner,
    moment,
    number,
    pilot,
    points,
    several,
    task,
    term,
    words,
)
from scorer.facts import parts as facts_within
from scorer.scoring.assemble import decided as made_by
from scorer.scoring.assemble import given
from scorer.scoring.assemble import ruled as ruled_by
from scorer.scoring.entries import entry
from scorer.scoring.results import (
    Charge,
    Guest,
    Results,
    RuledFinding,
    RulingState,
    Score,
    Standing,
    StandingsTable,
    TaskResult,
)
from scorer.words.voice import MINUS, Voice

DASH = "–"
"""Where a table has nothing to show."""


def kind_title(voice: Voice, code: str) -> str:
    """Return the name of a task kind, as a title begins."""
    known = TASK_KINDS.get(code)
    return code if known is None else voice.say(known.title)


def task_title(voice: Voice, own: TaskResult) -> str:
    """Return a task's number and kind: `Task 3 · Fly in (FIN)`."""
    title = title_of(voice, own.task, own.kind)
    if not own.field:
        return title
    return voice.say(fact("task-in-class", task=words(title), name=words(own.field)))


_LINE = re.compile(r"^(.*\S) line (\d+)$")


def evidence(voice: Voice, finding: Finding) -> str:
    """Print what an infringement rests on: logs, and lines of files, each in words."""
    said = []
    for reference in finding.evidence.split("; "):
        at = _LINE.match(reference)
        said.append(
            voice.say(fact("file-and-line", file=words(at[1]), line=words(at[2])))
            if at
            else reference
        )
    return "; ".join(said)


def title_of(voice: Voice, number_: int, kind: str) -> str:
    """Return the title of a task by its number and the code of its kind."""
    named = words(kind_title(voice, kind))
    return voice.say(
        fact("task-title", task=task(number_), kind=named, code=words(kind))
    )


def place_label(voice: Voice, place: Place) -> str:
    """Return a place's name for a map, and how high it stands where that is known."""
    if place.height_m is None:
        return place.name
    return f"{place.name}, {voice.value(height(place.height_m))}"


def amount(voice: Voice, own: TaskResult, value: float | None) -> str:
    """Print a result of a task in the event's units; empty where there is none."""
    return "" if value is None else voice.result(value, own.measure, own.decimals)


def result(voice: Voice, own: TaskResult, score: Score) -> str:
    """Print a pilot's result; empty where there is none."""
    shown = score.result if score.shown is None else score.shown
    return amount(voice, own, shown)


def spread(voice: Voice, own: TaskResult, sigma: float | None) -> str:
    """Print one sigma of a result: square kilometres are large."""
    if sigma is None:
        return ""
    if own.measure is Measure.RACE:
        return voice.distance(sigma)
    return voice.result(sigma, own.measure, 4 if own.measure is Measure.AREA else 2)


def group(voice: Voice, score: Score) -> str:
    """Say whether a pilot has a result, flew without one, or did not fly."""
    if score.why is not None and score.why.kind == "disqualified-because":
        return voice.term("disqualified")
    return voice.term(f"group-{score.group.casefold()}")


def formula_line(voice: Voice, own: TaskResult) -> str:
    """Say in a line what the points of a task rest on, and who had left by then.

    And how many of its marks only one person entered.
    """
    said = _formula(voice, own)
    if own.entered_once:
        both = {"once": count(own.entered_once), "marks": count(own.entered)}
        said = fact("formula-entered-once", line=inner(said), **both)
    if own.withdrawn:
        gone = several(map(pilot, own.withdrawn))
        said = fact("formula-withdrawn", line=inner(said), pilots=gone)
    return voice.say(said)


def _formula(voice: Voice, own: TaskResult) -> Fact:
    f = own.formula
    if not f.A:
        return fact("formula-nobody", entered=count(f.P))
    best = words(_at(voice, own, f.W))
    entered, scorers = count(f.P), count(f.A)
    if f.method == "places":
        return fact("formula-places", entered=entered, scorers=scorers, best=best)
    if f.method == "none":
        return fact("formula-none", entered=entered, scorers=scorers, best=best)
    return fact(
        "formula-line",
        entered=entered,
        scorers=scorers,
        median=number(f.M),
        at_median=words(_at(voice, own, f.RM)),
        points=points(f.SM),
        best=best,
    )


def _at(voice: Voice, own: TaskResult, value: float | None) -> str:
    """Print a result of the formula as its pilot's own line prints it."""
    having = next((s for s in own.scores if s.result == value), None)
    if having is None or value is None:
        return amount(voice, own, value)
    return result(voice, own, having)


def place_range(score: Score) -> str:
    """Print the places within the uncertainty of the measurements; empty where one."""
    if score.rank_low is None or score.rank_low == score.rank_high:
        return ""
    return f"{score.rank_low}–{score.rank_high}"


def places(score: Score) -> str:
    """Print the places within the uncertainty, also where it is one; empty if unknown."""
    return place_range(score) or str(score.rank_low or "")


def remarks(voice: Voice, own: TaskResult, score: Score) -> str:
    """Say in a line what is special about a score."""
    told: list[str] = []
    if not score.settled:
        several_ = any(len(mark.keyings) > 1 for mark in score.marks)
        told.append(voice.word("not-settled" if several_ else "not-settled-yet"))
    if score.why is not None:
        told.append(voice.say(score.why))
    if score.metres_penalty:
        penalty = words(amount(voice, own, score.metres_penalty))
        told.append(voice.say(fact("metres-penalty", penalty=penalty)))
    told += [
        voice.say(fact("remark-penalty", cause=_cause(c), amount=inner(c.amount.says)))
        for c in score.charges
        if c.counts and c.amount.unit in {"task points", "event points"}
    ]
    if score.entered_once and not own.all_entered_once:
        told.append(voice.word("remark-entered-once"))
    states = {c.ruling for c in score.charges}
    if RulingState.WAIVE in states:
        told.append(voice.word("remark-waived"))
    if any(state.is_open for state in states) and score.why is None:
        told.append(voice.word("remark-undecided"))
    return "; ".join(told)


def _cause(charge: Charge) -> Value:
    """State what a penalty is for, and the event's own paragraph where it has one."""
    cause = words(charge.reason) if charge.reason else inner(fact("penalty-imposed"))
    if charge.finding:
        cause = term(f"finding-{charge.kind}")
    own = None if charge.rule is None else paragraph(charge.rule)
    if own is None:
        return cause
    return inner(fact("rule-and-paragraph", rule=cause, own=own))


def paragraph(cited: Fact) -> Value | None:
    """Return the event's own paragraph that a cited rule names; None for none."""
    own = next((f for f in facts_within(cited) if f.kind == "rule-and-paragraph"), None)
    return None if own is None else own["own"]


def minus(voice: Voice, amount_: int) -> str:
    """Print what is taken off; empty where nothing is."""
    sign = MINUS if amount_ > 0 else "+"
    return f"{sign}{voice.number(abs(amount_))}" if amount_ else ""


def part(voice: Voice, row: Standing, table: StandingsTable, own: TaskResult) -> str:
    """Print what one task adds to a line of standings; empty where it adds nothing."""
    if not table.by_result:
        return str(row.tasks.get(own.task, ""))
    return amount(voice, own, row.results.get(own.task))


def cell(voice: Voice, row: Standing, table: StandingsTable, own: TaskResult) -> str:
    """Print one task in a line of standings: in brackets what does not count, or a dash."""
    text = part(voice, row, table, own) or DASH
    counted = not row.counted or own.task in row.counted
    return text if counted or text == DASH else f"({text})"


def total_head(voice: Voice, table: StandingsTable) -> str:
    """Return the heading above what lines of standings come to."""
    return voice.word("head-result" if table.by_result else "head-total")


def legend_dash(voice: Voice, table: StandingsTable) -> str:
    """Say what a dash in standings means."""
    return voice.word(f"legend-dash-{table.by}")


def total(voice: Voice, row: Standing, table: StandingsTable) -> str:
    """Print what a line of standings comes to: points, or results added up."""
    if not table.by_result:
        return str(row.total).replace("-", MINUS)
    if row.result is None:
        return voice.word("no-result")
    return voice.result(row.result, table.measure)


def total_sum(voice: Voice, row: Standing, table: StandingsTable) -> str:
    """Print how a total came about: `794 + 707 − 100 = 1401`."""
    counted = row.counted or tuple(row.tasks)
    if table.by_result:
        parts = [
            voice.result(row.results[t], table.measure)
            for t in counted
            if t in row.results
        ]
        return f"{' + '.join(parts) or '0'} = {total(voice, row, table)}"
    scores = " + ".join(str(row.tasks[t]) for t in counted if t in row.tasks) or "0"
    taken = f" {MINUS} {row.event_penalty}" if row.event_penalty else ""
    return f"{scores}{taken} = {total(voice, row, table)}"


def score_sum(voice: Voice, score: Score) -> str:
    """Print how a score came about: `809 − 15 = 794`."""
    if not score.task_penalty:
        return voice.value(points(score.score))
    return f"{score.formula_points} {MINUS} {score.task_penalty} = {score.score}"


def finding_title(voice: Voice, finding: Finding) -> str:
    """Return the name of an infringement, as a title begins."""
    return voice.finding(finding.kind.name)


def verdict(voice: Voice, finding: Finding) -> str:
    """Say how sure an infringement is."""
    return voice.term(f"verdict-{finding.verdict}")


def decision_word(voice: Voice, state: RulingState) -> str:
    """Say in a word or two what officials made of an infringement."""
    return voice.term(f"ruling-{state}")


def decision(voice: Voice, ruled: RuledFinding) -> str:
    """Say what officials decided, who, when, why, and what counts for it."""
    counted = [inner(c.amount.says) for c in ruled.charges if c.counts]
    costs = several(counted or [term("nothing")])
    if ruled.state is RulingState.HOLD:
        return voice.say(fact("explain-held", ruling=inner(decided_by(ruled))))
    if ruled.state is RulingState.UNRULED:
        if ruled.finding.verdict is Verdict.CERTAIN:
            return voice.say(fact("explain-undecided", costs=costs))
        return voice.say(fact("explain-undecided-possible"))
    decided = inner(decided_by(ruled))
    if ruled.state is RulingState.WAIVE:
        return voice.say(fact("explain-waived", ruling=decided))
    return voice.say(fact("explain-decided", ruling=decided, costs=costs))


def decided_by(ruled: RuledFinding) -> Fact:
    """State who decided, when and why."""
    if ruled.charges:
        return ruled_by(ruled.charges[0])
    own = ruled.ruling
    if own is None:
        return fact("ruled", parts=term(f"ruling-{ruled.state}"))
    return made_by(str(ruled.state), own.by, own.at, own.reason)


def given_by(voice: Voice, ruled: RuledFinding) -> str:
    """Say who decided, when and why; without what was decided."""
    own = ruled.ruling
    return voice.say(given(own.by, own.at, own.reason)) if own else ""


def charge_line(voice: Voice, charge: Charge) -> str:
    """Say a penalty: how much, whether it counts, who decided and why."""
    so_much = voice.say(charge.figures or charge.amount.says)
    if not charge.counts:
        so_much = voice.say(fact("amount-not-counted", amount=words(so_much)))
    parts = [so_much, voice.say(ruled_by(charge))]
    if charge.rule is not None:
        parts.append(voice.say(fact("cited-rule", rule=inner(charge.rule))))
    return "; ".join(parts)


def counted_words(voice: Voice, charges: Iterable[Charge]) -> str:
    """Print the penalties that count; `none` where there are none."""
    counted = [inner(c.amount.says) for c in charges if c.counts]
    return voice.value(several(counted)) if counted else voice.word("none")


def worth_measuring(voice: Voice, own: TaskResult) -> Iterator[str]:
    """Say whose marks are worth measuring again."""
    results = {score.pilot: score.result for score in own.scores}
    for better, worse, sure in own.remeasure:
        both = {"better": pilot(better), "worse": pilot(worse)}
        equal = results[better] == results[worse]
        said = fact("worth-measuring", chance=chance(sure), **both)
        yield voice.say(fact("worth-measuring-equal", **both) if equal else said)


def brackets(voice: Voice, results: Results) -> str:
    """Say how many tasks count; empty where all do."""
    best_of = results.standings_rule.best_of
    return (
        "" if best_of is None else voice.say(fact("in-brackets", count=count(best_of)))
    )


def when(voice: Voice, finding: Finding) -> str:
    """Say when something was: a moment, or from when to when; or that nobody noted it."""
    if not finding.from_s:
        return voice.word("explain-not-timed")
    if int(finding.to_s) <= int(finding.from_s):
        return voice.moment(finding.from_s)
    start, end = moment(finding.from_s), moment(finding.to_s)
    return voice.say(fact("explain-from-to", start=start, end=end))


def measured(voice: Voice, finding: Finding) -> str:
    """Print what was measured and one sigma of it: `67 ft ± 3 ft`; empty for nothing."""
    if finding.measured is None:
        return ""
    own = quantity(voice, finding.measured, finding.unit)
    if not finding.sigma:
        return own
    return f"{own} ± {quantity(voice, finding.sigma, finding.unit)}"


def quantity(voice: Voice, value: float, unit: str) -> str:
    """Print an infringement's value: heights and depths, or how long."""
    return voice.height(value) if unit == "m" else voice.span(value)


def asked(voice: Voice, finding: Finding) -> str:
    """Say what the rules ask for an infringement, each amount with how it comes about."""
    amounts = asked_amounts(voice, finding)
    if not amounts:
        return voice.word("explain-asks-nothing")
    return voice.say(fact("explain-asks", amounts=words(amounts)))


def asked_amounts(voice: Voice, finding: Finding) -> str:
    """Say what the rules ask for and no more; empty where they ask for nothing."""
    stated = finding.sums or _proposed(finding)
    return voice.value(several(map(inner, stated))) if stated else ""


def costs(voice: Voice, finding: Finding) -> str:
    """Say what the rules ask for, without how it comes about."""
    return voice.value(several(map(inner, _proposed(finding))))


def _proposed(finding: Finding) -> list[Fact]:
    proposed = () if finding.penalty is None else (finding.penalty, *finding.also)
    return [penalty.says for penalty in proposed]


def mark_of(role: str) -> Fact:
    """State which mark of a pilot it is."""
    if role:
        return fact("explain-mark-named", mark=words(role))
    return fact("explain-mark")


def entry_of(keying: Keying) -> Fact:
    """State one entry of a mark: which mark, what, by whom."""
    which = inner(mark_of(keying.mark))
    return fact("explain-entry", mark=which, entry=inner(entry(keying)))


def accounted(own: TaskResult) -> Fact:
    """State how many pilots of a flown task are accounted for, and who is missing."""
    totals = {"accounted": count(own.accounted), "entered": count(len(own.scores))}
    if not own.missing:
        return fact("accounted-for", **totals)
    missing = several(map(pilot, own.missing))
    return fact("not-yet-accounted-for", missing=missing, **totals)


def guest_result(voice: Voice, own: TaskResult, one: Guest) -> str:
    """Print what a pilot out of competition came to, or why to nothing."""
    return amount(voice, own, one.result) or voice.say(
        one.why or fact("amount-no-result")
    )


def guest(own: TaskResult, one: Guest) -> Fact:
    """State what a pilot out of competition came to."""
    if one.result is None:
        why = inner(one.why or fact("amount-no-result"))
        return fact("guest-without-result", pilot=pilot(one.pilot), why=why)
    result = Value(measure_of(own.unit, own.kind), one.result)
    return fact("guest-result", pilot=pilot(one.pilot), result=result)
