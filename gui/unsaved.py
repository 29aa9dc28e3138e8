"""Text that stands in fields and is in no event yet: it survives a crash of the window.

One file for each window, so that two windows on one event keep theirs apart; what a
window that died has left is taken over by the next one that opens the event.
"""

import json
from pathlib import Path
from typing import Any

from gui.home import write_safely
from gui.waiting import left_behind, own_file

Forms = dict[str, dict[str, str]]
"""What stands in the fields of each form."""


class Unsaved:
    """What stands in one window's fields, for one event or before any is open."""

    def __init__(self, folder: Path, event: str) -> None:
        base = folder / f"unsaved-{event}.json"
        folder.mkdir(parents=True, exist_ok=True)
        self._path, self._lock = own_file(base)
        self._texts = _read(self._path)
        self._take_over(base)

    def of(self, form: str) -> dict[str, str]:
        """Return what stood in a form's fields."""
        return dict(self._texts.get(form, {}))

    def keep(self, form: str, texts: dict[str, str]) -> None:
        """Keep a form's fields; nothing typed in them = nothing kept."""
        given = {name: text for name, text in texts.items() if text.strip()}
        if given == self._texts.get(form, {}):
            return
        if given:
            self._texts[form] = given
        else:
            self._texts.pop(form, None)
        _write(self._path, self._texts)

    def close(self) -> None:
        """Let go of the file; nothing is left of it where nothing stands."""
        if not self._texts:
            self._path.unlink(missing_ok=True)
        self._lock.unlock()

    def _take_over(self, base: Path) -> None:
        for left, lock in left_behind(base, self._path):
            texts = _read(left)
            fresh = {f: t for f, t in texts.items() if f not in self._texts}
            if fresh:
                self._texts |= fresh
                _write(self._path, self._texts)
            # Of two texts for one field the other waits until this one is gone.
            rest = {f: t for f, t in texts.items() if f not in fresh}
            if rest:
                _write(left, rest)
            else:
                left.unlink(missing_ok=True)
            lock.unlock()


def _write(path: Path, texts: Forms) -> None:
    write_safely(path, json.dumps(texts, indent=1), sync=False)


def _read(path: Path) -> Forms:
    try:
        found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return {
        str(form): {str(k): str(v) for k, v in texts.items()}
        for form, texts in found.items()
        if isinstance(texts, dict)
    }
