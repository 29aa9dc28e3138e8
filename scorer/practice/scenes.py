"""The invented meets: where they are, when they fly, who plays which part.

Towns, valleys, people and aircraft are invented.  Only the grid and the time zone are
real, so that coordinates and clocks work; the spots they give lie in empty country.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum


class Role(StrEnum):
    """What is special about one pilot in one flight."""

    CLEAN = "clean"
    DEEP = "deep floor breach"
    DEEP_SEEN = "deep floor breach, also seen by an official"
    SHALLOW = "shallow floor breach"
    BRIEF = "brief floor breach"
    GRAZE = "lowest just over the floor, no breach"
    CONTACT_SEEN = "ground contact, also seen by an official"
    CONTACT_LOGGED = "ground contact, seen by nobody but the log"
    LOST = "marker not found"
    WRONG_NUMBER = "marker keyed under another pilot's number"
    WIDE = "flew wide without a drop; somebody else's marker is keyed here"
    SWAPPED = "number swapped with another pilot's"
    DIFFER = "two keyings that differ"
    SETTLED = "two keyings that differ, settled by a third"
    NEAR = "launch too near the target"
    ABSENT = "did not fly"
    NO_LOG = "flew, logger failed"
    GAP = "log with a gap while cruising"
    NO_BARO = "logger without a barometer"
    IMPOSED = "penalty imposed by officials, nothing in the log"


class Aim(StrEnum):
    """How a task's target lies on the way."""

    FIRST = "first"
    SECOND = "second"
    """Downwind of the first, reached afterwards."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskScene:
    """One task of an invented flight."""

    number: int
    target: str = ""
    """Empty where every pilot declares a goal."""
    area: str = ""
    """Scoring area; empty = none, and then neither minimum height nor contact rule."""
    marker: str
    aim: Aim = Aim.FIRST
    goals: tuple[tuple[str, float, float], ...] = ()
    """Goals to choose from: name, metres east and north of the first target."""

    @property
    def kind(self) -> str:
        """Code of the published model event rules."""
        return "PDG" if self.goals else "FIN"


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightScene:
    """One invented flight: the day, its air, its tasks."""

    id: str
    date: str
    """Local, ISO."""
    launch_period: tuple[str, str]
    scoring_period: tuple[str, str]
    qnh_hpa: float
    temperature_c: float
    toward_deg: float
    """Where the lowest air moves to, grid north."""
    breeze: float = 1.0
    """Scales all wind speeds."""
    tasks: tuple[TaskScene, ...]
    cast: tuple[Role, ...] = ()
    """One pilot each, drawn by chance; everybody else is clean."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Land:
    """The invented valley: its place in the grid and its relief."""

    east_m: float
    north_m: float
    """Of the first target, whole metres in the event's plane."""
    elevation_m: float
    """Of the valley floor there."""
    axis_deg: float
    """The valley runs this way, grid north."""
    hills_m: float
    """Height of the hills on both sides."""
    knolls_m: float
    """One sigma of the small relief."""
    half_m: float = 8_000.0
    """Half a side of the terrain grid."""
    cell_m: float = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MeetSpec:
    """Everything that, with a seed, determines an invented meet."""

    name: str
    venue: str
    tale: str
    """A few sentences about the invented place, for the README."""
    crs: str
    time_zone: str
    units: str
    """`metric` or `imperial`."""
    land: Land
    flights: tuple[FlightScene, ...]
    officials: tuple[str, ...] = ("Fenna", "Obafemi", "Yrsa", "Calix")
    pilots: int = 40
    sample_s: int = 3
    """Interval between fixes."""
    fixes: int | None = None
    """Fixes per log; None = as long as each flight takes."""
    rules: Mapping[str, str] = field(default_factory=dict)
    """Further lines of the `[rules]` table, by dotted key, as TOML values."""


FIRST_TARGET = "centre"
FIRST_AREA = "scoring area"
BOUNDARY = "field"

_FIRST_CAST = (
    Role.DEEP,
    Role.DEEP_SEEN,
    Role.SHALLOW,
    Role.BRIEF,
    Role.GRAZE,
    Role.CONTACT_SEEN,
    Role.LOST,
    Role.WRONG_NUMBER,
    Role.WIDE,
    Role.SWAPPED,
    Role.SWAPPED,
    Role.DIFFER,
    Role.SETTLED,
    Role.NEAR,
    Role.ABSENT,
    Role.IMPOSED,
)
_SECOND_CAST = (
    Role.DEEP,
    Role.SHALLOW,
    Role.GRAZE,
    Role.CONTACT_LOGGED,
    Role.LOST,
    Role.DIFFER,
    Role.ABSENT,
    Role.NO_LOG,
    Role.GAP,
    Role.NO_BARO,
)

