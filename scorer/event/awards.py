"""Read the prizes that an event declares: `[[award]]` of event.toml."""

from collections.abc import Iterable, Mapping

from scorer.event.model import Award, AwardFor, AwardTies, Pilot
from scorer.event.settings import TomlTable

AWARD_KEYS = ("name", "for", "task", "day", "class", "places", "ties")
MOST_PLACES = 100
_OWN = {"task": AwardFor.TASK, "day": AwardFor.DAY}
"""Keys that belong to prizes of one kind."""
_AMONG = frozenset({AwardFor.CLASS, AwardFor.DAY, AwardFor.TASK})
"""What may be given within a class."""


def read_awards(top: TomlTable, pilots: Iterable[Pilot]) -> tuple[Award, ...]:
    """Read all prizes; what cannot be read is noted."""
    given = top.table.get("award", [])
    if not isinstance(given, list) or not all(isinstance(t, Mapping) for t in given):
        top.refuse("award", given, "[[award]] tables")
        return ()
    classes = {pilot.class_name for pilot in pilots} - {""}
    tables = [
        TomlTable(table, f"award.{i}", top.origins, top.faults)
        for i, table in enumerate(given)
    ]
    return tuple(_award(table, classes) for table in tables)


def _award(own: TomlTable, classes: set[str]) -> Award:
    own.check_keys(AWARD_KEYS)
    given_for = own.choice("for", AwardFor, None) or AwardFor.OVERALL
    for key, kind in _OWN.items():
        if key in own.table and given_for is not kind:
            own.refuse(key, own.table[key], f'nothing, or for = "{kind}" beside it')
    class_name = own.text("class")
    if class_name and given_for not in _AMONG:
        own.refuse("class", class_name, 'nothing, or for = "class", "day" or "task"')
    elif class_name and classes and class_name not in classes:
        own.unknown("class", class_name, sorted(classes))
    places = own.whole("places") if "places" in own.table else 3
    if places is not None and places > MOST_PLACES:
        own.refuse("places", places, f"at most {MOST_PLACES}")
    return Award(
        name=own.text("name", required=True),
        given_for=given_for,
        task=own.whole("task") if "task" in own.table else None,
        day=own.day("day") if "day" in own.table else None,
        class_name=class_name,
        places=places or 3,
        ties=own.choice("ties", AwardTies, AwardTies.SHARED) or AwardTies.SHARED,
    )
