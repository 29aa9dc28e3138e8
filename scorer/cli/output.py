"""Files that `sandtail score --out` writes."""

import hashlib
from pathlib import Path

from scorer.errors import Fault, InputError
from scorer.event.model import Event
from scorer.scoring.document import to_json
from scorer.scoring.results import Results
from scorer.sheets.stamp import Stamp
from scorer.sheets.workbook import write_workbook


def write_out(event: Event, results: Results, folder: Path) -> list[Path]:
    """Write results.json and the workbook; return where they went."""
    text = to_json(results).encode()
    stamp = Stamp(
        published_at=f"{max(f.date for f in event.flights)}T00:00:00Z",
        results_sha256=hashlib.sha256(text).hexdigest(),
    )
    files = {
        "results.json": text,
        "results.xlsx": write_workbook(results, event, stamp),
    }
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            (folder / name).write_bytes(data)
    except OSError as error:
        fault = Fault(
            where=str(folder),
            found=f"a folder that cannot be written ({error.strerror})",
            allowed="a folder you may write to",
        )
        raise InputError([fault]) from None
    return [folder / name for name in files]
