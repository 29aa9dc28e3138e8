"""Hold places of marks against what was entered of them: distances, bearings, grid."""

from collections.abc import Iterator, Mapping
from math import degrees, hypot
from typing import Any

from scorer.recount.entries import read_entry, whole
from scorer.recount.globe import (
    GlobePoint,
    MercatorZone,
    grid_of,
    line,
    places_of,
    spot_of,
)
from scorer.recount.numbers import Difference, differ

_NEAR_M = 0.03
"""Places of marks are published to 7 decimals of a degree, a centimetre each way."""
_TOLD_M = 0.001
_FAR_M = 0.5
"""Degrees far beyond the event's plane come back from it less exactly."""
_RAISED = 1e-3
"""Share by which a length on the ground, or on the grid, may differ from the ellipsoid's:
6,000 m of height, or 300 km from the middle of a zone."""


def check_survey(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield marks that do not lie where their entries put them."""
    entered = results["entered"]
    places = places_of(entered)
    grid = grid_of(entered["reference_system"])
    targets = {task["task"]: task["targets"] for task in entered["tasks"]}
    moved = {
        whole(row.get("task"))
        for row in entered["targets"]
        if row.get("event", "").strip().casefold() == "moved"
    }
    for task in results["tasks"]:
        # a target that was moved stood elsewhere for some of its marks
        named = [] if task["task"] in moved else targets.get(task["task"], [])
        target = places.get(named[0].casefold()) if len(named) == 1 else None
        for score in task["scores"]:
            for mark in score["marks"]:
                where = (
                    f"task {task['task']}, pilot {score['pilot']}, mark {mark['mark']}"
                )
                own = _Mark(mark, target, places, grid, entered["units"])
                yield from own.check(where.rstrip(" ,"))


class _Mark:
    """One mark with a place."""

    def __init__(
        self,
        mark: Mapping[str, Any],
        target: GlobePoint | None,
        places: Mapping[str, GlobePoint],
        grid: MercatorZone | None,
        units: str,
    ) -> None:
        self.mark, self.target, self.places = mark, target, places
        self.grid, self.units = grid, units
        self.at = spot_of(mark)

    def check(self, where: str) -> Iterator[Difference]:
        half = (self.mark["lat"] is None) != (self.mark["lon"] is None)
        yield from differ(f"{where}, half a place", half, False)
        yield from self.taped(where)
        if self.at is None:
            return
        if self.mark["distance_m"] is not None and self.target is not None:
            yield from self.away(where, self.target, float(self.mark["distance_m"]))
        rows = [keying["fields"] for keying in self.mark["keyings"]]
        if self.mark["method"] == "adjusted" or not rows:
            return
        read = [(row, read_entry(row, self.units)) for row in rows]
        told = [
            list(self.entry(where, row, own)) for row, own in read if own is not None
        ]
        if len(told) == len(rows) and all(told):  # no entry puts it there
            yield from told[0]

    def taped(self, where: str) -> Iterator[Difference]:
        """A mark of one tape is as far away as was taped; none is nowhere."""
        rows, far = self.mark["keyings"], self.mark["distance_m"]
        if self.mark["method"] == "none":
            yield from differ(f"{where}, distance of no mark", far, None)
        if len(rows) != 1 or self.mark["method"] != "tape" or far is None:
            return
        read = read_entry(rows[0]["fields"], self.units)
        if read and abs(float(read["distance_m"]) - float(far)) > _TOLD_M:
            yield from differ(f"{where}, taped", far, read["distance_m"])

    def entry(
        self, where: str, row: Mapping[str, str], read: Mapping[str, Any]
    ) -> Iterator[Difference]:
        kind = read["kind"]
        if kind == "entry-none" or self.at is None:
            return
        if kind == "entry-coordinates":
            yield from self.coordinates(where, read["at"])
            return
        start = self.start(row.get("from", ""))
        if start is None or kind == "entry-offset":
            return
        yield from self.away(where, start, float(read["distance_m"]))
        if kind == "entry-arcs":
            other = self.start(row.get("from2", ""))
            if other is not None:
                yield from self.away(where, other, float(read["other_m"]))
        elif "bearing_bearing_deg" in read:
            yield from self.turned(
                where, start, row, float(read["bearing_bearing_deg"])
            )

    def start(self, name: str) -> GlobePoint | None:
        return self.places.get(name.strip().casefold()) if name.strip() else self.target

    def away(
        self, where: str, start: GlobePoint, metres: float
    ) -> Iterator[Difference]:
        assert self.at is not None
        length = line(start, self.at).length_m
        if abs(length - metres) > _NEAR_M + _RAISED * metres:
            yield from differ(
                f"{where}, from its start", round(metres, 2), round(length, 2)
            )

    def turned(
        self, where: str, start: GlobePoint, row: Mapping[str, str], bearing: float
    ) -> Iterator[Difference]:
        """Compare a bearing from true or grid north; one of a compass is not known."""
        assert self.at is not None
        own, north = line(start, self.at), row["bearing"].strip()[-1:].casefold()
        if north == "m" or own.length_m < 1:
            return
        found = own.bearing_deg
        if north != "t":
            if self.grid is None:
                return
            found -= self.grid.turn_deg(start)
        gap = abs((found - bearing + 180) % 360 - 180)
        if gap > 0.02 + degrees(_NEAR_M / own.length_m):
            yield from differ(f"{where}, bearing", bearing, round(found % 360, 2))

    def coordinates(self, where: str, at: Mapping[str, Any]) -> Iterator[Difference]:
        assert self.at is not None
        if at["kind"] == "latitude-longitude":
            entered = GlobePoint(
                float(at["lat_position_deg"]), float(at["lon_position_deg"])
            )
            gap = line(entered, self.at).length_m
        elif self.grid is not None:
            east, north = self.grid.of(self.at)
            gap = hypot(
                east - float(at["east_number"]), north - float(at["north_number"])
            )
        else:
            return
        if gap > (_NEAR_M if at["kind"] == "grid-coordinates" else _FAR_M):
            yield from differ(f"{where}, coordinates", f"{gap:.2f} m away", "there")
