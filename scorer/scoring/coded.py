"""Frozen values as plain JSON with arrays beside it, and back: no code travels with it.

What comes back is of the same types, to the last bit: numbers as they were, arrays
byte for byte, kinds as the ones of the registries.  Only classes of this program that hold
nothing but their fields are known; everything else is refused.
"""

import hashlib
import json
import marshal
import struct
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from fractions import Fraction
from functools import cache
from importlib import import_module
from operator import attrgetter
from types import MappingProxyType
from typing import Any, NoReturn, TypeVar

import numpy as np
from shapely import Polygon

from scorer.checks.pilot import Trail
from scorer.checks.winds import Drift
from scorer.event.finding import FindingKind
from scorer.event.finding import kind_named as finding_kind_named
from scorer.event.matter import KINDS, MatterKind
from scorer.event.model import (
    Blob,
    Declaration,
    Keying,
    Pilot,
    Place,
    Report,
    Ruling,
    Task,
)
from scorer.event.place_kinds import PLACE_KINDS, PlaceKind
from scorer.event.rulebook import RuleBook
from scorer.geodesy.mark import Mark
from scorer.geodesy.terrain import Terrain
from scorer.rounding import Exact, Rounded
from scorer.tracks.air import Air

_OURS = "scorer."
_LENGTH = struct.Struct(">Q")
_FORM = 2
"""Of what is only compared: it knows no references, so what is alike looks alike, and
nothing else does.  Later Pythons write it as earlier ones do."""
_COMPACT = json.JSONEncoder(separators=(",", ":"), check_circular=False)
"""A tree that was just made of frozen values has no rings."""
_REGISTRIES: dict[type, Callable[[str], object]] = {
    FindingKind: finding_kind_named,
    MatterKind: KINDS.__getitem__,
    PlaceKind: PLACE_KINDS.__getitem__,
}
"""Kinds travel by name and come back as the one and same."""


def digest(*values: object, known: "Digests | None" = None) -> str:
    """Return a hash of values and of all that they hold.

    Files count by their own hash, as does a grid that was read from one, and what `known`
    tells apart by the hash that it has.
    """
    writer = _Writer(known or Digests())
    tree = writer.tree(values)
    sizes = [len(blob) for blob in writer.blobs]
    made = hashlib.sha256(marshal.dumps([tree, sizes, list(writer.names)], _FORM))
    for blob in writer.blobs:
        made.update(blob)
    return made.hexdigest()


class Digests:
    """Hashes of values that are asked for again and again, by which object they are.

    All of them are frozen, and held here, so that no other takes their place.
    """

    def __init__(self) -> None:
        self._of: dict[int, tuple[object, str]] = {}

    def of(self, value: Any) -> str:
        """Return the hash of one value of `_HASHED`."""
        held = self._of.get(id(value))
        if held is None:
            if len(self._of) >= MOST_HASHED:
                self._of.clear()
            form: Any = type(value)
            held = value, digest(form.__qualname__, *_values(value), known=self)
            self._of[id(value)] = held
        return held[1]


MOST_HASHED = 200_000
_HASHED: set[Any] = {
    *(Air, Declaration, Drift, Keying, Mark, Pilot),
    *(Place, Report, RuleBook, Ruling, Task, Trail),
}
"""What many keys share."""
_Form = TypeVar("_Form", bound=type)


def hashed_once(form: _Form) -> _Form:
    """Declare a class of frozen values that many keys share."""
    _HASHED.add(form)
    return form


def encode(value: object) -> bytes:
    """Return a value as bytes that `decode` reads.

    Raises
    ------
    TypeError
        It holds something that is no plain value of this program.
    """
    writer = _Sharing()
    return b"".join(_packed([writer.tree(value), writer.nodes], writer))


def decode(data: bytes) -> Any:
    """Return the value that bytes stand for.

    Raises
    ------
    ValueError, LookupError, TypeError, struct.error
        They are no such bytes.
    """
    (length,) = _LENGTH.unpack_from(data)
    at = _LENGTH.size + length
    (root, nodes), sizes, names = json.loads(data[_LENGTH.size : at])
    blobs = []
    for size in sizes:
        blobs.append(data[at : at + size])
        at += size
    if at != len(data):
        raise ValueError("the arrays are not whole")
    return _Reader(blobs, [_class_of(name) for name in names]).value(root, nodes)


def _packed(tree: object, writer: "_Writer") -> list[bytes]:
    sizes = [len(blob) for blob in writer.blobs]
    text = _COMPACT.encode([tree, sizes, list(writer.names)]).encode()
    return [_LENGTH.pack(len(text)), text, *writer.blobs]


