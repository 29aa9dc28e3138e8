"""The registry of place kinds: what a place of the event may be for.

A kind is one declaration.  Reading, maps on paper and on the screen, the window's form
and the manual follow from it.  In the catalogue stand its title, `place-kind-NAME`, and
what it is for, `place-kind-NAME-about`.
"""

from dataclasses import dataclass
from enum import StrEnum

from scorer.registry import Registry


class Geometry(StrEnum):
    """Of what form a place is, by its GeoJSON type."""

    POINT = "Point"
    AREA = "Polygon"
    ANY = "Point, LineString or Polygon"
    """Known as an area: a point or line gets a strip round it (`places.STRIP_M`)."""


class PlaceTone(StrEnum):
    """What a place is to a pilot; each drawing has its colours for these."""

    PLAIN = "plain"
    AIM = "aim"
    """Where marks should fall."""
    OPEN = "open"
    """Where marks count."""
    FORBIDDEN = "forbidden"


class PlaceSign(StrEnum):
    """By what a place is told apart without colour: an outline, or a point's symbol."""

    SOLID = "solid"
    DASHES = "dashes"
    DOTS = "dots"
    DASHES_AND_DOTS = "dashes-and-dots"
    CROSS = "cross"
    TRIANGLE = "triangle"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceKind:
    """One kind of place: a row of the registry."""

    name: str
    """As in places.geojson; never changes."""
    geometry: Geometry
    levels: tuple[str, ...] = ()
    """Which heights it may have: `elevation_m`, `lower_m`, `upper_m`, `height_m`."""
    goal: bool = False
    """Whether pilots may declare it as their goal."""
    role: str = "area"
    """How paper and pages draw an area: a look of board.css."""
    sign: PlaceSign
    tone: PlaceTone = PlaceTone.PLAIN

    @property
    def is_point(self) -> bool:
        """Tell whether such a place is a point rather than an area."""
        return self.geometry is Geometry.POINT

    def __str__(self) -> str:
        return self.name

    def __reduce__(self) -> tuple[object, ...]:
        """Come back from another process as the one and same kind."""
        return place_kind_named, (self.name,)


PLACE_KINDS: Registry[PlaceKind] = Registry("place")
"""Every kind by name; areas are drawn in this order, the first beneath."""


def place_kind_named(name: str) -> PlaceKind:
    """Return a kind by its name; KeyError where none has it."""
    return PLACE_KINDS[name]


def place_kind(kind: PlaceKind) -> PlaceKind:
    """Declare a kind of place."""
    return PLACE_KINDS.declare(kind.name, kind)


_GROUND = ("elevation_m",)
_HIGH = ("height_m",)
TARGET = place_kind(
    PlaceKind(
        name="target",
        geometry=Geometry.POINT,
        levels=_GROUND,
        goal=True,
        sign=PlaceSign.CROSS,
        tone=PlaceTone.AIM,
    )
)
GOAL = place_kind(
    PlaceKind(
        name="goal",
        geometry=Geometry.POINT,
        levels=_GROUND,
        goal=True,
        sign=PlaceSign.TRIANGLE,
    )
)
REFERENCE = place_kind(
    PlaceKind(
        name="reference",
        geometry=Geometry.POINT,
        levels=_GROUND,
        sign=PlaceSign.TRIANGLE,
    )
)
TASK_AREA = place_kind(
    PlaceKind(name="task-area", geometry=Geometry.AREA, sign=PlaceSign.DASHES_AND_DOTS)
)
BOUNDARY = place_kind(
    PlaceKind(
        name="boundary", geometry=Geometry.AREA, role="boundary", sign=PlaceSign.DASHES
    )
)
LAUNCH_AREA = place_kind(
    PlaceKind(
        name="launch-area", geometry=Geometry.AREA, role="launch", sign=PlaceSign.DOTS
    )
)
SCORING_AREA = place_kind(
    PlaceKind(
        name="scoring-area",
        geometry=Geometry.AREA,
        role="scoring",
        sign=PlaceSign.SOLID,
        tone=PlaceTone.OPEN,
    )
)
PROHIBITED = place_kind(
    PlaceKind(
        name="prohibited",
        geometry=Geometry.AREA,
        levels=("lower_m", "upper_m"),
        role="prohibited",
        sign=PlaceSign.SOLID,
        tone=PlaceTone.FORBIDDEN,
    )
)
POWER_LINE = place_kind(
    PlaceKind(
        name="power-line",
        geometry=Geometry.ANY,
        levels=_HIGH,
        role="prohibited",
        sign=PlaceSign.DASHES,
        tone=PlaceTone.FORBIDDEN,
    )
)
OBSTACLE = place_kind(
    PlaceKind(
        name="obstacle",
        geometry=Geometry.ANY,
        levels=_HIGH,
        role="prohibited",
        sign=PlaceSign.DOTS,
        tone=PlaceTone.FORBIDDEN,
    )
)


STANDING = (POWER_LINE, OBSTACLE)
"""What stands on the ground and may be flown into."""
FORBIDDEN = (PROHIBITED, *STANDING)
"""What no basket may come into."""


def points_in_words() -> str:
    """Name the kinds that are points, for people: `target, goal, reference`."""
    return ", ".join(name for name, kind in PLACE_KINDS.items() if kind.is_point)
