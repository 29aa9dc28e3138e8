"""All task kinds: what each measures, and which keys of a `[[task]]` it reads.

Names and codes are those of the published model event rules; `GAS` is ours.
"""

from collections.abc import Mapping

from scorer.event.model import TaskKind
from scorer.tasks.base import Kind, Setting
from scorer.tasks.gas import long_distance
from scorer.tasks.goals import (
    pilot_declared,
    rate_of_approach,
    to_targets,
    watership_down,
)
from scorer.tasks.races import distance_in_airspace, race_to_area
from scorer.tasks.shapes import angle, elbow, land_run
from scorer.tasks.spans import (
    double_drop_farthest,
    double_drop_nearest,
    farthest_within,
    longest_in_area,
    nearest_after,
    shortest_flight,
)

NOTE = Setting(key="note", kind="text", doc="a remark for people; nothing reads it")
LOGGER_MARKS = Setting(
    key="logger_marks",
    kind="by-role",
    doc='which mark of the logger counts where none is keyed: "1", or by role '
    '{ A = "1", B = "2" }',
)
SEVERAL_MARKS = Setting(
    key="several_marks",
    kind="choice",
    doc="which mark counts where a pilot has several (least-advantageous: one club's "
    "published rule; most-advantageous or last suit tasks that may be tried again)",
    default="least-advantageous",
    choices=("least-advantageous", "most-advantageous", "first", "last", "invalid"),
)
OUTSIDE_LIMITS = Setting(
    key="outside_limits",
    kind="choice",
    doc="what a distance outside the task's limits costs; unset = a warning, an official "
    "rules",
    choices=("no result", "people decide"),
)
OUTSIDE_RADIUS = Setting(
    key="outside_radius",
    kind="choice",
    doc="what a mark outside `measuring_radius` gets",
    default="counts",
    choices=("counts", "no result"),
)
LEAST_LEG = Setting(
    key="least_leg", kind="length", doc="least distance between two points of the task"
)
MOST_LEG = Setting(
    key="most_leg",
    kind="length",
    doc="greatest distance between two points of the task",
)
LEGS = (LEAST_LEG, MOST_LEG, OUTSIDE_LIMITS)
REFERENCE = Setting(
    key="reference",
    kind="point",
    doc='the point the task counts from: "launch", a place, or a mark such as "A"; unset = '
    "the task's target, else mark A of a pilot with marks A and B, else the launch",
)
LAUNCH_IS = Setting(
    key="launch_is",
    kind="choice",
    doc="the role that the pilot's launch fills",
    choices=("A", "B", "C"),
)
TIME_FROM = Setting(
    key="time_from",
    kind="start",
    doc="when time begins: launch, reference (the time of mark A), launch-period (its "
    "opening), or a local time",
    default="launch",
    choices=("launch", "reference", "launch-period"),
)

MARKED = (LOGGER_MARKS, NOTE)
"""Keys of every kind with marks."""
ONE_MARK = (SEVERAL_MARKS, *MARKED)
"""Keys of every kind with one mark."""
TO_GOAL = (OUTSIDE_RADIUS, *ONE_MARK)
"""Keys of every kind with the distance from one mark to a goal."""

DECLARED = (
    Setting(key="goals", kind="count", doc="most goals a pilot may declare", default=1),
    Setting(
        key="extra_goals",
        kind="choice",
        doc="which count where a pilot declared more; unset = none, and a warning",
        choices=("first", "last"),
    ),
    Setting(
        key="goal_places",
        kind="places",
        doc="the goals that may be declared; unset = all goals and targets of the event",
    ),
    Setting(
        key="declare_as",
        kind="choice",
        doc="how goals must be declared",
        default="any",
        choices=("any", "name", "coordinates"),
    ),
    Setting(
        key="declare_by",
        kind="start",
        doc="when goals are due: a local time, by the launch, or by the drop of the mark; "
        "later ones cost `declarations.late_penalty` of the rule book",
        choices=("launch", "drop"),
    ),
    Setting(
        key="least_distance",
        kind="length",
        doc="least distance of a declared goal; nearer ones are not valid",
    ),
    Setting(
        key="most_distance",
        kind="length",
        doc="greatest distance of a declared goal; farther ones are not valid",
    ),
    Setting(
        key="limits_from",
        kind="choice",
        doc="where the goal's distance counts from",
        default="launch",
        choices=("launch", "declaration"),
    ),
    *TO_GOAL,
)
AIRSPACE = (
    Setting(
        key="lower",
        kind="length",
        doc="floor of the airspace above mean sea level; unset = of the places themselves",
    ),
    Setting(
        key="upper",
        kind="length",
        doc="ceiling above mean sea level; unset = of the places themselves",
    ),
    Setting(
        key="circles",
        kind="circles",
        doc="discs or rings round named points: "
        '[{ centre = "goal 1", inner = "1 km", outer = "2 km", lower = "600 m" }]',
    ),
)

