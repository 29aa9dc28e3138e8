"""Whether each part of results.json is as it was written: its digest worked out again.

A digest tells damage and careless edits, not forgery: whoever changes a part can write
its digest anew.  Against that stand the sums, and the ledger.
"""

import hashlib
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from scorer.recount.numbers import Difference, differ

KEY = "digests"


def check_digests(results: Mapping[str, Any]) -> Iterator[Difference]:
    """Compare every part with its digest; older results have none."""
    if KEY not in results:
        return
    again = {name: digest(part) for name, part in results.items() if name != KEY}
    for name in {**again, **results[KEY]}:
        stated, own = results[KEY].get(name, "none"), again.get(name, "no such part")
        yield from differ(f"{name}: its digest", stated, own)


def digest(part: Any) -> str:
    """Return the SHA-256 of a part, as the schema of results.json describes it."""
    return hashlib.sha256(plain(part).encode("utf-8", "surrogatepass")).hexdigest()


def plain(value: Any) -> str:
    """Write a value with a mark of its kind, numbers as fractions, names in order."""
    if isinstance(value, Mapping):
        return (
            "{" + "".join(f"{plain(k)}{plain(value[k])}" for k in sorted(value)) + "}"
        )
    if isinstance(value, list | tuple):
        return "[" + "".join(map(plain, value)) + "]"
    if isinstance(value, str):
        return f"'{len(value)}:{value}"
    if value is None or isinstance(value, bool):
        return f"!{value};"
    exact = value if isinstance(value, Fraction) else Fraction(repr(value))
    return f"#{exact.numerator}/{exact.denominator};"
