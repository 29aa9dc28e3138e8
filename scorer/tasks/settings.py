"""Read the further keys of a `[[task]]`: one reader for each kind of value.

A key is declared once, as a `TaskSetting`; reading, checking, the list of faults and the
table in the documentation all come from it.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from scorer.event.model import Period
from scorer.event.moments import Clock
from scorer.event.task_kinds import TaskSetting
from scorer.units import Unreadable, bearing, duration_s, length_m

Reader = Callable[[Any, TaskSetting, Clock], Any]

ANY_DAY = Clock(date(2000, 1, 1), ZoneInfo("UTC"))
"""Tells whether a time can be read, where its day does not matter."""
LAUNCH = "launch"
"""Word for the point where the pilot took off."""


def read_settings(
    given: Mapping[str, Any], known: Iterable[TaskSetting], clock: Clock
) -> dict[str, Any]:
    """Return every known key with its value, read or by default; None = not set.

    Raises
    ------
    Unreadable
        A value is not what its key asks for.
    """
    values = {}
    for setting in known:
        value = given.get(setting.key, setting.default)
        values[setting.key] = None if value is None else read(value, setting, clock)
    return values


def read(value: Any, setting: TaskSetting, clock: Clock) -> Any:
    """Read one value; raise Unreadable with what was found and what is allowed."""
    return _READERS[setting.kind](value, setting, clock)


def shown(value: Any) -> str:
    """Write a TOML value the way people read it."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{k} = {shown(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(shown(v) for v in value) + "]"
    return (
        {True: "true", False: "false"}.get(value, str(value))
        if isinstance(value, bool)
        else str(value)
    )


def _text(value: Any, allowed: str) -> str:
    if not isinstance(value, str) or not value.strip():
        raise Unreadable(shown(value), allowed)
    return value.strip()


def _read_text(value: Any, setting: TaskSetting, _: Clock) -> str:
    return _text(value, f"text in quotes: {setting.doc}")


def _read_names(value: Any, setting: TaskSetting, _: Clock) -> tuple[str, ...]:
    allowed = f'names in a list, such as ["north field"]: {setting.doc}'
    items = value if isinstance(value, list | tuple) else [value]
    return tuple(_text(item, allowed) for item in items)


def _read_length(value: Any, _: TaskSetting, __: Clock) -> float:
    return length_m(_text(value, 'a length in quotes with its unit, such as "500 m"'))


def _read_duration(value: Any, _: TaskSetting, __: Clock) -> float:
    return duration_s(_text(value, 'a duration in quotes with its unit: "30 min"'))


def _read_time(value: Any, _: TaskSetting, clock: Clock) -> float:
    return clock.read(_time(value))


def _time(value: Any) -> str:
    """Return a time as text; TOML has times and dates of its own."""
    plain = value.isoformat(" ") if isinstance(value, datetime) else value
    plain = plain.isoformat() if isinstance(plain, time) else plain
    return _text(plain, "a local time in quotes: HH:MM or HH:MM:SS")


def _read_start(value: Any, setting: TaskSetting, clock: Clock) -> float | str:
    """Read a time, or one of the words the setting knows for a moment of the flight."""
    if value in setting.choices:
        return str(value)
    try:
        return _read_time(value, setting, clock)
    except Unreadable as fault:
        words = ", ".join(setting.choices)
        raise Unreadable(
            fault.found, f"{words}, or {fault.allowed}", fault.remedy
        ) from None


def _read_count(value: Any, _: TaskSetting, __: Clock) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise Unreadable(shown(value), "a whole number from 1 up, without quotes")
    return value


def _read_choice(value: Any, setting: TaskSetting, _: Clock) -> str:
    if value not in setting.choices:
        raise Unreadable(shown(value), f"one of {', '.join(setting.choices)}")
    return str(value)


def _read_bearing(value: Any, _: TaskSetting, __: Clock) -> tuple[float, str]:
    """Read a direction: degrees, and the letter of its north."""
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return bearing(f"{value:g}" if number else _text(value, 'degrees, such as "45 T"'))


def _read_windows(
    value: Any, _: TaskSetting, clock: Clock
) -> dict[str, tuple[Period, ...]]:
    """Read a table of area name to one period or several."""
    allowed = '{ "north field" = ["07:00", "07:10"], … }: from and to, local time'
    if not isinstance(value, Mapping) or not value:
        raise Unreadable(shown(value), allowed)
    windows = {}
    for area, entry in value.items():
        periods = entry if _is_list_of_lists(entry) else [entry]
        windows[str(area)] = tuple(_period(p, clock, allowed) for p in periods)
    return windows


def _is_list_of_lists(entry: Any) -> bool:
    return isinstance(entry, list) and all(isinstance(part, list) for part in entry)


def _period(entry: Any, clock: Clock, allowed: str) -> Period:
    if not isinstance(entry, list | tuple) or len(entry) != 2:
        raise Unreadable(shown(entry), allowed)
    return clock.period(*map(_time, entry))


def _read_by_role(value: Any, setting: TaskSetting, _: Clock) -> dict[str, str]:
    """Read a table of role to text; a bare text stands for the one mark of a task."""
    allowed = f'text, or a table of marks such as {{ A = "…", B = "…" }}: {setting.doc}'
    if isinstance(value, Mapping):
        return {str(k).strip().upper(): _label(v, allowed) for k, v in value.items()}
    return {"": _label(value, allowed)}


def _label(value: Any, allowed: str) -> str:
    """Read a name that people may write as a number."""
    whole = isinstance(value, int) and not isinstance(value, bool)
    return str(value) if whole else _text(value, allowed)


_CIRCLE = '{ centre = "goal 1", outer = "2 km" } and perhaps inner, lower, upper'
_CIRCLE_KEYS = ("centre", "outer", "inner", "lower", "upper")


def _read_circles(
    value: Any, _: TaskSetting, __: Clock
) -> tuple[dict[str, str | float], ...]:
    """Read rings round named points; lengths in metres."""
    tables = value if isinstance(value, list | tuple) else [value]
    return tuple(_circle(table) for table in tables)


def _circle(table: Any) -> dict[str, str | float]:
    if not isinstance(table, Mapping) or not {"centre", "outer"} <= table.keys():
        raise Unreadable(shown(table), _CIRCLE)
    for key in table:
        if key not in _CIRCLE_KEYS:
            raise Unreadable(str(key), f"one of {', '.join(_CIRCLE_KEYS)}")
    ring: dict[str, str | float] = {"centre": _text(table["centre"], _CIRCLE)}
    for key in _CIRCLE_KEYS[1:]:
        if key in table:
            ring[key] = length_m(_text(table[key], _CIRCLE))
    if float(ring.get("inner", 0.0)) >= float(ring["outer"]):
        raise Unreadable(shown(table), "an inner radius smaller than the outer one")
    return ring


_READERS: Mapping[str, Reader] = {
    "text": _read_text,
    "point": _read_text,
    "place": _read_text,
    "places": _read_names,
    "areas": _read_names,
    "length": _read_length,
    "duration": _read_duration,
    "time": _read_time,
    "start": _read_start,
    "count": _read_count,
    "choice": _read_choice,
    "bearing": _read_bearing,
    "windows": _read_windows,
    "by-role": _read_by_role,
    "area-by-role": _read_by_role,
    "circles": _read_circles,
}
