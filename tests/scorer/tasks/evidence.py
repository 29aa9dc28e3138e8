"""Evidence made by hand for the tests of task kinds.

A flat site: grid distances in UTM zone 30, so numbers can be checked by Pythagoras.  Points
are written as (east, north) from the corner CORNER, metres; times as seconds after START.
"""

from datetime import UTC, date, datetime

import numpy as np
from shapely import Polygon, box

from scorer.event import place_kinds
from scorer.event.model import (
    Declaration,
    DistanceKind,
    Keying,
    Method,
    Period,
    Place,
    Task,
)
from scorer.event.rulebook import RuleBook
from scorer.facts import parts
from scorer.geodesy.mark import Mark
from scorer.geodesy.placed import Spot
from scorer.geodesy.plane import Plane
from scorer.geodesy.precision import axes_covariance
from scorer.geodesy.site import Site
from scorer.tasks.base import Evidence
from scorer.tasks.measure import measure
from scorer.tracks.flown import Flown
from tests.helpers import lines

CRS = "EPSG:25830"
CORNER = (440_000.0, 4_470_000.0)
DAY = date(2026, 9, 12)
START = datetime(2026, 9, 12, 6, 0, tzinfo=UTC).timestamp()
BOOK = RuleBook(name="test")


def at(point):
    """Return a point of the plane."""
    return (CORNER[0] + point[0], CORNER[1] + point[1])


def area(*corners):
    """Return a polygon; two corners are those of a box."""
    if len(corners) == 2:
        return box(*at(corners[0]), *at(corners[1]))
    return Polygon([at(corner) for corner in corners])


def make_site(spots=None, areas=None, kind=DistanceKind.GRID, **more):
    """Return a site of points by name, (east, north) or (east, north, elevation)."""
    made = {
        name: Spot(name=name, point=at(p[:2]), elevation_m=p[2] if len(p) > 2 else None)
        for name, p in (spots or {}).items()
    }
    shapes = {
        name: a if isinstance(a, Polygon) else area(*a)
        for name, a in (areas or {}).items()
    }
    return Site(plane=Plane(CRS), distance_kind=kind, spots=made, areas=shapes, **more)


def make_mark(point, sigma=0.0, method=Method.GRID, label="", **more):
    """Return a mark of known place; `sigma` of each axis."""
    return Mark(
        point=at(point),
        distance_m=more.pop("distance_m", None),
        sigma_m=more.pop("sigma_m", None),
        covariance=axes_covariance(0.0, sigma, sigma),
        method=method,
        label=label,
        **more,
    )


def taped(distance, sigma=0.02):
    """Return a mark of which the distance alone is known."""
    return Mark(point=None, distance_m=distance, sigma_m=sigma, method=Method.TAPE)


def make_keying(role="", method=Method.GRID, time=None, **more):
    """Return the keying of a mark."""
    return Keying(
        task=1,
        pilot=7,
        method=method,
        mark=role,
        time_s=None if time is None else START + time,
        **more,
    )


def make_flown(fixes, *, launch=0, landing=None, accuracy=1.0, marks=()):
    """Return a track of (seconds, east, north[, altitude]) rows over flat ground at 0."""
    rows = np.array([(*f, 0.0)[:4] for f in fixes], dtype=float)
    east, north = rows[:, 1] + CORNER[0], rows[:, 2] + CORNER[1]
    lat, lon = Plane(CRS).to_wgs84(east, north)
    count = len(rows)
    return Flown(
        pilot=7,
        log="logs/007.igc",
        sha256="ab",
        time_s=rows[:, 0] + START,
        lat_deg=lat,
        lon_deg=lon,
        east_m=east,
        north_m=north,
        ground_m=np.zeros(count),
        height_m=rows[:, 3].copy(),
        height_sigma_m=np.full(count, 1.0),
        altitude_m=rows[:, 3].copy(),
        climb_m_s=np.zeros(count),
        launch=launch,
        landing=landing,
        anchored=True,
        accuracy_m=np.full(count, accuracy),
        marks=tuple(marks),
    )


def period(start, end):
    """Return a period in seconds after START."""
    return Period(start_s=START + start, end_s=START + end)


def declare(goal, **more):
    """Return a declaration; `time` in seconds after START."""
    time = more.pop("time", None)
    return Declaration(
        task=1,
        pilot=7,
        goal=goal,
        time_s=None if time is None else START + time,
        **more,
    )


def make_place(name, kind=place_kinds.GOAL, **more):
    """Return a place of the event; the geometry is the site's business."""
    ring = ((-3.7, 40.38),)
    return Place(name=name, kind=kind, rings=(ring,), **more)


def make_task(kind, **more):
    """Return task 1 of flight `am`."""
    return Task(number=1, flight="am", kind=kind, **more)


def make_evidence(kind, *, site, marks=None, book=BOOK, settings=None, **more):
    """Return evidence; `marks` by role, a mark, or a point for an exact one."""
    own = ("targets", "roles", "scoring_areas", "launch_period", "scoring_period")
    own += ("measuring_radius_m", "state")
    task = {key: more.pop(key) for key in own if key in more}
    made = {
        role: m if isinstance(m, Mark) else make_mark(m, label=role)
        for role, m in (marks or {}).items()
    }
    return Evidence(
        task=make_task(kind, settings=settings or {}, **task),
        book=book,
        site=site,
        pilot=7,
        day=DAY,
        time_zone="UTC",
        marks=made,
        **more,
    )


def result(kind, **more):
    """Measure evidence made by `make_evidence`; all that it states can be said."""
    got = measure(make_evidence(kind, **more))
    assert all(spoken(got))
    return got


def spoken(got, voice=None):
    """Say all that a measurement states, a sentence each."""
    reason = [] if got.reason is None else [got.reason]
    return lines([*got.steps, *got.matters, *got.findings, *reason], voice)


def stated(where, kind):
    """Return the fact of a kind in what a measurement, matters, or one fact state."""
    if hasattr(where, "matters"):
        where = [*where.matters]
    facts = [
        getattr(w, "says", w)
        for w in (where if isinstance(where, list | tuple) else [where])
    ]
    found = [part for whole in facts if whole for part in parts(whole)]
    kinds = [part.kind for part in found]
    assert kind in kinds, kinds
    return found[kinds.index(kind)]
