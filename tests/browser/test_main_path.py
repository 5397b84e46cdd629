"""The main path in a real browser: from the mill's reel to the paper, and back from its QR."""

import io
import subprocess
from urllib.parse import urlsplit

import pytest
import zxingcpp
from PIL import Image

from certs.models import Certificate
from inventory.models import Assembly, Reel
from inventory.rules.roles import Role
from tests.browser.hands import PASS_PHRASE, Hands
from tests.certs.papers import given_representative
from tests.factories import given_customer, given_fitting_lot, given_mill, given_person
from tests.journeys.desk import machine_in_calibration

pytestmark = pytest.mark.browser

PHONE = {"width": 390, "height": 844}


def scanned(pdf: bytes) -> list[str]:
    """What a phone reads on the first page of a PDF, printed."""
    command = ["pdftoppm", "-r", "150", "-f", "1", "-l", "1", "-png"]
    made = subprocess.run(command, input=pdf, capture_output=True, check=True)
    return [found.text for found in zxingcpp.read_barcodes(Image.open(io.BytesIO(made.stdout)))]


@pytest.fixture
def hands(server, opened):
    given_person(Role.QA_OFFICER, password=PASS_PHRASE)
    officer = Hands(opened())
    officer.sign_in(Role.QA_OFFICER.value)
    return officer


def test_from_reel_to_paper_and_back_from_its_qr(hands, opened):
    reel = receive_and_name_basis(hands)
    assembly = cut_and_build(hands, reel)
    prove(hands, assembly)
    certificate, pdf = certify(hands, assembly)
    # The stranger scans the paper. He is not signed in, and holds a phone.
    (address,) = scanned(pdf)
    assert urlsplit(address).path == f"/T/{certificate.tags.get().code}"
    phone = opened(**PHONE)
    phone.goto(urlsplit(address).path)
    reads_the_answer(phone, assembly)
    trace(hands, certificate)


def receive_and_name_basis(hands):
    hands.receive(given_mill())
    # A reel is compared with its specification as it is received, and the findings come first.
    hands.arrive("Receiving check RC-00001 of R-00001")
    reel = Reel.objects.get()
    hands.follow("The reel")
    hands.arrive(f"Reel {reel.code}")
    hands.follow("What may be certified")
    hands.page.get_by_label("0.388").first.check()
    hands.fill(reason="as ordered")
    hands.press("Name this basis")
    assert "98.9 kN" in hands.page.locator("main").inner_text()
    return reel


def cut_and_build(hands, reel):
    lot = given_fitting_lot()
    hands.page.goto(f"/reels/{reel.code}/")
    hands.follow("Cut a piece")
    hands.fill(length_mm="6")
    hands.choose(purpose="for supply")
    hands.press("Cut this piece")
    hands.follow("Build an assembly")
    hands.choose(kind="one-leg sling")
    hands.fill(**{"leg-0-operator": "Press 1"})
    for end in ("near", "far"):
        hands.choose(**{f"leg-0-{end}_kind": "ferrule-secured eye"})
        hands.fill(**{f"leg-0-{end}_fittings": lot.code})
    hands.press("Build this assembly")
    hands.page.wait_for_url("**/assemblies/A-00001/")
    return Assembly.objects.get()


def prove(hands, assembly):
    hands.prove(assembly, machine_in_calibration())
    hands.arrive("Proof-load test PT-00001")
    assert hands.page.locator("svg").first.is_visible()
    assert "passes" in hands.page.locator("main").inner_text()


def certify(hands, assembly):
    customer, inspector = given_customer(), given_representative()
    hands.page.goto(f"/certificates/draft/assembly/?assembly={assembly.code}")
    hands.choose(
        customer=str(customer),
        document_kind="3.1 inspection certificate",
        first_validator=str(inspector),
    )
    hands.press("Draft it")
    hands.press("Issue this certificate")
    hands.page.get_by_role("link", name="Save the PDF", exact=True).first.wait_for()
    certificate = Certificate.objects.get()
    hands.arrive(certificate.number)
    with hands.page.expect_download() as saving:
        hands.follow("Save the PDF")
    return certificate, saving.value.path().read_bytes()


def reads_the_answer(phone, assembly):
    text = phone.locator("body").inner_text()
    assert "Good on record" in text
    assert assembly.code in text
    assert "Invented Customer" not in text
    assert phone.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def trace(hands, certificate):
    hands.follow("Trace")
    hands.fill(code=str(certificate.number))
    hands.press("Trace it")
    text = hands.page.locator("main").inner_text()
    assert "70001" in text
    assert "MTC-1" in text
    assert hands.page.locator("svg").first.is_visible()
