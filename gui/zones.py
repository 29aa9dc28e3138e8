"""Time zones: a box to choose one from, and what the clocks say there."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QCompleter

from scorer.facts import Fact, fact, words

FARTHEST = timedelta(hours=3, minutes=30)
"""Clocks in use are no farther from the sun, summer time and the widest zones included
(common practice, no source)."""
DAY = timedelta(days=1)


def time_zones() -> Sequence[str]:
    """Return the names of all time zones of the IANA database, sorted."""
    return sorted(
        name for name in available_timezones() if "/" in name or name == "UTC"
    )


def zone_box(zone: str) -> QComboBox:
    """Return a box in which a part of a zone's name is enough to find it."""
    box = QComboBox(editable=True)
    box.addItems(time_zones())
    box.setCurrentText(zone)
    box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
    completer = QCompleter(box.model(), box)
    completer.setFilterMode(Qt.MatchFlag.MatchContains)
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    box.setCompleter(completer)
    return box


def clock_there(
    zone: str, lon_deg: float | None, now: datetime | None = None
) -> tuple[Fact, bool]:
    """State what time it is in a zone; tell whether that may be the time at a site."""
    try:
        clock = (now or datetime.now(UTC)).astimezone(ZoneInfo(zone))
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return fact("zone-unknown", zone=words(zone)), False
    said = {"zone": words(zone), "clock": words(f"{clock:%H:%M}")}
    if lon_deg is None:
        return fact("zone-now", **said), True
    sun = clock.astimezone(UTC) + DAY * (lon_deg / 360)
    off = (clock.utcoffset() or timedelta()) - DAY * (lon_deg / 360)
    off = (off + DAY / 2) % DAY - DAY / 2
    if abs(off) <= FARTHEST:
        return fact("zone-now", **said), True
    return fact("zone-far", **said, sun=words(f"{sun:%H:%M}")), False
