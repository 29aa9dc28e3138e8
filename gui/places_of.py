"""On which page each sort of matter is closed."""

from collections.abc import Mapping
from types import MappingProxyType

from scorer.event.matter import Closes

CLOSED_ON: Mapping[Closes, str] = MappingProxyType(
    {
        Closes.PILOTS: "roster",
        Closes.PLACES: "tasks",
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
"""Names of pages; a test holds that each is on the rail.  A page that takes such matters
over (places) names itself here."""


def page_closing(closes: Closes) -> str:
    """Return the name of the page on which a matter is closed."""
    return CLOSED_ON[closes]
