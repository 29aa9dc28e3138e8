"""The tracks that sheets show, and what is kept of what was made of them."""

from collections.abc import Mapping

from scorer.scoring import analysis
from scorer.scoring.keep import NOTHING_KEPT, Keep
from scorer.tracks.flown import Flown

Tracks = Mapping[tuple[str, int], Flown]
"""Flights made ready, by flight identifier and pilot number."""


def keep_of(tracks: Tracks) -> Keep:
    """Return where answers about tracks are kept: nowhere for a plain mapping."""
    return tracks.keep if isinstance(tracks, analysis.Tracks) else NOTHING_KEPT


def key_of(tracks: Tracks, one: tuple[str, int]) -> str:
    """Return the key of all that a track depends on; empty where nothing is kept."""
    if isinstance(tracks, analysis.Tracks) and one in tracks:
        return tracks.key(one)
    return ""
