import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from scorer.event.model import Units
from scorer.sheets.site import write_site
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


@pytest.fixture(scope="session")
def pages(results, event, stamp, tracks):
    return write_site(results, event, stamp, tracks)


@pytest.fixture(scope="session")
def folder(pages, tmp_path_factory):
    folder = tmp_path_factory.mktemp("site")
    for name, data in pages.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(data)
    for name in ("probe.html", "rules.html"):
        (folder / name).write_bytes(Path(__file__).with_name(name).read_bytes())
    return folder


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_):
        """Say nothing."""


@pytest.fixture(scope="session")
def address(folder):
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()