_ALL = (
    Kind(
        code=TaskKind.PDG,
        name="pilot declared goal",
        about="the distance from the mark to the nearest valid goal the pilot declared",
        measure=pilot_declared,
        settings=DECLARED,
    ),
    Kind(
        code=TaskKind.JDG,
        name="judge declared goal",
        about="the distance from the mark to the set goal",
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, 1),
    ),
    Kind(
        code=TaskKind.HWZ,
        name="hesitation waltz",
        about="the distance from the mark to the nearest of several goals",
        measure=to_targets,
        settings=TO_GOAL,
        targets=(2, None),
    ),
    Kind(
        code=TaskKind.FIN,
        name="fly in",
        about="the distance from the mark to the target, or to the nearest of several",
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, None),
    ),
    Kind(
        code=TaskKind.FON,
        name="fly on",
        about="the distance from the mark to the nearest valid goal declared in flight",
        measure=pilot_declared,
        settings=DECLARED,
    ),
    Kind(
        code=TaskKind.HNH,
        name="hare and hounds",
        about="the distance from the mark to the hare's target",
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, None),
    ),
    Kind(
        code=TaskKind.WSD,
        name="watership down",
        about="the distance from the mark to the hare's target, after flying in to "
        "where the hare takes off",
        measure=watership_down,
        settings=(
            Setting(
                key="hare_launch",
                kind="place",
                doc="where the hare takes off, to which pilots fly first",
            ),
            Setting(
                key="hare_launch_within",
                kind="length",
                doc="how near to it the track must come",
            ),
            OUTSIDE_LIMITS,
            *TO_GOAL,
        ),
        targets=(1, None),
    ),
    Kind(
        code=TaskKind.GBM,
        name="Gordon Bennett memorial",
        about="the distance from a mark inside a scoring area to the goal",
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, None),
        areas=1,
    ),
    Kind(
        code=TaskKind.CRT,
        name="calculated rate of approach",
        about="the distance to the target from a mark that fell in a scoring area while it "
        "was valid",
        measure=rate_of_approach,
        settings=(
            Setting(
                key="windows",
                kind="windows",
                doc="when each scoring area is valid: "
                '{ "north field" = ["07:00", "07:10"] }, or a list of such periods',
                required=True,
            ),
            *TO_GOAL,
        ),
        targets=(1, None),
        areas=1,
    ),
    Kind(
        code=TaskKind.RTA,
        name="race to an area",
        unit="s",
        about="the time from the start to the scoring area",
        measure=race_to_area,
        settings=(
            Setting(
                key="start",
                kind="start",
                doc="when time begins: launch, launch-period (its opening), or a local "
                "time",
                default="launch",
                choices=("launch", "launch-period"),
            ),
            Setting(
                key="reach",
                kind="choice",
                doc="what must reach the area: the track, or a mark dropped in it",
                default="track",
                choices=("track", "mark"),
            ),
            *AIRSPACE,
            *ONE_MARK,
        ),
        areas=1,
        areas_or="circles",
    ),
    Kind(
        code=TaskKind.ELB,
        name="elbow",
        unit="deg",
        best="greatest",
        about="how far the flight turned at B: 180° minus the angle ABC",
        measure=elbow,
        settings=(LAUNCH_IS, *LEGS, *MARKED),
        roles=("A", "B", "C"),
    ),
    Kind(
        code=TaskKind.LRN,
        name="land run",
        unit="km2",
        best="greatest",
        about="the area of the triangle ABC",
        measure=land_run,
        settings=(LAUNCH_IS, *LEGS, *MARKED),
        roles=("A", "B", "C"),
    ),
    Kind(
        code=TaskKind.MDT,
        name="minimum distance",
        about="the distance from the reference point to a mark, after a least time or "
        "way flown",
        measure=nearest_after,
        settings=(
            Setting(
                key="least_time",
                kind="duration",
                doc="least time before the mark falls",
            ),
            Setting(
                key="least_flown",
                kind="length",
                doc="least way flown over the ground before the mark falls, by the log",
            ),
            TIME_FROM,
            REFERENCE,
            *LEGS,
            *ONE_MARK,
        ),
        one_of=("least_time", "least_flown"),
    ),
    Kind(
        code=TaskKind.SFL,
        name="shortest flight",
        about="the distance from the reference point to a mark inside a scoring area",
        measure=shortest_flight,
        settings=(REFERENCE, *LEGS, *ONE_MARK),
        areas=1,
    ),
    Kind(
        code=TaskKind.MDD,
        name="minimum distance double drop",
        about="the distance between marks A and B in different areas",
        measure=double_drop_nearest,
        settings=(
            Setting(
                key="mark_areas",
                kind="area-by-role",
                doc='the area of each mark: { A = "north field", B = "south field" }; '
                "unset = any two of the scoring areas",
            ),
            LAUNCH_IS,
            *LEGS,
            *MARKED,
        ),
        roles=("A", "B"),
        areas=2,
        areas_or="mark_areas",
    ),
    Kind(
        code=TaskKind.XDT,
        name="maximum distance time",
        best="greatest",
        about="the distance from the reference point to a mark within a greatest time",
        measure=farthest_within,
        settings=(
            Setting(
                key="most_time",
                kind="duration",
                doc="greatest time to the mark",
                required=True,
            ),
            TIME_FROM,
            REFERENCE,
            *LEGS,
            *ONE_MARK,
        ),
    ),
    Kind(
        code=TaskKind.XDI,
        name="maximum distance",
        best="greatest",
        about="the distance from the reference point to a mark inside a scoring area",
        measure=longest_in_area,
        settings=(REFERENCE, *LEGS, *ONE_MARK),
        areas=1,
    ),
    Kind(
        code=TaskKind.XDD,
        name="maximum distance double drop",
        best="greatest",
        about="the distance between marks A and B",
        measure=double_drop_farthest,
        settings=(
            Setting(
                key="mark_areas",
                kind="area-by-role",
                doc='the area of each mark: { A = "north field", B = "south field" }; '
                "unset = any of the scoring areas, if there are any",
            ),
            LAUNCH_IS,
            *LEGS,
            *MARKED,
        ),
        roles=("A", "B"),
    ),
    Kind(
        code=TaskKind.ANG,
        name="angle",
        unit="deg",
        best="greatest",
        about="the angle between the set direction and the line from A to B",
        measure=angle,
        settings=(
            Setting(
                key="direction",
                kind="bearing",
                doc='the set direction in degrees: from grid north, or true ("45 T") or '
                'magnetic ("45 M")',
                required=True,
            ),
            REFERENCE,
            *LEGS,
            *ONE_MARK,
        ),
    ),
    Kind(
        code=TaskKind.THREE_DT,
        name="three-dimensional shape",
        best="greatest",
        about="the way flown inside the airspace of the task, by the log",
        measure=distance_in_airspace,
        settings=(
            Setting(
                key="without",
                kind="areas",
                doc="areas inside which the way does not count",
            ),
            *AIRSPACE,
            NOTE,
        ),
        areas=1,
        areas_or="circles",
    ),
    Kind(
        code=TaskKind.GAS,
        name="long-distance race",
        best="greatest",
        about="the distance from launch to landing along the Earth's surface, whatever the "
        "route and the time",
        measure=long_distance,
        settings=(
            Setting(
                key="launch_place",
                kind="place",
                doc="where all launch; unset = the task's target, else as keyed (mark "
                "LAUNCH) or by the log",
            ),
            Setting(
                key="land_by",
                kind="time",
                doc='latest landing, local: "2026-09-15 08:00"',
            ),
            Setting(
                key="stages",
                kind="places",
                doc="launch places of the stages in order; the landing of stage n is mark "
                "n, and the result is the sum",
            ),
            OUTSIDE_LIMITS,
            *MARKED,
        ),
    ),
)

