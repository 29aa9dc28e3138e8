"""All task kinds: what each measures, and which keys of a `[[task]]` it reads.

Names and codes are those of the published model event rules; `GAS` is ours.
"""

from collections.abc import Mapping

from scorer.event.task_kinds import TASK_KINDS, TaskKind, TaskSetting
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

NOTE = TaskSetting(key="note", kind="text", doc="a remark for people; nothing reads it")
LOGGER_MARKS = TaskSetting(
    key="logger_marks",
    kind="by-role",
    doc='which mark of the logger counts where none is keyed: "1", or by role '
    '{ A = "1", B = "2" }',
)
OUT_OF_ORDER = TaskSetting(
    key="out_of_order",
    kind="choice",
    doc="what marks get that fell in another order than their letters or numbers; unset = "
    "an official looks at them",
    choices=("no result", "people decide", "counts"),
)
SEVERAL_MARKS = TaskSetting(
    key="several_marks",
    kind="choice",
    doc="which mark counts where a pilot has several (least-advantageous: one club's "
    "published rule; most-advantageous or last suit tasks that may be tried again)",
    default="least-advantageous",
    choices=(
        "least-advantageous",
        "most-advantageous",
        "first",
        "last",
        "sum",
        "mean",
        "invalid",
    ),
)
DROPS = TaskSetting(
    key="drops",
    kind="count",
    doc="how many markers every pilot drops, where their results are added up "
    '(`several_marks = "sum"` or `"mean"`); fewer give no result; unset = any number',
)
OUTSIDE_LIMITS = TaskSetting(
    key="outside_limits",
    kind="choice",
    doc="what a distance outside the task's limits costs; unset = a warning, an official "
    "rules",
    choices=("no result", "people decide"),
)
OUTSIDE_RADIUS = TaskSetting(
    key="outside_radius",
    kind="choice",
    doc="what a mark outside `measuring_radius` gets",
    default="counts",
    choices=("counts", "no result"),
)
LEAST_LEG = TaskSetting(
    key="least_leg", kind="length", doc="least distance between two points of the task"
)
MOST_LEG = TaskSetting(
    key="most_leg",
    kind="length",
    doc="greatest distance between two points of the task",
)
LEGS = (LEAST_LEG, MOST_LEG, OUTSIDE_LIMITS)
REFERENCE = TaskSetting(
    key="reference",
    kind="point",
    doc='the point the task counts from: "launch", a place, or a mark such as "A"; unset = '
    "the task's target, else mark A of a pilot with marks A and B, else the launch",
)
LAUNCH_IS = TaskSetting(
    key="launch_is",
    kind="choice",
    doc="the role that the pilot's launch fills",
    choices=("A", "B", "C"),
)
TIME_FROM = TaskSetting(
    key="time_from",
    kind="start",
    doc="when time begins: launch, reference (the time of mark A), launch-period (its "
    "opening), or a local time",
    default="launch",
    choices=("launch", "reference", "launch-period"),
)

MARKED = (OUT_OF_ORDER, LOGGER_MARKS, NOTE)
"""Keys of every kind with marks."""
ONE_MARK = (SEVERAL_MARKS, DROPS, *MARKED)
"""Keys of every kind with one mark."""
TO_GOAL = (OUTSIDE_RADIUS, *ONE_MARK)
"""Keys of every kind with the distance from one mark to a goal."""

DECLARED = (
    TaskSetting(
        key="goals", kind="count", doc="most goals a pilot may declare", default=1
    ),
    TaskSetting(
        key="extra_goals",
        kind="choice",
        doc="which count where a pilot declared more; unset = none, and a warning",
        choices=("first", "last"),
    ),
    TaskSetting(
        key="goal_places",
        kind="places",
        doc="the goals that may be declared; unset = all goals and targets of the event",
    ),
    TaskSetting(
        key="declare_as",
        kind="choice",
        doc="how goals must be declared",
        default="any",
        choices=("any", "name", "coordinates"),
    ),
    TaskSetting(
        key="declare_by",
        kind="start",
        doc="when goals are due: a local time, by the launch, or by the drop of the mark; "
        "later ones cost `declarations.late_penalty` of the rule book",
        choices=("launch", "drop"),
    ),
    TaskSetting(
        key="least_distance",
        kind="length",
        doc="least distance of a declared goal; nearer ones are not valid",
    ),
    TaskSetting(
        key="most_distance",
        kind="length",
        doc="greatest distance of a declared goal; farther ones are not valid",
    ),
    TaskSetting(
        key="limits_from",
        kind="choice",
        doc="where the goal's distance counts from",
        default="launch",
        choices=("launch", "declaration"),
    ),
    *TO_GOAL,
)
AIRSPACE = (
    TaskSetting(
        key="lower",
        kind="length",
        doc="floor of the airspace above mean sea level; unset = of the places themselves",
    ),
    TaskSetting(
        key="upper",
        kind="length",
        doc="ceiling above mean sea level; unset = of the places themselves",
    ),
    TaskSetting(
        key="circles",
        kind="circles",
        doc="discs or rings round named points: "
        '[{ centre = "goal 1", inner = "1 km", outer = "2 km", lower = "600 m" }]',
    ),
)

