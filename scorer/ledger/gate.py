"""The one gate through which acts come in: at writing, merging, restoring and replay.

What an act may hold is read off its class: the types of its fields, and the bounds that
stand beside them (`Annotated[...]`, `scorer.ledger.bounds`).  An act that does not pass is
set aside, never applied, and stays in the file.
"""

import json
import math
import types
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from datetime import date, datetime, time
from enum import Enum
from functools import cache
from typing import Annotated, Any, NoReturn, Union, get_args, get_origin, get_type_hints

from scorer.ledger.acts import (
    ACTS,
    Act,
    Document,
    EntryId,
    EntryKind,
    Sha256,
    to_payload,
)
from scorer.ledger.bounds import (
    MOST_ITEMS,
    MOST_PAYLOAD,
    NAME,
    PROSE,
    CellsBound,
    MomentBound,
    Names,
    Text,
    Tree,
    Whole,
)
from scorer.ledger.canonical import from_plain
from scorer.ledger.faults import LedgerError

Check = Callable[[str, Any], Any]
"""Takes the field's path and its value as parsed; returns the value as the act holds it."""
_DIGITS = frozenset("0123456789abcdef")
_SHOWN = 60
"""Characters of a value that a message shows."""


class UnfitError(LedgerError):
    """Content that no act may have."""

    def __init__(self, field: str, found: str, allowed: str) -> None:
        super().__init__(f"{field}: found {found}; allowed: {allowed}")
        self.field = field
        self.found = found
        self.allowed = allowed

    def __reduce__(self) -> tuple[type["UnfitError"], tuple[str, str, str]]:
        return UnfitError, (self.field, self.found, self.allowed)


def read_act(kind: str, payload: str) -> Act:
    """Read an act as stored; raise UnfitError where it does not pass."""
    if kind not in ACTS:
        allowed = "a kind of entry that this version of the program knows"
        _refuse("kind", kind, allowed)
    form = ACTS[EntryKind(kind)]
    if len(payload) > MOST_PAYLOAD:
        _refuse("content", f"{len(payload):,} characters", f"at most {MOST_PAYLOAD:,}")
    try:
        found = _JSON.decode(payload)
        if "\\u" in payload:  # the one way to half a character
            json.dumps(found, ensure_ascii=False).encode()
        plain = "$" not in payload and "\\" not in payload
        return _made(form, found if plain else from_plain(found))
    except (ValueError, TypeError, AttributeError) as error:
        raise UnfitError("content", _cut(str(error)), "an act as JSON") from error
    except RecursionError as error:
        found = "lists within lists without end"
        raise UnfitError("content", found, "an act as JSON") from error


def check_act(act: Act) -> None:
    """Raise UnfitError for an act that would be set aside once written."""
    read_act(str(act.kind), to_payload(act))


@cache
def references(form: type[Act]) -> Mapping[str, tuple[str, ...]]:
    """Return the fields of an act that name an entry, and of which kinds it must be."""
    hints = get_type_hints(form, include_extras=True)
    return {
        item.name: bound.kinds
        for item in fields(form)
        for bound in get_args(hints[item.name])[1:]
        if isinstance(bound, Names)
    }


def _made(form: type[Act], found: object) -> Act:
    checks, required = _checks(form)  # type: ignore[arg-type]
    if not isinstance(found, dict):
        _refuse("content", found, "a table")
    for name in found:
        if name not in checks:
            _refuse(name, "a field that this version does not know", ", ".join(checks))
    for name in required:
        if name not in found:
            _refuse(name, "nothing", "a value")
    return form(**{name: checks[name](name, value) for name, value in found.items()})


@cache
def _checks(form: type[Act]) -> tuple[Mapping[str, Check], tuple[str, ...]]:
    """Return the check of each field, and the fields that must be given."""
    hints = get_type_hints(form, include_extras=True)
    required = tuple(
        f.name
        for f in fields(form)
        if f.default is MISSING and f.default_factory is MISSING
    )
    return {f.name: _check_of(hints[f.name]) for f in fields(form)}, required


def _check_of(hint: Any, bound: object = None) -> Check:
    """Return the check of a type."""
    if get_origin(hint) is Annotated:
        base, *bounds = get_args(hint)
        return _check_of(base, bounds[0])
    if hint in {EntryId, Sha256}:
        return _hash
    if get_origin(hint) in {Union, types.UnionType}:
        (inner,) = (_check_of(h, bound) for h in get_args(hint) if h is not type(None))
        return lambda path, value: None if value is None else inner(path, value)
    if get_origin(hint) is tuple:
        return _list_of(_check_of(get_args(hint)[0]))
    if isinstance(hint, type) and issubclass(hint, Enum):
        return _member_of(hint)
    if hint is Document:
        return _document
    if hint is int:
        return _whole(bound if isinstance(bound, Whole) else Whole())
    if hint is str:
        if isinstance(bound, MomentBound):
            return check_moment
        return _text(bound)
    if get_args(hint) == (str, str):
        return _cells(bound if isinstance(bound, CellsBound) else CellsBound())
    return _tree(bound if isinstance(bound, Tree) else Tree())


