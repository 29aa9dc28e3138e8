"""The catalogue of sentences: one file a language, in the open Fluent syntax.

A message's name is the kind of a fact; its variables are the fact's values, already said
in the event's units.  A language that lacks a message takes the English one.
"""

import re
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any, cast

from fluent.runtime import FluentBundle, FluentResource

ENGLISH = "en"
LONG = 1000
"""Longer texts are put in afterwards: the library refuses to place them (from 2,500)."""


@cache
def languages() -> tuple[str, ...]:
    """Return the languages there are catalogues of, English first."""
    files = resources.files("scorer.words").iterdir()
    found = sorted(f.name[:-4] for f in files if f.name.endswith(".ftl"))
    return (ENGLISH, *(name for name in found if name != ENGLISH))


def _alike(one: object, other: object) -> str:
    """Tell in a message whether two values read the same: `yes` or `no`."""
    return "yes" if str(one) == str(other) else "no"


def _ends(text: object, unit: object) -> str:
    """Tell in a message whether a text ends in a unit: `yes` or `no`."""
    return "yes" if str(text).endswith(str(unit)) else "no"


_FUNCTIONS = cast("Any", {"ALIKE": _alike, "ENDS": _ends})


@cache
def _bundle(language: str) -> FluentBundle:
    """Return the messages that were asked for so far: parsing all of them takes long."""
    return FluentBundle([language], use_isolating=False, functions=_FUNCTIONS)


@cache
def _texts(language: str) -> dict[str, str]:
    """Return the text of every message as it stands in its file, by its name."""
    file = resources.files("scorer.words").joinpath(f"{language}.ftl")
    return _apart(file.read_text(encoding="utf-8"))


_NAME = re.compile(r"^(-?[a-z][\w-]*) *=", re.MULTILINE)
_REFERENCE = re.compile(r"\{\s*(-?[a-z][\w-]*)")


def _apart(text: str) -> dict[str, str]:
    """Cut a catalogue into messages; the first of a name counts."""
    starts = [*_NAME.finditer(text)]
    ends = [*(start.start() for start in starts[1:]), len(text)]
    apart: dict[str, str] = {}
    for start, end in zip(starts, ends, strict=True):
        apart.setdefault(start[1], text[start.start() : end])
    return apart


def _read(name: str, language: str) -> None:
    """Take a message and all that it refers to into the bundle."""
    text = _texts(language).get(name, "")
    if text and not _bundle(language).has_message(name):
        _bundle(language).add_resource(FluentResource(text))
        for other in _REFERENCE.findall(text):
            _read(other, language)


def add(text: str, language: str = ENGLISH) -> None:
    """Add messages to a language's catalogue, for checks and task kinds of one's own.

    Messages that stand there already are kept.
    """
    for name, own in _apart(text).items():
        if not has(name, language):
            _texts(language)[name] = own
    _word.cache_clear()


def has(name: str, language: str = ENGLISH) -> bool:
    """Tell whether a language's own catalogue has a message."""
    return name in _texts(language)


def takes(name: str, value: str) -> bool:
    """Tell whether a message asks for a value."""
    asked = re.compile(rf"\{{\s*\${re.escape(value)}\b")
    return asked.search(_texts(ENGLISH).get(name, "")) is not None


_OPENING = re.compile(r"[\w-]+ *=\s*\{ *\$([\w-]+)")


def opening(name: str, language: str = ENGLISH) -> str:
    """Return the name of the value that a message begins with; empty for a word."""
    spoken = language if has(name, language) else ENGLISH
    found = _OPENING.match(_texts(spoken).get(name, ""))
    return found[1] if found else ""


def message(
    name: str, values: Mapping[str, str | int | float], language: str = ENGLISH
) -> str:
    """Put values into a message.

    Raises
    ------
    KeyError
        No catalogue has a message of this name, or it asks for a value not given.
    """
    return _filled(name, values, language) if values else _word(name, language)


@cache
def _word(name: str, language: str) -> str:
    """Return a message that takes no values: the same words stand on every sheet."""
    return _filled(name, {}, language)


def _filled(name: str, values: Mapping[str, str | int | float], language: str) -> str:
    spoken = language if has(name, language) else ENGLISH
    _read(name, spoken)
    bundle = _bundle(spoken)
    pattern = bundle.get_message(name).value if bundle.has_message(name) else None
    if pattern is None:
        raise KeyError(f"the catalogue has no message {name}")
    signs = {
        key: f"\ue000{n}\ue001"
        for n, (key, text) in enumerate(values.items())
        if isinstance(text, str) and len(text) > LONG
    }
    placed, errors = bundle.format_pattern(pattern, {**values, **signs})
    if errors:
        raise KeyError(f"message {name}: {errors[0]}")
    made = str(placed)
    for key, sign in signs.items():
        made = made.replace(sign, str(values[key]))
    return made
