"""A site: places, areas, elevations and true lengths of one event."""

import pickle
from itertools import pairwise

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from pyproj import Transformer
from shapely import Point, Polygon

from scorer.errors import InputError
from scorer.event import matters, place_kinds
from scorer.event.model import DistanceKind, North, Origin
from scorer.facts import fact, length, several, words
from scorer.facts import place as named
from scorer.geodesy.areas import STRAY_M, project_ring
from scorer.geodesy.plane import Plane
from scorer.geodesy.site import Site
from tests.helpers import said
from tests.scorer.geodesy.grids import blob, geotiff, hills
from tests.scorer.geodesy.meadow import CENTRE, PLANE, SQUARE, event, place, site

AREA = place_kinds.SCORING_AREA
TERRAIN = blob("terrain.tif", geotiff(hills(), west=-1.75, north=42.2))


def test_points_land_where_the_projection_puts_them():
    made = Site.of(event())

    assert made.point("centre") == CENTRE
    assert made.spot("centre").name == "centre"


def test_a_place_s_elevation_is_its_own_else_terrain_s_else_the_event_s():
    places = (
        place("own", elevation_m=612.5),
        place("on the grid"),
        place("off the grid", rings=(((2.0, 42.0),),)),
    )

    made = Site.of(event(*places, terrain=TERRAIN))

    assert made.elevation_m("own") == 612.5
    wanted = float(made.ground.terrain.elevation_m(42.0, -1.5))
    assert made.elevation_m("on the grid") == wanted
    assert made.elevation_m("off the grid") == 640
    assert Site.of(event(ground_elevation_m=None)).elevation_m("centre") is None


def test_ground_distance_is_the_geodesic_raised_to_the_mean_elevation():
    """GeographicLib's distance times (1 + h / R), R for that azimuth from its radii."""
    places = (
        place("a", elevation_m=600.0),
        place("b", rings=(((-1.48, 42.01),),), elevation_m=700.0),
    )
    made = Site.of(event(*places))

    got = made.distance_m("a", "b")

    line = Geodesic.WGS84.Inverse(42.0, -1.5, 42.01, -1.48)
    radius = 6_378_000  # of the ellipsoid hereabouts, within 20 km
    wanted = line["s12"] * (1 + 650 / radius)
    assert got == pytest.approx(wanted, abs=0.001)
    assert made.distance_m("b", "a") == pytest.approx(got, abs=1e-6)


@pytest.mark.parametrize("kind", list(DistanceKind))
def test_distances_are_of_the_event_s_kind(kind):
    made = Site.of(event(distance=kind))
    end = made.offset("centre", 33.0, 500.0)

    assert made.distance_m("centre", end) == pytest.approx(500.0, abs=1e-7)
    grid = np.hypot(end[0] - CENTRE[0], end[1] - CENTRE[1])
    if kind is DistanceKind.GRID:
        assert grid == pytest.approx(500.0, abs=1e-7)
    else:
        assert grid < 499.9


def test_offset_and_distance_undo_each_other_on_a_slope():
    made = Site.of(event(terrain=TERRAIN))

    for bearing in range(0, 360, 30):
        end = made.offset("centre", bearing, 2000.0)
        assert made.distance_m("centre", end) == pytest.approx(2000.0, abs=1e-6)
        turn = made.bearing_deg("centre", end) - bearing
        assert (turn + 180) % 360 - 180 == pytest.approx(0, abs=1e-7)


def test_a_whole_track_is_measured_at_once():
    made = Site.of(event(terrain=TERRAIN))
    east = CENTRE[0] + np.array([0.0, 300.0, np.nan])
    north = CENTRE[1] + np.array([0.0, 400.0, 0.0])

    together = made.distance_m((east, north), "centre")

    assert together[0] == 0
    alone = made.distance_m((float(east[1]), float(north[1])), "centre")
    assert together[1] == alone
    assert np.isnan(together[2])


def test_areas_keep_points_in_and_out():
    made = Site.of(event(place("field", AREA, (SQUARE,))))
    inside, outside = PLANE.to_plane(42.0, -1.5), PLANE.to_plane(42.02, -1.5)

    assert made.area("field").covers(Point(inside))
    answers = made.inside(
        "field",
        (
            np.array([inside[0], outside[0], np.nan]),
            np.array([inside[1], outside[1], 0.0]),
        ),
    )
    assert answers.tolist() == [True, False, False]


