"""State entries of marks: who entered what, for sentences, steps and results."""

from collections.abc import Sequence

from scorer.event.entries import measured
from scorer.event.model import Keying, Method
from scorer.facts import Fact, Measure, Value, fact, inner, length, several, term, words

ENTRIES = frozenset({"entry-tape", "entry-none", "entry-as-entered"})
"""Kinds of facts that show what somebody entered."""


def entry(keying: Keying) -> Fact:
    """State one entry: a taped distance, that no mark was found, else as entered."""
    if keying.method is Method.NONE:
        return fact("entry-none", by=who(keying.by))
    bare = keying.from_place is None and keying.bearing_deg is None
    if keying.method is Method.TAPE and bare and keying.distance_m is not None:
        return fact("entry-tape", by=who(keying.by), distance=length(keying.distance_m))
    text = measured({**keying.entered, "method": ""})
    return fact(
        "entry-as-entered",
        by=who(keying.by),
        method=term(f"method-{keying.method}"),
        text=words(text),
    )


def entries(keyings: Sequence[Keying]) -> Value:
    """Return entries as one value."""
    return several(inner(entry(keying)) for keying in keyings)


def who(name: str) -> Value:
    """Return who entered something."""
    return words(name) if name.strip() else term("somebody")


def exact(metres: float) -> Value:
    """Return a difference in as many digits as tell it from its limit."""
    return Value(Measure.EXACT, metres)
