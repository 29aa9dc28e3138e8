"""Read the tasks of a flight."""

from collections.abc import Mapping
from typing import Any

from scorer.event import place_kinds
from scorer.event.model import Period, Place, Task, TaskState
from scorer.event.moments import Clock
from scorer.event.place_kinds import points_in_words
from scorer.event.rows import lacks_places
from scorer.event.rulebook import RuleBook
from scorer.event.rules_reader import override
from scorer.event.settings import TomlTable
from scorer.event.task_kinds import TASK_KINDS
from scorer.units import Unreadable, length_m

TASK_KEYS = (
    "number",
    "kind",
    "target",
    "targets",
    "scoring_area",
    "scoring_areas",
    "launch_period",
    "scoring_period",
    "measuring_radius",
    "marker",
    "state",
    "rules",
)


def read_task(
    settings: TomlTable,
    flight: str,
    clock: Clock,
    places: Mapping[str, Place],
    book: RuleBook,
    *,
    unsaid: TaskState = TaskState.FLOWN,
) -> Task | None:
    """Read one `[[task]]`; None when it has no number.

    `unsaid` is its state where it says none.

    A task with faults is still returned, so that rows naming it are not faults too.
    Keys beyond the common ones are kept in `settings` for the task kind, which checks
    them itself.
    """
    number = settings.whole("number")
    kind = settings.one_of("kind", TASK_KINDS)
    state = settings.choice("state", TaskState, unsaid)
    targets, roles = _targets(settings, places)
    areas = _areas(settings, places)
    radius_m = settings.quantity("measuring_radius", length_m)
    launch = _period(settings, "launch_period", clock)
    after_s = launch.start_s if launch else None
    scoring = _period(settings, "scoring_period", clock, after_s)
    own_book = task_book(settings, book)
    if number is None:
        return None
    return Task(
        number=number,
        flight=flight,
        kind=kind or "FIN",  # told as a fault; the rest is looked at all the same
        targets=targets,
        roles=roles,
        scoring_areas=areas,
        launch_period=launch,
        scoring_period=scoring,
        measuring_radius_m=radius_m,
        marker=settings.text("marker"),
        state=state or unsaid,
        settings={k: v for k, v in settings.table.items() if k not in TASK_KEYS},
        book=own_book,
        origin=settings.origin("number"),
    )


def task_book(settings: TomlTable, book: RuleBook) -> RuleBook | None:
    """Return the book with the task's own rules put in; None where it has none."""
    rules = settings.inside("rules")
    if not rules.table:
        return None
    by = f"this event, for task {settings.table.get('number')}"
    return override(book, rules.table, by, rules.refuse)


def _targets(
    settings: TomlTable, places: Mapping[str, Place]
) -> tuple[tuple[str, ...], Mapping[str, str]]:
    given: Any = settings.table.get("targets", settings.table.get("target", []))
    key = "targets" if "targets" in settings.table else "target"
    roles: dict[str, str] = {}
    names: list[Any] = [given] if isinstance(given, str) else given
    if isinstance(given, Mapping):
        roles = {str(role): name for role, name in given.items()}
        names = list(roles.values())
    if not isinstance(names, list) or not all(isinstance(n, str) for n in names):
        settings.refuse(key, given, "a place name, a list of names, or names by role")
        return (), {}
    for name in names:
        _check_place(settings, key, name, places, point=True)
    return tuple(names), roles


def _areas(settings: TomlTable, places: Mapping[str, Place]) -> tuple[str, ...]:
    one = settings.text("scoring_area")
    names = (one,) if one else settings.names("scoring_areas")
    key = "scoring_area" if one else "scoring_areas"
    for name in names:
        _check_place(settings, key, name, places, point=False)
    return names


def _check_place(
    settings: TomlTable,
    key: str,
    name: str,
    places: Mapping[str, Place],
    *,
    point: bool,
) -> None:
    place = places.get(name)
    if not places:
        lacks_places(settings.faults, key, name)
    elif place is None:
        fitting = [p.name for p in places.values() if p.is_point == point]
        settings.unknown(key, name, fitting)
    elif place.is_point != point:
        wanted = f"a point ({points_in_words()})" if point else "an area (polygon)"
        settings.refuse(key, name, wanted)


def _period(
    settings: TomlTable, key: str, clock: Clock, after_s: float | None = None
) -> Period | None:
    given = settings.table.get(key)
    if given is None:
        return None
    if not isinstance(given, list) or len(given) != 2:
        allowed = '["06:45", "07:30"]: two local times, the later one second'
        settings.refuse(key, given, allowed)
        return None
    start, end = map(str, given)
    try:
        return clock.period(start, end, after_s=after_s)
    except Unreadable as fault:
        allowed = f'["06:45", "07:30"], two local times: {fault.allowed}'
        settings.refuse(key, f'["{start}", "{end}"]', allowed, fault.remedy)
        return None


AREA_RULES = {
    "floor.within": (place_kinds.BOUNDARY,),
    "contact.within": None,
    "launch.area": (place_kinds.LAUNCH_AREA,),
    "boundary.within": (place_kinds.BOUNDARY,),
}
"""Rules that name a place, and the kinds they may name (None: any area)."""


def check_rule_places(
    settings: TomlTable, book: RuleBook, places: Mapping[str, Place]
) -> None:
    """Note places named by rules that do not exist or are of another kind."""
    for key, kinds in AREA_RULES.items():
        name, _ = book.held(key)
        if name is None or (key == "contact.within" and name == "scoring-area"):
            continue
        place = places.get(name)
        areas = [p.name for p in places.values() if not p.is_point]
        if not places:
            lacks_places(settings.faults, key, name)
        elif place is None:
            settings.unknown(key, name, areas)
        elif place.is_point or (kinds and place.kind not in kinds):
            wanted = " or ".join(map(str, kinds)) if kinds else "area"
            settings.refuse(key, name, f"a place of kind {wanted}")
    name = book.floor.above
    if name is None or not places:
        return
    points = [p.name for p in places.values() if p.is_point]
    if name not in places:
        settings.unknown("floor.above", name, points)
    elif not places[name].is_point:
        settings.refuse("floor.above", name, "a point with its elevation")
