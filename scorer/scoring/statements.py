"""Which kinds of statements results hold: a list of words for whoever reads the file.

A statement whose kind, whose values' names, or whose words of the trade are not on the
list was changed since.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from scorer.facts import Fact, Measure, Value, parts
from scorer.scoring.results import Charge, Results, TaskResult


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Kinds of statements with the names of their values, and words of the trade."""

    kinds: frozenset[tuple[str, tuple[str, ...]]]
    terms: frozenset[tuple[str, str]]
    """Each as `kind.name` with the word."""
    written: frozenset[str]
    """Where something else stands as well, as `kind.name`."""

    @classmethod
    def of(cls, statements: Iterable[Fact]) -> "Words":
        """Gather those of some statements."""
        kinds, terms, written = set(), set(), set()
        for part in (part for stated in statements for part in parts(stated)):
            kinds.add((part.kind, tuple(sorted(part.names))))
            for name, (_, value) in zip(part.names, part.values, strict=True):
                for own in _texts(value):
                    if own.measure is Measure.TERM:
                        terms.add((f"{part.kind}.{name}", str(own.amount)))
                    else:
                        written.add(f"{part.kind}.{name}")
        return cls(
            kinds=frozenset(kinds), terms=frozenset(terms), written=frozenset(written)
        )


def vocabulary(results: Results, tasks: Iterable[Words]) -> dict[str, Any]:
    """Return each kind with the names of its values, and the words of the trade in them.

    `terms` has them as `kind.name`, where nothing but such words stands.  `tasks` are the
    words of each of them.
    """
    every = [Words.of(_beside_tasks(results)), *tasks]
    kinds: dict[str, list[list[str]]] = defaultdict(list)
    for kind, names in sorted({one for own in every for one in own.kinds}):
        kinds[kind].append([*names])
    terms: dict[str, list[str]] = defaultdict(list)
    written = {name for own in every for name in own.written}
    for name, term in sorted({one for own in every for one in own.terms}):
        if name not in written:
            terms[name].append(term)
    return {"kinds": dict(kinds), "terms": dict(terms)}


def _texts(value: Value) -> Iterator[Value]:
    """Yield the texts of a value, those of several alike."""
    several = value.amount if isinstance(value.amount, tuple) else (value,)
    for own in several:
        if isinstance(own.amount, str):
            yield own


def of_task(task: TaskResult) -> Iterator[Fact]:
    """Yield every statement that results.json holds as such with a task."""
    for score in task.scores:
        yield from score.way
        yield from _of_charges(score.charges)


def _of_charges(charges: Iterable[Charge]) -> Iterator[Fact]:
    for charge in charges:
        yield from filter(None, (charge.figures, charge.rule))


def _beside_tasks(results: Results) -> Iterator[Fact]:
    """Yield all the others."""
    yield from _of_charges(charge for _, charge in results.event_charges)
    for ruled in results.findings:
        yield from _of_charges(ruled.charges)
        yield ruled.finding.says
        yield from filter(None, (ruled.finding.rule,))
    for matter in (*results.told, *results.matters):
        yield matter.says
        yield from (member.says for member in matter.members)
