"""Forms for the field: what the measuring team writes on."""

from scorer.errors import Fault, InputError
from scorer.event.model import Event, Pilot, Task, Units
from scorer.sheets.paper import GREY, MM, Column, Paper, Row, draw_table
from scorer.sheets.sheet import book_title, clean
from scorer.sheets.stamp import NEVER, local, utc
from scorer.tasks.kinds import KINDS
from scorer.units import show_length

ROW_HEIGHT = 8.6 * MM
WRITE_AS = {
    Units.METRIC: "metres and centimetres, e.g. 12.34 m",
    Units.IMPERIAL: "feet and inches, e.g. 40 ft 3 1/2 in",
}
HOW = (
    "Measure from the centre of the target to the nearest point of the marker's sandbag. "
    "Read the tape twice, the second time by somebody else. Cross out, never overwrite."
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
        foot_left=f"Printed {at}" if at else "Form",
        foot_middle=clean(book_title(event.book)),
        moment=utc(printed_at or NEVER),
        key=title,
        letter=event.units is Units.IMPERIAL,
        wide=wide,
    )


def write_field_form(
    event: Event, task: int, *, printed_at: str = "", repeat: int = 1
) -> bytes:
    """Return the measuring team's form of a task as a PDF, pilots by number.

    Kinds with several marks get a line for each mark; `repeat` gives every pilot further
    lines.  `printed_at` is a UTC time, ISO 8601, or empty.
    """
    own = task_of(event, task)
    title = f"Field form, task {own.number} {own.kind}"
    paper = form_paper(event, title, printed_at, wide=True)
    paper.new_page()
    paper.heading(f"{title} · flight {clean(own.flight)}")
    paper.facts(_facts(event, own))
    paper.skip(1 * MM)
    paper.paragraph(HOW, size=8, colour=GREY)
    _team_line(paper)
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
        paper, _columns(own), rows, before_page=lambda: _team_line(paper), grid=True
    )
    paper.skip(2 * MM)
    paper.paragraph(
        "Put a cross under “none found” only after the search has ended.", size=7.5
    )
    return paper.finished()


def _facts(event: Event, task: Task) -> list[tuple[str, str]]:
    flight = next(f for f in event.flights if f.id == task.flight)
    radius = task.measuring_radius_m
    rows = [
        ("Date", f"{flight.date.isoformat()}"),
        ("Target", clean(", ".join(task.targets))),
        ("Marker", clean(task.marker)),
        (
            "Measuring radius",
            "" if radius is None else show_length(radius, event.units, 0),
        ),
        ("Write lengths as", WRITE_AS[event.units]),
    ]
    return [(label, value) for label, value in rows if value]


def _team_line(paper: Paper) -> None:
    """Room for the team's names, on every page."""
    paper.skip(9 * MM)
    each = paper.room / 4
    labels = ("Measured by", "Written by", "Second reading by", "Tape no., from – to")
    for number, label in enumerate(labels):
        x = paper.left + number * each
        paper.canvas.setLineWidth(0.6)
        paper.canvas.line(x, paper.y, x + each - 6 * MM, paper.y)
        paper.text(x, paper.y - 3.2 * MM, label, size=7, colour=GREY)
    paper.skip(5.5 * MM)


def _marks(task: Task) -> tuple[str, ...]:
    """Return the marks a pilot of this task may have: those no place fills."""
    roles = KINDS[task.kind].roles
    return tuple(role for role in roles if role not in task.roles) or ("",)


def _columns(task: Task) -> list[Column]:
    marked = (
        [Column(title="Mark", share=8, align="center")] if any(_marks(task)) else []
    )
    return [
        Column(title="No.", share=6, align="center", bold=True),
        Column(title="Pilot", share=32),
        Column(title="Registration", share=16),
        *marked,
        Column(title="Distance", share=22),
        Column(title="Second reading", share=22),
        Column(title="Bearing °", share=11),
        Column(title="Measured from", share=17),
        Column(title="Time", share=10),
        Column(title="None found", share=8),
        Column(title="Remarks", share=26),
    ]


def _cells(pilot: Pilot, mark: str, *, first: bool) -> tuple[str, ...]:
    own = (
        (str(pilot.number), clean(pilot.name), clean(pilot.registration))
        if first
        else (str(pilot.number), "", "")
    )
    return (*own, *((mark,) if mark else ()), *([""] * 7))
