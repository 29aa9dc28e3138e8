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


TO_ENTER = frozenset({"mark-missing", "hidden-until-entered-twice"})
"""What is closed by entering a mark, whatever is compared of others."""
ABOUT_RULES = frozenset(
    {
        "minimum-of-nothing",
        "tolerance-eats-minimum",
        "least-time-long",
        "low-flight-pays",
    }
)
"""What matters of safety may say of a rule rather than of a task: it is answered there."""


def rule_of(matter: Matter) -> str:
    """Return the key of the rule that a matter is about; empty where it names none."""
    says = matter.each[0].says
    named = (v.amount for v in values_within(says) if v.measure is Measure.RULE)
    return str(next(named, MINIMUM if says.kind in ABOUT_RULES else ""))


MINIMUM = "floor.height"


def page_of(matter: Matter) -> str:
    """Return the name of the page on which a matter is closed."""
    said = {matter.says.kind, *(one.says.kind for one in matter.each)}
    if said & ABOUT_RULES:
        return page_closing(Closes.RULES)
    return page_closing(Closes.MARKS if said & TO_ENTER else matter.kind.closes)
