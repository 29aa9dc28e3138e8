"""Where this computer keeps what belongs to its user and not to the event."""

import json
import os
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QSettings, QStandardPaths

RECENT = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Home:
    """Folders of the user: settings, and text that no event holds yet."""

    settings_file: Path
    data: Path
    """Unsaved text and entries that wait for the database."""

    @classmethod
    def of_user(cls) -> "Home":
        """Return the folders that the system gives to this user."""
        place = QStandardPaths.StandardLocation
        config = Path(QStandardPaths.writableLocation(place.GenericConfigLocation))
        data = Path(QStandardPaths.writableLocation(place.GenericDataLocation))
        return cls(
            settings_file=config / "sandtail" / "window.ini", data=data / "sandtail"
        )

    @property
    def settings(self) -> "Settings":
        """Return the user's settings."""
        return Settings(self.settings_file)


class Settings:
    """What the window remembers between two starts; nothing that changes a result."""

    def __init__(self, file: Path) -> None:
        self._kept = QSettings(str(file), QSettings.Format.IniFormat)

    def text(self, key: str, default: str = "") -> str:
        """Return a remembered text."""
        return str(self._kept.value(key, default) or default)

    def set_text(self, key: str, value: str) -> None:
        """Remember a text."""
        self._kept.setValue(key, value)
        self._kept.sync()

    @property
    def recent(self) -> tuple[str, ...]:
        """Events opened last, newest first."""
        names: list[str] = json.loads(self.text("recent", "[]"))
        return tuple(names)

    def opened(self, target: str) -> None:
        """Remember that an event was opened."""
        others = [name for name in self.recent if name != target]
        self.set_text("recent", json.dumps([target, *others][:RECENT]))


def write_safely(path: Path, text: str, *, sync: bool = True) -> None:
    """Write a file so that a crash leaves either the old or the new one.

    Without `sync` only a crash of the program is meant, not one of the computer.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_suffix(path.suffix + ".new")
    with aside.open("w", encoding="utf-8") as out:
        out.write(text)
        if sync:
            out.flush()
            os.fsync(out.fileno())
    aside.replace(path)
