"""What all logs of a flight share, and which logs it has."""

from datetime import datetime, time
from zoneinfo import ZoneInfo

from scorer.checks.base import Other
from scorer.event import matters, place_kinds
from scorer.event.build import NOTE
from scorer.event.matter import Matter
from scorer.event.model import Event, Flight, LogFile, Period
from scorer.event.task_kinds import TASK_KINDS
from scorer.geodesy.site import Site
from scorer.scoring.evidence import FlightEvidence
from scorer.scoring.work import FlightWork, broken, failed
from scorer.tracks.air_kept import kept_air
from scorer.tracks.archive import is_archive, read_archive
from scorer.tracks.clean import MAX_SPAN_S
from scorer.tracks.order import DAY_S


def shared_work(
    event: Event, flight: Flight, site: Site, taken: FlightEvidence
) -> FlightWork:
    """Gather what all logs of a flight share."""
    periods = periods_of(flight)
    return FlightWork(
        flight=flight.id,
        day=flight.date,
        time_zone=event.time_zone,
        qnh_hpa=flight.qnh_hpa,
        temperature_c=flight.temperature_c,
        ground_elevation_m=event.ground_elevation_m,
        terrain_sigma_m=event.terrain_sigma_m,
        site=site,
        tasks=flight.tasks,
        books={task.number: event.book_of(task) for task in flight.tasks},
        pilots=event.pilots,
        places={place.name: place for place in event.places},
        own=taken.own,
        marks=taken.placed,
        prohibited=tuple(p for p in event.places if p.kind is place_kinds.PROHIBITED),
        remarks=NOTE in event.public_columns,
        periods=periods,
        accepted=frozenset(a.matter for a in event.acceptances),
        air=kept_air(flight.air),
        hours=hours_of(event, flight),
        others=tuple(
            Other(id=one.id, day=one.date, periods=periods_of(one))
            for one in event.flights
            if one.id != flight.id
        ),
    )


def periods_of(flight: Flight) -> tuple[Period, ...]:
    """Return the launch and scoring periods of a flight's tasks."""
    every = (p for t in flight.tasks for p in (t.launch_period, t.scoring_period))
    return tuple(period for period in every if period is not None)


def hours_of(event: Event, flight: Flight) -> Period:
    """Return the time in which fixes may be of a flight.

    From a day before the flight's local date and its periods to a day after them; a
    race may go on as long as the longest log.
    """
    zone = ZoneInfo(event.time_zone)
    midnight = datetime.combine(flight.date, time(), tzinfo=zone).timestamp()
    periods = periods_of(flight)
    starts = [midnight, *(period.start_s for period in periods)]
    ends = [midnight + DAY_S, *(period.end_s for period in periods)]
    race = any(TASK_KINDS[task.kind].race for task in flight.tasks)
    after_s = MAX_SPAN_S if race else DAY_S
    return Period(start_s=min(starts) - DAY_S, end_s=max(ends) + after_s)


def unpacked(flight: Flight) -> tuple[list[LogFile], list[Matter]]:
    """Open zipped logs; what cannot be used in a zip costs itself alone.

    A zip assigned by hand passes its pilot on to the log in it, where it holds just one.
    """
    logs: list[LogFile] = []
    warnings = []
    for log in flight.logs:
        if not is_archive(log.blob):
            logs.append(log)
            continue
        try:
            archive = read_archive(log.blob)
        except Exception as error:  # noqa: BLE001 - it must not stop the event
            says = failed(log.blob.name, error)
            warnings.append(
                Matter(kind=matters.LOG_BROKEN, flight=flight.id, says=says)
            )
            continue
        pilot = log.pilot if len(archive.blobs) == 1 else None
        logs += [LogFile(blob=blob, pilot=pilot) for blob in archive.blobs]
        for fault in archive.faults:
            warnings.append(
                Matter(kind=matters.LOG_BROKEN, flight=flight.id, says=broken(fault))
            )
    return logs, warnings
