"""Processes give the same results as the window's own."""

from gui.pool import FEW_LOGS, Pool
from gui.snapshot import compute
from scorer.ledger.api import Ledger, new_desk
from scorer.progress import Control


def test_few_logs_need_no_processes():
    assert Pool().for_logs(FEW_LOGS) is None


def test_processes_give_the_same_bytes(small, monkeypatch):
    monkeypatch.setattr("gui.pool.FEW_LOGS", 0)
    pool = Pool(1)
    with Ledger.open(small, desk=new_desk("a"), who="Yrsa") as ledger:
        apart = compute(ledger, pool, Control())
        monkeypatch.setattr("gui.pool.FEW_LOGS", 1000)
        here = compute(ledger, Pool(1), Control())
    pool.close()
    assert apart.document == here.document
