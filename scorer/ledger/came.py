"""What an event's last publication says of its standings, without scoring anything."""

import json
from pathlib import Path

from scorer.facts import count, fact, number, words
from scorer.ledger.engine import is_url
from scorer.ledger.event_commands import Target, open_any
from scorer.ledger.publish import entries_since
from scorer.ledger.snapshot import grown
from scorer.ledger.sound import sound
from scorer.scoring.season import Came


def came_to(target: Target) -> Came | None:
    """Return what an event came to by its last publication of the whole event.

    None where it is a folder, or was never put up whole; then it has to be scored.
    """
    if not is_url(target) and not Path(target).is_file():
        return None
    with open_any(target) as store:
        state = grown(store)
        up = [p for p in state.publications if not p.withdrawn and not p.act.tasks]
        if not up:
            return None
        tree = json.loads(store.file(up[-1].act.results))
        late = entries_since(state, up[-1])
        event = sound(state).event
    notes = []
    if late:
        says = fact(
            "season-entered-since",
            event=words(event.name),
            version=number(up[-1].act.version),
            entries=count(len(late)),
        )
        notes.append(says)
    return Came.published(tree, event.pilots, notes)
