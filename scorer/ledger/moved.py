"""Places that were moved after marks were measured from them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from pyproj import Geod

from scorer.event import matters
from scorer.event.matter import Matter
from scorer.facts import fact, length
from scorer.facts import place as named
from scorer.ledger.acts import FlightSet, MarkKeyed, MarkSettled, PlaceSet, RowAct
from scorer.ledger.cells import whole_number
from scorer.ledger.lineage import Lineage
from scorer.ledger.resolve import Current

ROUNDED_M = 0.01
"""A shorter way is one of digits.  Our choice."""
Order = tuple[int, str, int, str]
_GEOD = Geod(ellps="WGS84")


class _Stood(NamedTuple):
    """From when on a place stood where."""

    order: Order
    at: tuple[float, float]


def of_moves(
    lineages: Iterable[Lineage], current: Sequence[Current]
) -> Iterator[Matter]:
    """Yield for each mark that it is of an older place of its target.

    Each is a matter of its own, so that one that is measured again leaves what was accepted
    of the others as it is; people read them together.
    """
    moved = _moved(lineages)
    aims = _aims(current) if moved else {}
    for name, stood in moved.items():
        found: dict[tuple[str, int, int, str, float], None] = {}
        for item in current:
            if not item.is_a((MarkKeyed, MarkSettled)):
                continue
            act = item.act
            assert isinstance(act, RowAct)
            task, pilot = (
                whole_number(act.fields.get(c, "")) for c in ("task", "pilot")
            )
            if task is None or pilot is None or name not in _named(act, aims, task):
                continue
            away_m = _away_m(stood, max(e.order for e in item.entries))
            if away_m > ROUNDED_M:
                role = act.fields.get("mark", "").strip()
                found[act.flight, task, pilot, role, away_m] = None
        for flight, task, pilot, role, away_m in found:
            yield Matter(
                kind=matters.TARGET_MOVED,
                flight=flight,
                task=task,
                pilots=(pilot,),
                mark=role,
                says=fact(
                    "target-moved-after", target=named(name), away=length(away_m)
                ),
            )


def _moved(lineages: Iterable[Lineage]) -> dict[str, list[_Stood]]:
    """Return the points that do not stand where they stood, in their order."""
    found = {}
    for own in lineages:
        if own.versions[0].is_a(RowAct):
            continue  # marks take the place of marks alone
        points = [
            (held.act, _Stood(held.entry.order, at))
            for held in own.versions
            if held.is_a(PlaceSet)
            and isinstance(held.act, PlaceSet)
            and (at := _point(held.act)) is not None
        ]
        if len({stood.at for _, stood in points}) > 1:
            found[points[-1][0].name] = sorted(stood for _, stood in points)
    return found


def _point(act: PlaceSet) -> tuple[float, float] | None:
    geometry = act.feature.get("geometry")
    if not isinstance(geometry, Mapping) or geometry.get("type") != "Point":
        return None
    at = geometry.get("coordinates")
    if not isinstance(at, Sequence) or len(at) < 2:
        return None
    lon, lat = at[0], at[1]
    numbers = isinstance(lon, int | float) and isinstance(lat, int | float)
    return (float(lon), float(lat)) if numbers and abs(lat) <= 90 else None


def _away_m(stood: Sequence[_Stood], order: Order) -> float:
    """Return how far a place stands now from where it stood as a mark was entered."""
    before = [one for one in stood if one.order < order] or stood[:1]
    (lon, lat), (now_lon, now_lat) = before[-1].at, stood[-1].at
    return round(float(_GEOD.inv(lon, lat, now_lon, now_lat)[2]), 2)


def _aims(current: Iterable[Current]) -> dict[tuple[str, int], frozenset[str]]:
    """Return the targets of each task, by flight and number."""
    found = {}
    for item in current:
        if item.is_a(FlightSet) and isinstance(item.act, FlightSet):
            rows = item.act.settings.get("task", ())
            for row in rows if isinstance(rows, list) else ():
                number = row.get("number") if isinstance(row, Mapping) else None
                if isinstance(number, int):
                    found[item.act.flight, number] = _targets(row)
    return found


def _targets(row: Mapping[str, Any]) -> frozenset[str]:
    given = row.get("targets", row.get("target", ()))
    if isinstance(given, str):
        return frozenset({given})
    names = given.values() if isinstance(given, Mapping) else given
    return (
        frozenset(str(n) for n in names) if isinstance(names, Iterable) else frozenset()
    )


def _named(
    act: RowAct, aims: Mapping[tuple[str, int], frozenset[str]], task: int
) -> set[str]:
    """Return the points that a mark hangs on: its target, and what it was taken from."""
    own = {act.fields.get(column, "").strip() for column in ("from", "from2")}
    return own | aims.get((act.flight, task), frozenset())
