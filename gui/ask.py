"""Every question to the user, each behind a function, so that tests can answer."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QInputDialog, QLineEdit, QMessageBox, QWidget

EVENT_FILES = "Event files (*.sandtail);;Archives (*.zip);;All files (*)"
ROSTERS = "Lists of pilots (*.csv *.xlsx *.tsv *.txt);;All files (*)"


def open_file(parent: QWidget, title: str, kinds: str) -> Path | None:
    """Ask for a file that exists."""
    name, _ = QFileDialog.getOpenFileName(parent, title, "", kinds)
    return Path(name) if name else None


def open_files(parent: QWidget, title: str, kinds: str) -> list[Path]:
    """Ask for files that exist."""
    names, _ = QFileDialog.getOpenFileNames(parent, title, "", kinds)
    return [Path(name) for name in names]


def save_file(parent: QWidget, title: str, start: str, kinds: str) -> Path | None:
    """Ask where to write a file."""
    name, _ = QFileDialog.getSaveFileName(parent, title, start, kinds)
    return Path(name) if name else None


def folder(parent: QWidget, title: str) -> Path | None:
    """Ask for a folder."""
    name = QFileDialog.getExistingDirectory(parent, title)
    return Path(name) if name else None


def text(parent: QWidget, title: str, label: str, value: str = "") -> str | None:
    """Ask for a line of text; None = the user changed their mind."""
    mode = QLineEdit.EchoMode.Normal
    found, sure = QInputDialog.getText(parent, title, label, mode, value)
    return found if sure else None


def sure(parent: QWidget, title: str, question: str) -> bool:
    """Ask yes or no; no is the safe answer and the default."""
    buttons = QMessageBox.StandardButton
    answer = QMessageBox.question(
        parent, title, question, buttons.Yes | buttons.No, buttons.No
    )
    return answer == buttons.Yes


def told(parent: QWidget, text: str) -> None:
    """Say something that must be known, until somebody has read it."""
    box = QMessageBox(QMessageBox.Icon.Warning, "", text, parent=parent)
    box.setWindowTitle("The database is not as it was")
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.open()


def crashed(parent: QWidget, error: BaseException) -> None:
    """Say that the program made a mistake, and that entries are safe."""
    QMessageBox.critical(
        parent,
        "A mistake of the program",
        "Something went wrong that is no fault of yours. Everything recorded is safe, "
        "and so is what stands in the fields. Save what you see (a photograph will do), "
        f"then go on or start again.\n\n{type(error).__name__}: {error}",
    )
