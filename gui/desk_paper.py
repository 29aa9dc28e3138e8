"""What a pilot is shown at the desk: the page as it went up, a slip to print."""

import re
from pathlib import Path
from tempfile import mkdtemp

from gui.snapshot import ScoredSnapshot
from scorer.errors import ScorerError
from scorer.ledger.api import Ledger
from scorer.ledger.publish import file_hashes
from scorer.scoring.analysis import Tracks
from scorer.sheets.slips import slips_setting
from scorer.sheets.stamp import Stamp
from scorer.words.voice import Voice

_MAIN = re.compile(r"<main\b[^>]*>(.*?)</main>", re.DOTALL)
_DRAWN = re.compile(r"<(svg|script|style)\b.*?</\1>", re.DOTALL)
_LEADING = re.compile(r'<p\b[^>]*(?:\bhidden\b|"steps-nav")[^>]*>.*?</p>', re.DOTALL)


def published_page(ledger: Ledger, version: int, pilot: int) -> str:
    """Return a pilot's page word for word as a version put it up, without drawings."""
    act = next(p.act for p in ledger.state().publications if p.act.version == version)
    sha256 = file_hashes(act).get(f"site/pilot-{pilot}.html")
    if sha256 is None:
        raise ScorerError(Voice().word("holds-nothing"))
    return shown_part(ledger.file(sha256).decode())


def shown_part(page: str) -> str:
    """Return what a page says, without drawings and what leads elsewhere."""
    found = _MAIN.search(page)
    return _LEADING.sub("", _DRAWN.sub("", found[1] if found else page))


def slip_file(scored: ScoredSnapshot, stamp: Stamp, pilot: int) -> Path:
    """Set a pilot's slip of what counts now; return the file to print."""
    if scored.results is None:
        raise ScorerError(Voice().word("not-published"))
    tracks = Tracks(scored.event, scored.results)
    setting = slips_setting(scored.results, scored.event, stamp, tracks, pilots=[pilot])
    file = Path(mkdtemp(prefix="slip-")) / f"slip-{pilot}.pdf"
    file.write_bytes(setting.pdf())
    return file
