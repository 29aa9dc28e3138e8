"""Small worlds for the checks: a site of our own, tracks made to measure."""

from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
from shapely import Polygon

from scorer.checks.base import Circumstances
from scorer.event import place_kinds
from scorer.event.model import Event, Place, Task
from scorer.event.rulebook import RuleBook
from scorer.geodesy.plane import Plane
from scorer.geodesy.site import Site
from scorer.tracks.flown import Flown
from scorer.tracks.height import LOGGER_ABOVE_GROUND_M

CRS = "EPSG:25830"
DAY = date(2026, 9, 12)
START_S = datetime(2026, 9, 12, 6, 0, tzinfo=UTC).timestamp()
CENTRE = (400_000.0, 4_600_000.0)
PLANE = Plane(CRS)


def degrees(east_m, north_m):
    """(lon_deg, lat_deg) of a point given from the centre of our world."""
    lat, lon = PLANE.to_wgs84(CENTRE[0] + east_m, CENTRE[1] + north_m)
    return float(lon), float(lat)


def square(name, kind, half_m, *, at=(0.0, 0.0), **more):
    """A square place; corners of the plane, so its sides are straight lines."""
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)]
    ring = tuple(degrees(at[0] + half_m * a, at[1] + half_m * b) for a, b in corners)
    return Place(name=name, kind=kind, rings=(ring,), **more)


def spot(name, kind, at=(0.0, 0.0)):
    return Place(name=name, kind=kind, rings=((degrees(*at),),))


PLACES = (
    spot("centre", place_kinds.TARGET),
    square("field", place_kinds.BOUNDARY, 4000.0),
    square("scoring area", place_kinds.SCORING_AREA, 150.0),
    square("meadow", place_kinds.LAUNCH_AREA, 500.0, at=(-6000.0, 0.0)),
    square(
        "town",
        place_kinds.PROHIBITED,
        300.0,
        at=(-2000.0, 0.0),
        lower_m=0.0,
        upper_m=900.0,
    ),
)


def site(places=PLACES):
    book = RuleBook(name="test")
    event = Event(
        name="Test", crs=CRS, ground_elevation_m=640.0, book=book, places=places
    )
    made = Site.of(event)
    # A side of GeoJSON is straight on the map of degrees, and bends by a metre in the
    # plane; for numbers done by hand the corners are joined straight in the plane.
    corners = {p.name: p.rings[0] for p in places if not p.is_point}
    areas = {name: _straight(ring) for name, ring in corners.items()}
    return replace(made, areas=areas)


def _straight(ring):
    lon, lat = np.array(ring).T
    east, north = PLANE.to_plane(lat, lon)
    return Polygon(np.round(np.c_[east, north], 3))


SITE = site()


def about(book=None, **changes):
    """The circumstances of a fly-in to the centre, with parts put in."""
    task = changes.pop("task", None) or Task(
        number=1,
        flight="1",
        kind="FIN",
        targets=("centre",),
        scoring_areas=("scoring area",),
    )
    given = {"task": task, "site": SITE, "date": DAY, **changes}
    return Circumstances(book=book or RuleBook(name="test"), **given)


def track(
    time_s,
    east_m,
    height_m,
    *,
    north_m=0.0,
    sigma_m=0.7,
    launch=None,
    landing=None,
    anchored=True,
    ground_m=640.0,
    **changes,
):
    """A track from what is known of it; places count from the centre.

    `height_m` is the basket's; the logger rides above it.
    """
    time = np.asarray(time_s, dtype=float)
    east, north, height, ground = (
        np.broadcast_to(np.asarray(v, dtype=float), time.shape).copy()
        for v in (east_m, north_m, height_m, ground_m)
    )
    lat, lon = PLANE.to_wgs84(CENTRE[0] + east, CENTRE[1] + north)
    fields = {
        "pilot": 7,
        "log": "logs/007.igc",
        "sha256": "ab" * 32,
        "time_s": START_S + time,
        "lat_deg": lat,
        "lon_deg": lon,
        "east_m": CENTRE[0] + east,
        "north_m": CENTRE[1] + north,
        "ground_m": ground,
        "height_m": height + LOGGER_ABOVE_GROUND_M,
        "height_sigma_m": np.broadcast_to(
            np.asarray(sigma_m, dtype=float), time.shape
        ).copy(),
        "altitude_m": ground + height + LOGGER_ABOVE_GROUND_M,
        "climb_m_s": np.gradient(height, time) if len(time) > 1 else 0.0 * time,
        "launch": launch,
        "landing": landing,
        "anchored": anchored,
        "accuracy_m": np.full(time.shape, 2.0),
    }
    return Flown(**{**fields, **changes})


def flight(knots, *, step_s=1.0, speed_m_s=5.0, east_m=-5000.0, stand_s=60.0, **more):
    """A flight due east at an even speed through (seconds after launch, height) knots.

    Stands for `stand_s` before launch at `east_m` and after the last knot, which must
    be on the ground.
    """
    at, high = np.array(knots, dtype=float).T
    time = np.arange(0.0, stand_s * 2 + at[-1] + step_s / 2, step_s)
    since = np.clip(time - stand_s, 0.0, at[-1])
    height = np.interp(since, at, high)
    launch = int(np.searchsorted(time, stand_s, "right"))
    landing = int(np.searchsorted(time, stand_s + at[-1]))
    return track(
        time,
        east_m + speed_m_s * since,
        height,
        launch=launch,
        landing=landing,
        **more,
    )