@cache
def _fields(form: Any) -> tuple[str, ...]:
    if issubclass(form, tuple):
        return tuple(form._fields)
    return tuple(field.name for field in fields(form))


@cache
def _taken(form: Any) -> Callable[[Any], tuple[Any, ...]]:
    """Return what takes the values of all fields."""
    names = _fields(form)
    if len(names) > 1:
        return attrgetter(*names)
    return lambda value: tuple(getattr(value, name) for name in names)


def _values(value: Any) -> tuple[Any, ...]:
    form: Any = type(value)
    return _taken(form)(value)


def _class_of(name: str) -> Any:
    module, _, own = name.partition(":")
    if not module.startswith(_OURS):
        raise ValueError(f"{name} is no class of this program")
    form = getattr(import_module(module), own)
    if not isinstance(form, type) or not _plain(form):
        raise ValueError(f"{name} holds more than values")
    return form


@cache
def _plain(form: Any) -> bool:
    named = issubclass(form, tuple) and hasattr(form, "_fields")
    return is_dataclass(form) or named or issubclass(form, Enum)


class _Writer:
    """Makes a tree of JSON; bytes are put beside it.

    With `known`, what has a hash counts by it, and nobody can read the tree back.
    """

    def __init__(self, known: Digests | None = None) -> None:
        self.known = known
        self.blobs: list[bytes] = []
        self.names: dict[str, int] = {}

    def tree(self, value: Any) -> Any:
        form: Any = type(value)
        if form in _BARE:
            return value
        if self.known is not None and form in _HASHED:
            return ["h", self.known.of(value)]
        return _how(form)(self, value)

    def trees(self, values: Iterable[Any]) -> list[Any]:
        """Make trees of several values; most are numbers and texts as they stand."""
        return [one if type(one) in _BARE else self.tree(one) for one in values]

    def name(self, form: type) -> int:
        """Return the number of a class."""
        return self.names.setdefault(_name(form), len(self.names))

    def _put(self, data: bytes) -> int:
        self.blobs.append(data)
        return len(self.blobs) - 1

    def array(self, value: np.ndarray[Any, Any]) -> Any:
        if value.dtype.hasobject:
            raise TypeError("an array of objects is no plain value")
        return ["a", self._put(value.tobytes()), value.dtype.str, list(value.shape)]

    def mapping(self, value: Mapping[Any, Any]) -> Any:
        return ["d", *self.trees(one for pair in value.items() for one in pair)]

    def members(self, value: frozenset[Any]) -> Any:
        if all(type(one) is int for one in value):
            return ["f", *sorted(value)]  # marks a track reaches: many, and often
        return ["f", *sorted(self.trees(value), key=json.dumps)]

    def bytes_(self, value: bytes) -> Any:
        return ["b", self._put(value)]

    def file(self, value: Blob) -> Any:
        if self.known is not None:
            return ["B", value.name, value.sha256, value.size]
        return [
            "c",
            self.name(Blob),
            *self.trees((value.name, value.sha256, value.data)),
        ]

    def terrain(self, value: Terrain) -> Any:
        if self.known is not None and value.sha256:
            names = (name for name in _fields(Terrain) if name != "data")
            own = self.trees(getattr(value, name) for name in names)
            return ["T", list(value.data.shape), *own]
        return ["c", self.name(Terrain), *self.trees(_values(value))]


_How = Callable[[_Writer, Any], Any]


@cache
def _how(form: Any) -> _How:
    """Return what makes a tree of values of a class."""
    known = _WRITERS.get(form)
    if known is not None:
        return known
    if form in _REGISTRIES:
        return lambda own, value: ["k", own.name(form), value.name]
    if issubclass(form, Enum):
        return lambda own, value: ["e", own.name(form), value.name]
    if issubclass(form, np.generic):
        return lambda _, value: ["n", value.dtype.str, value.tobytes().hex()]
    if form.__module__.startswith(_OURS) and _plain(form):
        taken = _taken(form)
        return lambda own, value: ["c", own.name(form), *own.trees(taken(value))]
    return _refused


def _refused(_: _Writer, value: object) -> NoReturn:
    raise TypeError(f"{type(value).__qualname__} is no plain value")


@cache
def _name(form: type) -> str:
    return f"{form.__module__}:{form.__qualname__}"


