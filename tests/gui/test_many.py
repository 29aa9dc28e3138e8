"""A large meet: 120 markers keyed without the mouse."""

from datetime import date

import pytest

from scorer.ledger.acts import FlightSet, MarkKeyed, PilotSet, PlaceSet, SettingsSet
from scorer.ledger.api import Draft, Ledger, new_desk
from tests.gui.helpers import enter, page, settled, type_text

MANY = 120
"""Numbers of three digits, and more rows than any screen shows; `tests.bench.window 275`
measures the largest."""


@pytest.fixture
def large(tmp_path):
    """An event with many pilots and one task, nothing keyed."""
    file = tmp_path / "large.sandtail"
    point = {"type": "Point", "coordinates": [66.304, 48.6018]}
    place = {
        "type": "Feature",
        "geometry": point,
        "properties": {"name": "centre", "kind": "target"},
    }
    settings = {
        "format": 1,
        "event": {
            "name": "Large",
            "time_zone": "UTC",
            "crs": "EPSG:32642",
            "ground_elevation": "215 m",
        },
        "rules": {"book": "festival"},
    }
    flight = {
        "date": date(2026, 8, 22),
        "task": [{"number": 1, "kind": "FIN", "target": "centre"}],
    }
    acts = [SettingsSet(settings=settings), PlaceSet(feature=place)]
    acts += [
        PilotSet(fields={"number": str(n), "name": f"Pilot {n}"})
        for n in range(1, MANY + 1)
    ]
    acts.append(FlightSet(flight="dawn", settings=flight))
    with Ledger.create(file, desk=new_desk("press"), who="Merel") as ledger:
        ledger.record_all([Draft(act=act) for act in acts])
    return file


def test_all_markers_of_a_large_meet_are_keyed_by_enter_and_numbers(
    qtbot, window, large
):
    with qtbot.waitSignals([window.session.opened, window.session.scored]):
        window.open_target(str(large), "Yrsa")
    keying = page(window, "keying")
    for number in range(1, MANY + 1):
        enter()
        assert keying.line.number.text() == str(number)
        type_text(f"{number % 90}.{number % 10}")
        enter()
    settled(qtbot, window)
    keyed = [
        a.fields["pilot"] for _, a in window.session.snapshot.state.all_of(MarkKeyed)
    ]
    assert keyed == [str(n) for n in range(1, MANY + 1)]
    assert keying.line.number.placeholderText() == ""
