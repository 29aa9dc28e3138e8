"""Everything there is to publish as plain tables: one definition for all formats."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import partial, wraps
from typing import Any

from scorer.event.finding import finding_kinds, read_id
from scorer.event.matter import Blocks
from scorer.event.model import Flight, Keying, Ruling
from scorer.facts import Fact, fact, inner, several, words
from scorer.facts import task as task_value
from scorer.rounding import shown
from scorer.scoring import told
from scorer.scoring.penalties import cited
from scorer.scoring.results import (
    Charge,
    FlightResult,
    Guest,
    LogSummary,
    RuledFinding,
    Score,
    StandingsTable,
    TaskResult,
)
from scorer.sheets.parts import about, found_before, kept
from scorer.sheets.sheet import Sheet, clean, plain, task_order

Value = str | int | float | bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetColumn:
    """One column: `key` names it for programs, `title` for people."""

    key: str
    head: str | Fact = ""
    """Its heading: a fact, or the name of a message `head-…`; empty = that of its key."""
    title: str = ""
    """The heading as the table's language says it."""
    decimals: int | None = None
    """Decimals shown in a workbook; the data keep what was computed."""
    wide: bool = False
    """Holds sentences: wrapped rather than widened."""
    aside: bool = False
    """For programs and auditors: right of what a workbook prints."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTable:
    """A named table; each row has one value for each column."""

    name: str
    """As its file is called."""
    title: str
    columns: tuple[SheetColumn, ...]
    rows: tuple[tuple[Value, ...], ...]
    caution: str = ""
    """Message of the caution that it carries."""


def _table(
    sheet: Sheet,
    name: str,
    columns: Iterable[SheetColumn],
    rows: Iterable[tuple[Value, ...]],
    *,
    title: str = "",
    caution: str = "",
) -> SheetTable:
    """Make a table; its title stands in the catalogue as `list-NAME`, unless given."""
    return SheetTable(
        name=name,
        title=title or sheet.word(f"list-{name}"),
        columns=tuple(replace(own, title=_heading(sheet, own)) for own in columns),
        rows=tuple(rows),
        caution=caution,
    )


def _once(make: Callable[[Sheet], SheetTable]) -> Callable[[Sheet], SheetTable]:
    """Make a table once of the same results: workbook and data both have it.

    It says nothing of the publication.
    """

    @wraps(make)
    def made(sheet: Sheet) -> SheetTable:
        place, of = (make.__name__, sheet.language), (sheet.results, sheet.event)
        return sheet.keep.same(place, of, partial(make, sheet))

    return made


def _heading(sheet: Sheet, column: SheetColumn) -> str:
    if isinstance(column.head, Fact):
        return sheet.say(column.head)
    return sheet.word(f"head-{(column.head or column.key).replace('_', '-')}")


def iso(time_s: float | None) -> str | None:
    """Print POSIX seconds as UTC, ISO 8601, whole seconds."""
    if time_s is None:
        return None
    return f"{datetime.fromtimestamp(int(time_s), UTC):%Y-%m-%dT%H:%M:%SZ}"


def _text(value: Any) -> str:
    return clean(plain(value))


def _col(
    key: str, decimals: int | None = None, *, head: str | Fact = "", aside: bool = False
) -> SheetColumn:
    return SheetColumn(key=key, head=head, decimals=decimals, aside=aside)


_aside = partial(_col, aside=True)


def _wide(key: str, head: str = "") -> SheetColumn:
    return SheetColumn(key=key, head=head, wide=True)


SYMBOLS = {
    "P": "entered",
    "A": "with_result",
    "M": "median_rank",
    "W": "best_result",
    "RM": "at_median",
    "SM": "median_points",
}
"""Symbols of the formula, each with the key of its column."""
PILOT = (_col("pilot", 0, head="number"), _wide("name", "pilot"))


def all_tables(sheet: Sheet) -> tuple[SheetTable, ...]:
    """Return every table of a publication, in reading order."""
    return (
        standings(sheet, sheet.results.standings, "standings"),
        *other_standings(sheet),
        tasks(sheet),
        scores(sheet),
        marks(sheet),
        keyings(sheet),
        findings(sheet),
        penalties(sheet),
        rulings(sheet),
        warnings(sheet),
        logs(sheet),
        winds(sheet),
        pilots(sheet),
    )


def other_standings(sheet: Sheet) -> tuple[SheetTable, ...]:
    """Return the standings of classes, one table each, and of teams."""
    classes = tuple(
        standings(sheet, table, f"standings-class-{number}")
        for number, table in enumerate(sheet.results.class_standings, 1)
    )
    return (*classes, *team_tables(sheet))


def team_tables(sheet: Sheet) -> tuple[SheetTable, ...]:
    """Return the standings of teams, where the rules have them."""
    table = sheet.results.team_standings
    if table is None:
        return ()
    teams = list(table.teams.items())
    columns = (
        _col("rank", 0),
        _wide("team"),
        _total_column(table),
        _wide("pilots", "team-pilots"),
    )
    rows = tuple(
        (
            row.rank,
            clean(teams[row.pilot - 1][0]),
            table.value(row),
            _members(sheet, who),
        )
        for row in table.rows
        for who in (teams[row.pilot - 1][1],)
    )
    return (_table(sheet, "standings-teams", columns, rows),)


def _task_column(number: int, decimals: int) -> SheetColumn:
    said = fact("head-task-number", task=task_value(number))
    return _col(f"task_{number}", decimals, head=said)


def _own_column(name: str) -> SheetColumn:
    """Return a column that the event's roster has of its own."""
    return _col(name, head=fact("head-own", name=words(name)))


