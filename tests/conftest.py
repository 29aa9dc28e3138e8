"""For all tests: one thread for linear algebra, set before numpy loads; no clock, no cache."""

import gc
import os
import sys

# The other worker, and the programs that tests start, need not compile all anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ["SANDTAIL_CACHE"] = "none"

import pytest
from hypothesis import settings

sys.dont_write_bytecode = False
settings.register_profile("sandtail", deadline=None)
settings.load_profile("sandtail")


@pytest.hookimpl(wrapper=True)
def pytest_collection():
    """Leave what is loaded by now out of every round of the garbage collector.

    A million objects of modules and tests live as long as the run; walking over them
    again and again takes a tenth of it.
    """
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.enable()


@pytest.fixture(scope="module")
def server():
    """A PostgreSQL server of the tests' own; they skip where none is installed."""
    from tests.scorer.ledger.postgres_server import Server, programs

    found = programs()
    if found is None:
        pytest.skip("no PostgreSQL server here: install Debian's package postgresql")
    made = Server(found)
    try:
        made.start()
        yield made
    finally:
        made.end()
