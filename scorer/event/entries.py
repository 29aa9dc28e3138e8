"""Entries of marks as people made them: who made them, and what they say.

One person is one person however the name is spelled.  What an entry measured is written
as one text, so that a row which settles can name the entries it decides between.
"""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import lru_cache

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_COLON = re.compile(r"\s*:\s*")
_LEADING = ("distance", "unit")
_NAMED = (
    "bearing",
    "from",
    "distance2",
    "from2",
    "side",
    "easting",
    "northing",
    "lat",
    "lon",
    "time",
)


@lru_cache(maxsize=4096)
def folded(text: str) -> str:
    """Return a text as it is compared: letters folded by Unicode, spaces by one."""
    shown = "".join(c for c in text if unicodedata.category(c) != "Cf")
    plain = unicodedata.normalize("NFKC", shown).casefold()
    return " ".join(unicodedata.normalize("NFKC", plain).split())


def same_person(one: str, other: str) -> bool:
    """Tell whether two names are one person; no name is nobody in particular."""
    return bool(folded(one)) and folded(one) == folded(other)


def people(names: Iterable[str]) -> tuple[str, ...]:
    """Return each person once, as first spelled; who has no name is left out."""
    each: dict[str, str] = {}
    for name in names:
        if folded(name):
            each.setdefault(folded(name), " ".join(name.split()))
    return tuple(each.values())


def measured(fields: Mapping[str, str]) -> str:
    """Say what a row of marks.csv measured: `tape 10.00`, `polar 12 bearing 45 from P`."""
    cells = {name: " ".join(text.split()) for name, text in fields.items()}
    parts = [cells.get("method", "").casefold(), *(cells.get(n, "") for n in _LEADING)]
    parts += [f"{name} {cells[name]}" for name in _NAMED if cells.get(name)]
    return " ".join(part for part in parts if part).replace(";", ",")


def entry_text(by: str, fields: Mapping[str, str]) -> str:
    """Say who measured what, as `between` names an entry: `Ann: tape 10.00`."""
    name = " ".join(by.split()).replace(";", ",")
    return f"{name}: {measured(fields)}" if name else measured(fields)


def between(texts: Iterable[str]) -> str:
    """Write the entries that a settling row decides between, for its own column."""
    return "; ".join(dict.fromkeys(texts))


def named_in(text: str) -> frozenset[str]:
    """Return the entries that a `between` names, as `as_named` gives them."""
    return frozenset(as_named(part) for part in text.split(";") if part.strip())


def as_named(text: str) -> str:
    """Return an entry's text as it is compared: 10.00 and 10,0 are one number."""
    return _NUMBER.sub(_plain, _COLON.sub(": ", folded(text)))


def _plain(found: re.Match[str]) -> str:
    return f"{Decimal(found[0].replace(',', '.')).normalize():f}"