def shown_teams(sheet: Sheet) -> tuple[SheetTable, ...]:
    """Return the standings of teams as people read them: what was added up, in words."""
    table = sheet.results.team_standings
    if table is None or not table.by_result:
        return team_tables(sheet)
    (raw,) = team_tables(sheet)
    total = replace(_col("total", 0), title=sheet.total_head(table))
    rows = tuple(
        (*cells[:2], sheet.total(row, table), *cells[3:])
        for row, cells in zip(table.rows, raw.rows, strict=True)
    )
    columns = (*raw.columns[:2], total, *raw.columns[3:])
    return (replace(raw, columns=columns, rows=rows),)


def _total_column(table: StandingsTable) -> SheetColumn:
    if not table.by_result:
        return _col("total", 0)
    said = fact("head-result-in", unit=words(table.unit))
    return _col(f"result_{table.unit}", 2, head=said)


def _members(sheet: Sheet, numbers: tuple[int, ...]) -> str:
    return ", ".join(f"{number} {sheet.name(number)}" for number in numbers)


def standings(sheet: Sheet, table: StandingsTable, name: str) -> SheetTable:
    """Return standings over tasks: rank, pilot, a column for each task, total."""
    numbers = tuple(task.task for task in sheet.results.tasks)
    columns = (
        _col("rank", 0),
        *PILOT,
        *(_task_column(n, 2 if table.by_result else 0) for n in numbers),
        _col("competition_penalty", 0),
        _total_column(table),
    )
    rows = tuple(
        (
            row.rank,
            row.pilot,
            sheet.name(row.pilot),
            *(table.values(row).get(n) for n in numbers),
            row.event_penalty,
            table.value(row),
        )
        for row in table.rows
    )
    return _table(
        sheet,
        name,
        columns,
        rows,
        title=clean(table.title) or sheet.word("title-standings"),
    )


def tasks(sheet: Sheet) -> SheetTable:
    """Return the tasks with the symbols of their formula."""
    columns = (
        _col("task", 0),
        _col("flight"),
        _col("kind"),
        _col("state"),
        _col("unit"),
        _col("best"),
        _col("class"),
        _col("method", head="points"),
        *(_col(key, _decimals_of(symbol)) for symbol, key in SYMBOLS.items()),
    )
    rows = (
        _task_row(sheet, part) for task in sheet.results.tasks for part in task.parts
    )
    return _table(sheet, "tasks", columns, rows)


def _decimals_of(symbol: str) -> int:
    return 2 if symbol in {"W", "RM"} else 0


