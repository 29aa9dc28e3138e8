"""Taking in an elevation grid: the file, and its name in the settings."""

from pathlib import Path

from scorer.errors import ScorerError
from scorer.event.folder import MOST_TERRAIN_BYTES
from scorer.ledger.acts import EntryId, SettingsSet, TerrainSet
from scorer.ledger.api import Draft, Ledger, sha256_of
from scorer.ledger.replay import State


def naming(state: State, name: str) -> tuple[Draft, tuple[EntryId, ...]]:
    """Return what names a grid in the settings, and the entries it takes the place of."""
    found, grids = state.all_of(SettingsSet), state.all_of(TerrainSet)
    event = {**state.settings.get("event", {}), "terrain": name}
    named = Draft(
        act=SettingsSet(settings={**state.settings, "event": event}),
        why="terrain imported",
        replaces=found[0][0].ids if found else (),
    )
    return named, grids[0][0].ids if grids else ()


def take_terrain(
    ledger: Ledger, path: Path, earlier: tuple[EntryId, ...], named: Draft
) -> tuple[Draft, ...]:
    """Record an elevation grid, and its name in the settings; return both."""
    if path.stat().st_size > MOST_TERRAIN_BYTES:
        raise ScorerError(
            f"{path.name} has over {MOST_TERRAIN_BYTES // 2**30} GiB; cut it to the "
            "event's area"
        )
    data = path.read_bytes()
    act = TerrainSet(name=path.name, sha256=sha256_of(data), size=len(data))
    grid = Draft(
        act=act, why="terrain imported", replaces=earlier, files={act.sha256: data}
    )
    ledger.record_all([grid, named])
    return grid, named
