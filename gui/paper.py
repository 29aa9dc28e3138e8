"""How sheets are to be printed, and paper for the field, made in a worker."""

from datetime import datetime
from pathlib import Path

from babel import Locale

from gui.home import Settings
from gui.publishing import write
from scorer.event.model import Event, Task
from scorer.files import safe_name
from scorer.ledger.engine import is_url
from scorer.ledger.entry import utc_text
from scorer.ledger.replay import State
from scorer.sheets.forms import write_field_form
from scorer.sheets.issuing import standing_issue
from scorer.sheets.task_sheet import write_task_sheet
from scorer.sheets.typeset import Paper, PrintWish
from scorer.words.catalogue import ENGLISH, languages

PAPERS = (("A4, or letter with feet", ""), ("A4", "A4"), ("Letter", "LETTER"))
"""What to choose from, and what is remembered of it."""


def language_choices() -> tuple[tuple[str, str], ...]:
    """Return the languages of sheets and pages, each in its own words."""
    return tuple((Locale(own).get_display_name(own) or own, own) for own in languages())


def print_wish(settings: Settings) -> PrintWish:
    """Return how this user wants sheets to be printed."""
    paper, language = settings.text("paper"), settings.text("language", ENGLISH)
    return PrintWish(
        paper=Paper[paper] if paper in Paper.__members__ else None,
        language=language if language in languages() else ENGLISH,
    )


def print_forms(
    state: State,
    event: Event,
    task: Task,
    target: str,
    *,
    now: datetime,
    wish: PrintWish,
) -> tuple[Path, ...]:
    """Write a task's field form and its flight's task sheet beside the event.

    The sheet bears the version it was issued as, as long as it says the same.
    """
    at, issue = utc_text(now), standing_issue(state, event, task.flight)
    files = {
        f"field-form-{task.number}.pdf": write_field_form(
            event, task.number, printed_at=at, wish=wish
        ),
        f"field-form-blank-{task.number}.pdf": write_field_form(
            event, task.number, printed_at=at, blank=True, wish=wish
        ),
        safe_name(f"task-sheet-{task.flight}.pdf"): write_task_sheet(
            event, task.flight, printed_at=at, issue=issue, wish=wish
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
