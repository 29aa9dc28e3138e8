"""Cells of rows in words, as the journal tells what somebody entered."""

from collections.abc import Iterator, Mapping

from scorer.event.finding import read_id
from scorer.facts import Fact, Value, fact, inner, term, words
from scorer.words.catalogue import has

TOLD_BESIDE = frozenset({"by", "at", "between", "matter"})
"""Columns that the journal tells elsewhere, or that only programs read."""
TERMS = {"method": "method", "decision": "ruling", "kind": "report", "unit": "unit"}
"""Columns whose texts are words of the trade, and what these begin with."""


def plain_number(text: object) -> str:
    """Make `007` and `7` one number."""
    plain = str(text).strip()
    return plain.lstrip("0") or "0" if plain.isascii() and plain.isdigit() else plain


def whole_number(text: str) -> int | None:
    """Read a cell as a whole number, as rows are read; None where it is none."""
    plain = text.strip()
    fits = plain.isascii() and plain.isdigit() and len(plain) < 10
    return int(plain) if fits else None


def cells_of(fields: Mapping[str, str]) -> Iterator[Fact]:
    """Yield what each filled cell says, in the order of the row."""
    for name, text in fields.items():
        if text and name not in TOLD_BESIDE:
            yield fact(
                "journal-cell", name=said_of("cell", name), text=_text(name, text)
            )


def said_of(what: str, name: str) -> Value:
    """Return the word that the catalogue has for a name; the name where it has none."""
    plain = name.strip().replace(" ", "-").replace("_", "-")
    if has(f"term-{what}-{plain}"):
        return term(f"{what}-{plain}")
    return inner(fact(f"{what}-{plain}")) if has(f"{what}-{plain}") else words(name)


def _text(name: str, text: str) -> Value:
    if name == "finding":
        named = read_id(text)
        return said_of("finding", named.kind if named else text)
    return said_of(TERMS[name], text) if name in TERMS else words(text)
