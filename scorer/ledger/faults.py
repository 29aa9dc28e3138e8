"""What can go wrong with a ledger, each with what to do about it."""

from scorer.errors import ScorerError


class LedgerError(ScorerError):
    """The ledger cannot do what was asked; base of all below."""


class NotALedgerError(LedgerError):
    """The target is no event file, archive or event database."""


class NewerFormatError(LedgerError):
    """A newer version of the program wrote this ledger."""


class ReadOnlyError(LedgerError):
    """The ledger can be read, but not written."""


class FullError(LedgerError):
    """The disk is full: what was confirmed stands, the last act was not written."""


class BusyError(LedgerError):
    """Another program holds the ledger for longer than we wait."""


class DamagedError(LedgerError):
    """The ledger's bytes were damaged or altered."""


class StepsGoneError(DamagedError):
    """There are entries, but no list of the steps that made their tables."""


class UnreachableError(LedgerError):
    """The database server does not answer, or refuses this user."""


class MovedError(UnreachableError):
    """The event file does not stand at its place as it was left."""


class MissingBlobError(LedgerError):
    """An entry names a file that the ledger does not hold."""


class TokenError(LedgerError):
    """A token is known with other content, or from another desk."""


class OtherEventError(LedgerError):
    """Two ledgers do not belong to one event."""


class RefusedError(LedgerError):
    """The rules of publication refuse this; `reasons` says why, one by one."""

    def __init__(self, text: str, reasons: tuple[str, ...] = ()) -> None:
        super().__init__("\n".join((text, *(f"- {reason}" for reason in reasons))))
        self.text = text
        self.reasons = reasons

    def __reduce__(self) -> tuple[type["RefusedError"], tuple[str, tuple[str, ...]]]:
        return RefusedError, (self.text, self.reasons)
