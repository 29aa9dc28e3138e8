"""What a command works on: an event folder, an event file, an archive or a database."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from sqlalchemy import make_url

from scorer.cli.screen import errors
from scorer.errors import Fault, InputError
from scorer.event.build import build
from scorer.event.folder import read_folder_with_faults
from scorer.event.model import Event
from scorer.event.raw import RawEvent
from scorer.ledger.engine import is_url
from scorer.ledger.event_commands import load as load_ledger
from scorer.ledger.replay import State
from scorer.scoring.validate import faults_of
from scorer.words.voice import Voice

HELP = "event folder, event file, archive, or postgresql:// address"


def is_event(target: str) -> bool:
    """Tell whether a target is a database or something that is there."""
    return is_url(target) or Path(target).exists()


def load(target: str) -> Event:
    """Load an event; raise ScorerError with every fault there is, all at once."""
    raw, faults = load_raw(target)
    if faults and not raw.settings:
        raise InputError(faults)
    return checked(raw, faults)


def load_with_state(target: str) -> tuple[Event, State | None, RawEvent]:
    """Load an event with the state of its ledger; None where it is a folder."""
    if not is_url(target) and (Path(target).is_dir() or not Path(target).exists()):
        raw, faults = load_raw(target)
        if faults and not raw.settings:
            raise InputError(faults)
        return checked(raw, faults), None, raw
    loaded = load_ledger(target)
    return checked(loaded.raw, []), loaded.state, loaded.raw


def checked(raw: RawEvent, faults: list[Fault]) -> Event:
    """Build an event; raise InputError with the faults known and found."""
    event, more = build(raw, faults)
    found = [*faults, *more]
    deeper = faults_of(event, places_sound=not found)
    if found or deeper:
        raise InputError([*found, *deeper])
    return event


def load_raw(target: str) -> tuple[RawEvent, list[Fault]]:
    """Load an event as entered, with the faults of its files."""
    path = Path(target)
    if not is_url(target) and (path.is_dir() or not path.exists()):
        return read_folder_with_faults(path)
    loaded = load_ledger(target)
    for note in loaded.notes:
        errors.print(Voice().say(note), markup=False, soft_wrap=True)
    return loaded.raw, []


def refuse_unknown(option: str, given: Iterable[int], known: Sequence[int]) -> None:
    """Raise InputError for the first number given that the event does not have."""
    for number in given:
        if number not in known:
            allowed = f"one of {', '.join(map(str, known))}"
            fault = Fault(where=option, found=str(number), allowed=allowed)
            raise InputError([fault])


def shown(target: object) -> str:
    """Return a target as people may see it: an address without its password."""
    text = str(target)
    return make_url(text).render_as_string() if is_url(text) else text
