"""Read the rows of an event's tables: pilots, marks, declarations, reports, rulings."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from datetime import date

from scorer.event.columns import (
    DECLARATIONS,
    MARKS,
    PILOTS,
    REPORTS,
    RULINGS,
    TARGETS,
    YES_NO,
)
from scorer.event.model import (
    Decision,
    Declaration,
    Keying,
    Method,
    North,
    PenaltyUnit,
    Pilot,
    Place,
    Report,
    ReportKind,
    Ruling,
    TargetEvent,
    TargetLine,
    Task,
    Units,
)
from scorer.event.moments import Clock
from scorer.event.place_kinds import points_in_words
from scorer.event.raw import RawRow
from scorer.event.reading import Cells, Faults, entered
from scorer.event.task_kinds import TASK_KINDS
from scorer.units import Unreadable, duration_s, length_m

_NORTHS = {"": North.GRID, "T": North.TRUE, "M": North.MAGNETIC}
_BARE_UNITS = ("m", "ft", "cm", "in", "yd", "km", "mi")

_MOST_PENALTY = 1_000_000
"""Points or metres; more is a slip."""

_NEEDS: Mapping[Method, tuple[str, ...]] = {
    Method.TAPE: ("distance",),
    Method.POLAR: ("distance", "bearing"),
    Method.ARCS: ("distance", "from", "distance2", "from2", "side"),
    Method.OFFSET: ("distance", "from", "distance2", "from2", "side"),
    Method.GRID: ("easting", "northing"),
    Method.LATLON: ("lat", "lon"),
    Method.LOG: (),
    Method.NONE: (),
}


def lacks_places(faults: Faults, key: str, name: str) -> None:
    """Note once, and with who refers to it first, that the event has no place at all."""
    found = f'no place, though {key} names "{name}"'
    faults.lacking("places.geojson", found, "the places that other files refer to")


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What rows may refer to."""

    pilots: Mapping[int, Pilot]
    places: Mapping[str, Place]
    tasks: Mapping[int, Task]
    """All tasks of the event, by number."""
    flight: str
    own: frozenset[int]
    """Task numbers set down in this flight, taken by another flight or not."""
    clock: Clock
    units: Units

    @property
    def asked(self) -> Hashable:
        """All of it that a row without a fault may depend on."""
        tasks = [
            (n, t.flight, t.kind, t.target, t.periods) for n, t in self.tasks.items()
        ]
        places = [(name, place.is_point) for name, place in self.places.items()]
        clock = self.clock
        return (
            (frozenset(self.pilots), frozenset(places), frozenset(tasks)),
            (self.flight, self.own, self.units),
            (clock.day, clock.zone.key, clock.periods),
        )

    def clock_of(self, task: int | None) -> Clock:
        """Return the clock of a task: its periods tell the side of midnight."""
        found = None if task is None else self.tasks.get(task)
        return self.clock.with_periods(() if found is None else found.periods)


def read_pilot(row: RawRow, faults: Faults) -> Pilot | None:
    """Read a line of the roster."""
    cells = Cells(row, faults)
    number = cells.integer("number")
    name = cells.required("name", "the pilot's name")
    if number is None:
        return None
    return Pilot(
        number=number,
        name=name,
        registration=cells.text("registration"),
        class_name=cells.text("class"),
        country=cells.text("country"),
        logger=cells.text("logger"),
        enters=cells.integer("enters") if cells.text("enters") else None,
        leaves=cells.integer("leaves") if cells.text("leaves") else None,
        competes=_yes_no(cells, "competes") is not False,
        papers=cells.read("papers", _papers),
        waiver=_yes_no(cells, "waiver"),
        extra={
            k: v for k, v in entered(row, row.fields).items() if k not in PILOTS.names
        },
        origin=row.origin,
    )


def _yes_no(cells: Cells, column: str) -> bool | None:
    """Read yes or no; None where nothing stands."""
    text = cells.text(column).casefold()
    if text and text not in YES_NO:
        cells.refuse(column, "yes or no, or nothing where it is not said")
    return {"yes": True, "no": False}.get(text)


def _papers(text: str) -> date | bool:
    """Read whether papers were seen, or the last day they hold."""
    known = {"yes": True, "no": False}.get(text.casefold())
    if known is not None:
        return known
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Unreadable(
            text, "yes, no, or the last day they hold: 2027-03-31"
        ) from None


