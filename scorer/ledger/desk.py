"""Which desk this computer is: a name people know, and a tail that no other has.

The desk is kept beside the user's other settings, not in the event file: a copied file
must not take the desk along, or two computers would write one chain.
"""

import os
import re
import secrets
import sys
from pathlib import Path

from scorer.ledger.acts import DeskId
from scorer.ledger.faults import LedgerError

VARIABLE = "SANDTAIL_DESK"
"""Environment variable that names the desk, over the stored one."""
_FORM = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*-[0-9a-f]{6}")


def new_desk(name: str) -> DeskId:
    """Make a desk's identity from its name: `Hall B` becomes `hall-b-3f9a1c`."""
    words = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or "desk"
    return DeskId(f"{words[:24].strip('-')}-{secrets.token_hex(3)}")


def desk_file() -> Path:
    """Return where this computer's desk is written down."""
    if sys.platform == "win32":
        base = Path(os.environ.get("APPDATA", Path.home() / "AppData" / "Roaming"))
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config")
    return base / "sandtail" / "desk"


def this_desk(file: Path | None = None) -> DeskId:
    """Return this computer's desk, making one named after it at first use."""
    given = os.environ.get(VARIABLE, "").strip()
    if given:
        return checked_desk(given)
    path = file or desk_file()
    if path.exists():
        return checked_desk(path.read_text(encoding="utf-8").strip())
    return name_desk("desk", path)


def name_desk(name: str, file: Path | None = None) -> DeskId:
    """Give this computer a new desk; what the old one wrote stays as it is."""
    path = file or desk_file()
    desk = new_desk(name)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(desk + "\n", encoding="utf-8")
    except OSError as error:
        raise LedgerError(
            f"cannot write this computer's desk to {path} ({error}); "
            f"set {VARIABLE} to a name of the form {desk} instead"
        ) from error
    return desk


def checked_desk(text: str) -> DeskId:
    """Return the desk, or say what its form must be."""
    if not _FORM.fullmatch(text):
        raise LedgerError(
            f"found {text!r} as desk; allowed: a name, a hyphen and six hexadecimal "
            "digits, as in hall-3f9a1c"
        )
    return DeskId(text)
