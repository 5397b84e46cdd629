"""The label of a reel, read back with an independent decoder (zxing-cpp)."""

import io
import subprocess

import pytest
import zxingcpp
from django.urls import reverse
from PIL import Image

from tests.factories import given_reel

ORIGIN = "https://rope.example"


@pytest.fixture
def page(settings, db):
    settings.PUBLIC_ORIGIN = ORIGIN
    return reverse("certs:reel_label", args=[given_reel().code])


def drawn(pdf):
    command = ["pdftoppm", "-r", "200", "-png"]
    made = subprocess.run(command, input=pdf, capture_output=True, check=True)
    return Image.open(io.BytesIO(made.stdout))


@pytest.mark.parametrize("sheet", ["roll-100", "tag-25"])
def test_its_qr_leads_to_the_bench_and_to_the_reel(sheet, page, as_stores):
    answer = as_stores.get(page, {"sheet": sheet})
    (code,) = zxingcpp.read_barcodes(drawn(answer.content))
    assert code.text == f"{ORIGIN}/reels/R-00001".upper()
    # ISO/IEC 18004, 7.3.4: only these keep a QR in its alphanumeric mode.
    assert set(code.text) <= set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
    assert "Next free metre" in as_stores.get("/cutting/", {"reel": code.text}).text
    led = as_stores.get(code.text.removeprefix(ORIGIN.upper()))
    assert led["Location"] == "/reels/R-00001/"


def test_what_to_print_on_is_asked_first(page, as_auditor):
    assert "It is no tag" in as_auditor.get(page).text
    assert "error-summary" in as_auditor.get(page, {"sheet": "napkin"}).text


def test_a_stranger_who_scans_a_reel_is_asked_to_sign_in(client, page):
    assert client.get("/REELS/R-00001")["Location"].startswith("/sign-in/")


def test_a_reel_that_is_none_is_not_found(page, as_stores):
    assert as_stores.get("/REELS/R-99999").status_code == 404
