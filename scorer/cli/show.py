"""Print results as tables."""

from scorer.cli.columns import show_table
from scorer.cli.screen import say, screen
from scorer.cli.standings import show_standings
from scorer.event.finding import Verdict
from scorer.event.matter import MOST_NAMED, Blocks, Matter, readiness
from scorer.event.model import Event
from scorer.facts import fact, flight, inner, points, words
from scorer.scoring import told
from scorer.scoring.results import Charge, Results, RuledFinding, Score, TaskResult
from scorer.words.voice import Voice

MOST_ROWS = 600
"""Scores that a terminal gets pilot by pilot: two tasks of a large event."""


def results(event: Event, scored: Results, only_task: int | None) -> None:
    """Print tasks, infringements, open matters; standings unless one task is asked for.

    On a terminal a large event is told in short: of thousands of lines only the last can
    be read there.
    """
    voice = scored.voice
    rules = words(voice.book(event.book))
    say(scored.event)
    say(voice.say(fact("rules-of-event", rules=rules)))
    asked = [t for t in scored.tasks if only_task in {None, t.task}]
    rows = sum(len(task.scores) for task in asked)
    short = only_task is None and screen.is_terminal and rows > MOST_ROWS
    for task in asked:
        for part in task.parts:
            _task(part, voice, short=short)
    if short:
        say("\n" + voice.word("told-in-short"))
    else:
        _infringements(scored, only_task)
    if only_task is None:
        show_standings(scored)
    _matters(scored, only_task)
    say()
    say(voice.word("caution"))


def _task(task: TaskResult, voice: Voice, *, short: bool) -> None:
    title = words(told.task_title(voice, task))
    if task.state != "flown":
        say("\n" + voice.say(fact(f"task-{task.state}-title", title=title)))
        if not task.scores:
            return
    else:
        of_flight = fact("task-of-flight", title=title, flight=flight(task.flight))
        say("\n" + voice.say(of_flight))
    if short:
        say(told.formula_line(voice, task))
        if task.state == "flown":
            say(voice.say(told.accounted(task)))
        return
    kept = "right" if task.pointed else "spare"
    columns = (
        (voice.word("head-rank"), "right"),
        (voice.word("head-number"), "right"),
        (voice.word("head-pilot"), "name"),
        (voice.word("head-result"), "right"),
        (voice.word("head-sigma"), "spare"),
        (voice.word("head-points"), kept),
        (voice.word("head-penalty"), "spare"),
        (voice.word("head-score"), kept),
        (voice.word("head-places"), "spare"),
        (voice.word("head-remarks"), "text"),
    )
    rows = [_row(score, task, voice) for score in task.scores]
    show_table(told.formula_line(voice, task), columns, rows)
    if task.state == "flown":
        say(voice.say(told.accounted(task)))
    for guest in task.guests:
        say(voice.say(told.guest(task, guest)))
    for line in told.worth_measuring(voice, task):
        say(line)


def _row(score: Score, task: TaskResult, voice: Voice) -> tuple[str, ...]:
    penalty = told.minus(voice, score.task_penalty)
    if score.event_penalty:
        more = points(score.event_penalty)
        both = fact("and-event-points", penalty=words(penalty), points=more)
        penalty = voice.say(both).strip()
    return (
        str(score.rank) if task.state == "flown" else "",
        str(score.pilot),
        voice.pilots.get(score.pilot, ""),
        told.result(voice, task, score) or told.group(voice, score),
        told.spread(voice, task, score.sigma),
        str(score.formula_points) if task.pointed else "",
        penalty,
        str(score.score) if task.pointed else "",
        told.place_range(score),
        told.remarks(voice, task, score),
    )


def _infringements(scored: Results, only: int | None) -> None:
    voice = scored.voice
    columns = (
        (voice.word("head-task"), "right"),
        (voice.word("head-number"), "right"),
        (voice.word("head-infringement"), "left"),
        (voice.word("head-sure"), "left"),
        (voice.word("head-chance"), "spare"),
        (voice.word("head-decision"), "left"),
        (voice.word("head-penalty"), "name"),
        (voice.word("head-seen"), "text"),
    )
    rows = [
        _infringement(ruled, voice)
        for ruled in scored.findings
        if only in {None, ruled.finding.task}
        and ruled.finding.verdict is not Verdict.CLEAR
    ]
    if rows:
        show_table(f"\n{voice.word('title-infringements')}", columns, rows)


def _infringement(ruled: RuledFinding, voice: Voice) -> tuple[str, ...]:
    finding = ruled.finding
    return (
        str(finding.task),
        str(finding.pilot),
        told.finding_title(voice, finding),
        told.verdict(voice, finding),
        voice.chance(finding.probability),
        told.decision_word(voice, ruled.state),
        ", ".join(_charged(charge, voice) for charge in ruled.charges),
        voice.say(finding.says),
    )


def _charged(charge: Charge, voice: Voice) -> str:
    if charge.counts:
        return voice.say(charge.amount.says)
    return voice.say(fact("amount-not-counted", amount=inner(charge.amount.says)))


def _matters(scored: Results, only: int | None) -> None:
    voice = scored.voice
    columns = (
        (voice.word("head-blocks"), "left"),
        (voice.word("head-matter"), "left"),
        (voice.word("head-flight"), "spare"),
        (voice.word("head-task"), "right"),
        (voice.word("head-number"), "right"),
        (voice.word("head-to-know"), "text"),
    )
    shown = [m for m in scored.told if only is None or m.task in {None, only}]
    if shown:
        rows = [_matter(matter, voice) for matter in shown]
        show_table(f"\n{voice.word('title-open-matters')}", columns, rows)
    if scored.blocked:
        ready = voice.say(readiness(scored.told))
        say(f"{ready} {voice.word('see-open-matters')}")


def _matter(matter: Matter, voice: Voice) -> tuple[str, ...]:
    held = ""
    if matter.accepted is not None:
        held = voice.word("holds-up-accepted")
    elif matter.blocks is not Blocks.NOTHING:
        held = voice.word(f"holds-up-{matter.blocks}")
    return (
        held,
        voice.title(matter.kind.name),
        matter.flight,
        "" if matter.task is None else str(matter.task),
        " ".join(map(str, matter.pilots)) if len(matter.pilots) <= MOST_NAMED else "",
        voice.sentence(matter.stated),
    )
