"""Read entries of marks once more, and compare them with what steps say was entered."""

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from scorer.recount.marks import taped_m
from scorer.recount.numbers import Difference, differ, exact, exact_text
from scorer.recount.statements import statements_of

Fields = Mapping[str, str]
_BEARING = re.compile(r"(\d{1,3}(?:[.,]\d+)?)\s*°?\s*[tm]?", re.IGNORECASE)
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_SIDES = {"l": "left", "r": "right"}
_STRANGE = re.compile(r"[a-df-lo-rt-vx-z]", re.IGNORECASE)
"""Letters that stand in no coordinate: all but the quarters of the sky and metres."""
_NEAR = Fraction(1, 10**6)
_OPEN = "step-entries-open"
_STEP = {
    "once": "step-entered",
    "agree": "step-entries-agree",
    "differ": _OPEN,
    "settled": "step-entries-settled",
    "reopened": _OPEN,
}
"""The step that says how far the entries of a mark have come."""
ENTERING = frozenset({*_STEP.values(), "step-entries-adjusted"})


def read_entry(row: Fields, units: str) -> dict[str, Any] | None:
    """Return what an entry says, as steps say it; None where this reader cannot tell."""
    reader = _READERS.get(row.get("method", "").strip().casefold())
    told = None if reader is None else reader(row, "ft" if units == "imperial" else "m")
    return (
        None
        if told is None
        else {"by": row.get("by", "").strip() or "somebody", **told}
    )


def _taped(row: Fields, bare: str) -> dict[str, Any] | None:
    metres = taped_m(row.get("distance", ""), row.get("unit") or bare)
    if metres is None:
        return None
    start, turned = _start("start", row.get("from", "")), row.get("bearing", "").strip()
    if not turned:
        kind = "entry-tape-from" if row.get("from") else "entry-tape"
        return {
            "kind": kind,
            "distance_m": metres,
            **(start if row.get("from") else {}),
        }
    match = _BEARING.fullmatch(turned)
    if match is None:
        return None
    degrees = exact_text(match[1].replace(",", ".")) % 360
    return {
        "kind": "entry-bearing",
        "distance_m": metres,
        "bearing_bearing_deg": degrees,
        **start,
    }


def _two(row: Fields, bare: str) -> dict[str, Any] | None:
    unit = row.get("unit") or bare
    one, other = (
        taped_m(row.get(name, ""), unit) for name in ("distance", "distance2")
    )
    if one is None or other is None:
        return None
    return {
        "kind": f"entry-{row['method'].strip().casefold()}",
        "distance_m": one,
        "other_m": other,
        "side": _SIDES.get(row.get("side", "").strip().casefold(), "either"),
        **_start("start", row.get("from", "")),
        **_start("end", row.get("from2", "")),
    }


def _coordinates(*columns: tuple[str, str], kind: str) -> Any:
    def read(row: Fields, _bare: str) -> dict[str, Any] | None:
        texts = [row.get(column, "").strip() for column, _ in columns]
        if not all(map(_NUMBER.fullmatch, texts)):
            return None
        at = {
            name: exact_text(text)
            for (_, name), text in zip(columns, texts, strict=True)
        }
        return {"kind": "entry-coordinates", "at": {"kind": kind, **at}}

    return read


def _start(name: str, place: str) -> dict[str, str]:
    return {f"{name}_place": place.strip()} if place.strip() else {name: "the-target"}


_READERS = {
    "tape": _taped,
    "polar": _taped,
    "arcs": _two,
    "offset": _two,
    "grid": _coordinates(
        ("easting", "east_number"),
        ("northing", "north_number"),
        kind="grid-coordinates",
    ),
    "latlon": _coordinates(
        ("lat", "lat_position_deg"),
        ("lon", "lon_position_deg"),
        kind="latitude-longitude",
    ),
    "none": lambda _row, _bare: {"kind": "entry-none"},
}


