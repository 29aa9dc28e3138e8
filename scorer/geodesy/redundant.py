"""Several keyings that together fix one mark, each adding what it measured."""

from collections.abc import Iterable, Iterator, Sequence
from math import degrees, hypot

from scorer.errors import GeometryError
from scorer.event.model import Keying, Method
from scorer.facts import (
    Step,
    Value,
    angle,
    bearing,
    chance,
    count,
    fact,
    inner,
    length,
    number,
    words,
)
from scorer.geodesy.adjust import Adjusted, adjust
from scorer.geodesy.arrays import Point
from scorer.geodesy.mark import Mark, mark_at, named
from scorer.geodesy.observation import Observation, Observed
from scorer.geodesy.placed import Spot
from scorer.geodesy.precision import SurveySigmas
from scorer.geodesy.reduction import Reduction
from scorer.geodesy.site import Site, Somewhere
from scorer.geodesy.survey import reduce_keying

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
            raise GeometryError(fact("entry-measures-no-point"))


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
        steps=tuple(_steps(found)),
        warnings=tuple(_warnings(found)),
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
    turned = Observation(
        kind=Observed.BEARING,
        value=grid,
        sigma=hypot(work.sigmas.bearing_deg, spread),
        spot=start,
        label=_label(work, Observed.BEARING, start),
    )
    return taped, turned


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
        label=_label(work, Observed.DISTANCE, start),
    )


def _of_point(work: Reduction, point: Point, sigma: float) -> tuple[Observation, ...]:
    return tuple(
        Observation(kind=kind, value=value, sigma=sigma, label=_label(work, kind))
        for kind, value in zip((Observed.EAST, Observed.NORTH), point, strict=True)
    )


def _label(work: Reduction, kind: Observed, start: Spot | None = None) -> Value:
    origin = {} if start is None else {"start": named(start)}
    what, by = fact(f"observed-{kind}", **origin), work.keying.by
    return inner(fact("observed-by", what=inner(what), by=words(by)) if by else what)


def _steps(found: Adjusted) -> Iterator[Step]:
    """Every observation with its residual, and what the whole says of itself."""
    for item, residual in zip(found.observations, found.residuals, strict=True):
        size = angle if item.kind is Observed.BEARING else length
        yield fact(
            "observed-residual",
            what=item.label,
            value=_observed(item),
            residual=size(residual),
            sigma=size(item.sigma),
        )
    spare = count(found.redundancy)
    if found.sigma0 is None:
        yield fact("adjusted-without-spare", spare=spare)
    else:
        misfit = number(round(found.sigma0, 2))
        yield fact("adjusted", spare=spare, misfit=misfit)
    worst = _worst(found)
    if worst is not None:
        size_of = number(round(abs(found.normalised[worst] or 0.0), 1))
        yield fact(
            "worst-observation", what=found.observations[worst].label, times=size_of
        )
    major, minor, axis = found.ellipse
    yield fact(
        "error-ellipse",
        major=length(major),
        minor=length(minor),
        axis=bearing(axis),
    )


def _observed(item: Observation) -> Value:
    """Return what was observed: coordinates of the plane are metres for everybody."""
    if item.kind is Observed.BEARING:
        return angle(item.value)
    if item.kind is Observed.DISTANCE:
        return length(item.value)
    return inner(fact("grid-metres", metres=number(round(item.value, 3))))


def _worst(found: Adjusted) -> int | None:
    """Return the worst observation; None where all are equally bad, with one to spare."""
    return found.worst if found.redundancy > 1 else None


def _warnings(found: Adjusted) -> Iterator[Step]:
    if found.probability is None or found.probability >= UNLIKELY:
        return
    worst, probability = _worst(found), chance(found.probability)
    if worst is None:
        yield fact("survey-contradicts-itself", chance=probability)
    else:
        what = found.observations[worst].label
        yield fact("survey-contradicted-by", chance=probability, what=what)
