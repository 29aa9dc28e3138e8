"""Forms for the field: what the measuring team writes on."""

from scorer.errors import Fault, InputError
from scorer.event.model import Event, Pilot, Task, Units
from scorer.facts import fact, flight, words
from scorer.scoring import told
from scorer.sheets.paper import GREY, MM, Column, Paper, Row, draw_table
from scorer.sheets.sheet import book_title, clean
from scorer.sheets.stamp import NEVER, local, utc
from scorer.tasks.kinds import KINDS
from scorer.words.voice import Voice

ROW_HEIGHT = 8.6 * MM


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


def form_paper(
    event: Event, title: str, printed_at: str, *, wide: bool = False
) -> Paper:
    """Return empty paper for a form: it holds no results and says so."""
    name = clean(event.name)
    at = local(printed_at, event.time_zone)
    return Paper(
        title=f"{name}: {title}",
        head_left=name,
        head_right=title,
        foot_left=_printed(event, at),
        foot_middle=clean(book_title(event.book)),
        moment=utc(printed_at or NEVER),
        key=title,
        letter=event.units is Units.IMPERIAL,
        wide=wide,
    )


def _printed(event: Event, at: str) -> str:
    voice = Voice.of(event)
    return voice.say(fact("printed-at", at=words(at))) if at else voice.word("form")


def write_field_form(
    event: Event, task: int, *, printed_at: str = "", repeat: int = 1
) -> bytes:
    """Return the measuring team's form of a task as a PDF, pilots by number.

    Kinds with several marks get a line for each mark; `repeat` gives every pilot further
    lines.  `printed_at` is a UTC time, ISO 8601, or empty.
    """
    own, voice = task_of(event, task), Voice.of(event)
    named = words(told.title_of(voice, own.number, own.kind))
    title = voice.say(fact("title-field-form", task=named))
    paper = form_paper(event, title, printed_at, wide=True)
    paper.new_page()
    flown = fact("task-of-flight", title=words(title), flight=flight(own.flight))
    paper.heading(clean(voice.say(flown)))
    paper.facts(_facts(event, own))
    paper.skip(1 * MM)
    paper.paragraph(voice.word("how-to-measure"), size=8, colour=GREY)
    _team_line(paper, voice)
    rows = [
        Row(
            cells=_cells(pilot, mark, first=n == 0),
            height=ROW_HEIGHT,
            tinted=place % 2 == 1,
        )
        for place, pilot in enumerate(sorted(event.pilots, key=lambda p: p.number))
        for n, mark in enumerate(_marks(own) * repeat)
    ]
    draw_table(
        paper,
        _columns(own, voice),
        rows,
        before_page=lambda: _team_line(paper, voice),
        grid=True,
    )
    paper.skip(2 * MM)
    paper.paragraph(voice.word("cross-when-none-found"), size=7.5)
    return paper.finished()


def _facts(event: Event, task: Task) -> list[tuple[str, str]]:
    own = next(f for f in event.flights if f.id == task.flight)
    radius, voice = task.measuring_radius_m, Voice.of(event)
    rows = [
        ("fact-date", f"{own.date.isoformat()}"),
        ("fact-target", clean(", ".join(task.targets))),
        ("fact-marker", clean(task.marker)),
        ("fact-radius", "" if radius is None else voice.length(radius, 0)),
        ("fact-write-as", voice.word(f"write-as-{event.units}")),
    ]
    return [(voice.word(label), value) for label, value in rows if value]


def _team_line(paper: Paper, voice: Voice) -> None:
    """Room for the team's names, on every page."""
    paper.skip(9 * MM)
    each = paper.room / 4
    labels = ("measured-by", "written-by", "second-reading-by", "tape-from-to")
    for place, label in enumerate(labels):
        x = paper.left + place * each
        paper.canvas.setLineWidth(0.6)
        paper.canvas.line(x, paper.y, x + each - 6 * MM, paper.y)
        paper.text(x, paper.y - 3.2 * MM, voice.word(label), size=7, colour=GREY)
    paper.skip(5.5 * MM)


def _marks(task: Task) -> tuple[str, ...]:
    """Return the marks a pilot of this task may have: those no place fills."""
    roles = KINDS[task.kind].roles
    return tuple(role for role in roles if role not in task.roles) or ("",)


def _columns(task: Task, voice: Voice) -> list[Column]:
    marked = (
        [Column(title=voice.word("head-mark"), share=8, align="center")]
        if any(_marks(task))
        else []
    )
    wide = (
        ("head-distance", 22),
        ("head-second-reading", 22),
        ("head-bearing", 11),
        ("head-measured-from", 17),
        ("head-time", 10),
        ("head-none-found", 8),
        ("head-remarks", 26),
    )
    return [
        Column(title=voice.word("head-number"), share=6, align="center", bold=True),
        Column(title=voice.word("head-pilot"), share=32),
        Column(title=voice.word("head-registration"), share=16),
        *marked,
        *(Column(title=voice.word(name), share=share) for name, share in wide),
    ]


def _cells(pilot: Pilot, mark: str, *, first: bool) -> tuple[str, ...]:
    own = (
        (str(pilot.number), clean(pilot.name), clean(pilot.registration))
        if first
        else (str(pilot.number), "", "")
    )
    return (*own, *((mark,) if mark else ()), *([""] * 7))
