"""Each setting that cannot stand is told with its key and what may stand there."""

import copy
import tomllib

import pytest

from scorer.event.build import build
from scorer.event.raw import RawEvent, RawFlight, RawRow

SQUARE = [[-3.51, 40.1], [-3.49, 40.1], [-3.49, 40.12], [-3.51, 40.12], [-3.51, 40.1]]
EVENT = tomllib.loads("""
format = 1
[event]
name = "Cup"
time_zone = "Europe/Madrid"
crs = "EPSG:25830"
[rules]
book = "gas-race"
""")
FLIGHT = tomllib.loads("""
date = 2026-09-12
[[task]]
number = 1
kind = "FIN"
target = "centre"
scoring_area = "ring"
launch_period = ["06:45", "07:30"]
""")


def place(name, kind, geometry, **properties):
    return {
        "properties": {"name": name, "kind": kind, **properties},
        "geometry": geometry,
    }


POINT = {"type": "Point", "coordinates": [-3.5, 40.11]}
AREA = {"type": "Polygon", "coordinates": [SQUARE]}
PLACES = (place("centre", "target", POINT), place("ring", "scoring-area", AREA))


def faults(settings=EVENT, flight=FLIGHT, places=PLACES):
    raw = RawEvent(
        settings=settings,
        pilots=(RawRow(fields={"number": "1", "name": "Ann"}),),
        places=tuple(places),
        flights=(RawFlight(id="f1", settings=flight),),
    )
    return [str(fault) for fault in build(raw)[1]]


def changed(tree, path, value):
    tree = copy.deepcopy(tree)
    inside = tree
    for key in path[:-1]:
        inside = inside[key]
    inside[path[-1]] = value
    return tree


def test_the_unchanged_settings_have_no_fault():
    assert faults() == []


@pytest.mark.parametrize(
    ("path", "value", "part"),
    [
        (("format",), 2, "format = 1"),
        (("event",), "Cup", "a table [event]"),
        (("event", "name"), 7, "text in quotes"),
        (("event", "name"), " ", "text in quotes"),
        (("event", "time_zone"), "Europe/Madird", "an IANA name"),
        (("event", "time_zone"), "../../etc/passwd", "an IANA name"),
        (("event", "crs"), 25830, "text in quotes"),
        (("event", "units"), "feet", "one of metric, imperial"),
        (("event", "distance"), 3, "one of ground, grid, ellipsoid"),
        (("event", "ground_elevation"), 640, "text in quotes with its unit"),
        (("event", "ground_elevation"), "640", "unit must be written"),
        (("event", "vneue"), "x", 'Did you mean "venue"?'),
        (("rules",), [], "a table [rules]"),
        (("rules", "book"), "gas_race", 'Did you mean "gas-race"?'),
        (("rules", "floor"), {"within": "feild"}, "rules.floor.within"),
        (("rules", "floor"), {"within": "centre"}, "a place of kind boundary"),
        (("rules", "launch"), {"area": "ring"}, "a place of kind launch-area"),
        (("rulse",), {}, 'Did you mean "rules"?'),
    ],
)
def test_a_wrong_setting_of_the_event_is_told(path, value, part):
    found = faults(settings=changed(EVENT, path, value))

    assert any(part in fault for fault in found), found


@pytest.mark.parametrize(
    ("path", "value", "part"),
    [
        (("date",), "12.9.2026", "a date such as 2026-09-12"),
        (("date",), 20260912, "a date such as 2026-09-12"),
        (("qnh_hpa",), 29.92, "a number from 870 to 1085"),
        (("qnh_hpa",), "1021", "a number from 870 to 1085"),
        (("temperature_c",), True, "a number from -60 to 60"),
        (("tasks",), [], 'Did you mean "task"?'),
        (("task",), {"number": 1}, "[[task]] tables"),
        (("task", 0, "number"), 0, "a whole number from 1 up"),
        (("task", 0, "number"), "1", "a whole number from 1 up"),
        (("task", 0, "kind"), "FLY", "one of PDG"),
        (("task", 0, "state"), "done", "one of planned, flown, cancelled"),
        (("task", 0, "target"), "center", 'Did you mean "centre"?'),
        (("task", 0, "target"), "ring", "a point (target, goal, reference)"),
        (("task", 0, "target"), 5, "a place name, a list of names"),
        (("task", 0, "targets"), ["centre", 5], "a place name, a list of names"),
        (("task", 0, "targets"), {"A": "nowhere"}, "one of centre"),
        (("task", 0, "scoring_area"), "centre", "an area (polygon)"),
        (("task", 0, "scoring_areas"), "ring", "a list of names"),
        (("task", 0, "launch_period"), "06:45", "two local times"),
        (("task", 0, "launch_period"), ["07:30", "06:45"], "two local times"),
        (("task", 0, "launch_period"), ["25:00", "26:00"], "two local times"),
        (("task", 0, "measuring_radius"), "100", "unit must be written"),
        (("task", 0, "rules"), {"flor": {}}, 'Did you mean "floor"?'),
        (("task", 0, "rules"), {"floor": {"height": "high"}}, "a length"),
        (("task", 0, "rules"), {"floor": {"within": "ring"}}, "kind boundary"),
    ],
)
def test_a_wrong_setting_of_a_flight_is_told(path, value, part):
    flight = changed(FLIGHT, path, value)
    if path[-1] == "scoring_areas":
        del flight["task"][0]["scoring_area"]

    found = faults(flight=flight)

    assert any(part in fault for fault in found), found


@pytest.mark.parametrize(
    ("feature", "part"),
    [
        ("x", "a unique name"),
        ({"properties": None, "geometry": POINT}, "a unique name"),
        (place("", "target", POINT), "a unique name"),
        (place("x", "targte", POINT), 'Did you mean "target"?'),
        (place("x", "target", None), "Point for kind target"),
        (place("x", "target", {"type": "MultiPoint"}), "Point for kind target"),
        (
            place("x", "target", {"type": "Point", "coordinates": "x"}),
            "longitude first",
        ),
        (
            place("x", "target", {"type": "Point", "coordinates": [1]}),
            "longitude first",
        ),
        (place("x", "target", POINT, elevation_m="640"), "metres as a number"),
        (place("x", "prohibited", AREA, lower_m=900, upper_m=300), "more than lower_m"),
        (
            place("x", "boundary", {"type": "Polygon", "coordinates": []}),
            "list of rings",
        ),
        (
            place("x", "boundary", {"type": "Polygon", "coordinates": [[]]}),
            "four positions",
        ),
        (
            place("x", "boundary", {"type": "Polygon", "coordinates": [SQUARE[:4]]}),
            "the last the same as the first",
        ),
        (
            place(
                "x",
                "boundary",
                {"type": "Polygon", "coordinates": [[[1, 2, 3, 4]] * 5]},
            ),
            "longitude first",
        ),
        (place("centre", "goal", POINT), "each name once"),
    ],
)
def test_a_wrong_place_is_told(feature, part):
    found = faults(places=(*PLACES, feature))

    assert any(part in fault for fault in found), found


def test_a_third_coordinate_is_let_pass():
    point = {"type": "Point", "coordinates": [-3.5, 40.11, 655.0]}

    assert faults(places=(place("centre", "target", point), PLACES[1])) == []


def test_an_elevation_below_the_sea_is_read():
    assert faults(changed(EVENT, ("event", "ground_elevation"), "-3 m")) == []
