"""Faults that show only with the whole event at hand: the site, and what kinds need."""

from scorer.errors import Fault, GeometryError, InputError
from scorer.event.model import Event
from scorer.geodesy.site import Site
from scorer.tasks.check import check_task


def faults_of(event: Event, *, places_sound: bool = True) -> list[Fault]:
    """List the faults of an event's site and tasks.

    With `places_sound` False the site is not tried: its faults are known already.
    """
    places = {place.name: place for place in event.places}
    faults = [fault for task in event.tasks for fault in check_task(task, places)]
    if places_sound:
        try:
            Site.of(event)
        except InputError as error:
            faults.extend(error.faults)
        except GeometryError as error:
            allowed = "places and terrain that can be put in the event's plane"
            fault = Fault(where="event.toml", found=str(error), allowed=allowed)
            faults.append(fault)
    return faults
