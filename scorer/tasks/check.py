"""Check that a task gives what its kind needs, before anything is scored."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from scorer.errors import Fault, nearest
from scorer.event.model import Place, Task
from scorer.event.moments import Clock
from scorer.event.task_kinds import TASK_KINDS, TaskKind, TaskSetting
from scorer.tasks.settings import ANY_DAY, LAUNCH, read, shown
from scorer.units import Unreadable


def check_task(
    task: Task, places: Mapping[str, Place], clock: Clock = ANY_DAY
) -> tuple[Fault, ...]:
    """Return everything that keeps a task from being scored as its kind asks.

    Targets, scoring areas, roles and settings; places that settings name must exist and
    be of the right sort.  Unknown keys are faults too, with the nearest known one.
    Times are read by the clock of the flight.
    """
    kind = TASK_KINDS[task.kind]
    check = _Check(task, kind, places, clock.with_periods(task.periods))
    return (
        *check.targets(),
        *check.areas(),
        *check.roles(),
        *check.settings(),
    )


class _Check:
    def __init__(
        self, task: Task, kind: TaskKind, places: Mapping[str, Place], clock: Clock
    ) -> None:
        self.task, self.kind, self.places = task, kind, places
        self.clock = clock
        self.known = {setting.key: setting for setting in kind.settings}

    def fault(self, field: str, found: str, allowed: str, remedy: str = "") -> Fault:
        origin = self.task.origin
        return Fault(
            where=origin.where or f"flights/{self.task.flight}/flight.toml",
            line=origin.line,
            field=f"task {self.task.number}, {field}",
            found=found,
            allowed=allowed,
            remedy=remedy,
            entries=origin.entries,
        )

    def targets(self) -> Iterator[Fault]:
        least, most = self.kind.targets
        count = len(self.task.targets)
        if count < least or (most is not None and count > most):
            wanted = f"{least}" if most == least else f"at least {least}"
            yield self.fault(
                "targets",
                _counted(self.task.targets),
                f"{wanted} for {self._called()}",
                'Give target = "…" or targets = ["…", "…"], names of points.',
            )

    def areas(self) -> Iterator[Fault]:
        least, instead = self.kind.areas, self.kind.areas_or
        areas = self.task.scoring_areas
        if len(areas) >= least or (instead and instead in self.task.settings):
            return
        other = f", or {instead}" if instead else ""
        yield self.fault(
            "scoring_areas",
            _counted(areas),
            f"at least {least}{other} for {self._called()}",
            'Give scoring_area = "…" or scoring_areas = ["…", "…"], names of polygons.',
        )

    def roles(self) -> Iterator[Fault]:
        if not self.kind.roles:
            return
        allowed = ", ".join(self.kind.roles)
        for role in self.task.roles:
            if role.strip().upper() not in self.kind.roles:
                yield self.fault("targets", role, f"the roles {allowed}")
        if self.task.targets and not self.task.roles:
            first = self.kind.roles[0]
            yield self.fault(
                "targets",
                _counted(self.task.targets),
                f"places by role ({allowed}) for {self._called()}",
                f'Write targets = {{ {first} = "{self.task.targets[0]}" }}; a role '
                "without a place is filled by the pilot's mark.",
            )

    def settings(self) -> Iterator[Fault]:
        given = self.task.settings
        for key, value in given.items():
            if key not in self.known:
                yield self.fault(
                    key,
                    key,
                    f"{', '.join(self.known)} (besides the keys of every task)",
                    nearest(key, self.known),
                )
            else:
                yield from self._value(self.known[key], value)
        for key, setting in self.known.items():
            if setting.required and key not in given:
                yield self.fault(key, "nothing", setting.doc)
        wanted = self.kind.one_of
        if wanted and not any(key in given for key in wanted):
            docs = "; ".join(f"{key}: {self.known[key].doc}" for key in wanted)
            yield self.fault(wanted[0], "nothing", f"one of {docs}")

    def _value(self, setting: TaskSetting, value: Any) -> Iterator[Fault]:
        try:
            read_value = read(value, setting, self.clock)
        except Unreadable as unreadable:
            yield self.fault(
                setting.key, unreadable.found, unreadable.allowed, unreadable.remedy
            )
            return
        for name, point in _named(setting, read_value):
            yield from self._place(setting.key, name, point=point)
        if setting.kind == "windows":
            yield from self._windows(read_value)
        if setting.kind == "point":
            yield from self._point(setting.key, read_value)

    def _place(self, key: str, name: str, *, point: bool) -> Iterator[Fault]:
        fitting = [p.name for p in self.places.values() if p.is_point is point]
        what = "a point" if point else "an area"
        if name not in self.places:
            yield self.fault(key, name, _listed(what, fitting), nearest(name, fitting))
        elif self.places[name].is_point is not point:
            yield self.fault(key, name, _listed(what, fitting))

    def _point(self, key: str, name: str) -> Iterator[Fault]:
        place = self.places.get(name)
        role = len(name) <= 2 and name.isalnum()
        if name.casefold() == LAUNCH or role or (place and place.is_point):
            return
        points = [p.name for p in self.places.values() if p.is_point]
        allowed = f'"{LAUNCH}", a mark such as A, or {_listed("a point", points)}'
        yield self.fault(key, name, allowed, nearest(name, [*points, LAUNCH]))

    def _windows(self, windows: Mapping[str, Any]) -> Iterator[Fault]:
        areas = self.task.scoring_areas
        for name in windows:
            if name not in areas:
                yield self.fault(
                    "windows",
                    name,
                    _listed("a scoring area of this task", areas),
                    nearest(name, areas),
                )
        for name in areas:
            if name not in windows:
                yield self.fault(
                    "windows",
                    f'nothing for "{name}"',
                    "a window for every scoring area",
                )

    def _called(self) -> str:
        return self.kind.code


def _named(setting: TaskSetting, value: Any) -> Iterator[tuple[str, bool]]:
    """Return the places that a setting names, and whether each must be a point."""
    match setting.kind:
        case "place":
            yield value, True
        case "places":
            yield from ((name, True) for name in value)
        case "areas":
            yield from ((name, False) for name in value)
        case "area-by-role":
            yield from ((name, False) for name in value.values())
        case "circles":
            yield from ((ring["centre"], True) for ring in value)


def _counted(names: Iterable[str]) -> str:
    listed = list(names)
    return f"{len(listed)}: {shown(listed)}" if listed else "none"


def _listed(what: str, names: Iterable[str]) -> str:
    listed = list(names)
    more = " …" if len(listed) > 12 else ""
    return f"{what}: {', '.join(listed[:12])}{more}" if listed else f"{what} (none yet)"
