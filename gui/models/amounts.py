"""How much is charged or given, as typed and as rows of decisions have it."""

from scorer.event.finding import Amount
from scorer.event.model import PenaltyUnit
from scorer.units import Unreadable, length_m

COUNTED = frozenset(
    {PenaltyUnit.TASK_POINTS, PenaltyUnit.EVENT_POINTS, PenaltyUnit.METRES}
)
BEYOND = 1e6
"""No amount is so great."""


def read_amount(text: str, unit: PenaltyUnit, bare: str = "m") -> Amount | None:
    """Read how much was typed; None where it is no amount of its unit.

    `bare` is the unit of a length that names none.
    """
    if unit not in COUNTED:
        return Amount(amount=0.0, unit=unit)
    typed = text.strip()
    if unit is PenaltyUnit.METRES:
        try:
            amount = float(length_m(typed, bare))
        except Unreadable:
            return None
    elif typed.isascii() and typed.isdigit():
        amount = float(typed)
    else:
        return None
    return Amount(amount=amount, unit=unit) if 0 <= amount < BEYOND else None


def written(amount: float) -> str:
    """Write an amount with all its digits, as rows have it: 8, 12345.67."""
    return str(int(amount)) if amount == int(amount) else repr(amount)


def cell_of(amount: Amount | None) -> str:
    """Write an amount as rows of decisions have it, empty where its unit counts none."""
    if amount is None or amount.unit not in COUNTED:
        return ""
    return written(amount.amount)
