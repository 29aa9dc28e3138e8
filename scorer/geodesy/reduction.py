"""One keyed measurement under reduction: its fields, its places, what was noted."""

from dataclasses import dataclass, field, replace

from scorer.errors import Fault, InputError
from scorer.event.model import Keying, Method
from scorer.facts import Fact, Step, fact, term
from scorer.geodesy.placed import Spot
from scorer.geodesy.precision import SurveySigmas
from scorer.geodesy.site import Site, Somewhere

_COLUMNS = {
    "distance_m": "distance",
    "bearing_deg": "bearing",
    "from_place": "from",
    "distance2_m": "distance2",
    "from2_place": "from2",
    "easting_m": "easting",
    "northing_m": "northing",
    "lat_deg": "lat",
    "lon_deg": "lon",
}
_NEEDS = {
    Method.TAPE: "a distance; with a bearing it fixes the point too",
    Method.POLAR: "a distance and a bearing, and the named point they start `from`",
    Method.ARCS: "distance, from, distance2, from2 and side (L or R of the line from→"
    "from2)",
    Method.OFFSET: "distance along the line from→from2, distance2 square to it, and side "
    "(L or R of the line)",
    Method.GRID: "easting and northing in the event's reference system, metres",
    Method.LATLON: "lat and lon in degrees, WGS84",
}


@dataclass(slots=True, kw_only=True)
class Reduction:
    """One reduction under way."""

    keying: Keying
    site: Site
    target: Spot | None
    sigmas: SurveySigmas
    steps: list[Step] = field(default_factory=list)
    warnings: list[Fact] = field(default_factory=list)

    @classmethod
    def of(
        cls,
        keying: Keying,
        site: Site,
        target: Somewhere | None,
        sigmas: SurveySigmas | None,
    ) -> "Reduction":
        """Start on a keying; sigmas None = the event's own."""
        return cls(
            keying=keying,
            site=site,
            target=None if target is None else site.spot(target),
            sigmas=sigmas or site.sigmas,
        )

    def need(self, *names: str) -> None:
        """Raise InputError for every field that the method needs and nobody keyed."""
        empty = [name for name in names if getattr(self.keying, name) in (None, "")]
        faults = [
            missing(self.keying, _COLUMNS.get(name, name), self.keying.method)
            for name in empty
        ]
        if faults:
            raise InputError(faults)

    def distance(self, column: str = "distance") -> float:
        """Return a keyed distance; raise InputError where it is none."""
        keying = self.keying
        metres = keying.distance_m if column == "distance" else keying.distance2_m
        if metres is not None and 0 <= metres < float("inf"):
            return metres
        says = fact("entry-without-distance")
        fault = _fault(keying, column, f"{metres}", "a distance, not negative", says)
        raise InputError([fault])

    def place(self, name: str, column: str) -> Spot:
        """Find a named point; an unknown one is a fault of the keyed row."""
        try:
            return self.site.spot(name)
        except InputError as error:
            origin = self.keying.origin
            where = origin.where or "marks.csv"
            raise InputError(
                replace(fault, where=where, line=origin.line, field=column)
                for fault in error.faults
            ) from error

    def start(self) -> Spot:
        """Return the named point that a distance counts from."""
        if self.keying.from_place:
            return self.place(self.keying.from_place, "from")
        if self.target is None:
            raise InputError([missing(self.keying, "from", self.keying.method)])
        return self.target

    def spread_m(self, spot: Spot) -> float:
        """One sigma of a named point against the target, each axis."""
        return 0.0 if self.at_target(spot) else self.sigmas.place_m

    def at_target(self, spot: Spot) -> bool:
        """Tell whether a distance from this point is the result itself."""
        return self.target is not None and spot.point == self.target.point


def missing(keying: Keying, column: str, method: Method, needs: str = "") -> Fault:
    """Say which field a method needs."""
    allowed = f"method {method} needs {needs or _NEEDS[method]}"
    says = fact(f"entry-needs-{method}", lacks=term(f"entry-{column}"))
    return _fault(keying, column, "nothing", allowed, says)


def _fault(keying: Keying, column: str, found: str, allowed: str, says: Fact) -> Fault:
    return Fault(
        where=keying.origin.where or "marks.csv",
        line=keying.origin.line,
        field=column,
        found=found,
        allowed=allowed,
        remedy=f"Pilot {keying.pilot}, task {keying.task}: key the measurement again.",
        says=says,
    )
