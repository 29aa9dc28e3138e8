"""On which page each sort of matter is closed."""

from collections.abc import Mapping
from types import MappingProxyType

from scorer.event.matter import Closes, Matter
from scorer.facts import Measure, values_within

CLOSED_ON: Mapping[Closes, str] = MappingProxyType(
    {
        Closes.PILOTS: "roster",
        Closes.PLACES: "places",
        Closes.TASKS: "tasks",
        Closes.RULES: "rules",
        Closes.MARKS: "keying",
        Closes.COMPARE: "settle",
        Closes.REPORTS: "fieldnotes",
        Closes.LOGS: "logs",
        Closes.INFRINGEMENTS: "findings",
        Closes.PUBLISH: "publish",
        Closes.COMPLAINTS: "complaints",
        Closes.JOURNAL: "desks",
    }
)
"""Names of pages; a test holds that each is on the rail."""


def page_closing(closes: Closes) -> str:
    """Return the name of the page on which a matter is closed."""
    return CLOSED_ON[closes]


ABOUT_RULES = (
    "minimum-of-nothing",
    "tolerance-eats-minimum",
    "least-time-long",
    "low-flight-pays",
)
"""What matters of safety may say of a rule rather than of a task: it is answered there."""
ELSEWHERE: Mapping[str, Closes] = MappingProxyType(
    {
        **dict.fromkeys(ABOUT_RULES, Closes.RULES),
        **dict.fromkeys(
            ("ruling-meets-nothing", "ruling-on-no-kind", "penalty-added-again"),
            Closes.JOURNAL,
        ),
        **dict.fromkeys(
            (
                "hidden-until-entered-twice",
                "keyed-once-only",
                "cannot-be-reduced",
                "survey-open",
            ),
            Closes.MARKS,
        ),
        "mark-of-not-flown": Closes.REPORTS,
    }
)
"""What is closed elsewhere than others of its kind, by what it says; the first counts.

A mark that one person entered is nothing to compare yet; a decision on what is found no
more stands in no list of infringements, but in the journal, where it is reverted.
"""


def rule_of(matter: Matter) -> str:
    """Return the key of the rule that a matter is about; empty where it names none."""
    says = matter.each[0].says
    named = (v.amount for v in values_within(says) if v.measure is Measure.RULE)
    return str(next(named, MINIMUM if says.kind in ABOUT_RULES else ""))


MINIMUM = "floor.height"


def closed_at(matter: Matter) -> Closes:
    """Tell where a matter is closed: by what it says, else as others of its kind."""
    said = {matter.says.kind, *(one.says.kind for one in matter.each)}
    return next(
        (at for kind, at in ELSEWHERE.items() if kind in said), matter.kind.closes
    )


def page_of(matter: Matter) -> str:
    """Return the name of the page on which a matter is closed."""
    return page_closing(closed_at(matter))
