"""The points of a task: places, the launch, the pilot's marks, and lengths between them."""

import math
from dataclasses import dataclass, replace

import numpy as np

from scorer.event import matters
from scorer.event.model import Keying, Method
from scorer.facts import Value, fact, inner, length, moment, term, words
from scorer.facts import place as named
from scorer.geodesy.arrays import Point
from scorer.geodesy.mark import Mark
from scorer.geodesy.placed import Spot
from scorer.geodesy.precision import Covariance
from scorer.tasks.geometry import EXACT, round_covariance
from scorer.tasks.logmarks import mark_from_log, track_at
from scorer.tasks.settings import LAUNCH
from scorer.tasks.targets import taped_spot
from scorer.tasks.work import NoResult, Work
from scorer.tracks.flown import Flown

LAUNCH_MARK, LANDING_MARK = "LAUNCH", "LANDING"
"""Roles of marks by which officials enter where a pilot took off or landed."""
AGREE_M = 0.02
"""A mark's distance and place belong to one tape if they agree so far."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Located:
    """A point of a task with all that is known of it."""

    name: Value
    """As people call it: a place, a term, `mark A`."""
    point: Point | None
    """None = only its distance from `taped_from` is known."""
    covariance: Covariance = EXACT
    altitude_m: float | None = None
    """Above mean sea level; None = unknown."""
    altitude_sigma_m: float = 0.0
    time_s: float | None = None
    time_sigma_s: float | None = None
    """None = of what people noted or a log wrote down."""
    mark: Mark | None = None
    taped_from: Point | None = None
    """What the distance of a taped mark counts from."""
    spot: Spot | None = None
    """The place of the event that it is, if it is one."""
    latlon_deg: tuple[float, float] | None = None
    """Latitude and longitude, WGS84, where they are known without the plane."""


def place(work: Work, name: str) -> Located:
    """Return a named point of the event."""
    site, known = work.evidence.site, work.evidence.places.get(name)
    at = spot_located(site.spot(name), None, named(name))
    moved = any(one.spot.name == name for one in site.stood)
    if moved or known is None or not known.is_point or not known.rings:
        return at
    lon, lat = known.rings[0][0]
    return replace(at, latlon_deg=(lat, lon))


def target_at(work: Work, name: str, time_s: float | None) -> Located:
    """Return a target of the task where it stood as a mark fell; say so if it moved.

    `time_s`: POSIX seconds; None = nobody knows, so where it stands at the end.
    """
    site, number = work.evidence.site, work.evidence.task.number
    stood = [s for s in site.stood if (s.task, s.spot.name) == (number, name)]
    if not stood:
        return place(work, name)
    until = math.inf if time_s is None else time_s
    count = sum(one.since_s <= until for one in stood)
    own, later = stood[count - 1], stood[count:]
    if later:
        moved = moment(later[0].since_s)
        work.say(fact("target-stood-until", target=named(name), at=moved))
    else:
        away = length(site.distance_m(stood[-2].spot, own.spot))
        values = {"target": named(name), "away": away, "at": moment(own.since_s)}
        work.say(fact("target-stood-since", **values))
    return spot_located(own.spot, None, named(name))


def launch(work: Work) -> Located:
    """Return where the pilot took off; raise NoResult where nobody knows."""
    found = launch_or_none(work)
    if found is None:
        raise NoResult(fact("launch-unknown"))
    return found


def launch_or_none(work: Work) -> Located | None:
    """Return the launch as officials keyed it, else by the log; None = not known."""
    if LAUNCH_MARK in roles_present(work):
        return mark(work, LAUNCH_MARK)
    return fix_of(work, "launch")


def fix_of(work: Work, what: str) -> Located | None:
    """Return the `launch` or `landing` by the log; None where it does not show it.

    Where the basket stood and when it left or came down, by all fixes around: the first
    fix in the air lies downwind and comes late.
    """
    flown = work.evidence.flown
    index = None if flown is None else getattr(flown, what)
    if flown is None or index is None:
        return None
    found = at_time(work, float(flown.time_s[min(index, len(flown) - 1)]))
    if found is None:
        return None
    fitted = flown.lift_off(index) if what == "launch" else flown.touch_down
    if fitted is None or fitted.at != index:
        return replace(found, name=term(what))
    return replace(
        found,
        name=term(what),
        point=(fitted.east_m, fitted.north_m),
        covariance=round_covariance(fitted.sigma_m),
        time_s=fitted.time_s,
        time_sigma_s=fitted.sigma_s,
    )


def at_time(work: Work, time_s: float) -> Located | None:
    """Return where the pilot's track was at a time; None where the log does not say."""
    flown = work.evidence.flown
    if flown is None:
        return None
    at = track_at(flown, time_s, work.evidence.site.sigmas.latlon_m)
    if at is None:
        return None
    known = math.isfinite(at.altitude_m)
    return Located(
        name=inner(fact("track-at", time=moment(time_s))),
        point=at.point,
        covariance=at.covariance,
        altitude_m=at.altitude_m if known else None,
        altitude_sigma_m=at.altitude_sigma_m if known else 0.0,
        time_s=time_s,
        latlon_deg=_fix_at(flown, time_s),
    )