class _Sharing(_Writer):
    """Makes a list of nodes, each before those that hold it; what is alike stands once.

    Of results that is two nodes in three.  A node names others by a list of their number.
    """

    def __init__(self) -> None:
        super().__init__()
        self.nodes: list[Any] = []
        self._alike: dict[bytes, int] = {}
        self._seen: dict[int, int] = {}
        """By which object it is: whoever holds the whole value holds all of them."""

    def tree(self, value: Any) -> Any:
        form: Any = type(value)
        if form in _BARE:
            return value
        at = self._seen.get(id(value))
        if at is None:
            node = _how(form)(self, value)
            at = len(self.nodes)
            if node[0] not in _MUTABLE:
                at = self._alike.setdefault(marshal.dumps(node, _FORM), at)
            if at == len(self.nodes):
                self.nodes.append(node)
            self._seen[id(value)] = at
        return [at]


_MUTABLE = frozenset({"l", "d"})
"""Each of these is one of its own."""
_BARE = frozenset({bool, int, float, str, type(None)})
_WRITERS: dict[type, _How] = {
    tuple: lambda own, value: ["t", *own.trees(value)],
    list: lambda own, value: ["l", *own.trees(value)],
    np.ndarray: _Writer.array,
    dict: _Writer.mapping,
    MappingProxyType: _Writer.mapping,
    frozenset: _Writer.members,
    bytes: _Writer.bytes_,
    Blob: _Writer.file,
    Terrain: _Writer.terrain,
    Fraction: lambda _, value: ["q", str(value)],
    Exact: lambda _, value: ["x", str(value.fraction)],
    Rounded: lambda _, value: ["r", str(value.fraction), value.decimals],
    date: lambda _, value: ["D", value.isoformat()],
    datetime: lambda _, value: ["M", value.isoformat()],
    Polygon: lambda _, value: ["p", value.wkb_hex],
}


class _Reader:
    """Makes values of nodes."""

    def __init__(self, blobs: list[bytes], classes: list[Any]) -> None:
        self.blobs = blobs
        self.classes = classes
        self.made: list[Any] = []

    def value(self, root: Any, nodes: list[list[Any]]) -> Any:
        for node in nodes:
            self.made.append(_READERS[node[0]](self, node))
        (found,) = self.values([root])
        return found

    def values(self, trees: list[Any]) -> list[Any]:
        made = self.made
        return [made[one[0]] if type(one) is list else one for one in trees]

    def one(self, tree: list[Any]) -> Any:
        form = self.classes[tree[1]]
        return form(**dict(zip(_fields(form), self.values(tree[2:]), strict=True)))

    def kind(self, tree: list[Any]) -> Any:
        return _REGISTRIES[self.classes[tree[1]]](tree[2])

    def member(self, tree: list[Any]) -> Any:
        return self.classes[tree[1]][tree[2]]

    def array(self, tree: list[Any]) -> Any:
        flat = np.frombuffer(self.blobs[tree[1]], dtype=_numbers(tree[2]))
        return flat.reshape(tree[3])

    def mapping(self, tree: list[Any]) -> Any:
        own = iter(self.values(tree[1:]))
        return dict(zip(own, own, strict=True))


def _numbers(name: str) -> np.dtype[Any]:
    found = np.dtype(name)
    if found.hasobject:
        raise ValueError("an array of objects is no plain value")
    return found


def _fraction(text: str) -> Fraction:
    above, _, below = text.partition("/")
    return Fraction(int(above), int(below or 1))


def _one_number(tree: list[Any]) -> Any:
    return np.frombuffer(bytes.fromhex(tree[2]), dtype=_numbers(tree[1]))[0]


_READERS: dict[str, Callable[[_Reader, list[Any]], Any]] = {
    "t": lambda own, tree: tuple(own.values(tree[1:])),
    "l": lambda own, tree: own.values(tree[1:]),
    "f": lambda own, tree: frozenset(own.values(tree[1:])),
    "d": _Reader.mapping,
    "c": _Reader.one,
    "k": _Reader.kind,
    "e": _Reader.member,
    "a": _Reader.array,
    "b": lambda own, tree: own.blobs[tree[1]],
    "n": lambda _, tree: _one_number(tree),
    "q": lambda _, tree: _fraction(tree[1]),
    "x": lambda _, tree: Exact(_fraction(tree[1])),
    "r": lambda _, tree: Rounded(_fraction(tree[1]), tree[2]),
    "D": lambda _, tree: date.fromisoformat(tree[1]),
    "M": lambda _, tree: datetime.fromisoformat(tree[1]),
}
