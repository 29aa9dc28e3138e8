"""The prizes of an event: what they are for, who would get them as results stand."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from gui.models.rules import new_faults
from gui.snapshot import ScoredSnapshot, Snapshot
from scorer.errors import ScorerError
from scorer.event.model import Award, AwardFor, AwardTies
from scorer.facts import count, day, fact, inner, number, words
from scorer.facts import task as task_value
from scorer.ledger.api import Draft
from scorer.ledger.cells import whole_number
from scorer.ledger.corrections import prize_set, settings_with
from scorer.scoring.awarding import Given, given
from scorer.words.voice import Voice

AMONG = frozenset({AwardFor.CLASS, AwardFor.DAY, AwardFor.TASK})
"""What may be given within a class."""
PLACES = 3
"""So many places get a prize where nothing else is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrizeForm:
    """A prize as it is typed."""

    name: str = ""
    given_for: AwardFor = AwardFor.OVERALL
    task: str = ""
    """Empty = each task."""
    day: str = ""
    """Empty = each day."""
    class_name: str = ""
    places: str = ""
    ties: AwardTies = AwardTies.SHARED

    @classmethod
    def of(cls, award: Award) -> "PrizeForm":
        """Return the form of a prize that is declared."""
        return cls(
            name=award.name,
            given_for=award.given_for,
            task="" if award.task is None else str(award.task),
            day="" if award.day is None else award.day.isoformat(),
            class_name=award.class_name,
            places=str(award.places),
            ties=award.ties,
        )

    def cells(self, voice: Voice) -> Mapping[str, Any]:
        """Return the cells of its row; raise ScorerError with what is no such value."""
        if not self.name.strip():
            raise ScorerError(voice.word("prize-needs-name"))
        made: dict[str, Any] = {"for": str(self.given_for), "ties": str(self.ties)}
        places = whole_number(self.places) if self.places.strip() else PLACES
        if not places:
            raise ScorerError(voice.word("prize-needs-places"))
        made["places"] = places
        if self.given_for is AwardFor.TASK and self.task:
            made["task"] = whole_number(self.task)
        if self.given_for is AwardFor.DAY and self.day:
            made["day"] = date.fromisoformat(self.day)
        if self.given_for in AMONG and self.class_name:
            made["class"] = self.class_name
        return made


def says(award: Award, voice: Voice) -> str:
    """Say what a prize is for."""
    whom = _whom(award, voice)
    if award.class_name and award.given_for is not AwardFor.CLASS:
        among = fact("prize-among", whom=words(whom), name=words(award.class_name))
        whom = voice.say(among)
    places = voice.say(fact("prize-places", places=count(award.places)))
    return "  ·  ".join((whom, places, voice.word(ties_word(award.ties))))


def _whom(award: Award, voice: Voice) -> str:
    if award.given_for is AwardFor.TASK and award.task is not None:
        return voice.say(fact("prize-of-task", task=task_value(award.task)))
    if award.given_for is AwardFor.DAY and award.day is not None:
        return voice.say(fact("prize-of-day", day=day(award.day.isoformat())))
    if award.given_for is AwardFor.CLASS and award.class_name:
        return voice.say(fact("prize-of-class", name=words(award.class_name)))
    return voice.word(for_word(award.given_for))


def for_word(given_for: AwardFor) -> str:
    """Return the name of the words for what a prize is given."""
    return f"prize-for-{given_for}"


def ties_word(ties: AwardTies) -> str:
    """Return the name of the words for what becomes of equal places."""
    return f"prize-ties-{str(ties).replace(' ', '-')}"


def winners(scored: ScoredSnapshot | None, award: Award) -> list[str]:
    """Say who would get a prize as results stand, one line a task, day or class."""
    if scored is None or scored.results is None:
        return []
    voice = scored.results.voice
    if scored.hidden:
        return [voice.word("pilot-hidden")]
    found = given(scored.event, scored.results)
    return [_line(voice, one) for one in found if one.award.name == award.name]


def _line(voice: Voice, one: Given) -> str:
    table, award = one.table, one.award
    teams = list(table.teams) if table is not None else []
    told = []
    for place, number_ in one.places:
        who = words(teams[number_ - 1] if teams else voice.pilot(number_))
        told.append(voice.say(fact("prize-place", place=number(place), who=who)))
    who = words(", ".join(told) or voice.word("prize-nobody"))
    if one.day is not None:
        at = fact("prize-of-day", day=day(one.day.isoformat()))
    elif one.task is not None:
        at = fact("prize-of-task", task=task_value(one.task.task))
    elif award.given_for is AwardFor.CLASS:
        at = fact("prize-of-class", name=words(award.class_name))
    else:
        return voice.sentence(fact("prize-would", who=who))
    return voice.sentence(fact("prize-would-of", at=inner(at), who=who))


def draft_of(
    snapshot: Snapshot, form: PrizeForm, before: str, voice: Voice
) -> tuple[tuple[Draft, ...], list[str]]:
    """Return what records a prize in place of the one named `before`, and its faults.

    Where another desk has removed that one meanwhile, it is added again.
    Raises ScorerError where the form is not whole.
    """
    cells, name = form.cells(voice), form.name.strip()
    rows = snapshot.state.settings.get("award", ())
    taken = any(row.get("name") == name for row in rows)
    if taken and name != before:
        raise ScorerError(voice.sentence(fact("prize-taken", name=words(name))))
    made = {"name": name, **cells}
    stands = any(row.get("name") == before for row in rows)
    kept = [made if row.get("name") == before else row for row in rows]
    table = kept if before and stands else [*rows, made]
    faults = new_faults(snapshot, {**snapshot.state.settings, "award": table})
    return (settings_with(snapshot.state, "award", table),), faults


def taken_out(snapshot: Snapshot, name: str, why: str) -> tuple[Draft, ...]:
    """Return what takes a prize out."""
    return prize_set(snapshot.state, name, None, why)
