"""A real browser, a live server whose database really commits, and pages that are listened to."""

import pytest

from certs.services.load_specifications import load_specifications
from tests.browser.chromium import started
from tests.browser.watch import Watch
from tests.certs.claims import FOLDER
from tests.factories import given_keys


@pytest.fixture(scope="module")
def browser():
    # Playwright runs a loop in this thread, in which Django would refuse its database; it ends with
    # the module, as other tests of the same process start loops of their own.
    with pytest.MonkeyPatch.context() as patch, started() as browser:
        patch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        yield browser


@pytest.fixture
def server(committed_db, live_server, settings, file_store):
    """The program as it is served, with its tables; QR codes lead back to it."""
    settings.PUBLIC_ORIGIN = live_server.url
    load_specifications(folder=FOLDER)
    given_keys()
    return live_server.url


@pytest.fixture
def opened(browser, server):
    """Open pages of a given width, each in a browser of its own; none may have complained."""
    contexts, watches = [], []

    def open_page(width=1280, height=900):
        context = browser.new_context(
            base_url=server, viewport={"width": width, "height": height}, locale="en-GB"
        )
        context.set_default_timeout(20_000)
        contexts.append(context)
        watches.append(Watch(context.new_page()))
        return watches[-1].page

    yield open_page
    complaints = [text for watch in watches for text in watch.complaints]
    for context in contexts:
        context.close()
    assert complaints == []
