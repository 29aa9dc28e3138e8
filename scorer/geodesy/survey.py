"""From a keyed measurement to a mark: its point, its distance, its uncertainty.

Keyed distances are of the event's distance kind and level.  They count from the centre
of the target to the nearest point of the marker's sand-filled bag (published rules), so
coordinates are those of that point of the bag too.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from math import hypot

from scorer.errors import GeometryError, InputError, ScorerError
from scorer.event.model import Keying, Method, North
from scorer.facts import angle, fact, length, number, position, term, words
from scorer.geodesy.arcs import LEAST_CUT_DEG, Arc, cut
from scorer.geodesy.arrays import Point
from scorer.geodesy.mark import Mark, mark_at, named, offset_from_line, placed
from scorer.geodesy.placed import Spot
from scorer.geodesy.precision import Covariance, SurveySigmas, axes_covariance
from scorer.geodesy.reduction import Reduction, missing
from scorer.geodesy.site import Site, Somewhere
from scorer.geodesy.together import (
    Asking,
    alone,
    grid_bearing,
    in_plane,
    offset,
    together,
)

__all__ = ["Mark", "mark_at", "offset_from_line", "reduce_keying", "reduce_keyings"]


def reduce_keying(
    keying: Keying,
    site: Site,
    target: Somewhere | None = None,
    sigmas: SurveySigmas | None = None,
) -> Mark:
    """Reduce one keyed measurement.

    Parameters
    ----------
    keying : Keying
        Of any method but `log`, which takes a track (see `mark_at`).
    target : Spot, str, Point or None
        What the distance counts from; None where the task kind has no target.
    sigmas : SurveySigmas, optional
        In place of the event's own.

    Raises
    ------
    InputError
        A field that the method needs is empty, a place is unknown, or a magnetic
        bearing meets an event without declination.
    GeometryError
        The measurements contradict each other.
    """
    return alone(site, _reducing(keying, site, target, sigmas))


def reduce_keyings(
    keyings: Sequence[Keying],
    sites: Sequence[Site],
    targets: Sequence[Somewhere | None],
) -> list[Mark | ScorerError]:
    """Reduce many keyings by themselves, side by side as arrays.

    Each has its target, and its site: of one event, but targets may have been moved.
    What one of them raises stands in its place.
    """
    each = zip(keyings, sites, targets, strict=True)
    under_way = [_reducing(keying, site, at, None) for keying, site, at in each]
    return together(sites[0], under_way) if sites else []


def _reducing(
    keying: Keying, site: Site, target: Somewhere | None, sigmas: SurveySigmas | None
) -> Asking[Mark]:
    work = Reduction.of(keying, site, target, sigmas)
    if keying.method is Method.NONE:
        return _none(work)
    if keying.method not in _METHODS:
        raise ValueError(f"a {keying.method} mark needs the track")
    return (yield from _METHODS[keying.method](work))


def _tape(work: Reduction) -> Asking[Mark]:
    """Distance from the target, with a bearing also the point."""
    work.need("distance_m")
    keying = work.keying
    distance = work.distance()
    start = work.start()
    work.steps.append(fact("taped", length=length(distance), start=named(start)))
    if keying.bearing_deg is None:
        return _bare(work, start, distance)
    if keying.north is North.MAGNETIC and work.site.declination_deg is None:
        work.warnings.append(fact("bearing-without-declination"))
        return _bare(work, start, distance)
    return (yield from _set_out(work, start, distance))


def _bare(work: Reduction, start: Spot, distance: float) -> Mark:
    """Make a mark of a distance alone; it serves only where it counts from the target."""
    if not work.at_target(start):
        raise InputError([missing(work.keying, "bearing", Method.TAPE, _ELSEWHERE)])
    return Mark(
        point=None,
        distance_m=distance,
        sigma_m=work.sigmas.taped_m(distance),
        method=work.keying.method,
        label=work.keying.mark,
        steps=tuple(work.steps),
        warnings=tuple(work.warnings),
    )


def _polar(work: Reduction) -> Asking[Mark]:
    """Distance and bearing from a named point."""
    work.need("distance_m", "bearing_deg")
    distance = work.distance()
    start = work.start()
    work.steps.append(fact("measured", length=length(distance), start=named(start)))
    return (yield from _set_out(work, start, distance))


def _set_out(work: Reduction, start: Spot, distance: float) -> Asking[Mark]:
    bearing = yield from _grid_bearing(work, start, distance)
    point = yield offset(start, bearing, distance)
    spread = work.spread_m(start)
    along, across = work.sigmas.taped_m(distance), work.sigmas.across_m(distance)
    covariance = axes_covariance(bearing, hypot(along, spread), hypot(across, spread))
    _show_reduction(work, start, point, distance)
    mark = yield from _finish(work, point, covariance)
    if work.at_target(start):
        return _with_taped(mark, distance, along)
    return mark


def _with_taped(mark: Mark, distance: float, sigma: float) -> Mark:
    """Take the distance itself as measured: it went from the target."""
    return replace(mark, distance_m=distance, sigma_m=sigma, steps=mark.steps[:-1])


def _grid_bearing(work: Reduction, start: Spot, distance: float) -> Asking[float]:
    """Turn the keyed bearing into a grid bearing, and write down how."""
    keyed = work.keying.bearing_deg or 0.0
    north = work.keying.north
    if north is North.GRID:
        work.steps.append(fact("bearing-from-grid-north", bearing=angle(keyed)))
        return keyed % 360.0
    true = keyed
    if north is North.MAGNETIC:
        declination = work.site.needed_declination_deg()
        true = (keyed + declination) % 360.0
        work.steps.append(
            fact(
                "bearing-from-magnetic-north",
                magnetic=angle(keyed),
                declination=angle(declination),
                true=angle(true),
            )
        )
    grid: float = yield grid_bearing(start, true, distance)
    turn = (grid - true + 180.0) % 360.0 - 180.0
    bearings = {"true": angle(true), "turn": angle(turn), "grid": angle(grid)}
    work.steps.append(fact("bearing-from-true-north", **bearings))
    return grid


def _arcs(work: Reduction) -> Asking[Mark]:
    """Two distances from two named points."""
    work.need("distance_m", "from_place", "distance2_m", "from2_place", "side")
    keying, site, sigmas = work.keying, work.site, work.sigmas
    arcs = []
    for name, end in ((keying.from_place, ""), (keying.from2_place, "2")):
        spot = work.place(name or "", f"from{end}")
        distance = work.distance(f"distance{end}")
        sigma = hypot(sigmas.taped_m(distance), work.spread_m(spot))
        arcs.append(Arc(spot=spot, distance_m=distance, sigma_m=sigma))
        work.steps.append(fact("measured", length=length(distance), start=named(spot)))
    found = yield from cut(site, arcs[0], arcs[1], keying.side)
    work.steps.append(
        fact(
            "arcs-cut",
            base=length(found.base_m),
            angle=angle(found.angle_deg),
            side=term(_SIDES[keying.side]),
        )
    )
    _warn_of_arcs(work, found.angle_deg, found.missing_m)
    mark = yield from _finish(work, found.point, found.covariance)
    for arc in arcs:
        if found.missing_m == 0 and work.at_target(arc.spot):
            return _with_taped(mark, arc.distance_m, arc.sigma_m)
    return mark


def _offset(work: Reduction) -> Asking[Mark]:
    """Distance along a line between two named points, and offset square to it."""
    work.need("distance_m", "from_place", "distance2_m", "from2_place", "side")
    keying, site, sigmas = work.keying, work.site, work.sigmas
    start = work.place(keying.from_place or "", "from")
    end = work.place(keying.from2_place or "", "from2")
    along, across = work.distance("distance"), work.distance("distance2")
    signed = across if keying.side == "R" else -across
    point = yield from offset_from_line(site, start, end, along, signed)
    work.steps.append(
        fact(
            "offset-from-line",
            along=length(along),
            start=named(start),
            end=named(end),
            across=length(across),
            side=term(_SIDES[keying.side]),
        )
    )
    spread = work.spread_m(start)
    # the right angle is set out by eye or prism: as sure as a bearing
    turned = hypot(sigmas.taped_m(along), sigmas.across_m(across), spread)
    covariance = axes_covariance(
        site.bearing_deg(start, end), turned, hypot(sigmas.taped_m(across), spread)
    )
    return (yield from _finish(work, point, covariance))


def _warn_of_arcs(work: Reduction, angle_deg: float, missing_m: float) -> None:
    if missing_m > 0:
        work.warnings.append(fact("arcs-miss-each-other", gap=length(missing_m)))
    elif not LEAST_CUT_DEG <= angle_deg <= 180.0 - LEAST_CUT_DEG:
        bounds = {"least": angle(LEAST_CUT_DEG), "most": angle(180.0 - LEAST_CUT_DEG)}
        doubt = fact("arcs-cut-badly", angle=angle(round(angle_deg)), **bounds)
        work.warnings.append(doubt)


def _grid(work: Reduction) -> Asking[Mark]:
    """Coordinates in the event's reference system."""
    work.need("easting_m", "northing_m")
    east, north = work.keying.easting_m or 0.0, work.keying.northing_m or 0.0
    work.steps.append(fact("coordinates-in", system=words(work.site.plane.title)))
    sigma = work.sigmas.grid_m
    spread = axes_covariance(0.0, sigma, sigma)
    return (yield from _finish(work, (east, north), spread))