def _task_row(sheet: Sheet, task: TaskResult) -> tuple[Value, ...]:
    f = task.formula
    return (
        task.task,
        _text(task.flight),
        told.kind_title(sheet.voice, task.kind),
        sheet.word(f"state-{task.state}"),
        unit(task.unit),
        sheet.voice.term(task.best),
        clean(task.field),
        sheet.voice.term(f"choice-method-{f.method}"),
        *(f.P, f.A, f.M, f.W, f.RM, f.SM),
    )


def scores(sheet: Sheet) -> SheetTable:
    """Return the score of every pilot in every task, guests after those ranked."""
    columns = (
        _col("task", 0),
        _col("rank", 0),
        *PILOT,
        _col("flown"),
        _col("measured", 3),
        _col("sigma", 3, head="uncertainty"),
        _col("metres_penalty", 2),
        _col("result", 2),
        _col("unit"),
        _col("formula_points", 0),
        _col("task_penalty", 0),
        _col("score", 0),
        _col("competition_penalty", 0),
        _col("rank_low", 0),
        _col("rank_high", 0),
        _col("settled"),
        _wide("infringements"),
        _wide("why"),
    )
    rows = tuple(
        row
        for task in sheet.results.tasks
        for row in (
            *(_score_row(sheet, task, score) for score in task_order(task)),
            *(_guest_row(sheet, task, guest) for guest in task.guests),
        )
    )
    return _table(sheet, "scores", columns, rows)


def _guest_row(sheet: Sheet, task: TaskResult, guest: Guest) -> tuple[Value, ...]:
    """Return the row of a pilot out of competition: a result, no rank and no points."""
    who = (task.task, None, guest.pilot, sheet.name(guest.pilot))
    result = (None, None, None, guest.result, unit(task.unit))
    said = (None, None, sheet.say(guest.why))
    return (
        *who,
        sheet.word("out-of-competition"),
        *result,
        *(None,) * 6,
        *said,
    )


def _score_row(sheet: Sheet, task: TaskResult, score: Score) -> tuple[Value, ...]:
    return (
        task.task,
        score.rank,
        score.pilot,
        sheet.name(score.pilot),
        told.group(sheet.voice, score),
        score.measured,
        score.sigma,
        score.metres_penalty,
        score.result,
        unit(task.unit),
        score.formula_points,
        score.task_penalty,
        score.score,
        score.event_penalty,
        score.rank_low,
        score.rank_high,
        score.settled,
        ", ".join(_titles(sheet, score)),
        sheet.say(score.why),
    )


def _titles(sheet: Sheet, score: Score) -> list[str]:
    found = (sheet.finding(name) for name in score.findings)
    return [told.finding_title(sheet.voice, f.finding) for f in found if f]


UNITS = {"deg": "°", "km2": "km²"}


def unit(name: str) -> str:
    """Print a unit."""
    return UNITS.get(name, name)


@_once
def marks(sheet: Sheet) -> SheetTable:
    """Return the agreed marks with their place."""
    columns = (
        _col("task", 0),
        *PILOT,
        _col("mark"),
        _col("method"),
        _col("distance_m", 3),
        _col("sigma_m", 3),
        _aside("lat_deg", 7),
        _aside("lon_deg", 7),
        _col("time_utc"),
        _wide("steps"),
    )
    rows = (
        row
        for task in sheet.results.tasks
        for row in kept(sheet, "rows of marks", task, partial(_mark_rows, sheet, task))
    )
    return _table(sheet, "marks", columns, rows)


def _mark_rows(sheet: Sheet, task: TaskResult) -> list[tuple[Value, ...]]:
    return [
        (
            *(task.task, score.pilot, sheet.name(score.pilot)),
            *(_text(mark.mark), _text(mark.method), mark.distance_m),
            *(mark.sigma_m, mark.lat_deg, mark.lon_deg, iso(mark.time_s)),
            "; ".join(sheet.say(step) for step in mark.steps),
        )
        for score in task_order(task)
        for mark in score.marks
    ]


