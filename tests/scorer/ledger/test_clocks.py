"""Desks compare clocks before anybody sets a deadline."""

from datetime import UTC, datetime, timedelta

import pytest

from scorer.ledger.acts import NoteMade
from scorer.ledger.audit import verify
from scorer.ledger.clocks import desk_off, must_confirm, off_from, suspect
from scorer.ledger.ledger import Ledger

NOON = datetime(2026, 9, 12, 12, tzinfo=UTC)


class Hand:
    """A clock that a test sets."""

    def __init__(self, now=NOON):
        self.now = now

    def __call__(self):
        return self.now


@pytest.fixture
def desk(tmp_path):
    clock = Hand()
    target = tmp_path / "event.sandtail"
    with Ledger.create(target, desk="hall-1", who="Ann", clock=clock) as ledger:
        ledger.record(NoteMade(text="first"))
        yield ledger, clock


@pytest.mark.parametrize(
    ("late_s", "told", "asked"),
    [(0, False, False), (59, False, False), (61, True, False), (301, True, True)],
)
def test_a_clock_behind_the_entries_is_told_from_a_minute(desk, late_s, told, asked):
    ledger, clock = desk
    clock.now = NOON - timedelta(seconds=late_s)

    off = desk_off(ledger)

    assert (off is not None) is told
    assert must_confirm(off) is asked
    if off is not None:
        assert off.says.kind == "clock-behind"


def test_a_clock_ahead_of_the_server_is_told():
    off = off_from((), NOON, NOON - timedelta(hours=5))

    assert off.says.kind == "clock-ahead"
    assert must_confirm(off)


def test_verify_notices_entries_of_a_clock_that_was_never_set(desk):
    """1980 and five hours back are both notices; nothing was altered by anybody."""
    ledger, clock = desk
    clock.now = datetime(1980, 1, 6, tzinfo=UTC)
    ledger.record(NoteMade(text="second"))
    clock.now = NOON + timedelta(minutes=1)
    ledger.record(NoteMade(text="third"))
    clock.now = NOON - timedelta(hours=5)
    ledger.record(NoteMade(text="fourth"))

    audit = verify(ledger.store)

    told = [problem.text for problem in audit.problems]
    assert len(told) == 2
    assert "before this program existed" in told[0]
    assert "2026-09-12T07:00" in told[1]
    assert audit.sound


def test_entries_in_order_are_not_suspected(desk):
    ledger, clock = desk
    for minute in range(1, 4):
        clock.now = NOON + timedelta(minutes=minute)
        ledger.record(NoteMade(text=f"note {minute}"))

    assert suspect(ledger.state().entries) == []
