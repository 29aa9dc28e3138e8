"""Rule books: every limit, penalty and formula a task is scored by, with its source.

A shipped book is a TOML file in `scorer/event/books`; beside each value stand where it
comes from and how sure we are.  The `[rules]` of an event override single values; such a
value's source is the event itself.  What no source confirmed is left unset: the product
then says so instead of inventing a rule.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from enum import StrEnum
from typing import Any

from scorer.facts import (
    Fact,
    Measure,
    Value,
    chance,
    fact,
    inner,
    length,
    number,
    points,
    several,
    span,
    term,
    words,
)
from scorer.facts import rule as rule_value
from scorer.units import FOOT_M


class Certainty(StrEnum):
    """How well a value is supported."""

    CONFIRMED = "read in a published text"
    ONE_SOURCE = "one source or an old edition"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    EVENT = "set by the event"
    CHOICE = "our choice"


@dataclass(frozen=True, slots=True, kw_only=True)
class Provenance:
    """Where a value of a rule book comes from."""

    entered: str
    """The value as it stands in the book or the event."""
    source: str
    """Of a book: the term of the catalogue that names it, without `source-`."""
    certainty: Certainty


class Until(StrEnum):
    """Until when the minimum height holds within its boundary."""

    SCORING_AREA = "scoring-area"
    DROP = "drop"
    EXIT = "exit"


class Count(StrEnum):
    """How units over a limit are counted."""

    EXACT = "exact"
    STARTED = "started"
    FULL = "full"


@dataclass(frozen=True, slots=True, kw_only=True)
class PenaltyStep:
    """One step of a graded penalty: holds from this excess on."""

    over: float
    """Excess over the limit, in the finding's SI unit (m or s)."""
    amount: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PenaltyRule:
    """How a breach turns into a penalty."""

    unit: str
    """`task points`, `event points`, `metres`, `no result` or `disqualified`."""
    base: float = 0.0
    per: float = 0.0
    """Added for each `of` beyond the limit."""
    of: str = ""
    """`m`, `ft`, `km`, `s`, `min` ...; what `per` counts."""
    of_si: float = 1.0
    """`of` in metres or seconds."""
    count: Count = Count.EXACT
    cap: float | None = None
    steps: tuple[PenaltyStep, ...] = ()

    @property
    def says(self) -> Fact:
        """State what a breach costs: `1 task point for each foot, at most 500`."""
        unit = self.unit.replace(" ", "-")
        if unit in {"no-result", "disqualified"}:
            return fact(f"amount-{unit}")
        parts = fact("all-of", parts=several(map(inner, self._parts(unit))))
        if self.cap is None:
            return parts
        return fact("penalty-at-most", cost=inner(parts), most=number(self.cap))

    def _parts(self, unit: str) -> Iterator[Fact]:
        def so_many(amount: float) -> Value:
            return inner(fact(f"cost-{unit}", amount=points(amount)))

        if self.base or not (self.per or self.steps):
            yield fact("penalty-flat", amount=so_many(self.base))
        if self.per:
            of = term(f"{self.count}-{self.of}")
            yield fact("penalty-each", amount=so_many(self.per), of=of)
        for step in self.steps:
            over = number(step.over / self.of_si)
            yield fact(
                "penalty-from",
                amount=so_many(step.amount),
                over=over,
                of=term(f"unit-{self.of or 'si'}"),
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """How one key of a section is read: set on dataclass fields as metadata."""

    key: str
    kind: str
    """Names a parser in `scorer.event.rules_reader`."""
    doc: str
    choices: tuple[str, ...] = ()
    measure: Measure = Measure.HEIGHT
    """What its lengths count."""


def rule(
    key: str,
    kind: str,
    doc: str,
    *,
    default: Any = None,
    choices: Any = (),
    measure: Measure = Measure.HEIGHT,
) -> Any:
    """Declare a field of a rule section: its TOML key, how it is read, what it means."""
    names = tuple(str(c) for c in choices)
    own = Rule(key=key, kind=kind, doc=doc, choices=names, measure=measure)
    return field(default=default, metadata={"rule": own})


def _penalty_doc(of_what: str) -> str:
    return f"what {of_what} costs; unset = a finding only, people decide"


def _penalties(of_what: str) -> Any:
    return rule("penalty", "penalties", _penalty_doc(of_what), default=())


Penalties = tuple[PenaltyRule, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorRule:
    """Minimum height above the ground while flying in."""

    height_m: float | None = rule("height", "length", "minimum height above the ground")
    above: str | None = rule(
        "above",
        "name",
        "place above whose elevation the height counts, as balloons tethered there show "
        "it; unset = above the ground under the basket",
    )
    within: str | None = rule("within", "name", "boundary inside which it holds")
    until: Until = rule(
        "until", "choice", "when it ends", default=Until.SCORING_AREA, choices=Until
    )
    tolerance_m: float = rule(
        "tolerance", "length", "depth below the height that is let pass", default=0.0
    )
    least_time_s: float = rule(
        "least_time", "duration", "shortest time below that counts", default=0.0
    )
    penalty: Penalties = _penalties("flying under it")


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactRule:
    """Touching the ground before the task is done."""

    within: str | None = rule(
        "within",
        "name",
        "where: `scoring-area` = the task's scoring areas, else a boundary's name",
    )
    until: Until = rule(
        "until", "choice", "when it ends", default=Until.EXIT, choices=Until
    )
    penalty: Penalties = _penalties("a ground contact")


@dataclass(frozen=True, slots=True, kw_only=True)
class LaunchRule:
    """Where and when pilots may launch."""

    least_distance_m: float | None = rule(
        "least_distance",
        "length",
        "least distance of the launch from the target",
        measure=Measure.DISTANCE,
    )
    most_distance_m: float | None = rule(
        "most_distance",
        "length",
        "greatest distance of the launch from the target",
        measure=Measure.DISTANCE,
    )
    area: str | None = rule("area", "name", "launch area that must be used")
    retry: str = rule(
        "retry",
        "choice",
        "which launch counts where a pilot landed and launched again before the drop",
        default="first",
        choices=("first", "last"),
    )
    penalty: Penalties = _penalties("a wrong launch place")
    period_penalty: Penalties = rule(
        "period_penalty",
        "penalties",
        _penalty_doc("a launch outside the launch period"),
        default=(),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoringRule:
    """When and where marks count."""

    penalty: Penalties = _penalties("a mark outside the scoring period")


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsRule:
    """Which findings are brought before officials."""

    least_probability: float = rule(
        "least_probability",
        "share",
        "probability from which a breach is brought up and waits for a ruling; the "
        "checks themselves start at 0.03",
        default=0.03,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class AirspaceRule:
    """Prohibited airspace of the event."""

    tolerance_m: float = rule(
        "tolerance", "length", "depth inside that is let pass", default=0.0
    )
    penalty: Penalties = _penalties("entering prohibited airspace")


@dataclass(frozen=True, slots=True, kw_only=True)
class BoundaryRule:
    """Boundaries that pilots must stay within."""

    within: str | None = rule("within", "name", "boundary to stay within")
    penalty: Penalties = _penalties("leaving the boundary")


@dataclass(frozen=True, slots=True, kw_only=True)
class NightRule:
    """Flight by daylight only."""

    before_sunrise_s: float | None = rule(
        "before_sunrise", "duration", "earliest launch before sunrise (0 s = sunrise)"
    )
    after_sunset_s: float | None = rule(
        "after_sunset", "duration", "latest landing after sunset (0 s = sunset)"
    )
    penalty: Penalties = _penalties("flight at night")


@dataclass(frozen=True, slots=True, kw_only=True)
class DeclarationRule:
    """How declared goals become valid."""

    radius_m: float | None = rule(
        "radius",
        "length",
        "goals this near to declared coordinates are meant",
        measure=Measure.DISTANCE,
    )
    several: str | None = rule(
        "several",
        "choice",
        "which goal counts when several are meant",
        choices=("least-advantageous", "nearest", "invalid"),
    )
    least_distance_m: float | None = rule(
        "least_distance",
        "length",
        "least distance from declaring to the goal",
        measure=Measure.DISTANCE,
    )
    late_penalty: Penalties = rule(
        "late_penalty", "penalties", _penalty_doc("a late declaration"), default=()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackRule:
    """How distances are taken from tracks, and how far a marker carries."""

    dimensions: int = rule(
        "dimensions", "count", "2 = horizontal, 3 = with height", default=2
    )
    throw_m: float = rule(
        "throw", "length", "farthest a marker may carry from the basket", default=100.0
    )
    log_gap_s: float = rule(
        "log_gap", "duration", "a pause of the log that people must know", default=60.0
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PointsRule:
    """How ranks and results become points."""

    method: str = rule(
        "method",
        "choice",
        "formula",
        default="international",
        choices=("international", "places", "none"),
    )
    ties: str = rule(
        "ties",
        "choice",
        "points of equal results",
        default="shared-rank",
        choices=("shared-rank", "mean"),
    )
    parted_by: str = rule(
        "parted_by",
        "choice",
        "what parts equal results of a task: nothing, or the earlier drop where the times "
        "of all of them are known",
        default="nothing",
        choices=("nothing", "earlier-drop"),
    )
    no_result: str = rule(
        "no_result",
        "choice",
        "points of those who flew without a result",
        default="share",
        choices=("share", "zero", "next-place", "last-place"),
    )
    by_class: bool = rule(
        "by_class",
        "yes-no",
        "each class is a field of its own: pilots entered, places and points",
        default=False,
    )
    show_up: int = rule(
        "show_up", "count", "least points of everybody who flew", default=0
    )
    places: tuple[int, ...] = rule(
        "places", "counts", "points of the first, second, ... place", default=()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ResultsRule:
    """How results are rounded and shown."""

    decimals: int = rule("decimals", "count", "decimals of a result", default=2)
    step_m: float | None = rule(
        "step",
        "step",
        "lengths of an event in feet and inches are rounded and ranked in steps of this, "
        '"1/2 in" say; unset = in metres, as elsewhere',
    )
    angle_decimals: int = rule(
        "angle_decimals", "count", "decimals of an angle", default=2
    )
    time_decimals: int = rule(
        "time_decimals",
        "count",
        "decimals of a time taken in a race, in seconds; more than 0 needs logs with "
        "several fixes a second",
        default=0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyingRule:
    """When two keyings agree."""

    tolerance_m: float = rule(
        "tolerance",
        "length",
        "difference of two keyings let pass",
        default=0.01,
        measure=Measure.LENGTH,
    )
    twice: bool = rule(
        "twice", "yes-no", "every mark must be keyed by two people", default=False
    )
    drop_time: bool = rule(
        "drop_time", "yes-no", "when a marker fell is noted with it", default=False
    )
    measurer: bool = rule(
        "measurer", "yes-no", "who measured is noted with every mark", default=False
    )
    counts: str = rule(
        "counts",
        "choice",
        "which of the entries that agree counts",
        default="less advantageous",
        choices=("less advantageous", "more advantageous", "mean"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingsRule:
    """How task scores add up over the event."""

    best_of: int | None = rule(
        "best_of", "count", "only the best this many tasks count; unset = all"
    )
    ties: str = rule(
        "ties",
        "choice",
        "how equal totals are parted",
        default="shared-rank",
        choices=("shared-rank", "best-scores", "most-wins", "last-task"),
    )
    team_size: int | None = rule(
        "team_size", "count", "best pilots of a team that count"
    )
    team_column: str | None = rule(
        "team_column", "text", "roster column that names the team"
    )
    by_class: bool = rule(
        "by_class", "yes-no", "separate standings for each class", default=False
    )


COMPLAINT_TIME = "publication.complaint_time"


@dataclass(frozen=True, slots=True, kw_only=True)
class PublicationRule:
    """Complaint and protest times."""

    complaint_s: float | None = rule(
        "complaint_time", "duration", "complaint period after official results"
    )
    protest_s: float | None = rule(
        "protest_time", "duration", "protest period after a complaint's outcome"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBook:
    """All rules of a task, with the provenance of each value."""

    name: str
    title: str = ""
    about: str = ""
    floor: FloorRule = FloorRule()
    contact: ContactRule = ContactRule()
    launch: LaunchRule = LaunchRule()
    scoring: ScoringRule = ScoringRule()
    findings: FindingsRule = FindingsRule()
    airspace: AirspaceRule = AirspaceRule()
    boundary: BoundaryRule = BoundaryRule()
    night: NightRule = NightRule()
    declarations: DeclarationRule = DeclarationRule()
    tracks: TrackRule = TrackRule()
    points: PointsRule = PointsRule()
    results: ResultsRule = ResultsRule()
    keying: KeyingRule = KeyingRule()
    standings: StandingsRule = StandingsRule()
    publication: PublicationRule = PublicationRule()
    provenance: Mapping[str, Provenance] = field(default_factory=dict)
    """By `section.key`, for every value that the book or the event sets."""
    paragraphs: Mapping[str, str] = field(default_factory=dict)
    """The event's own paragraph, such as `§ 9.4`, by `section.key`."""
    unset: tuple[str, ...] = ()
    """Keys the book names as needing an answer of the event, still without one."""

    @property
    def asked(self) -> tuple[str, ...]:
        """Keys that wait for an answer of the event: what the book leaves to it.

        However it was left open, nothing becomes official without a time to complain.
        """
        needed = () if self.publication.complaint_s is not None else (COMPLAINT_TIME,)
        return tuple(dict.fromkeys((*self.unset, *needed)))

    def cite(self, key: str) -> Fact:
        """State the rule `section.key`: its value, where it comes from, how sure it is."""
        known = self.provenance.get(key)
        named, answer = self.named(key, with_penalty=True), self.answer(key)
        if known is None:
            return fact("rule-by-default", rule=named, value=answer)
        if known.certainty is Certainty.EVENT:
            return fact("rule-of-event", rule=named, value=answer)
        return fact(
            "rule-cited",
            rule=named,
            value=answer,
            source=term(f"source-{known.source}"),
            certainty=term(f"certainty-{known.certainty.name.casefold()}"),
        )

    def named(self, key: str, *, with_penalty: bool = False) -> Value:
        """Return the rule `section.key`, and the event's own paragraph where it has one.

        `with_penalty` also names the paragraph of what a breach costs, where that is
        another one.
        """
        return self.beside(rule_value(key), key, with_penalty=with_penalty)

    def beside(self, what: Value, key: str, *, with_penalty: bool = False) -> Value:
        """Return what a rule is called, and the event's own paragraph of its key."""
        own, cost = (self.paragraphs.get(k, "") for k in (key, _penalty_of(key)))
        if with_penalty and cost not in {"", own}:
            said = fact("paragraph-of-penalty", cost=words(cost))
            if own:
                said = fact("paragraph-and-penalty", own=words(own), cost=words(cost))
            paragraph = inner(said)
        elif own:
            paragraph = words(own)
        else:
            return what
        return inner(fact("rule-and-paragraph", rule=what, own=paragraph))

    def held(self, key: str) -> tuple[Any, Rule]:
        """Return the value of the rule `section.key`, and how it is read."""
        attribute, how, _ = rule_of(key)
        return getattr(getattr(self, key.partition(".")[0]), attribute), how

    def answer(self, key: str) -> Value:
        """Return the value of the rule `section.key`, typed; a term where it has none."""
        held, how = self.held(key)
        if held in (None, ()):
            asked = "not-answered" if key in self.asked else "not-set"
            return term(f"rule-{asked}")
        return _ANSWERS[how.kind](held, how)


def _penalty_of(key: str) -> str:
    """Return the rule that says what a breach of another one costs; empty for none."""
    section, _, name = key.partition(".")
    return "" if "penalty" in name else f"{section}.penalty"


_ANSWERS: Mapping[str, Callable[[Any, Rule], Value]] = {
    "length": lambda held, how: Value(how.measure, held),
    "step": lambda held, _: length(held),
    "duration": lambda held, _: span(held),
    "name": lambda held, _: (
        term("within-scoring-area") if held == Until.SCORING_AREA else words(held)
    ),
    "text": lambda held, _: words(held),
    "choice": lambda held, how: term(f"choice-{how.key}-{held}".replace("_", "-")),
    "count": lambda held, _: number(held),
    "counts": lambda held, _: several(map(number, held)),
    "share": lambda held, _: chance(held),
    "yes-no": lambda held, _: term("yes" if held else "no"),
    "penalties": lambda held, _: several(inner(one.says) for one in held),
}
"""How the value of a rule is stated, by how it is read."""


SECTIONS: Mapping[str, type] = {
    "floor": FloorRule,
    "contact": ContactRule,
    "launch": LaunchRule,
    "scoring": ScoringRule,
    "findings": FindingsRule,
    "airspace": AirspaceRule,
    "boundary": BoundaryRule,
    "night": NightRule,
    "declarations": DeclarationRule,
    "tracks": TrackRule,
    "points": PointsRule,
    "results": ResultsRule,
    "keying": KeyingRule,
    "standings": StandingsRule,
    "publication": PublicationRule,
}
"""Sections of a rule book by their TOML name."""


def rules_of(section: str) -> dict[str, tuple[str, Rule, object]]:
    """Return the keys of a section: TOML key to (attribute, how it is read, default)."""
    return {
        item.metadata["rule"].key: (item.name, item.metadata["rule"], item.default)
        for item in fields(SECTIONS[section])
    }


def rule_of(key: str) -> tuple[str, Rule, object]:
    """Return attribute, how it is read and default of the rule `section.key`."""
    section, _, name = key.partition(".")
    return rules_of(section)[name]


UNITS_SI: Mapping[str, float] = {
    "m": 1.0,
    "km": 1000.0,
    "ft": float(FOOT_M),
    "mi": float(5280 * FOOT_M),
    "s": 1.0,
    "min": 60.0,
    "h": 3600.0,
    "degree": 1.0,
    "percent": 1.0,
}
"""What a penalty may count, in the SI unit of the finding it belongs to."""

Parser = Callable[[Any], Any]
