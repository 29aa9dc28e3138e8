"""The next event made from the last one: rules, places and texts; people when asked."""

from collections.abc import Mapping
from typing import Any

from scorer.event.build import FORMAT, NOTE
from scorer.event.columns import ABOUT_PEOPLE
from scorer.event.raw import RawEvent, RawRow

_COLUMNS = "public_columns"


def next_event(
    last: RawEvent, event: Mapping[str, Any], book: str = "", *, people: bool = False
) -> RawEvent:
    """Make an event of what stays from year to year.

    Rules, places, terrain and all other settings are taken as they stood.  Flights, marks,
    decisions and whatever was published stay behind.

    Parameters
    ----------
    last : RawEvent
        The last event.
    event : mapping
        Keys of `[event]` that are given anew.
    book : str
        Another rule book; empty = that of the last event.
    people : bool
        Takes the roster too, but none of its private columns.
    """
    old = last.settings.get("event")
    known = dict(old) if isinstance(old, Mapping) else {}
    public = {str(name).casefold() for name in known.get(_COLUMNS, ())}
    if not people and _COLUMNS in known:
        known[_COLUMNS] = [n for n in known[_COLUMNS] if str(n).casefold() == NOTE]
    rules = last.settings.get("rules", {})
    settings = {
        **last.settings,
        "format": FORMAT,
        "event": {**known, **event},
        "rules": {**rules, "book": book} if book else rules,
    }
    pilots = [_public(row, public) for row in last.pilots] if people else ()
    return RawEvent(
        settings=settings,
        pilots=tuple(pilots),
        places=last.places,
        terrain=last.terrain,
    )


def _public(row: RawRow, public: set[str]) -> RawRow:
    """Return a line of the roster without its private columns."""
    own = {
        name: text
        for name, text in row.fields.items()
        if name in ABOUT_PEOPLE or name.casefold() in public
    }
    return RawRow(fields=own)
