"""What a task must give: every fault at once, with field, found and allowed."""

import pytest

from scorer.event import place_kinds
from scorer.event.model import Origin
from scorer.tasks.check import check_task
from scorer.tasks.kinds import KINDS, WRITTEN, settings_table
from scorer.tasks.settings import ANY_DAY, read
from scorer.units import Unreadable
from tests.scorer.tasks.evidence import make_place, make_task

PLACES = {
    p.name: p
    for p in (
        make_place("centre", place_kinds.TARGET),
        make_place("church"),
        make_place("mill"),
        make_place("north", place_kinds.SCORING_AREA),
        make_place("south", place_kinds.TASK_AREA),
    )
}

GOOD = {
    "PDG": {"settings": {"goals": 2, "declare_by": "06:30", "goal_places": ["mill"]}},
    "JDG": {"targets": ("centre",)},
    "HWZ": {"targets": ("church", "mill")},
    "FIN": {"targets": ("centre",), "settings": {"several_marks": "last"}},
    "FON": {"settings": {"declare_by": "drop", "least_distance": "1 mi"}},
    "HNH": {"targets": ("centre",)},
    "WSD": {
        "targets": ("centre",),
        "settings": {"hare_launch": "mill", "hare_launch_within": "200 m"},
    },
    "GBM": {"targets": ("centre",), "scoring_areas": ("north",)},
    "CRT": {
        "targets": ("centre",),
        "scoring_areas": ("north", "south"),
        "settings": {
            "windows": {
                "north": ["06:00", "06:10"],
                "south": [["06:10", "06:20"], ["06:40", "06:50"]],
            }
        },
    },
    "RTA": {"scoring_areas": ("north",), "settings": {"start": "launch-period"}},
    "ELB": {"settings": {"launch_is": "A", "least_leg": "1 km", "most_leg": "5 km"}},
    "LRN": {
        "targets": ("church",),
        "roles": {"A": "church"},
        "settings": {"outside_limits": "no result"},
    },
    "MDT": {"settings": {"least_time": "30 min", "reference": "launch"}},
    "SFL": {"scoring_areas": ("north",), "settings": {"reference": "church"}},
    "MDD": {"settings": {"mark_areas": {"A": "north", "B": "south"}}},
    "XDT": {"settings": {"most_time": "40 min", "time_from": "07:00"}},
    "XDI": {"scoring_areas": ("north",), "settings": {"reference": "A"}},
    "XDD": {"settings": {"logger_marks": {"A": 1, "B": 2}}},
    "ANG": {"settings": {"direction": "45 T"}},
    "3DT": {
        "settings": {
            "circles": [{"centre": "mill", "inner": "1 km", "outer": "2 km"}],
            "without": ["south"],
            "upper": "6000 ft",
        }
    },
    "GAS": {"settings": {"launch_place": "centre", "land_by": "2026-09-15 08:00"}},
}


def faults(kind, **more):
    """Return the faults of a task, as people read them."""
    task = make_task(
        kind, origin=Origin(where="flights/am/flight.toml", line=3), **more
    )
    return [str(fault) for fault in check_task(task, PLACES)]


def test_every_kind_of_the_model_rules_is_there():
    assert len(KINDS) == 21
    assert set(GOOD) == set(KINDS)
    assert all(kind.best in {"smallest", "greatest"} for kind in KINDS.values())
    assert {kind.unit for kind in KINDS.values()} == {"m", "deg", "km2", "s"}


@pytest.mark.parametrize("kind", list(KINDS))
def test_a_task_that_gives_what_its_kind_needs_has_no_fault(kind):
    assert faults(kind, **GOOD[kind]) == []


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("JDG", ["targets: found none; allowed: 1 for JDG"]),
        ("HWZ", ["targets: found none; allowed: at least 2"]),
        ("FIN", ["targets"]),
        ("GBM", ["targets", "scoring_areas"]),
        ("CRT", ["targets", "scoring_areas", "windows"]),
        ("RTA", ["scoring_areas: found none; allowed: at least 1, or circles"]),
        ("SFL", ["scoring_areas"]),
        ("XDI", ["scoring_areas"]),
        ("MDD", ["scoring_areas"]),
        ("3DT", ["scoring_areas: found none; allowed: at least 1, or circles"]),
        ("MDT", ["least_time: the least time"]),
        ("XDT", ["most_time"]),
        ("ANG", ["direction"]),
    ],
)
def test_what_a_kind_lacks_is_told_all_at_once(kind, said):
    found = faults(kind)

    if kind == "MDT":
        assert "least_flown" in found[0]
        return
    assert len(found) == len(said)
    assert all(a in b for a, b in zip(said, found, strict=True))
    assert all(
        text.startswith("flights/am/flight.toml, line 3, task 1,") for text in found
    )


