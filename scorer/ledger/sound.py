"""What an event can be built of: entries whose content it cannot use are set aside.

An act may pass the gate and still make no sense in this event: a place without geometry,
a mark of a pilot nobody entered, a task of an unknown kind.  The event is built without
such entries, and again without those that then make no sense either, until it builds.
What they replaced holds again.  They are kept and told like all that is set aside, and
one that makes sense later (the pilot is entered after all) counts again by itself.

The event's own settings stay as they are, faults and all, unless it was a later entry
that spoiled them: one that changed or withdrew what other entries still need.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from scorer.errors import Fault
from scorer.event.build import build
from scorer.event.model import Event
from scorer.ledger.acts import (
    Act,
    Aside,
    EntryId,
    FlightSet,
    PilotSet,
    PlaceSet,
    SettingsSet,
    Undone,
    Withdrawn,
)
from scorer.ledger.aside import ReadEntry
from scorer.ledger.entry import set_aside
from scorer.ledger.gate import UnfitError
from scorer.ledger.lineage import standing_of
from scorer.ledger.replay import State, state_of, with_talk
from scorer.scoring.validate import faults_of

_FRAME = (SettingsSet, FlightSet, PlaceSet)
"""What other entries rest on."""
Blame = Mapping[EntryId, Fault]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sound:
    """A state of which nothing keeps the event from being built but its settings."""

    state: State
    event: Event
    """Without the content of files."""
    faults: tuple[Fault, ...]
    """Faults that no entry can be set aside for."""
    deeper: tuple[Fault, ...] = ()
    """The same, that show only with the whole event at hand."""

    @property
    def all_faults(self) -> tuple[Fault, ...]:
        """All that is wrong."""
        return (*self.faults, *self.deeper)


def sound(state: State) -> Sound:
    """Set aside what the event cannot be built with."""
    found = _look(state)
    while found.all_faults:
        # First what others rest on, for they may be sound once it is.
        blame = (
            _blame(found, PlaceSet, PilotSet)
            or _spoilt_by(found)
            or _blame(found, FlightSet)
            or _blame(found, Act)
        )
        if not blame:
            break
        found = _look(_without(found.state, blame))
    return found


def _look(state: State) -> Sound:
    event, faults = build(with_talk(state.raw(lambda _: b""), state))
    plain = replace(event, terrain=None)  # whose content is not at hand
    deeper = faults_of(plain, places_sound=not faults)
    return Sound(state=state, event=event, faults=tuple(faults), deeper=tuple(deeper))


def _blame(found: Sound, *forms: type[Act]) -> Blame:
    """Return the entries of some kinds that are at fault, but for the event's settings."""
    acts = {held.id: held.act for held in found.state.standing.entries}
    blame: dict[EntryId, Fault] = {}
    for fault in found.all_faults:
        for name in map(EntryId, fault.entries):
            if isinstance(acts[name], forms) and not isinstance(
                acts[name], SettingsSet
            ):
                blame.setdefault(name, fault)
    return blame


def _spoilt_by(found: Sound) -> Blame:
    """Find the last entry without which settings and flights have fewer faults."""
    entries = found.state.standing.entries
    acts = {held.id: held.act for held in entries}
    faults = _of_the_frame(found.all_faults, acts)
    if not faults:
        return {}
    for held in _suspects(entries, acts):
        blame = {held.id: faults[0]}
        trial = _look(_without(found.state, blame))
        if len(_of_the_frame(trial.all_faults, acts)) < len(faults):
            return blame
    return {}


def _of_the_frame(
    faults: Iterable[Fault], acts: Mapping[EntryId, Act]
) -> Sequence[Fault]:
    """Return the faults of settings and flights, and those of nobody."""
    return [
        fault
        for fault in faults
        if not fault.entries
        or any(
            isinstance(acts[EntryId(name)], SettingsSet | FlightSet)
            for name in fault.entries
        )
    ]


def _suspects(
    entries: Sequence[ReadEntry], acts: Mapping[EntryId, Act]
) -> Iterator[ReadEntry]:
    """Yield what changed the settings or took back what others rest on, last first."""
    for held in reversed(entries):
        match held.act:
            case SettingsSet() if held.entry.replaces:
                yield held
            case Withdrawn() | Undone() if any(
                isinstance(acts.get(name), _FRAME)
                for name in (held.act.entry, *held.entry.replaces)
            ):
                yield held


def _without(state: State, blame: Blame) -> State:
    """Work out the state anew, some entries set aside."""
    held = tuple(
        ReadEntry(entry=held.entry, act=_aside(held, blame[held.id]))
        if held.id in blame
        else held
        for held in state.standing.entries
    )
    return state_of(standing_of(held))


def _aside(held: ReadEntry, fault: Fault) -> Aside:
    allowed = f"{fault.allowed}. {fault.remedy}" if fault.remedy else fault.allowed
    unfit = UnfitError(fault.field or "content", fault.found, allowed)
    return set_aside(held.entry, unfit)
