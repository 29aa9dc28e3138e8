"""Small whole events, built as a folder would be: a flat plane, a target, four pilots."""

import csv
import io
import tomllib

from pyproj import Transformer

from scorer.event.build import build_event
from scorer.event.model import Origin
from scorer.event.raw import RawEvent, RawFlight, RawRow

CRS = "EPSG:25830"
EAST, NORTH = 500_000.0, 4_500_000.0
_TO_WGS84 = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True)
PILOTS = """number,name,class,country,team
1,Ann,AX-7,AA,red
2,Bob,AX-8,BB,red
3,Cid,AX-7,AA,blue
4,Dot,AX-8,BB,blue
"""
RULES = """book = "festival"
contact.within = "scoring-area"
floor.height = "none"
floor.within = "none"
publication.complaint_time = "1 h"
"""
FIN = """[[task]]
number = 1
kind = "FIN"
target = "T"
scoring_area = "area"
"""


def wgs84(east, north):
    """Return [lon, lat] of a point given from the target, metres."""
    return list(_TO_WGS84.transform(EAST + east, NORTH + north))


def place(name, kind, *corners):
    """Make a GeoJSON feature of points given from the target, metres."""
    ring = [wgs84(*corner) for corner in corners]
    area = len(ring) > 1
    geometry = {
        "type": "Polygon" if area else "Point",
        "coordinates": [[*ring, ring[0]]] if area else ring[0],
    }
    properties = {"name": name, "kind": kind}
    return {"type": "Feature", "properties": properties, "geometry": geometry}


PLACES = (
    place("T", "target", (0, 0)),
    place("P", "reference", (100, 0)),
    place("Q", "reference", (0, 100)),
    place("R", "reference", (100, 100)),
    place("G", "goal", (2000, 0)),
    place("area", "scoring-area", (-500, -500), (500, -500), (500, 500), (-500, 500)),
)


def rows(text, where="marks.csv"):
    """Read CSV text as a folder's reader would."""
    read = csv.DictReader(io.StringIO(text))
    return tuple(
        RawRow(fields=fields, origin=Origin(where=where, line=line))
        for line, fields in enumerate(read, start=2)
    )


def tiny_flight(name="f1", *, tasks=FIN, marks="", day="2026-06-01", **tables):
    """Make one flight; `tables` are declarations, reports, rulings as CSV text."""
    settings = {**tomllib.loads(f"date = {day}\n{tasks}")}
    read = {key: rows(text, f"{key}.csv") for key, text in tables.items()}
    return RawFlight(id=name, settings=settings, marks=rows(marks), **read)


def tiny_raw(
    *flights, rules=RULES, units="metric", pilots=PILOTS, name="Tiny", **event
):
    """Make an event as entered."""
    own = {
        "name": name,
        "time_zone": "UTC",
        "crs": CRS,
        "units": units,
        "distance": "grid",
        "ground_elevation": "0 m",
        **event,
    }
    settings = {"format": 1, "event": own, "rules": tomllib.loads(rules)}
    return RawEvent(
        settings=settings,
        pilots=rows(pilots, "pilots.csv"),
        places=PLACES,
        flights=flights,
    )


def tiny(*flights, **changes):
    """Make an event."""
    return build_event(tiny_raw(*flights, **changes))
