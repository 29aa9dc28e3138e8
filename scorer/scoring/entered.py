"""What results rest on, as people set it down: it travels in results.json.

So whoever holds the file alone can work from marks, reports and decisions to places and
points.  Officials' remarks stay at the desk unless the event releases them.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from scorer.event.build import NOTE
from scorer.event.model import (
    Declaration,
    Event,
    Flight,
    Pilot,
    Place,
    Report,
    Ruling,
    TargetLine,
    Task,
)

_TABLES = ("reports", "rulings", "declarations", "targets")
"""Tables of a flight that travel row by row; its marks travel with their scores."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """Rows, tasks, pilots and named points that results rest on."""

    units: str
    crs: str
    pilots: tuple[Pilot, ...]
    classes: bool
    """Whether anything is ranked by class."""
    team_column: str | None
    flights: tuple[Flight, ...]
    places: tuple[Place, ...]
    remarks: bool
    """Whether officials' remarks are released."""

    @classmethod
    def of(cls, event: Event) -> "Entered":
        """Gather it from an event."""
        named = set(_named(event))
        return cls(
            units=str(event.units),
            crs=event.crs,
            pilots=event.pilots,
            classes=event.book.standings.by_class
            or any(event.book_of(task).points.by_class for task in event.tasks)
            or event.book.points.by_class,
            team_column=event.book.standings.team_column,
            flights=event.flights,
            places=tuple(p for p in event.places if p.is_point and p.name in named),
            remarks=NOTE in event.public_columns,
        )

    def document(self) -> dict[str, Any]:
        """Return it as plain JSON types."""
        tasks = [task for flight in self.flights for task in flight.tasks]
        return {
            "units": self.units,
            "reference_system": self.crs,
            "pilots": [self._pilot(pilot) for pilot in self.pilots],
            "tasks": [_task(task) for task in tasks],
            "places": [_place(place) for place in self.places],
            **{name: list(self._rows(name)) for name in _TABLES},
        }

    def _pilot(self, pilot: Pilot) -> dict[str, Any]:
        column = self.team_column
        return {
            "number": pilot.number,
            **({"class": pilot.class_name} if self.classes else {}),
            **({} if column is None else {"team": pilot.team(column)}),
            **({} if pilot.enters is None else {"enters": pilot.enters}),
            **({} if pilot.leaves is None else {"leaves": pilot.leaves}),
            **({} if pilot.competes else {"competes": False}),
        }

    def _rows(self, table: str) -> Iterator[Mapping[str, str]]:
        for flight in self.flights:
            rows: Iterable[Report | Ruling | Declaration | TargetLine]
            rows = getattr(flight, table)
            for row in rows:
                yield {
                    "flight": flight.id,
                    **{
                        name: text
                        for name, text in row.entered.items()
                        if text and (self.remarks or name != NOTE)
                    },
                }


def _task(task: Task) -> dict[str, Any]:
    return {
        "task": task.number,
        "targets": list(task.targets),
        "roles": dict(task.roles),
        "scoring_areas": list(task.scoring_areas),
    }


def _place(place: Place) -> dict[str, Any]:
    ((at,),) = place.rings
    return {
        "name": place.name,
        "lat": round(at[1], 9),
        "lon": round(at[0], 9),
    }


def _named(event: Event) -> Iterator[str]:
    """Yield the names of points that tasks, marks and declarations name."""
    for task in event.tasks:
        yield from (*task.targets, *task.roles.values())
    for flight in event.flights:
        for keying in flight.keyings:
            yield from filter(None, (keying.from_place, keying.from2_place))
        yield from (declared.goal for declared in flight.declarations)
