"""The answer to a question as a sentence with gaps: fields stand where the values do.

Words, gaps and their order come from the catalogue and the declarations of the rules;
nothing here knows a question.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from gui.flow import Flow, clear
from gui.parts.line import Line
from gui.widgets import choice, choose, field, held, label, say_or_hide
from scorer.event.columns import YES_NO
from scorer.event.model import Event
from scorer.event.place_kinds import SCORING_AREA
from scorer.event.questions import GapKind, Question, gap_kind, variable
from scorer.event.rulebook import COMPLAINT_TIME, rule_of
from scorer.event.task_reader import AREA_RULES
from scorer.facts import rule as rule_value
from scorer.words.catalogue import message
from scorer.words.voice import Voice

_MARK = re.compile("\ue000(\\d+)\ue001")
LETTERS = {"length": 9, "duration": 8, "count": 4, "share": 6, "counts": 20, "text": 16}
_STOPS = frozenset({",", ";", ".", ":"})
OWN_AREA = str(SCORING_AREA)
"""How a rule names the scoring areas of the task."""
_EMPTY = {
    "floor.above": "gap-ground-below",
    "floor.within": "gap-everywhere",
    "launch.area": "gap-anywhere",
    "boundary.within": "gap-anywhere",
    "contact.within": "gap-anywhere",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """One gap: the rule it fills, and what may stand in it."""

    key: str
    options: tuple[tuple[str, str], ...] = ()
    """Words and what they stand for; none = it is typed."""
    letters: int = 8


def gaps_of(question: Question, event: Event, voice: Voice) -> dict[str, Gap]:
    """Return what may stand in each gap of a question, by the rule it fills."""
    return {key: _gap(key, event, voice) for key in question.keys}


def _gap(key: str, event: Event, voice: Voice) -> Gap:
    _, how, _ = rule_of(key)
    if how.kind == "yes-no":
        return Gap(key=key, options=tuple((voice.term(v), v) for v in YES_NO))
    if how.choices:
        said = [
            (voice.term(f"choice-{how.key}-{one}".replace("_", "-")), one)
            for one in how.choices
        ]
        return Gap(key=key, options=(*_unanswered(key, voice), *said))
    if gap_kind(key) is GapKind.TYPED:
        return Gap(key=key, letters=LETTERS.get(how.kind, 8))
    empty = (voice.word(_EMPTY.get(key, "gap-none")), "")
    own = ((voice.term("within-scoring-area"), OWN_AREA),)
    names = tuple((name, name) for name in _places(key, event))
    options = (empty, *(own if key == "contact.within" else ()), *names)
    return Gap(key=key, options=options)


def _unanswered(key: str, voice: Voice) -> tuple[tuple[str, str], ...]:
    """Return the empty choice, where the rule has no value yet."""
    _, _, default = rule_of(key)
    return ((voice.word("answer-waits"), ""),) if default is None else ()


def _places(key: str, event: Event) -> list[str]:
    if gap_kind(key) is GapKind.POINT:
        return [p.name for p in event.places if p.is_point]
    kinds = AREA_RULES[key]
    return [
        place.name
        for place in event.places
        if not place.is_point and (kinds is None or place.kind in kinds)
    ]


def pieces(question: Question, language: str) -> list[str]:
    """Take a sentence apart: words and, where a gap is, the key of its rule.

    Keys contain a point and no blank, words never both.
    """
    signs = {variable(k): f"\ue000{i}\ue001" for i, k in enumerate(question.keys)}
    said = message(f"sentence-{question.name}", signs, language)
    parts = _MARK.split(said)
    made: list[str] = []
    for i, part in enumerate(parts):
        made += [question.keys[int(part)]] if i % 2 else part.split()
    return made


class Sentence(QWidget):
    """A sentence with fields in it, and what is wrong with one of them beneath."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Answer")
        self.fields: dict[str, QLineEdit | QComboBox] = {}
        self._flow = Flow()
        self.fault = label(look="bad", wrap=True)
        self.fault.hide()
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        self._lines = held(self._flow)
        whole.addWidget(self._lines)
        whole.addWidget(self.fault)

    def show_question(
        self, question: Question, gaps: Mapping[str, Gap], voice: Voice
    ) -> None:
        """Show the sentence of a question, its gaps empty."""
        self._lines.hide()  # shown with all that is in it, once
        clear(self._flow)
        self.fields = {}
        keys = set(question.keys)
        parts = pieces(question, voice.language)
        for piece, then in zip(parts, [*parts[1:], ""], strict=True):
            if piece in keys:
                self._flow.addWidget(_with(self._field(gaps[piece], voice), then))
            elif piece not in _STOPS:
                self._flow.addWidget(label(piece, "sentence"))
        self._lines.show()  # at once: the keyboard goes to no field that is not there
        self.refuse("", "")
        self._lines.updateGeometry()

    def _field(self, gap: Gap, voice: Voice) -> QWidget:
        name = voice.value(rule_value(gap.key))
        box: QLineEdit | QComboBox
        if gap.options:
            box = choice(name, *gap.options)
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.activated.connect(lambda _: self.edited.emit())
        else:
            empty = "answer-waits" if gap.key == COMPLAINT_TIME else "gap-none"
            said = voice.word(empty)
            box = field(name, said, letters=max(gap.letters, len(said)))
            box.textEdited.connect(lambda _: self.edited.emit())
        self.fields[gap.key] = box
        return box

    def put(self, texts: Mapping[str, str]) -> None:
        """Fill the gaps."""
        for key, box in self.fields.items():
            text = texts.get(key, "")
            text = "" if text == "none" else text  # which the empty gap says
            if isinstance(box, QLineEdit):
                box.setText(text)
            elif not choose(box, text) and text:
                box.addItem(text, text)  # a place that is gone is shown, not dropped
                choose(box, text)

    @property
    def texts(self) -> dict[str, str]:
        """What stands in the gaps."""
        return {
            key: box.text() if isinstance(box, QLineEdit) else str(box.currentData())
            for key, box in self.fields.items()
        }

    def refuse(self, key: str, fault: str) -> None:
        """Say what is wrong in one gap; nothing = all is well."""
        for own, box in self.fields.items():
            box.setProperty("wrong", own == key and bool(fault))
            box.style().unpolish(box)
            box.style().polish(box)
            box.setAccessibleDescription(fault if own == key else "")
        say_or_hide(self.fault, fault, "bad")

    def first_gap(self, keys: Sequence[str] = ()) -> QWidget | None:
        """Return a gap to go to, the first of some rules; None where there is none."""
        found = next((k for k in keys or tuple(self.fields) if k in self.fields), None)
        box = self.fields[found] if found is not None else None
        if isinstance(box, QLineEdit):
            box.selectAll()
        return box


def _with(box: QWidget, stop: str) -> QWidget:
    """Return a field with the stop that follows it: no line begins with one."""
    if stop not in _STOPS:
        return box
    row = QHBoxLayout()
    row.setSpacing(2)
    row.addWidget(box)
    row.addWidget(label(stop, "sentence"))
    return held(row)


def words_of(widget: QWidget) -> str:
    """Return the sentence as it reads, for those who cannot see it."""
    told = []
    for one in widget.findChildren(QWidget):
        if isinstance(one, QLabel):
            told.append(one.text())
        elif isinstance(one, QComboBox):
            told.append(one.currentText())
        elif isinstance(one, QLineEdit) and not isinstance(one.parent(), QComboBox):
            hint = one.hint if isinstance(one, Line) else one.placeholderText()
            told.append(one.text() or hint)
    return " ".join(told)
