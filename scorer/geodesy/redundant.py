"""Several keyings that together fix one mark, each adding what it measured."""

from collections.abc import Iterable, Sequence
from math import degrees, hypot

from scorer.errors import GeometryError
from scorer.event.model import Keying, Method, Units
from scorer.facts import plain
from scorer.geodesy.adjust import Adjusted, adjust
from scorer.geodesy.arrays import Point
from scorer.geodesy.mark import Mark, mark_at, named
from scorer.geodesy.observation import Observation, Observed
from scorer.geodesy.places import Spot
from scorer.geodesy.precision import SurveySigmas
from scorer.geodesy.reduction import Reduction
from scorer.geodesy.site import Site, Somewhere
from scorer.geodesy.survey import reduce_keying
from scorer.units import show_length

UNLIKELY = 0.01
"""Probability of the misfit below which people are warned.  Our choice."""


def observe(
    keying: Keying,
    site: Site,
    target: Somewhere | None = None,
    sigmas: SurveySigmas | None = None,
) -> tuple[Observation, ...]:
    """Take a keying apart into single observations of its mark.

    Raises
    ------
    InputError
        As `reduce_keying`.
    GeometryError
        The method observes nothing of a point (`log`, `none`).
    """
    work = Reduction.of(keying, site, target, sigmas)
    match keying.method:
        case Method.TAPE | Method.POLAR:
            return _of_line(work)
        case Method.ARCS:
            return _of_arcs(work)
        case Method.OFFSET:
            mark = reduce_keying(keying, site, target, sigmas)
            sigma = mark.ellipse.major_m if mark.ellipse else work.sigmas.grid_m
            return _of_point(work, mark.point or (0.0, 0.0), sigma)
        case Method.GRID:
            work.need("easting_m", "northing_m")
            point = (keying.easting_m or 0.0, keying.northing_m or 0.0)
            return _of_point(work, point, work.sigmas.grid_m)
        case Method.LATLON:
            work.need("lat_deg", "lon_deg")
            point = site.plane.to_plane(keying.lat_deg or 0.0, keying.lon_deg or 0.0)
            return _of_point(work, point, work.sigmas.latlon_m)
        case _:
            raise GeometryError(f"a {keying.method} keying measures no point")


def adjust_keyings(
    keyings: Sequence[Keying],
    site: Site,
    target: Somewhere | None = None,
    sigmas: SurveySigmas | None = None,
) -> Mark:
    """Adjust all that several keyings measured of one mark, by least squares.

    Two keyings of one and the same measurement are no redundancy: settle those first
    and pass one of them.

    Raises
    ------
    InputError
        As `reduce_keying`, for the first keying at fault.
    GeometryError
        Together they fix no point, or more than one.
    """
    observations = [o for k in keyings for o in observe(k, site, target, sigmas)]
    near = _sided(keyings, site, target, sigmas)
    found = adjust(observations, site, near=near)
    methods = {keying.method for keying in keyings}
    return mark_at(
        found.point,
        found.covariance,
        site,
        target,
        method=methods.pop() if len(methods) == 1 else Method.ARCS,
        label=keyings[0].mark,
        steps=tuple(plain(step) for step in _steps(found, site.units)),
        warnings=tuple(plain(text) for text in _warnings(found)),
    )


def _sided(
    keyings: Iterable[Keying],
    site: Site,
    target: Somewhere | None,
    sigmas: SurveySigmas | None,
) -> Point | None:
    """Start from arcs whose side was keyed; they alone say which point is meant."""
    for keying in keyings:
        if keying.method is Method.ARCS and keying.side:
            return reduce_keying(keying, site, target, sigmas).point
    return None


def _of_line(work: Reduction) -> tuple[Observation, ...]:
    keying = work.keying
    work.need("distance_m", *(["bearing_deg"] if keying.method is Method.POLAR else []))
    distance, start = work.distance(), work.start()
    taped = _taped(work, start, distance)
    if keying.bearing_deg is None:
        return (taped,)
    grid = work.site.grid_bearing_deg(start, keying.bearing_deg, keying.north, distance)
    spread = degrees(work.spread_m(start) / max(distance, 1e-3))
    bearing = Observation(
        kind=Observed.BEARING,
        value=grid,
        sigma=hypot(work.sigmas.bearing_deg, spread),
        spot=start,
        label=_label(work, f"bearing from {named(start)}"),
    )
    return taped, bearing


def _of_arcs(work: Reduction) -> tuple[Observation, ...]:
    keying = work.keying
    work.need("distance_m", "from_place", "distance2_m", "from2_place")
    first = work.place(keying.from_place or "", "from")
    second = work.place(keying.from2_place or "", "from2")
    return (
        _taped(work, first, work.distance("distance")),
        _taped(work, second, work.distance("distance2")),
    )


def _taped(work: Reduction, start: Spot, distance: float) -> Observation:
    return Observation(
        kind=Observed.DISTANCE,
        value=distance,
        sigma=hypot(work.sigmas.taped_m(distance), work.spread_m(start)),
        spot=start,
        label=_label(work, f"distance from {named(start)}"),
    )


def _of_point(work: Reduction, point: Point, sigma: float) -> tuple[Observation, ...]:
    return tuple(
        Observation(kind=kind, value=value, sigma=sigma, label=_label(work, str(kind)))
        for kind, value in zip((Observed.EAST, Observed.NORTH), point, strict=True)
    )


def _label(work: Reduction, what: str) -> str:
    return f"{what}, keyed by {work.keying.by}" if work.keying.by else what


def _steps(found: Adjusted, units: Units) -> Iterable[str]:
    """Every observation with its residual, and what the whole says of itself."""
    for item, residual in zip(found.observations, found.residuals, strict=True):
        value = _shown(item, item.value, units)
        if item.kind in {Observed.EAST, Observed.NORTH}:
            value = f"{item.value:.3f} m"  # a coordinate of the plane, always metres
        sign, miss = "-" if residual < 0 else "+", _shown(item, abs(residual), units)
        sigma = _shown(item, item.sigma, units)
        yield f"{item.label}: {value}, residual {sign}{miss} (sigma {sigma})"
    fit = f"adjusted by least squares, {found.redundancy} to spare"
    if found.sigma0 is not None:
        fit += f", misfit {found.sigma0:.2f} of what the sigmas promise"
    yield fit
    worst = _worst(found)
    if worst is not None:
        size = abs(found.normalised[worst] or 0.0)
        yield f"worst: {found.observations[worst].label}, {size:.1f} of its own sigma"
    major, minor, bearing = found.ellipse
    yield (
        f"error ellipse {show_length(major, units, 3)} × "
        f"{show_length(minor, units, 3)} (one sigma), long axis at {bearing:.0f}° grid"
    )


def _shown(item: Observation, number: float, units: Units) -> str:
    """Print what an observation is measured in: degrees, or a length."""
    if item.kind is Observed.BEARING:
        return f"{number:.2f}°"
    return show_length(number, units, 3)


def _worst(found: Adjusted) -> int | None:
    """Return the worst observation; None where all are equally bad, with one to spare."""
    return found.worst if found.redundancy > 1 else None


def _warnings(found: Adjusted) -> Iterable[str]:
    if found.probability is None or found.probability >= UNLIKELY:
        return
    worst = _worst(found)
    which = "; which one is at fault cannot be told from so few"
    if worst is not None:
        which = f"; {found.observations[worst].label} fits worst"
    yield (
        f"the measurements contradict each other more than their sigmas allow "
        f"(by chance {found.probability:.1g}){which}: measure again"
    )
