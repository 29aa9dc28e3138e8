"""A small invented event and desks with clocks that tests set."""

from datetime import UTC, datetime, timedelta

from scorer.event.build import build_event
from scorer.event.model import Blob, Origin
from scorer.event.raw import RawEvent, RawFlight, RawLog, RawRow
from scorer.ledger.acts import DeskId
from scorer.ledger.entry import sha256_of
from scorer.ledger.ledger import Ledger
from scorer.ledger.publish import Computed
from scorer.scoring.results import Results, StandingsTable

HALL = DeskId("hall-00000a")
FIELD = DeskId("field-00000b")
TENT = DeskId("tent-00000c")
MORNING = datetime(2026, 9, 12, 6, 0, tzinfo=UTC)


class Watch:
    """A clock that goes on by one second whenever it is read, or as it is set."""

    def __init__(self, now=MORNING, step_s=1.0):
        self.now = now
        self.step = timedelta(seconds=step_s)

    def __call__(self):
        self.now += self.step
        return self.now


def blob(name, data):
    return Blob(name=name, sha256=sha256_of(data), content=data)


def row(line=None, **fields):
    fields = {name.rstrip("_"): text for name, text in fields.items()}
    where = Origin(where="table.csv", line=line) if line else Origin()
    return RawRow(fields=fields, origin=where)


def tape(pilot, distance, by="ann", task="1", **more):
    return {
        "task": task,
        "pilot": str(pilot),
        "method": "tape",
        "distance": distance,
        "by": by,
        **more,
    }


def place(name, kind="target", lon=10.0, lat=50.0):
    return {
        "type": "Feature",
        "properties": {"name": name, "kind": kind},
        "geometry": {"type": "Point", "coordinates": [lon, lat]},
    }


def small_event():
    """Two pilots, one flight with one task, one log; everything filled once."""
    settings = {
        "format": 1,
        "event": {
            "name": "Meet at Ölmühle",
            "time_zone": "Europe/Berlin",
            "crs": "EPSG:25832",
            "ground_elevation": "310 m",
        },
        "rules": {"book": "festival"},
    }
    flight = RawFlight(
        id="1",
        settings={
            "date": MORNING.date(),
            "qnh_hpa": 1021.0,
            "task": [{"number": 1, "kind": "FIN", "target": "centre"}],
        },
        marks=(row(2, **tape(1, "12.34")), row(3, **tape(2, "40 ft 3 1/2 in"))),
        reports=(row(2, task="1", pilot="2", kind="other", note="waved"),),
        rulings=(
            row(
                2,
                task="1",
                pilot="2",
                decision="impose",
                amount="10",
                unit="task points",
                reason="late at briefing",
                by="director",
            ),
        ),
        logs=(RawLog(blob=blob("logs/001.igc", b"AXXX001\r\n" * 300), pilot=1),),
    )
    return RawEvent(
        settings=settings,
        pilots=(
            row(2, number="1", name="Ödön Vig", crew="Low"),
            row(3, number="2", name="Ines Roth", crew="High"),
        ),
        places=(place("centre"),),
        flights=(flight,),
    )


def create(path, desk=HALL, who="ann", clock=None):
    return Ledger.create(path, desk=desk, who=who, clock=clock or Watch())


def open_at(path, desk=FIELD, who="bob", clock=None, **more):
    return Ledger.open(path, desk=desk, who=who, clock=clock or Watch(), **more)


def computed(ledger, document, **more):
    """Make results of any content at all, to put up."""
    state = ledger.state()
    event = build_event(state.raw(ledger.file))
    results = Results(
        event=event.name,
        book=event.book.name,
        tasks=(),
        findings=(),
        standings=StandingsTable(title="", rows=()),
    )
    return Computed(
        state=state, event=event, results=results, document=document, **more
    )


def without_origins(raw):
    """Reduce a raw event to what was entered, for comparing."""
    return {
        "settings": raw.settings,
        "pilots": [list(r.fields.items()) for r in raw.pilots],
        "places": list(raw.places),
        "terrain": raw.terrain and (raw.terrain, raw.terrain.data),
        "flights": [
            {
                "id": flight.id,
                "settings": flight.settings,
                "logs": [(log, log.blob.data) for log in flight.logs],
                **{
                    table: [list(r.fields.items()) for r in getattr(flight, table)]
                    for table in ("marks", "declarations", "reports", "rulings")
                },
            }
            for flight in raw.flights
        ],
    }