def read_keying(row: RawRow, known: Known, faults: Faults) -> Keying | None:
    """Read a line of marks.csv; None when it has a fault."""
    cells = Cells(row, faults)
    before = len(faults.found)
    task, pilot = _task_and_pilot(cells, known)
    method = cells.choice("method", Method)
    if method is not None:
        _check_needs(cells, method)
    bare = _bare_unit(cells, known.units)
    angle = cells.bearing("bearing")
    side = cells.text("side").upper()
    if side not in {"", "L", "R"}:
        cells.refuse("side", "L or R of the line from `from` to `from2`")
    keying = {
        "distance_m": cells.length("distance", bare),
        "distance2_m": cells.length("distance2", bare),
        **_position(cells),
        "time_s": cells.time("time", known.clock_of(task)),
    }
    from_place, from2_place = (_place(cells, c, known) for c in ("from", "from2"))
    if len(faults.found) > before or task is None or pilot is None or method is None:
        return None
    return Keying(
        task=task,
        pilot=pilot,
        method=method,
        mark=cells.text("mark").upper(),
        bearing_deg=angle[0] if angle else None,
        north=_NORTHS[angle[1]] if angle else North.GRID,
        from_place=from_place,
        from2_place=from2_place,
        side=side,
        measurer=cells.text("measurer"),
        by=cells.text("by"),
        note=cells.text("note"),
        settles=cells.text("settles"),
        between=cells.text("between"),
        entered=entered(row, MARKS.names),
        origin=row.origin,
        **keying,
    )


def _position(cells: Cells) -> dict[str, float | None]:
    return {
        "easting_m": cells.number("easting"),
        "northing_m": cells.number("northing"),
        "lat_deg": cells.angle("lat", "latitude"),
        "lon_deg": cells.angle("lon", "longitude"),
    }


def _check_needs(cells: Cells, method: Method) -> None:
    for column in _NEEDS[method]:
        if not cells.text(column):
            cells.refuse(column, f"a value, which method {method} needs")
    if method is Method.NONE and cells.text("distance"):
        cells.refuse(
            "distance",
            "nothing with method none",
            "Use method tape if the marker was found.",
        )


def _bare_unit(cells: Cells, units: Units) -> str:
    unit = cells.text("unit").casefold()
    if unit in _BARE_UNITS:
        return unit
    if unit:
        cells.refuse("unit", f"one of {', '.join(_BARE_UNITS)}")
    return units.bare


def _task_and_pilot(cells: Cells, known: Known) -> tuple[int | None, int | None]:
    return _task(cells, known), _pilot(cells, known)


def _task(cells: Cells, known: Known) -> int | None:
    number = cells.integer("task")
    if number is None:
        return None
    task = known.tasks.get(number)
    own = [n for n, t in known.tasks.items() if t.flight == known.flight]
    if task is None:
        if own:  # without any, flight.toml is at fault, once
            cells.faults.unknown(cells.row.origin, "task", number, own)
    elif task.flight != known.flight and number in known.own:
        return None  # two flights claim the number: said there, once
    elif task.flight != known.flight:
        cells.refuse(
            "task",
            f"a task of this flight: {', '.join(map(str, own))}",
            f"Task {number} is of flight {task.flight}: move the row to its file.",
        )
    else:
        return number
    return None


def _pilot(cells: Cells, known: Known) -> int | None:
    number = cells.integer("pilot")
    if number is None or number in known.pilots:
        return number
    if not known.pilots:
        if not cells.faults.knows("pilots.csv", "pilots.xlsx"):
            allowed = "the pilots whom other files refer to"
            cells.faults.lacking("pilots.csv", "no pilot", allowed)
        return None
    cells.faults.add(
        cells.row.origin,
        field="pilot",
        found=cells.text("pilot"),
        allowed="a competition number of the roster",
        remedy=_near_numbers(number, known.pilots),
    )
    return None


def _near_numbers(number: int, pilots: Mapping[int, Pilot]) -> str:
    def swapped(other: int) -> bool:
        a, b = str(number), str(other)
        return sorted(a) == sorted(b) or (
            len(a) == len(b) and sum(x != y for x, y in zip(a, b, strict=True)) == 1
        )

    near = [f"{n} ({p.name})" for n, p in pilots.items() if swapped(n)][:4]
    return (
        f"Near numbers: {', '.join(near)}." if near else "Add the pilot to the roster."
    )


def _place(cells: Cells, column: str, known: Known) -> str | None:
    name = cells.text(column)
    if not name:
        return None
    place = known.places.get(name)
    points = [p.name for p in known.places.values() if p.is_point]
    if not known.places:
        lacks_places(cells.faults, column, name)
    elif place is None:
        cells.faults.unknown(cells.row.origin, column, name, points)
    elif not place.is_point:
        cells.refuse(column, f"a point ({points_in_words()}), not an area")
    return name


