"""Which kinds of statements results hold: a list of words for whoever reads the file.

A statement whose kind, whose values' names, or whose words of the trade are not on the
list was changed since.
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from scorer.facts import Fact, Measure, Value, parts
from scorer.scoring.results import Results


def vocabulary(results: Results) -> dict[str, Any]:
    """Return each kind with the names of its values, and the words of the trade in them.

    `terms` has them as `kind.name`, where nothing but such words stands.
    """
    kinds: dict[str, set[tuple[str, ...]]] = defaultdict(set)
    terms: dict[str, set[str]] = defaultdict(set)
    written = set()
    for stated in _stated(results):
        for part in parts(stated):
            kinds[part.kind].add(tuple(sorted(part.names)))
            for name, (_, value) in zip(part.names, part.values, strict=True):
                for own in _texts(value):
                    if own.measure is Measure.TERM:
                        terms[f"{part.kind}.{name}"].add(str(own.amount))
                    else:
                        written.add(f"{part.kind}.{name}")
    return {
        "kinds": {
            kind: [list(own) for own in sorted(kinds[kind])] for kind in sorted(kinds)
        },
        "terms": {
            key: sorted(terms[key]) for key in sorted(terms) if key not in written
        },
    }


def _texts(value: Value) -> Iterator[Value]:
    """Yield the texts of a value, those of several alike."""
    several = value.amount if isinstance(value.amount, tuple) else (value,)
    for own in several:
        if isinstance(own.amount, str):
            yield own


def _stated(results: Results) -> Iterator[Fact]:
    """Yield every statement that results.json holds as such."""
    charges = [charge for _, charge in results.event_charges]
    for task in results.tasks:
        for score in task.scores:
            yield from score.way
            charges += score.charges
    for ruled in results.findings:
        charges += ruled.charges
        yield ruled.finding.says
        yield from filter(None, (ruled.finding.rule,))
    for charge in charges:
        yield from filter(None, (charge.figures, charge.rule))
    for matter in (*results.told, *results.matters):
        yield matter.says
        yield from (member.says for member in matter.members)
