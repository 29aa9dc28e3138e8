"""The rules of an event as rows: its questions, worked cases, all a form shows."""

from collections.abc import Sequence

from gui.parts.rows import ListRow, head
from gui.parts.signs import RowSign
from gui.snapshot import Snapshot
from scorer.event.questions import Question
from scorer.scoring.asked import Asked, Case
from scorer.words.voice import Voice


def stands(question: Question | None, snapshot: Snapshot) -> object:
    """Return all that the form of a question shows: while it stays, the fields do."""
    event = snapshot.event
    return question, event.book, event.places, snapshot.state.settings


def rows_of(listed: Sequence[Asked], voice: Voice) -> list[ListRow]:
    """Return the questions as rows under their headings, those that wait first."""
    rows: list[ListRow] = []
    for part in dict.fromkeys(one.part for one in listed):
        own = [one for one in listed if one.part == part]
        rows.append(head(voice.word(part), len(own) if own[0].waits else None))
        rows += [
            ListRow(
                key=one.question.name,
                name=voice.word(one.title),
                second=voice.say(one.answer),
                sign=_sign(one),
                strong=True,
                data=one,
            )
            for one in own
        ]
    return rows


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
