"""Paper for the field, made in a worker."""

from datetime import datetime
from pathlib import Path

from gui.publishing import write
from scorer.event.model import Event, Task
from scorer.files import safe_name
from scorer.ledger.engine import is_url
from scorer.ledger.entry import utc_text
from scorer.sheets.forms import write_field_form
from scorer.sheets.task_sheet import write_task_sheet


def print_forms(
    event: Event, task: Task, target: str, now: datetime
) -> tuple[Path, ...]:
    """Write a task's field form and its flight's task sheet beside the event."""
    at = utc_text(now)
    files = {
        f"field-form-{task.number}.pdf": write_field_form(
            event, task.number, printed_at=at
        ),
        f"field-form-blank-{task.number}.pdf": write_field_form(
            event, task.number, printed_at=at, blank=True
        ),
        safe_name(f"task-sheet-{task.flight}.pdf"): write_task_sheet(
            event, task.flight, printed_at=at
        ),
    }
    folder = _folder(target)
    write(files, folder)
    return tuple(folder / name for name in files)


def _folder(target: str) -> Path:
    if is_url(target):
        return Path.home() / "sandtail-forms"
    path = Path(target).expanduser()
    return path.with_name(f"{path.stem}-forms")
