"""Maps and profiles: distances against geodesics, lines against the numbers they show."""

import re
from dataclasses import replace
from importlib.resources import files
from xml.etree import ElementTree as ET

import numpy as np
import pytest
import shapely
from pyproj import Geod
from shapely import LineString, Point

from scorer.checks.airspace import AIRSPACE
from scorer.checks.contact import GROUND_CONTACT
from scorer.checks.launch import LAUNCH_DISTANCE
from scorer.event import place_kinds
from scorer.event.model import Place, Units
from scorer.scoring.results import FlightResult, WindLayer
from scorer.sheets import axes, maps, profiles, scene
from scorer.sheets.pictures import (
    Size,
    finding_heights,
    finding_map,
    finding_pace,
    finding_pictures,
    flight_map,
)
from scorer.sheets.scene_svg import standing_svg, svg
from scorer.sheets.sheet import Sheet
from scorer.sheets.winds import air_lines, hodograph
from scorer.tracks.air import Air
from scorer.words.voice import Voice
from tests.scorer.sheets import meet

SIZE = Size(width=200, height=150)


@pytest.fixture(scope="module")
def sheet(results, event, stamp):
    return Sheet(results=results, event=event, stamp=stamp)


@pytest.fixture(scope="module")
def found():
    return meet.FOUND[1][0]


def of(drawing, role):
    return [s for s in drawing.shapes if s.role == role]


def texts(drawing):
    return [s.text for s in drawing.shapes if isinstance(s, scene.Label)]


@pytest.mark.parametrize("lat", [-46.0, 0.0, 48.0, 67.0])
def test_map_distances_agree_with_geodesics_on_wgs84(lat):
    """Against pyproj.Geod; a sphere differs from the ellipsoid by up to 0.6 %."""
    a, b = (lat, 11.0), (lat + 0.02, 11.05)
    view = maps.framed([a, b], 200, 150)

    (x1, y1), (x2, y2) = view.point(*a), view.point(*b)

    _, _, geodesic_m = Geod(ellps="WGS84").inv(a[1], a[0], b[1], b[0])
    assert np.hypot(x2 - x1, y2 - y1) / view.scale == pytest.approx(
        geodesic_m, rel=0.006
    )


def test_a_map_across_180_degrees_shows_the_short_way():
    """0.02 degrees of longitude at 17 S are 2 129 m (WGS 84)."""
    ends = [(-17.0, 179.99), (-17.0, -179.99)]
    view = maps.framed(ends, 200, 150)
    (x, _), (further, _) = (view.point(*end) for end in ends)
    assert further > x
    assert (further - x) / view.scale == pytest.approx(2129, rel=0.005)
    ring = [(179.99, -17.0), (-179.99, -17.0), (-179.99, -16.99), (179.99, -17.0)]
    assert maps.outline((tuple(ring),)).area == pytest.approx(0.5 * 0.02 * 0.01)
    near, far = (
        Place(name=name, kind=place_kinds.TARGET, rings=(((lon, -17.0),),))
        for name, lon in (("near", -179.999), ("far", 179.98))
    )
    assert maps.nearest_of([far, near], [(-17.0, 179.999)]) == (near,)


def test_north_is_up_and_east_is_right():
    view = maps.framed([(48.0, 11.0), (48.1, 11.1)], 200, 150)
    x, y = view.point(48.05, 11.05)
    assert view.point(48.09, 11.05)[1] < y
    assert view.point(48.05, 11.09)[0] > x


def test_everything_in_focus_is_on_the_map_and_nothing_leaves_it(sheet, found, tracks):
    drawing = finding_map(sheet, found, tracks[meet.MORNING, 1], SIZE)
    (spot,) = of(drawing, "spot")
    assert 0 < spot.at[0] < SIZE.width
    assert 0 < spot.at[1] < SIZE.height
    assert "centre" in texts(drawing)
    for line in (s for s in drawing.shapes if isinstance(s, scene.Line)):
        left, top, right, below = scene.bounds(line.points)
        assert min(left, top) >= -0.01
        assert right <= SIZE.width + 0.01
        assert below <= SIZE.height + 0.01


