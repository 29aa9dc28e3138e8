"""Places typed and changed: what was a line stays one, what nobody typed over stays."""

import json

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from gui.models.tasks import place_rows
from gui.places_text import feature
from scorer.errors import ScorerError
from scorer.event import place_kinds
from scorer.event.model import Units
from scorer.event.place_kinds import POWER_LINE
from scorer.ledger.acts import PlaceSet
from tests.gui.helpers import enter, page, press, settled, type_text

WIRE = [[66.30, 48.60], [66.31, 48.61], [66.32, 48.60]]


def recorded(window, name):
    state = window.session.snapshot.state
    return next(act.feature for _, act in state.all_of(PlaceSet) if act.name == name)


@pytest.mark.parametrize(
    ("where", "form"),
    [
        ("48.6, 66.3", "Point"),
        ("48.6, 66.3; 48.61, 66.31", "LineString"),
        ("48.6, 66.3; 48.61, 66.31; 48.6, 66.32", "LineString"),
        ("48.6, 66.3; 48.61, 66.31; 48.6, 66.32; 48.6, 66.3", "Polygon"),
        ("48.6, 66.3 r 20 m", "Polygon"),
    ],
)
def test_what_stands_on_the_ground_is_of_the_form_that_is_typed(where, form):
    assert feature("wire", POWER_LINE, where, {})["geometry"]["type"] == form


@pytest.mark.parametrize(
    "where", ["", "here", "48.6", "95, 66.3; 48, 66", "48.6, 66.3; 48.6, 66.3 r", "; ;"]
)
def test_what_is_no_form_is_refused(where):
    with pytest.raises(ScorerError):
        feature("wire", POWER_LINE, where, {})


def test_a_line_whose_height_is_changed_stays_a_line(qtbot, desk):
    line = {"type": "LineString", "coordinates": WIRE}
    own = {"name": "wire", "kind": "power-line", "height_m": 20.0, "owner": "grid"}
    desk.session.record(
        PlaceSet(feature={"type": "Feature", "properties": own, "geometry": line})
    )
    settled(qtbot, desk)
    places = page(desk, "places")
    assert places.table.choose("wire")
    places.table.setFocus()
    enter()
    assert places.line.where.text().count(";") == 2
    places.line.tall.setFocus()
    places.line.tall.selectAll()
    type_text("35 m")
    enter()
    settled(qtbot, desk)

    made = recorded(desk, "wire")
    assert made["geometry"] == line
    assert made["properties"] == {**own, "height_m": 35.0}
    (row,) = [r for r in place_rows(desk.session.snapshot) if r.place.name == "wire"]
    assert row.place.height_m == 35.0

    # Another point typed behind it: still a line, one longer.
    places.table.choose("wire")
    places.table.setFocus()
    enter()
    places.line.where.setFocus()
    press(Qt.Key.Key_End)
    type_text("; 48.61, 66.33")
    enter()
    settled(qtbot, desk)
    longer = recorded(desk, "wire")["geometry"]
    assert longer["type"] == "LineString"
    assert longer["coordinates"] == [*WIRE, [66.33, 48.61]]


def test_a_hole_stays_where_only_the_name_is_typed_over(qtbot, desk):
    ring = [
        [66.30, 48.60],
        [66.32, 48.60],
        [66.32, 48.62],
        [66.30, 48.62],
        [66.30, 48.60],
    ]
    hole = [[66.31, 48.61], [66.31, 48.612], [66.312, 48.61], [66.31, 48.61]]
    shape = {"type": "Polygon", "coordinates": [ring, hole]}
    own = {"name": "ring", "kind": str(place_kinds.PROHIBITED)}
    desk.session.record(
        PlaceSet(feature={"type": "Feature", "properties": own, "geometry": shape})
    )
    settled(qtbot, desk)
    places = page(desk, "places")
    places.table.choose("ring")
    places.table.setFocus()
    enter()
    assert QApplication.focusWidget() is places.line.name
    places.line.name.selectAll()
    type_text("village")
    enter()
    settled(qtbot, desk)
    made = recorded(desk, "village")
    assert json.loads(json.dumps(made["geometry"])) == shape


def test_lengths_are_shown_in_the_events_unit_where_they_are_the_same(desk):
    line = page(desk, "places").line
    boxes = (line.where, *line.levels)
    assert not any(" ft" in box.placeholderText() for box in boxes)
    line.set_units(Units.IMPERIAL)
    try:
        assert all(" ft" in box.placeholderText() for box in boxes)
        assert line._told(640.08) == "2100 ft"
        assert line._told(1234.5678) == "1234.5678 m"  # no round number of feet
    finally:
        line.set_units(Units.METRIC)
    assert line._told(640.08) == "640.08 m"


def test_a_map_is_drawn_on_the_page_that_asked_for_it_and_is_in_front(qtbot, desk):
    """Else one answer is drawn on two pages in the turn in which one of them is drawn."""
    tasks, places = page(desk, "tasks"), desk.page_named("places")
    tasks.put_back()
    assert tasks.table.choose_where(lambda row: row.number == 1)
    qtbot.waitUntil(lambda: tasks.map.picture is not None)
    qtbot.waitUntil(lambda: tasks.map.picture.task == 1)
    others = places.map.picture
    event = desk.session.snapshot.event
    with qtbot.waitSignal(desk.session.shelf.placed):
        desk.session.shelf.ask_places(event)
    assert tasks.map.picture.task == 1
    assert places.map.picture is others
    page(desk, "places")
    qtbot.waitUntil(lambda: places.map.picture not in {None, others})
    assert places.map.picture.task is None