KEYED: tuple[tuple[SheetColumn, Callable[[Keying], Value]], ...] = (
    (_col("mark"), lambda k: _text(k.mark)),
    (_col("method"), lambda k: _text(k.method)),
    (_col("distance_m", 3), lambda k: k.distance_m),
    (_col("bearing_deg", 2), lambda k: k.bearing_deg),
    (_aside("north"), lambda k: _text(k.north)),
    (_col("from"), lambda k: _text(k.from_place or "")),
    (_col("distance2_m", 3), lambda k: k.distance2_m),
    (_col("from2"), lambda k: _text(k.from2_place or "")),
    (_aside("side"), lambda k: _text(k.side)),
    (_aside("easting_m", 2), lambda k: k.easting_m),
    (_aside("northing_m", 2), lambda k: k.northing_m),
    (_aside("lat_deg", 7), lambda k: k.lat_deg),
    (_aside("lon_deg", 7), lambda k: k.lon_deg),
    (_col("time_utc"), lambda k: iso(k.time_s)),
    (_col("by", head="entered-by"), lambda k: _text(k.by)),
    (_wide("note"), lambda k: _text(k.note)),
    (_wide("settles"), lambda k: _text(k.settles)),
    (
        _aside("entered", head="as-entered"),
        lambda k: "; ".join(_text(b) for b in k.entered.values() if b),
    ),
)


@_once
def keyings(sheet: Sheet) -> SheetTable:
    """Return every entry of a mark as it was made."""
    rows = (row for flight in sheet.event.flights for row in _entered(sheet, flight))
    columns = (_col("task", 0), *PILOT, *(column for column, _ in KEYED))
    return _table(sheet, "entries", columns, rows)


def _entered(sheet: Sheet, flight: Flight) -> list[tuple[Value, ...]]:
    """Return the rows of a flight's entries, from before where none of them changed."""
    released = "note" in sheet.event.public_columns

    def rows() -> list[tuple[Value, ...]]:
        return [
            (k.task, k.pilot, sheet.name(k.pilot), *(value(k) for _, value in KEYED))
            for own in flight.keyings
            for k in (own if released else own.without_remark(),)
        ]

    key = sheet.keep.key("entries", about(sheet), flight.keyings)
    return found_before(sheet.keep, key, rows)


FOUND: tuple[tuple[SheetColumn, Callable[[Sheet, RuledFinding], Value]], ...] = (
    (
        _col("infringement"),
        lambda s, f: told.finding_title(s.voice, f.finding),
    ),
    (_col("sure"), lambda s, f: told.verdict(s.voice, f.finding)),
    (_col("probability", 3), lambda _, f: f.finding.probability),
    (
        _col("decision"),
        lambda s, f: told.decision_word(s.voice, f.state),
    ),
    (_col("from_utc"), lambda _, f: iso(f.finding.from_s or None)),
    (_aside("to_utc"), lambda _, f: iso(f.finding.to_s or None)),
    (_aside("duration_s", 0), lambda _, f: f.finding.duration_s),
    (_col("measured", 2), lambda _, f: f.finding.measured),
    (_col("limit", 2), lambda _, f: f.finding.limit),
    (_aside("excess", 2), lambda _, f: f.finding.excess),
    (_aside("sigma", 2, head="uncertainty"), lambda _, f: f.finding.sigma),
    (_col("unit"), lambda _, f: _text(f.finding.unit)),
    (
        _aside("penalty", head="penalty-proposed"),
        lambda s, f: s.word("none") if f.finding.penalty is None else _proposed(s, f),
    ),
    (
        _col("counted"),
        lambda s, f: told.counted_words(s.voice, f.charges),
    ),
    (_aside("lat_deg", 6), lambda _, f: f.finding.lat_deg),
    (_aside("lon_deg", 6), lambda _, f: f.finding.lon_deg),
    (_wide("text", "in-words"), lambda s, f: s.say(f.finding.says)),
    (_aside("rule"), lambda s, f: s.say(f.finding.rule)),
    (_aside("evidence"), lambda _, f: _text(f.finding.evidence)),
    (_aside("sha256", head="sha256-of-evidence"), lambda _, f: f.finding.sha256),
)


