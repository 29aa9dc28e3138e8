"""Hold times of marks against the clocks in their entries; the zone is not told."""

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from fractions import Fraction
from typing import Any

from scorer.recount.forms import CLOCK
from scorer.recount.numbers import Difference, differ, exact, exact_text
from scorer.recount.statements import statements_of

_CLOCK = re.compile(
    r"(?:\d{4}-\d\d-\d\d[T ]+)?T?(\d\d?):?(\d\d)(?::?(\d\d(?:[.,]\d+)?))?(?!\d)"
)
_QUARTER_S = 900
"""Zones are whole quarters of an hour apart."""
_SHOWN_S = Fraction(1, 2)
"""Times of marks are published to whole seconds."""
_MOST_DAYS = 30
"""From the day of a flight: races go on for some."""
_NEAR_S = Fraction(1, 1000)


def check_dates(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield moments of marks and infringements that are far from their flight's day."""
    days = {own["flight"]: own["date"] for own in results["flights"]}
    told = [
        (f"{own['id']}, {end}", days.get(own["flight"]), own[end])
        for own in results["findings"]
        for end in ("from", "to")
    ]
    told += [
        (
            f"task {task['task']}, pilot {score['pilot']}, time",
            days.get(task["flight"]),
            mark["time"],
        )
        for task in results["tasks"]
        for score in task["scores"]
        for mark in score["marks"]
    ]
    for where, day, moment in told:
        if day is None or moment is None:
            continue
        off = datetime.fromisoformat(moment[:10]) - datetime.fromisoformat(day)
        if abs(off.days) > _MOST_DAYS:
            yield from differ(where, moment, f"on or near {day}")


def check_clocks(where: str, score: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield times of marks, and of entries in steps, that no entry gives."""
    every: list[Fraction] = []
    for mark in score["marks"]:
        texts = [keying["fields"].get("time", "") for keying in mark["keyings"]]
        for text in texts:
            if text.strip() and not CLOCK.fullmatch(text.strip()):
                yield from differ(f"{where}, time of an entry", text, "a time")
        read = [_clock_s(text) for text in texts if text.strip()]
        known = [own for own in read if own is not None]
        every += known
        if len(known) < len(read) or not known:
            continue  # in a spelling of its own, or by the log
        at = mark["time"] and datetime.fromisoformat(mark["time"]).timestamp()
        told = None if at is None else Fraction(int(at))
        if told is None or not _fits(told, known, _SHOWN_S):
            label = f"{where}, mark {mark['mark']}".rstrip()
            yield from differ(f"{label}, time", mark["time"], texts)
    for at_, said in statements_of(score["steps"], where, within=True):
        if said["kind"] == "entry-timed" and every:
            told = exact(said["at_time_s"])
            if not _fits(told, every, _NEAR_S):
                yield from differ(f"{at_}, time of an entry", told, "as entered")


def _clock_s(text: str) -> Fraction | None:
    """Return the seconds since midnight that an entry gives; None = another spelling."""
    match = _CLOCK.match(text.strip())
    if match is None:
        return None
    hours, minutes, seconds = match.groups()
    part = exact_text((seconds or "0").replace(",", "."))
    return Fraction(3600 * int(hours) + 60 * int(minutes)) + part


def _fits(told: Fraction, known: list[Fraction], slack: Fraction) -> bool:
    """Tell whether a moment is one of the times, in some zone."""
    gaps = ((told - own) % _QUARTER_S for own in known)
    return any(min(gap, _QUARTER_S - gap) <= slack for gap in gaps)
