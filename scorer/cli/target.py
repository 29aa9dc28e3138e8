"""What a command works on: an event folder (an event file or a URL, where known)."""

from pathlib import Path

from scorer.errors import Fault, InputError
from scorer.event.build import build
from scorer.event.folder import read_folder_with_faults
from scorer.event.model import Event
from scorer.event.raw import RawEvent
from scorer.scoring.validate import faults_of


def load(target: str) -> Event:
    """Load an event; raise InputError with every fault there is, all at once."""
    raw, faults = load_raw(target)
    if not raw.settings:
        raise InputError(faults)
    event, more = build(raw)
    faults = [*faults, *more]
    deeper = faults_of(event, places_sound=not faults)
    if faults or deeper:
        raise InputError([*faults, *deeper])
    return event


def load_raw(target: str) -> tuple[RawEvent, list[Fault]]:
    """Load an event as entered, with the faults of its files."""
    return read_folder_with_faults(Path(target))
