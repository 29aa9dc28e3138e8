"""Everything there is to publish as plain tables: one definition for all formats."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

from scorer.event.finding import finding_kinds, read_id
from scorer.event.matter import Blocks
from scorer.event.model import Keying, Ruling
from scorer.facts import inner, several
from scorer.rounding import shown
from scorer.scoring import told
from scorer.scoring.penalties import cited
from scorer.scoring.results import (
    Charge,
    LogSummary,
    RuledFinding,
    Score,
    StandingsTable,
    TaskResult,
)
from scorer.sheets.sheet import Sheet, clean, plain, task_order

Value = str | int | float | bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: `key` names it for programs, `title` for people."""

    key: str
    title: str
    decimals: int | None = None
    """Decimals shown in a workbook; the data keep what was computed."""
    wide: bool = False
    """Holds sentences: wrapped rather than widened."""
    aside: bool = False
    """For programs and auditors: right of what a workbook prints."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A named table; each row has one value for each column."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]
    heights: bool = False
    """Holds heights above ground: carries the caution."""


def iso(time_s: float | None) -> str | None:
    """Print POSIX seconds as UTC, ISO 8601, whole seconds."""
    if time_s is None:
        return None
    return f"{datetime.fromtimestamp(int(time_s), UTC):%Y-%m-%dT%H:%M:%SZ}"


def _text(value: Any) -> str:
    return clean(plain(value))


def _col(key: str, title: str, decimals: int | None = None) -> Column:
    return Column(key=key, title=title, decimals=decimals)


def _aside(key: str, title: str, decimals: int | None = None) -> Column:
    return Column(key=key, title=title, decimals=decimals, aside=True)


def _wide(key: str, title: str) -> Column:
    return Column(key=key, title=title, wide=True)


SYMBOLS = (
    ("P", "entered", "Entered"),
    ("A", "with_result", "With result"),
    ("M", "median_rank", "Median rank"),
    ("W", "best", "Best result"),
    ("RM", "at_median", "Result at the median"),
    ("SM", "median_points", "Points at the median"),
)
"""Symbols of the formula: key in a table, and in words."""
PILOT = (_col("pilot", "No.", 0), Column(key="name", title="Pilot", wide=True))


def all_tables(sheet: Sheet) -> tuple[Table, ...]:
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


def other_standings(sheet: Sheet) -> tuple[Table, ...]:
    """Return the standings of classes, one table each, and of teams."""
    classes = tuple(
        standings(sheet, table, f"standings-class-{number}")
        for number, table in enumerate(sheet.results.class_standings, 1)
    )
    return (*classes, *team_tables(sheet))


def team_tables(sheet: Sheet) -> tuple[Table, ...]:
    """Return the standings of teams, where the rules have them."""
    table = sheet.results.team_standings
    if table is None:
        return ()
    teams = list(table.teams.items())
    columns = (
        _col("rank", "Rank", 0),
        Column(key="team", title="Team", wide=True),
        _total_column(table),
        _wide("pilots", "Pilots that count"),
    )
    rows = tuple(
        (
            row.rank,
            clean(teams[row.pilot - 1][0]),
            row.result if table.by == "result" else row.total,
            _members(sheet, who),
        )
        for row in table.rows
        for who in (teams[row.pilot - 1][1],)
    )
    title = "Team standings"
    return (Table(name="standings-teams", title=title, columns=columns, rows=rows),)


def shown_teams(sheet: Sheet) -> tuple[Table, ...]:
    """Return the standings of teams as people read them: what was added up, in words."""
    table = sheet.results.team_standings
    if table is None or table.by != "result":
        return team_tables(sheet)
    (raw,) = team_tables(sheet)
    total = _col("total", sheet.word("head-result"), 0)
    rows = tuple(
        (*cells[:2], sheet.total(row, table), *cells[3:])
        for row, cells in zip(table.rows, raw.rows, strict=True)
    )
    columns = (*raw.columns[:2], total, *raw.columns[3:])
    return (replace(raw, columns=columns, rows=rows),)


def _total_column(table: StandingsTable) -> Column:
    if table.by != "result":
        return _col("total", "Total", 0)
    return _col(f"result_{table.unit}", f"Result, {table.unit}", 2)


def _members(sheet: Sheet, numbers: tuple[int, ...]) -> str:
    return ", ".join(f"{number} {sheet.name(number)}" for number in numbers)


def standings(sheet: Sheet, table: StandingsTable, name: str) -> Table:
    """Return standings over tasks: rank, pilot, a column for each task, total."""
    numbers = tuple(task.task for task in sheet.results.tasks)
    by_result = table.by == "result"
    columns = (
        _col("rank", "Rank", 0),
        *PILOT,
        *(_col(f"task_{n}", f"Task {n}", 2 if by_result else 0) for n in numbers),
        _col("competition_penalty", "Competition penalty", 0),
        _total_column(table),
    )
    rows = tuple(
        (
            row.rank,
            row.pilot,
            sheet.name(row.pilot),
            *((row.results if by_result else row.tasks).get(n) for n in numbers),
            row.event_penalty,
            row.result if by_result else row.total,
        )
        for row in table.rows
    )
    title = clean(table.title)
    return Table(name=name, title=title, columns=columns, rows=rows)


def tasks(sheet: Sheet) -> Table:
    """Return the tasks with the symbols of their formula."""
    columns = (
        _col("task", "Task", 0),
        _col("flight", "Flight"),
        _col("kind", "Kind"),
        _col("state", "State"),
        _col("unit", "Unit"),
        _col("best", "Best"),
        _col("class", "Class"),
        _col("method", "Points"),
        *(_col(key, title, _decimals_of(s)) for s, key, title in SYMBOLS),
    )
    return Table(
        name="tasks",
        title="Tasks",
        columns=columns,
        rows=tuple(
            _task_row(sheet, part)
            for task in sheet.results.tasks
            for part in task.parts
        ),
    )


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
        task.best,
        clean(task.field),
        sheet.voice.term(f"choice-method-{f.method}"),
        *(f.P, f.A, f.M, f.W, f.RM, f.SM),
    )


def scores(sheet: Sheet) -> Table:
    """Return the score of every pilot in every task."""
    columns = (
        _col("task", "Task", 0),
        _col("rank", "Rank", 0),
        *PILOT,
        _col("flown", "Flown"),
        _col("measured", "Measured", 3),
        _col("sigma", "Uncertainty", 3),
        _col("metres_penalty", "Metres added", 2),
        _col("result", "Result", 2),
        _col("unit", "Unit"),
        _col("formula_points", "Points", 0),
        _col("task_penalty", "Task penalty", 0),
        _col("score", "Score", 0),
        _col("competition_penalty", "Competition penalty", 0),
        _col("rank_low", "Best rank (95 %)", 0),
        _col("rank_high", "Worst rank (95 %)", 0),
        _col("settled", "Settled"),
        _wide("infringements", "Infringements"),
        _wide("why", "Why no result"),
    )
    rows = tuple(
        _score_row(sheet, task, score)
        for task in sheet.results.tasks
        for score in task_order(task)
    )
    return Table(name="scores", title="Task scores", columns=columns, rows=rows)


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


def marks(sheet: Sheet) -> Table:
    """Return the agreed marks with their place."""
    columns = (
        _col("task", "Task", 0),
        *PILOT,
        _col("mark", "Mark"),
        _col("method", "Method"),
        _col("distance_m", "Distance, m", 3),
        _col("sigma_m", "Uncertainty, m", 3),
        _aside("lat_deg", "Latitude, °", 7),
        _aside("lon_deg", "Longitude, °", 7),
        _col("time_utc", "Time, UTC"),
        _wide("steps", "How"),
    )
    rows = []
    for task in sheet.results.tasks:
        for score in task_order(task):
            for mark in score.marks:
                who = (task.task, score.pilot, sheet.name(score.pilot))
                what = (_text(mark.mark), _text(mark.method), mark.distance_m)
                where = (mark.sigma_m, mark.lat_deg, mark.lon_deg, iso(mark.time_s))
                rows.append(
                    (
                        *who,
                        *what,
                        *where,
                        "; ".join(sheet.say(step) for step in mark.steps),
                    )
                )
    return Table(name="marks", title="Marks", columns=columns, rows=tuple(rows))


KEYED: tuple[tuple[Column, Callable[[Keying], Value]], ...] = (
    (_col("mark", "Mark"), lambda k: _text(k.mark)),
    (_col("method", "Method"), lambda k: _text(k.method)),
    (_col("distance_m", "Distance, m", 3), lambda k: k.distance_m),
    (_col("bearing_deg", "Bearing, °", 2), lambda k: k.bearing_deg),
    (_aside("north", "North"), lambda k: _text(k.north)),
    (_col("from", "From"), lambda k: _text(k.from_place or "")),
    (_col("distance2_m", "Second distance, m", 3), lambda k: k.distance2_m),
    (_col("from2", "Second from"), lambda k: _text(k.from2_place or "")),
    (_aside("side", "Side"), lambda k: _text(k.side)),
    (_aside("easting_m", "Easting, m", 2), lambda k: k.easting_m),
    (_aside("northing_m", "Northing, m", 2), lambda k: k.northing_m),
    (_aside("lat_deg", "Latitude, °", 7), lambda k: k.lat_deg),
    (_aside("lon_deg", "Longitude, °", 7), lambda k: k.lon_deg),
    (_col("time_utc", "Time, UTC"), lambda k: iso(k.time_s)),
    (_col("by", "Entered by"), lambda k: _text(k.by)),
    (_wide("note", "Note"), lambda k: _text(k.note)),
    (_wide("settles", "Settles, because"), lambda k: _text(k.settles)),
    (
        _aside("entered", "As entered"),
        lambda k: "; ".join(_text(b) for b in k.entered.values() if b),
    ),
)


def keyings(sheet: Sheet) -> Table:
    """Return every entry of a mark as it was made."""
    released = "note" in sheet.event.public_columns
    rows = tuple(
        (k.task, k.pilot, sheet.name(k.pilot), *(value(k) for _, value in KEYED))
        for flight in sheet.event.flights
        for keying in flight.keyings
        for k in (keying if released else keying.without_remark(),)
    )
    columns = (_col("task", "Task", 0), *PILOT, *(column for column, _ in KEYED))
    return Table(name="entries", title="Entries of marks", columns=columns, rows=rows)


FOUND: tuple[tuple[Column, Callable[[Sheet, RuledFinding], Value]], ...] = (
    (
        _col("infringement", "Infringement"),
        lambda s, f: told.finding_title(s.voice, f.finding),
    ),
    (_col("sure", "Sure"), lambda s, f: told.verdict(s.voice, f.finding)),
    (_col("probability", "Probability", 3), lambda _, f: f.finding.probability),
    (
        _col("decision", "Decision"),
        lambda s, f: told.decision_word(s.voice, f.state),
    ),
    (_col("from_utc", "From, UTC"), lambda _, f: iso(f.finding.from_s)),
    (_aside("to_utc", "To, UTC"), lambda _, f: iso(f.finding.to_s)),
    (_aside("duration_s", "Duration, s", 0), lambda _, f: f.finding.duration_s),
    (_col("measured", "Measured", 2), lambda _, f: f.finding.measured),
    (_col("limit", "Limit", 2), lambda _, f: f.finding.limit),
    (_aside("excess", "Excess", 2), lambda _, f: f.finding.excess),
    (_aside("sigma", "Uncertainty", 2), lambda _, f: f.finding.sigma),
    (_col("unit", "Unit"), lambda _, f: _text(f.finding.unit)),
    (
        _aside("penalty", "Penalty proposed"),
        lambda s, f: s.word("none") if f.finding.penalty is None else _proposed(s, f),
    ),
    (
        _col("counted", "Penalty counted"),
        lambda s, f: told.counted_words(s.voice, f.charges),
    ),
    (_aside("lat_deg", "Latitude, °", 6), lambda _, f: f.finding.lat_deg),
    (_aside("lon_deg", "Longitude, °", 6), lambda _, f: f.finding.lon_deg),
    (_wide("text", "In words"), lambda s, f: s.say(f.finding.says)),
    (_aside("rule", "Rule"), lambda s, f: s.say(f.finding.rule)),
    (_aside("evidence", "Evidence"), lambda _, f: _text(f.finding.evidence)),
    (_aside("sha256", "SHA-256 of the evidence"), lambda _, f: f.finding.sha256),
)


def _proposed(sheet: Sheet, ruled: RuledFinding) -> str:
    """Print what the rules ask for."""
    finding = ruled.finding
    amounts = (a for a in (finding.penalty, *finding.also) if a is not None)
    return clean(sheet.voice.value(several(inner(a.says) for a in amounts)))


def findings(sheet: Sheet) -> Table:
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
    columns = (_col("task", "Task", 0), *PILOT, *(column for column, _ in FOUND))
    return Table(
        name="infringements",
        title="Infringements",
        columns=columns,
        rows=rows,
        heights=True,
    )


def penalties(sheet: Sheet) -> Table:
    """Return every penalty in a score: proposed, ruled on, imposed."""
    columns = (
        _col("task", "Task", 0),
        *PILOT,
        _col("amount", "Amount", 2),
        _col("unit", "Unit"),
        _col("counts", "Counts"),
        _wide("sum", "How it comes about"),
        _col("decision", "Decision"),
        _wide("rule", "Rule"),
        _wide("reason", "Reason"),
        _col("by", "By"),
        _col("at", "At"),
        _aside("infringement", "Infringement"),
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
    return Table(name="penalties", title="Penalties", columns=columns, rows=rows)


def _charge_row(sheet: Sheet, charge: Charge) -> tuple[Value, ...]:
    return (
        charge.amount.amount,
        sheet.word(f"unit-{charge.amount.unit.replace(' ', '-')}"),
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


def rulings(sheet: Sheet) -> Table:
    """Return the officials' decisions as entered."""
    columns = (
        _col("task", "Task", 0),
        *PILOT,
        _col("decision", "Decision"),
        _col("infringement", "Infringement"),
        _col("amount", "Amount", 2),
        _col("unit", "Unit"),
        _col("rule", "Rule"),
        _wide("reason", "Reason"),
        _col("by", "By"),
        _col("at", "At"),
    )
    rows = tuple(
        (r.task, r.pilot, sheet.name(r.pilot), *_ruling_row(sheet, r))
        for flight in sheet.event.flights
        for r in flight.rulings
    )
    return Table(name="decisions", title="Decisions", columns=columns, rows=rows)


