"""Three people without a mouse: each step by Tab, arrow keys, Enter and Space, with focus seen."""

import pytest

from certs.models import Certificate, SiteReport
from certs.services.tags import issue_tag
from inventory.models import CutPiece
from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE
from tests.browser.keys import LONGEST_WALK, Keys
from tests.certs.papers import (
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    issued,
)
from tests.factories import MOMENT, given_customer, given_person, given_piece

pytestmark = pytest.mark.browser


@pytest.fixture
def at_keys(server, opened):
    """Sign in as a person of a role, from the page that anyone is led to."""

    def sign_in(role, *, width=1280, height=900):
        given_person(role, password=PASS_PHRASE)
        keys = Keys(opened(width, height))
        keys.page.goto("/")
        keys.tab_to("User name", role="textbox")
        keys.type(role.value)
        keys.press("Tab")
        keys.type(PASS_PHRASE)
        keys.enter()
        return keys

    return sign_in


def found(keys, code):
    """The key "/" leads to the one search box from wherever nobody types."""
    keys.press("/")
    keys.look()
    keys.type(code)
    keys.enter()
    return keys.page.get_by_role("heading", level=1).inner_text()


def test_the_officer_cuts_drafts_and_issues(at_keys):
    keys = at_keys(Role.QA_OFFICER)
    reel, customer = given_documented_reel(), given_customer()
    assert found(keys, reel.code) == f"Story of {reel.code}"
    keys.tab_to("Its page")
    keys.enter()
    # The first Tab of any page offers to skip what stands on every page.
    keys.press("Tab")
    assert "Skip to the content" in keys.look()["at"]
    keys.press("Enter")
    assert keys.page.evaluate("document.activeElement.id") == "main"
    piece = cut(keys)
    assert f'button "Undo the cut of {piece.code}"' in keys.walk_through()
    keys.tab_to(piece.code)
    keys.enter()
    draft_for(keys, customer)
    keys.tab_to("Issue this certificate", role="button")
    keys.enter()
    certificate = Certificate.objects.get()
    assert (certificate.state, certificate.customer) == ("issued", customer)
    assert keys.page.get_by_role("heading", level=1).inner_text() == certificate.number


def cut(keys):
    """Cut at the bench, where a length is awaited without another key, and then the next."""
    keys.tab_to("To the cutting bench")
    keys.enter()
    keys.look()
    keys.type("12.5")
    keys.enter()
    assert keys.page.evaluate("document.activeElement.name") == "length_mm"
    return CutPiece.objects.get()


def draft_for(keys, customer):
    keys.tab_to("Certificate", role="button")
    keys.enter()
    keys.tab_to("Change it")
    keys.enter()
    keys.tab_to("Purchaser (optional)", role="combobox")
    keys.type(customer.name[:8])
    keys.tab_to("Keep these", role="button")
    keys.enter()


def test_the_auditor_walks_the_genealogy_and_opens_a_stretch(at_keys):
    piece = given_certifiable_piece()
    reel, beside = piece.reel, given_piece(reel=piece.reel, length_m=200)
    certificate = issued(given_cut_length_draft(piece))
    keys = at_keys(Role.AUDITOR)
    assert found(keys, certificate.number) == f"Story of {piece.code}"
    walked = walk_about(keys)
    assert walked[0] == walked[2] == reel.code
    assert walked[3] == piece.code
    assert len(set(walked)) == len(walked) - 1
    # One Tab leaves the drawing, however many cards it has.
    keys.press("Tab")
    assert not keys.page.evaluate("document.activeElement.closest('#genealogy svg')")
    keys.tab_to(f"{beside.code}, supplied", exact=False, back=True)
    # It has the focus and is told in words as well: a short stretch has no label in the drawing.
    assert keys.page.get_by_text(f"{beside.code}, supplied, 10 to 210 m. Enter opens").is_visible()
    keys.enter()
    assert keys.page.get_by_role("heading", level=1).inner_text() == f"Story of {beside.code}"
    keys.tab_to(f"From metre of {reel.code}", role="textbox")
    keys.type("20")
    keys.press("Tab")
    keys.type("120")
    keys.enter()
    assert keys.page.get_by_role("heading", level=1).inner_text() == f"Recall: {reel.code}"
    text = keys.page.locator("main").inner_text()
    assert piece.code in text
    assert beside.code in text


def walk_about(keys):
    """Go to the card of what the story is of, and with the arrows along the lines and back."""
    current = keys.page.locator("#genealogy .for-wide a[aria-current]")
    for _ in range(LONGEST_WALK):
        keys.press("Tab")
        if keys.look(current.element_handles())["is"]:
            break
    walked = []
    for key in ("ArrowLeft", "ArrowLeft", "ArrowRight", "ArrowRight", "ArrowRight"):
        keys.press(key)
        keys.look()
        walked.append(keys.page.evaluate("document.activeElement.dataset.key"))
    return walked


def test_the_customer_changes_the_language_and_reports(server, opened):
    piece = given_certifiable_piece()
    tag = issue_tag(piece=piece, by=given_person(), at=MOMENT)
    keys = Keys(opened(390, 844))
    page = keys.page
    page.goto(f"/t/{tag.code}")
    assert len(keys.walk_through()) > 5
    keys.tab_to("Deutsch")
    keys.enter()
    assert page.locator("html").get_attribute("lang") == "de"
    keys.tab_to("Schaden oder Versagen melden")
    keys.enter()
    keys.press("Tab", "Tab")
    keys.look()
    keys.press("Space", "ArrowDown")
    keys.press("Tab")
    keys.look()
    keys.type("Drahtbrüche neben der Kausche")
    keys.tab_to("Meldung senden", role="button")
    keys.enter()
    report = SiteReport.objects.get()
    assert report.words == "Drahtbrüche neben der Kausche"
    assert report.code in page.locator("body").inner_text()
