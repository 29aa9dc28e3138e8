"""Marks reduced side by side as arrays come out as each does alone, to the bit."""

import random

import pytest

from scorer.errors import ScorerError
from scorer.event.model import DistanceKind, Method, North
from scorer.geodesy.survey import reduce_keying, reduce_keyings
from tests.scorer.geodesy.meadow import keying, site

PLACES = ("centre", "east post", "north post")
METHODS = ("bare", "tape", "polar", "arcs", "offset", "grid", "latlon", "none")


def drawn(dice, made):
    """Draw an entry of any method; some have no answer."""
    far = dice.choice((0.0, dice.uniform(1, 90), dice.uniform(90, 400)))
    turn, north = dice.uniform(0, 360), dice.choice(tuple(North))
    first, second = dice.sample(PLACES, 2)
    east, up = made.point("centre")
    lat, lon = made.plane.to_wgs84(east + far, up - far)
    two = {
        "distance_m": far,
        "from_place": first,
        "distance2_m": dice.uniform(1, 300),
        "from2_place": second,
        "side": dice.choice("LR"),
    }
    polar = {"distance_m": far, "bearing_deg": turn, "north": north}
    given = {
        "bare": (Method.TAPE, {"distance_m": far}),
        "tape": (Method.TAPE, polar),
        "polar": (
            Method.POLAR,
            polar | {"from_place": dice.choice((*PLACES, "nowhere"))},
        ),
        "arcs": (Method.ARCS, two),
        "offset": (Method.OFFSET, two),
        "grid": (Method.GRID, {"easting_m": east + far, "northing_m": up + turn}),
        "latlon": (
            Method.LATLON,
            {"lat_deg": dice.choice((lat, 95.0)), "lon_deg": lon},
        ),
        "none": (Method.NONE, {}),
    }
    method, fields = given[dice.choice(METHODS)]
    return keying(method, **fields)


def alone(own, made, target):
    try:
        return reduce_keying(own, made, target)
    except ScorerError as error:
        return error


@pytest.mark.parametrize("kind", DistanceKind)
@pytest.mark.parametrize("count", [1, 2, 7, 90])
def test_many_come_out_as_each_alone(kind, count):
    dice, made = random.Random(f"{kind} {count}"), site(kind)
    entries = [drawn(dice, made) for _ in range(count)]
    targets = [dice.choice(("centre", "north post", None)) for _ in entries]

    found = reduce_keyings(entries, [made] * count, targets)

    single = [alone(*one) for one in zip(entries, [made] * count, targets, strict=True)]
    for one, other in zip(found, single, strict=True):
        if isinstance(other, ScorerError):
            assert type(one) is type(other)
            assert one.says == other.says
        else:
            assert one == other
    if count == 90:
        assert len({type(one) for one in found}) == 3  # marks and both sorts of errors


def test_one_that_the_plane_cannot_show_spoils_no_other():
    made = site(DistanceKind.GROUND)
    good = keying(
        Method.LATLON,
        lat_deg=made.plane.to_wgs84(*made.point("centre"))[0],
        lon_deg=-3.7,
    )
    bad = keying(Method.LATLON, lat_deg=91.0, lon_deg=0.0)

    first, lost, last = reduce_keyings([good, bad, good], [made] * 3, ["centre"] * 3)

    assert first == last == reduce_keying(good, made, "centre")
    assert lost.says.kind == "latitude-beyond-90"
