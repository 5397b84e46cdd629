"""From a piece to its paper, and many papers at once: actions counted, and how far it is kept."""

import pytest

from certs.models import Certificate, IssueBatch
from certs.pages import issue_several
from certs.services.issue_batch import settle_next
from inventory.models import Person
from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE, Hands
from tests.certs.papers import given_cut_length_draft, given_documented_reel
from tests.factories import given_person, given_piece, pdf_bytes

pytestmark = pytest.mark.browser
MOST_ACTIONS = 3
MANY = 6


class Officer(Hands):
    """A QA officer whose presses are counted."""

    def __init__(self, page):
        super().__init__(page)
        self.actions = 0

    def press(self, button):
        super().press(button)
        self.actions += 1

    def reads(self, text):
        self.page.locator("main").get_by_text(text).first.wait_for()


class Queue:
    """Holds a batch as a busy queue does, until the test works on it."""

    def __init__(self):
        self.held = []

    def enqueue(self, code, username):
        self.held.append((code, username))

    def settle(self, count):
        code, username = self.held[0]
        batch, by = IssueBatch.objects.get(code=code), Person.objects.get(username=username)
        for _ in range(count):
            settle_next(batch=batch, by=by, at=batch.started_at)


@pytest.fixture
def officer(server, opened, monkeypatch):
    monkeypatch.setattr(
        "certs.services.print_certificate.certificate_pdf",
        lambda _snapshot, *, canonical, credential, **_: pdf_bytes(canonical + credential),
    )
    given_person(Role.QA_OFFICER, password=PASS_PHRASE)
    officer = Officer(opened())
    officer.sign_in(Role.QA_OFFICER.value)
    officer.actions = 0
    return officer


def test_a_piece_is_certified_in_two_actions_and_six_drafts_in_one(officer, monkeypatch):
    reel = given_documented_reel()
    officer.page.goto(f"/pieces/{given_piece(reel=reel).code}/")
    officer.press("Certificate")
    officer.reads("Nothing is lacking.")
    officer.press("Issue this certificate")
    officer.reads("is issued.")
    assert Certificate.objects.get().state == "issued"
    assert officer.actions == 2 <= MOST_ACTIONS

    queue = Queue()
    monkeypatch.setattr(issue_several, "issue_many", queue)
    for _ in range(MANY):
        given_cut_length_draft(given_piece(reel=reel))
    officer.page.goto("/certificates/issue/")
    officer.press("Issue what is ticked")
    officer.reads(f"0 of {MANY} drafts settled")
    assert officer.actions == 3
    # The page tells by itself how far it is, and tells the same after a reload.
    queue.settle(2)
    officer.reads(f"2 of {MANY} drafts settled")
    officer.page.reload()
    officer.reads(f"2 of {MANY} drafts settled")
    queue.settle(MANY)
    officer.reads(f"{MANY} issued.")
    assert Certificate.objects.filter(state="issued").count() == MANY + 1