def test_the_stretch_of_a_finding_is_drawn_on_the_track(sheet, found, tracks):
    flown = tracks[meet.MORNING, 1]
    drawing = finding_map(sheet, found, flown, SIZE)
    (red,) = of(drawing, "found")
    (spot,) = of(drawing, "spot")
    assert LineString(red.points).distance(Point(spot.at)) < 0.3


def test_the_scale_bar_has_the_length_it_names(sheet, found, tracks):
    drawing = finding_map(sheet, found, tracks[meet.MORNING, 1], SIZE)
    bar = next(s for s in of(drawing, "axis") if len(s.points) == 4)
    (text,) = [t for t in texts(drawing) if t.endswith((" m", " km"))]
    metres = float(text.split()[0]) * (1000 if text.endswith("km") else 1)
    a, b = meet.HOME, (meet.HOME[0], meet.HOME[1] + 0.01)
    track, spot = of(drawing, "target")[0].at, of(drawing, "spot")[0].at
    _, _, true_m = Geod(ellps="WGS84").inv(
        b[1] - 0.01, a[0], found.lon_deg, found.lat_deg
    )
    scale = np.hypot(track[0] - spot[0], track[1] - spot[1]) / true_m
    assert (bar.points[2][0] - bar.points[1][0]) / scale == pytest.approx(
        metres, rel=0.01
    )


def test_marks_are_drawn_around_the_nearest_target_with_rings(sheet, results):
    task = results.tasks[0]
    drawing = maps.marks_map(sheet, task, task.score_of(7), 200, 150)
    assert len(of(drawing, "mark")) == 1
    assert of(drawing, "ring")
    assert any(text.endswith(" m") for text in texts(drawing))
    assert maps.marks_map(sheet, task, task.score_of(21), 200, 150) is None


def test_imperial_drawings_name_feet(results, imperial_event, stamp, found, tracks):
    own = replace(results, voice=Voice.of(imperial_event))
    sheet = Sheet(results=own, event=imperial_event, stamp=stamp)
    flown = tracks[meet.MORNING, 1]
    assert any(
        t.endswith((" ft", " mi"))
        for t in texts(finding_map(sheet, found, flown, SIZE))
    )
    profile = finding_heights(sheet, found, flown, SIZE)
    assert "limit 75 ft" in texts(profile)
    assert any(t.startswith("ft above the ground") for t in texts(profile))


def test_the_limit_line_stands_where_the_height_equals_it(sheet, found, tracks):
    flown = tracks[meet.MORNING, 1]
    drawing = finding_heights(sheet, found, flown, SIZE)
    limit_y = next(s for s in of(drawing, "limit") if isinstance(s, scene.Line)).points[
        0
    ][1]
    (line,) = of(drawing, "height")
    x, y = np.array(line.points).T
    start, end = found.from_s - profiles.AROUND_S, found.to_s + profiles.AROUND_S
    span = SIZE.width - axes.LEFT - axes.RIGHT
    drawn_at = start + (x - axes.LEFT) / span * (end - start)
    under = np.interp(drawn_at, flown.time_s, flown.height_m) < found.limit
    clear = np.abs(y - limit_y) > 0.5  # points that are not on the line itself
    assert ((y > limit_y) == under)[clear].all()
    assert under.any()


def test_the_band_is_one_sigma_wide_and_holds_the_line(sheet, found, tracks):
    flown = tracks[meet.MORNING, 1]
    drawing = finding_heights(sheet, found, flown, SIZE)
    (band,), (line,) = of(drawing, "band"), of(drawing, "height")
    assert scene.bounds(band.points)[1] <= scene.bounds(line.points)[1]
    assert scene.bounds(band.points)[3] > scene.bounds(line.points)[3]