def same(told: Any, read: Any) -> bool:
    """Tell whether a statement says what was read; names of places in any case."""
    if isinstance(read, Mapping):
        return (
            isinstance(told, Mapping)
            and told.keys() == read.keys()
            and all(same(told[name], read[name]) for name in read)
        )
    if isinstance(read, list | tuple):
        return (
            isinstance(told, list)
            and len(told) == len(read)
            and all(map(same, told, read))
        )
    if isinstance(read, str):
        return isinstance(told, str) and told.casefold() == read.casefold()
    if isinstance(told, bool) or not isinstance(told, int | Fraction):
        return False
    return bool(abs(told - read) <= _NEAR * max(1, abs(read)))


def check_entries_said(
    where: str, score: Mapping[str, Any], units: str
) -> Iterator[Difference]:
    """Compare each entry that the steps of a score state with the rows as entered."""
    rows = [k["fields"] for mark in score["marks"] for k in mark["keyings"]]
    read = [read_entry(row, units) for row in rows]
    for row, own in zip(rows, read, strict=True):
        if own is None and _unreadable(row):
            yield from differ(f"{where}, an entry", dict(row), "a measurement")
    if None not in read:
        for at, stated in statements_of(score["steps"], where, within=True):
            known = stated["kind"] in _KINDS
            if known and not any(same(stated, own) for own in read):
                yield from differ(f"{at}: an entry", dict(stated), read)
            if stated["kind"] == "entries-differ" and "gap_exact_m" in stated:
                yield from _check_gap(at, stated)
    yield from _check_states(where, score)


def _unreadable(row: Fields) -> bool:
    """Tell whether nobody reads a row as a measurement: no other spelling is left."""
    method = row.get("method", "").strip().casefold()
    if method in {"grid", "latlon"}:
        names = ("easting", "northing") if method == "grid" else ("lat", "lon")
        told = [row.get(name, "").strip() for name in names]
        return any(map(_STRANGE.search, told)) or not all(told)
    return method in {"tape", "polar", "arcs", "offset"}


def _check_gap(where: str, stated: Mapping[str, Any]) -> Iterator[Difference]:
    """Entries differ by what they are apart, and by more than they may."""
    gap, may = (exact(stated[name]) for name in ("gap_exact_m", "tolerance_exact_m"))
    yield from differ(f"{where}, more than they may", 0 <= may < gap, True)
    entries = stated["entries"]
    if {own["kind"] for own in entries} == {"entry-tape"}:
        far = [exact(own["distance_m"]) for own in entries]
        if abs(max(far) - min(far) - gap) > _NEAR * max(far):
            yield from differ(f"{where}, apart", gap, max(far) - min(far))


_KINDS = frozenset(
    {
        "entry-tape",
        "entry-tape-from",
        "entry-bearing",
        "entry-arcs",
        "entry-offset",
        "entry-coordinates",
        "entry-none",
    }
)


def _check_states(where: str, score: Mapping[str, Any]) -> Iterator[Difference]:
    """Each mark with entries has its one step, which says how far they have come."""
    said = [_entering(step) for step in score["steps"]]
    found = [step for step in said if step is not None]
    marks = [mark for mark in score["marks"] if mark["keyings"]]
    yield from differ(f"{where}, steps of entries", len(found), len(marks))
    for (name, step), mark in zip(found, marks, strict=False):
        own = f"{where}, mark {mark['mark']}".rstrip()
        yield from differ(f"{own}, name", name, mark["mark"])
        allowed = {_STEP.get(mark["state"], ""), _OPEN, "step-entries-adjusted"}
        if step["kind"] not in allowed:
            yield from differ(f"{own}, {mark['state']}", step["kind"], sorted(allowed))
        if mark["state"] in {"agree", "differ"} and mark["method"] != "adjusted":
            yield from differ(f"{own}, entered once", len(mark["keyings"]) > 1, True)
        kinds = {said["kind"] for _, said in statements_of(step, own, within=True)}
        if "entries-differ" in kinds and len(mark["keyings"]) > 1:
            open_ = mark["state"] in {"differ", "reopened", "settled"}
            yield from differ(f"{own}, entries that differ", open_, True)
        if mark["state"] == "once" and mark["method"] != "adjusted":
            by = {keying["by"].strip().casefold() for keying in mark["keyings"]}
            yield from differ(f"{own}, entered by one", len(by - {""}) > 1, False)
        if mark["state"] in {"differ", "reopened"}:
            yield from differ(f"{own}, {mark['state']}", step["kind"], _OPEN)
        if "entries_count" in step:
            yield from differ(
                f"{own}, entries", step["entries_count"], len(mark["keyings"])
            )
        if step["kind"] == _STEP["settled"]:
            reasons = {
                row["fields"].get("settles", "").strip() for row in mark["keyings"]
            }
            if step["reason"] not in reasons:
                yield from differ(f"{own}, reason", step["reason"], sorted(reasons))
    still_open = any(step["kind"] == _OPEN for _, step in found)
    if still_open:
        yield from differ(f"{where}, settled", score["settled"], False)


