"""Forms for the field: what the measuring team writes on."""

from collections.abc import Iterator, Sequence
from typing import Any

from scorer.errors import Fault, InputError
from scorer.event.model import Event, Pilot, Task
from scorer.facts import fact, flight, words
from scorer.scoring import told
from scorer.sheets.sheet import clean, local_times
from scorer.sheets.stamp import NEVER, local, utc
from scorer.sheets.typeset import PrintWish, around, column, typeset
from scorer.tasks.kinds import KINDS
from scorer.words.voice import Voice

TEAM = ("measured-by", "written-by", "second-reading-by", "tape-from-to")
TO_WRITE = (
    ("head-distance", 22),
    ("head-second-reading", 22),
    ("head-bearing", 12),
    ("head-measured-from", 18),
    ("head-time", 10),
    ("head-none-found", 12),
    ("head-remarks", 26),
)


def task_of(event: Event, number: int) -> Task:
    """Return a task of the event; raise InputError where there is none."""
    for task in event.tasks:
        if task.number == number:
            return task
    known = ", ".join(str(task.number) for task in event.tasks) or "none"
    fault = Fault(
        where="task", found=str(number), allowed=f"a task of the event: {known}"
    )
    raise InputError([fault])


def around_form(
    event: Event, voice: Voice, wish: PrintWish, title: str, printed_at: str
) -> dict[str, Any]:
    """Return what stands around the pages of a form: it holds no results and says so."""
    at = local(printed_at, event.time_zone)
    printed = fact("printed-at", at=words(at))
    return around(
        event,
        voice,
        wish,
        title,
        name=clean(event.name),
        published=voice.say(printed) if at else voice.word("form"),
        hash=clean(voice.book(event.book)),
        parts=[{"running": ""}],
    )


def write_field_form(
    event: Event,
    task: int,
    *,
    printed_at: str = "",
    repeat: int = 1,
    blank: bool = False,
    wish: PrintWish | None = None,
) -> bytes:
    """Return the measuring team's form of a task as a PDF, pilots by number.

    Kinds with several marks get a line for each mark; `repeat` gives every pilot further
    lines.  `blank` leaves the lines empty, for marks as they are found.  `printed_at` is a
    UTC time, ISO 8601, or empty.
    """
    wish = wish or PrintWish()
    own, voice = task_of(event, task), Voice.of(event, wish.language)
    named = words(told.title_of(voice, own.number, own.kind))
    title = clean(voice.say(fact("title-field-form", task=named)))
    flown = fact("task-of-flight", title=words(title), flight=flight(own.flight))
    tree = around_form(event, voice, wish, title, printed_at) | {
        "heading": clean(voice.say(flown)),
        "facts": _facts(event, own, voice),
        "how": " ".join(voice.word(name) for name in _how(event, own)),
        "cross": voice.word("in-order-found" if blank else "cross-when-none-found"),
        "team": [voice.word(name) for name in TEAM],
        "columns": _columns(own, _to_write(event, own), voice),
        "rows": _rows(event, own, repeat, blank=blank),
    }
    return typeset("field_form", tree, utc(printed_at or NEVER))


def _facts(event: Event, task: Task, voice: Voice) -> list[tuple[str, str]]:
    own = next(f for f in event.flights if f.id == task.flight)
    radius = task.measuring_radius_m
    rows = [
        ("fact-date", f"{own.date.isoformat()}"),
        ("fact-times", voice.say(local_times(event, [own.date]))),
        ("fact-target", clean(", ".join(task.targets))),
        ("fact-marker", clean(task.marker)),
        ("fact-radius", "" if radius is None else voice.length(radius, 0)),
        ("fact-write-as", voice.word(f"write-as-{event.units}")),
    ]
    return [(voice.word(label), value) for label, value in rows if value]


def _marks(task: Task) -> tuple[str, ...]:
    """Return the marks a pilot of this task may have: those no place fills."""
    roles = KINDS[task.kind].roles
    return tuple(role for role in roles if role not in task.roles) or ("",)


def _how(event: Event, task: Task) -> Iterator[str]:
    """Yield how to measure, and what the rules want noted with every mark."""
    rule = event.book_of(task).keying
    yield "how-to-measure"
    if rule.drop_time:
        yield "how-to-note-time"
    if rule.measurer:
        yield "how-to-note-measurer"


def _to_write(event: Event, task: Task) -> list[tuple[str, int]]:
    """Return the columns to write in; those that the rules want say so."""
    rule = event.book_of(task).keying
    found = [
        ("head-drop-time", 16)
        if rule.drop_time and name == "head-time"
        else (name, wide)
        for name, wide in TO_WRITE
    ]
    return [*found[:-1], ("head-measurer", 16), found[-1]] if rule.measurer else found


def _columns(
    task: Task, to_write: Sequence[tuple[str, int]], voice: Voice
) -> list[dict[str, Any]]:
    mark = column(voice.word("head-mark"), None, "center")
    return [
        column(voice.word("head-number"), 7, "center", bold=True),
        column(voice.word("head-pilot"), 34),
        column(voice.word("head-registration"), 16),
        *([mark] if any(_marks(task)) else []),
        *(column(voice.word(name), share) for name, share in to_write),
    ]


def _rows(event: Event, task: Task, repeat: int, *, blank: bool) -> list[list[str]]:
    marks = _marks(task) * repeat
    entered = (p for p in event.pilots if p.takes_part(task.number))
    pilots = sorted(entered, key=lambda p: p.number)
    empty = [""] * len(_to_write(event, task))
    rows = [
        [*_cells(pilot, mark, first=n == 0), *empty]
        for pilot in pilots
        for n, mark in enumerate(marks)
    ]
    return [[""] * len(row) for row in rows] if blank else rows


def _cells(pilot: Pilot, mark: str, *, first: bool) -> list[str]:
    known = (clean(pilot.name), clean(pilot.registration)) if first else ("", "")
    own = [str(pilot.number), *known]
    return [*own, *([mark] if mark else [])]
