"""What the rules want noted with every mark, and is not: when it fell, who measured it."""

from collections.abc import Iterator, Mapping

from scorer.event.matter import Blocks, Closes, Matter, matter_kind
from scorer.event.model import Flight, Keying, Method
from scorer.event.rulebook import KeyingRule, RuleBook
from scorer.facts import Fact, fact
from scorer.scoring.evidence import FlightEvidence

NOT_NOTED = matter_kind(
    "not-noted", blocks=Blocks.OFFICIAL, closes=Closes.MARKS, grouped=True
)
NOT_MEASURED = frozenset({Method.NONE, Method.LOG})
"""Nobody went there to measure."""


def lacking(rule: KeyingRule, keying: Keying, *, any_measurer: bool) -> Iterator[Fact]:
    """State what the rules want noted with a mark and is not."""
    if keying.method in NOT_MEASURED:
        return
    if rule.drop_time and keying.time_s is None:
        yield fact("drop-time-not-noted")
    if rule.measurer and not any_measurer:
        yield fact("measurer-not-noted")


def not_noted(
    flight: Flight, taken: FlightEvidence, books: Mapping[int, RuleBook]
) -> Iterator[Matter]:
    """Ask mark by mark for what the rules want noted, of all its entries together."""
    for task, pilots in taken.by_pilot.items():
        rule = books[task].keying
        for pilot, marks in pilots.items():
            for role, agreed in marks.items():
                measurer = any(k.measurer for k in agreed.keyings)
                for says in lacking(rule, agreed.keying, any_measurer=measurer):
                    yield Matter(
                        kind=NOT_NOTED,
                        flight=flight.id,
                        task=task,
                        pilots=(pilot,),
                        mark=role,
                        says=says,
                    )
