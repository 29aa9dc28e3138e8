"""Flights and their tasks stand as they are flown, whatever they are called."""

from scorer.event.build import build_event
from tests.scorer.tiny import FIN, tiny_flight, tiny_raw


def test_tasks_stand_in_the_order_of_their_flights_not_of_names():
    def flown(number, day):
        tasks = FIN.replace("number = 1", f"number = {number}")
        return tiny_flight(f"flight-{number}", tasks=tasks, day=day)

    raw = tiny_raw(
        flown(10, "2026-06-03"), flown(1, "2026-06-01"), flown(2, "2026-06-01")
    )
    event = build_event(raw)
    assert [task.number for task in event.tasks] == [1, 2, 10]
    assert [flight.id for flight in event.flights] == [
        "flight-1",
        "flight-2",
        "flight-10",
    ]