def test_nothing_is_drawn_across_a_pause_of_the_log(sheet, found):
    flown = meet.flown(1)
    keep = (flown.time_s < found.from_s) | (flown.time_s > found.from_s + 40)
    parts = {
        name: getattr(flown, name)[keep]
        for name in (
            *(
                "time_s",
                "lat_deg",
                "lon_deg",
                "east_m",
                "north_m",
                "ground_m",
                "height_m",
            ),
            *("height_sigma_m", "altitude_m", "climb_m_s", "accuracy_m"),
        )
    }
    broken = replace(flown, **parts, landing=None)
    assert len(of(finding_heights(sheet, found, broken, SIZE), "height")) == 2
    assert len(of(flight_map(sheet, broken, (), SIZE), "track")) == 2


def test_heights_not_recorded_are_not_drawn_as_zero(sheet, found):
    flown = meet.flown(1)
    height = flown.height_m.copy()
    height[:] = np.nan
    assert finding_heights(sheet, found, replace(flown, height_m=height), SIZE) is None


def test_ticks_are_round_and_inside():
    assert scene.ticks(0, 100, 4) == [0, 50, 100]
    assert scene.ticks(-10, 140, 4) == [0, 50, 100]
    assert scene.ticks(-3.6, 2.5, 3) == [-2, 0, 2]  # of steps of 5 only 0 is inside
    assert scene.nice_step(0.7, 6) == pytest.approx(0.2)
    assert scene.nice_step(9_000, 5) == 2_000


def test_svg_escapes_what_was_entered():
    label = scene.Label(at=(0, 0), text='<script>"&')
    drawing = scene.Scene(width=1, height=1, title="<b>", shapes=(label,))
    assert "<script>" not in svg(drawing)
    assert "&lt;script&gt;&quot;&amp;" in svg(drawing)
    assert 'aria-label="&lt;b&gt;"' in svg(drawing)


def test_a_picture_on_paper_has_the_colours_of_the_pages():
    drawing = scene.Scene(
        width=9,
        height=9,
        title="",
        shapes=(
            scene.Line(points=((0, 0), (9, 9)), role="limit"),
            scene.Label(at=(0, 9), text="limit", role="limit"),
            scene.Dot(at=(5, 5), radius=2, role="mark"),
        ),
    )
    line, label, dot = list(ET.fromstring(standing_svg(drawing)))[1:]
    look = (files("scorer.sheets") / "static" / "board.css").read_text("utf-8")
    red, mark = (re.search(rf"--{n}: (#\w+)", look)[1] for n in ("red", "mark"))
    assert (line.get("stroke"), line.get("fill")) == (red, "none")
    assert line.get("stroke-dasharray") == "4 2"
    assert (label.get("fill"), label.get("stroke")) == (red, None)
    assert dot.get("fill") == mark


def test_a_map_shows_only_the_areas_of_its_task_and_names_them(sheet, found, tracks):
    (task,) = sheet.tasks_of(found.task)
    bare = replace(task, scoring_areas=(), book=None)
    flights = tuple(
        replace(f, tasks=tuple(bare if t is task else t for t in f.tasks))
        for f in sheet.event.flights
    )
    without = replace(sheet, event=replace(sheet.event, flights=flights))
    flown = tracks[meet.MORNING, 1]
    assert of(finding_map(sheet, found, flown, SIZE), "scoring")
    assert "scoring area" in texts(finding_map(sheet, found, flown, SIZE))
    assert not of(finding_map(without, found, flown, SIZE), "scoring")


