"""The manual of what is made of it: tasks, rules, infringements, matters, sheets."""

from collections.abc import Iterator, Sequence
from dataclasses import fields

from scorer.event.finding import finding_kinds
from scorer.event.matter import KINDS as MATTER_KINDS
from scorer.event.rulebook import SECTIONS, Rule, rules_of
from scorer.event.task_kinds import TASK_KINDS, TaskKind
from scorer.facts import fact, words
from scorer.ledger.acts import ACTS, EntryKind, title_of
from scorer.sheets.kinds import SHEET_KINDS
from scorer.tasks.kinds import settings_table
from scorer.tasks.worked import WORKED, Spot, Worked
from scorer.words.voice import Voice


def tasks(voice: Voice) -> Iterator[str]:
    """Write every kind of task: a table of worked examples, then each with its keys."""
    yield from _worked(voice)
    for kind in TASK_KINDS.values():
        yield f"## {kind.code}: {voice.say(kind.title)}"
        yield ""
        unit = voice.word(f"manual-unit-{'km' if kind.race else kind.unit}")
        about = voice.say(kind.about)
        best = voice.term(kind.best)
        yield f"{about[:1].upper()}{about[1:]}, in {unit}; the {best} is best."
        yield ""
        yield from (f"- {need}" for need in _needs(kind, voice))
        yield from (
            f"- `{key}` = {how}: {doc}" for key, how, doc in settings_table(kind)
        )
        yield ""
        yield "```toml"
        yield "[[task]]"
        yield "number = 1"
        yield f'kind = "{kind.code}"'
        yield from kind.example.splitlines()
        yield "```"
        yield ""


def _worked(voice: Voice) -> Iterator[str]:
    """Write a table of one worked example of each kind."""
    yield voice.word("manual-worked")
    yield ""
    heads = ("kind", "task", "places", "evidence", "sum")
    yield f"| {' | '.join(voice.word(f'manual-worked-{head}') for head in heads)} |"
    yield "|---|---|---|---|---|"
    for kind in TASK_KINDS.values():
        own = WORKED.get(kind.code)
        if own is not None:
            unit = voice.word(f"manual-unit-{kind.unit}")
            task = "; ".join(f"`{line}`" for line in own.task.splitlines())
            places = (f"{name} {_spots(at)}" for name, at in own.places.items())
            evidence = ", ".join(_evidence(own, voice))
            cells = (kind.code, task, ", ".join(places), evidence, f"{own.sum} {unit}")
            yield f"| {' | '.join(cells)} |"
    yield ""


def _evidence(own: Worked, voice: Voice) -> Iterator[str]:
    if own.declared:
        yield voice.say(fact("manual-worked-declared", goal=words(own.declared)))
    if own.log is not None:
        begun, start, ended, end = own.log
        ends = {"start": words(_spots((start,))), "end": words(_spots((end,)))}
        times = {"begun": words(begun), "ended": words(ended)}
        yield voice.say(fact("manual-worked-log", **ends, **times))
    for role, at in own.marks.items():
        yield " ".join(filter(None, (role, _spots((at,)), own.times.get(role, ""))))


def _spots(corners: Sequence[Spot]) -> str:
    return " ".join(f"({a:g}, {b:g})" for a, b in corners)


def _needs(kind: TaskKind, voice: Voice) -> Iterator[str]:
    least, most = kind.targets
    if least:
        yield voice.word("manual-needs-target") + (
            "" if least == most else f" ({least} +)"
        )
    if kind.areas:
        other = f" / `{kind.areas_or}`" if kind.areas_or else ""
        yield f"{voice.word('manual-needs-area')} ({kind.areas} +){other}"
    if kind.roles:
        yield f"{voice.word('manual-needs-roles')} {', '.join(kind.roles)}"
    if kind.one_of:
        names = ", ".join(f"`{name}`" for name in kind.one_of)
        yield f"{voice.word('manual-needs-one-of')} {names}"
    if kind.declared:
        yield voice.word("manual-needs-declarations")
    if not kind.marked:
        yield voice.word("manual-needs-no-mark")


def rules(voice: Voice) -> Iterator[str]:
    """Write every rule: its key, title, how it is written, what it means."""
    yield voice.word("manual-rules-paragraphs")
    yield ""
    for section in SECTIONS:
        yield f"## [rules.{section}]"
        yield ""
        for key, (_, rule, default) in rules_of(section).items():
            title = voice.rule(f"{section}.{key}")
            choices = ", ".join(f"`{choice}`" for choice in rule.choices)
            how = choices or voice.word(f"manual-rule-{rule.kind}")
            unset = default is None or default == ()
            usual = "" if unset else _default(rule, default, voice)
            more = (
                "" if rule.doc == title else f"{rule.doc[:1].upper()}{rule.doc[1:]}. "
            )
            yield f"- `{key}`: {title}. {more}{how}{usual}"
        yield ""


def _default(rule: Rule, default: object, voice: Voice) -> str:
    unit = {"length": " m", "duration": " s"}.get(rule.kind, "")
    written = f"{default:g}{unit}" if isinstance(default, float) else str(default)
    return f" ({voice.word('manual-default')} `{written}`)"


def infringements(voice: Voice) -> Iterator[str]:
    """Write every kind of infringement that is looked for."""
    for kind in finding_kinds():
        rule = f" ({voice.rule(kind.rule)}: `{kind.rule}`)" if kind.rule else ""
        yield f"- `{kind}`: {voice.finding(kind.name)}{rule}"
    yield ""


def matters(voice: Voice) -> Iterator[str]:
    """Write every kind of open matter: what it blocks, where it closes."""
    for name, kind in MATTER_KINDS.items():
        blocks = voice.word(f"manual-blocks-{kind.blocks}")
        closes = voice.word(f"manual-closes-{kind.closes}")
        can = voice.word(
            "manual-acceptable" if kind.acceptable else "manual-settled-only"
        )
        title = voice.word(f"matter-{name}")
        yield f"- `{name}`: {title}. {blocks}; {closes}; {can}."
    yield ""


def sheets(voice: Voice) -> Iterator[str]:
    """Write every sheet and who writes it."""
    for name, kind in SHEET_KINDS.items():
        title, about = voice.word(f"sheet-{name}"), voice.word(f"sheet-{name}-about")
        up = f" ({voice.word('manual-goes-up')})" if kind.published else ""
        yield f"- `{name}` ({title}): {about}{up}"
    yield ""


def journal(voice: Voice) -> Iterator[str]:
    """Write every kind of entry that a journal holds, with its fields."""
    for kind in EntryKind:
        names = ", ".join(f"`{own.name}`" for own in fields(ACTS[kind]))
        yield f"- `{kind}` ({voice.say(title_of(kind))}): {names}"
    yield ""
