"""Every key of the window, each with its one meaning.

A command names its key from here; `@unique` refuses a second meaning for a key when this
file is read, and `tests/gui/test_keys.py` refuses a key that does not stand here.  Letters
act only while a list has the keyboard, and none of them records: only Enter does.
"""

from collections.abc import Iterable, Iterator
from enum import StrEnum, unique
from types import MappingProxyType
from typing import TypeVar

T = TypeVar("T")


@unique
class Key(StrEnum):
    """A key or a chord, as Qt writes it."""

    NONE = ""
    """For commands given by a button, or found with F2."""
    GO_ON = "Return"
    BIG_ACT = "Ctrl+Return"
    OUT = "Esc"
    # What bears the number on the screen.
    TAKE_0 = "0"
    TAKE_1 = "1"
    TAKE_2 = "2"
    TAKE_3 = "3"
    TAKE_4 = "4"
    TAKE_5 = "5"
    TAKE_6 = "6"
    TAKE_7 = "7"
    TAKE_8 = "8"
    TAKE_9 = "9"
    # Deciding.
    CONFIRM = "C"
    WAIVE = "W"
    SET_AMOUNT = "S"
    HOLD = "H"
    ADD_PENALTY = "+"
    # About a row.
    ACCEPT = "A"
    NOTE = "N"
    PILOT = "P"
    ORIGINAL = "O"
    AS_PUBLISHED = "V"
    DIFFERENCES = "D"
    BOARD = "B"
    COMPLAINT = "K"
    WHOLE = "F"
    CHOOSE = "Space"
    CHOOSE_ALL = "Ctrl+A"
    REMOVE = "Del"
    # Moving.
    PREVIOUS = "Alt+Up"
    NEXT = "Alt+Down"
    BACK = "Alt+Left"
    PANE = "F6"
    PANE_BEFORE = "Shift+F6"
    # Everywhere.
    HELP = "F1"
    MANUAL = "Shift+F1"
    GO_TO = "F2"
    FIND = "F3"
    WHAT_IF = "F4"
    AGAIN = "F5"
    CORRECT = "F7"
    STOP = "F8"
    OFFICIAL = "F9"
    LIGHT = "F11"
    NEW = "Ctrl+N"
    READ_IN = "Ctrl+O"
    PRINT = "Ctrl+P"
    REVERT = "Ctrl+Z"
    LARGER = "Ctrl++"
    SMALLER = "Ctrl+-"
    TASK_BEFORE = "Ctrl+PgUp"
    TASK_AFTER = "Ctrl+PgDown"
    CHANGE_RULES = "Alt+R"
    CLOSE = "Ctrl+W"
    QUIT = "Ctrl+Q"
    PAGE_1 = "Ctrl+1"
    PAGE_2 = "Ctrl+2"
    PAGE_3 = "Ctrl+3"
    PAGE_4 = "Ctrl+4"
    PAGE_5 = "Ctrl+5"
    PAGE_6 = "Ctrl+6"
    PAGE_7 = "Ctrl+7"
    PAGE_8 = "Ctrl+8"
    PAGE_9 = "Ctrl+9"
    PAGE_0 = "Ctrl+0"


MEANINGS = MappingProxyType(
    {
        Key.GO_ON: "go on: record the line, go where the row leads",
        Key.BIG_ACT: "the page's one big act",
        Key.OUT: "out, and drop what is not recorded",
        **{
            key: "take what bears this number on the screen"
            for key in Key
            if key.isdigit()
        },
        Key.CONFIRM: "confirm",
        Key.WAIVE: "waive",
        Key.SET_AMOUNT: "set another amount",
        Key.HOLD: "hold: somebody is asked first",
        Key.ADD_PENALTY: "add a penalty",
        Key.ACCEPT: "accept as it is, with a reason",
        Key.NOTE: "note",
        Key.PILOT: "page of the pilot",
        Key.ORIGINAL: "original: photo, log, sheet",
        Key.AS_PUBLISHED: "as published",
        Key.DIFFERENCES: "all differences",
        Key.BOARD: "see the board",
        Key.COMPLAINT: "complaint",
        Key.WHOLE: "the whole flight, the whole map",
        Key.CHOOSE: "row in or out",
        Key.CHOOSE_ALL: "all rows shown",
        Key.REMOVE: "take the chosen row back, with a reason",
        Key.PREVIOUS: "the item before, while in its detail",
        Key.NEXT: "the next item, while in its detail",
        Key.BACK: "back where you came from",
        Key.PANE: "next pane: list, detail, decision",
        Key.PANE_BEFORE: "the pane before",
        Key.HELP: "keys and help",
        Key.MANUAL: "the manual",
        Key.GO_TO: "go to a pilot, page or command",
        Key.FIND: "find in the list",
        Key.WHAT_IF: "what it would change, before it is recorded",
        Key.AGAIN: "try again now",
        Key.CORRECT: "correct",
        Key.STOP: "stop",
        Key.OFFICIAL: "change who is at this desk",
        Key.LIGHT: "Noon or Dusk",
        Key.NEW: "new",
        Key.READ_IN: "open or read in a file",
        Key.PRINT: "print",
        Key.REVERT: "revert my last entry",
        Key.LARGER: "larger text",
        Key.SMALLER: "smaller text",
        Key.TASK_BEFORE: "the task before",
        Key.TASK_AFTER: "the next task",
        Key.CHANGE_RULES: "change the rules of this task",
        Key.CLOSE: "close the event",
        Key.QUIT: "close the window",
        **{key: "page" for key in Key if key.startswith("Ctrl+") and key[-1].isdigit()},
    }
)
"""What each key means, on every page that knows it."""

PAGE_KEYS = tuple(key for key in Key if key.name.startswith("PAGE_"))
TAKES = tuple(key for key in Key if key.isdigit() and key is not Key.TAKE_0)
"""The keys 1 to 9."""

_CAPS = {
    "plus": "+",
    "PgDown": "PgDn",
    "Return": "Enter",
    "Left": "←",
    "Up": "↑",
    "Down": "↓",
    "-": "−",
}


def numbered(values: Iterable[T]) -> Iterator[tuple[Key, T]]:
    """Give the keys 1, 2, … to values in their order."""
    return zip(TAKES, values, strict=False)


def cap(key: str) -> str:
    """Return a key as its cap shows it: `Ctrl+Enter`, `Alt+←`."""
    parts = key.replace("++", "+plus").split("+") if key != "+" else [key]
    return "+".join(_CAPS.get(part, part) for part in parts)
