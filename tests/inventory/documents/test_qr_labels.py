"""QR and labels: the QR is read back with an independent decoder (zxing-cpp)."""

import io
import subprocess
from datetime import UTC, datetime

import pytest
import zxingcpp
from PIL import Image

from certs.documents.label_pdf import label_pdf
from inventory.documents.qr import QUIET_ZONE, draw_qr, tag_address
from inventory.documents.tag_label import SHEETS, Label, label_html
from inventory.rules.refusal import Refusal

ORIGIN = "https://rope.example"
CODE = "7Q4K9M2ZXR3T8VW2"
MADE = datetime(2026, 3, 2, tzinfo=UTC)


def given_labels(count: int) -> list[Label]:
    return [Label(CODE, f"P-{n:05d}", ("12 6x7-WSC 1770 B sZ", "10.000 m")) for n in range(count)]


def read_all(pdf: bytes, *, dpi: int) -> list[str]:
    made = subprocess.run(
        ["pdftoppm", "-r", str(dpi), "-f", "1", "-l", "1", "-png"],
        input=pdf,
        capture_output=True,
        check=True,
    )
    return [found.text for found in zxingcpp.read_barcodes(Image.open(io.BytesIO(made.stdout)))]


def test_the_address_is_in_capitals_for_the_alphanumeric_mode():
    assert tag_address(origin=ORIGIN, code=CODE) == "HTTPS://ROPE.EXAMPLE/T/7Q4K9M2ZXR3T8VW2"


def test_a_tag_address_fits_a_qr_of_version_3():
    """ISO/IEC 18004: version 3 has 29 modules a side; 37 with the quiet zone."""
    address = tag_address(origin=ORIGIN, code=CODE)
    assert draw_qr(address, title="Tag").modules == 29 + 2 * QUIET_ZONE


@pytest.mark.parametrize("sheet", sorted(SHEETS))
def test_every_label_of_a_sheet_is_read_back(sheet):
    count = min(4, SHEETS[sheet].per_page)
    pdf = label_pdf(given_labels(count), sheet=sheet, origin=ORIGIN, made_at=MADE)
    assert read_all(pdf, dpi=200) == [tag_address(origin=ORIGIN, code=CODE)] * count


def test_the_smallest_label_still_has_modules_of_half_a_millimetre():
    """0.5 mm a module: common practice for phone cameras, no source."""
    modules = draw_qr(tag_address(origin=ORIGIN, code=CODE), title="Tag").modules
    assert min(sheet.qr_mm for sheet in SHEETS.values()) / modules >= 0.5


def test_places_of_a_used_sheet_are_skipped():
    html = label_html(given_labels(1), sheet="a4-small", origin=ORIGIN, skip=2)
    before = html.split("P-00000", maxsplit=1)[0]
    assert before.count('class="place"') == 3


def test_labels_run_over_pages():
    html = label_html(given_labels(28), sheet="a4-small", origin=ORIGIN)
    assert html.count('class="sheet"') == 2


@pytest.mark.parametrize(
    ("count", "sheet", "skip"),
    [(1, "a5", 0), (0, "a4-small", 0), (1, "a4-small", 27), (1, "a4-small", -1)],
    ids=["unknown sheet", "no labels", "whole page skipped", "negative skip"],
)
def test_what_cannot_be_printed_is_refused(count, sheet, skip):
    with pytest.raises(Refusal):
        label_html(given_labels(count), sheet=sheet, origin=ORIGIN, skip=skip)


def test_a_code_is_broken_between_its_groups_only():
    html = label_html([Label(CODE, "P-00001", ())], sheet="roll-50", origin=ORIGIN)
    assert '<span class="half">7Q4K-9M2Z-</span><span class="half">XR3T-8VW2</span>' in html
