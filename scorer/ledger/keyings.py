"""The entries of marks in a ledger: how far each has come, by scoring's one comparison.

Nothing here decides whether entries agree: the event is built from what stands, and
scoring says it.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from scorer.errors import ScorerError
from scorer.event.build import build
from scorer.event.entries import people
from scorer.event.model import Event
from scorer.facts import Fact
from scorer.geodesy.site import Site
from scorer.ledger.acts import EntryId, MarkKeyed, MarkSettled, RowAct, TerrainSet
from scorer.ledger.cells import plain_number
from scorer.ledger.entry import Draft
from scorer.ledger.faults import LedgerError
from scorer.ledger.replay import Loader, State
from scorer.ledger.resolve import Current, entered_by
from scorer.scoring.evidence import agreed_marks
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.scoring.keyings import Agreed, Keyed


@dataclass(frozen=True, slots=True, order=True, kw_only=True)
class Slot:
    """One mark of one pilot in one task, as text without leading zeros."""

    flight: str
    task: str
    pilot: str
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotState:
    """All entries of one mark, and what scoring says of them."""

    slot: Slot
    keyings: tuple[Current, ...]
    settling: tuple[Current, ...]
    """What settles it: one, or several where desks clash."""
    agreed: Agreed | None
    """None where the entries cannot be read; the event's faults say why."""

    @property
    def settled(self) -> Current | None:
        """The last entry that settles it, if any."""
        return self.settling[-1] if self.settling else None

    @property
    def state(self) -> Keyed:
        """How far they have come."""
        return self.agreed.state if self.agreed else Keyed.ONCE

    @property
    def problems(self) -> tuple[Fact, ...]:
        """What keeps the mark open."""
        return self.agreed.problems if self.agreed else ()

    @property
    def open(self) -> bool:
        """Tell whether it holds up official results."""
        return bool(self.problems)

    @property
    def disputed(self) -> bool:
        """Tell whether somebody must choose between its entries."""
        choosing = self.state in {Keyed.DIFFER, Keyed.REOPENED}
        return choosing or any(p.kind == "no-mark-and-distance" for p in self.problems)

    @property
    def people(self) -> tuple[str, ...]:
        """Who entered it, each person once."""
        return people(map(keyed_by, self.keyings))


def slots(
    state: State, event: Event | None = None, keep: Keep = NOTHING_KEPT
) -> tuple[SlotState, ...]:
    """Return the entries of every mark, sorted by flight, task, pilot and mark.

    `event` is what `event_of` builds of the state; `keep` has what they came to before.
    """
    event = event_of(state) if event is None else event
    groups, agreed = _groups(state), _agreed(event, keep)
    return tuple(
        _slot_state(slot, groups[slot], agreed.get(slot))
        for slot in sorted(groups, key=_slot_order)
    )


def entered(state: State, slot: Slot) -> SlotState:
    """Return the entries of one mark, not compared."""
    return _slot_state(slot, _groups(state).get(slot, ()), None)


def every_entered(state: State) -> Iterator[SlotState]:
    """Yield the entries of every mark, not compared."""
    for slot, own in _groups(state).items():
        yield _slot_state(slot, own, None)


def _groups(state: State) -> dict[Slot, list[Current]]:
    groups: dict[Slot, list[Current]] = defaultdict(list)
    for current, act in state.all_of(RowAct):
        if isinstance(act, MarkKeyed | MarkSettled):
            groups[slot_of(act)].append(current)
    return groups


def event_of(state: State, load: Loader | None = None) -> Event:
    """Build the event that entries of marks are compared in, as far as it can be read.

    Of its files only the terrain is loaded, and none without a loader.
    """
    terrain = {act.sha256 for _, act in state.all_of(TerrainSet)}
    event, _ = build(
        state.raw(lambda sha: load(sha) if load and sha in terrain else b"")
    )
    return event


def _agreed(event: Event, keep: Keep) -> dict[Slot, Agreed]:
    if event.terrain is not None and not event.terrain.size:
        event = replace(event, terrain=None)
    try:
        site = Site.of(event)
    except ScorerError:  # told among the faults of the event
        return {}
    return {
        Slot(flight=flight.id, task=str(task), pilot=str(pilot), mark=role): agreed
        for flight in event.flights
        for task, by_pilot in agreed_marks(event, flight, site, keep).items()
        for pilot, marks in by_pilot.items()
        for role, agreed in marks.items()
    }


def disagreements(state: State, event: Event | None = None) -> tuple[SlotState, ...]:
    """Return the marks of which somebody must choose between entries."""
    return tuple(slot for slot in slots(state, event) if slot.disputed)


def settle(slot: SlotState, fields: Mapping[str, str], *, reason: str) -> Draft:
    """Draft the entry that settles a disagreement.

    `fields` is the measurement that holds: usually those of one of the keyings.
    """
    if not reason.strip():
        raise LedgerError(
            f"pilot {slot.slot.pilot} in task {slot.slot.task}: settling needs a "
            "reason; say what shows which keying is right"
        )
    told = {**_without_between(fields), "settles": reason.strip()}
    return settling(slot, told, why=reason.strip())


def settling(slot: SlotState, fields: Mapping[str, str], *, why: str) -> Draft:
    """Draft a row that settles a mark: over the entries that stand, unless it names some.

    It takes the place of what settled the mark before.
    """
    act = MarkSettled(
        flight=slot.slot.flight, fields=fields, keyings=_ids(slot.keyings)
    )
    return Draft(act=act, why=why, replaces=_ids(slot.settling))


def _ids(found: Iterable[Current]) -> tuple[EntryId, ...]:
    return tuple(entry_id for current in found for entry_id in current.ids)


def _without_between(fields: Mapping[str, str]) -> dict[str, str]:
    return {name: text for name, text in fields.items() if name != "between"}


def slot_of(act: RowAct) -> Slot:
    """Return the mark that a row is about."""
    return Slot(
        flight=act.flight,
        task=plain_number(act.fields.get("task", "")),
        pilot=plain_number(act.fields.get("pilot", "")),
        mark=act.fields.get("mark", "").strip().upper(),
    )


def keyed_by(current: Current) -> str:
    """Return who made an entry; empty where nobody is named."""
    return entered_by(current.act, current.entry)


def _slot_state(
    slot: Slot, found: Sequence[Current], agreed: Agreed | None
) -> SlotState:
    return SlotState(
        slot=slot,
        keyings=tuple(c for c in found if isinstance(c.act, MarkKeyed)),
        settling=tuple(c for c in found if isinstance(c.act, MarkSettled)),
        agreed=agreed,
    )


def _slot_order(slot: Slot) -> tuple[object, ...]:
    return (slot.flight, *map(_as_number, (slot.task, slot.pilot)), slot.mark)


def _as_number(text: str) -> tuple[int, str]:
    return (int(text), "") if text.isascii() and text.isdigit() else (0, text)