def test_holes_stay_holes():
    hole = tuple((-1.5 + (x + 1.5) / 2, 42 + (y - 42) / 2) for x, y in SQUARE)
    made = Site.of(event(place("ring", AREA, (SQUARE, hole))))

    assert not made.inside("ring", PLANE.to_plane(42.0, -1.5))
    assert made.inside("ring", PLANE.to_plane(42.008, -1.5))


@pytest.mark.parametrize("lat", [42.0, 65.0])
def test_edges_straight_in_longitude_and_latitude_stay_so_within_a_centimetre(lat):
    """RFC 7946 section 3.1.1; checked at a thousand places along a 20 km edge."""
    plane = Plane("EPSG:25830")
    ring = np.array([[-1.7, lat], [-1.4, lat + 0.02], [-1.5, lat + 0.2], [-1.7, lat]])

    projected = project_ring(ring, plane)

    outline = Polygon(projected).exterior
    share = np.linspace(0, 1, 1001)[:, None]
    worst = 0.0
    for a, b in pairwise(ring):
        edge = a + (b - a) * share
        east, north = plane.to_plane(edge[:, 1], edge[:, 0])
        worst = max(
            worst, *(outline.distance(Point(p)) for p in zip(east, north, strict=True))
        )
    assert worst < 2 * STRAY_M
    straight = Polygon(np.column_stack(plane.to_plane(ring[:, 1], ring[:, 0])))
    assert straight.symmetric_difference(Polygon(projected)).area > 1000


def test_short_edges_get_no_more_corners():
    ring = np.array(SQUARE)

    assert len(project_ring(ring[:, :], PLANE)) < 60
    small = (ring - ring.mean(axis=0)) / 50 + ring.mean(axis=0)
    assert len(project_ring(small, PLANE)) == 5


@pytest.mark.parametrize(
    ("rings", "said"),
    [
        (
            (((-1.5, 42), (-1.4, 42.1), (-1.4, 42), (-1.5, 42.1)),),
            "self-intersection near",
        ),
        ((((-1.5, 42), (-1.4, 42.1)),), "fewer than three corners"),
        ((((-1.5, 42), (-1.4, 95), (-1.4, 42)),), "latitude beyond 90"),
    ],
)
def test_an_outline_that_is_no_area_is_refused_with_where_it_stands(rings, said):
    bad = place("bad", AREA, rings, origin=Origin(where="places.geojson", line=12))
    worse = place("worse", AREA, rings)

    with pytest.raises(InputError, match=said) as caught:
        Site.of(event(bad, place("fine", AREA, (SQUARE,)), worse))

    assert len(caught.value.faults) == 2
    assert caught.value.faults[0].line == 12
    assert "bad" in caught.value.faults[0].field


def test_unknown_names_come_with_the_nearest_and_areas_are_told_from_points():
    made = Site.of(
        event(place("centre", place_kinds.TARGET), place("field", AREA, (SQUARE,)))
    )

    with pytest.raises(InputError, match='Did you mean "centre"'):
        made.point("center")
    with pytest.raises(InputError, match="which is no point"):
        made.point("field")
    with pytest.raises(InputError, match="which is no area"):
        made.area("centre")


def test_a_site_travels_and_gives_the_same_bytes():
    made = Site.of(
        event(place("centre"), place("field", AREA, (SQUARE,)), terrain=TERRAIN)
    )

    again = pickle.loads(pickle.dumps(made))

    assert again.distance_m("centre", (CENTRE[0] + 500, CENTRE[1])) == made.distance_m(
        "centre", (CENTRE[0] + 500, CENTRE[1])
    )
    assert again.inside("field", CENTRE)
    assert pickle.dumps(Site.of(event())) == pickle.dumps(Site.of(event()))


@pytest.mark.parametrize(
    ("setting", "degrees"),
    [(1.5, 1.5), (-0.8, -0.8), ("0.8 W", -0.8), ("2° E", 2.0), (0, 0.0), (None, None)],
)
def test_the_declination_is_read_as_people_write_it(setting, degrees):
    assert Site.of(event(extra={"declination": setting})).declination_deg == degrees


