"""Registries: what the program knows kinds of, each declared once, by name.

Whoever reads, checks, draws or explains asks the declaration; nobody keeps a list of
names of their own.  A registry names the modules that declare into it and loads them when
it is first asked, so that readers of entries know kinds whose work is done further up.
"""

from collections.abc import Iterator, MutableMapping
from importlib import import_module
from typing import TypeVar

T = TypeVar("T")


class Registry(MutableMapping[str, T]):
    """Declarations by name, in the order of declaration."""

    def __init__(self, what: str, *modules: str) -> None:
        self.what = what
        """What it holds, for error messages."""
        self._modules = list(modules)
        self._items: dict[str, T] = {}

    def declare(self, name: str, item: T) -> T:
        """Put a declaration in and return it.

        Raises
        ------
        ValueError
            Another one has this name.
        """
        if self._items.setdefault(name, item) != item:
            raise ValueError(f"two kinds of {self.what} are named {name}")
        return self._items[name]

    def _all(self) -> dict[str, T]:
        while self._modules:
            import_module(self._modules.pop())
        return self._items

    def __getitem__(self, name: str) -> T:
        return self._all()[name]

    def __setitem__(self, name: str, item: T) -> None:
        self._all()[name] = item

    def __delitem__(self, name: str) -> None:
        del self._all()[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())
