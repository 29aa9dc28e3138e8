"""The rules of an event as questions to people: declared once, in the order of asking.

A question is some rules that are one thing to whoever answers.  In the catalogue stand
its title, `question-NAME`; its answer as a sentence with a gap for each rule,
`sentence-NAME`; and the answer in few words, `answer-NAME`.  Lists, forms, worked cases
and checks for completeness follow from the declarations.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from scorer.event.rulebook import SECTIONS, RuleBook, rule_of, rules_of


class QuestionPart(StrEnum):
    """Where in an event a question belongs; titles stand as `questions-NAME`."""

    AIR = "air"
    GROUND = "ground"
    POINTS = "points"
    AFTER = "after"


class BreachMeasure(StrEnum):
    """What a breach is measured in, and so by which cases its cost is shown."""

    NONE = "none"
    """Nothing is measured: it costs the same each time."""
    UNDER = "under"
    """A height under the minimum."""
    SHORT = "short"
    """A distance under the least one."""
    DEEP = "deep"
    """A depth inside, or a distance outside, where nobody may be."""
    LATE = "late"
    """A time."""


class GapKind(StrEnum):
    """How a gap of a sentence is filled."""

    TYPED = "typed"
    CHOSEN = "chosen"
    PLACE = "place"
    """An area of the event by name."""
    POINT = "point"
    """A point of the event by name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question: a row of the registry."""

    name: str
    part: QuestionPart
    asks: tuple[str, ...]
    """Single rules, `section.key`, or whole sections: of these all rules that no question
    names by themselves."""
    worked: BreachMeasure = BreachMeasure.NONE

    @property
    def rules(self) -> tuple[str, ...]:
        """All rules that it asks for, `section.key`, by the order of the file."""
        return _RULES[self.name]

    @property
    def keys(self) -> tuple[str, ...]:
        """Those whose values fill the sentence."""
        return tuple(key for key in self.rules if not _is_penalty(key))

    @property
    def penalty(self) -> str:
        """The one that says what a breach costs; empty = nothing can."""
        return next(filter(_is_penalty, self.rules), "")

    def waits(self, book: RuleBook) -> bool:
        """Tell whether the event has to answer it before anything is official."""
        return any(key in book.asked for key in self.rules)


def _asks(
    name: str,
    part: QuestionPart,
    *asks: str,
    worked: BreachMeasure = BreachMeasure.NONE,
) -> Question:
    return Question(name=name, part=part, asks=asks, worked=worked)


QUESTIONS: tuple[Question, ...] = (
    _asks("floor", QuestionPart.AIR, "floor", worked=BreachMeasure.UNDER),
    _asks("launch-place", QuestionPart.AIR, "launch", worked=BreachMeasure.SHORT),
    _asks(
        "launch-time",
        QuestionPart.AIR,
        "launch.period_penalty",
        worked=BreachMeasure.LATE,
    ),
    _asks("marks-time", QuestionPart.AIR, "scoring", worked=BreachMeasure.LATE),
    _asks("airspace", QuestionPart.AIR, "airspace", worked=BreachMeasure.DEEP),
    _asks("boundary", QuestionPart.AIR, "boundary", worked=BreachMeasure.DEEP),
    _asks("night", QuestionPart.AIR, "night"),
    _asks("declarations", QuestionPart.AIR, "declarations", worked=BreachMeasure.LATE),
    _asks("brought-up", QuestionPart.AIR, "findings"),
    _asks("contact", QuestionPart.GROUND, "contact"),
    _asks("entering", QuestionPart.GROUND, "keying"),
    _asks("logs", QuestionPart.GROUND, "tracks"),
    _asks("exact", QuestionPart.GROUND, "results"),
    _asks("points", QuestionPart.POINTS, "points"),
    _asks("no-result", QuestionPart.POINTS, "points.no_result", "points.show_up"),
    _asks("equal", QuestionPart.POINTS, "points.ties", "points.parted_by"),
    _asks("standings", QuestionPart.POINTS, "standings.best_of", "standings.ties"),
    _asks("classes", QuestionPart.POINTS, "standings"),
    _asks("complaints", QuestionPart.AFTER, "publication"),
)
"""Every question; each rule of a book belongs to just one."""


def _rules() -> Mapping[str, tuple[str, ...]]:
    """Return the rules of each question, by its name."""
    by = {one: question.name for question in QUESTIONS for one in question.asks}
    asked: dict[str, list[str]] = {question.name: [] for question in QUESTIONS}
    for section in SECTIONS:
        for key in (f"{section}.{name}" for name in rules_of(section)):
            asked[by.get(key) or by[section]].append(key)
    return {name: tuple(keys) for name, keys in asked.items()}


def _is_penalty(key: str) -> bool:
    return rule_of(key)[1].kind == "penalties"


def question_of(key: str) -> Question:
    """Return the question that asks for a rule; KeyError for a rule there is not."""
    return _BY_RULE[key]


def gap_kind(key: str) -> GapKind:
    """Return how the gap of a rule is filled."""
    _, how, _ = rule_of(key)
    if how.choices or how.kind == "yes-no":
        return GapKind.CHOSEN
    if how.kind == "name":
        return GapKind.POINT if key in _POINTS else GapKind.PLACE
    return GapKind.TYPED


def variable(key: str) -> str:
    """Return by what name a rule's gap stands in the sentence of its question."""
    return key.partition(".")[2].replace("_", "-")


_RULES = _rules()
_BY_RULE: Mapping[str, Question] = {
    key: question for question in QUESTIONS for key in question.rules
}
_POINTS = frozenset({"floor.above"})
