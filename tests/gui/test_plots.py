"""Pictures show the engine's numbers, in the event's unit and in the words of the text."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRectF

from gui.plots.heights import (
    TIMES_LIMIT,
    HeightCurve,
    Limit,
    Pace,
    PictureTrack,
    heights_of,
)
from gui.plots.labels import PointMark, Tag
from gui.plots.map import MapPlot
from gui.plots.pair import Pair, words_at
from gui.plots.picture import Picture, PictureSpot, picture_of, places_picture
from gui.plots.plot import Plot
from gui.plots.profile import ProfilePlot, linked, round_moments
from gui.theme import DUSK, NOON
from scorer.event.finding import Drawing as Kind
from scorer.geodesy.site import Site
from scorer.scoring import told
from scorer.scoring.analysis import Tracks
from scorer.scoring.keyings import Keyed
from scorer.units import FOOT_M


def way(**given):
    n = 5
    known = {
        "time_s": np.arange(n) * 10.0,
        "east_m": np.arange(n) * 100.0,
        "north_m": np.zeros(n),
        "thin_m": np.array([[0.0, 0.0], [400.0, 0.0]]),
        "breach_m": np.zeros((0, 2)),
        "launch": 1,
        "landing": None,
    }
    return PictureTrack(**(known | given))


def heights(**given):
    known = {
        "caption": "Height",
        "time_s": np.arange(5) * 10.0,
        "level_m": np.array([0.0, 20.0, 60.0, np.nan, 10.0]),
        "sigma_m": np.full(5, 2.0),
        "window_s": (0.0, 40.0),
        "whole_s": (0.0, 40.0),
        "bottom_m": -2.0,
        "top_m": 62.0,
        "breach_s": np.zeros(0),
        "breach_m": np.zeros(0),
    }
    return HeightCurve(**(known | given))


@pytest.fixture
def seen(desk):
    """Every infringement of the small event with its picture."""
    scored = desk.session.results
    tracks, site = Tracks(scored.event, scored.results), Site.of(scored.event)

    def made(ruled):
        finding = ruled.finding
        own = next(t for t in scored.event.tasks if t.number == finding.task)
        key = finding.flight, finding.pilot
        return picture_of(
            scored.event,
            site,
            scored.results,
            tracks[key],
            task=finding.task,
            finding=finding,
            about=tracks.circumstances(key, own),
        )

    return [(ruled.finding, made(ruled)) for ruled in scored.results.findings]


@pytest.mark.parametrize(
    ("moment", "index"), [(-5, 0), (4, 0), (6, 1), (15, 1), (99, 4)]
)
def test_nearest_fix_in_time_the_earlier_one_in_the_middle(moment, index):
    assert way().nearest(moment) == index


def test_figures_in_the_picture_are_those_of_the_text(desk, seen):
    voice = desk.session.results.results.voice
    assert {f.kind.name for f, _ in seen} >= {"floor", "ground-contact"}
    for finding, picture in seen:
        drawn = picture.heights
        assert drawn.worst_text == told.measured(voice, finding)
        at, level = drawn.worst
        assert level == finding.measured
        if finding.kind.name == "floor":
            # the dot lies on the curve, not the logger's metre above it
            near = np.interp(at, drawn.time_s, drawn.level_m)
            assert near == pytest.approx(finding.measured, abs=1e-9)
            assert np.nanmin(drawn.breach_m) == pytest.approx(finding.measured)
            (limit,) = drawn.limits
            assert limit.level_m == finding.limit
            assert voice.height(finding.limit) in limit.text
            assert drawn.top_m == pytest.approx(TIMES_LIMIT * finding.limit)
            assert drawn.breach_s[0] == finding.from_s
            assert drawn.breach_s[-1] == finding.to_s


def test_a_limit_stands_only_where_it_holds(seen):
    (picture,) = (p for f, p in seen if f.kind.name == "floor")
    drawn = picture.heights
    (limit,), (area,) = drawn.limits, drawn.shades[:1]
    assert limit.holds.any()
    assert not limit.holds[drawn.time_s >= area.start_s].any()
    assert not limit.holds[0]  # on the ground before launch
    assert "no minimum" in area.text
    link = linked(drawn.time_s, limit.holds)
    assert (link[:-1] <= (limit.holds[:-1] & limit.holds[1:])).all()


def test_a_contact_is_scaled_to_the_ground_with_drift_and_vertical_speed(seen):
    (finding, picture) = next(s for s in seen if s[0].kind.name == "ground-contact")
    drawn = picture.heights
    assert drawn.bottom_m < 0 < drawn.top_m <= 12
    pace = drawn.pace
    inside = (pace.time_s >= finding.from_s - 30) & (pace.time_s <= finding.to_s + 30)
    assert inside.sum() > 30
    assert (pace.drift_m_s >= 0).all()
    assert pace.climb_m_s[inside].min() < 0 < pace.climb_m_s[inside].max()
    others = [p.heights.pace for f, p in seen if f.kind.name == "floor"]
    assert others == [None]


def test_what_a_picture_says_stands_in_a_sentence(qtbot, seen):
    pair = Pair(side_by_side=True)
    qtbot.addWidget(pair)
    for finding, picture in seen:
        pair.show_picture(picture, NOON)
        qtbot.waitUntil(lambda: pair.profile.picture is not None)
        spoken = pair.map.widget.accessibleDescription()
        assert f"{finding.pilot} " in spoken
        assert "bearing" in spoken
        assert picture.heights.worst_text in (
            pair.profile.widget.accessibleDescription()
        )


def test_every_area_of_the_task_is_named_and_none_of_another(qtbot, desk, seen):
    event = desk.session.results.event
    for finding, picture in seen:
        own = next(t for t in event.tasks if t.number == finding.task)
        names = {outline.name.split(":")[0] for outline in picture.outlines}
        assert set(own.scoring_areas) <= names
        plot = MapPlot()
        qtbot.addWidget(plot.widget)
        plot.widget.resize(420, 330)
        plot.show(picture, NOON)
        plot.fit()
        placed = {text for text, _ in _placed(plot.labels)}
        assert {outline.name for outline in picture.outlines} <= placed


def _placed(labels):
    labels.resize(labels.plot.size())
    labels.place()
    return labels.placed


def test_areas_of_other_tasks_are_absent(desk):
    event = desk.session.results.event
    own = event.tasks[0]
    foreign = replace(
        next(p for p in event.places if p.name == own.scoring_areas[0]),
        name="the other field",
    )
    more = replace(event, places=(*event.places, foreign))
    picture = picture_of(more, Site.of(more), None, None, task=own.number)
    assert "the other field" not in {o.name for o in picture.outlines}


@pytest.mark.parametrize("theme", [NOON, DUSK], ids=lambda t: t.name)
def test_pictures_with_gaps_and_without_tracks_can_be_drawn(qtbot, theme):
    lost = heights(level_m=np.full(5, np.nan))
    limit = Limit(level_m=25.0, text="minimum", holds=np.array([0, 1, 1, 0, 0]) > 0)
    for made in (MapPlot(), ProfilePlot()):
        qtbot.addWidget(made.widget)
        for picture in (
            None,
            Picture(title="", imperial=True, zone="UTC"),
            Picture(title="a", imperial=True, zone="UTC", way=way(), heights=heights()),
            Picture(title="b", imperial=False, zone="UTC", way=way(), heights=lost),
            Picture(
                title="c",
                imperial=False,
                zone="UTC",
                way=way(breach_m=np.array([[0.0, 0.0], [10.0, 0.0]])),
                heights=heights(limits=(limit,), worst=(10.0, 20.0), worst_text="20 m"),
            ),
        ):
            made.show(picture, theme)
            made.fit()
            made.focus()
            made.zoom(0.7)


def test_a_picture_that_follows_another_is_never_seen_with_its_heights(qtbot):
    pair = Pair(side_by_side=True)
    qtbot.addWidget(pair)
    first = Picture(
        title="1 Ann", imperial=False, zone="UTC", way=way(), heights=heights()
    )
    second = replace(first, title="2 Bo", heights=heights(top_m=99.0))
    pair.show_picture(first, NOON)
    pair.show_picture(second, NOON)
    assert pair.profile.picture is None  # blank at once
    qtbot.waitUntil(lambda: pair.profile.picture is second)
    pair.show_picture(None, NOON)
    assert (pair.map.picture, pair.profile.picture) == (None, None)
    qtbot.wait(20)
    assert pair.profile.picture is None


def test_a_picture_that_shows_the_same_stays_as_somebody_looks_at_it(qtbot):
    pair = Pair(side_by_side=True)
    qtbot.addWidget(pair)

    def made(**given):
        return Picture(
            title="1 Ann",
            imperial=False,
            zone="UTC",
            way=way(),
            heights=heights(**given),
        )

    first, same, other = made(), made(), made(top_m=99.0)
    pair.show_picture(first, NOON)
    qtbot.waitUntil(lambda: pair.profile.picture is first)
    pair.point_at(3)
    pair.show_picture(same, NOON)
    assert (pair.profile.picture, pair.map.picture, pair.index) == (first, first, 3)
    pair.show_picture(other, NOON)
    qtbot.waitUntil(lambda: pair.profile.picture is other)
    assert pair.index is None
    pair.show_picture(other, DUSK)
    qtbot.waitUntil(lambda: pair.profile.theme is DUSK)


def test_each_part_of_another_rows_picture_is_drawn_once(qtbot, monkeypatch):
    pair = Pair(side_by_side=True)
    qtbot.addWidget(pair)
    pair.resize(700, 300)
    pair.show()
    pace = Pace(
        time_s=np.arange(5) * 10.0,
        drift_m_s=np.ones(5),
        climb_m_s=np.linspace(-9, 1, 5),
    )
    drawn = []
    paint = Plot.paintEvent

    def painted(plot, event):
        drawn.append(plot)
        paint(plot, event)

    monkeypatch.setattr(Plot, "paintEvent", painted)
    for number in range(3):
        deep = heights(top_m=62.0 + 400.0 * number, pace=pace)
        picture = Picture(
            title=str(number), imperial=False, zone="UTC", way=way(), heights=deep
        )
        pair.show_picture(None, NOON)
        qtbot.wait(60)
        drawn.clear()  # the first picture opens the second curve
        pair.show_picture(picture, NOON)
        qtbot.wait(120)
    parts = [part.widget for part in (pair.map, pair.profile, pair.pace)]
    assert sorted(map(parts.index, drawn)) == [0, 1, 2]
    assert drawn[0] is pair.map.widget


def test_names_on_the_map_never_stand_over_each_other(qtbot):
    plot = MapPlot()
    qtbot.addWidget(plot.widget)
    plot.widget.resize(400, 300)
    spots = tuple(
        PictureSpot(name=f"mark {i}", east_m=i, north_m=0.0) for i in range(20)
    )
    plot.show(Picture(title="t", imperial=False, zone="UTC", marks=spots), NOON)
    placed = _placed(plot.labels)
    assert 1 <= len(placed) < 20
    rects = [QRectF(rect) for _, rect in placed]
    for i, one in enumerate(rects):
        assert not any(one.intersects(other) for other in rects[i + 1 :])


def test_a_name_stands_where_there_is_room_for_it(qtbot):
    plot = MapPlot()
    qtbot.addWidget(plot.widget)
    plot.widget.resize(300, 200)
    plot.widget.setRange(xRange=(0, 100), yRange=(0, 100), padding=0)
    plot.labels.show_tags(
        "", [Tag("far away", ((500.0, 500.0), (50.0, 50.0)), "#000")], NOON
    )
    assert [text for text, _ in _placed(plot.labels)] == ["far away"]


def test_no_name_stands_on_the_sign_of_a_point(qtbot):
    plot = MapPlot()
    qtbot.addWidget(plot.widget)
    plot.widget.resize(300, 200)
    plot.widget.setRange(xRange=(0, 100), yRange=(0, 100), padding=0)
    box = plot.labels.box
    beside = box.mapSceneToView(box.mapViewToScene(QPointF(50, 50)) + QPointF(-20, 9))
    places = ((beside.x(), beside.y()), (25.0, 20.0))
    centre = Tag("centre", ((50.0, 50.0),), "#000", mark=PointMark.CROSS)
    area = Tag("scoring area", places, "#000")
    plot.labels.show_tags("", [area, centre], NOON)
    named = dict(_placed(plot.labels))
    assert set(named) == {"scoring area", "centre"}
    sign = plot.labels._drawn(centre)
    assert not any(sign.intersects(rect) for rect in named.values())


@pytest.mark.parametrize("level_m", [7.0, 9.0, 14.0])
@pytest.mark.parametrize("size", [(700, 300), (360, 170), (300, 140)])
def test_no_name_stands_on_the_line_of_the_minimum(qtbot, size, level_m):
    plot = ProfilePlot()
    qtbot.addWidget(plot.widget)
    plot.widget.resize(*size)
    plot.widget.show()
    limit = Limit(level_m=level_m, text="minimum", holds=np.ones(5, bool))
    low = heights(limits=(limit,), worst=(10.0, 3.0), worst_text="20 m ± 2 m")
    picture = Picture(title="a", imperial=False, zone="UTC", way=way(), heights=low)
    plot.show(picture, NOON)
    qtbot.wait(30)
    plot.labels.place()
    named = dict(plot.labels.placed)
    assert "20 m ± 2 m" in named
    line = plot.labels._on(plot.labels.lines[0])
    assert line.width() > 100
    assert not any(line.intersects(rect) for rect in named.values())


def test_ticks_stand_at_round_moments():
    assert round_moments(7, 43) == [10.0, 20.0, 30.0, 40.0]
    assert round_moments(0, 3600 * 2)[:2] == [0.0, 1800.0]


def test_what_was_there_is_said_in_the_events_unit():
    shown = Picture(title="", imperial=True, zone="UTC", way=way(), heights=heights())
    assert words_at(shown, 2).startswith("00:00:20 · 197 ft above the ground ± 7 ft")
    assert pytest.approx(197, abs=0.5) == 60 / FOOT_M
    assert "not known" in words_at(shown, 3)


def test_a_picture_has_the_engines_own_track_and_the_measured_mark(desk):
    scored = desk.session.results
    site = Site.of(scored.event)
    flown = Tracks(scored.event, scored.results)["first-morning", 1]
    picture = picture_of(scored.event, site, scored.results, flown, task=1)
    east, north = site.point("centre")
    assert picture.origin == (east, north)
    np.testing.assert_allclose(picture.way.east_m, flown.east_m - east)
    score = scored.results.task(1).score_of(1)
    for mark in picture.marks:
        away = np.hypot(mark.east_m, mark.north_m)
        # a plane distance against one on the ground: UTM's scale is within 0.1 %
        assert away == pytest.approx(score.measured, rel=1e-3, abs=0.02)


def test_marks_that_are_entered_once_are_in_no_picture(desk):
    scored = desk.session.results
    site, results = Site.of(scored.event), scored.results
    (task,) = (t for t in results.tasks if t.task == 1)
    score = next(s for s in task.scores if s.marks and s.marks[0].lat_deg is not None)

    def known(state):
        own = replace(score, marks=tuple(replace(m, state=state) for m in score.marks))
        scores = tuple(own if s is score else s for s in task.scores)
        every = (replace(t, scores=scores) if t is task else t for t in results.tasks)
        return replace(results, tasks=tuple(every))

    flown = Tracks(scored.event, results)["first-morning", score.pilot]
    both = [
        picture_of(scored.event, site, given, flown, task=1).marks
        for given in (known(Keyed.AGREE), known(Keyed.ONCE))
    ]
    assert both[0]
    assert not both[1]


def test_heights_of_launches_are_drawn_without_a_limit(desk, seen):
    scored = desk.session.results
    finding = seen[0][0]
    flown = Tracks(scored.event, scored.results)[finding.flight, finding.pilot]
    plain = replace(
        finding, kind=replace(finding.kind, picture=Kind.PROFILE), limit=None
    )
    voice = scored.results.voice
    drawn = heights_of(flown, plain, None, scored.event, voice)
    assert not drawn.limits
    bare = replace(finding, kind=replace(finding.kind, picture=Kind.MAP))
    assert heights_of(flown, bare, None, scored.event, voice) is None


def test_places_are_all_on_their_map(desk):
    event = desk.session.results.event
    picture = places_picture(event, Site.of(event))
    assert {o.name for o in picture.outlines} == {p.name for p in event.places}
    titles = {t: places_picture(event, Site.of(event), t).title for t in (1, 2)}
    assert titles == {1: "Task 1, centre", 2: "Task 2"}  # whose goals pilots declare