KINDS: Mapping[TaskKind, Kind] = {kind.code: kind for kind in _ALL}


def settings_table(kind: Kind) -> list[tuple[str, str, str]]:
    """List the keys of a kind for people: key, how it is written, what it means."""
    rows = []
    for setting in kind.settings:
        written = ", ".join(setting.choices) or WRITTEN[setting.kind]
        if setting.kind == "start":
            written = f"{written}, or HH:MM[:SS]"
        default = f" (default {setting.default})" if setting.default is not None else ""
        must = " (must be given)" if setting.required else ""
        rows.append((setting.key, f"{written}{default}{must}", setting.doc))
    return rows


WRITTEN: Mapping[str, str] = {
    "text": "text",
    "point": '"launch", a place, or a mark',
    "place": "name of a point",
    "places": "list of points",
    "areas": "list of areas",
    "length": '"500 m"',
    "duration": '"30 min"',
    "time": "HH:MM[:SS], date before it if needed",
    "count": "number",
    "bearing": '45, "45 T", "45 M"',
    "windows": "table of area to [from, to]",
    "by-role": "text, or table of mark to text",
    "area-by-role": "table of mark to area",
    "circles": "list of tables",
}
"""How each kind of value is written in flight.toml."""


def kinds_markdown() -> str:
    """Write the manual of all kinds: what each measures, and its keys in a table."""
    return "\n".join(line for kind in KINDS.values() for line in _manual(kind))


def _manual(kind: Kind) -> list[str]:
    unit = {"deg": "°", "km2": "km²"}.get(kind.unit, kind.unit)
    lines = [
        f"### {kind.code} – {kind.name}",
        "",
        f"{kind.about[0].upper()}{kind.about[1:]}; in {unit}, {kind.best} best.",
        "",
        "| key | value | meaning |",
        "|---|---|---|",
    ]
    rows = [[cell.replace("|", "\\|") for cell in row] for row in settings_table(kind)]
    return [*lines, *(f"| `{key}` | {value} | {doc} |" for key, value, doc in rows), ""]
