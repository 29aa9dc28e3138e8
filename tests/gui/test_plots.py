"""Pictures show the engine's numbers, in the event's unit."""

from itertools import pairwise

import numpy as np
import pytest

from gui.plots.map import MapPlot
from gui.plots.picture import Picture, Spot, Way, picture_of, places_picture
from gui.plots.profile import ProfilePlot, heights_between, round_moments
from gui.theme import DUSK, NOON
from scorer.geodesy.site import Site
from scorer.scoring.analysis import Tracks


def way(**given):
    n = 5
    known = {
        "time_s": np.arange(n) * 10.0,
        "east_m": np.arange(n) * 100.0,
        "north_m": np.zeros(n),
        "height_m": np.array([0.0, 20.0, 60.0, np.nan, 10.0]),
        "sigma_m": np.full(n, 2.0),
        "anchored": True,
        "launch": 1,
        "landing": None,
    }
    return Way(**(known | given))


@pytest.mark.parametrize(
    ("moment", "index"), [(-5, 0), (4, 0), (6, 1), (15, 1), (99, 4)]
)
def test_nearest_fix_in_time_the_earlier_one_in_the_middle(moment, index):
    assert way().nearest(moment) == index


def test_every_fix_has_one_colour_and_those_without_height_their_own(qapp):
    plot, picture = MapPlot(), Picture(title="", imperial=False, zone="UTC", way=way())
    bins = plot._bins(picture.way, picture)
    assert (np.sum(bins, axis=0) == 1).all()
    assert bins[-1].tolist() == [False, False, False, True, False]


def test_lowest_colour_is_what_lies_under_the_limit(qapp):
    picture = Picture(title="", imperial=False, zone="UTC", way=way(), limit_m=25.0)
    plot = MapPlot()
    assert plot.edges(picture.way, picture)[0] == 25.0
    under = plot._bins(picture.way, picture)[0]
    assert under.tolist() == [True, True, False, False, True]


def test_heights_between_two_moments_include_their_uncertainty():
    assert heights_between(way(), 5, 25) == (18.0, 62.0)
    assert heights_between(way(), 26, 34) == (0.0, 0.0)  # not known there


def test_ticks_stand_at_round_moments():
    assert round_moments(7, 63) == [10.0, 20.0, 30.0, 40.0, 50.0, 60.0]
    assert round_moments(0, 3600 * 2)[:2] == [0.0, 1800.0]


@pytest.mark.parametrize("theme", [NOON, DUSK], ids=lambda t: t.name)
def test_pictures_with_gaps_and_without_tracks_can_be_drawn(qtbot, theme):
    for made in (MapPlot(), ProfilePlot()):
        qtbot.addWidget(made.widget)
        bare = Picture(title="", imperial=True, zone="UTC")
        lost = way(height_m=np.full(5, np.nan))
        for picture in (
            None,
            bare,
            Picture(title="", imperial=True, zone="UTC", way=way(), span_s=(10, 20)),
            Picture(title="", imperial=False, zone="UTC", way=lost, span_s=(10, 10)),
        ):
            made.show(picture, theme)
            made.fit()
            made.focus()
            made.zoom(0.7)


def test_names_on_the_map_never_stand_over_each_other(qtbot):
    plot = MapPlot()
    qtbot.addWidget(plot.widget)
    plot.widget.resize(400, 300)
    spots = tuple(Spot(name=f"mark {i}", east_m=i, north_m=0.0) for i in range(20))
    plot.widget.show()
    plot.show(Picture(title="", imperial=False, zone="UTC", marks=spots), NOON)
    plot.tidy()
    shown = [item for item in plot._names if item.isVisible()]
    assert 1 <= len(shown) < 20
    box = plot.widget.getPlotItem().vb
    ends = sorted(
        (box.mapFromView(item.pos()).x(), item.boundingRect().width()) for item in shown
    )
    for (left, width), (right, _) in pairwise(ends):
        assert right - left >= width - 1e-6


def test_a_picture_has_the_engines_own_track_and_the_measured_mark(desk):
    scored = desk.session.results
    site = Site.of(scored.event)
    flown = Tracks(scored.event, scored.results)["first-morning", 1]
    picture = picture_of(scored.event, site, scored.results, flown, task=1)
    east, north = site.point("centre")
    assert picture.origin == (east, north)
    np.testing.assert_array_equal(picture.way.height_m, flown.height_m)
    np.testing.assert_allclose(picture.way.east_m, flown.east_m - east)
    score = scored.results.task(1).score_of(1)
    if picture.marks:
        away = np.hypot(picture.marks[0].east_m, picture.marks[0].north_m)
        # a plane distance against one on the ground: UTM's scale is within 0.1 %
        assert away == pytest.approx(score.measured, rel=1e-3, abs=0.02)


def test_places_are_all_on_their_map(desk):
    event = desk.session.results.event
    picture = places_picture(event, Site.of(event))
    assert {o.name for o in picture.outlines} == {p.name for p in event.places}