def check_settled(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Marks are settled where nothing is open about them, and open where it is."""
    open_ = {
        (matter["task"], pilot)
        for matter in results["matters"]
        if matter["kind"] in {"unsettled", "keying", "no-mark"}
        for pilot in matter["pilots"]
    }
    for task in results["tasks"]:
        for score in task["scores"]:
            where = f"task {task['task']}, pilot {score['pilot']}"
            told = (task["task"], score["pilot"]) not in open_
            yield from differ(f"{where}, settled", score["settled"], told)
            for mark in score["marks"]:
                yield from _check_method(f"{where}, method", mark)


def _check_method(where: str, mark: Mapping[str, Any]) -> Iterator[Difference]:
    """A mark is of the method of one of its entries, unless several were adjusted."""
    own = {keying["method"] for keying in mark["keyings"]}
    if (
        own
        and "log" not in own
        and mark["method"] != "adjusted"
        and mark["method"] not in own
    ):
        yield from differ(where, mark["method"], sorted(own))


def _entering(step: Mapping[str, Any]) -> tuple[str, Mapping[str, Any]] | None:
    """Return a step of entries with the name of its mark; None for any other step."""
    if step["kind"] == "step-of-mark":
        return step["mark"], step["step"]
    return ("", step) if step["kind"] in ENTERING else None


def of_pilot(
    rows: Sequence[Mapping[str, str]], task: int | None, pilot: int
) -> list[Mapping[str, str]]:
    """Return the rows of a table that are about one pilot in one task."""
    return [
        r
        for r in rows
        if whole(r.get("task")) == task and whole(r.get("pilot")) == pilot
    ]


def whole(text: str | None) -> int | None:
    """Return the number that was entered for a task or pilot; None for none."""
    match = re.fullmatch(r"\D*0*(\d{1,9})\s*", text or "")
    return None if match is None else int(match[1])


def places_named(results: Mapping[str, Any], *, places: bool = True) -> frozenset[str]:
    """Return what tasks and declarations name, and the places there, in lower case."""
    entered = results["entered"]
    names = [place["name"] for place in entered["places"]] if places else []
    for task in entered["tasks"]:
        names += [*task["targets"], *task["scoring_areas"], *task["roles"].values()]
    names += [row.get("goal", "") for row in entered["declarations"]]
    return frozenset(name.strip().casefold() for name in names)


def check_places(
    where: str, score: Mapping[str, Any], known: frozenset[str]
) -> Iterator[Difference]:
    """Steps name no place that nothing else names."""
    own = {
        keying["fields"].get(name, "").strip().casefold()
        for mark in score["marks"]
        for keying in mark["keyings"]
        for name in ("from", "from2")
    }
    for _, stated in statements_of(score["steps"], where, within=True):
        for name in ("start_place", "end_place", "area_place"):
            place = stated.get(name)
            if isinstance(place, str) and place.casefold() not in known | own:
                yield from differ(
                    f"{where}, a place of its steps", place, "one that is set"
                )
        for place in stated.get("areas", ()):
            if place["place"].casefold() not in known:
                yield from differ(
                    f"{where}, an area", place["place"], "one that is set"
                )
