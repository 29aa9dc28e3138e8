"""The registry of matters that the engine itself states: what each blocks, where it closes.

Titles stand in the catalogue as `matter-NAME`.  Names are those of results.json and
accepted.csv and never change.  A check of its own kind declares its matter in its own file.
"""

from scorer.event import matter
from scorer.event.matter import Blocks, Closes, closed_at, matter_kind

UNSETTLED = matter_kind(
    "unsettled", blocks=Blocks.OFFICIAL, closes=Closes.COMPARE, acceptable=False
)
NO_MARK = matter_kind(
    "no-mark",
    blocks=Blocks.OFFICIAL,
    closes=Closes.MARKS,
    acceptable=False,
    grouped=True,
)
UNRULED = matter_kind(
    "unruled", blocks=Blocks.OFFICIAL, closes=Closes.INFRINGEMENTS, grouped=True
)
MARK_FAR_FROM_TRACK = matter_kind(
    "mark-far-from-track", blocks=Blocks.OFFICIAL, closes=Closes.COMPARE
)
STACK_UNFIT = matter_kind(
    "stack-unfit",
    blocks=Blocks.OFFICIAL,
    closes=Closes.COMPARE,
    grouped=True,
    alike=("start", "place", "other"),
)
LOG_PILOT = matter_kind("log-pilot", blocks=Blocks.OFFICIAL, closes=Closes.LOGS)
RULING = matter_kind("ruling", blocks=Blocks.OFFICIAL, closes=Closes.INFRINGEMENTS)
RULES = matter_kind(
    "rules", blocks=Blocks.OFFICIAL, closes=Closes.RULES, acceptable=False
)
SAME_PERSON = matter_kind("same-person", blocks=Blocks.OFFICIAL, closes=Closes.PILOTS)
ALIKE_NAMES = matter_kind("alike-names", closes=Closes.PILOTS)
COLUMNS_EXCHANGED = matter_kind(
    "columns-exchanged", blocks=Blocks.OFFICIAL, closes=Closes.PILOTS
)
LETTERS_MISREAD = matter_kind("letters-misread", closes=Closes.PILOTS)
CLASS = matter_kind("class", blocks=Blocks.OFFICIAL, closes=Closes.PILOTS)
TARGET_CLOSED = matter_kind(
    "target-closed", blocks=Blocks.OFFICIAL, closes=Closes.MARKS
)
TARGET_MOVED = matter_kind(
    "target-moved",
    blocks=Blocks.OFFICIAL,
    closes=Closes.MARKS,
    grouped=True,
    alike=("target", "away"),
)
TARGET_NOT_CLEAR = matter_kind("target-not-clear", closes=Closes.TASKS)
NOT_ENTERED = matter_kind("not-entered", blocks=Blocks.OFFICIAL, closes=Closes.PILOTS)
CHECK_IN = matter_kind("check-in", closes=Closes.PILOTS, acceptable=False, grouped=True)
REPORT = matter_kind("report", closes=Closes.REPORTS)
NOT_FLOWN = matter_kind(
    "not-flown", blocks=Blocks.OFFICIAL, closes=Closes.MARKS, acceptable=False
)
STILL_FLYING = matter_kind(
    "still-flying", blocks=Blocks.OFFICIAL, closes=Closes.REPORTS
)
PLANNED = matter_kind(
    "planned", blocks=Blocks.OFFICIAL, closes=Closes.TASKS, acceptable=False
)
RESULT_LOST = matter_kind("result-lost", blocks=Blocks.OFFICIAL, closes=Closes.MARKS)
KEYING = matter_kind("keying", closes=Closes.COMPARE)
RULING_REPLACED = matter_kind("ruling-replaced", closes=Closes.INFRINGEMENTS)
DECLARATION = matter_kind("declaration", closes=Closes.REPORTS)
SAFETY = matter_kind(matter.SAFETY, closes=Closes.TASKS)
IMPOSSIBLE = matter_kind("impossible", blocks=Blocks.OFFICIAL, closes=Closes.MARKS)
TIE = matter_kind("tie", closes=Closes.MARKS)
TASK = matter_kind("task", closes=Closes.TASKS)
NO_LOG = matter_kind("no-log", closes=Closes.LOGS, grouped=True)
RETRY = matter_kind("retry", closes=Closes.LOGS)
LOG_GAP = matter_kind("log-gap", closes=Closes.LOGS)
LOG_HEIGHTS = matter_kind("log-heights", closes=Closes.LOGS)
LOG_CLOCK = matter_kind("log-clock", closes=Closes.LOGS)
LOG_CLOCK_WRONG = matter_kind(
    "log-clock-wrong", blocks=Blocks.OFFICIAL, closes=Closes.LOGS
)
LOG_CLOCK_ALONE = matter_kind("log-clock-alone", closes=Closes.LOGS)
AIR_LATE = matter_kind("air-late", closes=Closes.LOGS)
AIR_UNREAD = matter_kind("air-unread", closes=Closes.LOGS)
LOG_BY_HAND = matter_kind("log-by-hand", closes=Closes.LOGS)
LOG_BROKEN = matter_kind("log-broken", closes=Closes.LOGS)
LOG_REPAIRED = matter_kind("log-repaired", closes=Closes.LOGS, grouped=True)
LOG_LEFT_OUT = matter_kind("log-left-out", closes=Closes.LOGS, grouped=True)
LOG_UNMATCHED = matter_kind("log-unmatched", closes=Closes.LOGS)
LOG_DUPLICATE = matter_kind("log-duplicate", closes=Closes.LOGS)
REFERENCE = matter_kind("reference", closes=Closes.PLACES)
TERRAIN = matter_kind("terrain", closes=Closes.PLACES)
HEIGHT_UNKNOWN = matter_kind("height-unknown", closes=Closes.PLACES, grouped=True)
SET_ASIDE = matter_kind("set-aside", blocks=Blocks.OFFICIAL, closes=Closes.JOURNAL)

ABOUT_RULES = (
    "minimum-of-nothing",
    "tolerance-eats-minimum",
    "least-time-long",
    "low-flight-pays",
)
"""What matters of safety may say of a rule rather than of a task: it is answered there."""
closed_at(Closes.RULES, *ABOUT_RULES)
# A decision on what is found no more stands in no list of infringements.
closed_at(
    Closes.JOURNAL, "ruling-meets-nothing", "ruling-on-no-kind", "penalty-added-again"
)
# A mark that one person entered is nothing to compare yet; others lack a cell.
closed_at(
    Closes.MARKS,
    "hidden-until-entered-twice",
    "keyed-once-only",
    "cannot-be-reduced",
    "survey-open",
    "mark-without-bearing",
    "mark-without-numbers",
    "mark-beside-place",
    "nearest-target-unknown",
    "inside-unknown",
    "taped-outside-radius",
    "time-unknown",
    "time-from-track",
    "stage-without-landing",
    "reached-before-start",
)
closed_at(Closes.REPORTS, "mark-of-not-flown", "landing-time-unknown", "landings-apart")
closed_at(
    Closes.LOGS,
    "times-by-log",
    "time-near-window",
    "time-near-limit",
    "hare-launch-unseen",
)
closed_at(Closes.PLACES, "height-unknown")
