"""Compare infringements with what they say, with their sums, and with their logs."""

import re
from collections.abc import Iterator, Mapping
from datetime import datetime
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ, exact
from scorer.recount.statements import statements_of

_FIELDS = {
    "limit": ("limit_height_m", "limit_distance_m", "limit_s"),
    "excess": ("depth_height_m", "beyond_distance_m"),
    "measured": ("lowest_height_m", "away_distance_m"),
    "sigma": ("give_or_take_height_m",),
    "probability": ("sure_chance",),
    "duration_s": ("duration_s",),
}
"""Which value of a statement is which value of its infringement."""
_SLACK = {"probability": Fraction(6, 10**5), "duration_s": Fraction(6, 100)}
_HUNDREDTH = Fraction(6, 1000)
_RULES = {
    "floor": ("m", "floor"),
    "ground-contact": ("m", "contact"),
    "launch-area": ("m", "launch"),
    "launch-distance": ("m", "launch"),
    "launch-period": ("s", "launch"),
    "scoring-period": ("s", "scoring"),
    "airspace": ("m", "airspace"),
    "boundary": ("m", "boundary"),
    "night": ("s", "night"),
    "late-declaration": ("s", "declarations"),
}
"""In what infringements are measured, and of which section of the rules they are."""
_ALONE = ("seen-low", "seen-near-minimum", "seen-launch-too-near")
"""Statements that say of one log what the infringement says of it."""
_UNITS = {
    "unit-m": Fraction(1),
    "unit-ft": Fraction("0.3048"),
    "unit-km": Fraction(1000),
    "unit-mi": Fraction("1609.344"),
    "unit-s": Fraction(1),
    "unit-min": Fraction(60),
    "unit-h": Fraction(3600),
}


def check_seen(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Yield where an infringement, its statement and its evidence do not agree."""
    logs = {
        log["sha256"]: log for flight in results["flights"] for log in flight["logs"]
    }
    for finding in results["findings"]:
        where = finding["id"]
        yield from _check_id(where, finding)
        if finding["says"]["kind"] in _ALONE:
            yield from _check_fields(where, finding)
        yield from _check_contact(where, finding)
        yield from _check_measured(where, finding)
        yield from _check_penalty(where, finding)
        log = logs.get(finding["sha256"])
        if finding["sha256"] and log is not None:
            yield from differ(
                f"{where}, pilot of its log", log["pilot"], finding["pilot"]
            )
            if log["name"] not in finding["evidence"]:
                yield from differ(
                    f"{where}, evidence", finding["evidence"], log["name"]
                )


def _check_id(where: str, finding: Mapping[str, Any]) -> Iterator[Difference]:
    """The name of an infringement says kind, task, pilot and the second it began."""
    kind, task, pilot, began = where.split(":")
    again = (finding["kind"], str(finding["task"]), str(finding["pilot"]))
    yield from differ(f"{where}, kind, task and pilot", again, (kind, task, pilot))
    if finding["from"] is not None:
        start = datetime.fromisoformat(finding["from"])
        named = datetime.strptime(f"{began[:-1]}+0000", "%Y%m%dT%H%M%S%z")
        if abs((start - named).total_seconds()) > 1:
            yield from differ(f"{where}, from", finding["from"], began)


def _check_fields(where: str, finding: Mapping[str, Any]) -> Iterator[Difference]:
    says = finding["says"]
    for field, names in _FIELDS.items():
        for name in names:
            if name not in says or finding[field] is None:
                continue
            stated, own = exact(says[name]), exact(finding[field])
            if abs(stated - own) > _SLACK.get(field, _HUNDREDTH):
                yield from differ(f"{where}, {field}", own, stated)


def _check_measured(where: str, finding: Mapping[str, Any]) -> Iterator[Difference]:
    """It is in its unit, of its rules, and where nothing was measured, nothing is told."""
    unit, section = _RULES.get(finding["kind"], (finding["unit"], ""))
    yield from differ(f"{where}, unit", finding["unit"], unit)
    rule = finding["rule"]
    if section and rule is not None and rule["kind"] == "rule-of-event":
        named = rule["rule"] if isinstance(rule["rule"], str) else section
        fits = bool(re.fullmatch(rf"{section}(\.[a-z_]+)?", named))
        yield from differ(f"{where}, its rule", fits, True)
    if finding["says"]["kind"] == "reported" and not finding["sha256"]:
        numbers = [
            exact(value)
            for _, said in statements_of(finding["says"], where, within=True)
            for value in said.values()
            if isinstance(value, int | Fraction)
        ]
        own = finding["measured"]
        near = own is None or any(abs(exact(own) - n) <= _HUNDREDTH for n in numbers)
        yield from differ(f"{where}, measured as reported", near, True)
    if finding["measured"] is None:
        told = [finding[name] for name in ("sigma", "excess") if finding[name]]
        yield from differ(f"{where}, of what nothing measured", told, [])
    half = (finding["lat"] is None) != (finding["lon"] is None)
    yield from differ(f"{where}, half a place", half, False)


def _check_contact(where: str, finding: Mapping[str, Any]) -> Iterator[Difference]:
    """A ground contact is at no height, and as low and sure as its log says."""
    if finding["kind"] != "ground-contact":
        return
    yield from differ(f"{where}, limit", finding["limit"] or 0, 0)
    told = [own for _, own in statements_of(finding["says"], where, within=True)]
    said = [own for own in told if own["kind"] == "contact-height"]
    shown = [own for own in told if own["kind"] == "seen-contact"]
    yield from differ(f"{where}, heights of contacts", len(said), len(shown))
    names = {"measured": "height_height_m", "sigma": "give_or_take_height_m"}
    for field, name in names.items():
        if len(said) != 1 or name not in said[0] or finding[field] is None:
            continue
        if abs(exact(said[0][name]) - exact(finding[field])) > _HUNDREDTH:
            yield from differ(f"{where}, {field}", finding[field], said[0][name])


def _check_penalty(where: str, finding: Mapping[str, Any]) -> Iterator[Difference]:
    """What the rule book asks for is what is charged, unless people set another amount."""
    charges, asked = finding["charges"], finding["penalty"]
    if finding["ruling"] == "set" or not charges:
        return
    if asked is None:
        if finding["ruling"] in {"unruled", "hold", "waive"}:
            yield from differ(f"{where}, penalty", "none", charges[0]["amount"])
        return
    first = charges[0]
    own = (exact(asked["amount"]), asked["unit"])
    yield from differ(f"{where}, penalty", own, (exact(first["amount"]), first["unit"]))
    for charge in charges:
        for part in (charge["figures"] or {}).get("parts", ()):
            yield from _check_units(where, finding, part)


def _check_units(
    where: str, finding: Mapping[str, Any], part: Mapping[str, Any]
) -> Iterator[Difference]:
    """The units that are paid for are the excess, in that unit: exact, begun or whole."""
    if "units" not in part or part.get("of") not in _UNITS:
        return
    unit, paid = _UNITS[part["of"]], exact(part["units"])
    over = max(exact(finding["excess"]), Fraction(0)) / unit
    slack = _HUNDREDTH / unit
    fits = abs(paid - over) <= slack
    if paid.denominator == 1:  # begun or completed ones
        fits = fits or -1 - slack < paid - over < 1 + slack
    if not fits:
        yield from differ(f"{where}, units over the limit", paid, over)
