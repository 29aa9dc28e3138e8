"""Static pages: standings, tasks, and for each pilot the answer to "why?".

No server is needed and nothing is fetched from elsewhere: the pages work from a folder
and from any web host.  Templates escape everything; the drawings escape their own texts.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from scorer.event.model import Event
from scorer.scoring.results import Results, RuledFinding, TaskResult
from scorer.sheets import records
from scorer.sheets.board import formula_line
from scorer.sheets.breakdown import (
    Breakdown,
    TaskPart,
    breakdowns,
    charge_words,
    finding_facts,
    finding_heading,
    remark,
    score_words,
    step_lines,
    sum_words,
)
from scorer.sheets.method import (
    ORDER_OF_WORK,
    formula_words,
    method_rules,
    methods_used,
)
from scorer.sheets.pictures import (
    Size,
    Tracks,
    finding_heights,
    finding_map,
    flight_map,
    part_map,
)
from scorer.sheets.profiles import flight_profile
from scorer.sheets.scene import Scene
from scorer.sheets.scene_svg import svg
from scorer.sheets.sheet import Sheet, book_title, clean, task_order, task_title
from scorer.sheets.stamp import CAUTION, LOW_FLIGHT, Edition, Stamp
from scorer.sheets.tables import write_tables

MAP = Size(width=240, height=165)
PROFILE = Size(width=240, height=130)
PLOT = Size(width=200, height=150)
STATIC = ("board.css", "board.js")


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingView:
    """A finding ready to show."""

    ruled: RuledFinding
    heading: str
    says: str
    facts: tuple[tuple[str, str], ...]
    map: Scene | None
    heights: Scene | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskView:
    """One task of a pilot ready to show."""

    part: TaskPart
    title: str
    line: str
    sum: str
    cancelled: bool
    steps: tuple[str, ...]
    marks: Scene | None
    findings: tuple[FindingView, ...]
    imposed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightView:
    """One flight of a pilot ready to show."""

    id: str
    log: str
    sha256: str
    map: Scene | None
    heights: Scene | None


def write_site(
    results: Results, event: Event, stamp: Stamp, tracks: Tracks
) -> Mapping[str, bytes]:
    """Return the pages by relative name; `index.html` is the first.

    The data beneath `data/` are those of `write_tables`, without the tracks, which would
    make a site of hundreds of flights too large for a phone.
    """
    site = _Site(Sheet(results=results, event=event, stamp=stamp), tracks)
    pages = dict(site.pages())
    for name in STATIC:
        pages[name] = (files("scorer.sheets") / "static" / name).read_bytes()
    pages.update((f"data/{name}", data) for name, data in site.data.items())
    return pages


class _Site:
    def __init__(self, sheet: Sheet, tracks: Tracks) -> None:
        self.sheet, self.tracks = sheet, tracks
        self.flown = [t for t in sheet.results.tasks if t.state == "flown"]
        self.data = write_tables(sheet.results, sheet.event, sheet.stamp)
        self.jinja = Environment(
            loader=PackageLoader("scorer.sheets", "templates"),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        self.jinja.globals.update(svg=svg, sum_words=sum_words)
        self.nav = [
            ("index.html", "Standings"),
            *((f"task-{t.task}.html", f"Task {t.task}") for t in sheet.results.tasks),
            ("changes.html", "Changes"),
            ("method.html", "Method"),
        ]

    def pages(self) -> Iterator[tuple[str, bytes]]:
        """Yield every page with its name."""
        yield self._standings()
        for task in self.sheet.results.tasks:
            yield self._task(task)
        own = breakdowns(self.sheet)
        numbers = list(own)
        for place, number in enumerate(numbers):
            before = numbers[place - 1] if place else None
            after = numbers[place + 1] if place + 1 < len(numbers) else None
            yield self._pilot(own[number], before, after)
        yield self._changes()
        yield self._method()

    def _page(
        self, name: str, template: str, title: str, **values: Any
    ) -> tuple[str, bytes]:
        text = self.jinja.get_template(template).render(
            here=name,
            nav=self.nav,
            title=title,
            sheet=self.sheet,
            stamp=self.sheet.stamp,
            caution=CAUTION,
            low_flight=LOW_FLIGHT,
            **values,
        )
        return name, text.encode("utf-8")

    def _standings(self) -> tuple[str, bytes]:
        results = self.sheet.results
        return self._page(
            "index.html",
            "standings.html",
            "Standings",
            tables=[results.standings, *results.class_standings],
            teams=records.team_tables(self.sheet),
            flown=self.flown,
        )

    def _task(self, task: TaskResult) -> tuple[str, bytes]:
        return self._page(
            f"task-{task.task}.html",
            "task.html",
            task_title(task),
            task=task,
            line=formula_line(self.sheet, task),
            method=task.formula.method,
            scores=[(s, clean(remark(self.sheet, s))) for s in task_order(task)],
        )

    def _pilot(
        self, own: Breakdown, before: int | None, after: int | None
    ) -> tuple[str, bytes]:
        pilot = self.sheet.pilot(own.pilot)
        about = (pilot.registration, pilot.class_name, pilot.country)
        return self._page(
            f"pilot-{own.pilot}.html",
            "pilot.html",
            f"{own.pilot} {self.sheet.name(own.pilot)}",
            own=own,
            about=" · ".join(clean(text) for text in about if text),
            before=before,
            after=after,
            field=len(self.sheet.results.standings.rows),
            views=[self._task_view(part) for part in own.parts],
            flights=list(self._flights(own)),
            event_charges=[
                charge_words(self.sheet, charge) for charge in own.event_charges
            ],
        )

    def _task_view(self, part: TaskPart) -> TaskView:
        sheet = self.sheet
        return TaskView(
            part=part,
            title=task_title(part.task),
            line=formula_line(sheet, part.task),
            sum=score_words(part.score),
            cancelled=part.task.state == "cancelled",
            steps=step_lines(sheet, part.score),
            marks=part_map(sheet, part, PLOT),
            findings=tuple(self._finding_view(ruled) for ruled in part.findings),
            imposed=tuple(
                charge_words(sheet, c) for c in part.score.charges if not c.finding
            ),
        )

    def _finding_view(self, ruled: RuledFinding) -> FindingView:
        finding = ruled.finding
        flown = self.tracks.get((finding.flight, finding.pilot))
        return FindingView(
            ruled=ruled,
            heading=finding_heading(self.sheet, ruled),
            says=self.sheet.say(finding.says),
            facts=finding_facts(self.sheet, ruled),
            map=finding_map(self.sheet, finding, flown, MAP),
            heights=finding_heights(self.sheet, finding, flown, PROFILE),
        )

    def _flights(self, own: Breakdown) -> Iterator[FlightView]:
        for flight in self.sheet.event.flights:
            flown = self.tracks.get((flight.id, own.pilot))
            if flown is None:
                continue
            parts = tuple(p for p in own.parts if p.task.flight == flight.id)
            findings = tuple(r.finding for part in parts for r in part.findings)
            size = (PROFILE.width, PROFILE.height)
            yield FlightView(
                id=clean(flight.id),
                log=clean(flown.log),
                sha256=flown.sha256,
                map=flight_map(self.sheet, flown, parts, MAP),
                heights=flight_profile(self.sheet, flown, findings, *size),
            )

    def _changes(self) -> tuple[str, bytes]:
        stamp = self.sheet.stamp
        now = Edition(
            version=stamp.version,
            state=stamp.state,
            published_at=stamp.published_at,
            by=stamp.by,
            results_sha256=stamp.results_sha256,
            changes=stamp.changes,
        )
        editions = [now, *stamp.earlier]
        return self._page(
            "changes.html", "changes.html", "Versions and changes", editions=editions
        )

    def _method(self) -> tuple[str, bytes]:
        methods = methods_used(self.sheet)
        return self._page(
            "method.html",
            "method.html",
            "Method",
            order=ORDER_OF_WORK,
            methods=[(name, formula_words(name)) for name in methods],
            book=clean(book_title(self.sheet.event.book)),
            rules=method_rules(self.sheet.event.book),
            data=[(f"data/{name}", _about(name)) for name in self.data],
        )


def _about(name: str) -> str:
    kinds = {
        "csv": "a table, UTF-8",
        "json": "for programs",
        "geojson": "marks on a map (RFC 7946)",
    }
    return kinds.get(name.rsplit(".", 1)[-1], "data")
