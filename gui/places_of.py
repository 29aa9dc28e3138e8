"""On which page each sort of matter is closed."""

from collections.abc import Mapping
from types import MappingProxyType

from scorer.event.matter import Closes, Matter
from scorer.event.matters import ABOUT_RULES
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


def rule_of(matter: Matter) -> str:
    """Return the key of the rule that a matter is about; empty where it names none."""
    says = matter.each[0].says
    named = (v.amount for v in values_within(says) if v.measure is Measure.RULE)
    return str(next(named, MINIMUM if says.kind in ABOUT_RULES else ""))


MINIMUM = "floor.height"


def page_of(matter: Matter) -> str:
    """Return the name of the page on which a matter is closed."""
    return page_closing(matter.closes)