def _text(bound: object) -> Check:
    most = bound.most if isinstance(bound, Text) else PROSE.most

    def check(path: str, value: Any) -> str:
        if not isinstance(value, str):
            _refuse(path, value, "text")
        if len(value) > most:
            found = f"{len(value):,} characters"
            _refuse(path, found, f"at most {most:,} characters")
        return value

    return check


def check_moment(path: str, value: Any) -> str:
    """Return a moment as written, or nothing; raise UnfitError for anything else."""
    try:
        zoned = not value or datetime.fromisoformat(value).utcoffset() is not None
    except (TypeError, ValueError):
        zoned = False
    if not zoned:
        _refuse(path, value, "a moment, ISO 8601 with its zone")
    return str(value)


def _whole(bound: Whole) -> Check:
    def check(path: str, value: Any) -> int:
        if type(value) is not int or not bound.least <= value <= bound.most:
            _refuse(path, value, f"a whole number, {bound.least:,} to {bound.most:,}")
        return value

    return check


def _hash(path: str, value: Any) -> str:
    fits = isinstance(value, str) and (
        not value or (len(value) == 64 and _DIGITS.issuperset(value))
    )
    if not fits:
        _refuse(path, value, "a SHA-256, 64 hexadecimal digits")
    return str(value)


def _member_of(form: type[Enum]) -> Check:
    known = {member.value: member for member in form}

    def check(path: str, value: Any) -> Enum:
        if not isinstance(value, str) or value not in known:
            _refuse(path, value, f"one of {', '.join(known)}")
        return known[value]

    return check


def _list_of(inner: Check) -> Check:
    def check(path: str, value: Any) -> tuple[Any, ...]:
        if not isinstance(value, list) or len(value) > MOST_ITEMS:
            _refuse(path, value, f"a list of at most {MOST_ITEMS:,}")
        return tuple(inner(f"{path}.{at}", item) for at, item in enumerate(value))

    return check


def _document(path: str, value: Any) -> Document:
    if not isinstance(value, list) or len(value) != 2:
        _refuse(path, value, "a file's name and hash")
    name = _text(NAME)(path, value[0])
    return Document(name=name, sha256=Sha256(_hash(path, value[1])))


def _cells(bound: CellsBound) -> Check:
    text = _text(Text(bound.most))

    def check(path: str, value: Any) -> dict[str, str]:
        if not isinstance(value, dict) or len(value) > bound.columns:
            _refuse(path, value, f"a row of at most {bound.columns} columns")
        every = (*value, *value.values())
        texts = {str}.issuperset(map(type, every))
        if not texts or max(map(len, every), default=0) > bound.most:
            for name, cell in value.items():
                text(f"{path}, name of a column", name)
                text(f"{path}.{name[:40]}", cell)
        return value

    return check


def _tree(bound: Tree) -> Check:
    def check(path: str, value: Any) -> dict[str, Any]:
        if not isinstance(value, dict):
            _refuse(path, value, "a table")
        for key in bound.tables:
            if not isinstance(value.get(key, {}), dict):
                _refuse(f"{path}.{key}", value[key], "a table")
        for key in bound.rows:
            rows = value.get(key, [])
            if not (isinstance(rows, list) and all(isinstance(r, dict) for r in rows)):
                _refuse(f"{path}.{key}", rows, "a list of tables")
        _branch(path, value, bound.depth)
        return value

    return check


def _branch(path: str, value: Any, left: int) -> None:
    """Check a value with all in it."""
    match value:
        case dict() | list():
            if left == 0 or len(value) > MOST_ITEMS:
                allowed = f"values not so deep, and at most {MOST_ITEMS:,} in one"
                _refuse(path, value, allowed)
            if isinstance(value, dict):
                for key, item in value.items():
                    _branch(f"{path}.{key[:40]}", item, left - 1)
            else:
                for at, item in enumerate(value):
                    _branch(f"{path}.{at}", item, left - 1)
        case str():
            _text(PROSE)(path, value)
        case bool() | None | date() | time():
            pass
        case int():
            _whole(_ANY)(path, value)
        case float():
            if math.isnan(value):
                _refuse(path, value, "a number")


_ANY = Whole(-(2**53))


def _constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is no number of JSON")


_JSON = json.JSONDecoder(parse_constant=_constant)


def _refuse(path: str, found: object, allowed: str) -> NoReturn:
    shown = found if isinstance(found, str) else repr(found)
    raise UnfitError(path, _cut(shown) or "nothing", allowed)


def _cut(text: str) -> str:
    """Return as much of a text as a message can show, without half characters."""
    some = text if len(text) <= _SHOWN else f"{text[:_SHOWN]}…"
    return some.encode("utf-8", "replace").decode()
