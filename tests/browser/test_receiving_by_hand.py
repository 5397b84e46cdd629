"""A practised officer receives a reel in one screen: how long it takes, and in how many actions."""

import time

import pytest

from certs.models import ReceivingCheck
from inventory.models import Reel
from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE, Hands
from tests.factories import given_person, given_reel, pdf_bytes

pytestmark = pytest.mark.browser

# One key after the other, as a practised typist strikes them: 60 ms.
KEY_MS = 60
# Nineteen fields that have something to say, the document, and the button.
MOST_ACTIONS = 21


class Typist:
    """Hands on a keyboard: moves with Tab, types key by key, and counts what was done."""

    def __init__(self, page):
        self.page = page
        self.actions = 0

    def at(self, name):
        """Tab on until the field has the focus; passing by is no action."""
        for _ in range(6):
            if self.page.evaluate("document.activeElement.name") == name:
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(name)

    def types(self, **texts):
        for name, text in texts.items():
            self.at(name.replace("heat_0_", "heat-0-"))
            self.page.keyboard.type(text, delay=KEY_MS)
            self.actions += 1

    def hands_in(self, name, content):
        self.at(name)
        file = {"name": "mtc.pdf", "mimeType": "application/pdf", "buffer": content}
        self.page.locator(f"[name={name}]").set_input_files(file)
        self.actions += 1

    def presses(self, button):
        self.page.get_by_role("button", name=button, exact=True).click()
        self.actions += 1


@pytest.fixture
def page(server, opened):
    given_person(Role.QA_OFFICER, password=PASS_PHRASE)
    # The same person received one of this mill before.
    given_reel()
    page = opened(width=1440)
    Hands(page).sign_in(Role.QA_OFFICER.value)
    page.goto("/reels/receive/")
    return page


def test_a_reel_is_received_within_ninety_seconds(page, record_testsuite_property):
    typist, started = Typist(page), time.monotonic()
    page.locator("[name=designation]").focus()
    typist.types(designation="12 7x7 1770 B", mill_reel_number="MR-2041", length_mm="1000")
    page.locator("#understood").get_by_text("right ordinary lay").wait_for()
    typist.types(location="Bay 3", marked_grade="1770")
    page.locator("[name=marking]").focus()
    typist.hands_in("file", pdf_bytes("MTC-1"))
    page.locator("[name=document_on_file]").focus()
    typist.types(number="MTC-1", kind="3.1", issued_date="02022026")
    typist.types(validated_by="Head of inspection", zinc_class="B")
    typist.types(declared_force_n="98.9", declared_mass_g_per_100m="55.2")
    typist.types(heat_0_number="70001", heat_0_steel_name="C78D", heat_0_analysis="C 0.78; Mn 0.62")
    typist.types(place1_a_nm="12.3", place1_b_nm="12.2", place2_a_nm="12.3", place2_b_nm="12.4")
    page.locator("#found-diameter").get_by_text("within the limits 12 mm to 12.6 mm").wait_for()
    typist.presses("Receive this reel")
    page.get_by_role("heading", level=1, name="Receiving check RC-00001").wait_for()
    seconds = time.monotonic() - started
    record_testsuite_property("seconds", round(seconds, 1))
    record_testsuite_property("actions", typist.actions)
    check = ReceivingCheck.objects.get()
    assert check.reel.mill_document.number == "MTC-1"
    assert (check.reel.declared_force_n, check.place2_b_nm) == (98_900, 12_400_000)
    assert typist.actions <= MOST_ACTIONS


def test_what_was_refused_is_corrected_with_the_document_still_in_hand(page):
    hands = Hands(page)
    hands.fill(designation="12 7x7 1770 B", length_mm="1000", number="MTC-2")
    hands.fill(issued_date="2026-02-02")
    hands.fill(**{"heat-0-number": "70002", "heat-0-steel_name": "C78D"})
    content = pdf_bytes("MTC-2")
    hands.hand_in("file", file_name="m.pdf", media_type="application/pdf", content=content)
    hands.press("Receive this reel")
    page.locator("#form-errors").get_by_role("link", name="Document type").wait_for()
    assert page.evaluate("document.activeElement.id") == "form-errors"
    hands.choose(kind="3.1 inspection certificate")
    hands.press("Receive this reel")
    page.get_by_role("heading", level=1, name="Receiving check RC-00001").wait_for()
    assert Reel.objects.latest("id").mill_document.number == "MTC-2"