def _proposed(sheet: Sheet, ruled: RuledFinding) -> str:
    """Print what the rules ask for."""
    finding = ruled.finding
    amounts = (a for a in (finding.penalty, *finding.also) if a is not None)
    return clean(sheet.voice.value(several(inner(a.says) for a in amounts)))


@_once
def findings(sheet: Sheet) -> SheetTable:
    """Return every infringement with what officials made of it."""
    rows = tuple(
        (
            f.finding.task,
            f.finding.pilot,
            sheet.name(f.finding.pilot),
            *(value(sheet, f) for _, value in FOUND),
        )
        for f in sheet.results.findings
    )
    columns = (_col("task", 0), *PILOT, *(column for column, _ in FOUND))
    return _table(sheet, "infringements", columns, rows, caution="caution")


@_once
def penalties(sheet: Sheet) -> SheetTable:
    """Return every penalty in a score: proposed, ruled on, imposed."""
    columns = (
        _col("task", 0),
        *PILOT,
        _col("amount", 2),
        _col("unit"),
        _col("counts"),
        _wide("sum"),
        _col("decision"),
        _wide("rule"),
        _wide("reason"),
        _col("by"),
        _col("at"),
        _aside("infringement"),
    )
    rows: tuple[tuple[Value, ...], ...] = tuple(
        (task.task, score.pilot, sheet.name(score.pilot), *_charge_row(sheet, charge))
        for task in sheet.results.tasks
        for score in task_order(task)
        for charge in score.charges
    ) + tuple(
        (None, pilot, sheet.name(pilot), *_charge_row(sheet, charge))
        for pilot, charge in sheet.results.event_charges
    )
    return _table(sheet, "penalties", columns, rows, caution="caution")


def _charge_row(sheet: Sheet, charge: Charge) -> tuple[Value, ...]:
    return (
        charge.amount.amount,
        sheet.voice.term(f"unit-{charge.amount.unit}"),
        charge.counts,
        sheet.say(charge.figures),
        told.decision_word(sheet.voice, charge.ruling),
        sheet.say(charge.rule),
        *(clean(t) for t in (charge.reason, charge.by, charge.at)),
        _title_of(sheet, charge.finding),
    )


def _title_of(sheet: Sheet, identifier: str) -> str:
    """Print the infringement a penalty is for; empty for one that was added."""
    found = sheet.finding(identifier)
    return "" if found is None else told.finding_title(sheet.voice, found.finding)


@_once
def rulings(sheet: Sheet) -> SheetTable:
    """Return the officials' decisions as entered."""
    columns = (
        _col("task", 0),
        *PILOT,
        _col("decision"),
        _col("infringement"),
        _col("amount", 2),
        _col("unit"),
        _col("rule"),
        _wide("reason"),
        _col("by"),
        _col("at"),
    )
    rows = tuple(
        (r.task, r.pilot, sheet.name(r.pilot), *_ruling_row(sheet, r))
        for flight in sheet.event.flights
        for r in flight.rulings
    )
    return _table(sheet, "decisions", columns, rows, caution="caution")


def _ruling_row(sheet: Sheet, ruling: Ruling) -> tuple[Value, ...]:
    task = next((t for t in sheet.event.tasks if t.number == ruling.task), None)
    book = sheet.event.book if task is None else sheet.event.book_of(task)
    return (
        sheet.voice.term(f"ruling-{ruling.decision}"),
        _infringement_of(sheet, ruling),
        ruling.amount,
        "" if ruling.unit is None else sheet.voice.term(f"unit-{ruling.unit}"),
        sheet.say(cited(ruling.rule, book)) if ruling.rule else "",
        *(clean(t) for t in (ruling.reason, ruling.by, ruling.at)),
    )


def _infringement_of(sheet: Sheet, ruling: Ruling) -> str:
    """Print what a decision is about; as entered where nothing has that name."""
    named = read_id(ruling.finding)
    kind = named.kind if named else ruling.finding
    if kind in {known.name for known in finding_kinds()}:
        return clean(sheet.voice.finding(kind))
    return clean(ruling.finding)