def _fix_at(flown: Flown, time_s: float) -> tuple[float, float] | None:
    """Return latitude and longitude of the fix of just this time, if there is one."""
    index = int(np.searchsorted(flown.time_s, time_s))
    if index >= len(flown) or flown.time_s[index] != time_s:
        return None
    return float(flown.lat_deg[index]), float(flown.lon_deg[index])


def roles_present(work: Work) -> tuple[str, ...]:
    """Return the roles for which a mark was keyed or is to come from the logger."""
    evidence = work.evidence
    keyed = {r for r, m in evidence.marks.items() if m.method is not Method.NONE}
    keyed |= {r for r, k in evidence.keyings.items() if k.method is Method.LOG}
    return tuple(sorted(keyed | set(work.settings.get("logger_marks") or {})))


def mark(work: Work, role: str) -> Located:
    """Return a pilot's mark: as measured, else by the logger; raise NoResult if none."""
    evidence = work.evidence
    keying = evidence.keyings.get(role)
    measured = evidence.marks.get(role)
    if measured is not None and measured.method not in {Method.NONE, Method.LOG}:
        _check_numbers(work, measured, role)
        work.use(measured)
        if keying is not None and keying.time_s is not None:
            work.times[role] = keying.time_s
        return _from_measured(work, measured, keying, role)
    wanted = (work.settings.get("logger_marks") or {}).get(role, "")
    if keying is not None and keying.method is Method.NONE:
        raise NoResult(fact("mark-not-found", mark=called(role)))
    if keying is None and not wanted:
        _tell_missing(work, role)
        raise NoResult(fact("mark-not-entered", mark=called(role)))
    return _from_log(work, keying, role, wanted)


def _tell_missing(work: Work, role: str) -> None:
    """Ask for a mark that is missing beside others of the same pilot."""
    if roles_present(work):
        missing = fact("mark-missing-beside-others", mark=called(role))
        work.warn(missing, matters.UNSETTLED)


def called(role: str) -> Value:
    """Name a mark by its role."""
    if role in {"", LAUNCH_MARK, LANDING_MARK}:
        return term(role.lower() or "mark")
    return inner(fact("mark-of-role", role=words(role)))


def _check_numbers(work: Work, measured: Mark, role: str) -> None:
    """Refuse a mark that no number can be made of."""
    numbers = [*(measured.point or ()), measured.distance_m or 0.0]
    if not all(map(math.isfinite, numbers)):
        raise work.failed(fact("mark-without-numbers", mark=called(role)))


def _from_measured(
    work: Work, measured: Mark, keying: Keying | None, role: str
) -> Located:
    point = measured.point
    ground = math.nan if point is None else work.evidence.site.elevation_at(point)
    return Located(
        name=called(role),
        point=point,
        covariance=measured.covariance or EXACT,
        altitude_m=None if math.isnan(ground) else float(ground),
        time_s=None if keying is None else keying.time_s,
        latlon_deg=measured.latlon_deg,
        mark=measured,
        taped_from=_taped_from(work, measured, keying),
    )


def _taped_from(work: Work, measured: Mark, keying: Keying | None) -> Point | None:
    """Return the point that a taped distance was taped from, if it was."""
    site, task = work.evidence.site, work.evidence.task
    if measured.method not in {Method.TAPE, Method.POLAR}:
        return None
    start = taped_spot(site, task, keying, work.evidence.declarations)
    if start is None or measured.distance_m is None or measured.point is None:
        return None if start is None else start.point
    apart = site.distance_m(start, measured.point)
    return start.point if abs(apart - measured.distance_m) < AGREE_M else None


