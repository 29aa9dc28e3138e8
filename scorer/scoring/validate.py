"""Faults that show only with the whole event at hand: the site, and what kinds need."""

from zoneinfo import ZoneInfo

from scorer.errors import Fault, GeometryError, InputError
from scorer.event.model import Event
from scorer.event.moments import Clock
from scorer.geodesy.reference import frame
from scorer.geodesy.site import Site
from scorer.tasks.check import check_task


def faults_of(event: Event, *, places_sound: bool = True) -> list[Fault]:
    """List the faults of an event's site and tasks.

    With `places_sound` False the site is not tried: its faults are known already.
    """
    places = {place.name: place for place in event.places}
    zone = ZoneInfo(event.time_zone)
    faults = [
        fault
        for flight in event.flights
        for task in flight.tasks
        for fault in check_task(task, places, Clock(flight.date, zone))
    ]
    if places_sound:
        try:
            faults.extend(_elsewhere(event))
            Site.of(event)
        except InputError as error:
            faults.extend(error.faults)
        except GeometryError as error:
            allowed = "places and terrain that can be put in the event's plane"
            fault = Fault(where="event.toml", found=str(error), allowed=allowed)
            faults.append(fault)
    return faults


FAR_DEG = 12.0
"""Two zones of UTM: nobody works that far outside a projection's area.  Our choice."""


def _elsewhere(event: Event) -> list[Fault]:
    """Tell when all places lie in another part of the world than the plane."""
    system = frame(event.crs).horizontal
    area = system.area_of_use
    if area is None or not event.places:
        return []
    width = (area.east - area.west) % 360.0 or 360.0
    middle = area.west + width / 2
    for place in event.places:
        lon, lat = place.rings[0][0]
        east = abs((lon - middle + 180.0) % 360.0 - 180.0) - width / 2
        if max(east, lat - area.north, area.south - lat) <= FAR_DEG:
            return []
    lon, lat = event.places[0].rings[0][0]
    return [
        Fault(
            where="places.geojson",
            field=f'"{event.places[0].name}".geometry.coordinates',
            found=f"longitude {lon:g}, latitude {lat:g}, and no place is nearer",
            allowed=f"places in the area of {event.crs} ({system.name}): longitude "
            f"{area.west:g} to {area.east:g}, latitude {area.south:g} to {area.north:g}",
            remedy="Positions are [longitude, latitude]. If they are right, event.crs is "
            "for another part of the world.",
        )
    ]
