"""The rules of an event as rows: its questions, worked cases, all a form shows."""

from collections.abc import Sequence
from itertools import groupby

from gui.models.home import open_rows
from gui.models.matters import MatterList, MatterRow
from gui.parts.rows import ListRow, head
from gui.parts.signs import RowSign
from gui.places_of import page_of
from gui.snapshot import Snapshot
from scorer.event.model import Task
from scorer.event.questions import Question
from scorer.scoring.asked import Asked, Case
from scorer.words.voice import Voice

WAITING = "questions-asked"
"""Heading of what has to be answered or put right."""
BESIDE = "questions-beside"
"""Heading of what is only to be known."""


def stands(question: Question | None, snapshot: Snapshot) -> object:
    """Return all that the form of a question shows: while it stays, the fields do."""
    event = snapshot.event
    return question, event.book, event.places, snapshot.state.settings


def open_here(listed: MatterList, task: Task | None) -> list[MatterRow]:
    """Return the open matters that are closed on the page of the rules."""
    return [row for row in open_rows(listed, task) if page_of(row.matter) == "rules"]


def rows_of(
    listed: Sequence[Asked], voice: Voice, matters: Sequence[MatterRow] = ()
) -> list[ListRow]:
    """Return the questions as rows under their headings, those that wait first.

    With them stand other `matters` that are closed here; as many as the rail counts.
    """
    beside = [row for row in matters if row.matter.says.kind != "rule-unanswered"]
    hold, rest = (
        [r for r in beside if r.matter.holds_up is up] for up in (True, False)
    )
    waits = len(matters) - len(rest) if matters else sum(one.waits for one in listed)
    rows = [head(voice.word(WAITING), waits)] if waits else []
    rows += [_row(one, voice) for one in listed if one.waits]
    rows += map(_beside, hold)
    for part, own in groupby((o for o in listed if not o.waits), lambda o: o.part):
        rows.append(head(voice.word(part)))
        rows += [_row(one, voice) for one in own]
    rows += [head(voice.word(BESIDE), len(rest))] if rest else []
    return [*rows, *map(_beside, rest)]


def _row(one: Asked, voice: Voice) -> ListRow:
    return ListRow(
        key=one.question.name,
        name=voice.word(one.title),
        second=voice.say(one.answer),
        sign=_sign(one),
        strong=True,
        data=one,
    )


def _beside(row: MatterRow) -> ListRow:
    return ListRow(
        key=row.matter.key,
        name=row.voice.title(row.matter.kind.name),
        second=row.says,
        sign=RowSign.WAITS,
        strong=True,
        data=row.matter,
    )


def _sign(one: Asked) -> RowSign:
    if one.waits:
        return RowSign.WAITS
    return RowSign.LATER if one.left else RowSign.DONE


def case_rows(
    question: Question, cases: tuple[Case, ...], voice: Voice
) -> list[tuple[str, str, str, str]]:
    """Return worked cases as texts, their heads first."""
    if not cases:
        return []
    first, measured = cases[0], f"worked-{question.worked}"
    rows = [
        (
            "" if first.found is None else voice.word(f"{measured}-found"),
            "" if first.over is None else voice.word(f"{measured}-over"),
            voice.word("worked-costs"),
            "",
        )
    ]
    for case in cases:
        rows.append(
            (
                "" if case.found is None else voice.value(case.found),
                voice.word("worked-each")
                if case.over is None
                else voice.value(case.over),
                voice.say(case.costs),
                "" if case.remark is None else voice.say(case.remark),
            )
        )
    return rows
