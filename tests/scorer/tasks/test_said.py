"""What tasks and surveys name by a composed word stands in the catalogue."""

import pytest

from scorer.event.model import DistanceKind, Method, North
from scorer.facts import fact, length, place
from scorer.geodesy.mark import mark_at
from scorer.geodesy.observation import Observed
from scorer.geodesy.precision import axes_covariance
from scorer.tasks.kinds import DECLARED, KINDS, SEVERAL_MARKS
from scorer.words.catalogue import has
from tests.helpers import said
from tests.scorer.tasks.evidence import make_site

EXTRA = next(setting for setting in DECLARED if setting.key == "extra_goals")
FIELDS = ("distance", "bearing", "from", "distance2", "from2", "side")
NAMES = [
    *(f"entry-needs-{m}" for m in Method if m not in {Method.LOG, Method.NONE}),
    *(f"term-entry-{f}" for f in (*FIELDS, "easting", "northing", "lat", "lon")),
    *(f"observed-{kind}" for kind in Observed),
    *(f"term-distance-{kind}" for kind in DistanceKind),
    *(f"term-north-{north}" for north in North if north is not North.GRID),
    *(f"term-marks-{how}" for how in SEVERAL_MARKS.choices),
    *(f"term-goals-{which}" for which in EXTRA.choices),
    *(f"term-{best}" for best in {kind.best for kind in KINDS.values()}),
    *(f"term-{word}" for word in ("mark", "launch", "landing", "drop")),
]


@pytest.mark.parametrize("name", sorted(NAMES))
def test_every_composed_name_has_its_words(name):
    assert has(name)


def test_a_spot_without_a_name_is_told_by_its_coordinates():
    site = make_site()
    at = (440_000.0, 4_470_000.0)
    exact = axes_covariance(0.0, 0.01, 0.01)

    mark = mark_at((440_003.0, 4_470_004.0), exact, site, at, method=Method.GRID)

    assert mark.steps[-1]["length"] == length(5.0)
    assert said(mark.steps[-1]).startswith("5.00 m from 440000 E, 4470000 N")


def test_people_read_no_key_of_a_file_in_a_step():
    leg = fact("leg", start=place("mill"), end=place("church"), length=length(1.0))

    assert said(leg) == "mill to church: 1.00 m"
    for kind in KINDS.values():
        assert "_" not in said(kind.about)
        assert "`" not in said(kind.about)
