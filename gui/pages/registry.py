"""The pages of the window, in the order of a morning, and where matters are closed.

A page that is made is added to `PAGES`; its place on the rail stands here already.
"""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from gui.pages.desks import DesksPage
from gui.pages.fieldnotes import FieldNotesPage
from gui.pages.findings import FindingsPage
from gui.pages.keying import KeyingPage
from gui.pages.logs import LogsPage
from gui.pages.page import Page
from gui.pages.publish import PublishPage
from gui.pages.results import ResultsPage
from gui.pages.roster import RosterPage
from gui.pages.rules import RulesPage
from gui.pages.settle import SettlePage
from gui.pages.start import StartPage
from gui.pages.tasks import TasksPage
from scorer.event.matter import Closes

PAGES: tuple[type[Page], ...] = (
    StartPage,
    RosterPage,
    TasksPage,
    RulesPage,
    KeyingPage,
    SettlePage,
    FieldNotesPage,
    LogsPage,
    FindingsPage,
    ResultsPage,
    PublishPage,
    DesksPage,
)
START = "start"
HOME = "matters"
RAIL: Sequence[tuple[str, Sequence[str]]] = (
    ("Today", (HOME,)),
    ("Before the flight", ("roster", "places", "tasks", "rules")),
    ("After the drop", ("keying", "settle", "fieldnotes", "logs", "findings")),
    ("Going up", ("results", "publish", "complaints", "board")),
    ("Record", ("desks",)),
)
"""Headings, and the names of the pages under each."""
OFF_RAIL = (START, "pilot")
"""Pages that lead from elsewhere: from the start of the program, from a row."""
CLOSED_ON: Mapping[Closes, Sequence[str]] = MappingProxyType(
    {
        Closes.PILOTS: ("roster",),
        Closes.PLACES: ("places", "tasks"),
        Closes.TASKS: ("tasks",),
        Closes.RULES: ("rules",),
        Closes.MARKS: ("keying",),
        Closes.COMPARE: ("settle",),
        Closes.REPORTS: ("fieldnotes",),
        Closes.LOGS: ("logs",),
        Closes.INFRINGEMENTS: ("findings",),
        Closes.PUBLISH: ("publish",),
        Closes.COMPLAINTS: ("complaints", "publish"),
        Closes.JOURNAL: ("desks",),
    }
)
"""Names of the pages on which matters are closed; the first that there is."""


def page_closing(closes: Closes) -> str:
    """Return the name of the page on which a matter is closed."""
    made = {page.name for page in PAGES}
    return next(name for name in CLOSED_ON[closes] if name in made)