def read_declaration(row: RawRow, known: Known, faults: Faults) -> Declaration | None:
    """Read a line of declarations.csv; the goal itself is understood when scored."""
    cells = Cells(row, faults)
    before = len(faults.found)
    task, pilot = _task_and_pilot(cells, known)
    height_m = cells.length("height", known.units.bare)
    time_s = cells.time("time", known.clock_of(task))
    if len(faults.found) > before or task is None or pilot is None:
        return None
    return Declaration(
        task=task,
        pilot=pilot,
        goal=cells.text("goal"),
        height_m=height_m,
        time_s=time_s,
        place=cells.text("place"),
        entered=entered(row, DECLARATIONS.names),
        origin=row.origin,
    )


def read_report(row: RawRow, known: Known, faults: Faults) -> Report | None:
    """Read a line of reports.csv."""
    cells = Cells(row, faults)
    before = len(faults.found)
    task, pilot = _task_and_pilot(cells, known)
    kind = cells.choice("kind", ReportKind)
    time_s = cells.time("time", known.clock_of(task))
    value = _report_value(cells, known.units)
    if len(faults.found) > before or task is None or pilot is None or kind is None:
        return None
    return Report(
        task=task,
        pilot=pilot,
        kind=kind,
        time_s=time_s,
        value=value,
        by=cells.text("by"),
        note=cells.text("note"),
        entered=entered(row, REPORTS.names),
        origin=row.origin,
    )


def _report_value(cells: Cells, units: Units) -> float | None:
    unit = cells.text("unit").casefold()
    if unit in {"s", "sec", "min", "h"}:
        try:
            text = cells.text("value")
            return duration_s(f"{text} {unit}") if text else None
        except Unreadable as fault:
            cells.refuse("value", fault.allowed)
            return None
    return cells.length("value", _bare_unit(cells, units))


def read_ruling(row: RawRow, known: Known, faults: Faults) -> Ruling | None:
    """Read a line of rulings.csv; an empty task means the event as a whole."""
    cells = Cells(row, faults)
    before = len(faults.found)
    task = _task(cells, known) if cells.text("task") else None
    pilot = _pilot(cells, known)
    decision = cells.choice("decision", Decision)
    unit = cells.choice("unit", PenaltyUnit) if cells.text("unit") else None
    amount = _ruling_amount(cells, unit, result=decision is Decision.RESULT)
    from_s, to_s = (
        cells.time(column, known.clock_of(task)) for column in ("from", "to")
    )
    if from_s is not None and to_s is not None and to_s < from_s:
        cells.refuse("to", "a time not before from")
    at = _when(cells, known.clock_of(task))
    measured = cells.read("measured", lambda text: _measured(text, known.units))
    if decision is not None:
        _check_ruling(cells, decision, unit)
    own = known.tasks.get(task) if task is not None else None
    if decision is Decision.RESULT and own is not None:
        length = TASK_KINDS[own.kind].unit in {"m", "km"}
        if length is not (unit is PenaltyUnit.METRES):
            cells.refuse("unit", "metres" if length else "nothing: it is no length")
    if len(faults.found) > before or pilot is None or decision is None:
        return None
    return Ruling(
        task=task,
        pilot=pilot,
        finding=cells.text("finding"),
        from_s=to_s if from_s is None else from_s,
        to_s=from_s if to_s is None else to_s,
        measured=measured,
        decision=decision,
        amount=amount,
        unit=unit,
        rule=cells.text("rule"),
        reason=cells.text("reason"),
        by=cells.text("by"),
        at=at,
        entered=entered(row, RULINGS.names),
        origin=row.origin,
    )


def read_target_line(row: RawRow, known: Known, faults: Faults) -> TargetLine | None:
    """Read a line of targets.csv; without a target it is about the task's first."""
    cells = Cells(row, faults)
    before = len(faults.found)
    task = _task(cells, known)
    event = cells.choice("event", TargetEvent)
    time_s = cells.time("time", known.clock_of(task))
    if not cells.text("time"):
        cells.refuse("time", "when it happened")
    own = known.tasks.get(task) if task is not None else None
    target = _place(cells, "target", known) or (own.target if own else None)
    if own is not None and not target:
        cells.refuse("target", "a target: the task has none of its own")
    position = _position(cells)
    _check_position(cells, event)
    if len(faults.found) > before or task is None or event is None or time_s is None:
        return None
    return TargetLine(
        task=task,
        target=target or "",
        event=event,
        time_s=time_s,
        by=cells.text("by"),
        note=cells.text("note"),
        entered=entered(row, TARGETS.names),
        origin=row.origin,
        **position,
    )


