"""Every main page on the narrowest phone in use: nothing is wider than the screen."""

import pytest

from certs.services.tags import issue_tag
from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE, Hands
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import given_assembly_draft, given_certifiable_assembly
from tests.factories import MOMENT, given_delivery, given_hold, given_person, given_sample

pytestmark = pytest.mark.browser

NARROW = {"width": 360, "height": 740}
PAGES = (
    "/",
    "/reels/",
    "/reels/receive/",
    "/reels/R-00001/",
    "/reels/R-00001/cut/",
    "/reels/R-00001/strength/",
    "/pieces/P-00001/",
    "/assemblies/A-00001/",
    "/assemblies/A-00001/strength/",
    "/assemblies/build/",
    "/holds/",
    "/tests/",
    "/tests/proof/PT-00001/",
    "/tests/breaking/BT-00001/",
    "/tests/proof/record/?assembly=A-00001",
    "/certificates/",
    "/certificates/CD-00001/",
    "/tables/",
    "/trace/?code=A-00001",
    "/trace/recall/?code=R-00001",
)


def test_no_page_is_wider_than_a_phone(server, opened):
    given_person(Role.QA_OFFICER, password=PASS_PHRASE)
    assembly = given_certifiable_assembly()
    reel = assembly.piece_ties.get().piece.reel
    given_proof_test(assembly=assembly)
    given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000)
    given_assembly_draft(assembly, kind="2.2")
    given_delivery(assembly)
    given_hold(reel, from_mm=500_000, to_mm=600_000)
    tag = issue_tag(assembly=assembly, by=given_person(), at=MOMENT)
    page = opened(**NARROW)
    Hands(page).sign_in(Role.QA_OFFICER.value)
    wide = []
    for address in (*PAGES, f"/t/{tag.code}"):
        page.goto(address)
        if page.evaluate("document.documentElement.scrollWidth") > NARROW["width"]:
            wide.append(address)
    assert wide == []
