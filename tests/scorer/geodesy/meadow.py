"""An invented field for tests: a target, two posts, areas, flat ground at 640 m."""

from scorer.event import place_kinds
from scorer.event.model import DistanceKind, Event, Keying, Place
from scorer.event.rulebook import RuleBook
from scorer.geodesy.plane import Plane
from scorer.geodesy.site import Site
from scorer.geodesy.terrain import Ground

PLANE = Plane("EPSG:25830")
CENTRE = PLANE.to_plane(42.0, -1.5)
SQUARE = (
    (-1.51, 41.99),
    (-1.49, 41.99),
    (-1.49, 42.01),
    (-1.51, 42.01),
    (-1.51, 41.99),
)


def place(name, kind=place_kinds.REFERENCE, rings=None, **more):
    return Place(name=name, kind=kind, rings=rings or (((-1.5, 42.0),),), **more)


def event(*places, **more):
    return Event(
        name="Meadow",
        **{
            "crs": "EPSG:25830",
            "ground_elevation_m": 640.0,
            "book": RuleBook(name="test"),
            "places": places or (place("centre", place_kinds.TARGET),),
            **more,
        },
    )


def site(kind=DistanceKind.GROUND, **more):
    """Target `centre`, `east post` and `north post` 100 m off by the event's kind."""
    bare = Site(plane=PLANE, ground=Ground(None, 640.0), distance_kind=kind)
    spots = {"centre": bare.spot_at(CENTRE, name="centre")}
    for name, bearing in (("east post", 90.0), ("north post", 0.0)):
        point = bare.offset(spots["centre"], bearing, 100.0)
        spots[name] = bare.spot_at(point, name=name)
    return Site(
        plane=PLANE,
        ground=Ground(None, 640.0),
        distance_kind=kind,
        spots=spots,
        **more,
    )


def keying(method, **fields):
    return Keying(task=1, pilot=7, method=method, **fields)
