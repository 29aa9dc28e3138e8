"""The written parts of an invented event folder: settings, flights, the page to read."""

import json
import textwrap
from collections.abc import Sequence

from scorer.event.columns import ABOUT_PEOPLE
from scorer.practice.names import Entrant
from scorer.practice.officials import Row, table
from scorer.practice.scenes import BOUNDARY, Aim, FlightScene, MeetSpec, TaskScene

INVENTED = (
    "This meet is invented: the place, the people, the balloons and the flights do not "
    "exist.  Only the map grid and the time zone are real, so that coordinates and "
    "clocks work; the spot they point to is empty country."
)
CAUTIONS = (
    "Heights and distances here are worked out after a flight and carry an uncertainty. "
    "They are evidence for a sport.  They are not for navigation, and they do not say "
    "whether a flight was lawful or safe.  The aviation authority's rules, the event's "
    "waiver, the event director and the safety officials come first.  Low flight near "
    "people, power lines and other obstacles can kill: the minimum height in a rule "
    "book is a limit of the game, never a statement that flying at it is safe."
)


def event_toml(spec: MeetSpec, seed: int) -> bytes:
    """Return event.toml."""
    text = f"""\
# {spec.name}: an invented event, made from seed {seed}.
format = 1

[event]
name = {_quoted(spec.name)}
venue = {_quoted(spec.venue)}
time_zone = {_quoted(spec.time_zone)}
crs = {_quoted(spec.crs)}
units = {_quoted(spec.units)}
distance = "ground"
terrain = "terrain.tif"
ground_elevation = "{spec.land.elevation_m:.0f} m"

[rules]
book = "festival"

[rules.floor]
height = "75 ft"
within = "{BOUNDARY}"
until = "scoring-area"
tolerance = "0 ft"
least_time = "3 s"
penalty = {{ unit = "task points", base = 0, per = 1, of = "ft", cap = 500 }}

[rules.contact]
within = "scoring-area"
penalty = {{ unit = "no result" }}

[rules.launch]
least_distance = "1 mi"
penalty = {{ unit = "no result" }}

[rules.points]
method = "international"
ties = "shared-rank"
no_result = "share"

[rules.results]
decimals = 2

[rules.publication]
complaint_time = "2 h"
"""
    return text.encode()


def flight_toml(scene: FlightScene, spec: MeetSpec) -> bytes:
    """Return flight.toml."""
    head = f"""\
date = {scene.date}
qnh_hpa = {scene.qnh_hpa}
temperature_c = {scene.temperature_c}
"""
    tasks = "".join(_task(task, scene, spec) for task in scene.tasks)
    return (head + tasks).encode()


def _task(task: TaskScene, scene: FlightScene, spec: MeetSpec) -> str:
    radius = {"imperial": "300 ft", "metric": "100 m"}[spec.units]
    text = f"""
[[task]]
number = {task.number}
kind = "{task.kind}"
{_where(task)}launch_period = {_list(scene.launch_period)}
scoring_period = {_list(scene.scoring_period)}
measuring_radius = "{radius}"
marker = {_quoted(task.marker)}
state = "flown"
"""
    if task.aim is Aim.SECOND:
        text += (
            "# The minimum height is judged once, on the way to the first target.\n"
            'rules.floor.height = "none"\n'
        )
    return text


def _where(task: TaskScene) -> str:
    """Return the lines that say where a task is decided."""
    if not task.area:
        return (
            "# The target is the goal each pilot declares, in open country: no minimum\n"
            "# height, no least launch distance.\n"
            'rules.floor.height = "none"\n'
            'rules.launch.least_distance = "none"\n'
        )
    return f"target = {_quoted(task.target)}\nscoring_area = {_quoted(task.area)}\n"


def roster_csv(entrants: Sequence[Entrant]) -> bytes:
    """Return pilots.csv."""
    return table(ABOUT_PEOPLE, [_entrant(entrant) for entrant in entrants])


def _entrant(entrant: Entrant) -> Row:
    return {
        "number": str(entrant.number),
        "name": entrant.person.name,
        "registration": entrant.registration,
        "class": entrant.class_name,
        "country": entrant.person.country,
        "logger": entrant.logger,
    }


def readme(spec: MeetSpec, seed: int) -> bytes:
    """Return the page to read first."""
    tasks = [task for scene in spec.flights for task in scene.tasks]
    text = f"""\
# {spec.name}

{_wrapped(spec.tale)}

{_wrapped(f"**{INVENTED}**")}

## What is in it

{spec.pilots} pilots, {_count(len(spec.flights), "flight")}, {_count(len(tasks), "task")}.
Lengths are keyed in {_UNITS[spec.units]}, in the many ways people write them.

| file | what it is |
|---|---|
| `event.toml` | the event and the rules it overrides |
| `pilots.csv` | who is entered |
| `places.geojson` | targets, scoring areas, the boundary, points to measure from |
| `terrain.tif` | the height of the ground |
| `flights/*/flight.toml` | a flight's day and tasks |
| `flights/*/marks.csv` | the measured markers, one row for each keying |
{_DECLARATIONS if any(task.goals for task in tasks) else ""}\
| `flights/*/reports.csv` | what officials saw |
| `flights/*/rulings.csv` | what officials decided |
| `flights/*/logs/*.igc` | the pilots' flight logs, with the errors that real loggers have |
| `answer.json` | what really happened: the key to this exercise |

## To practise with it

Score it, and look at the findings and warnings before you open `answer.json`.  Somewhere
in here are flights under the minimum height, a basket that touched the ground, a marker
nobody found, a pair of keyings that do not agree, and, in the larger meets, numbers
that were mixed up.  Who did you find?  What would you rule, and what would you tell
the pilot who asks why?  `answer.json` has the list under `planted`.

The meet comes from the number {seed}: the same number always gives the same files, to
the byte.  Files in this folder are made, never edited by hand; to change something,
copy the folder.

## Cautions

{_wrapped(CAUTIONS)}
"""
    return text.encode()


_DECLARATIONS = "| `flights/*/declarations.csv` | the goals that pilots declared |\n"
_UNITS = {"imperial": "feet and inches", "metric": "metres"}


def _wrapped(text: str) -> str:
    return textwrap.fill(text, 88, break_on_hyphens=False)


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _list(items: Sequence[str]) -> str:
    return f"[{', '.join(_quoted(item) for item in items)}]"