def _from_log(work: Work, keying: Keying | None, role: str, wanted: str) -> Located:
    evidence = work.evidence
    task, site = evidence.task, evidence.site
    asked = keying or Keying(
        task=task.number, pilot=evidence.pilot, method=Method.LOG, mark=role
    )
    target = taped_spot(site, task, keying, evidence.declarations)
    gap = evidence.book.tracks.log_gap_s
    made, time_s = mark_from_log(
        asked, evidence.flown, site, target, wanted=wanted, log_gap_s=gap
    )
    work.use(made)
    work.times[role] = time_s
    work.say(fact("mark-by-log", mark=called(role), time=moment(time_s)))
    at = at_time(work, time_s)
    return Located(
        name=called(role),
        point=made.point,
        covariance=made.covariance or EXACT,
        altitude_m=at.altitude_m if at else None,
        altitude_sigma_m=at.altitude_sigma_m if at else 0.0,
        time_s=time_s,
        mark=made,
        latlon_deg=at.latlon_deg if at and at.point == made.point else None,
    )


def by_role(work: Work, role: str) -> Located:
    """Return the point that fills a role: a place of the task, the launch, or a mark."""
    task = work.evidence.task
    set_down = {name.strip().upper(): at for name, at in task.roles.items()}
    if role in set_down:
        if role in roles_present(work):
            at = named(set_down[role])
            work.warn(fact("mark-beside-place", mark=called(role), place=at))
        return _in_role(role, place(work, set_down[role]))
    if (work.settings.get("launch_is") or "").upper() == role:
        return _in_role(role, launch(work))
    return mark(work, role)


def _in_role(role: str, at: Located) -> Located:
    name = inner(fact("point-of-role", role=words(role), point=at.name))
    return replace(at, name=name)


def reference(work: Work) -> Located:
    """Return the point a task counts from.

    As the task's `reference` says: the launch, a place, or the pilot's mark of that role.
    Without one, the task's first target; without that, mark A of a pilot with marks A and
    B; else the launch.
    """
    task, site = work.evidence.task, work.evidence.site
    default = "A" if {"A", "B"} <= set(roles_present(work)) else LAUNCH
    chosen = work.settings.get("reference") or task.target or default
    if chosen.casefold() == LAUNCH:
        return launch(work)
    if chosen in site.spots:
        return place(work, chosen)
    return mark(work, chosen.upper())


def moment_of(work: Work, at: Located) -> tuple[float, float]:
    """Return when a marker fell, and one sigma of that, seconds.

    As noted or logged; else when the track passes nearest to it, if within a throw.

    Raises
    ------
    NoResult
        Nobody knows.
    """
    if at.time_s is not None:
        return at.time_s, at.time_sigma_s or 0.0
    passed = _nearest_pass(work, at)
    if passed is None:
        raise work.failed(fact("time-unknown", point=at.name))
    time_s, sigma = passed
    work.warn(fact("time-from-track", point=at.name, time=moment(time_s)))
    return time_s, sigma


def _nearest_pass(work: Work, at: Located) -> tuple[float, float] | None:
    """Return when the track passes nearest to a point, and one sigma, seconds.

    None where it does not come within a throw of it in the air.
    """
    flown, throw_m = work.evidence.flown, work.evidence.book.tracks.throw_m
    if flown is None or at.point is None:
        return None
    start = 0 if flown.launch is None else flown.launch
    end = len(flown) if flown.landing is None else flown.landing
    air = slice(start, end)
    away = np.hypot(flown.east_m[air] - at.point[0], flown.north_m[air] - at.point[1])
    if not np.isfinite(away).any() or np.nanmin(away) > throw_m:
        return None
    within = flown.time_s[air][away <= throw_m]
    # the marker may have left the basket anywhere within a throw of where it lies
    spread = float(within[-1] - within[0]) / math.sqrt(12.0)
    return float(flown.time_s[air][int(np.nanargmin(away))]), spread


def placed(work: Work, at: Located) -> Point:
    """Return a point's place, or raise NoResult with what to key."""
    if at.point is None:
        raise work.failed(fact("mark-without-bearing", point=at.name))
    return at.point


def spot_located(spot: Spot, height_m: float | None, name: Value) -> Located:
    """Make a point of a spot: a declared height goes before the ground's."""
    known = spot.elevation_m if height_m is None else height_m
    return Located(name=name, point=spot.point, altitude_m=known, spot=spot)
