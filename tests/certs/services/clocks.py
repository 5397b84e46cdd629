"""A time-stamp service for tests of services: it answers, and serves its lists on this machine."""

import threading
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from certs.services import sealing
from tests.certs.documents.signing import StampHouse


class Clocks:
    """The services that the settings trust, one after the other; each has a root of its own."""

    def __init__(self, settings, monkeypatch, roots, lists_at):
        self._settings, self._monkeypatch, self._roots = settings, monkeypatch, roots
        self._lists_at = lists_at
        self.held = {}
        self.asked = []
        settings.TSA_URL = "https://clock.example/"
        settings.TSA_ROOTS = str(roots)
        roots.write_text("")

    def begin(self, *, at, name="first", lists=True):
        """From now on this service answers, with a certificate that begins now."""
        lists_at = f"{self._lists_at}/{name}" if lists else ""
        clock = StampHouse(f"The {name} clock", since=at, lists_at=lists_at)
        self._roots.write_text(self._roots.read_text() + clock.root_pem)
        self.held[name] = clock
        self.answer(clock, at=at)
        return clock

    def answer(self, clock, *, at):
        """Answer at this moment, and serve lists of it."""
        self._monkeypatch.setattr(sealing, "time_stamper", lambda: clock.stamper(at))
        self.at = at


@contextmanager
def served(lists_of):
    """Serve what `lists_of` returns for a path; yields the address."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self):
            found = lists_of(self.path)
            self.send_response(200 if found else 404)
            self.send_header("Content-Type", "application/pkix-crl")
            self.end_headers()
            self.wfile.write(found or b"")

        def log_message(self, *_args):
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


@contextmanager
def clocks_of(settings, monkeypatch, roots):
    """Serve the lists of the clocks that begin in the block."""
    held = []

    def lists_of(path):
        clocks = held[0]
        clocks.asked.append(path)
        clock = clocks.held.get(path.strip("/"))
        return clock.revocation_list(clocks.at) if clock else None

    with served(lists_of) as address:
        held.append(Clocks(settings, monkeypatch, roots, address))
        yield held[0]