@pytest.mark.parametrize(
    ("kind", "settings", "said"),
    [
        ("PDG", {"goal": 2}, 'Did you mean "goals"?'),
        ("PDG", {"goals": 0}, "from 1 up"),
        ("PDG", {"goals": "two"}, "found two"),
        ("PDG", {"declare_by": "noon"}, "launch, drop, or a local time"),
        ("PDG", {"goal_places": ["Curch"]}, 'Did you mean "church"?'),
        ("PDG", {"goal_places": ["north"]}, "a point: centre, church, mill"),
        ("PDG", {"goal_places": 5}, "found 5"),
        ("PDG", {"least_distance": 500}, "with its unit"),
        ("PDG", {"least_distance": "500"}, "the unit must be written"),
        ("PDG", {"declare_as": "nmae"}, "any, name, coordinates"),
        ("MDT", {"least_time": "30"}, "a duration"),
        ("MDT", {"least_time": "30 min", "reference": "churhc"}, '"church"?'),
        ("MDT", {"least_time": "30 min", "reference": "north"}, '"launch"'),
        ("ANG", {"direction": "north"}, "degrees"),
        ("ANG", {"direction": True}, "degrees"),
        ("3DT", {"circles": [{"centre": "mill"}]}, "outer"),
        ("3DT", {"circles": [{"centre": "mil", "outer": "1 km"}]}, '"mill"?'),
        (
            "3DT",
            {"circles": [{"centre": "mill", "outer": "1 km", "in": "1 m"}]},
            "inner",
        ),
        (
            "3DT",
            {"circles": [{"centre": "mill", "outer": "1 km", "inner": "1 km"}]},
            "smaller than the outer",
        ),
        ("3DT", {"circles": [], "without": ["mill"]}, "an area: north, south"),
        ("XDD", {"logger_marks": {"A": ""}}, "logger counts"),
        ("XDD", {"mark_areas": {"A": "nroth"}}, '"north"?'),
        ("ELB", {"launch_is": "D"}, "A, B, C"),
    ],
)
def test_a_setting_that_cannot_be_read_says_what_may_stand_there(kind, settings, said):
    found = faults(kind, **{**GOOD[kind], "settings": settings})

    assert len(found) == 1
    assert said in found[0]


@pytest.mark.parametrize(
    ("windows", "said"),
    [
        ({"north": ["06:00", "06:10"]}, 'nothing for "south"'),
        ({"north": ["06:10", "06:00"], "south": ["06:00", "06:10"]}, "ends after"),
        ({"north": ["06:10"], "south": ["06:00", "06:10"]}, "from and to"),
        ({"north": ["6", "7"], "south": ["06:00", "06:10"]}, "local time"),
        ("06:00-06:10", "from and to"),
    ],
)
def test_windows_must_be_periods_of_all_scoring_areas(windows, said):
    found = faults("CRT", **{**GOOD["CRT"], "settings": {"windows": windows}})

    assert said in found[0]


def test_a_window_of_an_area_that_is_none_of_the_task_is_a_fault():
    task = {**GOOD["CRT"], "scoring_areas": ("north",)}

    assert any("found south" in text for text in faults("CRT", **task))


def test_kinds_with_roles_want_places_by_role():
    assert "targets = { A = " in faults("ELB", targets=("church",))[0]
    assert (
        "the roles A, B, C"
        in faults("ELB", targets=("church",), roles={"D": "church"})[0]
    )
    assert faults("XDD", targets=("church",), roles={"a": "church"}) == []


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_setting_is_documented_and_its_default_can_be_read(kind):
    rows = settings_table(KINDS[kind])

    assert len(rows) == len(KINDS[kind].settings)
    for setting, (key, written, doc) in zip(KINDS[kind].settings, rows, strict=True):
        assert key == setting.key
        assert written
        assert doc
        assert setting.choices or setting.kind in WRITTEN
        if setting.default is not None:
            read(setting.default, setting, ANY_DAY)


def test_times_of_toml_and_text_are_read_alike():
    from datetime import datetime, time

    known = {s.key: s for s in KINDS["GAS"].settings}
    other = {s.key: s for s in KINDS["RTA"].settings}

    assert read(time(7, 10), other["start"], ANY_DAY) == read(
        "07:10", other["start"], ANY_DAY
    )
    assert read(datetime(2026, 9, 15, 8), known["land_by"], ANY_DAY) == read(  # noqa: DTZ001
        "2026-09-15 08:00", known["land_by"], ANY_DAY
    )
    with pytest.raises(Unreadable):
        read(7.10, other["start"], ANY_DAY)