@pytest.mark.parametrize("size_deg", np.arange(0.0015, 0.004, 0.0002))
def test_the_name_of_an_area_keeps_clear_of_the_sign_within_it(event, size_deg):
    """A small scoring area about the target, as a map of the whole flight shows it."""
    target = event.places[0]
    lon, lat = target.rings[0][0]
    edge = tuple(
        (lon + size_deg * np.sin(turn), lat + size_deg * np.cos(turn))
        for turn in np.linspace(0, 2 * np.pi, 17)
    )
    area = replace(target, name="ring", kind=place_kinds.SCORING_AREA, rings=(edge,))
    far = tuple((lat + n, lon + n) for n in (-0.01, 0.01))
    wish = maps.MapWish(
        title="", width=527, height=150, focus=far, areas=(area,), targets=(target,)
    )
    drawn = maps.draw_map(wish)
    labels = [s for s in drawn.shapes if isinstance(s, scene.Label)]
    (cross,) = (s for s in drawn.shapes if isinstance(s, scene.Dot))
    named = next(one for one in labels if one.text.startswith("ring"))
    top, foot = named.at[1] - 0.7 * named.size, named.at[1]
    assert foot < cross.at[1] - cross.radius or top > cross.at[1] + cross.radius


@pytest.mark.parametrize(
    ("size", "rings"), [((527, 150), False), ((200, 150), True), ((125, 62), True)]
)
@pytest.mark.parametrize("moved_deg", [(2e-5, 1e-5), (4e-4, 2e-4), (3e-4, 9e-4)])
def test_no_words_of_a_map_lie_over_others_or_leave_it(event, size, rings, moved_deg):
    """A moved target stands near where it stood; a letter is half as wide as high here."""
    target = replace(event.places[0], name="North target")
    lon, lat = target.rings[0][0]
    moved = tuple(
        replace(
            target,
            name=f"North target 07:{n}2",
            rings=(((lon + n * moved_deg[1], lat + n * moved_deg[0]),),),
        )
        for n in (1, 2)
    )
    targets = (target, *moved)
    wish = maps.MapWish(
        title="",
        width=size[0],
        height=size[1],
        focus=tuple(maps.corners(targets)),
        areas=tuple(place for place in event.places if not place.is_point),
        targets=targets,
        rings=rings,
    )
    drawn = maps.draw_map(wish)
    boxes = []
    for one in drawn.shapes:
        if isinstance(one, scene.Label):
            long, (x, y) = 0.5 * one.size * len(one.text), one.at
            left = x - long * {"start": 0, "middle": 0.5, "end": 1}[one.anchor]
            boxes.append(shapely.box(left, y - 0.7 * one.size, left + long, y))
    assert len(boxes) >= 4
    assert not [b for b in boxes if b.bounds[0] < 0 or b.bounds[2] > size[0]]
    overlapping = shapely.STRtree(boxes).query(boxes, predicate="intersects")
    assert overlapping.shape[1] == len(boxes)  # each with itself


def test_the_limit_of_a_launch_is_a_circle_of_its_radius(sheet, found, tracks):
    lat, lon = meet.HOME
    launch = replace(
        found, kind=LAUNCH_DISTANCE, limit=500.0, lat_deg=lat + 0.002, lon_deg=lon
    )
    drawing = finding_map(sheet, launch, None, SIZE)
    centre = of(drawing, "target")[0].at
    lines = [s for s in of(drawing, "limit") if isinstance(s, scene.Line)]
    spot = of(drawing, "spot")[0].at
    _, _, away_m = Geod(ellps="WGS84").inv(lon, lat, lon, lat + 0.002)
    scale = np.hypot(spot[0] - centre[0], spot[1] - centre[1]) / away_m
    radii = [np.hypot(x - centre[0], y - centre[1]) for p in lines for x, y in p.points]
    assert radii == pytest.approx([500.0 * scale] * len(radii), rel=0.02)


def test_the_limit_of_a_launch_is_seen_and_named(sheet, found):
    """However near the launch was: the circle itself tells how near that is."""
    for share in (0.05, 0.9, 1.4):
        lat, lon = meet.HOME[0] - share * 1609.344 / 111_195, meet.HOME[1]
        launch = replace(
            found,
            kind=LAUNCH_DISTANCE,
            limit=1609.344,
            measured=share * 1609.344,
            lat_deg=lat,
            lon_deg=lon,
        )
        drawing = finding_map(sheet, launch, None, SIZE)
        circle, *_, named = of(drawing, "limit")
        assert max(y for _, y in circle.points) > SIZE.height / 2
        assert named.text.endswith(sheet.voice.distance(1609.344))