@pytest.mark.parametrize("setting", ["east", "200", True, "1.5 N", "-1.5 W"])
def test_a_declination_that_makes_no_sense_is_refused(setting):
    with pytest.raises(InputError, match=r"event\.declination"):
        Site.of(event(extra={"declination": setting}))


def test_a_magnetic_bearing_without_declination_says_how_to_give_it():
    made = site()

    with pytest.raises(InputError, match=r"declination.*east positive"):
        made.grid_bearing_deg("centre", 90.0, North.MAGNETIC, 50.0)


def test_bearings_from_all_three_norths_meet():
    """True = magnetic + declination (east positive); grid = true - convergence."""
    made = site(declination_deg=1.2)
    turn = float(PLANE.convergence_deg(*CENTRE))

    grid = made.grid_bearing_deg("centre", 90.0, North.GRID, 50.0)
    true = made.grid_bearing_deg("centre", 90.0 + turn, North.TRUE, 50.0)
    magnetic = made.grid_bearing_deg("centre", 90.0 + turn - 1.2, North.MAGNETIC, 50.0)

    assert grid == 90
    assert true == pytest.approx(90, abs=1e-4)
    assert magnetic == pytest.approx(true, abs=1e-9)


def test_survey_sigmas_of_the_event_are_taken_over():
    made = Site.of(event(extra={"survey": {"tape": "2 cm", "bearing": 0.5}}))

    assert made.sigmas.tape_m == 0.02
    assert made.sigmas.bearing_deg == 0.5


def test_cautions_name_what_may_mislead():
    quiet = Site.of(event())
    loud = Site.of(
        event(
            place("far", rings=(((9.0, 42.0),),)),
            ground_elevation_m=None,
            crs="EPSG:27700",
        )
    )

    assert quiet.cautions == ()
    by_kind = {w.says.kind: w.says for w in loud.cautions}
    (apart,) = [w for kind, w in by_kind.items() if kind.startswith("datums-apart")]
    assert apart["system"] == words(loud.plane.title)
    assert "may disagree by" in said(apart)
    assert by_kind["outside-the-systems-area"].get("places") == (named("far"),)
    assert by_kind["no-elevation"]["short"] == length(0.16)
    assert "far" in said(by_kind["outside-the-systems-area"])


def test_the_caution_about_sea_level_states_the_right_size():
    """0.16 m in a kilometre for 1,000 m: 1000 x 1000 / 6,371,000."""
    high = Site.of(event(ground_elevation_m=1000.0))
    low = Site.of(event(ground_elevation_m=None))
    end = low.offset("centre", 45.0, 1000.0)

    assert high.distance_m("centre", end) - 1000 == pytest.approx(0.157, abs=0.002)


def test_points_agree_with_a_transformer_of_pyproj_s_own():
    wanted = Transformer.from_crs("EPSG:4326", "EPSG:25830").transform(42.0, -1.5)

    assert Site.of(event()).point("centre") == pytest.approx(wanted, abs=1e-9)


def test_a_terrain_grid_in_feet_is_found_out_by_the_event_s_own_elevation():
    feet = blob("dem.tif", geotiff(hills() * 3.28084, west=-1.75, north=42.2))

    (told,) = Site.of(event(terrain=feet)).cautions

    assert told.says.kind == "terrain-in-feet"
    ratio = told.says.get("grid") / told.says.get("written")
    assert ratio == pytest.approx(3.28, abs=0.7)
    assert told.kind is matters.RULES
    assert Site.of(event(terrain=TERRAIN)).cautions == ()


def test_a_terrain_grid_of_elsewhere_is_found_out():
    high = blob("dem.tif", geotiff(hills() + 900, west=-1.75, north=42.2))

    (told,) = Site.of(event(terrain=high)).cautions

    assert told.says.kind == "terrain-elsewhere"
    assert told.says.get("grid") - told.says.get("written") > 750


def test_places_that_the_terrain_does_not_cover_are_named():
    wide = tuple((lon - 0.5 * (lon < -1.5), lat) for lon, lat in SQUARE)
    places = place("centre"), place("field", AREA, (wide,))

    (told,) = Site.of(event(*places, terrain=TERRAIN)).cautions

    assert told.says == fact("terrain-does-not-cover", places=several([named("field")]))
    assert told.kind is matters.TERRAIN