def _ruling_row(sheet: Sheet, ruling: Ruling) -> tuple[Value, ...]:
    task = next((t for t in sheet.event.tasks if t.number == ruling.task), None)
    book = sheet.event.book if task is None else sheet.event.book_of(task)
    unit_ = "" if ruling.unit is None else f"unit-{ruling.unit.replace(' ', '-')}"
    return (
        sheet.voice.term(f"ruling-{ruling.decision}"),
        _infringement_of(sheet, ruling),
        ruling.amount,
        sheet.word(unit_) if unit_ else "",
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


def warnings(sheet: Sheet) -> Table:
    """Return what is open or doubtful, for people to know before they publish."""
    columns = (
        _col("matter", "Matter"),
        _col("holds_up", "Holds up"),
        _col("flight", "Flight"),
        _col("task", "Task", 0),
        _col("pilots", "No."),
        Column(key="name", title="Pilot", wide=True),
        _wide("text", "What to know"),
        _wide("accepted", "Accepted"),
    )
    rows = tuple(
        (
            clean(sheet.voice.title(m.kind.name)),
            "" if m.blocks is Blocks.NOTHING else sheet.word(f"holds-up-{m.blocks}"),
            _text(m.flight),
            m.task,
            " ".join(map(str, m.pilots)),
            "" if m.pilot is None else sheet.name(m.pilot),
            sheet.say(m.says),
            "" if m.accepted is None else sheet.say(m.accepted.says),
        )
        for m in sheet.results.told
    )
    return Table(name="open-matters", title="Open matters", columns=columns, rows=rows)


def logs(sheet: Sheet) -> Table:
    """Return what the logs showed."""
    columns = (
        _col("flight", "Flight"),
        *PILOT,
        _col("log", "Log"),
        _col("fixes", "Fixes", 0),
        _col("launch_utc", "Launch, UTC"),
        _aside("launch_lat_deg", "Launch latitude, °", 6),
        _aside("launch_lon_deg", "Launch longitude, °", 6),
        _col("landing_utc", "Landing, UTC"),
        _aside("landing_lat_deg", "Landing latitude, °", 6),
        _aside("landing_lon_deg", "Landing longitude, °", 6),
        _col("highest_m", "Highest above ground, m", 1),
        _col("height_checked", "Height checked on the ground"),
        _wide("notes", "Notes"),
        _aside("sha256", "SHA-256"),
    )
    rows = tuple(
        _log_row(sheet, flight.id, log)
        for flight in sheet.results.flights
        for log in flight.logs
    )
    return Table(name="logs", title="Logs", columns=columns, rows=rows, heights=True)


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


def winds(sheet: Sheet) -> Table:
    """Return the drift of the field's balloons by layers of height."""
    columns = (
        _col("flight", "Flight"),
        _col("height_m", "Height above ground, m", 0),
        _col("from_deg", "From, ° true", 0),
        _col("speed_m_s", "Speed, m/s", 1),
        _col("spread_m_s", "Spread, m/s", 1),
        _col("seconds", "Flying time, s", 0),
        _col("balloons", "Balloons", 0),
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
    title = "Wind as flown"
    return Table(name="winds", title=title, columns=columns, rows=rows, heights=True)


def pilots(sheet: Sheet) -> Table:
    """Return the roster, with the columns of its own that the event makes public."""
    private = sheet.event.private_columns
    extra = dict.fromkeys(k for p in sheet.event.pilots for k in p.extra)
    more = tuple(key for key in extra if key not in private)
    columns = (
        *PILOT,
        _col("registration", "Registration"),
        _col("class", "Class"),
        _col("country", "Country"),
        *(_col(clean(key), clean(key)) for key in more),
    )
    rows: tuple[tuple[Value, ...], ...] = tuple(
        (
            p.number,
            *(clean(t) for t in (p.name, p.registration, p.class_name, p.country)),
            *(clean(p.extra.get(key, "")) for key in more),
        )
        for p in sheet.event.pilots
    )
    return Table(name="pilots", title="Pilots", columns=columns, rows=rows)
