"""What the entries of a ledger leave open by themselves: clashes, forks, clocks.

It goes to the engine with the event, so that results and sheets hold it too.
"""

from collections.abc import Iterable, Iterator, Sequence

from scorer.event import matters
from scorer.event.matter import Blocks, Closes, Matter, matter_kind
from scorer.event.model import SetAside
from scorer.facts import fact, span, words
from scorer.ledger.act import EntryKind
from scorer.ledger.chains import SetBack
from scorer.ledger.entry import Entry
from scorer.ledger.resolve import Conflict

CONFLICT = matter_kind(
    "conflict", blocks=Blocks.OFFICIAL, closes=Closes.JOURNAL, acceptable=False
)
MARKS = frozenset({EntryKind.MARK, EntryKind.SETTLE})
"""Entries that say what was measured; a second person is not told of it."""
FORK = matter_kind("fork", closes=Closes.JOURNAL)
CLOCK = matter_kind("clock", closes=Closes.JOURNAL)


def of_entries(
    conflicts: Iterable[Conflict],
    aside: Iterable[SetAside],
    forks: Iterable[Sequence[Entry]],
    backs: Iterable[SetBack],
) -> Iterator[Matter]:
    """Yield what entries by themselves leave open."""
    for conflict in conflicts:
        labels = tuple(entry.label for entry in conflict.entries)
        people = tuple(dict.fromkeys(entry.who for entry in conflict.entries))
        yield Matter(
            kind=CONFLICT,
            flight=conflict.flight,
            task=conflict.task,
            pilots=conflict.pilots,
            says=conflict.says,
            evidence=labels,
            reveals=people,
        )
    for one in aside:
        yield Matter(
            kind=matters.SET_ASIDE,
            says=one.says,
            evidence=(one.label,),
            reveals=(one.who,) if one.kind in MARKS else (),
        )
    for fork in forks:
        first = fork[0]
        says = fact("desk-forked", desk=words(first.desk), entry=words(first.label))
        yield Matter(kind=FORK, says=says, evidence=tuple(e.label for e in fork))
    for entry, back_s in backs:
        says = fact(
            "clock-back",
            desk=words(entry.desk),
            back=span(back_s),
            entry=words(entry.label),
        )
        yield Matter(kind=CLOCK, says=says, evidence=(entry.label,))