def test_the_arrow_to_the_north_keeps_clear_of_signs(sheet, found):
    """A place in the corner where the arrow stands else."""
    lat, lon = meet.HOME[0] + 0.004, meet.HOME[1] + 0.012
    for corner in ((lat, lon), (lat - 0.008, lon)):
        there = replace(found, lat_deg=corner[0], lon_deg=corner[1])
        drawing = finding_map(sheet, there, None, Size(width=200, height=100))
        (spot,) = of(drawing, "spot")
        (north,) = (one for one in drawing.shapes if getattr(one, "text", "") == "N")
        assert abs(north.at[1] - spot.at[1]) > 15 or abs(north.at[0] - spot.at[0]) > 15


def test_a_touch_is_drawn_near_the_ground_with_drift_and_vertical_speed(
    sheet, found, tracks
):
    touch = replace(found, kind=GROUND_CONTACT, limit=0.0)
    flown = tracks[meet.MORNING, 1]
    low = finding_heights(sheet, touch, flown, SIZE)
    assert of(low, "soil")
    assert max(float(t) for t in texts(low) if t.isdigit()) <= 10
    pace = texts(finding_pace(sheet, touch, flown, SIZE))
    assert "drift over the ground, m/s" in pace
    assert "vertical speed, m/s" in pace
    assert finding_pace(sheet, found, flown, SIZE) is None


def layer(height_m, from_deg, speed_m_s, balloons=5):
    return WindLayer(
        height_m=height_m,
        from_deg=from_deg,
        speed_m_s=speed_m_s,
        spread_m_s=0.2,
        seconds=600.0,
        balloons=balloons,
    )


def winds(*layers):
    return FlightResult(id="first", date="2026-09-12", winds=layers)


def test_a_hodograph_shows_where_balloons_were_carried_and_how_fast():
    """A wind from the west carries to the east: right; twice the speed, twice as far."""
    drawing = hodograph(
        winds(layer(25.0, 270.0, 2.0), layer(75.0, 180.0, 4.0, balloons=2)), Voice()
    )

    (east,), (north,) = of(drawing, "mark"), of(drawing, "mark-few")
    middle = drawing.width / 2
    ring = of(drawing, "ring")[-1].radius  # 4 m/s
    assert east.at == pytest.approx((middle + ring / 2, middle), abs=0.02)
    assert north.at == pytest.approx((middle, middle - ring), abs=0.02)
    assert {"25 m", "75 m", "4 m/s", "N", "E", "S", "W"} <= set(texts(drawing))


def test_a_hodograph_reads_in_the_units_of_the_event():
    """2 m/s = 3.9 kt (a knot is 1,852 m an hour); 25 m = 82 ft."""
    drawing = hodograph(winds(layer(25.0, 270.0, 2.0)), Voice(units=Units.IMPERIAL))

    assert {"82 ft", "4 kt"} <= set(texts(drawing))


def test_heights_that_would_cover_each_other_are_not_all_written():
    drawing = hodograph(
        winds(*(layer(25 + 50 * n, 90.0, 3.0) for n in range(9))), Voice()
    )

    assert sum("m" in text and "/" not in text for text in texts(drawing)) == 1
    assert len(of(drawing, "mark")) == 9


def test_without_winds_there_is_no_hodograph():
    assert hodograph(winds(), Voice()) is None


def test_speeds_are_drawn_in_the_units_of_the_event(
    results, imperial_event, stamp, found, tracks
):
    touch = replace(found, kind=GROUND_CONTACT, limit=0.0)
    own = replace(results, voice=Voice.of(imperial_event))
    imperial = Sheet(results=own, event=imperial_event, stamp=stamp)
    metric = Sheet(results=results, event=meet.event(), stamp=stamp)
    flown = tracks[meet.MORNING, 1]

    feet, metres = (finding_pace(s, touch, flown, SIZE) for s in (imperial, metric))

    assert "drift over the ground, ft/s" in texts(feet)
    assert "drift over the ground, m/s" in texts(metres)
    highest = [
        max(float(t) for t in texts(one) if re.fullmatch(r"[0-9.]+", t))
        for one in (feet, metres)
    ]
    assert highest[0] > 2 * highest[1]


