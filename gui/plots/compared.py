"""Entries of one mark beside each other: where each puts it, and what the log says."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from gui.plots.heights import way_of
from gui.plots.picture import Picture, PictureSpot, picture_of
from scorer.checks.base import PlacedMark
from scorer.checks.mark_track import Marks, approaches
from scorer.event.model import Event, Flight, Keying, Task
from scorer.facts import Fact, count, distance, fact
from scorer.geodesy.site import Site
from scorer.scoring.evidence import placed_alone
from scorer.sheets.scene import nice_step
from scorer.tracks.flown import Flown

LEAST_M = 3.0
"""A map of entries shows at least so much."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What a map and the log say of the entries of one mark."""

    picture: Picture
    log: Fact
    """What the log speaks for; also that it cannot tell."""


def compared_of(
    event: Event,
    site: Site,
    flown: Flown | None,
    keyings: Sequence[Keying],
    names: Sequence[str] = (),
) -> Compared | None:
    """Put entries of one mark onto a map; None where they are of no task.

    `names`: what marks are called that are no entries to choose from, but do not fit the
    flight; where it came near them is on the map then.
    """
    number = keyings[0].task
    flight = next((f for f in event.flights if _task(f, number)), None)
    task = _task(flight, number) if flight else None
    if flight is None or task is None:
        return None
    placed = placed_alone(event, flight, site, keyings)
    whole = picture_of(event, site, None, flown, task=number)
    picture = _picture(whole, placed, flown, names)
    return Compared(picture=picture, log=_log(event, task, flown, placed))


def _task(flight: Flight, number: int) -> Task | None:
    return next((task for task in flight.tasks if task.number == number), None)


def _picture(
    whole: Picture,
    placed: Sequence[PlacedMark | None],
    flown: Flown | None,
    names: Sequence[str],
) -> Picture:
    """Show each entry by its number, or as a ring where only its distance is known."""
    east, north = whole.origin
    marks, rings, ring_names = [], [], []
    focus = _came_near(whole, placed, flown) if names else []
    numbers = names or [str(n) for n in range(1, len(placed) + 1)]
    for name, one in zip(numbers, placed, strict=True):
        if one is None:
            continue
        at = one.east_m - east, one.north_m - north
        focus.append(at)
        if one.within_m:
            rings.append(one.within_m)
            ring_names.append(f"{name}: {whole.voice.length(one.within_m)}")
            focus += [(at[0] + d * one.within_m, at[1]) for d in (-1.0, 1.0)]
        else:
            marks.append(PictureSpot(name=name, east_m=at[0], north_m=at[1]))
    targets = whole.targets
    if targets:
        focus.append((targets[0].east_m, targets[0].north_m))
    if not rings and focus:
        span = float(np.ptp(np.array(focus), axis=0).max())
        step = nice_step(max(span, LEAST_M) / whole.unit_m, 2) * whole.unit_m
        rings = [step, 2 * step]
    return replace(
        whole,
        marks=tuple(marks),
        rings_m=tuple(rings),
        ring_names=tuple(ring_names),
        focus_m=np.array(focus) if focus else None,
        least_view_m=LEAST_M,
        way=way_of(flown, whole.origin, None),
        heights=None,
        missing="",
    )


def _came_near(
    whole: Picture, placed: Sequence[PlacedMark | None], flown: Flown | None
) -> list[tuple[float, float]]:
    """Return where a track came nearest to marks, as far as it was in the air."""
    known = [one for one in placed if one is not None]
    if flown is None or not known:
        return []
    times = approaches(flown, known).time_s
    at_s = times[np.isfinite(times)]
    both = zip((flown.east_m, flown.north_m), whole.origin, strict=True)
    return list(
        zip(*(np.interp(at_s, flown.time_s, m) - o for m, o in both), strict=True)
    )


def _log(
    event: Event,
    task: Task,
    flown: Flown | None,
    placed: Sequence[PlacedMark | None],
) -> Fact:
    """State which entry the pilot's log speaks for, or that it cannot tell."""
    if flown is None:
        return fact("speaks-no-log")
    known = [(n, one) for n, one in enumerate(placed, start=1) if one is not None]
    if not known:
        return fact("speaks-no-place")
    marks = [one for _, one in known]
    near = approaches(flown, marks)
    own = Marks(
        marks=marks,
        tracks={flown.pilot: near},
        throw_m=event.book_of(task).tracks.throw_m,
        flight=task.flight,
    )
    fit = [n for k, (n, _) in enumerate(known) if own.fits(k, flown.pilot)]
    if len(fit) == 1 and len(known) > 1:
        away = max(float(near.distance_m[k]) for k in range(len(known)))
        return fact("speaks-log-for", number=count(fit[0]), away=distance(away))
    if not fit:
        away = min(float(d) for d in near.distance_m)
        return fact("speaks-log-against", away=distance(away))
    return fact("speaks-log-both", sigma=distance(near.sigma_m))