_ALL = (
    TaskKind(
        code="PDG",
        declared=True,
        example='goals = 2\ndeclare_by = "launch"\nleast_distance = "1 km"',
        measure=pilot_declared,
        settings=DECLARED,
    ),
    TaskKind(
        code="JDG",
        example='target = "goal 1"',
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, 1),
    ),
    TaskKind(
        code="HWZ",
        example='targets = ["goal 1", "goal 2", "centre"]',
        measure=to_targets,
        settings=TO_GOAL,
        targets=(2, None),
    ),
    TaskKind(
        code="FIN",
        example='target = "centre"\n'
        'scoring_area = "scoring area"\n'
        'measuring_radius = "100 m"',
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, None),
    ),
    TaskKind(
        code="FON",
        declared=True,
        example='goals = 1\nmost_distance = "5 km"\nlimits_from = "declaration"',
        measure=pilot_declared,
        settings=DECLARED,
    ),
    TaskKind(
        code="HNH",
        example='target = "hare\'s target"\nmeasuring_radius = "200 m"',
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, None),
    ),
    TaskKind(
        code="WSD",
        example='target = "hare\'s target"\n'
        'hare_launch = "bridge"\n'
        'hare_launch_within = "100 m"',
        measure=watership_down,
        settings=(
            TaskSetting(
                key="hare_launch",
                kind="place",
                doc="where the hare takes off, to which pilots fly first",
            ),
            TaskSetting(
                key="hare_launch_within",
                kind="length",
                doc="how near to it the track must come",
            ),
            OUTSIDE_LIMITS,
            *TO_GOAL,
        ),
        targets=(1, None),
    ),
    TaskKind(
        code="GBM",
        example='target = "goal 1"\nscoring_area = "north field"',
        measure=to_targets,
        settings=TO_GOAL,
        targets=(1, None),
        areas=1,
    ),
    TaskKind(
        code="CRT",
        example='target = "goal 1"\n'
        'scoring_areas = ["north field", "south field"]\n'
        'windows = { "north field" = ["07:00", "07:10"], "south field" = ["07:10", '
        '"07:20"] }',
        measure=rate_of_approach,
        settings=(
            TaskSetting(
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
    TaskKind(
        code="RTA",
        marked=False,
        example='scoring_area = "north field"\n'
        'start = "launch-period"\n'
        'launch_period = ["06:45", "07:30"]',
        unit="s",
        measure=race_to_area,
        settings=(
            TaskSetting(
                key="start",
                kind="start",
                doc="when time begins: launch, launch-period (its opening), or a local "
                "time",
                default="launch",
                choices=("launch", "launch-period"),
            ),
            TaskSetting(
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
    TaskKind(
        code="ELB",
        example='launch_is = "A"\nleast_leg = "1 km"',
        unit="deg",
        best="greatest",
        measure=elbow,
        settings=(LAUNCH_IS, *LEGS, *MARKED),
        roles=("A", "B", "C"),
    ),
    TaskKind(
        code="LRN",
        example='targets = { A = "bridge" }\nmost_leg = "4 km"',
        unit="km2",
        best="greatest",
        measure=land_run,
        settings=(LAUNCH_IS, *LEGS, *MARKED),
        roles=("A", "B", "C"),
    ),
    TaskKind(
        code="MDT",
        example='target = "bridge"\nleast_time = "30 min"',
        measure=nearest_after,
        settings=(
            TaskSetting(
                key="least_time",
                kind="duration",
                doc="least time before the mark falls",
            ),
            TaskSetting(
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
    TaskKind(
        code="SFL",
        example='target = "bridge"\nscoring_area = "north field"',
        measure=shortest_flight,
        settings=(REFERENCE, *LEGS, *ONE_MARK),
        areas=1,
    ),
    TaskKind(
        code="MDD",
        example='scoring_areas = ["north field", "south field"]',
        measure=double_drop_nearest,
        settings=(
            TaskSetting(
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
    TaskKind(
        code="XDT",
        example='reference = "launch"\nmost_time = "30 min"',
        best="greatest",
        measure=farthest_within,
        settings=(
            TaskSetting(
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
    TaskKind(
        code="XDI",
        example='reference = "launch"\nscoring_area = "north field"',
        best="greatest",
        measure=longest_in_area,
        settings=(REFERENCE, *LEGS, *ONE_MARK),
        areas=1,
    ),
    TaskKind(
        code="XDD",
        example='scoring_area = "north field"\nmost_leg = "10 km"',
        best="greatest",
        measure=double_drop_farthest,
        settings=(
            TaskSetting(
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
    TaskKind(
        code="ANG",
        example='target = "bridge"\ndirection = "45 T"',
        unit="deg",
        best="greatest",
        measure=angle,
        settings=(
            TaskSetting(
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
    TaskKind(
        code="3DT",
        marked=False,
        example='circles = [{ centre = "goal 1", inner = "1 km", outer = "2 km", '
        'lower = "600 m" }]',
        best="greatest",
        measure=distance_in_airspace,
        settings=(
            TaskSetting(
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
    TaskKind(
        code="GAS",
        marked=False,
        race=True,
        example='target = "centre"\nland_by = "2026-09-15 08:00"',
        best="greatest",
        measure=long_distance,
        settings=(
            TaskSetting(
                key="launch_place",
                kind="place",
                doc="where all launch; unset = the task's target, else as keyed (mark "
                "LAUNCH) or by the log",
            ),
            TaskSetting(
                key="land_by",
                kind="time",
                doc='latest landing, local: "2026-09-15 08:00"',
            ),
            TaskSetting(
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

KINDS = TASK_KINDS
for _kind in _ALL:
    TASK_KINDS.declare(_kind.code, _kind)


def settings_table(kind: TaskKind) -> list[tuple[str, str, str]]:
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
