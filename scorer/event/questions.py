"""The rules of an event as questions to people: declared once, in the order of asking.

A question is some rules that are one thing to whoever answers.  In the catalogue stand
its title, `question-NAME`; its answer as a sentence with a gap for each rule,
`sentence-NAME`; and the answer in few words, `answer-NAME`.  Lists, forms, worked cases
and checks for completeness follow from the declarations.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from scorer.event.rulebook import Rule, RuleBook, rules_of


class Part(StrEnum):
    """Where in an event a question belongs; titles stand as `questions-NAME`."""

    AIR = "air"
    GROUND = "ground"
    POINTS = "points"
    AFTER = "after"


class Worked(StrEnum):
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
    part: Part
    keys: tuple[str, ...] = ()
    """`section.key` of the rules whose values fill the sentence, by the order of the
    file."""
    penalty: str = ""
    """`section.key` of the rule that says what a breach costs; empty = nothing can."""
    worked: Worked = Worked.NONE

    @property
    def rules(self) -> tuple[str, ...]:
        """All rules that it asks for."""
        return (*self.keys, *((self.penalty,) if self.penalty else ()))

    def waits(self, book: RuleBook) -> bool:
        """Tell whether the event has to answer it before anything is official."""
        return any(key in book.asked for key in self.rules)


QUESTIONS: tuple[Question, ...] = (
    Question(
        name="floor",
        part=Part.AIR,
        keys=(
            "floor.height",
            "floor.above",
            "floor.within",
            "floor.until",
            "floor.least_time",
            "floor.tolerance",
        ),
        penalty="floor.penalty",
        worked=Worked.UNDER,
    ),
    Question(
        name="launch-place",
        part=Part.AIR,
        keys=(
            "launch.least_distance",
            "launch.most_distance",
            "launch.area",
            "launch.retry",
        ),
        penalty="launch.penalty",
        worked=Worked.SHORT,
    ),
    Question(
        name="launch-time",
        part=Part.AIR,
        penalty="launch.period_penalty",
        worked=Worked.LATE,
    ),
    Question(
        name="marks-time", part=Part.AIR, penalty="scoring.penalty", worked=Worked.LATE
    ),
    Question(
        name="airspace",
        part=Part.AIR,
        keys=("airspace.tolerance",),
        penalty="airspace.penalty",
        worked=Worked.DEEP,
    ),
    Question(
        name="boundary",
        part=Part.AIR,
        keys=("boundary.within",),
        penalty="boundary.penalty",
        worked=Worked.DEEP,
    ),
    Question(
        name="night",
        part=Part.AIR,
        keys=("night.before_sunrise", "night.after_sunset"),
        penalty="night.penalty",
    ),
    Question(
        name="declarations",
        part=Part.AIR,
        keys=(
            "declarations.radius",
            "declarations.several",
            "declarations.least_distance",
        ),
        penalty="declarations.late_penalty",
        worked=Worked.LATE,
    ),
    Question(name="brought-up", part=Part.AIR, keys=("findings.least_probability",)),
    Question(
        name="contact",
        part=Part.GROUND,
        keys=("contact.within", "contact.until"),
        penalty="contact.penalty",
    ),
    Question(
        name="entering",
        part=Part.GROUND,
        keys=("keying.twice", "keying.tolerance", "keying.counts"),
    ),
    Question(
        name="logs",
        part=Part.GROUND,
        keys=("tracks.throw", "tracks.log_gap", "tracks.dimensions"),
    ),
    Question(
        name="exact",
        part=Part.GROUND,
        keys=(
            "results.decimals",
            "results.step",
            "results.angle_decimals",
            "results.time_decimals",
        ),
    ),
    Question(
        name="points",
        part=Part.POINTS,
        keys=("points.method", "points.places", "points.by_class"),
    ),
    Question(
        name="no-result",
        part=Part.POINTS,
        keys=("points.no_result", "points.show_up"),
    ),
    Question(name="equal", part=Part.POINTS, keys=("points.ties", "points.parted_by")),
    Question(
        name="standings",
        part=Part.POINTS,
        keys=("standings.best_of", "standings.ties"),
    ),
    Question(
        name="classes",
        part=Part.POINTS,
        keys=(
            "standings.by_class",
            "standings.team_size",
            "standings.team_column",
        ),
    ),
    Question(
        name="complaints",
        part=Part.AFTER,
        keys=("publication.complaint_time", "publication.protest_time"),
    ),
)
"""Every question; each rule of a book belongs to just one."""

_BY_RULE: Mapping[str, Question] = {
    key: question for question in QUESTIONS for key in question.rules
}
_POINTS = frozenset({"floor.above"})


def question_of(key: str) -> Question:
    """Return the question that asks for a rule; KeyError for a rule there is not."""
    return _BY_RULE[key]


def rule_named(key: str) -> tuple[Rule, object]:
    """Return how the rule `section.key` is read, and its default."""
    section, _, name = key.partition(".")
    _, how, default = rules_of(section)[name]
    return how, default


def gap_kind(key: str) -> GapKind:
    """Return how the gap of a rule is filled."""
    how, _ = rule_named(key)
    if how.choices or how.kind == "yes-no":
        return GapKind.CHOSEN
    if how.kind == "name":
        return GapKind.POINT if key in _POINTS else GapKind.PLACE
    return GapKind.TYPED


def variable(key: str) -> str:
    """Return by what name a rule's gap stands in the sentence of its question."""
    return key.partition(".")[2].replace("_", "-")
