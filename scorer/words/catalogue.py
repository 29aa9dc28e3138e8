"""The catalogue of sentences: one file a language, in the open Fluent syntax.

A message's name is the kind of a fact; its variables are the fact's values, already said
in the event's units.  A language that lacks a message takes the English one.
"""

from collections.abc import Mapping
from functools import cache
from importlib import resources

from fluent.runtime import FluentBundle, FluentResource

ENGLISH = "en"


@cache
def languages() -> tuple[str, ...]:
    """Return the languages there are catalogues of, English first."""
    files = resources.files("scorer.words").iterdir()
    found = sorted(f.name[:-4] for f in files if f.name.endswith(".ftl"))
    return (ENGLISH, *(name for name in found if name != ENGLISH))


def _alike(one: object, other: object) -> str:
    """Tell in a message whether two values read the same: `yes` or `no`."""
    return "yes" if str(one) == str(other) else "no"


@cache
def _bundle(language: str) -> FluentBundle:
    text = resources.files("scorer.words").joinpath(f"{language}.ftl")
    bundle = FluentBundle([language], use_isolating=False, functions={"ALIKE": _alike})
    bundle.add_resource(FluentResource(text.read_text(encoding="utf-8")))
    return bundle


def add(text: str, language: str = ENGLISH) -> None:
    """Add messages to a language's catalogue, for checks and task kinds of one's own.

    Messages that stand there already are kept.
    """
    _bundle(language).add_resource(FluentResource(text))


def has(name: str, language: str = ENGLISH) -> bool:
    """Tell whether a language's own catalogue has a message."""
    return bool(_bundle(language).has_message(name))


def message(
    name: str, values: Mapping[str, str | int | float], language: str = ENGLISH
) -> str:
    """Put values into a message.

    Raises
    ------
    KeyError
        No catalogue has a message of this name, or it asks for a value not given.
    """
    own = _bundle(language)
    bundle = own if own.has_message(name) else _bundle(ENGLISH)
    pattern = bundle.get_message(name).value if bundle.has_message(name) else None
    if pattern is None:
        raise KeyError(f"the catalogue has no message {name}")
    text, errors = bundle.format_pattern(pattern, dict(values))
    if errors:
        raise KeyError(f"message {name}: {errors[0]}")
    return str(text)
