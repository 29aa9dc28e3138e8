"""One way to write a value as JSON, so that equal values have equal bytes.

Nothing is spaced out, text stays UTF-8, and keys are sorted; or they keep the order in
which people wrote them, for an export to give that back.  What TOML has and JSON has not
(dates, times, infinite numbers) is written as an object with one key that starts with
`$`; keys of people's own that start with `$` get one more.
"""

import json
import math
from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any

from scorer.ledger.faults import LedgerError

_READERS = {
    "$date": date.fromisoformat,
    "$time": time.fromisoformat,
    "$datetime": datetime.fromisoformat,
    "$float": float,
}


def to_plain(value: Any) -> Any:
    """Turn a parsed TOML or JSON value into what plain JSON can hold."""
    match value:
        case None | bool() | int() | str():
            return value
        case float():
            return value if math.isfinite(value) else {"$float": repr(value)}
        case datetime():
            return {"$datetime": value.isoformat()}
        case date():
            return {"$date": value.isoformat()}
        case time():
            return {"$time": value.isoformat()}
        case Mapping():
            return {_escaped(key): to_plain(item) for key, item in value.items()}
        case list() | tuple():
            return [to_plain(item) for item in value]
    raise LedgerError(
        f"the ledger cannot hold {value!r} ({type(value).__name__}); "
        "it holds text, numbers, truth values, dates, times, lists and tables"
    )


def from_plain(value: Any) -> Any:
    """Undo `to_plain`; tables come back as dict, lists and tuples as list."""
    if isinstance(value, list):
        return [from_plain(item) for item in value]
    if not isinstance(value, dict):
        return value
    if len(value) == 1:
        ((key, item),) = value.items()
        if key in _READERS:
            return _READERS[key](item)
    return {
        key[1:] if key.startswith("$$") else key: from_plain(item)
        for key, item in value.items()
    }


def canonical(value: Any, *, sort: bool = True) -> str:
    """Write a value in the one canonical way; `sort` False keeps the order of keys."""
    text = json.dumps(
        to_plain(value),
        sort_keys=sort,
        ensure_ascii=False,
        allow_nan=False,
        separators=(",", ":"),
    )
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise LedgerError(
            f"text with half a character (a lone surrogate) in {text[:60]!r}; "
            "type the text again"
        ) from error
    return text


def parse(text: str) -> Any:
    """Read what `canonical` wrote."""
    return from_plain(json.loads(text))


def _escaped(key: object) -> str:
    if not isinstance(key, str):
        raise LedgerError(f"the ledger needs text as keys of tables, found {key!r}")
    return f"${key}" if key.startswith("$") else key