def walled(found, flown, lower_m=None, upper_m=None):
    """An airspace around the finding's place, the finding said of it."""
    at = int(np.searchsorted(flown.time_s, found.from_s))
    lat, lon = float(flown.lat_deg[at]), float(flown.lon_deg[at])
    wall = Place(
        name="depot",
        kind=place_kinds.PROHIBITED,
        rings=(meet.ring(lat, lon, 0.002),),
        lower_m=lower_m,
        upper_m=upper_m,
    )
    return wall, replace(found, kind=AIRSPACE, details={"place": "depot"})


def test_an_airspace_is_drawn_as_a_wall_while_the_track_is_within_its_outline(
    results, stamp, found, tracks
):
    flown = tracks[meet.MORNING, 1]
    wall, inside = walled(found, flown, 700.0, 900.0)
    event = replace(meet.event(), places=(wall,))
    sheet = Sheet(results=results, event=event, stamp=stamp)

    drawing = finding_heights(sheet, inside, flown, SIZE)

    (drawn,) = of(drawing, "prohibited")
    left, top, right, below = scene.bounds(drawn.points)
    start, end = found.from_s - profiles.AROUND_S, found.to_s + profiles.AROUND_S
    seen = (flown.time_s >= start) & (flown.time_s <= end)
    window = flown.time_s[seen]
    span = SIZE.width - axes.LEFT - axes.RIGHT
    scale = (window[-1] - window[0]) / span
    times = [window[0] + (x - axes.LEFT) * scale for x in (left, right)]
    area = shapely.Polygon(wall.rings[0])
    within = window[shapely.contains_xy(area, flown.lon_deg[seen], flown.lat_deg[seen])]
    assert times == pytest.approx([within[0], within[-1]], abs=1.5)
    limits = [s.points[0][1] for s in of(drawing, "limit") if isinstance(s, scene.Line)]
    assert limits == pytest.approx([below, top], abs=0.02)
    assert {"depot from 700.0 m", "depot up to 900.0 m"} <= set(texts(drawing))


def test_an_airspace_without_limits_reaches_from_the_ground_up(
    results, stamp, found, tracks
):
    flown = tracks[meet.MORNING, 1]
    wall, inside = walled(found, flown)
    sheet = Sheet(
        results=results, event=replace(meet.event(), places=(wall,)), stamp=stamp
    )
    drawing = finding_heights(sheet, inside, flown, SIZE)
    _, top, _, below = scene.bounds(of(drawing, "prohibited")[0].points)
    assert (top, below) == pytest.approx((axes.TOP, SIZE.height - axes.BELOW), abs=0.1)
    assert not of(drawing, "limit")


def test_every_picture_of_a_finding_names_the_pilot(sheet, found, tracks):
    drawn = finding_pictures(sheet, found, tracks)
    assert len(drawn) == 2
    named = sheet.voice.pilot(found.pilot)
    assert all(maps.short(named) in texts(picture) for picture in drawn)


def test_the_air_of_a_flight_is_said_in_words():
    """12 m an hour of pressure altitude are 1.4 hPa: 0.12 hPa a metre."""
    air = Air(
        mean=np.array([-22.5, -3.1, 12.0]), cov=np.eye(3) * 0.25, scale=0.58, logs=8
    )
    own = FlightResult(id="first", date="2026-09-12", air=air)

    told, kept = air_lines(own, Voice())

    assert "8 logs" in told
    assert "22.5 °C colder" in told
    assert "3.1 °C colder than that" in told
    assert "rose by 1.4 hPa" in told
    assert "first published" in kept
    assert kept != air_lines(replace(own, air_kept=True), Voice())[1]
