"""QR and labels: the QR is read back with an independent decoder (zxing-cpp)."""

import io
import subprocess
from datetime import UTC, datetime

import pytest
import zxingcpp
from PIL import Image

from certs.documents.label_pdf import label_pdf
from certs.documents.paper import print_paper
from inventory.documents.label_words import Room, Said, words_in
from inventory.documents.qr import QUIET_ZONE, draw_qr, tag_address
from inventory.documents.tag_label import (
    CAUTION,
    SHEETS,
    Label,
    label_html,
    modules_on,
    words_room,
)
from inventory.rules.label_stock import code_on
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


@pytest.mark.parametrize("sheet", sorted(SHEETS))
def test_every_label_has_modules_of_half_a_millimetre(sheet):
    """0.5 mm a module: common practice for phone cameras, no source."""
    stock = SHEETS[sheet]
    modules = modules_on(stock, origin=ORIGIN)
    assert code_on(stock, modules=modules).module_um >= 500


def test_a_code_too_fine_for_its_label_is_refused():
    origin = "https://certificates.of-a-house-with-a-long-name.example"
    with pytest.raises(Refusal, match=r"41 modules .* 0\.46 mm, and a camera needs 0\.5 mm"):
        label_html(given_labels(1), sheet="tag-25", origin=origin)


def test_error_correction_is_as_strong_as_the_label_has_room_for():
    """ISO/IEC 18004, table 7: 39 signs fit version 3 at M and Q, and need version 4 at H."""
    address = tag_address(origin=ORIGIN, code=CODE)
    levels = {most: levels_read(address, most_modules=most) for most in (0, 41)}
    assert levels == {0: ("Q", 37), 41: ("H", 41)}


def levels_read(address, *, most_modules):
    square = draw_qr(address, title="Tag", most_modules=most_modules)
    inside = f'<body style="margin:0"><div style="width:60mm">{square.drawing}</div></body>'
    pdf = print_paper(inside, identifier=b"0" * 16, made_at=MADE)
    made = ["pdftoppm", "-r", "150", "-png", "-singlefile"]
    picture = subprocess.run(made, input=pdf, capture_output=True, check=True).stdout
    (found,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(picture)))
    return found.ec_level, square.modules


def test_places_of_a_used_sheet_are_skipped():
    html = label_html(given_labels(1), sheet="a4-small", origin=ORIGIN, skip=2)
    # 9 mm of margin and two labels of 64 mm.
    assert 'class="place" style="left: 137.000mm; top: 13.500mm"' in html


def test_labels_of_a_sheet_lie_where_its_grid_says():
    """Letter, 3 x 10: 2.625 inches wide, 0.125 apart, half an inch from the top (no source)."""
    html = label_html(given_labels(5), sheet="letter-67x25", origin=ORIGIN)
    assert 'style="left: 74.612mm; top: 12.700mm"' in html
    assert 'style="left: 74.612mm; top: 38.100mm"' in html


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
    said = Said("P-00001", (), "7Q4K-9M2Z-XR3T-8VW2", "", "")
    narrow = words_in(Room(0, 0, 15_000, 25_000), said, is_centred=False)
    assert [line.text for line in narrow.lines] == ["P-00001", "7Q4K-9M2Z-", "XR3T-8VW2"]


@pytest.mark.parametrize("sheet", sorted(SHEETS))
def test_the_words_of_a_label_stay_within_it(sheet):
    said = Said("A-00001", ("12 6x7-WSC 1770 B sZ", "sling, two legs"), "7Q4K-9M2Z-XR3T-8VW2",
                CAUTION, "rope.example")  # fmt: skip
    room = words_room(SHEETS[sheet])
    words = words_in(room, said, is_centred=False)
    height_mm = sum(line.size_pt for line in words.lines) * 1.18 * 0.3528
    assert height_mm <= room.height_um / 1000
    assert {"title", "code"} <= {line.look for line in words.lines}
    assert min(line.size_pt for line in words.lines) >= 5.2