QUILLOWEN = MeetSpec(
    name="Quillowen Lantern Meet",
    venue="Quillowen, Tarrabel Valley",
    tale=(
        "Quillowen is a market town that does not exist, on the river Lirra in the "
        "Tarrabel Valley, which does not exist either.  Once a year its people hang "
        "lanterns in the poplars and forty balloonists come to throw markers at a "
        "cross on the hay field."
    ),
    crs="EPSG:32719",
    time_zone="America/Argentina/Buenos_Aires",
    units="imperial",
    land=Land(
        east_m=561_400.0,
        north_m=4_873_200.0,
        elevation_m=640.0,
        axis_deg=35.0,
        hills_m=150.0,
        knolls_m=14.0,
    ),
    flights=(
        FlightScene(
            id="saturday",
            date="2026-03-14",
            launch_period=("07:30", "08:15"),
            scoring_period=("07:30", "10:00"),
            qnh_hpa=1018.5,
            temperature_c=7.0,
            toward_deg=48.0,
            tasks=(
                TaskScene(
                    number=1, target=FIRST_TARGET, area=FIRST_AREA, marker="yellow"
                ),
            ),
            cast=_FIRST_CAST,
        ),
        FlightScene(
            id="sunday",
            date="2026-03-15",
            launch_period=("07:30", "08:15"),
            scoring_period=("07:30", "10:00"),
            qnh_hpa=1009.0,
            temperature_c=12.0,
            toward_deg=205.0,
            breeze=1.15,
            tasks=(
                TaskScene(
                    number=2, target=FIRST_TARGET, area="long area", marker="white"
                ),
                TaskScene(
                    number=3,
                    target="mill meadow",
                    area="long area",
                    marker="blue",
                    aim=Aim.SECOND,
                ),
            ),
            cast=_SECOND_CAST,
        ),
    ),
)

VASHKORIM = MeetSpec(
    name="Vashkorim Six",
    venue="Vashkorim, Unwalked Steppe",
    tale=(
        "Vashkorim is a village that does not exist, beside two wells on a steppe "
        "that nobody has walked.  Six balloons, two mornings, one target and four "
        "goals to choose from: small enough to read every line of it."
    ),
    crs="EPSG:32642",
    time_zone="Asia/Qyzylorda",
    units="metric",
    land=Land(
        east_m=301_250.0,
        north_m=5_386_700.0,
        elevation_m=215.0,
        axis_deg=110.0,
        hills_m=60.0,
        knolls_m=9.0,
        half_m=6_000.0,
        cell_m=100.0,
    ),
    flights=(
        FlightScene(
            id="first-morning",
            date="2026-08-22",
            launch_period=("05:50", "06:40"),
            scoring_period=("05:50", "08:30"),
            qnh_hpa=1014.0,
            temperature_c=14.0,
            toward_deg=285.0,
            tasks=(
                TaskScene(number=1, target=FIRST_TARGET, area=FIRST_AREA, marker="red"),
            ),
            cast=(Role.DEEP, Role.CONTACT_SEEN, Role.LOST, Role.DIFFER),
        ),
        FlightScene(
            id="second-morning",
            date="2026-08-23",
            launch_period=("05:50", "06:40"),
            scoring_period=("05:50", "08:30"),
            qnh_hpa=1011.5,
            temperature_c=16.0,
            toward_deg=330.0,
            breeze=0.9,
            tasks=(
                TaskScene(
                    number=2,
                    marker="green",
                    goals=(
                        ("north well", 240.0, 1_310.0),
                        ("south well", -180.0, -1_420.0),
                        ("salt stake", 1_660.0, 130.0),
                        ("sheep pens", -1_530.0, 415.0),
                    ),
                ),
            ),
        ),
    ),
    officials=("Merel", "Tendai"),
    pilots=6,
    sample_s=4,
)

SAMPLES: Mapping[str, tuple[MeetSpec, int]] = {
    "quillowen": (QUILLOWEN, 20260314),
    "vashkorim": (VASHKORIM, 20260822),
}
"""The sample events by folder name, each with its seed."""

PARTS = len(_FIRST_CAST)


def crowd(
    *, pilots: int, fixes: int | None = None, sample_s: int = 1, flights: int = 1
) -> MeetSpec:
    """Return a meet of any size at Quillowen, for practice and for measuring speed.

    For every forty pilots one set of the parts of the sample's first flight is played.
    """
    sets = max(pilots // 40, 1 if pilots >= PARTS else 0)
    first = QUILLOWEN.flights[0]
    scenes = tuple(
        FlightScene(
            id=f"flight-{k + 1}",
            date=f"{date(2026, 3, 14) + timedelta(days=k)}",
            launch_period=first.launch_period,
            scoring_period=("07:30", "11:30"),
            qnh_hpa=first.qnh_hpa - 2.0 * k,
            temperature_c=first.temperature_c,
            toward_deg=(first.toward_deg + 40.0 * k) % 360.0,
            tasks=(
                TaskScene(
                    number=k + 1, target=FIRST_TARGET, area=FIRST_AREA, marker="yellow"
                ),
            ),
            cast=first.cast * sets,
        )
        for k in range(flights)
    )
    land = QUILLOWEN.land
    return MeetSpec(
        name=f"Quillowen with {pilots} balloons",
        venue=QUILLOWEN.venue,
        tale=QUILLOWEN.tale,
        crs=QUILLOWEN.crs,
        time_zone=QUILLOWEN.time_zone,
        units=QUILLOWEN.units,
        land=Land(
            east_m=land.east_m,
            north_m=land.north_m,
            elevation_m=land.elevation_m,
            axis_deg=land.axis_deg,
            hills_m=land.hills_m,
            knolls_m=land.knolls_m,
            half_m=30_000.0,
            cell_m=150.0,
        ),
        flights=scenes,
        pilots=pilots,
        sample_s=sample_s,
        fixes=fixes,
    )
