"""Every page of the program, in the demonstration: readable, still, silent, light, wide enough.

Axe-core finds nothing on any of them (WCAG 2.2 AA and its best practices), by day and by night; no
page moves while it loads, complains, is wider than its screen, or asks another house for anything.
"""

import pytest
from django.urls import Resolver404, resolve

from tests.browser.served import served, sign_in
from tests.browser.shots import TOURS
from tests.browser.survey import MOST_SHIFTED, WATCH_SHIFTS, survey
from tests.browser.watch import Watch
from tests.endpoints import address
from tests.permission_matrix import MAY

pytestmark = pytest.mark.browser

CASES = [
    pytest.param(username, shot, id=shot.name)
    for username, shots in TOURS.items()
    for shot in shots
]
# Files and answers for machines, and pages that lead elsewhere at once or need a state of their
# own: a second step under way, a report just sent.
NO_PAGES = {
    "certs:did", "certs:jwks", "certs:paper_roots", "certs:healthz", "certs:tag_scanned",
    "certs:verifier", "certs:log_checkpoint", "certs:site_copy", "certs:certificate_pdf",
    "certs:certificate_json", "certs:certificate_credential", "certs:certificate_proof",
    "certs:renewed_paper", "certs:recall_letter", "certs:force_log", "certs:site_photograph",
    "certs:entry_proof", "inventory:document_file", "inventory:second_step",
    "inventory:set_up_second_step", "certs:report_receipt",
    "certs:tag_worker", "certs:tag_worker_scanned", "certs:reel_scanned", "certs:draft_preview",
    "certs:batch_papers",
    # Parts of pages, asked for anew by the page that holds them.
    "certs:preview_proof", "certs:preview_breaking", "certs:batch_progress",
}  # fmt: skip
# The heaviest is the story of a heat with two hundred pieces, every one of them in a table and half
# of the weight in that; all other pages stay far below.
MOST_HTML = 300_000
# Styles and scripts of the page, typeface in its cuts, mark; kept by the browser from then on.
MOST_ASKED = 16


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    with served(tmp_path_factory.mktemp("house")) as house:
        yield house


@pytest.fixture(scope="module")
def people(browser, house):
    """One browser for each person, signed in once."""
    pages = {}
    for username in TOURS:
        context = browser.new_context(base_url=house.origin, locale="en-GB")
        page = context.new_page()
        page.add_init_script(WATCH_SHIFTS)
        sign_in(page, username)
        pages[username] = page
    yield pages
    for page in pages.values():
        page.context.close()


@pytest.mark.parametrize(("username", "shot"), CASES)
def test_a_page_is_fit_for_everyone(username, shot, people, house):
    page = people[username]
    watch = Watch(page)
    seen = survey(page, shot, house.tags)
    complaints = [text for text in watch.complaints if not expected(text, shot)]
    assert seen.findings == ()
    assert complaints == []
    assert seen.wide == ()
    assert seen.shifted < MOST_SHIFTED
    assert seen.html_bytes < MOST_HTML
    assert len(set(seen.asked)) <= MOST_ASKED
    assert [url for url in seen.asked if not url.startswith((house.origin, "data:"))] == []


def expected(complaint, shot):
    """An unknown code is answered with 404, which a browser writes on its console."""
    return "404" in complaint and shot.name in {"tag-unknown", "not-found", "trace-nothing"}


def test_every_page_is_looked_at():
    shown = {name_of(shot.path.format("A" * 16, "B" * 16)) for _, shot in pairs()}
    served_names = {
        name_of(address(row.path)) for row in MAY if row.method == "GET" and not row.is_api
    }
    assert served_names - shown - NO_PAGES - {None} == set()


def pairs():
    return [(username, shot) for username, shots in TOURS.items() for shot in shots]


def name_of(path):
    try:
        return resolve(path.partition("?")[0]).view_name
    except Resolver404:
        return None
