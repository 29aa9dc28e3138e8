"""Static pages: standings, tasks, and for each pilot the answer to "why?".

No server is needed and nothing is fetched from elsewhere: the pages work from a folder
and from any web host.  Templates escape everything; the drawings escape their own texts.
"""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from hashlib import sha256
from importlib.resources import files
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from scorer.event.model import Event
from scorer.ledger.files import Filed
from scorer.scoring import told
from scorer.scoring.results import Results, RuledFinding, TaskResult
from scorer.sheets import records
from scorer.sheets.board import (
    formula_line,
    standings_legend,
    standings_title,
    task_head,
)
from scorer.sheets.breakdown import (
    Breakdown,
    TaskPart,
    beside_lines,
    breakdowns,
    entry_line,
    finding_facts,
    finding_heading,
    in_headline,
    remark,
    step_lines,
)
from scorer.sheets.drawn import Drawings, Wish, finding_wish, flight_wish, marks_wish
from scorer.sheets.flights import Tracks, keep_of, key_of
from scorer.sheets.leftover import PAGES
from scorer.sheets.method import (
    formula_words,
    method_rules,
    method_title,
    methods_used,
    order_of_work,
)
from scorer.sheets.parts import found_before, kept
from scorer.sheets.pictures import Size
from scorer.sheets.scene import Scene
from scorer.sheets.scene_svg import svg
from scorer.sheets.sheet import Sheet, clean, task_order
from scorer.sheets.slips import sum_line
from scorer.sheets.stamp import Edition, Stamp
from scorer.sheets.tables import write_tables
from scorer.sheets.typeset import LONG_WORD, code
from scorer.sheets.unchanged import NEWEST, Before, Contents, WentUp
from scorer.sheets.winds import air_lines, hodograph, wind_heads, wind_row, wind_title
from scorer.words.catalogue import ENGLISH, message

MAP = Size(width=240, height=165)
PROFILE = Size(width=240, height=130)
PLOT = Size(width=200, height=150)
STATIC = ("board.css", "board.js")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A drawing as it stands within a page."""

    title: str
    svg: str


def shown(scene: Scene | None) -> Shown | None:
    """Put a drawing into a page."""
    return None if scene is None else Shown(title=scene.title, svg=str(svg(scene)))


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingView:
    """A finding ready to show."""

    ruled: RuledFinding
    heading: str
    seen: str
    facts: tuple[tuple[str, str], ...]
    headline: bool
    """Whether it stands under a heading: a faint suspicion does not."""
    pictures: tuple[Shown, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskView:
    """One task of a pilot ready to show."""

    part: TaskPart
    title: str
    line: str
    sum: str
    steps: tuple[str, ...]
    entries: tuple[str, ...]
    marks: Shown | None
    findings: tuple[FindingView, ...]
    imposed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightView:
    """One flight of a pilot ready to show."""

    id: str
    log: str
    sha256: str
    map: Shown | None
    heights: Shown | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WindView:
    """The winds of one flight ready to show."""

    title: str
    drawing: Shown | None
    rows: tuple[tuple[str, ...], ...]
    none: str
    """Said where no log shows any."""
    air: tuple[str, ...]
    """What is said of the air that logs were read with."""


def write_site(
    results: Results,
    event: Event,
    stamp: Stamp,
    tracks: Tracks,
    *,
    language: str = ENGLISH,
    data: Mapping[str, bytes] | None = None,
    before: Before | None = None,
    contents: Contents | None = None,
) -> Mapping[str, Filed]:
    """Return the pages by relative name; `index.html` is the first.

    `pages.txt` names them all, so that whoever writes a later version into the same
    folder knows which are left over.  `newest.json` tells pages that are open, or kept
    by a phone, whether a newer version is up.  Pages of pilots on which nothing changed
    are those that went up `before`.

    The files beneath `data/` are those of `write_tables` (`data` has them where they are
    made already), without the tracks, which would make a site of hundreds of flights too
    large for a phone.
    """
    sheet = Sheet(
        results=results,
        event=event,
        stamp=stamp,
        language=language,
        keep=keep_of(tracks),
    )
    if data is None:
        data = write_tables(results, event, stamp)
    site = _Site(sheet, tracks, data, before or Before(), contents)
    pages = dict(site.pages())
    if head := code(stamp.head_code, ""):
        pages[head_file(site.edition)] = head["svg"].encode()
    pages |= site.old_heads()
    pages[NEWEST] = site.newest()
    for name in STATIC:
        pages[name] = (files("scorer.sheets") / "static" / name).read_bytes()
    pages.update((f"data/{name}", data) for name, data in site.data.items())
    pages[PAGES] = "".join(f"{name}\n" for name in sorted(pages)).encode()
    return pages


def page_wishes(key: tuple[str, int], parts: Sequence[TaskPart]) -> Iterator[Wish]:
    """Yield what a pilot's page draws of a flight that he has a track of."""
    yield flight_wish(key, parts, (MAP, PROFILE))
    for part in parts:
        yield marks_wish(part, PLOT)
        yield from (finding_wish(ruled.finding) for ruled in part.findings)