@_once
def warnings(sheet: Sheet) -> SheetTable:
    """Return what is open or doubtful, for people to know before they publish."""
    columns = (
        _col("matter"),
        _col("holds_up", head="blocks"),
        _col("flight"),
        _col("task", 0),
        _col("pilots", head="number"),
        _wide("name", "pilot"),
        _wide("text", "to-know"),
        _wide("accepted"),
    )
    rows = tuple(
        (
            clean(sheet.voice.title(m.kind.name)),
            "" if m.blocks is Blocks.NOTHING else sheet.word(f"holds-up-{m.blocks}"),
            _text(m.flight),
            m.task,
            " ".join(map(str, m.pilots)),
            "" if m.pilot is None else sheet.name(m.pilot),
            clean(sheet.voice.sentence(m.says)),
            "" if m.accepted is None else sheet.say(m.accepted.says),
        )
        for m in sheet.results.told
    )
    return _table(sheet, "open-matters", columns, rows, caution="caution")


@_once
def logs(sheet: Sheet) -> SheetTable:
    """Return what the logs showed."""
    columns = (
        _col("flight"),
        *PILOT,
        _col("log"),
        _col("fixes", 0),
        _col("launch_utc"),
        _aside("launch_lat_deg", 6),
        _aside("launch_lon_deg", 6),
        _col("landing_utc"),
        _aside("landing_lat_deg", 6),
        _aside("landing_lon_deg", 6),
        _col("highest_m", 1),
        _col("height_checked"),
        _wide("notes"),
        _aside("sha256"),
    )
    rows = (
        row
        for flight in sheet.results.flights
        for row in kept(
            sheet, "rows of logs", flight, partial(_log_rows, sheet, flight)
        )
    )
    return _table(sheet, "logs", columns, rows, caution="caution")


def _log_rows(sheet: Sheet, flight: FlightResult) -> list[tuple[Value, ...]]:
    return [_log_row(sheet, flight.id, log) for log in flight.logs]


def _log_row(sheet: Sheet, flight: str, log: LogSummary) -> tuple[Value, ...]:
    return (
        _text(flight),
        log.pilot,
        "" if log.pilot is None else sheet.name(log.pilot),
        _text(log.name),
        log.fixes,
        iso(log.launch_s),
        log.launch_lat_deg,
        log.launch_lon_deg,
        iso(log.landing_s),
        log.landing_lat_deg,
        log.landing_lon_deg,
        None if log.highest_m is None else shown(log.highest_m, 1),
        log.anchored,
        clean("; ".join(map(sheet.say, log.notes))),
        log.sha256,
    )


def winds(sheet: Sheet) -> SheetTable:
    """Return the drift of the field's balloons by layers of height."""
    columns = (
        _col("flight"),
        _col("height_m", 0),
        _col("from_deg", 0),
        _col("speed_m_s", 1),
        _col("spread_m_s", 1),
        _col("seconds", 0),
        _col("balloons", 0),
    )
    rows = tuple(
        (
            _text(f.id),
            w.height_m,
            w.from_deg,
            w.speed_m_s,
            w.spread_m_s,
            w.seconds,
            w.balloons,
        )
        for f in sheet.results.flights
        for w in f.winds
    )
    return _table(sheet, "winds", columns, rows, caution="caution-winds")


@_once
def pilots(sheet: Sheet) -> SheetTable:
    """Return the roster, with the columns of its own that the event makes public."""
    private = sheet.event.private_columns
    extra = dict.fromkeys(k for p in sheet.event.pilots for k in p.extra)
    more = tuple(key for key in extra if key not in private)
    columns = (
        *PILOT,
        _col("registration"),
        _col("class"),
        _col("country"),
        *(_own_column(clean(key)) for key in more),
    )
    rows: tuple[tuple[Value, ...], ...] = tuple(
        (
            p.number,
            *(clean(t) for t in (p.name, p.registration, p.class_name, p.country)),
            *(clean(p.extra.get(key, "")) for key in more),
        )
        for p in sheet.event.pilots
    )
    return _table(sheet, "pilots", columns, rows)
