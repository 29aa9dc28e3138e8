"""Read single settings of TOML tables, noting each fault with its line."""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from enum import StrEnum
from typing import Any, TypeVar

from scorer.errors import nearest
from scorer.event.model import Origin
from scorer.event.reading import Faults
from scorer.units import Unreadable

E = TypeVar("E", bound=StrEnum)
V = TypeVar("V")

_FIRST_YEAR, _LAST_YEAR = 1900, 2199


class TomlTable:
    """One TOML table; reads by kind, and knows on which line each key stands."""

    def __init__(
        self,
        table: Mapping[str, Any],
        path: str,
        origins: Mapping[str, Origin],
        faults: Faults,
    ) -> None:
        self.table = table
        self.path = path
        self.origins = origins
        self.faults = faults

    def origin(self, key: str) -> Origin:
        """Return where a key stands, or else its table, or else the file."""
        path = f"{self.path}.{key}" if self.path else key
        while path:
            if path in self.origins:
                return self.origins[path]
            path = path.rpartition(".")[0]
        return self.origins.get("", Origin())

    def refuse(self, key: str, found: object, allowed: str, remedy: str = "") -> None:
        """Note that a key cannot stand as it is."""
        field = f"{self.path}.{key}" if self.path else key
        self.faults.add(
            self.origin(key), field=field, found=found, allowed=allowed, remedy=remedy
        )

    def unknown(self, key: str, name: object, known: Iterable[object]) -> None:
        """Note a name that does not exist."""
        field = f"{self.path}.{key}" if self.path else key
        self.faults.unknown(self.origin(key), field, name, known)

    def inside(self, key: str, *, required: bool = False) -> "TomlTable":
        """Return a table below this one, empty when not given."""
        value = self.table.get(key)
        if value is None and required:
            self.refuse(key, "nothing", f"a table [{key}]")
        if value is not None and not isinstance(value, Mapping):
            self.refuse(key, value, f"a table [{key}]")
        path = f"{self.path}.{key}" if self.path else key
        table = value if isinstance(value, Mapping) else {}
        return TomlTable(table, path, self.origins, self.faults)

    def text(self, key: str, *, required: bool = False, default: str = "") -> str:
        """Read a text."""
        value = self.table.get(key)
        if isinstance(value, str) and (value.strip() or not required):
            return value.strip()
        if value is not None or required:
            found = "nothing" if value is None else value
            self.refuse(key, found, "text in quotes")
        return default

    def number(self, key: str, low: float, high: float) -> float | None:
        """Read an optional number within bounds."""
        value = self.table.get(key)
        if value is None:
            return None
        good = isinstance(value, int | float) and not isinstance(value, bool)
        if good and low <= value <= high:
            return float(value)
        self.refuse(key, value, f"a number from {low:g} to {high:g}, without quotes")
        return None

    def whole(self, key: str) -> int | None:
        """Read a required whole number from 1 up."""
        value = self.table.get(key)
        if isinstance(value, int) and not isinstance(value, bool) and value >= 1:
            return value
        self.refuse(
            key, "nothing" if value is None else value, "a whole number from 1 up"
        )
        return None

    def choice(self, key: str, kinds: type[E], default: E | None) -> E | None:
        """Read one of a set of words."""
        value = self.table.get(key)
        if value is None and default is not None:
            return default
        if value in list(kinds):
            return kinds(value)
        self.unknown(key, "nothing" if value is None else value, list(kinds))
        return default

    def one_of(self, key: str, names: Iterable[str]) -> str | None:
        """Read a required name of a registry."""
        value = self.table.get(key)
        known = list(names)
        if isinstance(value, str) and value in known:
            return value
        self.unknown(key, "nothing" if value is None else value, known)
        return None

    def quantity(self, key: str, reader: Callable[[str], V]) -> V | None:
        """Read an optional quantity written as text with its unit."""
        value = self.table.get(key)
        if value is None:
            return None
        if not isinstance(value, str):
            self.refuse(key, value, "text in quotes with its unit")
            return None
        try:
            return reader(value)
        except Unreadable as fault:
            self.refuse(key, value, fault.allowed)
            return None

    def day(self, key: str) -> date | None:
        """Read a required date."""
        value = self.table.get(key)
        try:
            text = value if isinstance(value, str) else ""
            read = value if type(value) is date else date.fromisoformat(text)
        except ValueError:
            read = None
        if read is not None and _FIRST_YEAR <= read.year <= _LAST_YEAR:
            return read
        found = "nothing" if value is None else value
        allowed = f"a date such as 2026-09-12, from {_FIRST_YEAR} to {_LAST_YEAR}"
        self.refuse(key, found, allowed)
        return None

    def names(self, key: str) -> tuple[str, ...]:
        """Read an optional list of names."""
        value = self.table.get(key, [])
        if isinstance(value, list) and all(isinstance(v, str) for v in value):
            return tuple(value)
        self.refuse(key, value, 'a list of names: ["one", "two"]')
        return ()

    def check_keys(self, known: Iterable[str]) -> None:
        """Note keys that nothing reads: most are misspelt."""
        names = tuple(known)
        for key in self.table:
            if key not in names:
                self.refuse(key, key, ", ".join(names), nearest(key, names))