def head_file(edition: str) -> str:
    """Return the name of the picture of a publication's head."""
    return f"head-{edition}.svg"


def _markup(drawing: Shown) -> Markup:
    return Markup(drawing.svg)  # noqa: S704 - `svg` escapes everything entered


def _broken(name: str) -> Markup:
    """Let a name break within words that are wider than its column on a phone."""
    return Markup("<wbr>").join(LONG_WORD.sub("\\g<0>\n", name).split("\n"))


def _say(kind: str, *, language: str, **values: object) -> str:
    """Say a sentence of a template, its values already as people read them."""
    own = {name: clean(value) for name, value in values.items()}
    return message(kind, own, language)


@cache
def _templates(language: str) -> Environment:
    """Return the templates in a language, compiled once for all sites."""
    made = Environment(
        loader=PackageLoader("scorer.sheets", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
    )
    say = partial(_say, language=language)
    made.filters["broken"] = _broken
    made.globals.update(svg=_markup, word=say, say=say, places=told.places)
    return made


class _Site:
    def __init__(
        self,
        sheet: Sheet,
        tracks: Tracks,
        data: Mapping[str, bytes],
        before: Before,
        contents: Contents | None,
    ) -> None:
        self.sheet, self.tracks, self.data = sheet, tracks, data
        self.before = before
        self.contents = contents or Contents(sheet, tracks)
        self.standing: dict[str, WentUp] = {}
        self.drawings = Drawings(sheet, tracks, shown)
        stamp = sheet.stamp
        said = (stamp.version, stamp.published_at, stamp.results_sha256, sheet.language)
        self.edition = sha256(repr(said).encode()).hexdigest()[:16]
        self.flown = [t for t in sheet.results.tasks if t.state == "flown"]
        self.nav = [
            ("index.html", sheet.word("title-standings")),
            *(
                (f"task-{t.task}.html", task_head(sheet, t))
                for t in sheet.results.tasks
            ),
            ("winds.html", sheet.word("page-winds")),
            ("changes.html", sheet.word("title-changes")),
            ("method.html", sheet.word("page-method")),
        ]

    def newest(self) -> bytes:
        """Return what tells open pages, and the next publication, what is up."""
        pages = {name: own.tree for name, own in self.standing.items()}
        changes = self.sheet.stamp.changes
        told = {"edition": self.edition, "pages": pages, "changes": changes}
        return json.dumps(told).encode()

    def old_heads(self) -> dict[str, Filed]:
        """Return the pictures of heads that pages which stay show."""
        names = {head_file(own.edition) for own in self.standing.values()}
        found = {name: self.before.file(name) for name in sorted(names)}
        return {name: file for name, file in found.items() if file is not None}

    def _unchanged(self, name: str, content: str) -> Filed | None:
        """Return a page as it went up before, unless what it is made of changed."""
        own = self.before.pages.get(name)
        file = None
        if content and own is not None and own.content == content:
            file = self.before.file(name)
        if file is None or own is None:
            version, edition = self.sheet.stamp.version, self.edition
            own = WentUp(version=version, content=content, edition=edition)
        if self.sheet.stamp.published_at:
            self.standing[name] = own
        return file

    def pages(self) -> Iterator[tuple[str, Filed]]:
        """Yield every page with its name."""
        yield self._standings()
        for task in self.sheet.results.tasks:
            yield self._task(task)
        own = breakdowns(self.sheet)
        numbers = list(own)
        for place, number in enumerate(numbers):
            before = numbers[place - 1] if place else None
            after = numbers[place + 1] if place + 1 < len(numbers) else None
            name = f"pilot-{number}.html"
            content = self.contents.of(own[number], "page", self.nav, before, after)
            file = self._unchanged(name, content)
            yield (name, file) if file else self._pilot(own[number], before, after)
        yield self._winds()
        yield self._changes()
        yield self._method()

    def _page(
        self, name: str, template: str, title: str, **values: Any
    ) -> tuple[str, bytes]:
        text = self._render(
            template,
            here=name,
            nav=self.nav,
            title=title,
            sheet=self.sheet,
            stamp=self.sheet.stamp,
            edition=self.edition,
            **values,
        )
        return name, text.encode("utf-8")

    def _render(self, template: str, **values: Any) -> str:
        return _templates(self.sheet.language).get_template(template).render(**values)

    def _standings(self) -> tuple[str, bytes]:
        results = self.sheet.results
        return self._page(
            "index.html",
            "standings.html",
            self.sheet.word("title-standings"),
            tables=[
                (
                    standings_title(self.sheet, table),
                    table,
                    list(standings_legend(self.sheet, table, self.flown)),
                )
                for table in (results.standings, *results.class_standings)
            ],
            teams=records.shown_teams(self.sheet),
            flown=self.flown,
        )

    def _task(self, task: TaskResult) -> tuple[str, bytes]:
        return self._page(
            f"task-{task.task}.html",
            "task.html",
            self.sheet.task_title(task),
            task=task,
            parts=[
                (
                    self.sheet.task_title(part),
                    formula_line(self.sheet, part),
                    Markup(self._rows(part)),  # noqa: S704 - its template escapes
                )
                for part in task.parts
            ],
        )

    def _rows(self, part: TaskResult) -> str:
        """Return the rows of a task's table, which say nothing of the publication."""
        return kept(self.sheet, "rows of a page", part, partial(self._made_rows, part))

    def _made_rows(self, part: TaskResult) -> str:
        sheet = self.sheet
        return self._render(
            "task_rows.html",
            sheet=sheet,
            task=part,
            scores=[(s, remark(sheet, part, s)) for s in task_order(part)],
            guests=[
                (one, told.guest_result(sheet.voice, part, one)) for one in part.guests
            ],
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
            sum="" if own.standing is None else sum_line(self.sheet, own.standing),
            guest=beside_lines(self.sheet, own),
            sections=[
                self._section(
                    own.pilot, part.task.flight, (part,), partial(self._told, part)
                )
                for part in own.parts
                if part.task.state != "cancelled"
            ],
            flights=(flights := list(self._flights(own))),
            pictured=any(part.findings for part in own.parts) or bool(flights),
            event_charges=[
                clean(told.charge_line(self.sheet.voice, charge))
                for charge in own.event_charges
            ],
        )

    def _section(
        self,
        pilot: int,
        flight: str,
        parts: Sequence[TaskPart],
        make: Callable[[], str],
        *more: object,
    ) -> Markup:
        """Return a section of a pilot's page, from before where nothing in it changed.

        It says nothing of the publication.
        """
        keep, key = self.sheet.keep, ""
        if keep.holds:
            voice = self.sheet.keyed("voice", lambda: keep.key("v", self.sheet.voice))
            about = voice, self.drawings.key(flight, pilot)
            track = key_of(self.tracks, (flight, pilot))
            told = list(map(self.contents.part, parts))
            key = keep.key("section", about, told, track, more)
        return Markup(found_before(keep, key, make))  # noqa: S704 - its template escapes

    def _told(self, part: TaskPart) -> str:
        return self._render("pilot_task.html", view=self._task_view(part))

    def _task_view(self, part: TaskPart) -> TaskView:
        sheet = self.sheet
        return TaskView(
            part=part,
            title=sheet.task_title(part.task),
            line=formula_line(sheet, part.task),
            sum=told.score_sum(sheet.voice, part.score),
            steps=step_lines(sheet, part),
            entries=tuple(
                entry_line(sheet, entered)
                for mark in part.score.marks
                for entered in mark.keyings
            ),
            marks=self.drawings.marks(part, PLOT),
            findings=tuple(self._finding_view(ruled) for ruled in part.findings),
            imposed=tuple(
                clean(told.charge_line(sheet.voice, c))
                for c in part.score.charges
                if not c.finding
            ),
        )

    def _finding_view(self, ruled: RuledFinding) -> FindingView:
        finding = ruled.finding
        return FindingView(
            ruled=ruled,
            heading=finding_heading(self.sheet, ruled),
            headline=in_headline(ruled),
            seen=self.sheet.say(finding.says),
            facts=finding_facts(self.sheet, ruled),
            pictures=tuple(filter(None, self.drawings.finding(finding))),
        )

    def _flights(self, own: Breakdown) -> Iterator[Markup]:
        flown = (
            f.id for f in self.sheet.event.flights if (f.id, own.pilot) in self.tracks
        )
        for place, flight in enumerate(flown, 1):
            parts = tuple(p for p in own.parts if p.task.flight == flight)
            make = partial(self._flight, (flight, own.pilot), parts, place)
            yield self._section(own.pilot, flight, parts, make, "flight", place)

    def _flight(
        self, key: tuple[str, int], parts: Sequence[TaskPart], place: int
    ) -> str:
        log, sha256, way, heights = self.drawings.flight(key, parts, (MAP, PROFILE))
        view = FlightView(
            id=clean(key[0]), log=clean(log), sha256=sha256, map=way, heights=heights
        )
        return self._render("pilot_flight.html", flight=view, number=place)

    def _winds(self) -> tuple[str, bytes]:
        voice = self.sheet.voice
        return self._page(
            "winds.html",
            "winds.html",
            self.sheet.word("title-page-winds"),
            heads=wind_heads(voice),
            flights=[
                WindView(
                    title=clean(title := wind_title(own, voice)),
                    drawing=shown(hodograph(own, voice)),
                    rows=tuple(wind_row(layer, voice) for layer in own.winds),
                    none=_say("no-winds", language=voice.language, flight=title),
                    air=air_lines(own, voice),
                )
                for own in self.sheet.results.flights
            ],
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
            why=stamp.why,
            scope=stamp.scope,
        )
        editions = [now, *stamp.earlier]
        return self._page(
            "changes.html",
            "changes.html",
            self.sheet.word("title-versions"),
            editions=editions,
        )

    def _method(self) -> tuple[str, bytes]:
        methods = methods_used(self.sheet)
        return self._page(
            "method.html",
            "method.html",
            self.sheet.word("title-method"),
            order=order_of_work(self.sheet),
            methods=[
                (method_title(self.sheet, name), formula_words(self.sheet, name))
                for name in methods
            ],
            book=clean(self.sheet.voice.book(self.sheet.event.book)),
            rules=method_rules(self.sheet),
            air=[
                (
                    clean(wind_title(own, self.sheet.voice)),
                    air_lines(own, self.sheet.voice),
                )
                for own in self.sheet.results.flights
                if own.air is not None
            ],
            data=[(f"data/{name}", self._about(name)) for name in self.data],
        )

    def _about(self, name: str) -> str:
        ending = name.rsplit(".", 1)[-1]
        return self.sheet.word(f"data-{ending}")
