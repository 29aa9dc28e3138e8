import pytest

from scorer.event.model import Units
from tests.scorer.sheets import meet


@pytest.fixture(scope="session")
def event():
    return meet.event()


@pytest.fixture(scope="session")
def imperial_event():
    return meet.event(units=Units.IMPERIAL)


@pytest.fixture(scope="session")
def results():
    return meet.results()


@pytest.fixture(scope="session")
def stamp():
    return meet.STAMP


@pytest.fixture(scope="session")
def tracks():
    return meet.tracks()