def _latlon(work: Reduction) -> Asking[Mark]:
    """WGS84 coordinates."""
    work.need("lat_deg", "lon_deg")
    lat, lon = work.keying.lat_deg or 0.0, work.keying.lon_deg or 0.0
    work.steps.append(fact("latitude-longitude", lat=position(lat), lon=position(lon)))
    sigma = work.sigmas.latlon_m
    covariance = axes_covariance(0.0, sigma, sigma)
    try:
        point = yield in_plane(lat, lon)
    except GeometryError:
        if work.target is not None or abs(lat) > 90:
            raise
        return Mark(  # a landing far beyond the plane; long races need no plane
            point=None,
            distance_m=None,
            sigma_m=None,
            covariance=covariance,
            latlon_deg=(lat, lon),
            method=work.keying.method,
            label=work.keying.mark,
            steps=tuple(work.steps),
        )
    mark = yield from _finish(work, point, covariance)
    return replace(mark, latlon_deg=(lat, lon))


def _none(work: Reduction) -> Mark:
    """Nothing was found."""
    return Mark(
        point=None,
        distance_m=None,
        sigma_m=None,
        method=Method.NONE,
        label=work.keying.mark,
        steps=(fact("no-mark-found"),),
    )


_SIDES = {"L": "left", "R": "right"}
_ELSEWHERE = (
    "a bearing too, where the distance starts from another point than the task's target"
)
_METHODS: Mapping[Method, Callable[[Reduction], Asking[Mark]]] = {
    Method.TAPE: _tape,
    Method.POLAR: _polar,
    Method.ARCS: _arcs,
    Method.OFFSET: _offset,
    Method.GRID: _grid,
    Method.LATLON: _latlon,
}


def _finish(work: Reduction, point: Point, covariance: Covariance) -> Asking[Mark]:
    return placed(
        point,
        covariance,
        work.site,
        work.target,
        method=work.keying.method,
        label=work.keying.mark,
        steps=tuple(work.steps),
        warnings=tuple(work.warnings),
    )


def _show_reduction(
    work: Reduction, start: Spot, point: Point, distance: float
) -> None:
    """Write down what makes the grid length differ from the keyed one, if it shows."""
    grid = hypot(point[0] - start.point[0], point[1] - start.point[1])
    if abs(grid - distance) >= 0.005:
        work.steps.append(
            fact(
                "length-on-the-grid",
                length=length(distance),
                surface=term(f"distance-{work.site.distance_kind}"),
                scale=number(grid / distance),
                grid=length(grid),
            )
        )