def _check_position(cells: Cells, event: TargetEvent | None) -> None:
    """Refuse half a position, two of them, and one of what is not moved."""
    pairs = (_NEEDS[Method.GRID], _NEEDS[Method.LATLON])
    given = [[column for column in pair if cells.text(column)] for pair in pairs]
    for pair, own in zip(pairs, given, strict=True):
        for column in pair:
            if own and event is not TargetEvent.MOVED and cells.text(column):
                cells.refuse(column, "nothing: only a target that was moved has it")
            elif own and column not in own:
                cells.refuse(column, f"a value beside {own[0]}")
    if all(given):
        allowed = "nothing beside easting and northing: one position"
        cells.refuse(given[1][0], allowed)


def _when(cells: Cells, clock: Clock) -> str:
    """Return when a decision was made, as the event's clocks show it.

    What an entry of an earlier version says stands as it is.
    """
    text = cells.text("at")
    try:
        made = clock.moment(text) if text else None
    except Unreadable as fault:
        if not cells.row.origin.entries:
            cells.refuse("at", fault.allowed, fault.remedy)
        return text
    return "" if made is None else made.dated(seconds=bool(made.time_s % 60))


def _measured(text: str, units: Units) -> float:
    """Read a length or a duration; the unit people key in where none stands."""
    bare = text.lstrip("-−")
    sign = 1.0 if bare == text else -1.0
    try:
        return sign * length_m(bare, units.bare)
    except Unreadable:
        return sign * duration_s(bare)


def _ruling_amount(
    cells: Cells, unit: PenaltyUnit | None, *, result: bool
) -> float | None:
    metres = unit is PenaltyUnit.METRES
    amount = cells.read("amount", _amount_m) if metres else cells.number("amount")
    if amount is not None and amount < 0:
        cells.refuse("amount", "a number from 0 up; penalties are positive")
    elif amount is not None and amount > _MOST_PENALTY:
        cells.refuse("amount", f"at most {_MOST_PENALTY}")
    elif amount is not None and (metres or result):
        return amount
    elif amount is not None and amount != int(amount):
        cells.refuse("amount", "whole points")
    return amount


def _amount_m(text: str) -> float:
    return float(length_m(text, "m"))


def _check_ruling(cells: Cells, decision: Decision, unit: PenaltyUnit | None) -> None:
    finding = cells.text("finding")
    counted = {PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS, PenaltyUnit.METRES}
    if not decision.on_finding and finding:
        hint = "Use set to change a finding's."
        cells.refuse("finding", f"nothing with {decision}", hint)
    if decision.on_finding and not finding:
        cells.refuse("finding", "the finding ruled on: its kind or identifier")
    if decision in _UNITS:
        _check_amount(cells, decision, unit)
    if decision in {Decision.SET, Decision.IMPOSE}:
        if unit is None:
            cells.refuse("unit", f"one of {', '.join(PenaltyUnit)}")
        elif unit in counted and not cells.text("amount"):
            cells.refuse("amount", f"how many {unit}")
    whole = {Decision.IMPOSE, Decision.BONUS}
    if not cells.text("task") and (
        decision not in whole or unit is not PenaltyUnit.EVENT_POINTS
    ):
        cells.refuse("task", "a task number; only event points may be imposed without")


_UNITS: Mapping[Decision, tuple[PenaltyUnit | None, ...]] = {
    Decision.BONUS: (PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS),
    Decision.SCORE: (PenaltyUnit.TASK_POINTS, None),
    Decision.RESULT: (PenaltyUnit.METRES, None),
    Decision.AVERAGE: (None,),
    Decision.HOLD: (None,),
}
"""In what some decisions are counted; None = the column is empty."""


def _check_amount(cells: Cells, decision: Decision, unit: PenaltyUnit | None) -> None:
    """Check amount and unit of decisions that give or set something."""
    units = _UNITS[decision]
    if unit not in units:
        allowed = " or ".join("nothing" if u is None else str(u) for u in units)
        cells.refuse("unit", f"{allowed} with {decision}")
    given = bool(cells.text("amount"))
    if decision in {Decision.AVERAGE, Decision.HOLD}:
        if given:
            cells.refuse("amount", f"nothing with {decision}")
    elif not given:
        cells.refuse("amount", f"how much, with {decision}")
