"""Why what was typed is not taken, as people say it: what cannot be read, what to write."""

from scorer.errors import InputError
from scorer.units import Unreadable


def plainly(error: Exception) -> str:
    """Say a fault of a field; those of files, which name file and line, as they stand."""
    if isinstance(error, Unreadable):
        return _sentence(error.found, "cannot be read", error.allowed, error.remedy)
    if isinstance(error, InputError) and all(f.line is None for f in error.faults):
        return "\n".join(
            _sentence(fault.found, "does not fit", fault.allowed, fault.remedy)
            for fault in error.faults
        )
    return str(error)


def _sentence(found: str, lacks: str, allowed: str, remedy: str) -> str:
    """Return `“12 x” cannot be read. Write …`, or only what to write."""
    write = allowed if allowed.endswith(".") else f"Write {allowed}."
    is_empty = found in {"", "nothing"}
    told = write if is_empty else f"“{found.strip(' “”')}” {lacks}. {write}"
    return f"{told} {remedy}".strip()
